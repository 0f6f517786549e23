"""The lines of a part put on sheets: a line is kept whole unless it is longer than a sheet; a rule under every one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from specreg.output.booklet import BookletLine, Column, Entry, Part
from specreg.output.drawn import (
    BREADTH,
    HEADING,
    HEADING_BREADTH,
    LEFT,
    PAD,
    PITCH,
    RIGHT,
    TEXT,
    Pen,
    Rule,
    Run,
    Sheet,
    line_step,
)
from specreg.output.founts import Cut
from specreg.output.line_breaking import Said, SetLine, printable, size_that_fits

MARGIN_COLUMN = 14.0
"""The column for signs and the red pencil."""

_FIRST, _AFTER = 4.2, 1.6
"""From the top of a line of the list to its first text, and below its last."""

_LEAST_PARTED = _FIRST + 7 * PITCH + _AFTER
"""What must be free on a sheet for the beginning of a line that is longer than a sheet."""

_SIGN = 12.0
_PART_TITLE = 11.0
_COLUMN_HEAD = 7.0
_HEAD_STEP = 3.2
_TOP = HEADING + 2.5
"""Where the head of the columns begins below a heading of one line."""


class _Piece(NamedTuple):
    """A run whose height is not known yet, and when it is read: the margin before the first column, what stands below
    after the last."""

    turn: int
    x: float
    style: int
    text: str


class _Fragment(NamedTuple):
    """So much of a line as stands on one sheet, and the line's name where it was begun on a sheet before."""

    lines: Sequence[Sequence[_Piece]]
    warned: bool
    begun: str

    @property
    def height(self) -> float:
        return _FIRST + (len(self.lines) - 1) * PITCH + _AFTER


@dataclass(frozen=True, slots=True)
class Room:
    """How far down lines may stand, and how far on the last sheet, which bears the closing words."""

    limit: float
    last: float


