"""Rolled sections out of the tables of the works: by their designation, `203x133x25 UB`, or by their sizes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from specreg.core.measures.numbers import number_of
from specreg.core.measures.records import NotRead
from specreg.core.measures.signs import plain
from specreg.core.measures.units import FOOT, INCH, POUND
from specreg.core.reckoning_standards import SectionTable

_LINE = re.compile(
    r"(?P<designation>[^:]+?) ?: ?(?P<mass>[0-9]+(?:\.[0-9]+)?) ?(?P<of>kg/m|lb/ft)"
    r"(?:, ?(?P<area>[0-9]+(?:\.[0-9]+)?) ?(?P<square>cm2|mm2|in2))?"
)
_PER_METRE = {"kg/m": Fraction(1), "lb/ft": POUND * 1000 / FOOT}
_SQUARES = {"cm2": Fraction(100), "mm2": Fraction(1), "in2": INCH**2}
_UNITS = {"mm": Fraction(1), "in": INCH}
_CROSS = re.compile(" ?x ?")


@dataclass(frozen=True, slots=True)
class Section:
    """One section of a table: mass in kg/m, area in mm2 where it is given, its sizes in mm where the table has them."""

    designation: str
    per_metre: Fraction
    area: Fraction | None
    sizes: tuple[Fraction, ...]
    table: SectionTable

    @property
    def name(self) -> str:
        """The section with its table: `203x133x25 of universal beams`."""
        return f"{self.designation} of {self.table.name}"

    @property
    def density(self) -> Fraction:
        """kg/m3 of the steel that the mass rests on."""
        return Fraction(self.table.density)


def section_of_line(line: str, table: SectionTable) -> Section | None:
    """One line of a table; None when it is none, or when its designation should hold sizes and does not."""
    found = _LINE.fullmatch(" ".join(line.split()))
    if found is None:
        return None
    designation = _CROSS.sub("x", found["designation"])
    sizes: list[Fraction] = []
    for part in designation.split("x") if table.unit else ():
        number = number_of(part, metric=True) if re.fullmatch(r"[0-9][0-9./ ]*", part) else None
        if number is None or isinstance(number, NotRead):
            return None
        sizes.append(number.value * _UNITS[table.unit])
    per_metre = Fraction(found["mass"]) * _PER_METRE[found["of"]]
    area = Fraction(found["area"]) * _SQUARES[found["square"]] if found["area"] else None
    return Section(designation, per_metre, area, tuple(sizes), table)


@dataclass(frozen=True, slots=True)
class Named:
    """A section named in a size, and the size without its name."""

    section: Section
    rest: str


def tables_named(text: str, tables: Sequence[SectionTable]) -> Sequence[SectionTable]:
    """All the tables when a word of one stands anywhere in a size, else none: most sizes name no section."""
    return tables if _any_word(tuple(table.words for table in tables)).search(plain(text)) else ()


@lru_cache(maxsize=64)
def _any_word(words: tuple[tuple[str, ...], ...]) -> re.Pattern[str]:
    """A pattern that finds any of these words anywhere; nothing where there is none."""
    every = {re.escape(word) for of_table in words for word in of_table}
    return re.compile("|".join(sorted(every)) or "(?!)", re.IGNORECASE)


def section_named(text: str, tables: Iterable[SectionTable]) -> Named | None:
    """The section whose designation stands beside a word of its table; None when none is named."""
    signs = plain(text)
    for table in tables:
        sections, pattern = _ready(table)
        found = pattern.search(signs) if pattern else None
        if found:
            written = found["behind"] or found["before"]
            section = sections[_CROSS.sub("x", written.lower())]
            return Named(section, f"{text[: found.start()]} {text[found.end() :]}".strip())
    return None


def word_of_a_table(text: str, tables: Iterable[SectionTable]) -> str:
    """The word of a table, of two letters or more, that stands beside figures in a size; empty when none does."""
    signs = plain(text)
    for table in tables:
        for word, beside in _beside_figures(table.words):
            if beside.search(signs):
                return word
    return ""


@lru_cache(maxsize=256)
def _beside_figures(words: tuple[str, ...]) -> tuple[tuple[str, re.Pattern[str]], ...]:
    """The words of two letters or more, each with the pattern that finds it beside figures."""
    made = ((word, re.escape(word)) for word in words if len(word) > 1)
    return tuple(
        (word, re.compile(rf"(?<![\w.])(?:{escaped}[ -]?[0-9]|[0-9] ?{escaped}(?!\w))", re.IGNORECASE))
        for word, escaped in made
    )


def section_of_sizes(form: str, sizes: tuple[Fraction, ...], tables: Iterable[SectionTable]) -> Section | None:
    """The section of a form with these sizes in mm; None when no table of sizes has it. Legs may stand either way."""
    legs, rest = sorted(sizes[:2]), sizes[2:]
    for table in tables:
        if table.form != form or not table.unit:
            continue
        for section in _ready(table)[0].values():
            if sorted(section.sizes[:2]) == legs and section.sizes[2:] == rest:
                return section
    return None


@lru_cache(maxsize=256)
def _ready(table: SectionTable) -> tuple[dict[str, Section], re.Pattern[str] | None]:
    """The sections of a table by designation in small letters, and the pattern that finds one beside its word."""
    made = filter(None, (section_of_line(line, table) for line in table.sections))
    sections = {section.designation.lower(): section for section in made}
    if not sections or not table.words:
        return sections, None
    longest_first = sorted(sections, key=len, reverse=True)
    names = "|".join(" ?x ?".join(map(re.escape, name.split("x"))) for name in longest_first)
    words = "|".join(re.escape(word) for word in sorted(table.words, key=len, reverse=True))
    end = r"(?![\d/]|\.\d)"
    return sections, re.compile(
        rf"(?<![\w./])(?:(?:{words})[ \-]?(?P<behind>{names}){end}"
        rf"|(?P<before>{names}){end}(?: ?kg(?:/m)?)? ?(?:{words})(?!\w))",
        re.IGNORECASE,
    )
