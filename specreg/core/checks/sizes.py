"""Sizes: does each measure say its unit, its gauge and its thread, and does the piece come out of its bar.

A size that is no form of stock, such as `26" at bottom of groove`, is no fault; one in which a quantity is written and
cannot be read is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from math import gcd

from specreg.core.checks.weights import reckoned
from specreg.core.cutting import CuttingRules
from specreg.core.faults import Fault, Severity
from specreg.core.measures.figures import mixed
from specreg.core.measures.finding import find_measures
from specreg.core.measures.lengths import UNIT, UNITS
from specreg.core.measures.numbers import BUILT, OF_A_RULE, fractions_in
from specreg.core.measures.records import Asks, Kind, Measure, NotRead, Ton
from specreg.core.measures.signs import plain
from specreg.core.measures.units import INCH, POUND, named
from specreg.core.model import Item
from specreg.core.picture import Picture
from specreg.core.standards import Standards
from specreg.core.stock.house_rules import cutting_rules
from specreg.core.stock.reading import read_stock
from specreg.core.stock.records import Form, MassOfOne, NotReckoned, Stock
from specreg.core.take_off_words import length_words

_NOT_READ = ("size not read", Severity.ERROR)
_FAULT_OF = {
    Asks.NUMBER: _NOT_READ,
    Asks.UNIT: _NOT_READ,
    Asks.TON: _NOT_READ,
    Asks.GAUGE: ("gauge not named", Severity.WARNING),
    Asks.THREAD: ("thread not named", Severity.WARNING),
}
_WITH_UNIT = re.compile(rf"[0-9{BUILT}] ?({UNIT})")
_NOT_CUT_HERE = frozenset({"buy", "free issue"})


def sizes_read(picture: Picture) -> Iterator[Fault]:
    """A quantity in a Size field says its unit, its ton, its gauge and its thread."""
    for item, one in reckoned(picture):
        if isinstance(one.size, NotRead) and one.size.asks in _FAULT_OF:
            if one.size.asks is Asks.TON and not _would_be_stock(item, picture.standards):
                continue
            name, severity = _FAULT_OF[one.size.asks]
            yield Fault(name, severity, item.number, f"{item.number}, Size: {one.size}")
        elif isinstance(one.size, Stock) and one.size.form is Form.FASTENER and not one.size.thread:
            name, severity = _FAULT_OF[Asks.THREAD]
            asked = NotRead(item.size, "a fastener that names no thread", "Name it: B.S.W., B.S.F., UNC, UNF or M")
            yield Fault(name, severity, item.number, f"{item.number}, Size: {asked}")


def one_system_of_units(picture: Picture) -> Iterator[Fault]:
    """The lengths of one Size field are all metric or all imperial."""
    # The items of one order say few different sizes, so each is looked at once.
    systems = cache(_systems)
    for item in picture.lines:
        if len(systems(item.size)) < 2:
            continue
        lengths = [one.measure.written for one in find_measures(item.size) if one.measure.kind is Kind.LENGTH]
        metric, imperial = ([one for one in lengths if _systems(one) == {system}] for system in (True, False))
        if metric and imperial:
            yield Fault(
                "metric beside imperial",
                Severity.WARNING,
                item.number,
                f"{item.number}, Size {item.size}: {metric[0]} is metric and {imperial[0]} is not; look that both are "
                "meant so.",
            )


def fractions_of_a_rule(picture: Picture) -> Iterator[Fault]:
    """Fractions in Size, Weight and Rough weight are proper, in their lowest form, and halves down to sixty-fourths."""
    ton, suspect = picture.standards.reckoning.ton, cache(_has_a_suspect)
    for item, one in reckoned(picture):
        for label, said, measures in _doubtful(item, one, ton, suspect):
            where = f"{item.number}, {label} {said}"
            told = (fault for measure in measures for fault in _of_fractions(measure, item.number, where))
            yield from dict.fromkeys(told)


def pieces_come_out_of_bars(picture: Picture) -> Iterator[Fault]:
    """What is cut here from bars, tubes and sections is no longer than the longest of them gives."""
    rules_of = cache(lambda form, material: cutting_rules(form, material, picture.standards))
    units = picture.order.units
    for item, one in reckoned(picture):
        stock = one.size
        if not isinstance(stock, Stock) or not stock.form.is_cut_to_length or stock.length is None:
            continue
        if item.supplied in _NOT_CUT_HERE or item.pattern.strip():
            continue
        rules: CuttingRules | NotRead = rules_of(stock.form, item.material)
        if isinstance(rules, CuttingRules) and stock.length > max(rules.stock) - rules.lost:
            bar, lost = length_words(max(rules.stock), units), length_words(rules.lost, units)
            yield Fault(
                "piece longer than its stock",
                Severity.ERROR,
                item.number,
                f"{item.number}, Size {item.size}: a piece of {length_words(stock.length, units)} does not come out of "
                f"the longest {stock.form} in stock, {bar}, of which end trim and chuck grip take {lost}; make it of "
                "shorter pieces, or enter a longer bar in the works standards.",
            )


def _systems(text: str) -> set[bool]:
    """Of the units of length that seem to stand behind figures, whether they are metric."""
    units = (named(UNITS, written) for written in _WITH_UNIT.findall(plain(text)))
    return {unit.metric for unit in units if unit is not None}


def _would_be_stock(item: Item, standards: Standards) -> bool:
    """Whether the ton matters: a jack for `10 tons, 12" lift` is no stock by any ton."""
    settled = (replace(standards, reckoning=replace(standards.reckoning, ton=ton)) for ton in (Ton.LONG, Ton.METRIC))
    return any(isinstance(read_stock(item.size, item.material, one), Stock) for one in settled)


def _doubtful(
    item: Item, one: MassOfOne | NotReckoned, ton: str, suspect: Callable[[str], bool]
) -> Iterator[tuple[str, str, Iterable[Measure]]]:
    """The fields in which a fraction may be wrong, with the measures that are read in them."""
    if suspect(item.size):
        yield "Size", item.size, [found.measure for found in find_measures(item.size, ton=ton)]
    if isinstance(one, MassOfOne):
        for label, measure in (("Weight", one.finished), ("Rough weight", one.rough)):
            if measure is not None and suspect(measure.written):
                yield label, measure.written, [measure]


def _has_a_suspect(text: str) -> bool:
    return any(
        one.top >= one.bottom or one.bottom not in OF_A_RULE or gcd(one.top, one.bottom) > 1
        for one in fractions_in(plain(text))
    )


def _of_fractions(measure: Measure, number: str, where: str) -> Iterator[Fault]:
    if measure.kind not in (Kind.LENGTH, Kind.MASS, Kind.THREAD):
        return
    for one in fractions_in(plain(measure.written)):
        value = Fraction(one.top, one.bottom)
        if value >= 1:
            said = f"{one.written} is {mixed(value)}: was a space lost? Write the whole number and its fraction."
            yield Fault("fraction of one or more", Severity.ERROR, number, f"{where}: {said}")
        elif not _on_a_rule(value, measure):
            said = f"{one.written} is none of the halves down to sixty-fourths; write one of these, or decimals."
            yield Fault("fraction off the rule", Severity.ERROR, number, f"{where}: {said}")
        elif gcd(one.top, one.bottom) > 1:
            said = f"{one.written} is {mixed(value)}; write it so, or look whether another figure is meant."
            yield Fault("fraction not in lowest form", Severity.WARNING, number, f"{where}: {said}")


def _on_a_rule(value: Fraction, measure: Measure) -> bool:
    """Whether it is in halves down to sixty-fourths, or makes such a measure of a smaller unit: `1/3 ft`, `1/7 cwt`."""
    smaller = POUND if measure.kind is Kind.MASS else INCH
    return value.denominator in OF_A_RULE or measure.value / smaller % Fraction(1, 64) == 0


SIZES = (sizes_read, one_system_of_units, fractions_of_a_rule, pieces_come_out_of_bars)
