"""What stands at the foot of sheets: the title block, and below it on the last one the receipt to tear off."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.output.booklet import Booklet, Receipt
from specreg.output.drawn import BREADTH, CAPTION, LEFT, PAD, PITCH, TEXT, Pen, Rule, Run, Sheet, frame, line_step
from specreg.output.founts import Cut
from specreg.output.line_breaking import Said

_SIZES = (9.0, 7.0, 5.0, 4.0, 3.0)
_DEEPEST = 100.0
_WARNING = 7.0
_TO_TEXT = 3.4
"""From the top of a cell to the top of its text, below the caption."""


@dataclass(frozen=True, slots=True)
class Foot:
    """Something at the foot, drawn from its own top; how high it is."""

    drawn: Sheet
    height: float


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """The title block without the sheet's number; where that is written, from the left and from the block's top."""

    foot: Foot
    count_x: float
    count_y: float


def title_block(booklet: Booklet, pen: Pen) -> TitleBlock:
    """The title block in the largest size that leaves room for lines."""
    for size in _SIZES:
        block = _title_block(booklet, pen, size)
        if block.foot.height <= _DEEPEST:
            break
    return block


def _title_block(booklet: Booklet, pen: Pen, size: float) -> TitleBlock:
    sheet = Sheet()
    top = left = text_at = 0.0
    for row, weights in zip(booklet.title, booklet.weights, strict=True):
        left, deepest, text_at = LEFT, 1, top + _TO_TEXT + size * 0.32
        rules_at = []
        for (caption, text), weight in zip(row, weights, strict=True):
            if left > LEFT:
                rules_at.append(left)
            width = BREADTH * weight / sum(weights)
            cut = Cut.BOLD if caption in booklet.bold else Cut.PLAIN
            lines = pen.set([Said(text, cut)], width - 2 * PAD, size)
            deepest = max(deepest, len(lines))
            sheet.runs.append(Run(left + PAD, top + 2.9, pen.style(CAPTION, Cut.PLAIN), caption))
            sheet.runs += pen.runs(lines, left + PAD, text_at, size)
            left += width
        below = text_at + (deepest - 1) * line_step(size) + 1.5
        sheet.rules += [Rule(at, top, 0, below - top, 0) for at in rules_at]
        top = below
        sheet.rules.append(Rule(LEFT, top, BREADTH, 0, 0))
    sheet.rules[-1:] = frame(0.0, top)
    return TitleBlock(Foot(sheet, top), left - width + PAD, text_at)


def warning(booklet: Booklet, pen: Pen) -> Foot:
    """What is warned of, to stand right above the title block; nothing where nothing is."""
    lines = pen.set(booklet.warning, BREADTH, _WARNING)
    sheet = Sheet()
    sheet.runs += pen.runs(lines, LEFT, _WARNING * 0.32, _WARNING)
    return Foot(sheet, len(lines) * line_step(_WARNING) + 0.8 if lines else 0.0)


def slip(receipt: Receipt | None, pen: Pen) -> Foot:
    """The receipt below a dashed line; nothing where there is none."""
    sheet = Sheet()
    if receipt is None:
        return Foot(sheet, 0.0)
    caption_style, middle = pen.style(CAPTION, Cut.PLAIN), LEFT + BREADTH / 2
    sheet.runs.append(Run(middle - 8, 4.3, caption_style, "tear off here"))
    sheet.rules += [Rule(LEFT, 3.6, BREADTH / 2 - 10, 0, 2), Rule(middle + 10, 3.6, BREADTH / 2 - 10, 0, 2)]
    sheet.runs.append(Run(LEFT, 9.2, pen.style(TEXT, Cut.BOLD), "Receipt"))
    left, deepest = LEFT, 1
    for (caption, text), width in zip(receipt.known, (72.0, 72.0, 36.0), strict=True):
        lines = pen.set([Said(text)], width - 3)
        deepest = max(deepest, len(lines))
        sheet.runs.append(Run(left, 13.2, caption_style, caption))
        sheet.runs += pen.runs(lines, left, 17.0, TEXT, PITCH)
        left += width
    signed = 17.0 + deepest * PITCH + 8.0
    for caption, x, width in zip(receipt.by_hand, (LEFT, LEFT + 122), (115.0, 58.0), strict=True):
        sheet.rules.append(Rule(x, signed, width, 0, 0))
        sheet.runs.append(Run(x, signed + 3.0, caption_style, caption))
    return Foot(sheet, signed + 4.5)
