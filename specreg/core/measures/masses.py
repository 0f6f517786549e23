"""Weights: tons, hundredweights, quarters and pounds down to drams, and metric. A ton is never guessed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from specreg.core.measures.numbers import NUMBER
from specreg.core.measures.records import Asks, Kind, Measure, NotRead, Taken, Ton
from specreg.core.measures.sums import Part, parts_at, summed
from specreg.core.measures.units import (
    HUNDREDWEIGHT,
    MASSES,
    POUND,
    QUARTER,
    SHORT_TON,
    TON,
    TONNE,
    Unit,
    by_name,
    pattern_of,
)

UNITS = by_name(MASSES)
_UNIT = pattern_of(MASSES)
_PART = re.compile(rf"(?P<number>{NUMBER}) ?(?P<unit>{_UNIT})")
_JOINT = re.compile(r" {0,2}(?:[,\-] ?)?")
_ONLY_IN_SUMS = re.compile(r"(?<![^\W\d_])(?:[a-fh-z]|quarters?|stones?|st|drams?|drs?|pounds?)\.?$", re.IGNORECASE)
LIKE_A_GAUGE = re.compile("[0-9]{1,2}g")
"""A pattern for grams that may be a gauge."""

_FOUR = re.compile(r"([0-9]{1,6}) ?([-.]) ?([0-9]{1,3}) ?\2 ?([0-9]{1,3}) ?\2 ?([0-9]{1,3}(?:\.[0-9]+)?)")
_THREE = re.compile(r"[0-9]{1,6} ?([-.]) ?[0-9]{1,3} ?\1 ?[0-9]{1,3}")
_WHICH_TON = (
    "Write lb, cwt or tonnes, or set the rule of the house: a ton is 2240 lb (long), 2000 lb (short) or 1000 kg"
)
_TONS = {
    Ton.LONG: Unit("ton", TON, "avoirdupois", ()),
    Ton.SHORT: Unit("ton", SHORT_TON, "avoirdupois", ()),
    Ton.METRIC: Unit("ton", TONNE, "metric", ()),
}
_RULES = {
    Ton.LONG: "ton of 2240 lb, rule of the house",
    Ton.SHORT: "ton of 2000 lb, rule of the house",
    Ton.METRIC: "ton of 1000 kg, rule of the house",
}
_TON_OF_A_SUM = "ton of 20 cwt, 2240 lb"


def mass_at(text: str, at: int, ton: Ton, *, whole_field: bool = False) -> Taken | None:
    """The weight that stands at a place of a text of plain signs; None when none does.

    `c` and `q` are hundredweights and quarters only beside other parts of a sum; outside a field for weights the words
    that mean much else too (`quarters`, `stone`, `pounds`, `st`, `dr`) are read only so.
    """
    parts = parts_at(text, at, _PART, _JOINT, UNITS)
    if not parts:
        return None
    end = parts[-1].end
    written = text[at:end]
    if len(parts) == 1 and not whole_field and _ONLY_IN_SUMS.search(written) and parts[0].unit.sign != "t":
        return None
    if len(parts) == 1 and written.rstrip(".")[-1:] in "cqCQ":
        sign = parts[0].unit.sign
        do = f"Write {parts[0].number} {sign}"
        return Taken(end, NotRead(written, "one letter by itself is no unit", do, Asks.UNIT))
    settled = _settled(written, parts, ton)
    if isinstance(settled, NotRead):
        return Taken(end, settled)
    basis, parts = settled
    total = summed(written, parts)
    if isinstance(total, NotRead):
        return Taken(end, total)
    gauge = ("g is read as grams: a gauge is written 16 S.W.G.",) if LIKE_A_GAUGE.fullmatch(written) else ()
    return Taken(end, Measure(Kind.MASS, written, total[0], basis, (*total[1], *gauge)))


def _settled(written: str, parts: Sequence[Part], ton: Ton) -> tuple[str, list[Part]] | NotRead:
    """The parts with their tons settled, and what that rests on; or the question."""
    signs = {part.unit.sign for part in parts}
    in_hundredweights = bool(signs & {"cwt", "qr"})
    if in_hundredweights and ton is Ton.SHORT:
        why = "the house counts tons of 2000 lb, and a hundredweight may then be 100 lb or 112 lb"
        return NotRead(written, why, "Write it in lb", Asks.TON)
    first = parts[0].unit.sign
    if first == "tonne":
        return "tonne of 1000 kg", list(parts)
    if first in ("long ton", "short ton"):
        return f"ton of {2240 if first == 'long ton' else 2000} lb", list(parts)
    if first not in ("ton", "t"):
        return "", list(parts)
    if in_hundredweights:
        if ton is Ton.METRIC:
            why = "a ton of hundredweights is 2240 lb, but the house counts tons of 1000 kg"
            return NotRead(written, why, "Write it in lb or in tonnes", Asks.TON)
        return _TON_OF_A_SUM, _with_first(parts, _TONS[Ton.LONG])
    if first == "t" and signs & {"kg", "g"}:
        return "t beside kg: tonne of 1000 kg", _with_first(parts, UNITS["tonne"])
    if first == "t" and len(parts) == 1 and ton is not Ton.METRIC:
        return NotRead(written, "tons or tonnes?", "Write tons, or tonnes", Asks.TON)
    if ton is Ton.NOT_SAID:
        return NotRead(written, "which ton?", _WHICH_TON, Asks.TON)
    if ton is Ton.METRIC and len(parts) > 1:
        why = "pounds beside a ton, but the house counts tons of 1000 kg"
        return NotRead(written, why, "Write it in lb or in tonnes", Asks.TON)
    return _RULES[ton], _with_first(parts, _TONS[ton])


def _with_first(parts: Sequence[Part], unit: Unit) -> list[Part]:
    return [replace(parts[0], unit=unit), *parts[1:]]


def in_dashes(text: str, ton: Ton) -> Measure | NotRead | None:
    """Tons, hundredweights, quarters and pounds as `23-4-2-11` or `23 . 4 . 2 . 11`, which only a field for weights
    makes clear; three numbers are refused."""
    if matched := _FOUR.fullmatch(text):
        if ton in (Ton.SHORT, Ton.METRIC):
            why = "four numbers are tons of 2240 lb, cwt, qr and lb, but the house counts other tons"
            return NotRead(text, why, "Write the units", Asks.TON)
        tons, hundredweights, quarters = (int(matched[group]) for group in (1, 3, 4))
        pounds = Fraction(matched[5])
        value = tons * TON + hundredweights * HUNDREDWEIGHT + quarters * QUARTER + pounds * POUND
        carried = (hundredweights >= 20, quarters >= 4, pounds >= 28)
        greater = ("20 cwt make 1 ton", "4 qr make 1 cwt", "28 lb make 1 qr")
        doubts = tuple(made for made, over in zip(greater, carried, strict=True) if over)
        return Measure(Kind.MASS, text, value, f"tons, cwt, qr and lb in order; {_TON_OF_A_SUM}", doubts)
    if _THREE.fullmatch(text):
        why = "tons, cwt and qr, or cwt, qr and lb?"
        return NotRead(text, why, "Write all four numbers, or the units", Asks.UNIT)
    return None
