"""Areas, pressures and angles."""

from __future__ import annotations

import re
from fractions import Fraction

from specreg.core.measures.numbers import NUMBER, number_of
from specreg.core.measures.records import Asks, Kind, Measure, NotRead, Taken, Ton
from specreg.core.measures.sums import parts_at, summed
from specreg.core.measures.units import (
    GRAVITY,
    INCH,
    LENGTHS,
    NO_LETTER,
    POUND,
    SHORT_TON,
    TON,
    Unit,
)

_SIDE = r"(?:feet|foot|ft|inches|inch|ins|in|yards|yard|yds|yd|mm|cm|metres|metre|meters|meter|m)"
_AREA = re.compile(
    rf"(?P<number>{NUMBER}) ?(?P<unit>(?i:(?:square|sq)\.? ?{_SIDE}){NO_LETTER}\.?"
    rf"|(?i:{_SIDE})(?:2(?![0-9])|²)|(?i:(?:ft|feet)\.? (?:super|sup)){NO_LETTER}\.?)"
)
_AREA_JOINT = re.compile(" {0,2}")
_WRITTEN_AS = ("sq {}", "sq{}", "square {}", "{}2", "{}²", "{} super", "{} sup")
_AREAS = {
    form.format(name.rstrip(".")): Unit(f"sq {side.sign}", side.factor**2, side.family, ())
    for side in LENGTHS
    for name in side.names
    for form in _WRITTEN_AS
}


def area_at(text: str, at: int) -> Taken | None:
    """The area that stands at a place of a text of plain signs; None when none does."""
    parts = parts_at(text, at, _AREA, _AREA_JOINT, _AREAS)
    if not parts:
        return None
    end = parts[-1].end
    total = summed(text[at:end], parts)
    if isinstance(total, NotRead):
        return Taken(end, total)
    return Taken(end, Measure(Kind.AREA, text[at:end], total[0], doubts=total[1]))


_PER_SQUARE_INCH = (
    rf"(?i: ?(?:/|per) ?(?:(?:square|sq)\.? ?(?:inches|inch|ins|in){NO_LETTER}\.?|in\.?(?:2(?![0-9])|²)))"
)
_KGF_PER_CM2 = r"(?:kgf|kg|kp) ?/ ?(?:cm2(?![0-9])|cm²|sq\.? cm)"
_NEWTONS = POUND * GRAVITY
_SQUARE_INCH = (INCH / 1000) ** 2
_PSI = _NEWTONS / _SQUARE_INCH
_PRESSURES = tuple(
    (re.compile(rf"(?P<number>{NUMBER}) ?{unit}"), pascals, metric, basis)
    for unit, pascals, metric, basis in (
        (rf"(?i:p\.s\.i\.?|psi){NO_LETTER}", _PSI, False, ""),
        (rf"(?i:lbf|lbs\.?|lb\.?|pounds){_PER_SQUARE_INCH}", _PSI, False, ""),
        (rf"(?:N ?/ ?(?:mm2(?![0-9])|mm²|sq\.? mm)|MPa{NO_LETTER})", Fraction(1_000_000), True, ""),
        (rf"(?:kN ?/ ?(?:m2(?![0-9])|m²)|kPa{NO_LETTER})", Fraction(1000), True, ""),
        (rf"Pa{NO_LETTER}", Fraction(1), True, ""),
        (rf"(?i:bars?){NO_LETTER}", Fraction(100_000), True, ""),
        (_KGF_PER_CM2, 10_000 * GRAVITY, True, "kg of force on 1 cm2, standard gravity"),
    )
)
_TONS_PER_SQUARE_INCH = re.compile(rf"(?P<number>{NUMBER}) ?(?i:tons?f?){NO_LETTER}\.?{_PER_SQUARE_INCH}")
_TONS = {
    Ton.LONG: (TON, "ton of 2240 lb, rule of the house"),
    Ton.SHORT: (SHORT_TON, "ton of 2000 lb, rule of the house"),
}


def pressure_at(text: str, at: int, ton: Ton) -> Taken | None:
    """The pressure or stress that stands at a place of a text of plain signs; None when none does."""
    for pattern, pascals, metric, basis in _PRESSURES:
        if matched := pattern.match(text, at):
            return _pressure(matched, pascals, metric, basis)
    if matched := _TONS_PER_SQUARE_INCH.match(text, at):
        if ton not in _TONS:
            do = "Write lb/sq in, or set the rule of the house: a ton is 2240 lb (long) or 2000 lb (short)"
            return Taken(matched.end(), NotRead(matched.group(), "which ton?", do, Asks.TON))
        mass, basis = _TONS[ton]
        return _pressure(matched, mass * GRAVITY / _SQUARE_INCH, False, basis)
    return None


def _pressure(matched: re.Match[str], pascals: Fraction, metric: bool, basis: str) -> Taken:
    number = number_of(matched["number"], metric=metric)
    if isinstance(number, NotRead):
        why = f"{number.written}: {number.why}"
        return Taken(matched.end(), NotRead(matched.group(), why, number.do, number.asks))
    value = number.value * pascals
    return Taken(matched.end(), Measure(Kind.PRESSURE, matched.group(), value, basis, number.doubts))


_DEGREES = rf"(?:°(?! ?[CFK]{NO_LETTER})|(?i:degrees|degree|degs|deg){NO_LETTER}\.?(?! ?[CFK]{NO_LETTER}))"
_MINUTES = rf"(?:'(?!')|(?i:minutes|minute|mins|min){NO_LETTER}\.?)"
_SECONDS = rf"(?:\"|''|(?i:seconds|second|secs|sec){NO_LETTER}\.?)"
_ANGLE = re.compile(
    rf"(?P<degrees>{NUMBER}) ?{_DEGREES}"
    rf"(?: ?(?P<minutes>{NUMBER}) ?{_MINUTES}(?: ?(?P<seconds>{NUMBER}) ?{_SECONDS})?)?"
)


def angle_at(text: str, at: int) -> Taken | None:
    """The angle that stands at a place of a text of plain signs; None when none does, nor for a temperature."""
    matched = _ANGLE.match(text, at)
    if matched is None:
        return None
    value = Fraction(0)
    doubts: list[str] = []
    given = [(name, matched[name]) for name in ("degrees", "minutes", "seconds") if matched[name] is not None]
    for place, (name, written) in enumerate(given):
        number = number_of(written, metric=True)
        if isinstance(number, NotRead):
            why = f"{number.written}: {number.why}"
            return Taken(matched.end(), NotRead(matched.group(), why, number.do, number.asks))
        if place < len(given) - 1 and number.value.denominator != 1:
            why = f"{written} {name} is no whole number and smaller parts follow"
            return Taken(matched.end(), NotRead(matched.group(), why, "Write whole degrees and minutes", Asks.NUMBER))
        doubts += number.doubts
        if place and number.value >= 60:
            doubts.append(f"{written} {name} are more than the part before counts in")
        value += number.value / 60**place
    return Taken(matched.end(), Measure(Kind.ANGLE, matched.group(), value, doubts=tuple(doubts)))
