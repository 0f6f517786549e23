"""An extract as text for a line printer or a screen: sheets of so many lines and columns, a form feed between them.

The words that every form of an extract shares stand here too (`summary`, `details`, `title_rows`, ...), so that paper,
Markdown and later forms say the same.

A sheet is made of blocks, one a line of the extract. Nothing is cut: long cells go on within their column, a block
longer than a sheet goes on overleaf under its number. The receipt stands below the title block of the last sheet, so
that a head who tears it off keeps a sheet with the title block at its foot. Runs of spaces print as one; control
signs that would upset a printer print as a replacement sign.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from specreg.core.errors import WrongUse
from specreg.core.extracts import Extract, ExtractLine

LEAST_WIDTH = 72
"""Cells across under which the columns are too narrow to read."""

SEPARATE_COLUMNS_FROM = 110
"""Cells across from which operation, from and to, material and size have columns of their own."""

LEAST_BODY = 8
"""Lines for the list itself that a sheet must have besides its head of columns, title block and receipt."""

NOTHING = "–"
WITHDRAWN_HEADING = "Withdrawn: no longer your lines"
NONE_WITHDRAWN = "none withdrawn"

Pair = tuple[str, str]


# ---- the words of an extract, shared by every form ----


def counted(count: int) -> str:
    """A whole number with a space before each three figures: `7 912`."""
    return f"{count:,}".replace(",", " ")


def lines_in_words(count: int) -> str:
    """`1 line`, `1 204 lines`."""
    return f"{counted(count)} line{'' if count == 1 else 's'}"


def department(extract: Extract) -> str:
    """Code and name: `FDY Foundry`."""
    return f"{extract.department} {extract.department_name}".strip()


def heading(extract: Extract) -> str:
    """What stands over the first sheet: `Foundry: extract 2 of revision B`."""
    name = extract.department_name or extract.department
    return f"{name}: extract {extract.number} of revision {extract.title_block.revision or NOTHING}"


def nil_sentence(extract: Extract) -> str:
    """What an extract without lines says, so that silence is never ambiguous."""
    name = extract.department_name or extract.department
    if name[1:2].islower():
        name = name[0].lower() + name[1:]
    where = f" in section {extract.part}" if extract.part else ""
    return f"No items for the {name}{where} at revision {extract.title_block.revision}"


def compared(extract: Extract) -> str:
    """What the signs compare with, and how many lines bear which."""
    if not extract.since:
        return "nothing: this is the first extract for this department"
    if not extract.changed:
        return f"unchanged for you since {extract.since}"
    signs = [line.sign for line in extract.lines]
    added, altered = signs.count("+"), signs.count("»")
    return (
        f"{extract.since}: {counted(added)} added, {counted(altered)} altered, "
        f"{counted(len(extract.withdrawn))} withdrawn, {counted(len(signs) - added - altered)} as before"
    )


def reconciled(extract: Extract) -> tuple[str, ...]:
    """The proof of the split in sentences; the last says in words whether it holds."""
    proof = extract.reconciliation
    items = proof.allocated + proof.no_action + proof.unallocated
    return (
        f"{counted(proof.steps)} steps {_equal(proof.difference)} {counted(proof.in_shares)} in shares, "
        f"difference {counted(proof.difference)}",
        f"{counted(proof.items)} items {_equal(proof.items - items)} {counted(proof.allocated)} allocated "
        f"+ {counted(proof.no_action)} no action + {counted(proof.unallocated)} unallocated",
        f"{counted(proof.order_off)} pieces in the order {_equal(proof.off_difference)} {counted(proof.final_off)} "
        f"from final steps, difference {counted(proof.off_difference)}",
        "nothing lost" if proof.holds and proof.items == items else "THE SHARES DO NOT MAKE UP THE WHOLE",
    )


def _equal(difference: int) -> str:
    return "against" if difference else "="


def summary(extract: Extract) -> tuple[Pair, ...]:
    """The first sheet above the lines, as (caption, text); captions without text are left out."""
    block = extract.title_block
    safety = sum(bool(line.safety) for line in extract.lines)
    pairs = [
        ("Order", f"{extract.order} {extract.order_title}"),
        ("Customer", extract.customer),
        ("Machines", extract.machines),
        ("Extract", f"{extract.number} for {department(extract)}, issued {block.date_of_issue or NOTHING}"),
        ("Part", f"section {extract.part} only: a part of the share, not the whole" if extract.part else ""),
        ("Revision", f"{block.revision or NOTHING}, seal {extract.revision_seal or NOTHING}"),
        ("Replaces", extract.replaces),
        ("Compared with", compared(extract)),
        ("Lines", counted(len(extract.lines))),
        ("Pieces", counted(extract.pieces)),
        ("Not counted", f"{lines_in_words(extract.not_counted)} (as required, sets)"),
        ("Reconciliation", "\n".join(reconciled(extract))),
        ("Safety", f"§ {lines_in_words(safety)} with a safety mark" if safety else ""),
        *(("Caution", caution) for caution in extract.cautions),
    ]
    return tuple((caption, text) for caption, text in pairs if text)


def section_heading(line: ExtractLine) -> str:
    """Number and title of the section a line stands in; empty when it has neither."""
    return f"{line.section} {line.section_title}".strip()


def signs(line: ExtractLine) -> str:
    """The margin of a line: its change sign, `§` for safety, then `H` hold or `M` material only."""
    clearance = {"hold": "H", "material only": "M"}.get(line.clearance.strip().lower(), "")
    return " ".join(sign for sign in (line.sign, "§" if line.safety else "", clearance) if sign)


def number_off(line: ExtractLine) -> str:
    """The number off as written, and its total where that says more: `17+1` and `= 18`."""
    if line.pieces is None or line.off.strip() in (str(line.pieces), counted(line.pieces)):
        return line.off or NOTHING
    return f"{line.off}\n= {counted(line.pieces)}" if line.off else counted(line.pieces)


def details(line: ExtractLine) -> tuple[Pair, ...]:
    """What stands below a line's columns as (caption, text), what changed first; only what says something."""
    clearance = "" if line.clearance.strip().lower() == "make" else line.clearance
    pairs = (
        ("Altered", line.was),
        ("Text", line.text),
        ("Pattern", line.pattern),
        ("Weight", line.weight),
        ("Machines", line.machines),
        ("Hand", line.hand),
        ("Supply", line.supply),
        ("Wanted", line.wanted),
        ("Clearance", clearance),
        ("Safety", line.safety),
        ("Remarks", line.remarks),
    )
    return tuple((caption, text) for caption, text in pairs if text)


