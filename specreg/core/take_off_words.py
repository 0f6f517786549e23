"""The words of a take-off, as the order writes back: weights rounded once, here and nowhere else, and exact lengths."""

from __future__ import annotations

from fractions import Fraction

from specreg.core.counts import grouped, so_many
from specreg.core.measures.figures import decimal, rounded
from specreg.core.measures.formatting import NotWritten, feet_and_inches, kilograms, pounds, tons_and_hundredweights
from specreg.core.measures.units import FOOT, INCH, POUND, QUARTER
from specreg.core.take_off import Sum

IMPERIAL = "imperial"
"""The order's unit style in which weights are written in tons, cwt, qr and lb, and lengths in feet and inches."""

COLUMN_UNITS = "tons-cwt-qr-lb"
"""What the figures of an imperial weight in a narrow column are, in order."""

_FINE = 4
"""So many decimals a length may have and still be set out with a rule or a vernier."""

BRIEF_CAUTION = "Estimates for planning: competent persons, authority and local codes decide."
"""What stands beside a weight where the works' own cautions find no room."""


def mass_words(mass: Fraction, units: str) -> str:
    """A weight in kg as the order writes weights back: to the pound, or to the kilogram."""
    if units == IMPERIAL:
        return str(tons_and_hundredweights(mass, nearest="lb"))
    return f"{grouped(int(rounded(mass)))} kg"


def mass_in_column(mass: Fraction, units: str) -> str:
    """The same, short enough for a narrow column: `23-4-2-11`, which `COLUMN_UNITS` names."""
    if units == IMPERIAL:
        return str(tons_and_hundredweights(mass, nearest="lb", dashes=True))
    return mass_words(mass, units)


def mass_of_one_in_column(mass: Fraction, units: str) -> str:
    """The weight of one piece, short enough for a narrow column: `1.41 lb`, `0-5-2-26`."""
    is_light = units != IMPERIAL or mass < QUARTER
    return mass_of_one_words(mass, units) if is_light else mass_in_column(mass, units)


def mass_of_one_words(mass: Fraction, units: str) -> str:
    """The weight in kg of one piece, or of few; what is light to a hundredth unless whole: a bolt is not nought. In
    kilograms what is below a tonne to a tenth."""
    unit, name, light = (POUND, "lb", QUARTER) if units == IMPERIAL else (Fraction(1), "kg", Fraction(1000))
    if 0 < mass < unit / 200:
        return f"under 0.01 {name}"
    if mass >= light or (mass / unit).denominator == 1:
        return mass_words(mass, units)
    return str(pounds(mass, 2) if units == IMPERIAL else kilograms(mass, 2 if mass < 10 else 1))


def length_words(length: Fraction, units: str) -> str:
    """A length in mm as the order writes lengths back, where that is exact; else in whichever of inches and
    millimetres is exact; else, as a third of an inch, `about` so many millimetres. It is never rounded into another."""
    written = feet_and_inches(length)
    by_rule = None if isinstance(written, NotWritten) else written
    inches, millimetres = _decimals(length / INCH, '"'), _decimals(length, " mm")
    best = (by_rule, inches, millimetres) if units == IMPERIAL else (millimetres, by_rule, inches)
    return next((said for said in best if said), f"about {decimal(length, 3)} mm")


def stock_length(length: Fraction, units: str) -> str:
    """The length of a bar; whole feet as `20 ft`, which is how bars are called for."""
    if units == IMPERIAL and length % FOOT == 0:
        return f"{length // FOOT} ft"
    return length_words(length, units)


def _decimals(value: Fraction, unit: str) -> str | None:
    return f"{decimal(value)}{unit}" if (value * 10**_FINE).denominator == 1 else None


def without_words(whole: Sum) -> str:
    """What the sums of an order are short of."""
    if not whole.without:
        return "Every item that should have a weight has one."
    share = Fraction(100 * whole.without, max(1, whole.items))
    return (
        f"{so_many(whole.without, 'item')} of {grouped(whole.items)} ({round(share)} %) should have a weight and have "
        "none: the sums are that much short."
    )
