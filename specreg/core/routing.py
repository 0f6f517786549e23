"""Which route an item gets and why: its own Route field, else the first routing rule that matches and those that add.

A route that cannot be read, in an item or in a rule that matches it, leaves the item without a route: the next rule's
would be a guess.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from specreg.core.faults import Fault, Severity
from specreg.core.folding import plain_words
from specreg.core.model import Item, Route, Step
from specreg.core.quantities import OffKind, has_spares, parse_off
from specreg.core.roll_up import Total
from specreg.core.route_notation import (
    FOR_REFERENCE,
    OFF_FIELD,
    ROUTE_FIELD,
    RouteField,
    departments_by_code,
    numbered,
    parse_steps,
    read_route_field,
)
from specreg.core.rule_conditions import Condition, Facts, conditions_of, facts_of
from specreg.core.standards import Department, Rule, Standards


@dataclass(frozen=True, slots=True)
class Because:
    """One line of the answer why an item has its route.

    `rule` is the rule's name (or `Route field`, `Off field`), `matched` whether all its conditions hold, `text` what
    it gave or the first condition that failed; lines with a `place` speak of a step of the route, counted from 1.
    """

    rule: str
    matched: bool
    text: str
    place: int = 0
    department: str = ""


def allocate(item: Item, total: Total, standards: Standards) -> Route:
    """The route of one item; for many items make one `Allocator`."""
    return Allocator(standards).allocate(item, total)


def explain(item: Item, total: Total, standards: Standards) -> tuple[Because, ...]:
    """Why one item has its route: every rule in order, then every step."""
    return Allocator(standards).explain(item, total)


def rule_problems(standards: Standards) -> tuple[Fault, ...]:
    """What is wrong with the routing rules: an error a fault, its subject the rule's name."""
    departments = departments_by_code(standards)
    names: set[str] = set()
    faults: list[Fault] = []
    for rule in standards.rules:
        sentences = _rule_faults(rule, departments)
        name = plain_words(rule.name)
        if not name:
            sentences.append("a rule has no name: give it one, by which a step can say where it comes from")
        elif name in names:
            sentences.append(f"two rules are called `{rule.name}`: give one of them another name")
        names.add(name)
        faults.extend(Fault("routing rule", Severity.ERROR, rule.name, sentence) for sentence in sentences)
    return tuple(faults)


@dataclass(frozen=True, slots=True)
class RuleUse:
    """What a rule does for an order: how many items its conditions fit, and how many it gives their route or adds to.

    `beaten_by` are the rules that came first where it fits, the most frequent first. Items with a route of their own
    ask no rule and count for none.
    """

    rule: Rule
    fits: int
    serves: int
    beaten_by: tuple[str, ...]

    @property
    def is_idle(self) -> bool:
        """Whether the order would be allocated alike without it."""
        return self.serves == 0


