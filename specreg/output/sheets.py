"""A booklet laid out on sheets of A4: which line stands on which sheet, and where each run of text and rule is drawn.

Everything is decided here, exactly, from the widths of the founts; the typesetter only draws. Each part begins a sheet,
its pages named within it (`4-1`, `4-2`), so that a part that changes is reprinted by itself.
"""

from __future__ import annotations

from dataclasses import dataclass

from specreg.output.booklet import Booklet
from specreg.output.drawn import BREADTH, HEADING, HEIGHT, LEFT, PAGE_NAME_BREADTH, PITCH, RIGHT, TEXT, Pen, Run, Sheet
from specreg.output.feet import slip, title_block, warning
from specreg.output.founts import Cut, Founts
from specreg.output.front_sheets import front_sheets
from specreg.output.line_breaking import Said, SetLine
from specreg.output.line_sheets import Room, Table

_BELOW_FOOT = 8.0
_OVER_FOOT = 3.0
_PAGE_NAME = 13.0


@dataclass(frozen=True, slots=True)
class Sheets:
    """The whole: styles (points and cut) by number, the title block that all sheets share, and the sheets."""

    styles: tuple[tuple[float, Cut], ...]
    foot: Sheet
    sheets: tuple[Sheet, ...]


def laid_out(booklet: Booklet, founts: Founts) -> Sheets:
    """All sheets in order, each with the name of its page and its number of how many."""
    pen = Pen(founts)
    block, warned, receipt = title_block(booklet, pen), warning(booklet, pen), slip(booklet.receipt, pen)
    end = HEIGHT - _BELOW_FOOT
    foot_top = end - block.foot.height
    limit = foot_top - warned.height - _OVER_FOOT
    ending = _ending(booklet, pen)
    closing = 5.0 + len(ending) * PITCH + receipt.height
    table, room = Table(booklet.columns, pen), Room(limit, limit - closing)
    laid = [(part, table.sheets(part, room, part is booklet.parts[-1])) for part in booklet.parts]
    placed = [(part, sheets) for part, (sheets, _) in laid]
    sheets, bottom = front_sheets(booklet, placed, limit, closing, pen)
    if laid:
        bottom = laid[-1][1][1]
    sheets += [sheet for _, own in placed for sheet in own]
    for place, (line, cut) in enumerate(ending):
        sheets[-1].runs += [
            Run(LEFT + x, bottom + 5.5 + place * PITCH, pen.style(TEXT, cut), text) for x, text, _ in line
        ]
    sheets[-1].lifted = receipt.height
    sheets[-1].put(receipt.drawn, end - receipt.height)
    for place, sheet in enumerate(sheets, start=1):
        if sheet.warned:
            sheet.put(warned.drawn, foot_top - sheet.lifted - warned.height)
        page = _page_name(sheet.page, pen)
        width = founts.millimetres(page, _PAGE_NAME, Cut.BOLD)
        sheet.runs.append(Run(RIGHT - width, HEADING, pen.style(_PAGE_NAME, Cut.BOLD), page))
        count_y = foot_top - sheet.lifted + block.count_y
        sheet.runs.append(Run(block.count_x, count_y, pen.style(TEXT, Cut.BOLD), f"{place} of {len(sheets)}"))
    foot = Sheet()
    foot.put(block.foot.drawn, foot_top)
    return Sheets(pen.styles, foot, tuple(sheets))


def _ending(booklet: Booklet, pen: Pen) -> list[tuple[SetLine, Cut]]:
    """The closing words in lines; the very last stand out."""
    cuts = [Cut.PLAIN] * (len(booklet.closing) - 1) + [Cut.BOLD]
    said = zip(booklet.closing, cuts, strict=True)
    return [(line, cut) for text, cut in said for line in pen.set((Said(text, cut),), BREADTH)]


def _page_name(page: str, pen: Pen) -> str:
    """The name of a page in its room; where it is too long the part gives way, never the figure behind it."""
    part, dash, figure = page.rpartition("-")
    behind = pen.founts.millimetres(dash + figure, _PAGE_NAME, Cut.BOLD)
    return pen.one_line(part, PAGE_NAME_BREADTH - behind, _PAGE_NAME, Cut.BOLD) + dash + figure
