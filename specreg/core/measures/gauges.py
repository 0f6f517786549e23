"""Wire and sheet gauges: numbers that mean a thickness only with the name of the gauge."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from specreg.core.measures.numbers import BUILT
from specreg.core.measures.records import Kind, Measure, NotRead, Taken
from specreg.core.measures.units import INCH, LENGTHS, MARKS, MASSES, NO_LETTER, pattern_of

# Standard wire gauge, inches, as tabulated in secondary sources that agree: backyardman.com (wire gage conversion
# chart), themodelmakersresource.co.uk (which misprints No. 6 as 0.182), toolcroze.com; and the Python package fluids
# 1.3.1 (table BSWG).
_SWG = """
7/0 .5000  6/0 .4640  5/0 .4320  4/0 .4000  3/0 .3720  2/0 .3480  0 .3240  1 .3000  2 .2760  3 .2520  4 .2320  5 .2120
6 .1920  7 .1760  8 .1600  9 .1440  10 .1280  11 .1160  12 .1040  13 .0920  14 .0800  15 .0720  16 .0640  17 .0560
18 .0480  19 .0400  20 .0360  21 .0320  22 .0280  23 .0240  24 .0220  25 .0200  26 .0180  27 .0164  28 .0148  29 .0136
30 .0124
"""
# Birmingham gauge for sheet and hoop, 1914, inches, as tabulated in a secondary source: sizes.com (sheet and hoop
# gauge).
_BG = """
15/0 1.00000  14/0 .95830  13/0 .91670  12/0 .87500  11/0 .83330  10/0 .79170  9/0 .75000  8/0 .70830  7/0 .66660
6/0 .62500  5/0 .58830  4/0 .54160  3/0 .50000  2/0 .44520  0 .39640  1 .35320  2 .31470  3 .28040  4 .25000  5 .22250
6 .19810  7 .17640  8 .15700  9 .13980  10 .12500  11 .11130  12 .09910  13 .08820  14 .07850  15 .06990  16 .06250
17 .05560  18 .04950  19 .04400  20 .03920  21 .03490  22 .03125
"""
# Manufacturers' standard gauge for steel sheet (American), inches, as tabulated in secondary sources: roofonline.com
# (weight of sheet steel) and the Python package steel-sections 0.1.0.
_MSG = """
3 .2391  4 .2242  5 .2092  6 .1943  7 .1793  8 .1644  9 .1495  10 .1345  11 .1196  12 .1046  14 .0747  16 .0598
18 .0478  20 .0359  22 .0299  24 .0239  26 .0179
"""


def _table(figures: str) -> dict[str, Decimal]:
    pieces = figures.split()
    return dict(zip(pieces[::2], map(Decimal, pieces[1::2]), strict=True))


@dataclass(frozen=True, slots=True)
class Gauge:
    """A gauge: its name as written here, its full name, and inches by number; a gauge without a table is refused."""

    name: str
    words: str
    inches: dict[str, Decimal]


SWG = Gauge("S.W.G.", "standard wire gauge", _table(_SWG))
BG = Gauge("B.G.", "Birmingham gauge of 1914 for sheet and hoop", _table(_BG))
MSG = Gauge("M.S.G.", "American manufacturers' standard gauge for steel sheet", _table(_MSG))
_BWG = Gauge("B.W.G.", "Birmingham wire gauge", {})
_AWG = Gauge("A.W.G.", "American wire gauge", {})
_NAMES = {
    "swg": SWG, "iswg": SWG, "standardwiregauge": SWG, "imperialstandardwiregauge": SWG,
    "bg": BG, "birminghamgauge": BG,
    "msg": MSG, "usmsg": MSG, "manufacturersstandardgauge": MSG,
    "bwg": _BWG, "birminghamwiregauge": _BWG, "awg": _AWG, "b&s": _AWG, "americanwiregauge": _AWG,
}  # fmt: skip

NAME = (
    r"(?:(?i:i?\.?s\.?w\.?g|b\.?w\.?g|a\.?w\.?g|(?:u\.?s\.? ?)?m\.?s\.?g|b\.? ?& ?s|b\.?g"
    r"|(?:imperial )?standard wire gauge|birmingham (?:wire )?gauge|american wire gauge"
    rf"|manufacturers'? standard gauge){NO_LETTER}\.?)"
)
"""A pattern for the name of a gauge."""

_NUMBER = r"(?P<number>[0-9]{1,2}/0|0{1,7}|[1-9][0-9]?)(?![0-9/])"
_A_UNIT = pattern_of((*LENGTHS, *MASSES))
_BEFORE_NAME = re.compile(rf"(?:(?i:no)\.? ?)?{_NUMBER} ?(?P<name>{NAME})")
_BEHIND_NAME = re.compile(
    rf"(?P<name>{NAME}) ?(?:(?i:no)\.? ?)?{_NUMBER}(?!\w|[.,][0-9]| ?(?:{MARKS}|{_A_UNIT}|[{BUILT}]|[0-9]|[&x] ?[0-9]))"
)
_PUNCTUATION = re.compile(r"[.' ]")


def gauge_at(text: str, at: int) -> Taken | None:
    """The gauge that stands at a place of a text of plain signs: `10 S.W.G.`, `No. 10 SWG`, `S.W.G. 4/0`."""
    matched = _BEFORE_NAME.match(text, at) or _BEHIND_NAME.match(text, at)
    if matched is None:
        return None
    gauge = _NAMES.get(_PUNCTUATION.sub("", matched["name"].casefold()))
    if gauge is None:
        return None
    return Taken(matched.end(), _measured(matched.group(), _in_order(matched["number"]), gauge))


def _in_order(number: str) -> str:
    """A gauge number in one way of writing: 0000 is 4/0, 1/0 is 0."""
    if len(number) > 1 and not number.strip("0"):
        return f"{len(number)}/0"
    return "0" if number == "1/0" else number


def _measured(written: str, number: str, gauge: Gauge) -> Measure | NotRead:
    if not gauge.inches:
        return NotRead(written, f"no table of the {gauge.words} is held here", "Write the thickness in decimals")
    inches = gauge.inches.get(number)
    if inches is None:
        first, *_, last = gauge.inches
        why = f"the table of the {gauge.words} held here runs from {first} to {last} and has no {number}"
        return NotRead(written, why, "Write the thickness in decimals")
    name = f"{number} {gauge.name}"
    basis = f"{name} = {inches.normalize():f} in, {gauge.words}, as tabulated in secondary sources"
    return Measure(Kind.GAUGE, written, Fraction(inches) * INCH, basis, name=name)
