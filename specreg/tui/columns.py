"""Columns of a parts list: fixed widths that give way by rank, so that a list never scrolls sideways."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from specreg.tui.pieces import Line, Piece, cut_line, fitted, width_of

LEAST_ASIDE = 10
"""Cells that must be left beside a cell for what is said aside: a word or two, or it tells nothing."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    `width` is what it would like, `least` what it can be read at, both in cells; with too little room the column of
    the highest `gives` shrinks, then is left out (0: never). `grows` shares out room to spare. A `whole` cell is never
    cut while the next column can lend it room: half a number is worse than none. A `late` column is shown only where
    all others have the width they would like. With room to spare, columns come to that width in the order of `fills`,
    by default that of `gives`. `brief` is the head where the column is too narrow for `head`.
    """

    head: str
    width: int
    least: int
    gives: int = 0
    grows: int = 0
    right: bool = False
    whole: bool = False
    late: bool = False
    fills: int | None = None
    brief: str = ""

    @property
    def filled_as(self) -> int:
        """The rank in which it comes to its width."""
        return self.gives if self.fills is None else self.fills


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the key it is known by, a cell for each column, and the role of what has none of its own.

    With fewer cells than columns the last cell takes the rest of the row. `aside` stands behind the text of column
    `beside` when that leaves room for it.
    """

    key: str
    cells: tuple[Line, ...]
    role: str = "ink"
    aside: Line = ()
    beside: int = -1


def fit(columns: Sequence[Column], room: int) -> tuple[int, ...]:
    """A width for each column, 0 for one left out, that together with a space between each fill at most `room`."""
    widths = [0 if column.late else column.least for column in columns]
    by_rank = sorted((at for at, column in enumerate(columns) if column.gives), key=lambda at: -columns[at].gives)
    for at in by_rank:
        if _taken(widths) <= room:
            break
        widths[at] = 0
    for at in sorted(range(len(columns)), key=lambda at: columns[at].filled_as):
        if widths[at]:
            spare = room - _taken(widths)
            widths[at] += max(0, min(spare, columns[at].width - widths[at]))
    for at, column in enumerate(columns):
        if column.late and _taken(widths) + 1 + column.width <= room:
            widths[at] = column.width
    return _grown(columns, _narrowed(columns, widths, room), room)


def _narrowed(columns: Sequence[Column], widths: list[int], room: int) -> list[int]:
    """The widths with the column that grows most made narrower still, when all has given way and it is not enough."""
    over = _taken(widths) - room
    if over <= 0:
        return widths
    most = max(range(len(widths)), key=lambda at: columns[at].grows if widths[at] else -1)
    return [max(1, width - over) if at == most else width for at, width in enumerate(widths)]


def _taken(widths: Sequence[int]) -> int:
    shown = [width for width in widths if width]
    return sum(shown) + max(0, len(shown) - 1)


def _grown(columns: Sequence[Column], widths: list[int], room: int) -> tuple[int, ...]:
    shares = [column.grows if width else 0 for column, width in zip(columns, widths, strict=True)]
    spare = max(0, room - _taken(widths))
    total = sum(shares)
    if not total:
        return tuple(widths)
    grown = [width + spare * share // total for width, share in zip(widths, shares, strict=True)]
    widest = max(range(len(grown)), key=lambda at: shares[at])
    grown[widest] += max(0, room - _taken(grown))
    return tuple(grown)


def heads_line(columns: Sequence[Column], widths: Sequence[int]) -> Line:
    """The row of column heads."""
    heads = (
        column.brief if column.brief and cell_len(column.head) > width else column.head
        for column, width in zip(columns, widths, strict=True)
    )
    return row_line(Row("", tuple((Piece(head),) for head in heads), role="heads"), columns, widths)


def row_line(row: Row, columns: Sequence[Column], widths: Sequence[int]) -> Line:
    """A row, painted in the widths given; cells without role take the row's."""
    shown = [at for at, width in enumerate(widths) if width]
    pieces: list[Piece] = []
    owed = 0
    for place, at in enumerate(shown):
        if at >= len(row.cells):
            break
        if place:
            pieces.append(Piece(" "))
        last = at == len(row.cells) - 1 and at < len(columns) - 1
        width = _taken([widths[other] for other in shown[place:]]) if last else widths[at]
        width -= owed
        owed = 0
        cell, column = row.cells[at], columns[at]
        lender = columns[shown[place + 1]] if place + 1 < len(shown) else None
        if column.whole and lender and (over := width_of(cell) - width) > 0:
            owed = min(over, max(0, widths[shown[place + 1]] - 4))
            width += owed
        if at == row.beside and row.aside:
            cell = _with_aside(cell, row.aside, width)
        pieces += fitted(cut_line(cell, width), width, column.right and not last)
    return tuple(Piece(text, role or row.role) for text, role in pieces)


def _with_aside(cell: Line, aside: Line, width: int) -> Line:
    """The cell, and two spaces after it the aside, cut to what room is left, or left out when that is too little."""
    room = width - width_of(cell) - 2
    if room < min(LEAST_ASIDE, width_of(aside)):
        return cell
    return (*cell, Piece("  "), *cut_line(aside, room))
