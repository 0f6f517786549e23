"""The front of a booklet: facts, frames of news and cautions, and where the parts stand; as many sheets as it needs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from specreg.output.booklet import Booklet, Box, Contents, Facts, Part
from specreg.output.drawn import (
    BREADTH,
    HEADING,
    HEADING_BREADTH,
    LEFT,
    PITCH,
    TEXT,
    Pen,
    Rule,
    Run,
    Sheet,
    frame,
    line_step,
)
from specreg.output.founts import Cut
from specreg.output.line_breaking import Said

PLACED = Sequence[tuple[Part, Sequence[Sheet]]]
"""The parts with the sheets they stand on."""

_TITLE = 15.0
_BOX_TITLE = 10.5
_NIL = 13.0
_FACT = 33.0
"""From the left to the text of a fact."""

_COUNT, _PAGES = 98.0, 122.0
"""From the left to a part's count, and to its pages."""

_WEIGHT = 34.0
"""What a column of weights takes between the two, where there is one: so much less is left for the headings."""


class _FrontLine(NamedTuple):
    """A line of the front: its runs with `y` counted from its top, its height, the frame it stands in (0: none), and
    whether it must be followed by the next one on the same sheet."""

    runs: Sequence[Run]
    height: float
    frame: int = 0
    kept: bool = False


def front_sheets(booklet: Booklet, parts: PLACED, limit: float, closing: float, pen: Pen) -> tuple[list[Sheet], float]:
    """The sheets of the front, and where the last one ends.

    Nothing stands below `limit`; where there are no parts, `closing` more millimetres are kept free on the last sheet
    for what ends the booklet.
    """
    heading = pen.set([Said(booklet.heading, Cut.BOLD)], HEADING_BREADTH, _TITLE)
    top = HEADING + 1 + (max(len(heading), 1) - 1) * line_step(_TITLE) + 2.5
    first = Sheet()
    first.runs += pen.runs(heading, LEFT, HEADING + 1, _TITLE)
    first.rules.append(Rule(LEFT, top, BREADTH, 0, 1))
    sheets, y = _on_sheets(list(_lines(booklet, parts, pen)), first, top + 2.0, limit)
    # Weights stand on the first sheet and in the contents: where the frame of cautions is not, they stand at the foot.
    cautions = {block.heading for block in booklet.front if isinstance(block, Box) and block.texts}
    weights = {part.weight for part, _ in parts if part.weight}
    for sheet in sheets:
        texts = {run.text for run in sheet.runs}
        tells = sheet is first or not weights.isdisjoint(texts)
        sheet.warned = tells and bool(cautions) and cautions.isdisjoint(texts)
    if not parts and y + closing > limit:
        sheets.append(Sheet())
        y = HEADING + 4.0
    said = pen.one_line(booklet.heading, 100, 11.0, Cut.BOLD)
    for place, sheet in enumerate(sheets, start=1):
        sheet.page = f"front-{place}"
        if place > 1:
            sheet.runs.append(Run(LEFT, HEADING, pen.style(11.0, Cut.BOLD), f"{said}, continued"))
    return sheets, y


def _on_sheets(lines: Sequence[_FrontLine], first: Sheet, begin: float, limit: float) -> tuple[list[Sheet], float]:
    sheets, y = [first], begin
    frames: list[tuple[Sheet, int, float, float]] = []
    for place, line in enumerate(lines):
        is_gap = not line.runs and not line.frame
        if is_gap and y + line.height > limit:
            # A gap at the end of a sheet begins no other.
            continue
        if y + _kept_together(lines, place, limit - HEADING - 4.0) > limit and y > begin:
            sheets.append(Sheet())
            y = begin = HEADING + 4.0
        sheets[-1].runs += [run._replace(y=run.y + y) for run in line.runs]
        if line.frame and frames and frames[-1][0] is sheets[-1] and frames[-1][1] == line.frame:
            frames[-1] = (sheets[-1], line.frame, frames[-1][2], y + line.height)
        elif line.frame:
            frames.append((sheets[-1], line.frame, y, y + line.height))
        y += line.height
    for sheet, _, upper, lower in frames:
        sheet.rules += frame(upper, lower)
    return sheets, y


def _kept_together(lines: Sequence[_FrontLine], place: int, room: float) -> float:
    """How high a line is with all that must stand on its sheet; with the next one alone where that is higher than a
    sheet."""
    end = place
    while lines[end].kept and end + 1 < len(lines):
        end += 1
    height = sum(line.height for line in lines[place : end + 1])
    return height if height <= room else sum(line.height for line in lines[place : place + 2])


