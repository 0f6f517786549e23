"""Numbers that share the unit of the last: `10, 16 and 20 S.W.G.`, `50 x 50 x 6 mm`, `10 to 12 ft`."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from specreg.core.measures.numbers import NUMBER
from specreg.core.measures.records import Asks, Found, Kind, Measure, NotRead, Taken, Unread

_NUMBER = re.compile(NUMBER)
_JOINT = re.compile(r" ?(?P<joint>,|&|-|x|(?i:and|or|to|by)(?= )) ?")
_ONE_UNIT = re.compile(r"[^0-9½¼¾⅛⅜⅝⅞]*[2²]?")
_WHOLE = re.compile("[0-9]+")
_PROPER = re.compile("[0-9]+/[0-9]+|[½¼¾⅛⅜⅝⅞]")
_LASTS = frozenset({"and", "or", "&"})
_MOST = 8


def shared(
    text: str, at: int, reader: Callable[[int], Taken | None], again: Callable[[str], Taken | None]
) -> list[Found | Unread]:
    """The bare numbers before a measure whose unit they share; empty when the number at the place shares none.

    `reader` reads the measure at a place of the text, `again` one made of a number and the unit. Weights, gauges and
    threads are not shared over a cross: `2 x 5 cwt` is two of them.
    """
    numbers: list[tuple[int, int]] = []
    joints: list[str] = []
    place = at
    while len(numbers) < _MOST:
        number = _NUMBER.match(text, place)
        if number is None:
            return []
        taken = reader(place) if numbers else None
        if taken is not None:
            break
        joint = _JOINT.match(text, number.end())
        if joint is None:
            return []
        numbers.append(number.span())
        joints.append(joint["joint"].lower())
        place = joint.end()
    else:
        return []
    if not isinstance(taken.read, Measure) or not _ONE_UNIT.fullmatch(unit := text[number.end() : taken.end]):
        return []
    if not _is_a_list(joints, taken.read.kind):
        return []
    if clash := _unclear(text, numbers, joints, number.group(), unit):
        return [Unread(at, taken.end, NotRead(text[at : taken.end], *clash, Asks.NUMBER))]
    found: list[Found | Unread] = []
    for begin, end in numbers:
        one = again(text[begin:end] + unit)
        if one is None or one.end != end - begin + len(unit):
            return []
        found.append(_as_found(text, begin, end, one.read, taken.read))
    return found


def _is_a_list(joints: list[str], kind: Kind) -> bool:
    if set(joints) <= {"x", "by"}:
        return kind is Kind.LENGTH
    if joints in (["to"], ["-"]):
        return True
    return joints[-1] in _LASTS and set(joints[:-1]) <= {","}


def _unclear(
    text: str, numbers: list[tuple[int, int]], joints: list[str], last: str, unit: str
) -> tuple[str, str] | None:
    """Why two numbers may be one: `1 and 1/4"`, `3-4"`."""
    before = text[slice(*numbers[-1])]
    if joints[-1] in _LASTS and _WHOLE.fullmatch(before) and _PROPER.fullmatch(last):
        return f"{before} {last}, or two sizes?", "Write one number, or a unit to each"
    if joints[-1] == "-" and unit.strip()[:1] in ("'", '"'):
        return "a range, or feet and inches?", "Write a unit to each number"
    return None


def _as_found(text: str, begin: int, end: int, read: Measure | NotRead, last: Measure) -> Found | Unread:
    written = text[begin:end]
    if isinstance(read, NotRead):
        return Unread(begin, end, replace(read, written=written))
    doubt = f"its unit is that of {last.written}"
    return Found(begin, end, replace(read, written=written, doubts=(*read.doubts, doubt)))
