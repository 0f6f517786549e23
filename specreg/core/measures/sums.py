"""Quantities written in several units, the greater first: `19 ft 6 in`, `3 cwt 1 qr 17 lb`."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from specreg.core.measures.numbers import number_of
from specreg.core.measures.records import Asks, NotRead
from specreg.core.measures.units import Unit, named


@dataclass(frozen=True, slots=True)
class Part:
    """One number with its unit, and where it ends."""

    number: str
    unit: Unit
    end: int


def parts_at(
    text: str, at: int, part: re.Pattern[str], joint: re.Pattern[str], units: Mapping[str, Unit]
) -> list[Part]:
    """The parts that stand at a place, as long as each is of a smaller unit of the same family than the one before.

    `part` has the groups `number` and `unit`; `joint` is what may stand between two parts. Metric units are not joined
    but for tonnes with kilograms, since `3 m 20 mm` is two measures as often as one.
    """
    parts: list[Part] = []
    place = at
    while matched := part.match(text, place):
        unit = named(units, matched["unit"])
        if unit is None or (parts and not _may_follow(unit, parts[-1].unit)):
            break
        parts.append(Part(matched["number"], unit, matched.end()))
        between = joint.match(text, matched.end())
        if between is None:
            break
        place = between.end()
    return parts


def _may_follow(unit: Unit, before: Unit) -> bool:
    families = {unit.family, before.family} - {"either"}
    if unit.factor >= before.factor or len(families) > 1:
        return False
    return families != {"metric"} or before.sign in ("t", "tonne")


def summed(text: str, parts: Sequence[Part]) -> tuple[Fraction, tuple[str, ...]] | NotRead:
    """The sum of the parts in the base unit, with the doubts; only the last may have a fraction."""
    if len(parts) == 1:
        # Most are of one unit, and need no sum.
        (only,) = parts
        number = number_of(only.number, metric=only.unit.metric)
        if isinstance(number, NotRead):
            return NotRead(text, f"{number.written}: {number.why}", number.do, number.asks)
        return number.value * only.unit.factor, number.doubts
    value = Fraction(0)
    doubts: list[str] = []
    for place, part in enumerate(parts):
        number = number_of(part.number, metric=part.unit.metric)
        if isinstance(number, NotRead):
            return NotRead(text, f"{number.written}: {number.why}", number.do, number.asks)
        if place < len(parts) - 1 and number.value.denominator != 1:
            return NotRead(
                text,
                f"{part.number} {part.unit.sign} is no whole number and smaller units follow",
                "Write whole numbers of the greater units",
                Asks.NUMBER,
            )
        doubts += number.doubts
        if place and number.value * part.unit.factor >= parts[place - 1].unit.factor:
            greater = parts[place - 1].unit.sign
            doubts.append(f"{part.number} {part.unit.sign} beside {greater} make 1 {greater} or more")
        value += number.value * part.unit.factor
    return value, tuple(doubts)