def title_rows(extract: Extract, sheet: str) -> tuple[tuple[Pair, ...], ...]:
    """The title block row by row as (caption, text): mandatory fields of ISO 7200, then department, extract and seal.

    `sheet` is the sheet count of this sheet (`2 of 5`).
    """
    block = extract.title_block
    title = f"{block.title}\n{block.supplementary_title}".strip()
    rows: tuple[tuple[Pair, ...], ...] = (
        (("Legal owner", block.legal_owner), ("Title", title), ("Document type", block.document_type)),
        (
            ("Identification number", block.identification_number),
            ("Revision", block.revision),
            ("Date of issue", block.date_of_issue),
            ("Creator", block.creator),
            ("Approval person", block.approval_person),
        ),
        (
            ("Department", department(extract)),
            ("Extract", str(extract.number)),
            ("Responsible", block.responsible_department),
            ("Seal", extract.seal),
            ("Sheet", sheet),
        ),
    )
    return tuple(tuple((caption, text or NOTHING) for caption, text in row) for row in rows)


def closing(extract: Extract) -> str:
    """The last words of the list, so that a lost last sheet is missed."""
    withdrawn = counted(len(extract.withdrawn))
    return f"End of extract {extract.number}: {lines_in_words(len(extract.lines))}, {withdrawn} withdrawn"


def receipt(extract: Extract) -> tuple[Pair, ...]:
    """The receipt as (caption, text); a text left empty is written in by hand."""
    return (
        ("Extract", f"{extract.number}, {extract.title_block.identification_number}".rstrip(", ")),
        ("Department", department(extract)),
        ("Seal", extract.seal or NOTHING),
        ("Received by", ""),
        ("Date", ""),
    )


# ---- signs a plain printer has ----

_SIGNS = {
    **dict.fromkeys("−⁃", "-"), "»": ">", "«": "<", "§": "S", "×": "x", "✕": "x", "·": ".", "•": "*", "…": "...",
    **dict.fromkeys("“”„″‟", '"'), **dict.fromkeys("‘’‚′‛", "'"), "→": "->", "←": "<-", "↺": "OH", "≠": "<>",
    "≤": "<=", "≥": ">=", "±": "+/-", "⁄": "/", "∕": "/", "÷": "/", "µ": "u", "ß": "ss", "æ": "ae", "Æ": "AE",
    "œ": "oe", "Œ": "OE", "ø": "o", "Ø": "O", "ł": "l", "Ł": "L", "đ": "d", "Đ": "D", "þ": "th", "Þ": "Th", "ı": "i",
    **dict.fromkeys("─━═", "-"), **dict.fromkeys("│┃║", "|"), **dict.fromkeys("┌┐└┘├┤┬┴┼", "+"),
}  # fmt: skip
_WORDS = {"⌀": "dia", "°": "deg"}
_DIAMETER = re.compile(r"(?<![^\W\d_])[Øø](?![^\W\d_])")
_GREEK = re.compile(r"GREEK (SMALL|CAPITAL) LETTER ([A-Z]+)")

