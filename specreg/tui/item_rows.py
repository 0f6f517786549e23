"""The list of items as rows of a parts list, read from the book a page at a time."""

from __future__ import annotations

from collections.abc import Sequence

from specreg.core.model import Kind, Note, State
from specreg.services.readings import ItemLine
from specreg.tui.columns import Column, Row
from specreg.tui.loading import Readers
from specreg.tui.pieces import Piece, line
from specreg.tui.signs import role_of

COLUMNS = (
    Column(" ", 1, 1),
    Column("No", 9, 9, whole=True),
    Column("Description", 30, 24, grows=4),
    Column("§", 1, 1),
    Column("Off", 11, 4, right=True, fills=4),
    Column("Material", 16, 10, gives=1, grows=1),
    Column("Size or weight", 20, 11, gives=2, grows=3, brief="Size/wt"),
    Column("Drawing", 14, 9, gives=3),
    Column("Open under", 10, 10, late=True),
)
"""The columns of the list; the last give way first. A weight stands where an item has no size."""

INDENT, DEEPEST = "  ", 4
"""What a description is set in by for each level, and the level after which it is set in no further."""


def note_name(number: str) -> str:
    """What an open note is called beside an item; nothing for the first compilation, in which everything is open."""
    return "" if not number or Note(number).is_compilation else Note(number).name


def item_row(item: ItemLine, is_assembly: bool) -> Row:
    """A row of the list. A clause takes the whole line, a deleted item says so, by which note, and why."""
    sign = (Piece(item.sign, role_of(item.sign)),)
    inset = INDENT * (min(item.depth, DEEPEST) - 1) if item.depth > 1 else ""
    heading = is_assembly or item.kind == Kind.SECTION
    title = line(inset, Piece(item.title, "strong" if heading else ""))
    state, _, reason = item.state.partition(":")
    note = note_name(item.note)
    by = f" by {note}" if note else ""
    said = line(f"{state}{by}:{reason}" if reason.strip() else f"{state}{by}")
    if state == State.DELETED:
        return Row(item.number, ((Piece(item.sign or "-", "deleted"),), line(item.number), title, (), said), "deleted")
    if state == State.RESERVED:
        return Row(item.number, (sign, line(item.number), title, (), said), "quiet")
    number = line(Piece(item.number, "strong" if heading else ""))
    safety = (Piece("§", "safety"),) if item.safety else ()
    if item.kind != Kind.ITEM and not item.safety:
        return Row(item.number, (sign, number, title))
    return Row(
        item.number,
        (sign, number, title, safety, line(item.off), line(item.material), line(item.size), line(item.drawing),
         (Piece(note, "quiet"),)),
    )  # fmt: skip


def item_rows(items: Sequence[ItemLine], count: int) -> tuple[Row, ...]:
    """Rows for the first `count` items; one more may be handed in, to see whether the last of them is an assembly."""
    after = [item.depth for item in items[1:]] + [0]
    return tuple(
        item_row(item, item.kind == Kind.ITEM and deeper > item.depth)
        for item, deeper in zip(items[:count], after, strict=False)
    )


class SectionRows:
    """The rows of one section's list, or of the whole order when `section` is empty."""

    def __init__(self, readers: Readers, section: str) -> None:
        self._readers = readers
        self._section = section

    def count(self) -> int:
        """How many rows the list has."""
        return self._readers.mine().count(self._section)

    def rows(self, first: int, count: int) -> Sequence[Row]:
        """Some rows of the list; one more is read, because a row is an assembly when the next stands deeper."""
        return item_rows(self._readers.mine().lines(self._section, first, count + 1), count)

    def row_of(self, key: str) -> int:
        """In which row an item stands; -1 when it stands elsewhere."""
        return self._readers.mine().row_of(self._section, key)