class Table:
    """The columns, and the lines of parts in them."""

    def __init__(self, columns: Sequence[Column], pen: Pen) -> None:
        self._pen = pen
        widths = [column.width for column in columns[:-1]]
        widths.append(BREADTH - MARGIN_COLUMN - sum(widths))
        starts = [LEFT + MARGIN_COLUMN + sum(widths[:place]) for place in range(len(widths))]
        self._columns = [(start + PAD, width - 2 * PAD) for start, width in zip(starts, widths, strict=True)]
        self._rights = [column.right for column in columns]
        self._heads = [
            pen.set([Said(column.head)], width, _COLUMN_HEAD)
            for column, (_, width) in zip(columns, self._columns, strict=True)
        ]
        self._head_height = 8.0 if any(len(lines) > 1 for lines in self._heads) else 5.0

    def sheets(self, part: Part, room: Room, is_last: bool) -> tuple[list[Sheet], float]:
        """The sheets of a part, and where the last one ends."""
        heading = self._pen.set([Said(part.heading, Cut.BOLD)], HEADING_BREADTH, _PART_TITLE)
        next_top = _TOP + self._head_height
        first_top = next_top + (max(len(heading), 1) - 1) * line_step(_PART_TITLE)
        pages = self._pages(part, first_top, next_top, room.limit)
        if is_last:
            pages = _closed(pages, first_top, next_top, room.last)
        sheets = []
        bottom = _TOP
        for place, fragments in enumerate(pages):
            sheet = Sheet(f"{part.pages}-{place + 1}")
            sheet.runs += self._pen.runs(
                heading if place == 0 else self._continued(part, fragments), LEFT, HEADING, _PART_TITLE
            )
            bottom = _TOP
            if fragments:
                bottom = self._draw(sheet, fragments, first_top if place == 0 else next_top)
            sheet.warned = any(fragment.warned for fragment in fragments)
            sheets.append(sheet)
        return sheets, bottom

    def _continued(self, part: Part, fragments: Sequence[_Fragment]) -> tuple[SetLine, ...]:
        """The heading of a part's further sheets, in one line."""
        begun = fragments[0].begun if fragments else ""
        said = self._pen.one_line(part.heading, 60 if begun else 100, _PART_TITLE, Cut.BOLD)
        if begun:
            said += f" · {self._pen.one_line(begun, 50, _PART_TITLE, Cut.BOLD)}"
        said += ", continued"
        return self._pen.set([Said(said, Cut.BOLD)], HEADING_BREADTH, _PART_TITLE)[:1]

    def _pages(self, part: Part, first_top: float, next_top: float, limit: float) -> list[list[_Fragment]]:
        pages: list[list[_Fragment]] = [[]]
        y = first_top
        for line in part.lines:
            fragment = _Fragment(self._text_lines(line), line.warned, "")
            fits_overleaf = next_top + fragment.height <= limit or y + _LEAST_PARTED > limit
            if y + fragment.height > limit and pages[-1] and fits_overleaf:
                pages.append([])
                y = next_top
            while y + fragment.height > limit and len(fragment.lines) > 1:
                fits = int((limit - y - _FIRST - _AFTER) / PITCH) + 1
                room = min(max(1, fits), len(fragment.lines) - 1)
                pages[-1].append(fragment._replace(lines=fragment.lines[:room]))
                fragment = _Fragment(fragment.lines[room:], line.warned, line.name)
                pages.append([])
                y = next_top
            pages[-1].append(fragment)
            y += fragment.height
        return pages

    def _text_lines(self, line: BookletLine) -> list[list[_Piece]]:
        """The text of a line, one list of pieces for each line of text."""
        found: list[list[_Piece]] = [[]]
        if line.margin:
            found[0].append(_Piece(-1, LEFT + PAD, self._pen.style(_SIGN, Cut.BOLD), printable(line.margin)))
        for place, cell in enumerate(line.cells):
            x, width = self._columns[place]
            if place == len(line.cells) - 1:
                width = RIGHT - PAD - x
            at = 0
            for entry in cell:
                size = self._size(entry, width)
                for set_line in self._pen.set((entry.said,), width, size):
                    if at == len(found):
                        found.append([])
                    begin = x + (width - self._pen.width(set_line, size) if self._rights[place] else 0.0)
                    found[at] += self._pieces(place, begin, size, set_line)
                    at += 1
        x = LEFT + MARGIN_COLUMN + PAD
        for paragraph in line.below:
            for set_line in self._pen.set(paragraph, RIGHT - PAD - x):
                found.append(self._pieces(len(line.cells), x, TEXT, set_line))
        return found

    def _pieces(self, turn: int, x: float, size: float, line: SetLine) -> list[_Piece]:
        style = self._pen.style
        return [_Piece(turn, round(x + begin, 2), style(size, cut), text) for begin, text, cut in line]

    def _size(self, entry: Entry, width: float) -> float:
        """The size an entry is set in, in points."""
        if len(entry.sizes) == 1:
            return entry.sizes[0]
        return size_that_fits(entry.said.text, width, entry.sizes, entry.said.cut, self._pen.founts)

    def _draw(self, sheet: Sheet, fragments: Sequence[_Fragment], top: float) -> float:
        """Draw the head of the columns above a height and the lines from it on; returns where they end."""
        head = top - self._head_height
        sheet.rules += [Rule(LEFT, head, BREADTH, 0, 1), Rule(LEFT, top, BREADTH, 0, 1)]
        for (x, width), lines, right in zip(self._columns, self._heads, self._rights, strict=True):
            for row, said in enumerate(lines):
                begin = x + (width - self._pen.width(said, _COLUMN_HEAD) if right else 0.0)
                sheet.runs += self._pen.runs([said], begin, head + 3.2 + row * _HEAD_STEP, _COLUMN_HEAD)
        y = top
        for fragment in fragments:
            in_turn: dict[int, list[Run]] = {}
            for place, line in enumerate(fragment.lines):
                at = round(y + _FIRST + place * PITCH, 2)
                for turn, x, style, text in line:
                    in_turn.setdefault(turn, []).append(Run(x, at, style, text))
            # Drawn in the order in which they are read, so that a text taken out of the file reads as it was written.
            for turn in sorted(in_turn):
                sheet.runs += in_turn[turn]
            y += fragment.height
            sheet.rules.append(Rule(LEFT, y, BREADTH, 0, 0))
        sheet.rules.append(Rule(LEFT + MARGIN_COLUMN, top, 0, y - top, 0))
        return y


def _closed(pages: list[list[_Fragment]], first_top: float, next_top: float, limit: float) -> list[list[_Fragment]]:
    """The pages with room for the closing words on the last: where there is none, the last line goes with them to a
    page of its own, so that they do not stand alone."""
    top = first_top if len(pages) == 1 else next_top
    if top + sum(one.height for one in pages[-1]) <= limit:
        return pages
    moved = pages[-1][-1]
    if len(pages[-1]) > 1 and next_top + moved.height <= limit:
        return [*pages[:-1], pages[-1][:-1], [moved]]
    return [*pages, []]