_OWN_SIGNS = str.maketrans("─│┌┐└┘├┤┬┴┼–§»\N{REPLACEMENT CHARACTER}", "-|+++++++++-S>?")
"""The signs this module draws with, each one cell wide before and after."""


def plain_ascii(text: str) -> str:
    """The text in ASCII alone: `1½` is `1 1/2`, `Ø` beside no letter `dia`, a Greek letter its name, what is left `?`.

    A word that stands for a sign keeps clear of its neighbours; a raised or lowered figure is marked (`10²` is
    `10^2`), so that no figure changes its value.
    """
    if text.isascii():
        return text
    spelt: list[str] = []
    keep_clear = False
    for sign in _DIAMETER.sub("⌀", unicodedata.normalize("NFC", text)):
        plain, is_word = _spelling(sign)
        before = spelt[-1][-1] if spelt else ""
        if not plain:
            continue
        if (is_word or keep_clear) and before.isalnum() and plain[0].isalnum():
            spelt.append(" ")
        spelt.append(plain)
        keep_clear = is_word
    return "".join(spelt)


def _spelling(sign: str) -> tuple[str, bool]:
    """A sign in ASCII, and whether that is a word or fraction of its own."""
    if sign.isascii():
        return sign, False
    if sign in _SIGNS:
        return _SIGNS[sign], False
    if sign in _WORDS:
        return _WORDS[sign], True
    kind = unicodedata.category(sign)
    if kind == "Pd":
        return "-", False
    if kind in ("Mn", "Me", "Cf"):
        return "", False
    if kind in ("Zl", "Zp") or sign == "\x85":
        return "\n", False
    if greek := _GREEK.fullmatch(unicodedata.name(sign, "")):
        name = greek[2].replace("LAMDA", "LAMBDA")
        return (name.lower() if greek[1] == "SMALL" else name.capitalize()), True
    flat = unicodedata.normalize("NFKD", sign)
    if flat == sign:
        return "?", False
    parts = [_spelling(part) for part in flat]
    plain = "".join(part for part, _ in parts)
    form = unicodedata.decomposition(sign).partition(" ")[0]
    if form in ("<super>", "<sub>") and not plain.isalpha():
        plain = f"{'^' if form == '<super>' else '_'}{plain}"
    if form == "<circle>":
        plain = f"({plain})"
    return plain, form == "<fraction>" or any(is_word for _, is_word in parts)


def _spelt(value: Any, spell: Callable[[str], str]) -> Any:
    """A record with every text in it spelt anew; change signs stay, since lines are counted by them."""
    if isinstance(value, str):
        return spell(value)
    if isinstance(value, tuple):
        return tuple(_spelt(one, spell) for one in value)
    if is_dataclass(value) and not isinstance(value, type):
        names = [field.name for field in fields(value) if field.name != "sign"]
        return replace(value, **{name: _spelt(getattr(value, name), spell) for name in names})
    return value


# ---- cells of a fixed pitch ----

_SPACES = re.compile(r"[ \t]+")
_FRACTION = re.compile(r"[0-9]+/[0-9]|[¼-¾⅐-⅞]")
_CONTROL = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x9f]")


def cell_length(text: str) -> int:
    """How many cells a text takes on a screen or printer of fixed pitch.

    Wide and full-width signs of Unicode's East Asian Width take two, combining and format signs none, all others one.
    """
    return len(text) if text.isascii() else sum(map(_cells, text))


def _cells(sign: str) -> int:
    if unicodedata.category(sign) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1


def padded(text: str, width: int) -> str:
    """The text filled with spaces to `width` cells."""
    return text + " " * (width - cell_length(text))


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` cells, broken between words, a longer word within itself.

    A whole number and its fraction are not parted where they fit on one line. A line break in the text starts a new
    line; an empty text gives no line. `width` is 2 or more.
    """
    lines: list[str] = []
    for paragraph in text.splitlines():
        line, length = "", 0
        for word in _words(_CONTROL.sub("\N{REPLACEMENT CHARACTER}", paragraph), width):
            for piece in _pieces(word, width):
                wide = cell_length(piece)
                if line and length + 1 + wide <= width:
                    line, length = f"{line} {piece}", length + 1 + wide
                else:
                    if line:
                        lines.append(line)
                    line, length = piece, wide
        if line:
            lines.append(line)
    return lines


def _words(paragraph: str, width: int) -> Iterator[str]:
    """The words of a paragraph; `1 1/4"` counts as one, since its halves on two lines would read as two sizes."""
    held = ""
    for word in filter(None, _SPACES.split(paragraph)):
        stem = held.rstrip("0123456789")
        if stem != held and not stem.endswith("/") and _FRACTION.match(word) and len(held) + len(word) < width:
            held = f"{held} {word}"
            continue
        if held:
            yield held
        held = word
    if held:
        yield held


