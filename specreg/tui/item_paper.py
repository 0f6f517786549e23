"""An item as a sheet: fields and what they were, number off with its working, text, drawings, route, history."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import zip_longest

from rich.cells import cell_len

from specreg.core.model import STAGES_TO_MAKE_BY
from specreg.services.readings import ItemSheet, SaidLine, SheetLine, StepLine
from specreg.tui.columns import Column, Row, fit, row_line
from specreg.tui.item_rows import note_name
from specreg.tui.pieces import Line, Piece, line, width_of, wrapped
from specreg.tui.signs import role_of, words_of

LABEL = 14
"""Cells for the label of a field, `Rough weight` and two spaces."""

WIDEST, WIDEST_TEXT = 156, 110
"""Cells that the sheet and its tables take at most, and its text: longer lines are hard to read."""

CAUTION = "Safety item: competent persons, the inspecting authority and local codes decide."

NOT_RECKONED = "not reckoned"
UNREGISTERED = "! not in the register"


def item_lines(sheet: ItemSheet, width: int) -> tuple[Line, ...]:
    """The whole sheet, each line at most `width` cells."""
    room = min(width, WIDEST)
    blocks = [
        _standing(sheet, room),
        _fields(sheet, room),
        _number_off(sheet, room),
        _labelled("Text", (Piece(sheet.text),), min(room, WIDEST_TEXT)) if sheet.text else [],
        _table("Drawings", (_drawing(one) for one in sheet.sheets), DRAWING_COLUMNS, room),
        _route(sheet, room),
        _table("History", (_said(one) for one in sheet.history), HISTORY_COLUMNS, room),
    ]
    return _joined(blocks)


def _joined(blocks: Sequence[Sequence[Line]]) -> tuple[Line, ...]:
    """The blocks that say something, an empty line between each; the number off stays with the fields."""
    lines: list[Line] = []
    for at, block in enumerate(blocks):
        if block and lines and at != 2:
            lines.append(())
        lines.extend(block)
    return tuple(lines)


def _standing(sheet: ItemSheet, width: int) -> list[Line]:
    """What must be known before anything else: deleted or reserved, the caution of a safety item."""
    lines: list[Line] = []
    if sheet.state not in ("", "live"):
        why = f"{sheet.state}: {sheet.reason}" if sheet.reason else sheet.state
        by = f" ({note})" if (note := note_name(sheet.note)) else ""
        sign = "- " if sheet.state == "deleted" else "· "
        lines += [line(Piece(one, "deleted")) for one in wrapped(f"{sign}{why[:1].upper()}{why[1:]}{by}", width)]
    if sheet.safety:
        lines += [line(Piece(one, "safety")) for one in wrapped(f"§ {CAUTION}", width)]
    return lines


def _labelled(label: str, pieces: Line, width: int, role: str = "caption") -> list[Line]:
    """A label and beside it text, wrapped; pieces after the first keep their role where they fall."""
    lines: list[Line] = []
    head = Piece(f"{label:<{LABEL - 1}} ", role)
    for piece in pieces:
        for text in wrapped(piece.text, max(8, width - max(LABEL, cell_len(head.text)))):
            lines.append((head if not lines else Piece(" " * LABEL), Piece(text, piece.role)))
    return lines or [(head,)]


def _fields(sheet: ItemSheet, width: int) -> list[Line]:
    """The fields in order; a field altered since the last issue says what it was."""
    lines: list[Line] = []
    said = dict(sheet.fields)
    for label, text in sheet.fields:
        lines += _field(label, text, sheet.was.get(label), width)
    for label, was in sheet.was.items():
        if label not in said:
            lines += _field(label, "", was, width)
    return lines


def _field(label: str, text: str, was: str | None, width: int) -> list[Line]:
    if was is None:
        return _labelled(label, (Piece(text),), width)
    old = f"was {was}" if was else "new"
    now = text or "no longer said"
    role = role_of("»")
    head, room = Piece(f"{label:<{LABEL - 1}} ", "caption"), width - LABEL
    if cell_len(now) + 5 + cell_len(old) <= room and "\n" not in now + old:
        return [(head, Piece("» ", role), Piece(now, "text"), Piece(f"   {old}", "quiet"))]
    return _labelled(label, (Piece(f"» {now}", role), Piece(old, "quiet")), width)


def _number_off(sheet: ItemSheet, width: int) -> list[Line]:
    """The whole number off and how it was reckoned, which ends in it."""
    if sheet.kind != "item" or not (sheet.off or sheet.working):
        return []
    working = sheet.working or sheet.off or NOT_RECKONED
    whole = working.rsplit(" = ", 1)
    if len(whole) == 2 and cell_len(working) + LABEL <= width:
        return [line(Piece(f"{'Number off':<{LABEL - 1}} ", "caption"), f"{whole[0]} = ", Piece(whole[1], "text"))]
    return _labelled("Number off", (Piece(working, "text"),), width)


DRAWING_COLUMNS = (
    Column("", 14, 9, whole=True),
    Column("", 34, 12, gives=1, grows=1),
    Column("", 6, 6),
    Column("", 18, 12, fills=2),
)


def _drawing(sheet: SheetLine) -> Row:
    if not sheet.registered:
        return Row("", (line(sheet.written), (Piece(UNREGISTERED, "stop"),)))
    revision = f"rev {sheet.revision}" if sheet.revision else "rev –"
    fit_to_make = sheet.stage in STAGES_TO_MAKE_BY
    stage = (Piece(sheet.stage),) if fit_to_make else (Piece("~ ", "warning"), Piece(sheet.stage or "no stage known"))
    return Row("", (line(sheet.written or sheet.name), line(sheet.title), line(revision), stage))


LONGEST_NAME, LONGEST_OPERATION = 30, 24


def _route_columns(rows: Sequence[Row]) -> tuple[Column, ...]:
    """Step, department, operation, off, rule; names and operations get what they need before the rule does."""
    name, operation, off = (max(width_of(row.cells[at]) for row in rows) for at in (1, 2, 3))
    return (
        Column("", 2, 2, right=True),
        Column("", min(LONGEST_NAME, max(12, name)), 12, grows=1),
        Column("", min(LONGEST_OPERATION, max(9, operation)), 9, grows=1),
        Column("", max(7, off), 7, right=True),
        Column("", 30, 12, grows=3),
    )


def _route(sheet: ItemSheet, width: int) -> list[Line]:
    if sheet.no_action:
        return _labelled("Route", (Piece(f"No department acts on it: {sheet.no_action}"),), width)
    if not sheet.route:
        if sheet.kind != "item" or sheet.state not in ("", "live"):
            return []
        return _labelled("Route", (Piece("! not allocated: no rule gives it a route", "stop"),), width)
    rows = [_step(one) for one in sheet.route]
    return _table("Route", rows, _route_columns(rows), width)


def _step(step: StepLine) -> Row:
    name = step.name or step.department
    off = f"{step.off} off" if step.off else ""
    return Row("", (line(f"{step.step}"), line(name), line(step.operation), line(off),
                    (Piece(step.because, "quiet"),)))  # fmt: skip


HISTORY_COLUMNS = (
    Column("", 4, 4),
    Column("", 11, 10),
    Column("", 9, 8),
    Column("", 40, 20, grows=1),
)


def _said(said: SaidLine) -> Row:
    is_open = said.revision == "open"
    note = f"note {said.note}" if said.note else ""
    return Row("", ((Piece(said.revision, "altered" if is_open else "text"),), line(said.date), line(note),
                    line(said.change)))  # fmt: skip


def _table(label: str, rows: Iterable[Row], columns: Sequence[Column], width: int) -> list[Line]:
    """Rows beside a label, the label on the first; a cell too long for its column goes on underneath."""
    widths = fit(columns, max(20, width - LABEL))
    lines: list[Line] = []
    for row in rows:
        stacks = [_stacked(cell, columns[at], widths[at]) for at, cell in enumerate(row.cells)]
        if len(row.cells) < len(columns):
            stacks[-1] = (row.cells[-1],)
        for cells in zip_longest(*stacks, fillvalue=()):
            head = Piece(f"{label if not lines else '':<{LABEL - 1}} ", "caption")
            lines.append((head, *row_line(Row("", cells), columns, widths)))
    return lines


def _stacked(cell: Line, column: Column, width: int) -> tuple[Line, ...]:
    """A cell in as many lines as it needs; a number stays whole, since its column lends itself room."""
    if column.whole or not width or width_of(cell) <= width:
        return (cell,)
    return tuple(line(Piece(text, cell[0].role)) for text in wrapped("".join(piece.text for piece in cell), width))


def standing_of(sheet: ItemSheet) -> Line:
    """What stands at the right of the sheet's head: altered, added or deleted, and by which open note or revision."""
    words = {"+": "added", "»": "altered", "-": "deleted"}.get(sheet.sign)
    if words is None:
        said = words_of(sheet.sign).partition(":")[0]
        return (Piece(f"{sheet.sign} ", role_of(sheet.sign)), Piece(said)) if said else ()
    issued = sheet.history[-1].revision if sheet.history else ""
    by = f" by {note}" if (note := note_name(sheet.note)) else f" in rev {issued}" if issued else ""
    return (Piece(f"{sheet.sign} ", role_of(sheet.sign)), Piece(f"{words}{by}"))
