"""Units of the works with their exact factors and the ways they are written.

1 in = 25.4 mm and 1 lb = 0.45359237 kg exactly, by the international yard and pound agreement of 1959; the rest is
multiplication. Standard gravity is 9.80665 m/s2 exactly. The ton here is that of 2240 lb; which ton is meant is for
`masses` to ask.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

INCH = Fraction(254, 10)
"""mm"""
FOOT = 12 * INCH
POUND = Fraction(45359237, 100_000_000)
"""kg"""
QUARTER = 28 * POUND
HUNDREDWEIGHT = 112 * POUND
TON = 2240 * POUND
SHORT_TON = 2000 * POUND
TONNE = Fraction(1000)
GRAVITY = Fraction(980665, 100_000)
"""m/s2"""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: the sign it is shown with, its factor to the base unit, the family it adds up in, how it is written.

    Names are in small letters, an abbreviation that may have a stop with its stop. Those of `exact` are told by their
    small letter, which in capitals means something else.
    """

    sign: str
    factor: Fraction
    family: str
    names: tuple[str, ...]
    exact: bool = False

    @property
    def metric(self) -> bool:
        """Whether a comma before it is a decimal comma."""
        return self.family == "metric"


LENGTHS = (
    Unit("fathom", 6 * FOOT, "imperial", ("fathoms", "fathom")),
    Unit("yd", 3 * FOOT, "imperial", ("yards", "yard", "yds.", "yd.")),
    Unit("ft", FOOT, "imperial", ("feet", "foot", "ft.", "'")),
    Unit("in", INCH, "imperial", ("inches", "inch", "ins.", "in.", '"', "''")),
    Unit("thou", INCH / 1000, "imperial", ("thous", "thou")),
    Unit("km", Fraction(1_000_000), "metric", ("kilometres", "kilometre", "km")),
    Unit("m", Fraction(1000), "metric", ("metres", "metre", "meters", "meter")),
    Unit("m", Fraction(1000), "metric", ("m",), exact=True),
    Unit("cm", Fraction(10), "metric", ("centimetres", "centimetre", "cms", "cm")),
    Unit("mm", Fraction(1), "metric", ("millimetres", "millimetre", "mms", "mm")),
    Unit("µm", Fraction(1, 1000), "metric", ("microns", "micron", "µm")),
)  # fmt: skip
MASSES = (
    Unit("tonne", TONNE, "metric", ("tonnes", "tonne", "metric tons", "metric ton")),
    Unit("long ton", TON, "avoirdupois", ("long tons", "long ton")),
    Unit("short ton", SHORT_TON, "avoirdupois", ("short tons", "short ton")),
    Unit("ton", TON, "avoirdupois", ("tons", "ton")),
    Unit("t", TON, "either", ("t.",)),
    Unit("cwt", HUNDREDWEIGHT, "avoirdupois", ("hundredweights", "hundredweight", "cwts.", "cwt.", "c.")),
    Unit("qr", QUARTER, "avoirdupois", ("quarters", "quarter", "qrs.", "qr.", "q.")),
    Unit("st", 14 * POUND, "avoirdupois", ("stones", "stone", "st.")),
    Unit("lb", POUND, "avoirdupois", ("pounds", "pound", "lbs.", "lb.")),
    Unit("oz", POUND / 16, "avoirdupois", ("ounces", "ounce", "ozs.", "oz.")),
    Unit("dr", POUND / 256, "avoirdupois", ("drams", "dram", "drs.", "dr.")),
    Unit("kg", Fraction(1), "metric",
         ("kilogrammes", "kilogramme", "kilograms", "kilogram", "kilos", "kilo", "kgs", "kg")),
    Unit("g", Fraction(1, 1000), "metric", ("grams", "gram", "grammes", "gramme", "gms", "gm")),
    Unit("g", Fraction(1, 1000), "metric", ("g",), exact=True),
)  # fmt: skip

NO_LETTER = r"(?!(?!x ?[0-9])[^\W\d_])"
"""A pattern: no letter follows, but for the x before another figure."""


def by_name(units: Iterable[Unit]) -> dict[str, Unit]:
    """The units under every name they are written by."""
    return {name.rstrip(".").casefold(): unit for unit in units for name in unit.names}


def named(units: Mapping[str, Unit], written: str) -> Unit | None:
    """The unit written so, with its stops or without, in large or small letters."""
    return units.get(written) or units.get(" ".join(written.casefold().replace(".", " ").split()))


def pattern_of(units: Iterable[Unit]) -> str:
    """A pattern for the names of these units, longest first; their marks are in `MARKS`."""
    names = sorted(
        ((name, unit.exact) for unit in units for name in unit.names if name[0].isalpha()),
        key=lambda one: len(one[0]),
        reverse=True,
    )
    stopped = "|".join(_not_initials(name[:-1]) for name, _ in names if name.endswith("."))
    loose = "|".join(name for name, exact in names if not exact and not name.endswith("."))
    exact = "|".join(_not_initials(name) for name, exact in names if exact)
    return rf"(?:(?i:{stopped}){NO_LETTER}\.?|(?i:{loose}){NO_LETTER}|(?:{exact}){NO_LETTER})"


def _not_initials(name: str) -> str:
    """A name as a pattern; one letter is no unit where it begins initials, as in `10 m.s. plates` and `9 t.p.i.`."""
    return rf"{name}(?!\.[^\W\d_]|\. [^\W\d_]\.)" if len(name) == 1 else name


MARKS = r"(?:\"|''|'(?!')(?!(?!x)[^\W\d_]))"
"""A pattern for inch and foot marks; an apostrophe before a letter is none."""
