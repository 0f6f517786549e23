"""Numbers as people write them in a works: whole, decimal, in fractions, with thousands set off. Exact.

The slash decides: `1.1/4` and `1-1/4` are one and a quarter, `1.25` is a decimal.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from specreg.core.measures.records import Asks, NotRead

BUILT = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_WHOLE = "[0-9]{1,12}"
_FRACTION = rf"(?:[0-9]{{1,3}}/[0-9]{{1,3}}(?![0-9/])|[{BUILT}])"
NUMBER = (
    rf"(?:{_WHOLE} ?[.\-]?[{BUILT}]|{_WHOLE}(?: {{1,2}}|\.|-){_FRACTION}|{_FRACTION}"
    r"|[0-9]{1,3}(?: [0-9]{3}){1,3}(?:[.,][0-9]{1,12})?|[0-9]{1,3}(?:,[0-9]{3}){1,3}(?:\.[0-9]{1,12})?"
    rf"|(?:{_WHOLE})?\.[0-9]{{1,12}}|{_WHOLE},[0-9]{{1,12}}|{_WHOLE})"
)
"""A pattern for a number; what it means is for `number_of` to say."""

_IN_FRACTIONS = re.compile(rf"(?:([0-9]+)(?: {{1,2}}|[.\-]))?([0-9]+)/([0-9]+)|([0-9]+)? ?[.\-]?([{BUILT}])")
_THOUSANDS = re.compile(r"([1-9][0-9]{0,2})((?:[ ,][0-9]{3})+)")
_ANY_FRACTION = re.compile(rf"([0-9]+)/([0-9]+)|[{BUILT}]")
OF_A_RULE = frozenset({2, 4, 8, 16, 32, 64})
"""The parts of an inch that rules are cut in."""


@dataclass(frozen=True, slots=True)
class Number:
    """A number and what is doubtful about the way it is written."""

    value: Fraction
    doubts: tuple[str, ...] = ()


def number_of(text: str, *, metric: bool) -> Number | NotRead:
    """The number that matched `NUMBER`. A comma before a metric unit is a decimal comma, else it sets off thousands."""
    if "/" in text or text[-1:] in BUILT:
        return _in_fractions(text)
    if "," in text:
        return _with_comma(text, metric)
    figures = text.replace(" ", "")
    return Number(Fraction(int(figures)) if figures.isdecimal() else Fraction(figures))


def _in_fractions(text: str) -> Number | NotRead:
    matched = _IN_FRACTIONS.fullmatch(text)
    if matched is None:
        return NotRead(text, "this is no fraction", "Write it as 1 1/4", Asks.NUMBER)
    whole, top, bottom, whole_built, built = matched.groups()
    if built:
        whole = whole_built
        top, bottom = unicodedata.normalize("NFKD", built).split("⁄")
    if int(bottom) == 0:
        return NotRead(text, "nothing can be divided into nought parts", "Write the fraction again", Asks.NUMBER)
    part = Fraction(int(top), int(bottom))
    doubts = []
    if part >= 1:
        if whole:
            return NotRead(text, f"{top}/{bottom} is no proper fraction", "Write it as 1 1/4", Asks.NUMBER)
        doubts.append(f"{top}/{bottom} is one or more: was a space lost?")
    if int(bottom) not in OF_A_RULE:
        doubts.append(f"{top}/{bottom}: rules are cut in halves down to sixty-fourths")
    return Number(int(whole or 0) + part, tuple(doubts))


def _with_comma(text: str, metric: bool) -> Number | NotRead:
    before, _, after = text.partition(",")
    grouped, _, decimals = text.partition(".")
    thousands = _THOUSANDS.fullmatch(grouped)
    if thousands is not None and " " not in grouped:
        clear = bool(decimals) or grouped.count(",") > 1
        if metric and not clear:
            plain, point = grouped.replace(",", ""), grouped.replace(",", ".")
            return NotRead(text, f"{plain} or {point}?", f"Write {plain} or {point}", Asks.NUMBER)
        value = Fraction(text.replace(",", ""))
        return Number(value, () if clear else (f"{text}: the comma is taken to set off thousands",))
    if not metric:
        why = "a comma for the decimal point is read before metric units only"
        return NotRead(text, why, "Write a point", Asks.NUMBER)
    return Number(Fraction(f"{before.replace(' ', '')}.{after}"))


@dataclass(frozen=True, slots=True)
class WrittenFraction:
    """A fraction as it is written, with the figures above and below the stroke."""

    written: str
    top: int
    bottom: int


def fractions_in(text: str) -> tuple[WrittenFraction, ...]:
    """Every fraction in a text of plain signs, whatever it is a fraction of."""
    found = []
    for one in _ANY_FRACTION.finditer(text):
        top, bottom = one.groups() if one[1] else unicodedata.normalize("NFKD", one.group()).split("⁄")
        found.append(WrittenFraction(one.group(), int(top), int(bottom)))
    return tuple(found)
