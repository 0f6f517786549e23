"""Lengths: feet, inches and fractions in every customary form, yards, fathoms, thou, and metric."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from specreg.core.measures.numbers import NUMBER, number_of
from specreg.core.measures.records import Asks, Kind, Measure, NotRead, Taken
from specreg.core.measures.sums import Part, parts_at, summed
from specreg.core.measures.units import FOOT, INCH, LENGTHS, MARKS, Unit, by_name, pattern_of

UNITS = by_name(LENGTHS)
UNIT = rf"(?:{MARKS}|{pattern_of(LENGTHS)})"
"""A pattern for a unit of length."""

_PART = re.compile(rf"(?P<number>{NUMBER}) ?(?P<unit>{UNIT})")
_JOINT = re.compile(r" {0,2}(?:- ?)?")
_FRACTION_BEHIND = re.compile(r" {0,2}(?:[0-9]{1,3}/[0-9]{1,3}|[½¼¾⅛⅜⅝⅞])(?![0-9/])")
_NO_UNIT = rf"(?!\w|/|[.,][0-9]| ?{UNIT})"
_FIGURES_BEHIND = re.compile(r"-?[0-9]+(?:[./][0-9]+)*")
_BARE_FIGURES_APART = re.compile(rf" (?P<number>{NUMBER}){_NO_UNIT}")
_INCHES_BARE = re.compile(rf"(?P<joint>-|)(?P<number>{NUMBER}){_NO_UNIT}")
_INCHES_BARE_IN_A_FIELD = re.compile(rf"(?P<joint>- ?| ?)(?P<number>{NUMBER}){_NO_UNIT}")
_MARKS_OMITTED = re.compile(rf"(?P<feet>[0-9]{{1,4}})-(?P<inches>{NUMBER})")


def length_at(text: str, at: int, *, whole_field: bool = False) -> Taken | None:
    """The length that stands at a place of a text of plain signs; None when none does.

    In a whole field the inch mark may be left off after a space too: `19' 6`.
    """
    parts = parts_at(text, at, _PART, _JOINT, UNITS)
    if not parts:
        return None
    end, last = parts[-1].end, parts[-1]
    if last.unit is UNITS["in"] and (behind := _FRACTION_BEHIND.match(text, end)):
        if _PART.match(text, behind.start() + len(behind.group()) - len(behind.group().lstrip())):
            return _taken(text[at:end], end, parts)
        written = text[at : behind.end()]
        return Taken(behind.end(), _fraction_behind(written, last.number, behind.group().strip()))
    if last.unit is not UNITS["ft"] or text[end - 1] != "'":
        return _taken(text[at:end], end, parts)
    bare = (_INCHES_BARE_IN_A_FIELD if whole_field else _INCHES_BARE).match(text, end)
    number = number_of(bare["number"], metric=False) if bare else None
    if bare is None or number is None or isinstance(number, NotRead) or number.value >= 12:
        return _foot_mark_alone(text, at, parts)
    taken = _taken(text[at : bare.end()], bare.end(), [*parts, Part(bare["number"], UNITS["in"], bare.end())])
    if isinstance(taken.read, NotRead):
        return taken
    doubt = f"{bare['number']} behind the foot mark is taken as inches"
    return Taken(taken.end, replace(taken.read, doubts=(*taken.read.doubts, doubt)))


def _foot_mark_alone(text: str, at: int, parts: list[Part]) -> Taken:
    """Feet by their mark; refused when figures that are no inches stand close behind it, as in `19'-13`."""
    end = parts[-1].end
    behind = _FIGURES_BEHIND.match(text, end)
    if behind is None or _PART.match(text, behind.end() - len(behind.group().lstrip("-"))):
        taken = _taken(text[at:end], end, parts)
        apart = _BARE_FIGURES_APART.match(text, end)
        if apart is None or isinstance(taken.read, NotRead):
            return taken
        doubt = f"{apart['number']} behind the foot mark may be inches"
        return Taken(end, replace(taken.read, doubts=(*taken.read.doubts, doubt)))
    written = text[at : behind.end()]
    why = f"{behind.group().lstrip('-')} behind the foot mark is no number of inches"
    return Taken(behind.end(), NotRead(written, why, "Write the inches with their mark", Asks.NUMBER))


def _fraction_behind(written: str, number: str, fraction: str) -> NotRead:
    return NotRead(
        written,
        f"the fraction {fraction} stands behind the unit",
        f'Write {number} {fraction}" if the two are one, else a unit to each',
        Asks.NUMBER,
    )


def _taken(written: str, end: int, parts: list[Part]) -> Taken:
    total = summed(written, parts)
    if isinstance(total, NotRead):
        return Taken(end, total)
    value, doubts = total
    return Taken(end, Measure(Kind.LENGTH, written, value, doubts=doubts))


def without_marks(text: str) -> Measure | NotRead | None:
    """Feet and inches with the marks left off, `19-6 1/2`, which only a field for lengths makes clear."""
    matched = _MARKS_OMITTED.fullmatch(text)
    if matched is None:
        return None
    inches = number_of(matched["inches"], metric=False)
    if isinstance(inches, NotRead):
        return replace(inches, written=text)
    if inches.value >= 12 or (inches.value < 1 and not matched["inches"].startswith("0")):
        return None
    basis = "feet and inches with the marks left off, as in a field for lengths"
    feet = int(matched["feet"])
    doubts = (*inches.doubts, *((f"{text} may be a range",) if feet < inches.value else ()))
    return Measure(Kind.LENGTH, text, feet * FOOT + inches.value * INCH, basis, doubts)


def of_a_number(text: str, unit: Unit) -> Measure | NotRead:
    """A number without its unit in a field whose rule names the unit."""
    number = number_of(text, metric=unit.metric)
    if isinstance(number, NotRead):
        return replace(number, written=text)
    value: Fraction = number.value * unit.factor
    return Measure(Kind.LENGTH, text, value, f"no unit written: {unit.sign}, by the rule of the field", number.doubts)