class Allocator:
    """The routing rules made ready for many items; it remembers routes it has made, since few differ."""

    def __init__(self, standards: Standards) -> None:
        self._departments = departments_by_code(standards)
        self._rules = tuple(_ready(rule, self._departments) for rule in standards.rules)
        self._own_read: dict[str, RouteField] = {}
        self._reference: dict[str, bool] = {}
        self._merged: dict[tuple[_Ready, ...], Route] = {}
        self._made: dict[tuple[object, ...], Route] = {}

    def unnumbered(self, item: Item) -> Route:
        """The route of an item with every step written for it, before its number off is known.

        The item's own Route field wins over the rules; without one, nobody acts on an item for reference only. Else
        the first rule that matches with a route or a reason for no action decides, and every matching rule that adds
        puts its steps in. Headings, clauses and items not live get an empty route.
        """
        return self._decide(item)[1]

    def allocate(self, item: Item, total: Total) -> Route:
        """The route of an item, its steps numbered from its `total`."""
        decided, route = self._decide(item)
        key = (decided, total.off, has_spares(total), total.spares)
        if decided is None:
            return route
        made = self._made.get(key)
        if made is None:
            made = self._made[key] = numbered(route, total)
        return made

    def explain(self, item: Item, total: Total | None = None) -> tuple[Because, ...]:
        """Why an item has its route: every rule in order with the first condition that failed, then every step.

        Without a total the steps stand without numbers, those for nought among them.
        """
        if not item.is_line:
            return (Because("", False, f"{item.number} is no live item and needs no department"),)
        route = self.unnumbered(item) if total is None else self.allocate(item, total)
        lines: list[Because] = []
        if item.route:
            own = self._read_own(item.route)
            lines.append(Because(ROUTE_FIELD, True, "; ".join(own.problems) or f"`{item.route}` wins over the rules"))
        if route.because == OFF_FIELD:
            lines.append(Because(OFF_FIELD, True, f"no action: {route.no_action}"))
        elif not item.route:
            lines.extend(self._rules_tried(facts_of(item)))
        for step in route.steps:
            count = "" if step.off is None else f" {step.off}" + (f"+{step.extra}" if step.extra else "")
            text = f"{step.department} {step.operation}{count} ({step.basis})"
            lines.append(Because(step.because, True, text, step.place, step.department))
        return tuple(lines)

    def use_of_rules(self, items: Iterable[Item]) -> tuple[RuleUse, ...]:
        """What each rule does for these items, in the order of the rules."""
        fits: Counter[_Ready] = Counter()
        serves: Counter[_Ready] = Counter()
        beaten: dict[_Ready, Counter[str]] = {ready: Counter() for ready in self._rules}
        for item in items:
            if not item.is_line or item.route or self._for_reference(item):
                continue
            facts = facts_of(item)
            chosen = self._choose(facts)
            serves.update(chosen)
            for ready in self._rules:
                if ready.holds(facts):
                    fits[ready] += 1
                    if chosen and ready not in chosen:
                        beaten[ready][chosen[0].rule.name] += 1
        return tuple(
            RuleUse(one.rule, fits[one], serves[one], tuple(name for name, _ in beaten[one].most_common()))
            for one in self._rules
        )

    def _decide(self, item: Item) -> tuple[object, Route]:
        """What decides the route of an item, as a key, and the route."""
        if not item.is_line:
            return None, Route()
        if item.route:
            return item.route, self._read_own(item.route).route
        if self._for_reference(item):
            return OFF_FIELD, FOR_REFERENCE
        chosen = self._choose(facts_of(item))
        route = self._merged.get(chosen)
        if route is None:
            route = self._merged[chosen] = _merged(chosen)
        return chosen, route

    def _choose(self, facts: Facts) -> tuple[_Ready, ...]:
        """The rule that decides and the rules that add to it; empty when no rule decides."""
        main: _Ready | None = None
        added: list[_Ready] = []
        for ready in self._rules:
            if (main is None or ready.adds) and ready.holds(facts):
                if ready.adds:
                    added.append(ready)
                else:
                    main = ready
        return (main, *added) if main else ()

    def _for_reference(self, item: Item) -> bool:
        known = self._reference.get(item.off)
        if known is None:
            known = self._reference[item.off] = parse_off(item.off, "").kind is OffKind.REFERENCE
        return known

    def _read_own(self, text: str) -> RouteField:
        own = self._own_read.get(text)
        if own is None:
            own = self._own_read[text] = read_route_field(text, self._departments)
        return own

    def _rules_tried(self, facts: Facts) -> list[Because]:
        chosen = self._choose(facts)
        main = chosen[0] if chosen else None
        lines: list[Because] = []
        for ready in self._rules:
            rule = ready.rule
            failed = next((condition for condition in ready.conditions if not condition.holds(facts)), None)
            if failed:
                text = f"does not match: {failed.said}"
            elif ready.problems:
                text = f"matches, but cannot be read: {'; '.join(ready.problems)}"
            elif ready.adds:
                text = f"adds `{rule.add}`" if main else f"would add `{rule.add}`, but no rule gives a route"
                if main and main.rule.no_action:
                    text = f"would add `{rule.add}`, but no department acts on the item"
            elif ready is not main:
                text = f"matches, but `{main.rule.name}` came first" if main else "matches"
            else:
                text = f"no action: {rule.no_action}" if rule.no_action else f"gives `{rule.route}`"
            lines.append(Because(rule.name, failed is None, text))
        return lines


# --- rules made ready -----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, eq=False)
class _Ready:
    """A rule with its conditions and steps read; compared by identity, so that it may be a key."""

    rule: Rule
    conditions: tuple[Condition, ...]
    holds: Callable[[Facts], bool]
    adds: bool
    steps: tuple[Step, ...]
    problems: tuple[str, ...]


