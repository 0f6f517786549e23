"""An extract as text for a line printer or a screen: sheets of so many lines and columns, a form feed between them.

A sheet is made of blocks, one a line of the extract. No line is cut: long cells go on within their column, a block
longer than a sheet goes on overleaf under its number; only the first sheet's rows of what is new are shortened, each
to one line, since the whole stands in the list. The receipt stands below the title block of the last sheet, so
that a head who tears it off keeps a sheet with the title block at its foot. Runs of spaces print as one; control
signs that would upset a printer print as a replacement sign.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from specreg.core.errors import WrongUse
from specreg.core.extracts import Extract, ExtractLine
from specreg.output.extract_wording import (
    NONE_WITHDRAWN,
    NOTHING,
    WITHDRAWN_HEADING,
    closing,
    details,
    first_news,
    heading,
    news,
    news_heading,
    nil_sentence,
    number_off,
    receipt,
    section_heading,
    signs,
    summary,
    title_rows,
)
from specreg.output.fixed_pitch import beside, cell_length, padded, shared_out, shortened, strung, wrapped
from specreg.output.plain_ascii import extract_in_ascii

LEAST_WIDTH = 72
"""Cells across under which the columns are too narrow to read."""

SEPARATE_COLUMNS_FROM = 110
"""Cells across from which operation, from and to, material and size have columns of their own."""

LEAST_BODY = 8
"""Lines for the list itself that a sheet must have besides its head of columns, title block and receipt."""

_OWN_SIGNS = str.maketrans("─│┌┐└┘├┤┬┴┼–§»\N{REPLACEMENT CHARACTER}", "-|+++++++++-S>?")
"""The signs that sheets are drawn with, and those of the shared words, each one cell wide before and after."""


# ---- the columns ----


@dataclass(frozen=True, slots=True)
class _Column:
    """A column: its head, its weight (its cells across on a sheet of 80 or 132), what it says of a line."""

    head: str
    weight: int
    says: Callable[[ExtractLine], str]


def _operation(line: ExtractLine) -> str:
    return f"step {line.step} {line.operation}".rstrip()


def _from_and_to(line: ExtractLine) -> str:
    return f"from {line.came_from or NOTHING}\nto {line.goes_to or NOTHING}"


def _columns(width: int) -> tuple[_Column, ...]:
    first = (_Column("", 5, signs), _Column("Item", 10, lambda line: line.number), _Column("Off", 8, number_off))
    drawing = _Column("Drawing\nrevision", 14, lambda line: line.drawing or NOTHING)
    if width < SEPARATE_COLUMNS_FROM:
        return (
            *first,
            _Column("Description\noperation", 23, lambda line: f"{line.title}\n{_operation(line)}"),
            _Column("Material\nsize", 15, lambda line: f"{line.material or NOTHING}\n{line.size}"),
            drawing,
        )
    return (
        *first,
        _Column("Description", 30, lambda line: line.title),
        _Column("Operation", 13, _operation),
        _Column("From\nto", 14, _from_and_to),
        _Column("Material", 15, lambda line: line.material or NOTHING),
        _Column("Size", 15, lambda line: line.size or NOTHING),
        drawing,
    )


# ---- sheets ----


@dataclass(frozen=True, slots=True)
class _Block:
    """Lines kept together on a sheet.

    `columns`: the head of columns must stand above them. `opening` goes before them where they are the first on a
    sheet, `carried` before what is left of a block that is longer than a sheet. `below` lines are left free after.
    """

    lines: tuple[str, ...]
    columns: bool = False
    opening: tuple[str, ...] = ()
    carried: tuple[str, ...] = ()
    below: int = 0


def plain_text(extract: Extract, width: int = 80, page_lines: int = 66, plain: bool = False) -> str:
    """The extract as sheets of at most `page_lines` lines, none wider than `width` cells, a form feed between sheets.

    The last line of each sheet is left empty, so that a printer that obeys the form feed from there throws no blank
    sheet. `plain` gives ASCII alone. The sheets are laid out once to count them and then drawn with their count.

    Raises WrongUse when a sheet is too narrow or too short to hold its title block and a few lines.
    """
    if width < LEAST_WIDTH:
        raise WrongUse(f"sheets {width} wide", f"the columns need {LEAST_WIDTH}", "Give a greater width")
    if plain:
        extract = extract_in_ascii(extract)
    columns = _columns(width)
    widths = shared_out(width, [column.weight for column in columns])
    torn_off = _receipt_lines(extract, width)
    blocks = [
        *_summary_blocks(extract, width),
        *_line_blocks(extract, columns, widths),
        *_last_blocks(extract, columns, widths, len(torn_off)),
    ]
    head = _head(columns, widths)
    bodies = _counted_out(extract, blocks, head, torn_off=len(torn_off), width=width, page_lines=page_lines)
    sheets = []
    for count, body in enumerate(bodies, start=1):
        foot = _title_lines(extract, f"{count} of {len(bodies)}", width)
        last = torn_off if count == len(bodies) else ()
        blank = page_lines - 1 - len(body) - len(foot) - len(last)
        sheets.append("".join(f"{line.rstrip(' ')}\n" for line in (*body, *[""] * blank, *foot, *last)))
    text = "\f".join(sheets)
    return text.translate(_OWN_SIGNS) if plain else text


def _head(columns: Sequence[_Column], widths: Sequence[int]) -> tuple[str, ...]:
    rule = "─" * (sum(widths) + len(widths) - 1)
    cells = [wrapped(column.head, wide) for column, wide in zip(columns, widths, strict=True)]
    return (rule, *beside(cells, widths), rule)


def _counted_out(
    extract: Extract, blocks: Sequence[_Block], head: tuple[str, ...], *, torn_off: int, width: int, page_lines: int
) -> list[list[str]]:
    """The blocks on sheets, in the room that the title block leaves when the sheet count is written in it."""
    most = 9
    while True:
        # A long count may deepen the title block, so room is kept for the longest before the sheets are counted.
        room = page_lines - 1 - len(_title_lines(extract, f"{most} of {most}", width))
        least = len(head) + torn_off + LEAST_BODY
        if room < least:
            raise WrongUse(
                f"sheets of {page_lines} lines",
                f"title block, head of columns, receipt and a few lines need {page_lines + least - room}",
                "Give more lines to a sheet",
            )
        bodies = _laid_out(blocks, head, room)
        if len(bodies) <= most:
            return bodies
        most = most * 10 + 9


def _laid_out(blocks: Sequence[_Block], head: tuple[str, ...], room: int) -> list[list[str]]:
    """The blocks on sheets of `room` lines."""
    sheets: list[list[str]] = [[]]
    has_head = False
    for block in blocks:
        columns = head if block.columns else ()
        before = () if has_head else columns
        rest = block.lines
        if sheets[-1] and len(sheets[-1]) + len(before) + len(rest) + block.below > room:
            sheets.append([])
            has_head, before = False, _if_short(columns, block.opening, room)
        while len(sheets[-1]) + len(before) + len(rest) + block.below > room:
            taken = min(room - len(sheets[-1]) - len(before), len(rest) - 1)
            sheets[-1] += [*before, *rest[:taken]]
            rest = rest[taken:]
            sheets.append([])
            has_head, before = False, _if_short(columns, block.carried, room)
        sheets[-1] += [*before, *rest]
        has_head = has_head or block.columns
    return sheets


def _if_short(columns: tuple[str, ...], more: tuple[str, ...], room: int) -> tuple[str, ...]:
    """Head of columns and what is repeated under it, unless that would leave too little of a sheet."""
    return (*columns, *more) if len(columns) + len(more) <= room // 2 else columns


def _summary_blocks(extract: Extract, width: int) -> Iterator[_Block]:
    yield _Block((*wrapped(heading(extract), width), ""))
    for caption, text in summary(extract):
        cells = [[caption], wrapped(text, width - 17)]
        yield _Block(tuple(beside(cells, [15, width - 17], "  ")))
        if caption == "Compared with":
            yield _Block(tuple(_news_lines(extract, width)))
    yield _Block(("",))


def _news_lines(extract: Extract, width: int) -> Iterator[str]:
    """What is new between two rules, one line a row; nothing where nothing is."""
    shown, over = first_news(news(extract))
    if not shown:
        return
    numbers = min(max(cell_length(row.number) for row in shown), width // 3)
    yield from ("", *_headed(news_heading(extract), width))
    for row in shown:
        number = padded(shortened(row.number, numbers), numbers)
        yield f"{row.sign} {number}  {shortened(row.text, width - numbers - 4)}"
    if over:
        yield f"  {over}"
    yield "─" * width


def _line_blocks(extract: Extract, columns: Sequence[_Column], widths: Sequence[int]) -> Iterator[_Block]:
    """One block a line; the first of a section bears the section's heading, so that the two are never parted."""
    width = sum(widths) + len(widths) - 1
    if not extract.lines:
        yield _Block((*wrapped(nil_sentence(extract), width), ""))
    before = ""
    for line in extract.lines:
        section = section_heading(line)
        lines = _row(line, columns, widths)
        if section and section != before:
            yield _Block((*_headed(section, width), *lines), columns=True, carried=_continued(line, width))
        else:
            opening = _headed(f"{section}, continued", width) if section else ()
            yield _Block(lines, columns=True, opening=opening, carried=_continued(line, width))
        before = section


