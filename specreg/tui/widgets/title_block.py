"""The title block at the foot: order, title, machines, revision, seal, person, open edits.

One line on a low screen; on a tall one three lines with small captions, as on a drawing sheet.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from rich.cells import cell_len

from specreg.services.readings import TitleLine
from specreg.tui.pieces import Line, Piece, clean, cut, fitted
from specreg.tui.widgets.painted import SIDE, Painted

LEAST_TITLE = 14
"""Cells of an order's title that must be left before other boxes give way."""


@dataclass(frozen=True, slots=True)
class Box:
    """One box of the title block: caption, what it says, a second line under it, its words when there is one line.

    `gives` boxes are shortened when there is not room for all; `drop` says in which order a box is left out then
    (0: never).
    """

    caption: str
    says: str
    below: str
    brief: str
    gives: bool = False
    drop: int = 0

    @property
    def width(self) -> int:
        """Cells that the box wants on a tall screen."""
        return max(cell_len(self.caption), cell_len(self.says), cell_len(self.below))


def boxes_of(title: TitleLine) -> tuple[Box, ...]:
    """The boxes of an order's title block."""
    issued = f"rev {title.revision}" if title.revision else "not yet issued"
    below_revision = f"issued {title.issued_on}" if title.revision and title.issued_on else issued
    edits = f"{title.open_edits or 'no'} edit{'' if title.open_edits == 1 else 's'} open"
    role = title.role if title.role != title.person else ""
    return (
        Box("Order", title.order, "", title.order),
        Box("Title", title.title, "", title.title, gives=True),
        Box("Machines", title.machines or "–", "", title.machines, drop=3),
        Box("Revision", title.revision or "–", below_revision, f"{issued} seal {title.seal}" if title.seal else issued),
        Box("Seal", title.seal or "–", "", "", drop=2),
        Box("Person", title.person or "–", role, title.person, drop=1),
        Box("Open edits", str(title.open_edits), "", edits, drop=4),
    )


def _room(wanted: list[int], gives: int, room: int) -> list[int]:
    """The widths, with the one that gives way taking what is left."""
    others = sum(wanted) - wanted[gives]
    return [max(4, room - others) if at == gives else width for at, width in enumerate(wanted)]


def _kept(boxes: tuple[Box, ...], widths: list[int], room: int) -> tuple[list[Box], list[int]]:
    """The boxes that find room beside a title of `LEAST_TITLE` cells, and their widths; empty ones are left out."""
    pairs = [(box, width) for box, width in zip(boxes, widths, strict=True) if width]
    while True:
        others = sum(width + 3 for box, width in pairs if not box.gives)
        droppable = [pair for pair in pairs if pair[0].drop]
        if others + LEAST_TITLE <= room or not droppable:
            break
        pairs.remove(min(droppable, key=lambda pair: pair[0].drop))
    kept, sizes = [box for box, _ in pairs], [width for _, width in pairs]
    gives = next(at for at, box in enumerate(kept) if box.gives)
    return kept, _room(sizes, gives, room - 3 * (len(kept) - 1))


def _row(texts: list[str], widths: list[int], role: str) -> Line:
    pieces: list[Piece] = []
    for at, (text, width) in enumerate(zip(texts, widths, strict=True)):
        pieces += [Piece(f" {SIDE} " if at else f"{SIDE} ", "frame"), *fitted((Piece(text, role),), width)]
    return (*pieces, Piece(f" {SIDE}", "frame"))


def _cleaned(box: Box) -> Box:
    return replace(box, says=clean(box.says), below=clean(box.below), brief=clean(box.brief))


def _rule(widths: list[int]) -> Line:
    """The line over the boxes, with a joint where one ends."""
    return (Piece("├" + "┬".join("─" * (width + 2) for width in widths) + "┤", "frame"),)


def block_lines(title: TitleLine | None, width: int, tall: bool) -> tuple[Line, ...]:
    """The lines of the title block, each `width` cells: two on a low screen (a rule and the line), four on a tall."""
    room = width - 4
    if title is None:
        return (_rule([room]), *[_row([""], [room], "ink")] * (3 if tall else 1))
    boxes = tuple(_cleaned(box) for box in boxes_of(title))
    if not tall:
        kept, widths = _kept(boxes, [cell_len(box.brief) for box in boxes], room)
        texts = [cut(box.brief, size) for box, size in zip(kept, widths, strict=True)]
        return (_rule(widths), _row(texts, widths, "text"))
    kept, widths = _kept(boxes, [max(box.width, 4) for box in boxes], room)
    return (
        _rule(widths),
        _row([box.caption for box in kept], widths, "caption"),
        _row([box.says for box in kept], widths, "text"),
        _row([box.below for box in kept], widths, "quiet"),
    )


class TitleBlock(Painted):
    """The title block; the screen tells it what to say, its own height tells it which form."""

    def __init__(self, title: TitleLine | None) -> None:
        self._title = title
        super().__init__()

    def say(self, title: TitleLine | None) -> None:
        """Paint another title block."""
        self._title = title
        self.refresh()

    def line_at(self, y: int) -> Line:
        """One row of the block."""
        return block_lines(self._title, self.size.width, tall=self.size.height > 2)[y]