def _ready(rule: Rule, departments: dict[str, Department]) -> _Ready:
    conditions = conditions_of(rule)
    steps, _ = parse_steps(rule.add or rule.route, departments, rule.name)
    return _Ready(
        rule,
        conditions,
        # What is asked quickest is asked first: every item meets every rule.
        _every(tuple(one.holds for one in sorted(conditions, key=lambda one: one.dear))),
        bool(rule.add),
        steps,
        tuple(_rule_faults(rule, departments)),
    )


def _every(tests: tuple[Callable[[Facts], bool], ...]) -> Callable[[Facts], bool]:
    """One test for several; most rules have one or two conditions, and every item meets every rule."""
    if len(tests) == 1:
        return tests[0]

    def every(facts: Facts) -> bool:
        for test in tests:  # noqa: SIM110 - a generator for all() takes three times as long here
            if not test(facts):
                return False
        return True

    return every


def _rule_faults(rule: Rule, departments: dict[str, Department]) -> list[str]:
    """What is wrong with one rule by itself."""
    named = f"rule `{rule.name}`"
    faults: list[str] = []
    given = [word for word in ("route", "no_action", "add") if getattr(rule, word)]
    if not given:
        faults.append(f"{named} does nothing: give it a `route`, an `add`, or `no_action` with a reason")
    if len(given) > 1:
        faults.append(f"{named} has {' and '.join(given)}: keep one of them, and make a second rule for the other")
    if rule.no_action and not any(sign.isalnum() for sign in rule.no_action):
        faults.append(f"{named} has no_action without a reason: write why no department acts")
    for text, label in ((rule.route, "route"), (rule.add, "add")):
        if text and not text.strip():
            faults.append(f"{named}: its {label} is blank; write its steps, such as `FDY cast all+1`")
        faults.extend(f"{named}: {problem}" for problem in parse_steps(text, departments, rule.name)[1])
    beside = [code for code in (rule.before, rule.after) if code]
    faults.extend(
        f"{named} is placed by `{code}`, but the works has no such department: its own are {', '.join(departments)}"
        for code in beside
        if code.strip().upper() not in departments
    )
    if len(beside) > 1:
        faults.append(f"{named} is placed both before `{rule.before}` and after `{rule.after}`: keep one")
    if beside and not rule.add:
        faults.append(f"{named} names a place (`before`, `after`) but adds no step: use it with `add` only")
    return faults


# --- putting a route together ---------------------------------------------------------------------------------------


def _forks(steps: Iterable[Step]) -> list[tuple[Step, ...]]:
    """The steps by place, those beside each other together."""
    forks: dict[int, list[Step]] = {}
    for step in steps:
        forks.setdefault(step.place, []).append(step)
    return [tuple(fork) for fork in forks.values()]


def _merged(chosen: tuple[_Ready, ...]) -> Route:
    """The deciding rule's route with the steps of the rules that add, each in its place unless it stands there."""
    if not chosen:
        return Route()
    main, *adding = chosen
    if main.rule.no_action and not main.problems:
        return Route(no_action=main.rule.no_action.strip(), because=main.rule.name)
    if any(ready.problems for ready in chosen):
        return Route(because=main.rule.name)
    forks = _forks(main.steps)
    for ready in adding:
        standing = {_work(step) for fork in forks for step in fork}
        new = [tuple(step for step in fork if _work(step) not in standing) for fork in _forks(ready.steps)]
        place = _place_to_add(ready.rule, forks)
        forks[place:place] = [fork for fork in new if fork]
    steps = tuple(
        Step(place, step.department, step.operation, step.basis, step.extra, step.because)
        for place, fork in enumerate(forks, start=1)
        for step in fork
    )
    return Route(steps, because=main.rule.name)


def _work(step: Step) -> tuple[str, str]:
    return step.department, plain_words(step.operation)


def _place_to_add(rule: Rule, forks: list[tuple[Step, ...]]) -> int:
    """Before or after the first step of the department named; before the last steps when it is not on the route."""
    wanted = (rule.before or rule.after).strip().upper()
    for place, fork in enumerate(forks):
        if wanted and any(step.department == wanted for step in fork):
            return place if rule.before else place + 1
    return max(len(forks) - 1, 0)
