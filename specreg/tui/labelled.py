"""What stands beside a label on a sheet: wrapped text, and rows in columns of which nothing is cut."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import zip_longest

from rich.cells import cell_len

from specreg.tui.columns import Column, Row, fit, row_line
from specreg.tui.passages import Part, passage
from specreg.tui.pieces import Line, Piece, line, width_of, wrapped

LABEL = 14
"""Cells for the label, `Rough weight` and two spaces."""

NARROW, LEAST_INSET = 48, 2
"""Cells of paper below which a table stands under its label, set in a little, and not beside it."""

WIDEST, WIDEST_TEXT = 156, 110
"""Cells that a sheet and its tables take at most, and its text: longer lines are hard to read."""


def labelled(label: str, pieces: Line, width: int, role: str = "caption") -> list[Line]:
    """A label and beside it text, wrapped; every piece begins a line and keeps its role."""
    lines: list[Line] = []
    head = Piece(f"{label:<{LABEL - 1}} ", role)
    for piece in pieces:
        for text in wrapped(piece.text, max(8, width - max(LABEL, cell_len(head.text)))):
            lines.append((head if not lines else Piece(" " * LABEL), Piece(text, piece.role)))
    return lines or [(head,)]


def table(label: str, rows: Iterable[Row], columns: Sequence[Column], width: int) -> list[Part]:
    """Rows beside a label, the label on the first; a cell too long for its column goes on underneath.

    A row with a key is a passage that opens it.
    """
    inset = inset_of(width)
    widths = fit(columns, max(20, width - inset))
    parts: list[Part] = []
    for row in rows:
        if inset < LABEL and label:
            parts.append((Piece(label, "caption"),))
            label = ""
        stacks = [_stacked(cell, columns[at], widths[at]) for at, cell in enumerate(row.cells)]
        if len(row.cells) < len(columns):
            stacks[-1] = (row.cells[-1],)
        lines: list[Line] = []
        for cells in zip_longest(*stacks, fillvalue=()):
            head = Piece(f"{label if not (parts or lines) else '':<{inset}}", "caption")
            lines.append((head, *row_line(Row("", cells), columns, widths)))
        parts += [passage(row.key, lines)] if row.key else lines
    return parts


def inset_of(width: int) -> int:
    """How far the rows of a table are set in on paper of this width."""
    return LABEL if width >= NARROW else LEAST_INSET


def _stacked(cell: Line, column: Column, width: int) -> tuple[Line, ...]:
    """A cell in as many lines as it needs; a number stays whole, since its column lends itself room."""
    text = "".join(piece.text for piece in cell)
    if column.whole or not width or (width_of(cell) <= width and "\n" not in text):
        return (cell,)
    return tuple(line(Piece(row, cell[0].role)) for row in wrapped(text, width))


def in_rows(texts: Iterable[str], width: int) -> list[str]:
    """Short texts after each other with a point between, as many in a row as find room."""
    rows: list[str] = []
    for text in texts:
        longer = f"{rows[-1]} · {text}" if rows else text
        if rows and cell_len(longer) <= width:
            rows[-1] = longer
        else:
            rows.append(text)
    return rows


def spaced(blocks: Iterable[Sequence[Part]]) -> tuple[Part, ...]:
    """The blocks that say something under each other, an empty line between each."""
    parts: list[Part] = []
    for block in blocks:
        if block and parts:
            parts.append(())
        parts.extend(block)
    return tuple(parts)
