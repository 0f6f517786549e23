"""The conditions of a routing rule: what each asks of an item, and how its failing is told.

What rules ask of an item is made ready once for all rules, since every item meets every rule.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from specreg.core.folding import plain_words
from specreg.core.model import Item
from specreg.core.numbering import folded, number_key
from specreg.core.standards import Rule

_RANGE = re.compile(r"\s*(?P<first>[0-9A-Za-z.]+)\s*(?:-|–|\bto\b)\s*(?P<last>[0-9A-Za-z.]+)\s*")


@dataclass(frozen=True, slots=True)
class Facts:
    """What rules ask of an item, made ready once for all of them."""

    title: str
    material: str
    supply: str
    drawings: tuple[str, ...]
    keys: tuple[str, ...]
    safety: bool
    pattern: bool
    drawing: bool


def facts_of(item: Item) -> Facts:
    """What rules ask of one item."""
    return Facts(
        plain_words(item.title),
        plain_words(item.material),
        plain_words(item.supply),
        tuple(folded(one) for one in item.drawing.split(",")) if item.drawing else (),
        (number_key(item.number), number_key(item.section)),
        bool(item.safety),
        bool(item.pattern),
        bool(item.drawing),
    )


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition of a rule: `said` in words, for an item in which it fails; `dear` how long it takes to ask, beside
    the others."""

    said: str
    holds: Callable[[Facts], bool]
    dear: int = 0


def matches(rule: Rule, item: Item) -> bool:
    """Whether every condition of a rule holds for an item."""
    facts = facts_of(item)
    return all(condition.holds(facts) for condition in conditions_of(rule))


def conditions_of(rule: Rule) -> tuple[Condition, ...]:
    """The conditions a rule gives, in the order in which they are told to the reader."""
    found: list[Condition] = []
    if rule.sections:
        found.append(
            Condition(f"sections: it does not stand in {_either(rule.sections)}", _in_sections(rule.sections), 3)
        )
    if rule.words:
        found.append(
            Condition(f"words: not all of {_either(rule.words)} stand in the description", _words(rule.words), 2)
        )
    if rule.any_words:
        said = f"any_words: none of {_either(rule.any_words)} stands in the description"
        found.append(Condition(said, _any_words(rule.any_words), 2))
    if rule.no_words:
        none_of = _any_words(rule.no_words)
        said = f"no_words: one of {_either(rule.no_words)} stands in the description"
        found.append(Condition(said, lambda facts: not none_of(facts), 2))
    if rule.material:
        found.append(Condition(f"material: it is not {_either(rule.material)}", _material(rule.material), 1))
    if rule.supply:
        supplies = frozenset(plain_words(supply) for supply in rule.supply)
        found.append(Condition(f"supply: it is not {_either(rule.supply)}", lambda facts: facts.supply in supplies))
    if rule.drawings:
        said = f"drawings: no drawing begins with {_either(rule.drawings)}"
        found.append(Condition(said, _drawings(rule.drawings), 2))
    if rule.safety is not None:
        safety = rule.safety
        said = f"safety: it carries {'no' if safety else 'a'} safety mark"
        found.append(Condition(said, lambda facts: facts.safety is safety))
    if rule.pattern is not None:
        pattern = rule.pattern
        said = f"pattern: it names {'no' if pattern else 'a'} pattern"
        found.append(Condition(said, lambda facts: facts.pattern is pattern))
    if rule.drawing is not None:
        drawing = rule.drawing
        said = f"drawing: it calls up {'no' if drawing else 'a'} drawing"
        found.append(Condition(said, lambda facts: facts.drawing is drawing))
    return tuple(found)


def _either(words: Iterable[str]) -> str:
    return ", ".join(f"`{word}`" for word in words)


def _words(words: tuple[str, ...]) -> Callable[[Facts], bool]:
    wanted = tuple(plain_words(word) for word in words)
    return lambda facts: all(word in facts.title for word in wanted)


def _any_words(words: tuple[str, ...]) -> Callable[[Facts], bool]:
    search = _any_of(words)
    return lambda facts: search(facts.title) is not None


def _material(words: tuple[str, ...]) -> Callable[[Facts], bool]:
    search = _any_of(words)
    return lambda facts: search(facts.material) is not None


def _any_of(words: tuple[str, ...]) -> Callable[[str], re.Match[str] | None]:
    return re.compile("|".join(re.escape(plain_words(word)) for word in words)).search


def _drawings(beginnings: tuple[str, ...]) -> Callable[[Facts], bool]:
    wanted = tuple(folded(beginning) for beginning in beginnings)
    return lambda facts: any(drawing.startswith(wanted) for drawing in facts.drawings)


def _in_sections(entries: tuple[str, ...]) -> Callable[[Facts], bool]:
    """Whether the item or its section is one of these numbers, stands under one, or within a range of them."""
    singles: list[str] = []
    ranges: list[tuple[str, str]] = []
    for entry in entries:
        span = _RANGE.fullmatch(entry)
        if span and number_key(span["first"]) <= number_key(span["last"]):
            ranges.append((number_key(span["first"]), number_key(span["last"])))
        else:
            singles.append(number_key(entry))
    under = tuple(f"{single}!" for single in singles)  # in a key, `!` stands for the full stop between two levels

    def within(facts: Facts) -> bool:
        for key in facts.keys:
            if key in singles or key.startswith(under):
                return True
            for first, last in ranges:
                if first <= key and (key <= last or key.startswith(f"{last}!")):
                    return True
        return False

    return within
