"""Lengths and weights written as a works writes them, exactly or rounded when that is asked for.

What is written here reads back to the same value (a ton by the rule of the long ton). Without rounding, a value that
the form cannot hold exactly comes back as `NotWritten`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from specreg.core.measures.figures import decimal, mixed, rounded
from specreg.core.measures.units import HUNDREDWEIGHT, INCH, POUND, QUARTER, TON, TONNE


@dataclass(frozen=True, slots=True)
class NotWritten:
    """A value that a form cannot hold, why, and what to do."""

    value: Fraction
    why: str
    do: str

    def __str__(self) -> str:
        return f"{self.why}. {self.do}."


_LESS_THAN_NOTHING = "a measure is never below nought"
_ASK_FOR_ROUNDING = "Ask for rounding, or write it in decimals"
_FINEST = 64


def feet_and_inches(length: Fraction, *, nearest: int | None = None, inches_below: int = 0) -> str | NotWritten:
    """A length in mm as `19' 6 1/2"`, `3' 0"`, `6"`; inches alone below so many inches (24: up to 2 ft).

    Exact in halves down to sixty-fourths, or rounded to the `nearest` sixteenth or other part when that is given; the
    part must be a power of two up to 64, else ValueError.
    """
    if nearest is not None and nearest not in (1, 2, 4, 8, 16, 32, 64):
        raise ValueError(f"{nearest} is no part of a rule")
    inches = length / INCH
    if inches < 0:
        return NotWritten(length, _LESS_THAN_NOTHING, "Look for what was taken away")
    if nearest is not None:
        inches = rounded(inches, nearest)
    elif _FINEST % inches.denominator:
        return NotWritten(length, "it is no whole number of sixty-fourths of an inch", _ASK_FOR_ROUNDING)
    feet, inches_over = divmod(inches, 12)
    if feet == 0 or inches < inches_below:
        return f'{mixed(inches)}"'
    part = inches_over % 1
    return f"{feet}' {inches_over // 1}{f' {part}' if part else ''}\""


def decimal_inches(length: Fraction, places: int | None = None) -> str | NotWritten:
    """A length in mm as `1.25"`: exactly, or rounded once to so many places."""
    return _in_unit(length, INCH, '"', places)


def millimetres(length: Fraction, places: int | None = None) -> str | NotWritten:
    """A length in mm as `31.75 mm`: exactly, or rounded once to so many places."""
    return _in_unit(length, Fraction(1), " mm", places)


def metres(length: Fraction, places: int | None = None) -> str | NotWritten:
    """A length in mm as `5.944 m`: exactly, or rounded once to so many places."""
    return _in_unit(length, Fraction(1000), " m", places)


def pounds(mass: Fraction, places: int | None = None) -> str | NotWritten:
    """A weight in kg as `4572 lb`: exactly, or rounded once to so many places."""
    return _in_unit(mass, POUND, " lb", places)


def kilograms(mass: Fraction, places: int | None = None) -> str | NotWritten:
    """A weight in kg as `173.5 kg`: exactly, or rounded once to so many places."""
    return _in_unit(mass, Fraction(1), " kg", places)


def tonnes(mass: Fraction, places: int | None = None) -> str | NotWritten:
    """A weight in kg as `2.074 tonnes`: exactly, or rounded once to so many places."""
    return _in_unit(mass, TONNE, " tonnes", places)


def _in_unit(value: Fraction, unit: Fraction, sign: str, places: int | None) -> str | NotWritten:
    if value < 0:
        return NotWritten(value, _LESS_THAN_NOTHING, "Look for what was taken away")
    figures = decimal(value / unit, places)
    if figures is None:
        return NotWritten(
            value, f"its decimals in{sign if sign != chr(34) else ' inches'} never end", _ASK_FOR_ROUNDING
        )
    return f"{figures}{sign}"


@dataclass(frozen=True, slots=True)
class Hundredweights:
    """A weight in tons of 20 cwt, hundredweights under 20, quarters under 4, and pounds under 28."""

    tons: int
    hundredweights: int
    quarters: int
    pounds: Fraction


def in_hundredweights(mass: Fraction) -> Hundredweights:
    """A weight in kg, nought or more, parted with its carries: 20 cwt to the ton, 4 qr to the cwt, 28 lb to the qr."""
    tons, left = divmod(mass, TON)
    hundredweights, left = divmod(left, HUNDREDWEIGHT)
    quarters, left = divmod(left, QUARTER)
    return Hundredweights(tons, hundredweights, quarters, left / POUND)


def tons_and_hundredweights(
    mass: Fraction, *, nearest: str = "", dashes: bool = False, full: bool = False
) -> str | NotWritten:
    """A weight in kg as `23 tons 4 cwt 2 qr 11 lb`, `3 cwt 1 qr 17 lb`, `14 lb`; with dashes `23-4-2-11`.

    Parts that are nought are left out at the beginning and the end, or written all four with `full`. Exact in pounds,
    ounces and drams; or rounded to the `nearest` `lb`, `oz` or `dr`, another word raises ValueError. Dashes hold whole
    pounds only.
    """
    if nearest not in ("", "lb", "oz", "dr"):
        raise ValueError(f"{nearest!r} is no part of a weight: lb, oz or dr")
    if mass < 0:
        return NotWritten(mass, _LESS_THAN_NOTHING, "Look for what was taken away")
    parts = {"lb": 1, "oz": 16, "dr": 256, "": 256}[nearest]
    weight = rounded(mass / POUND, parts) if nearest else mass / POUND
    if parts % weight.denominator:
        return NotWritten(mass, "it is no whole number of drams", _ASK_FOR_ROUNDING)
    split = in_hundredweights(weight * POUND)
    pounds_whole, left = divmod(split.pounds, 1)
    if dashes:
        if left:
            return NotWritten(mass, "it is no whole number of pounds", "Ask for rounding to lb, or leave the dashes")
        return f"{split.tons}-{split.hundredweights}-{split.quarters}-{pounds_whole}"
    ounces, left = divmod(left * 16, 1)
    drams = int(left * 16)
    figures = [
        (split.tons, "ton" if split.tons == 1 else "tons"),
        (split.hundredweights, "cwt"),
        (split.quarters, "qr"),
        (pounds_whole, "lb"),
        (ounces, "oz"),
        (drams, "dr"),
    ]
    return " ".join(f"{number} {unit}" for number, unit in _shown(figures, full)) or "0 lb"


def _shown(figures: list[tuple[int, str]], full: bool) -> list[tuple[int, str]]:
    """The parts from the first to the last that is not nought; with `full` tons to pounds always."""
    there = [place for place, (number, _) in enumerate(figures) if number]
    first, last = (min(there), max(there)) if there else (0, -1)
    return figures[0 : max(last, 3) + 1] if full else figures[first : last + 1]
