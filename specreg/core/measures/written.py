"""The entry: one quantity as written in a field, read as the kind that is asked or by its units.

Faulty data is never an exception here: what cannot be read comes back as `NotRead` with the question to ask.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from specreg.core.measures.finding import ABOUT, RATE, best_at, find_places
from specreg.core.measures.gauges import gauge_at
from specreg.core.measures.lengths import UNITS, length_at, of_a_number, without_marks
from specreg.core.measures.masses import in_dashes, mass_at
from specreg.core.measures.numbers import NUMBER
from specreg.core.measures.others import angle_at, area_at, pressure_at
from specreg.core.measures.records import Asks, Found, Kind, Measure, NotRead, Taken, Ton, Unread
from specreg.core.measures.signs import plain
from specreg.core.measures.threads import thread_at
from specreg.core.measures.units import named

_ABOUT_BEFORE = re.compile(rf"{ABOUT} ?")
_ABOUT_BEHIND = re.compile(r" ?\(?(?i:about|abt\.?|approx\.?|approximately|circa)\)?$")
_NUMBER = re.compile(NUMBER)
_RANGE = re.compile(rf"{NUMBER}[^0-9]{{0,12}}? ?(?:to|-) ?{NUMBER}\D*")
_NAMELESS_GAUGE = re.compile(r"(?:(?i:no)\.? ?)?(?:[0-9]{1,2}|[0-9]/0|0+) ?(?i:gauge|ga|g|w\.?g)\.?|(?i:no)\.? ?[0-9]+")
_SIZE = re.compile(rf"{NUMBER} ?(?:\"|''|(?i:inch|ins|in)\.?)?")
_WHITWORTH = re.compile(r"(?i:whit)")

Reader = Callable[[str, int], Taken | None]

_EXAMPLES = {
    Kind.LENGTH: ("a length", "Write it as 19' 6 1/2\", 6 in or 25.4 mm"),
    Kind.MASS: ("a weight", "Write it as 3 cwt 1 qr 17 lb or 173 kg"),
    Kind.AREA: ("an area", "Write it as 90 sq ft or 1.5 m2"),
    Kind.PRESSURE: ("a pressure", "Write it as 100 lb/sq in or 7 bar"),
    Kind.ANGLE: ("an angle", "Write it as 30° or 30 deg 15 min"),
    Kind.GAUGE: ("a gauge", "Write it as 10 S.W.G., or the thickness in decimals"),
    Kind.THREAD: ("a thread", 'Write it as 1 1/4" B.S.W. or M12'),
}
_OF_WHAT = {
    Kind.LENGTH: 'Write {0} mm or {0}"',
    Kind.MASS: "Write {0} lb or {0} kg",
    Kind.AREA: "Write {0} sq ft or {0} m2",
    Kind.PRESSURE: "Write {0} lb/sq in or {0} bar",
    Kind.ANGLE: "Write {0}°",
    Kind.GAUGE: "Name the gauge: {0} S.W.G. or {0} B.G.",
    Kind.THREAD: 'Name the thread: {0}" B.S.W., B.S.F., B.S.P., UNC or UNF; M{0}',
}


def read_length(text: str, *, in_a_length_field: bool = False, unit: str = "") -> Measure | NotRead:
    """A length in mm: `19' 6"`, `19'-6½"`, `1.1/4"`, `25.4 mm`, `about 40 yards`.

    In a field for lengths `19-6 1/2` is feet and inches. `unit` is the rule of the field for a number without a unit,
    by any name of a unit of length; another word raises ValueError.
    """
    of_field = named(UNITS, unit)
    if unit and of_field is None:
        raise ValueError(f"{unit!r} is no unit of length")
    signs, about = _field(text)
    if of_field and _NUMBER.fullmatch(signs):
        return _answered(text, of_a_number(signs, of_field), about)
    if in_a_length_field and not (of_field and of_field.metric) and (omitted := without_marks(signs)):
        return _answered(text, omitted, about)
    return _read(text, Kind.LENGTH, lambda signs, at: length_at(signs, at, whole_field=True))


def read_mass(text: str, *, ton: str = "") -> Measure | NotRead:
    """A weight in kg: `3 cwt 1 qr 17 lb`, `3c 1q 17lb`, `23-4-2-11`, `12,5 kg`.

    `ton` is the rule of the house, `long`, `short` or `metric`; without it a ton that is not added up in hundredweights
    is refused. Another word raises ValueError.
    """
    rule = Ton(ton)
    signs, about = _field(text)
    if dashed := in_dashes(signs, rule):
        return _answered(text, dashed, about)
    return _read(text, Kind.MASS, lambda signs, at: mass_at(signs, at, rule, whole_field=True), ton)


def read_area(text: str) -> Measure | NotRead:
    """An area in mm2: `90 sq ft`, `0.15 sq in`, `1.5 m2`."""
    return _read(text, Kind.AREA, area_at)


def read_pressure(text: str, *, ton: str = "") -> Measure | NotRead:
    """A pressure or stress in Pa: `100 lb/sq in`, `150 psi`, `7 bar`, `N/mm2`; tons per sq in by the rule `ton`."""
    rule = Ton(ton)
    return _read(text, Kind.PRESSURE, lambda signs, at: pressure_at(signs, at, rule), ton)


def read_angle(text: str) -> Measure | NotRead:
    """An angle in degrees: `30°`, `12 1/2 deg`, `30° 15' 20"`."""
    return _read(text, Kind.ANGLE, angle_at)


def read_gauge(text: str) -> Measure | NotRead:
    """A gauge as a thickness in mm: `10 S.W.G.`, `No. 16 B.G.`, `4/0 SWG`; without its name it is refused."""
    signs, _ = _field(text)
    if _NAMELESS_GAUGE.fullmatch(signs):
        return NotRead(text, "which gauge?", "Name it: S.W.G. or B.G., or write the thickness in decimals", Asks.GAUGE)
    return _read(text, Kind.GAUGE, gauge_at)


def read_thread(text: str) -> Measure | NotRead:
    """A thread as its nominal diameter and pitch in mm: `1 1/4" B.S.W.`, `1/2-13 UNC`, `2" B.S.P.`, `M12 x 1.25`."""
    signs, _ = _field(text)
    if _WHITWORTH.search(signs):
        return NotRead(text, "B.S.W., B.S.F. and B.S.P. are all of Whitworth form", "Name the series", Asks.THREAD)
    if _SIZE.fullmatch(signs):
        return NotRead(text, "which thread?", "Name it: B.S.W., B.S.F., B.S.P., UNC, UNF or M", Asks.THREAD)
    return _read(text, Kind.THREAD, lambda signs, at: thread_at(signs, at, whole_field=True))


def read_measure(text: str, *, ton: str = "") -> Measure | NotRead:
    """One quantity of whatever kind its units say."""
    rule = Ton(ton)
    signs, about = _field(text)
    if _NAMELESS_GAUGE.fullmatch(signs) and not signs.endswith("g"):
        return read_gauge(text)
    taken = best_at(signs, 0, rule, whole_field=True) if signs else None
    if taken is not None and taken.end == len(signs):
        return _answered(text, taken.read, about)
    return _refused(text, signs, None, ton)


def _field(text: str) -> tuple[str, bool]:
    """What stands in a field in plain signs without the word for about, and whether there was one."""
    signs = " ".join(plain(text).split())
    before = _ABOUT_BEFORE.match(signs)
    bare = signs[before.end() :] if before else signs
    behind = _ABOUT_BEHIND.search(bare)
    bare = bare[: behind.start()] if behind else bare
    return bare.strip(), before is not None or behind is not None


def _answered(text: str, read: Measure | NotRead, about: bool) -> Measure | NotRead:
    if isinstance(read, NotRead):
        return replace(read, written=text)
    return replace(read, written=text, approximate=about)


def _read(text: str, kind: Kind, reader: Reader, ton: str = "") -> Measure | NotRead:
    signs, about = _field(text)
    taken = reader(signs, 0) if signs else None
    if taken is not None and taken.end == len(signs):
        return _answered(text, taken.read, about)
    return _refused(text, signs, kind, ton)


def _refused(text: str, signs: str, kind: Kind | None, ton: str) -> NotRead:
    """Why a field cannot be read as one measure of a kind, or of any, and what to write."""
    what, example = _EXAMPLES[kind] if kind else ("a measure", "Write it with its unit")
    if not signs:
        return NotRead(text, "nothing is written", example)
    if _NUMBER.fullmatch(signs):
        return NotRead(text, "of what?", _OF_WHAT[kind or Kind.LENGTH].format(signs), Asks.UNIT)
    if signs[0] in "+-±":
        return NotRead(text, "a tolerance, or less than nothing?", "Write it without the sign")
    places = find_places(signs, ton=ton)
    found = [one for one in places if isinstance(one, Found)]
    unread = [one for one in places if isinstance(one, Unread)]
    if _RANGE.fullmatch(signs) and len(found) != 1:
        return NotRead(text, "a range, not one measure", "Write one number, or each end by itself")
    if len(found) > 1:
        listed = " and ".join(one.measure.written for one in found)
        return NotRead(text, f"{len(found)} measures stand here: {listed}", "Write one of them")
    if unread and not found:
        return replace(unread[0].refusal, written=text)
    if len(found) == 1:
        return _beside(text, signs, found[0].measure, kind)
    if (taken := best_at(signs, 0, Ton(ton))) and RATE.match(signs, taken.end):
        return NotRead(text, f"a rate, not {what}", example)
    return NotRead(text, f"it cannot be read as {what}", example)


def _beside(text: str, signs: str, measure: Measure, kind: Kind | None) -> NotRead:
    if kind and measure.kind is not kind and measure.written == signs:
        return NotRead(text, f"this is {_EXAMPLES[measure.kind][0]}, not {_EXAMPLES[kind][0]}", _EXAMPLES[kind][1])
    rest = " … ".join(filter(None, (piece.strip() for piece in signs.split(measure.written, 1))))
    return NotRead(text, f"beside {measure.written} stands `{rest}`", "Write the measure alone")