def _last_blocks(extract: Extract, columns: Sequence[_Column], widths: Sequence[int], below: int) -> Iterator[_Block]:
    """Withdrawn lines and the closing words, with room for the receipt under them."""
    width = sum(widths) + len(widths) - 1
    for place, line in enumerate(extract.withdrawn):
        lines = _row(replace(line, sign="-"), columns, widths)
        if place == 0:
            yield _Block((*_headed(WITHDRAWN_HEADING, width), *lines), columns=True, carried=_continued(line, width))
        else:
            opening = _headed("Withdrawn, continued", width)
            yield _Block(lines, columns=True, opening=opening, carried=_continued(line, width))
    none = () if extract.withdrawn else (NONE_WITHDRAWN,)
    yield _Block((*none, *wrapped(closing(extract), width)), below=below)


def _headed(text: str, width: int) -> tuple[str, ...]:
    return (*wrapped(" ".join(text.split()), width), "─" * width)


def _continued(line: ExtractLine, width: int) -> tuple[str, ...]:
    return _headed(f"{line.number}, continued", width)


def _row(line: ExtractLine, columns: Sequence[_Column], widths: Sequence[int]) -> tuple[str, ...]:
    """A line of the extract: its columns, its details below them right of the margin, a rule.

    Where from and to have no column of their own they stand first among the short details, on the full width.
    """
    cells = [wrapped(column.says(line), wide) for column, wide in zip(columns, widths, strict=True)]
    breadth = sum(widths[1:]) + len(widths) - 2
    own = ("Altered", "Why", "Text", "Remarks")
    pairs = details(line)
    has_own_column = any(column.says is _from_and_to for column in columns)
    ways = (("from", line.came_from), ("to", line.goes_to)) if not has_own_column else ()
    short = [
        ", ".join(f"{word} {place}" for word, place in ways if place),
        *(f"{caption}: {text}" for caption, text in pairs if caption not in own),
    ]
    paragraphs = [f"{caption}: {text}" for caption, text in pairs if caption in own]
    below = [part for text in paragraphs for part in wrapped(text, breadth)]
    below += strung(short, breadth)
    margin = " " * widths[0]
    return (*beside(cells, widths), *(f"{margin}│{text}" for text in below), "─" * (breadth + 1 + widths[0]))


