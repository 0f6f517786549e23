"""What the PDF's template is told of an extract: the shared words, made fit for columns of a proportional fount.

Everything is plain data (texts, numbers, lists, names), to be passed as JSON, so that nothing a person wrote is read as
the template's code. A text is a `str`, or a list of lines, each a list of pieces: a line may be broken between two
pieces without a sign being put in, which is how a word wider than its column stays within it and reads back whole.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from specreg.core.extracts import Extract, ExtractLine
from specreg.output.extract_wording import (
    NONE_WITHDRAWN,
    NOTHING,
    WITHDRAWN_HEADING,
    Pair,
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
from specreg.output.fixed_pitch import shortened

Words = str | list[list[str]]
"""A text as the template takes it."""

HEAD = ("Item", "Off", "Description\noperation", "From\nto", "Material\nsize", "Drawing\nrevision")
"""The head of columns; the margin for signs before them has none."""

TITLE_WEIGHTS = ((30, 32, 14), (22, 9, 13, 15, 15), (22, 9, 14, 15, 14))
"""How the cells of each row of the title block share its width."""

BOLD = ("Altered", "Why", "Safety", "Clearance", "Revision", "Seal", "Sheet", "Identification number")
"""Captions, or texts of the title block, that stand out."""

_PARAGRAPHS = ("Altered", "Why", "Text", "Remarks")
_BREADTH = 180
"""Millimetres across a sheet within its margins, as in the template."""

_UNPRINTABLE = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ufffe\uffff\ud800-\udfff]")
_BLANKS = re.compile(r"[ \t]+")
_ONE_MEASURE = re.compile(r"(?<=[0-9]) (?=[0-9]+/[0-9]|[¼-¾⅐-⅞])|(?<=[0-9]') (?=[0-9])|(?<=\brev) (?=\S)")
_JOINTS = re.compile(r"[^/-]*[/-]+|[^/-]+")
_MILLIMETRES_A_POINT = 0.3528
"""A typographic point of 1/72 inch; a layout is estimated with it, no quantity reckoned."""


def template_data(extract: Extract) -> dict[str, Any]:
    """All that the template prints, by the names it uses."""
    pairs = summary(extract)
    place = next((place for place, (caption, _) in enumerate(pairs, start=1) if caption == "Compared with"), 0)
    shown, over = first_news(news(extract))
    cautions = [flowing(text, _BREADTH - 4) for caption, text in pairs if caption == "Caution"]
    known = [(caption, flowing(text, 65)) for caption, text in receipt(extract) if text]
    sections = list(_sections(extract))
    return {
        "name": _printable(f"{extract.title_block.identification_number} {heading(extract)}".strip()),
        "heading": flowing(" ".join(heading(extract).split()), _BREADTH, 15),
        "before-news": _facts(pairs[:place]),
        "news": {
            "heading": flowing(news_heading(extract), _BREADTH - 4, 10.5),
            "rows": [
                (row.sign, flowing(shortened(row.number, 24), 40), flowing(shortened(row.text, 112), 120))
                for row in shown
            ],
            "over": over,
        },
        "after-news": _facts(pairs[place:]),
        "cautions": cautions,
        "cautions-long": sum(len(text) for text in extract.cautions) > 1000,
        "nil": "" if extract.lines else flowing(nil_sentence(extract), _BREADTH - 8, 13),
        "head": [flowing(text, 40) for text in HEAD],
        "sections": sections,
        "any-long": any(line["long"] for section in sections for line in section["lines"]),
        "none-withdrawn": "" if extract.withdrawn else NONE_WITHDRAWN,
        "closing": closing(extract),
        "receipt": known,
        "by-hand": [caption for caption, text in receipt(extract) if not text],
        "title": [
            [
                # The template writes the sheet's number in, and on every sheet another.
                (caption, "" if caption == "Sheet" else flowing(text, _BREADTH * weight / sum(weights) - 3))
                for (caption, text), weight in zip(row, weights, strict=True)
            ]
            for row, weights in zip(title_rows(extract, ""), TITLE_WEIGHTS, strict=True)
        ],
        "sheet-cell": 1 - TITLE_WEIGHTS[-1][-1] / sum(TITLE_WEIGHTS[-1]),
        "title-weights": TITLE_WEIGHTS,
        "bold": BOLD,
    }


def _facts(pairs: Sequence[Pair]) -> list[tuple[str, Words]]:
    return [(caption, flowing(text, 150)) for caption, text in pairs if caption != "Caution"]


def _sections(extract: Extract) -> Iterator[dict[str, Any]]:
    """Lines that follow each other under one heading, then the withdrawn ones under theirs."""
    together: list[ExtractLine] = []
    for line in extract.lines:
        if together and section_heading(line) != section_heading(together[0]):
            yield _section(section_heading(together[0]), together)
            together = []
        together.append(line)
    if together:
        yield _section(section_heading(together[0]), together)
    if extract.withdrawn:
        yield _section(WITHDRAWN_HEADING, [replace(line, sign="-") for line in extract.withdrawn])


def _section(name: str, lines: Sequence[ExtractLine]) -> dict[str, Any]:
    return {
        "heading": flowing(" ".join(name.split()), _BREADTH - 4, 11),
        "short": _printable(shortened(name, 70)),
        "lines": [_line(line) for line in lines],
    }


def _line(line: ExtractLine) -> dict[str, Any]:
    off, _, total = number_off(line).partition("\n= ")
    pairs = details(line)
    short = [(caption, flowing(text, 160)) for caption, text in pairs if caption not in _PARAGRAPHS]
    columns = (
        line.number, off, f"{line.title}\n{line.operation}", f"{line.came_from}\n{line.goes_to}",
        f"{line.material}\n{line.size}", line.drawing,
    )  # fmt: skip
    return {
        "signs": _printable(signs(line)),
        "name": _printable(shortened(line.number, 30)),
        "number": _fitted(line.number, 19, (13, 10.5, 9)),
        "off": _fitted(off, 15, (13, 10.5, 9)),
        "total": flowing(f"= {total}", 15) if total else "",
        "title": flowing(line.title, 38),
        "operation": flowing(f"step {line.step} {line.operation}", 38),
        "came_from": flowing(f"from {line.came_from or NOTHING}", 29),
        "goes_to": flowing(f"to {line.goes_to or NOTHING}", 29),
        "material": flowing(line.material or NOTHING, 30),
        "size": flowing(line.size, 30),
        "drawing": flowing(line.drawing or NOTHING, 23),
        "below": [
            *([(caption, flowing(text, 160))] for caption, text in pairs if caption in _PARAGRAPHS),
            *([short] if short else ()),
        ],
        "long": max(map(_depth, columns)) > 160 or sum(_depth(text) for _, text in pairs) > 800,
    }


def _depth(text: str) -> int:
    """Signs of a text, a line break reckoned as a good many: a row that may outgrow a sheet is measured by this."""
    return len(text) + 15 * len(text.splitlines())


# ---- texts ----


def flowing(text: str, millimetres: float, points: float = 9) -> Words:
    """The text for a column so wide, set so large: its own line breaks, and places to break words too wide for it.

    Runs of blanks print as one. A whole number and its fraction, feet and their inches, `rev` and its mark are held
    together. Signs that print nothing or turn the reading order print as a replacement sign.
    """
    lines = [_pieces(line, millimetres / points) for line in _printable(text).splitlines()]
    if not lines:
        return ""
    return lines[0][0] if len(lines) == 1 and len(lines[0]) == 1 else lines


def _printable(text: str) -> str:
    return _UNPRINTABLE.sub("\N{REPLACEMENT CHARACTER}", text)


def _fitted(text: str, millimetres: float, sizes: Sequence[float]) -> dict[str, Any]:
    """The text in the largest size that takes it on one line, else in the smallest, broken."""
    size = next((size for size in sizes if _breadth(text) * size * _MILLIMETRES_A_POINT <= millimetres), sizes[-1])
    return {"size": size, "text": flowing(text, millimetres, size)}


def _pieces(line: str, room: float) -> list[str]:
    """The line as one piece, or with its overlong words in pieces; `room` is millimetres for each point of size."""
    whole = _ONE_MEASURE.sub("\N{NO-BREAK SPACE}", _BLANKS.sub(" ", line).strip())
    if all(_fits(word, room) for word in whole.split(" ")):
        return [whole]
    pieces = [""]
    for place, word in enumerate(whole.split(" ")):
        pieces[-1] += " " if place else ""
        for joint, part in enumerate([word] if _fits(word, room) else _JOINTS.findall(word)):
            if _fits(part, room):
                pieces[-1:] = [pieces[-1], part] if joint else [pieces[-1] + part]
                continue
            for sign in part:
                pieces[-1:] = [pieces[-1] + sign] if _clings(sign) else [pieces[-1], sign]
            pieces.append("")
    return [piece for piece in pieces if piece] or [""]


def _fits(word: str, room: float) -> bool:
    most = len(word)  # No sign is wider than an em.
    return most * _MILLIMETRES_A_POINT <= room or _breadth(word) * _MILLIMETRES_A_POINT <= room


def _clings(sign: str) -> bool:
    """Whether a sign is written on the one before it, so that the two must not be parted."""
    return unicodedata.category(sign) in ("Mn", "Me", "Mc", "Cf")


def _breadth(text: str) -> float:
    """The widest a text may be in a bold fount, in ems."""
    return sum(map(_ems, text))


def _ems(sign: str) -> float:
    if sign in "MWmw@%—…" or ord(sign) >= 0x2100:
        return 1.0
    if sign.isupper():
        return 0.76
    if sign in " .,;:'|!ijl()[]-/":
        return 0.36
    return 0.56
