"""Records out of a text table (comma, semicolon, tab or pipe): quoting as it should be, and as inch marks leave it.

`3/4" plate` is read as it stands. `"1/2" bar, black"` is badly quoted: it is repaired when exactly one way of reading
it gives as many cells as the head has, and is left to be set aside otherwise.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

DELIMITERS = (",", ";", "\t", "|")

_LINES_IN_A_CELL = 40
_QUOTES_TRIED = 24


@dataclass(frozen=True, slots=True)
class TableRow:
    """One record: its cells stripped, the line it begins on (from 1), its text as written.

    `repaired` says that its quoting was mended, `unreadable` that it could not be: then it has no cells.
    """

    cells: tuple[str, ...]
    line: int
    text: str
    repaired: bool = False
    unreadable: bool = False


def strict_cells(text: str, delimiter: str) -> list[str] | None:
    """The cells of a record that is quoted as RFC 4180 asks (quotes within a bare cell are let pass), else None."""
    if '"' not in text:
        return text.split(delimiter)
    try:
        rows = list(csv.reader([text], delimiter=delimiter, strict=True))
    except csv.Error:
        return None
    return rows[0] if len(rows) == 1 else None


def loose_cells(text: str, delimiter: str) -> list[str]:
    """The cells of a line above the head, whatever its quoting."""
    return strict_cells(text, delimiter) or text.split(delimiter)


def table_rows(lines: Sequence[str], first: int, delimiter: str, width: int) -> Iterator[TableRow]:
    """The records of `lines` from index `first` on, for a head of `width` columns; blank lines are passed over."""
    number = first
    while number < len(lines):
        line = lines[number]
        start = number
        number += 1
        if not line.strip():
            continue
        cells = strict_cells(line, delimiter)
        text = line
        if cells is None:
            taken = _over_several_lines(lines, start, delimiter, width)
            if taken:
                cells, number = taken
                text = "\n".join(lines[start:number])
        if cells is not None and not (len(cells) > width and _ends_in_an_inch_mark(cells, width)):
            yield TableRow(_stripped(cells), start + 1, text)
            continue
        mended = _mended(line, delimiter, width)
        if mended is None:
            yield TableRow((), start + 1, line, unreadable=True)
        else:
            yield TableRow(_stripped(mended), start + 1, line, repaired=True)


def _ends_in_an_inch_mark(cells: Sequence[str], width: int) -> bool:
    """Whether a record of too many cells looks as if a quoted cell had been cut at its inch mark: `"2'-6", bored"`."""
    return any(cells[width:]) and any(cell.endswith('"') and cell.count('"') == 1 for cell in cells)


def _stripped(cells: Sequence[str]) -> tuple[str, ...]:
    return tuple(cell.strip() for cell in cells)


def _over_several_lines(lines: Sequence[str], start: int, delimiter: str, width: int) -> tuple[list[str], int] | None:
    """A record with a line end in a quoted cell, and the index after it.

    A lone inch or ditto mark must not swallow the rows below it: no line within may look like a row of its own.
    """
    for end in range(start + 2, min(len(lines), start + _LINES_IN_A_CELL) + 1):
        if len(loose_cells(lines[end - 1], delimiter)) == width:
            return None
        cells = strict_cells("\n".join(lines[start:end]), delimiter)
        if cells is not None:
            return (cells, end) if len(cells) == width else None
    return None


def _mended(line: str, delimiter: str, width: int) -> list[str] | None:
    """The one way of reading a badly quoted line that gives `width` cells; None when there is none or several."""
    if line.count('"') > _QUOTES_TRIED:
        return None
    for bare_quotes in (False, True):
        found = _readings(line, 0, delimiter, width, bare_quotes)
        if len(found) == 1:
            return found[0]
        if found:
            return None
    return None


def _readings(line: str, start: int, delimiter: str, width: int, bare_quotes: bool) -> list[list[str]]:
    """Up to two ways of reading the rest of a line as `width` cells.

    A quoted cell ends at any quote that stands before a delimiter or the end of the line; with `bare_quotes` a quote
    at the start of a cell may also be part of its text.
    """
    if width <= 0:
        return []
    ends: list[tuple[str, int]] = []
    opening = re.compile(r"\s*\"").match(line, start)
    if opening:
        for closing in re.compile(rf"\"\s*(?={re.escape(delimiter)}|$)").finditer(line, opening.end()):
            ends.append((line[opening.end() : closing.start()].replace('""', '"'), closing.end()))
    if not opening or bare_quotes:
        stop = line.find(delimiter, start)
        stop = len(line) if stop < 0 else stop
        ends.append((line[start:stop], stop))
    found: list[list[str]] = []
    for cell, end in ends:
        if end >= len(line):
            if width == 1:
                found.append([cell])
        else:
            rests = _readings(line, end + len(delimiter), delimiter, width - 1, bare_quotes)
            found += [[cell, *rest] for rest in rests]
        if len(found) > 1:
            break
    return found[:2]