def _lines(booklet: Booklet, parts: PLACED, pen: Pen) -> Iterator[_FrontLine]:
    for number, block in enumerate(booklet.front, start=1):
        if isinstance(block, Facts):
            yield from _facts(block, pen)
        elif isinstance(block, Box):
            yield from _box(block, number, pen)
        elif parts:
            yield from _contents(block, parts, pen)
        yield _FrontLine((), 2.5)
    if not parts and booklet.nil:
        number = len(booklet.front) + 1
        yield _FrontLine((), 3.0, number)
        for line in pen.set([Said(booklet.nil, Cut.BOLD)], BREADTH - 12, _NIL):
            yield _FrontLine(list(pen.runs([line], LEFT + 6, 5.0, _NIL)), 6.0, number)
        yield _FrontLine((), 3.0, number)


def _facts(facts: Facts, pen: Pen) -> Iterator[_FrontLine]:
    for caption, text in facts.pairs:
        lines = pen.set([Said(text)], BREADTH - _FACT)
        for place, line in enumerate(lines or ((),)):
            runs = list(pen.runs([line], LEFT + _FACT, 3.6, TEXT))
            if place == 0:
                runs.insert(0, Run(LEFT, 3.6, pen.style(TEXT, Cut.BOLD), caption))
            yield _FrontLine(runs, PITCH + (1.1 if place == len(lines) - 1 else 0.0))


def _box(box: Box, number: int, pen: Pen) -> Iterator[_FrontLine]:
    yield _FrontLine((), 1.2, number, True)
    for line in pen.set([Said(box.heading, Cut.BOLD)], BREADTH - 4, _BOX_TITLE):
        yield _FrontLine(list(pen.runs([line], LEFT + 2, 3.8, _BOX_TITLE)), 5.2, number, True)
    for row in box.rows:
        yield from _news(*row, number, pen)
    for text, cut in (*((text, Cut.PLAIN) for text in box.texts), (box.last, Cut.ITALIC)):
        for line in pen.set([Said(text, cut)], BREADTH - 4):
            yield _FrontLine(list(pen.runs([line], LEFT + 2, 3.4, TEXT)), PITCH + 0.4, number, bool(box.texts))
    yield _FrontLine((), 1.2, number)


def _news(sign: str, item: str, text: str, number: int, pen: Pen) -> Iterator[_FrontLine]:
    bold = pen.style(TEXT, Cut.BOLD)
    short = pen.one_line(item, 30, TEXT, Cut.BOLD)
    begin = max(20.0, pen.founts.millimetres(short, TEXT, Cut.BOLD) + 3)
    for place, line in enumerate(pen.set([Said(text)], BREADTH - 11 - begin) or ((),)):
        runs = list(pen.runs([line], LEFT + 8 + begin, 3.4, TEXT))
        if place == 0:
            runs += [Run(LEFT + 2, 3.4, bold, sign), Run(LEFT + 8, 3.4, bold, short)]
        yield _FrontLine(runs, PITCH + 0.4, number)


def _contents(block: Contents, parts: PLACED, pen: Pen) -> Iterator[_FrontLine]:
    plain = pen.style(TEXT, Cut.PLAIN)
    count_at = _COUNT - (_WEIGHT if any(part.weight for part, _ in parts) else 0.0)
    yield _FrontLine([Run(LEFT, 4.0, pen.style(_BOX_TITLE, Cut.BOLD), block.heading)], 5.6, 0, True)
    for part, sheets in parts:
        names = sheets[0].page if len(sheets) == 1 else f"{sheets[0].page} to {sheets[-1].page}"
        pages = pen.set((Said(f"page{'' if len(sheets) == 1 else 's'} {names}"),), BREADTH - _PAGES)
        for place, line in enumerate(pages):
            runs = list(pen.runs([line], LEFT + _PAGES, 3.6, TEXT))
            if place == 0:
                runs.append(Run(LEFT, 3.6, plain, pen.one_line(part.heading, count_at - 4, TEXT)))
                runs.append(Run(LEFT + count_at, 3.6, plain, pen.one_line(part.count, _PAGES - _COUNT - 2, TEXT)))
                weight = pen.one_line(part.weight, _WEIGHT + 2, TEXT)
                ends = LEFT + _PAGES - 6
                runs.append(Run(round(ends - pen.founts.millimetres(weight, TEXT), 2), 3.6, plain, weight))
            yield _FrontLine([run for run in runs if run.text], PITCH + (0.6 if place == len(pages) - 1 else 0.0))