def _pieces(word: str, width: int) -> Iterator[str]:
    if cell_length(word) <= width:
        yield word
        return
    piece, length = "", 0
    for sign in word:
        wide = _cells(sign)
        if length + wide > width:
            yield piece
            piece, length = "", 0
        piece, length = piece + sign, length + wide
    yield piece


def _beside(cells: Sequence[Sequence[str]], widths: Sequence[int], stroke: str = "│") -> list[str]:
    """Cells set beside each other with a stroke between, as deep as the deepest."""
    depth = max(map(len, cells))
    return [
        stroke.join(
            padded(cell[row] if row < len(cell) else "", width) for cell, width in zip(cells, widths, strict=True)
        )
        for row in range(depth)
    ]


def _shared_out(width: int, weights: Sequence[int]) -> list[int]:
    """`width` cells shared out over columns by weight, less a stroke between each; the heaviest takes what is over."""
    inner = width - (len(weights) - 1)
    widths = [inner * weight // sum(weights) for weight in weights]
    widths[weights.index(max(weights))] += inner - sum(widths)
    return widths


# ---- the columns ----


@dataclass(frozen=True, slots=True)
class _Column:
    """A column: its head, its weight (its cells across on a sheet of 80 or 132), what it says of a line."""

    head: str
    weight: int
    says: Callable[[ExtractLine], str]


def _operation(line: ExtractLine) -> str:
    return f"step {line.step} {line.operation}".rstrip()


def _from_and_to(line: ExtractLine, between: str = "\n") -> str:
    return f"from {line.came_from or NOTHING}{between}to {line.goes_to or NOTHING}"


def _columns(width: int) -> tuple[_Column, ...]:
    first = (_Column("", 5, signs), _Column("Item", 10, lambda line: line.number), _Column("Off", 8, number_off))
    drawing = _Column("Drawing\nrevision", 14, lambda line: line.drawing or NOTHING)
    if width < SEPARATE_COLUMNS_FROM:
        return (
            *first,
            _Column(
                "Description\noperation, from and to",
                23,
                lambda line: f"{line.title}\n{_operation(line)}\n{_from_and_to(line, ' ')}",
            ),
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
        extract = _spelt(extract, plain_ascii)
    columns = _columns(width)
    widths = _shared_out(width, [column.weight for column in columns])
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
    return (rule, *_beside(cells, widths), rule)


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
        yield _Block(tuple(_beside(cells, [15, width - 17], "  ")))
    yield _Block(("",))


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
    """A line of the extract: its columns, its details below them right of the margin, a rule."""
    cells = [wrapped(column.says(line), wide) for column, wide in zip(columns, widths, strict=True)]
    breadth = sum(widths[1:]) + len(widths) - 2
    own = ("Altered", "Text", "Remarks")
    pairs = details(line)
    short = "; ".join(f"{caption}: {text}" for caption, text in pairs if caption not in own)
    paragraphs = [f"{caption}: {text}" for caption, text in pairs if caption in own]
    below = [part for text in (*paragraphs, short) for part in wrapped(text, breadth)]
    margin = " " * widths[0]
    return (*_beside(cells, widths), *(f"{margin}│{text}" for text in below), "─" * (breadth + 1 + widths[0]))


_TITLE_WEIGHTS = ((30, 32, 14), (22, 9, 13, 15, 15), (22, 9, 14, 15, 14))


def _title_lines(extract: Extract, sheet: str, width: int) -> tuple[str, ...]:
    """The title block in its frame, as wide as the sheet: a caption over each text."""
    lines: list[str] = []
    above: list[int] = []
    for row, weights in zip(title_rows(extract, sheet), _TITLE_WEIGHTS, strict=True):
        widths = _shared_out(width - 2, weights)
        lines.append(_frame(above, widths))
        cells = [
            [*wrapped(caption, wide), *wrapped(text, wide)] for (caption, text), wide in zip(row, widths, strict=True)
        ]
        lines += [f"│{line}│" for line in _beside(cells, widths)]
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