_TITLE_WEIGHTS = ((30, 32, 14), (22, 9, 13, 15, 15), (22, 9, 14, 15, 14))


def _title_lines(extract: Extract, sheet: str, width: int) -> tuple[str, ...]:
    """The title block in its frame, as wide as the sheet: a caption over each text."""
    lines: list[str] = []
    above: list[int] = []
    for row, weights in zip(title_rows(extract, sheet), _TITLE_WEIGHTS, strict=True):
        widths = shared_out(width - 2, weights)
        lines.append(_frame(above, widths))
        cells = [
            [*wrapped(caption, wide), *wrapped(text, wide)] for (caption, text), wide in zip(row, widths, strict=True)
        ]
        lines += [f"│{line}│" for line in beside(cells, widths)]
        above = widths
    return (*lines, _frame(above, []))


def _frame(above: Sequence[int], below: Sequence[int]) -> str:
    """The frame between two rows of cells; no widths above or below for its ends."""
    up, down = _strokes(above), _strokes(below)
    end = max(up | down)
    joints = {(True, True): "┼", (True, False): "┴", (False, True): "┬", (False, False): "─"}
    inner = "".join(joints[place in up, place in down] for place in range(1, end))
    left, right = ("├", "┤") if up and down else ("└", "┘") if up else ("┌", "┐")
    return f"{left}{inner}{right}"


def _strokes(widths: Sequence[int]) -> set[int]:
    """Where the strokes after each cell stand, counted from the stroke before the first."""
    return {sum(widths[: place + 1]) + place + 1 for place in range(len(widths))}


def _receipt_lines(extract: Extract, width: int) -> tuple[str, ...]:
    known = "Receipt: " + "; ".join(f"{caption.lower()} {text}" for caption, text in receipt(extract) if text)
    blank = [caption for caption, text in receipt(extract) if not text]
    each = width // len(blank)
    to_fill = "".join(padded(f"{caption} ".ljust(each - 2, "_"), each) for caption in blank)
    side = (width - len("tear off here")) // 4
    cut = f"{'- ' * side}tear off here{' -' * side}"
    return (cut, *wrapped(known, width), "", to_fill)
