"""Where the head of a drawing list stands: below title lines, over one line or two, under which delimiter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from specreg.core.errors import WrongUse
from specreg.core.faults import Place
from specreg.core.model import SHEET_COLUMNS
from specreg.intake.drawing_heads import Head, head_of, joined, spelling
from specreg.intake.table_lines import DELIMITERS, loose_cells, strict_cells

_LINES_SEARCHED_FOR_HEAD = 60
_LINES_OF_A_HEAD = 4


@dataclass(frozen=True, slots=True)
class FoundHead:
    """A head, the index of its first line and of the line after it."""

    head: Head
    delimiter: str
    at: int
    end: int


def find_head(lines: Sequence[str], file: str) -> FoundHead:
    """The first head of a drawing list; it may take two lines, or have line ends within its quoted cells.

    `file` is its name in faults. Raises WrongUse that names the line nearest to a head, its columns and those it lacks.
    """
    best: tuple[int, str, int, Head] | None = None
    for at, line in enumerate(lines[:_LINES_SEARCHED_FOR_HEAD]):
        for delimiter in DELIMITERS:
            cells, end = _head_cells(lines, at, delimiter)
            head = head_of(cells)
            over_two = _over_two_lines(head, lines, end, delimiter)
            if over_two:
                return FoundHead(over_two[0], delimiter, at, over_two[1])
            if not head.missing:
                return FoundHead(head, delimiter, at, end)
            if line.strip() and (best is None or head.score > best[0]):
                best = (head.score, delimiter, at, head)
    if best is None:
        raise WrongUse(f"{file} cannot be read as a drawing list", "it has no line of text")
    _, _, at, head = best
    found = ", ".join(cell for cell in head.cells if cell) or "none"
    raise WrongUse(
        f"{Place(file, at + 1)} cannot be read as the head of a drawing list",
        f"it has the columns {found}, and lacks {' and '.join(head.missing)}",
        f"Head the columns with {', '.join(SHEET_COLUMNS)}; number and title are needed, the others may be missing",
    )


def _head_cells(lines: Sequence[str], at: int, delimiter: str) -> tuple[list[str], int]:
    """The cells of a line without empty ones at the end, and the index after it."""
    cells, end = loose_cells(lines[at], delimiter), at + 1
    if lines[at].count('"') % 2:
        for after in range(at + 2, min(len(lines), at + _LINES_OF_A_HEAD) + 1):
            whole = strict_cells("\n".join(lines[at:after]), delimiter)
            if whole is not None:
                cells, end = whole, after
                break
    stripped = [" ".join(cell.split()) for cell in cells]
    while stripped and not stripped[-1]:
        stripped.pop()
    return stripped, end


def _over_two_lines(head: Head, lines: Sequence[str], after: int, delimiter: str) -> tuple[Head, int] | None:
    """The head that a line makes with the next one, when that says more than either and puts nothing in doubt."""
    if after >= len(lines) or not head.score or head.ours:
        return None
    cells, end = _head_cells(lines, after, delimiter)
    lower, both = head_of(cells), head_of(joined(head.cells, cells))
    more = both.score > max(head.score, lower.score)
    number = both.columns.get("number", 0)
    is_row = number < len(cells) and any(sign.isdecimal() for sign in cells[number])
    return (both, end) if more and not both.missing and not is_row and len(both.unknown) <= len(head.unknown) else None


def words_of(cells: Sequence[str]) -> tuple[str, ...]:
    """The cells that say something, however they are spelled."""
    return tuple(words for cell in cells if (words := spelling(cell)))
