"""A department's share as rows: a line of the list, and under it what was, or why it is withdrawn."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from heapq import merge
from itertools import accumulate

from rich.cells import cell_len

from specreg.core.extracts import Extract, ExtractLine
from specreg.core.numbering import number_key
from specreg.tui.columns import Column, Row, fit
from specreg.tui.pieces import Line, Piece, line, wrapped
from specreg.tui.signs import role_of

INDENT = "  "
"""What is said under a line is set in by this."""

NOT_MADE_FROM = re.compile(r" rev \S+ \(")
"""Finds a drawing that may not be made from: only then its stage is told behind its revision."""

_BY_NAME = {"From": "from", "To": "to", "Drawing": "drawing"}
_BY_CODE = {**_BY_NAME, "From": "from code", "To": "to code"}
_BRIEFLY = {**_BY_CODE, "Drawing": "drawing brief"}
"""Which cells stand under a head, from the fullest to the shortest."""

Cell = Callable[[ExtractLine], Line]


@dataclass(frozen=True, slots=True)
class Share:
    """A share ready to be laid out.

    `lines` are the extract's lines and the withdrawn ones in number order: a man looks for a number where it stood,
    and what he would make in vain is the dearest to overlook. `codes` gives the departments' codes by name; `longest`
    the cells that the longest text of each column takes.
    """

    extract: Extract
    lines: tuple[ExtractLine, ...]
    codes: Mapping[str, str]
    longest: Mapping[str, int]


def share_of(extract: Extract, codes: Mapping[str, str]) -> Share:
    """The share, its withdrawn lines in their places and its columns measured."""
    lines = tuple(merge(extract.lines, extract.withdrawn, key=lambda one: (number_key(one.number), one.step)))
    longest = {
        name: max((cell_len(text) for text in {"".join(text for text, _ in cell(one)) for one in lines}), default=0)
        for name, cell in _cells(codes).items()
    }
    return Share(extract, lines, codes, longest)


# Cells


def _cells(codes: Mapping[str, str]) -> dict[str, Cell]:
    """What stands in each column, by its name."""
    return {
        "sign": lambda one: (Piece(one.sign, role_of(one.sign)),),
        "number": lambda one: line(one.number),
        "title": lambda one: line(one.title),
        "marks": _marks,
        "off": lambda one: line(one.off),
        "from": lambda one: line(one.came_from),
        "to": lambda one: line(one.goes_to),
        "from code": lambda one: line(_coded(one.came_from, codes)),
        "to code": lambda one: line(_coded(one.goes_to, codes)),
        "material": lambda one: line(one.material),
        "size": lambda one: line(one.size or one.weight),
        "drawing": lambda one: _drawing(one, one.drawing),
        "drawing brief": lambda one: _drawing(one, one.drawing.replace(" rev ", " ")),
    }


def _marks(one: ExtractLine) -> Line:
    """`§` for safety, then `H` hold or `M` material only."""
    clearance = {"hold": "H", "material only": "M"}.get(one.clearance.strip().lower(), "")
    return tuple(Piece(sign, role_of(sign)) for sign in ("§" if one.safety else "", clearance) if sign)


def _drawing(one: ExtractLine, said: str) -> Line:
    return (Piece("~ ", role_of("~")), Piece(said)) if NOT_MADE_FROM.search(one.drawing) else line(said)


def _coded(names: str, codes: Mapping[str, str]) -> str:
    """Departments by their codes: `ERE, STO`; by its name where it has none here."""
    return codes.get(names) or ", ".join(codes.get(name, name) for name in names.split(" and "))


def _aside(one: ExtractLine) -> Line:
    """What stands behind the description: the operation, and which hand and machines where not all."""
    machines = f"machines {one.machines}" if one.machines else ""
    said = ", ".join(part for part in (one.operation, one.hand, machines) if part)
    return (Piece(said, "quiet"),) if said else ()


def _under(one: ExtractLine) -> str:
    """What is said under a line: what was, or why it is withdrawn."""
    return f"withdrawn: {one.was or 'no longer your line'}" if one.sign == "-" else one.was


# Columns


@dataclass(frozen=True, slots=True)
class ShareColumns:
    """The columns of a share and the names of their cells."""

    names: tuple[str, ...]
    columns: tuple[Column, ...]


def share_columns(share: Share, room: int) -> ShareColumns:
    """The columns of a share in so many cells.

    A column in which nothing stands is left out, the others are as wide as what stands in them; size, material and
    drawing give way in this order. Departments stand by their code where their names would take room from the rest, and
    then drawings without the word `rev` where it would.
    """
    for cells in (_BY_NAME, _BY_CODE):
        laid = _columns(share, cells, 27 if cells is _BY_NAME else 12)
        widths = fit(laid.columns, room)
        if all(width >= column.width for column, width in zip(laid.columns, widths, strict=True)):
            return laid
    return _columns(share, _BRIEFLY, 12)


def _columns(share: Share, cells: Mapping[str, str], most: int) -> ShareColumns:
    def column(name: str, head: str, least: int, most: int, gives: int = 0, brief: str = "") -> Column:
        floor = cell_len(brief or head)
        width = min(max(share.longest[name], floor), most)
        return Column(head, width, min(width, max(least, floor)), gives, right=name == "off", brief=brief)

    number = min(max(share.longest["number"], 4), 9)
    named = {
        "sign": Column(" ", 1, 1),
        "number": Column("No", number, number, whole=True),
        "title": Column("Description", min(max(share.longest["title"], 20), 40), 20, grows=1),
        "marks": column("marks", "§", 1, 3),
        "off": column("off", "Off", 8, 23),
        cells["From"]: column(cells["From"], "From", 4, most, gives=2),
        cells["To"]: column(cells["To"], "To", 4, most, gives=1),
        "material": column("material", "Material", 10, 20, gives=4),
        "size": column("size", "Size or weight", 11, 28, gives=5, brief="Size/wt"),
        cells["Drawing"]: column(cells["Drawing"], "Drawing", 12, 34, gives=3),
    }
    kept = {name: one for name, one in named.items() if name in ("sign", "number", "title") or share.longest[name]}
    return ShareColumns(tuple(kept), tuple(kept.values()))


# Rows


class ShareRows:
    """The rows of a share: its lines, or only the changed ones, each with what is said under it, then the closing.

    A row is made when it is asked for; only what stands under the lines is wrapped at once, to count the rows.
    """

    def __init__(self, share: Share, changed_only: bool, room: int, closing: Sequence[tuple[Piece, str]]) -> None:
        self._share = share
        self._laid = share_columns(share, room)
        self._cells = _cells(share.codes)
        self._lines = [one for one in share.lines if one.sign] if changed_only else share.lines
        widths = fit(self._laid.columns, room)
        set_in = widths[0] + widths[1] + 2
        self._below = [wrapped(_under(one), room - set_in - len(INDENT)) if one.sign else [] for one in self._lines]
        self._ends = list(accumulate(1 + len(below) for below in self._below))
        self._keys = _keys(self._lines)
        self._places = {key: at for at, key in enumerate(self._keys)}
        self._closing = tuple(
            Row("", (line(sign if at == 0 else ""), (Piece(text, "quiet"),)))
            for sign, said in closing
            for at, text in enumerate(wrapped(said, room - 2))
        )

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns that the rows are made for."""
        return self._laid.columns

    @property
    def lines(self) -> int:
        """How many lines are listed."""
        return len(self._lines)

    def count(self) -> int:
        """How many rows there are."""
        return self._rows_of_lines + len(self._closing)

    @property
    def _rows_of_lines(self) -> int:
        return self._ends[-1] if self._ends else 0

    def rows(self, first: int, count: int) -> Sequence[Row]:
        """Some of them."""
        return [self._row(at) for at in range(first, min(first + count, self.count()))]

    def row_of(self, key: str) -> int:
        """In which row a line begins; -1 when it is not listed."""
        at = self._places.get(key, -1)
        return -1 if at < 0 else self._start(at)

    def row_near(self, key: str, number: str) -> int:
        """The row of a line; where it is not listed, of the first after its number, or of the last."""
        if not self._lines:
            return 0
        at = self._places.get(key)
        if at is None:
            wanted = number_key(number)
            after = (place for place, one in enumerate(self._lines) if number_key(one.number) >= wanted)
            at = next(after, len(self._lines) - 1)
        return self._start(at)

    def line_at(self, row: int) -> int:
        """Which line a row belongs to; the number of lines for a closing row."""
        return bisect_right(self._ends, row)

    def number_at(self, row: int) -> str:
        """The item's number in a row; empty for a closing row."""
        at = self.line_at(row)
        return self._lines[at].number if at < len(self._lines) else ""

    def _start(self, at: int) -> int:
        return self._ends[at - 1] if at else 0

    def _row(self, row: int) -> Row:
        at = self.line_at(row)
        if at >= len(self._lines):
            return self._closing[row - self._rows_of_lines]
        one, key = self._lines[at], self._keys[at]
        role = role_of("-") if one.sign == "-" else "ink"
        below = row - self._start(at)
        if below:
            return Row(key, ((), (), line(INDENT, self._below[at][below - 1])), role)
        cells = tuple(self._cells[name](one) for name in self._laid.names)
        return Row(key, cells, role, aside=_aside(one), beside=self._laid.names.index("title"))


def _keys(lines: Sequence[ExtractLine]) -> list[str]:
    """A key for each line: its number and step, told apart where a number is used twice."""
    seen: dict[str, int] = {}
    keys = []
    for one in lines:
        key = f"{one.sign == '-':d} {one.number} {one.step}"
        seen[key] = seen.get(key, 0) + 1
        keys.append(f"{key} {seen[key]}")
    return keys
