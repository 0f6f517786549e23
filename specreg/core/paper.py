"""Sheets of drawing paper by name, and what a title block must say.

Sizes of the ISO A series are computed by the halving rule of ISO 216. The other tables say what they rest on in
`source`; most standards were read through secondary sources. Lengths are exact fractions of a millimetre.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

MM_PER_INCH = Fraction(254, 10)

FILING_MARGIN_MM = 20
OTHER_MARGINS_MM = 10
"""Margins of ISO 5457:1999, from memory: the left one for filing, and the other three."""


@dataclass(frozen=True, slots=True)
class SheetSize:
    """A sheet of paper: sides in millimetres, exact, the short one first.

    `longest_mm` is the greatest length of a size cut from the roll, None for a flat sheet. `framed` says that ISO 5457
    gives the sheet a frame.
    """

    name: str
    series: str
    short_mm: Fraction
    long_mm: Fraction
    source: str
    longest_mm: Fraction | None = None
    framed: bool = False

    @property
    def area_m2(self) -> Fraction:
        """The area in square metres; of a roll size, at its shortest."""
        return self.short_mm * self.long_mm / 1_000_000

    @property
    def drawing_space_mm(self) -> tuple[Fraction, Fraction] | None:
        """Width and height within the frame by ISO 5457: A4 stands upright, all others lie; None without a frame."""
        if not self.framed:
            return None
        width, height = (self.short_mm, self.long_mm) if self.name == "A4" else (self.long_mm, self.short_mm)
        return width - FILING_MARGIN_MM - OTHER_MARGINS_MM, height - 2 * OTHER_MARGINS_MM


_A0_MM = (841, 1189)
_ISO_216 = "ISO 216: A0 is 1 m2 with sides as 1 to root 2, each next one half of it, rounded down to the millimetre"

_ELONGATED_FROM_MEMORY = "ISO 5457:1980: rule as tabulated in a secondary source, figures from memory"
_ELONGATED_SEEN = "as tabulated in a secondary source on GOST 2.301"
_ELONGATED_MM: tuple[tuple[str, int, int], ...] = (
    ("A3x3", 420, 891), ("A3x4", 420, 1189), ("A4x3", 297, 630), ("A4x4", 297, 841), ("A4x5", 297, 1051),
    ("A0x2", 1189, 1682), ("A0x3", 1189, 2523), ("A1x3", 841, 1783), ("A1x4", 841, 2378), ("A2x3", 594, 1261),
    ("A2x4", 594, 1682), ("A2x5", 594, 2102), ("A3x5", 420, 1486), ("A3x6", 420, 1783), ("A3x7", 420, 2080),
    ("A4x6", 297, 1261), ("A4x7", 297, 1471), ("A4x8", 297, 1682), ("A4x9", 297, 1892),
)  # fmt: skip
"""Long side of the base sheet, and its short side so many times. The published figures differ from the plain multiple
by up to 2 mm and by no rule, so they are tabulated."""

_ANSI_IN: tuple[tuple[str, str, str, str], ...] = (
    ("A", "8.5", "11", ""), ("B", "11", "17", ""), ("C", "17", "22", ""), ("D", "22", "34", ""), ("E", "34", "44", ""),
    ("F", "28", "40", ""), ("G", "11", "22.5", "90"), ("H", "28", "44", "143"), ("J", "34", "55", "176"),
    ("K", "40", "55", "143"),
)  # fmt: skip
_ARCH_IN: tuple[tuple[str, int, int], ...] = (
    ("A", 9, 12), ("B", 12, 18), ("C", 18, 24), ("D", 24, 36), ("E", 36, 48), ("E1", 30, 42), ("E2", 26, 38),
    ("E3", 27, 39),
)  # fmt: skip
_LOW = "D. A. Low, Introduction to Machine Drawing, as tabulated in a secondary source"
_SPON = "Spons' Mechanics' Own Book, as tabulated in a secondary source"
_MODERN_BUILDINGS = "Modern Buildings, vol. 1, as tabulated in a secondary source"
_BRITISH_IN: tuple[tuple[str, int, int, str], ...] = (
    ("Demy", 15, 20, _LOW),
    ("Medium", 17, 22, _LOW),
    ("Royal", 19, 24, _LOW),
    ("Imperial", 22, 30, _LOW),
    ("Half Imperial", 15, 20, f"{_MODERN_BUILDINGS}; doubtful, half of 30 by 22 is 22 by 15"),
    ("Elephant", 23, 27, _SPON),
    ("Columbier", 23, 34, _SPON),
    ("Atlas", 26, 34, f"{_LOW}; sources differ by 1 in"),
    ("Double Elephant", 27, 40, f"{_LOW}; sources differ by 1 in"),
    ("Antiquarian", 31, 53, f"{_MODERN_BUILDINGS}; sources differ"),
    ("Emperor", 48, 72, f"{_MODERN_BUILDINGS}; sources differ"),
)


def _iso_sheets() -> Iterator[SheetSize]:
    short, long = _A0_MM
    # Each larger one is two of the next side by side along their long edges.
    yield SheetSize("4A0", "ISO A", Fraction(2 * short), Fraction(2 * long), _ISO_216)
    yield SheetSize("2A0", "ISO A", Fraction(long), Fraction(2 * short), _ISO_216)
    for place in range(6):
        yield SheetSize(f"A{place}", "ISO A", Fraction(short), Fraction(long), _ISO_216, framed=place <= 4)
        short, long = long // 2, short
    for name, first, second in _ELONGATED_MM:
        source = _ELONGATED_SEEN if name == "A4x8" else _ELONGATED_FROM_MEMORY
        yield SheetSize(name, "ISO elongated", Fraction(first), Fraction(second), source, framed=True)


def _inch_sheets() -> Iterator[SheetSize]:
    for name, short, long, longest in _ANSI_IN:
        yield SheetSize(
            f"ANSI {name}",
            "ANSI",
            Fraction(short) * MM_PER_INCH,
            Fraction(long) * MM_PER_INCH,
            "ASME Y14.1, as tabulated in a secondary source",
            Fraction(longest) * MM_PER_INCH if longest else None,
        )
    for name, first, second in _ARCH_IN:
        source = (
            "as tabulated in a secondary source" if name in ("D", "E1") else "as tabulated in a table of paper sizes"
        )
        yield SheetSize(f"ARCH {name}", "ARCH", first * MM_PER_INCH, second * MM_PER_INCH, source)
    for name, first, second, source in _BRITISH_IN:
        yield SheetSize(name, "British, old", first * MM_PER_INCH, second * MM_PER_INCH, source)


def _bare(name: str) -> str:
    plain = unicodedata.normalize("NFKC", name).casefold().replace("×", "x")
    return re.sub(r"[\s\-_.]+", "", plain).removeprefix("iso")


@cache
def sheet_sizes() -> Mapping[str, SheetSize]:
    """Every size that is known, by its name as usually written."""
    return {sheet.name: sheet for sheet in (*_iso_sheets(), *_inch_sheets())}


@cache
def _by_bare_name() -> Mapping[str, SheetSize]:
    return {_bare(name): sheet for name, sheet in sheet_sizes().items()}


def sheet_size(name: str) -> SheetSize | None:
    """The size with this name, however spaced and in any case: `a1`, `A3 x 3`, `ANSI D`, `Double Elephant`.

    None for a name that is not known or means two sizes (a bare `D`).
    """
    return _by_bare_name().get(_bare(name))


@dataclass(frozen=True, slots=True)
class TitleField:
    """A field of a title block: `characters` is the length recommended, None where there is no limit."""

    name: str
    group: str
    characters: int | None
    mandatory: bool
    source: str


_SEEN = "EN ISO 7200, as tabulated in a secondary source"
_LENGTH_FROM_MEMORY = "EN ISO 7200, as tabulated in a secondary source; the length from memory"
_FROM_MEMORY = "ISO 7200, from memory"

TITLE_BLOCK: tuple[TitleField, ...] = (
    TitleField("legal owner", "identifying", None, True, _SEEN),
    TitleField("identification number", "identifying", 16, True, _SEEN),
    TitleField("revision index", "identifying", 2, False, _SEEN),
    TitleField("date of issue", "identifying", 10, True, _SEEN),
    TitleField("segment/sheet number", "identifying", 4, True, _SEEN),
    TitleField("number of segments/sheets", "identifying", 4, False, _SEEN),
    TitleField("language code", "identifying", 4, False, _SEEN),
    TitleField("title", "descriptive", 25, True, _SEEN),
    TitleField("supplementary title", "descriptive", 25, False, _SEEN),
    TitleField("responsible department", "administrative", 10, False, _SEEN),
    TitleField("technical reference", "administrative", 20, False, _SEEN),
    TitleField("approval person", "administrative", 20, True, _SEEN),
    TitleField("creator", "administrative", 20, True, _SEEN),
    TitleField("document type", "administrative", 30, True, _SEEN),
    TitleField("classification/key words", "administrative", None, False, _SEEN),
    TitleField("document status", "administrative", 20, False, _LENGTH_FROM_MEMORY),
    TitleField("page number", "administrative", 4, False, _FROM_MEMORY),
    TitleField("number of pages", "administrative", 4, False, _FROM_MEMORY),
    TitleField("paper size", "administrative", 4, False, _FROM_MEMORY),
)
"""The fields of ISO 7200, in the standard's groups."""


def title_block_faults(values: Mapping[str, str]) -> tuple[str, ...]:
    """What is wrong with a title block by ISO 7200: sentences, in the order of its fields; empty when it is in order.

    `values` holds texts by the field's name, any case; fields of the house beside those of the standard are its own
    affair. A mandatory field must say something; no field should be longer than recommended.
    """
    said = {name.strip().casefold(): text.strip() for name, text in values.items()}
    faults: list[str] = []
    for field in TITLE_BLOCK:
        text = said.get(field.name, "")
        length = len(unicodedata.normalize("NFC", text))
        if not text and field.mandatory:
            faults.append(f"{field.name}: missing, and ISO 7200 wants it")
        elif field.characters is not None and length > field.characters:
            faults.append(f"{field.name}: {length} characters, and ISO 7200 recommends no more than {field.characters}")
    return tuple(faults)
