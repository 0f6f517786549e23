"""Routes: one notation for the Route field and the routing rules, and which route an item gets and why.

`PAT make pattern 1; FDY cast all+1; MCH machine all; ERE erect machines & STO put by spares`: `;` is the next step,
`&` a step beside it; a step is a department's code, what it does (else the department's own operation), and a number:
a figure, `all` (the order quantity, also when no number stands), `machines` (what is not spare) or `spares`; `+1` is
extra against wasters. Departments legitimately see different numbers of the same item. A route that cannot be read,
in an item or in a rule that matches it, leaves the item without a route: the next rule's would be a guess.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from specreg.core.faults import Fault, Severity
from specreg.core.model import Item, Route, Step
from specreg.core.numbering import folded, number_key
from specreg.core.quantities import OffKind, Reckoned, Total, has_spares, parse_off
from specreg.core.standards import Department, Rule, Standards

ROUTE_FIELD = "Route field"
"""What stands behind a step that an item's own Route field gives."""
OFF_FIELD = "Off field"
"""What stands behind no action on an item that is for reference only."""
ALL = "all"
MACHINES = "machines"
SPARES = "spares"

_FOR_REFERENCE = Route(no_action=str(OffKind.REFERENCE), because=OFF_FIELD)
_WORDS = frozenset({ALL, MACHINES, SPARES})
_NUMBER = re.compile(
    r"(?:^|\s+)(?:(?P<basis>[0-9]{1,9}|all|machines|spares)(?:\s*\+\s*(?P<extra>[0-9]{1,9}))?"
    r"|\+\s*(?P<only>[0-9]{1,9}))$",
    re.IGNORECASE,
)
_LIKE_A_NUMBER = re.compile(r"[0-9½¼¾+−-].*")
_NONE = re.compile(r"(?:none|no action)\b\s*(?::|-|–)?\s*(?P<reason>.*)", re.IGNORECASE | re.DOTALL)
_RANGE = re.compile(r"\s*(?P<first>[0-9A-Za-z.]+)\s*(?:-|–|\bto\b)\s*(?P<last>[0-9A-Za-z.]+)\s*")


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


def parse_route(
    text: str, standards: Standards, because: str = ROUTE_FIELD
) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """The steps of a route in the notation, not yet numbered, and a sentence for each that cannot be read.

    `because` is set down as what stands behind the steps. Empty text has no steps and no fault.
    """
    return _parse(text, _by_code(standards), because)


def numbered(route: Route, total: Reckoned) -> Route:
    """The route with its numbers off: a step for nought pieces is left out, and the places close up.

    Where the item is not counted, no step is. On an item for reference only no department acts, unless its own Route
    field gives figures.
    """
    own = route.because == ROUTE_FIELD
    steps = _numbered(route.steps, total) if own or total.off != 0 else ()
    no_route = not steps and not route.no_action
    if total.off == 0 and no_route and (route.steps or not own):
        return _FOR_REFERENCE
    return Route(steps, route.no_action, route.because)


def matches(rule: Rule, item: Item) -> bool:
    """Whether every condition of a rule holds for an item."""
    facts = _facts(item)
    return all(condition.holds(facts) for condition in _conditions(rule))


def allocate(item: Item, total: Total, standards: Standards) -> Route:
    """The route of one item; for many items make one `Allocator`."""
    return Allocator(standards).allocate(item, total)


def explain(item: Item, total: Total, standards: Standards) -> tuple[Because, ...]:
    """Why one item has its route: every rule in order, then every step."""
    return Allocator(standards).explain(item, total)


def route_problems(item: Item, standards: Standards) -> tuple[str, ...]:
    """What is wrong with an item's own Route field, one sentence a fault."""
    return _own(item.route, _by_code(standards)).problems


def rule_problems(standards: Standards) -> tuple[Fault, ...]:
    """What is wrong with the routing rules: an error a fault, its subject the rule's name."""
    departments = _by_code(standards)
    names: set[str] = set()
    faults: list[Fault] = []
    for rule in standards.rules:
        sentences = _rule_faults(rule, departments)
        name = " ".join(rule.name.casefold().split())
        if not name:
            sentences.append("a rule has no name: give it one, by which a step can say where it comes from")
        elif name in names:
            sentences.append(f"two rules are called `{rule.name}`: give one of them another name")
        names.add(name)
        faults.extend(Fault("routing rule", Severity.ERROR, rule.name, sentence) for sentence in sentences)
    return tuple(faults)


class Allocator:
    """The routing rules made ready for many items; it remembers routes it has made, since few differ."""

    def __init__(self, standards: Standards) -> None:
        self._departments = _by_code(standards)
        self._rules = tuple(_ready(rule, self._departments) for rule in standards.rules)
        self._own_read: dict[str, _Own] = {}
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
            lines.extend(self._rules_tried(_facts(item)))
        for step in route.steps:
            count = "" if step.off is None else f" {step.off}" + (f"+{step.extra}" if step.extra else "")
            text = f"{step.department} {step.operation}{count} ({step.basis})"
            lines.append(Because(step.because, True, text, step.place, step.department))
        return tuple(lines)

    def _decide(self, item: Item) -> tuple[object, Route]:
        """What decides the route of an item, as a key, and the route."""
        if not item.is_line:
            return None, Route()
        if item.route:
            return item.route, self._read_own(item.route).route
        if self._for_reference(item):
            return OFF_FIELD, _FOR_REFERENCE
        chosen = self._choose(_facts(item))
        route = self._merged.get(chosen)
        if route is None:
            route = self._merged[chosen] = _merged(chosen)
        return chosen, route

    def _choose(self, facts: _Facts) -> tuple[_Ready, ...]:
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

    def _read_own(self, text: str) -> _Own:
        own = self._own_read.get(text)
        if own is None:
            own = self._own_read[text] = _own(text, self._departments)
        return own

    def _rules_tried(self, facts: _Facts) -> list[Because]:
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


# --- the notation ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Own:
    """What a Route field says, or what is wrong with it; then it gives no route."""

    route: Route
    problems: tuple[str, ...] = ()


def _by_code(standards: Standards) -> dict[str, Department]:
    return {department.code.upper(): department for department in standards.departments}


def _own(text: str, departments: dict[str, Department]) -> _Own:
    none = _NONE.fullmatch(text.strip())
    if none and none["reason"].strip():
        return _Own(Route(no_action=" ".join(none["reason"].split()), because=ROUTE_FIELD))
    if none:
        return _Own(
            Route(because=ROUTE_FIELD),
            ("no action is taken, but no reason given: write `none: supplied by the customer`",),
        )
    steps, problems = _parse(text, departments, ROUTE_FIELD)
    return _Own(Route(() if problems else steps, because=ROUTE_FIELD), problems)


def _parse(text: str, departments: dict[str, Department], because: str) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    if not text.strip():
        return (), ()
    steps: list[Step] = []
    problems: list[str] = []
    for place, fork in enumerate(text.split(";"), start=1):
        for said in fork.split("&"):
            read = _step(" ".join(said.split()), place, departments, because)
            if isinstance(read, str):
                problems.append(f"step {place} of the route: {read}")
            else:
                steps.append(read)
    return tuple(steps), tuple(problems)


def _step(said: str, place: int, departments: dict[str, Department], because: str) -> Step | str:
    """One step, or the sentence that says why it cannot be read."""
    if not said:
        return "nothing stands there; write a department (`FDY cast all+1`), or take out the `;` or `&`"
    code, _, rest = said.partition(" ")
    department = departments.get(code.upper())
    if department is None:
        known = ", ".join(departments) or "none"
        return f"there is no department `{code}`; the works has {known}"
    number = _NUMBER.search(rest)
    operation = rest[: number.start()].strip() if number else rest
    words = operation.split()
    ends = (words[0], words[-1]) if words else ()
    if any(_LIKE_A_NUMBER.fullmatch(end) or end.lower() in _WORDS for end in ends) or "+" in operation:
        return f"`{said}` has no number that can be read; write a figure, `all`, `machines` or `spares` last (`all+1`)"
    basis = (number["basis"] or ALL).lower() if number else ALL
    extra = int(number["extra"] or number["only"] or 0) if number else 0
    if basis.isdecimal():
        if int(basis) == 0:
            return f"`{said}` is a step for nought; leave it out"
        basis = str(int(basis))
    return Step(place, department.code.upper(), operation or department.operation, basis, extra, because)


# --- rules made ready -----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Facts:
    """What rules ask of an item, made ready once for all of them."""

    title: str
    material: str
    supply: str
    drawings: tuple[str, ...]
    keys: tuple[str, ...]
    safety: bool
    pattern: bool
    drawing: bool


def _facts(item: Item) -> _Facts:
    return _Facts(
        _small(item.title),
        _small(item.material),
        _small(item.supply),
        tuple(folded(one) for one in item.drawing.split(",")) if item.drawing else (),
        (number_key(item.number), number_key(item.section)),
        bool(item.safety),
        bool(item.pattern),
        bool(item.drawing),
    )


def _small(text: str) -> str:
    return " ".join(text.casefold().split()) if text else ""


@dataclass(frozen=True, slots=True)
class _Condition:
    """One condition of a rule: `said` in words, for an item in which it fails."""

    said: str
    holds: Callable[[_Facts], bool]


@dataclass(frozen=True, slots=True, eq=False)
class _Ready:
    """A rule with its conditions and steps read; compared by identity, so that it may be a key."""

    rule: Rule
    conditions: tuple[_Condition, ...]
    holds: Callable[[_Facts], bool]
    adds: bool
    steps: tuple[Step, ...]
    problems: tuple[str, ...]


def _ready(rule: Rule, departments: dict[str, Department]) -> _Ready:
    conditions = _conditions(rule)
    steps, _ = _parse(rule.add or rule.route, departments, rule.name)
    return _Ready(
        rule,
        conditions,
        _every(tuple(condition.holds for condition in conditions)),
        bool(rule.add),
        steps,
        tuple(_rule_faults(rule, departments)),
    )


def _every(tests: tuple[Callable[[_Facts], bool], ...]) -> Callable[[_Facts], bool]:
    """One test for several; most rules have one or two conditions, and every item meets every rule."""
    if len(tests) == 1:
        return tests[0]

    def every(facts: _Facts) -> bool:
        for test in tests:  # noqa: SIM110 - a generator for all() takes three times as long here
            if not test(facts):
                return False
        return True

    return every


def _conditions(rule: Rule) -> tuple[_Condition, ...]:
    """The conditions a rule gives, in the order in which they are told to the reader."""
    found: list[_Condition] = []
    if rule.sections:
        found.append(
            _Condition(f"sections: it does not stand in {_either(rule.sections)}", _in_sections(rule.sections))
        )
    if rule.words:
        found.append(
            _Condition(f"words: not all of {_either(rule.words)} stand in the description", _words(rule.words))
        )
    if rule.any_words:
        said = f"any_words: none of {_either(rule.any_words)} stands in the description"
        found.append(_Condition(said, _any_words(rule.any_words)))
    if rule.material:
        found.append(_Condition(f"material: it is not {_either(rule.material)}", _material(rule.material)))
    if rule.supply:
        supplies = frozenset(_small(supply) for supply in rule.supply)
        found.append(_Condition(f"supply: it is not {_either(rule.supply)}", lambda facts: facts.supply in supplies))
    if rule.drawings:
        said = f"drawings: no drawing begins with {_either(rule.drawings)}"
        found.append(_Condition(said, _drawings(rule.drawings)))
    if rule.safety is not None:
        safety = rule.safety
        said = f"safety: it carries {'no' if safety else 'a'} safety mark"
        found.append(_Condition(said, lambda facts: facts.safety is safety))
    if rule.pattern is not None:
        pattern = rule.pattern
        said = f"pattern: it names {'no' if pattern else 'a'} pattern"
        found.append(_Condition(said, lambda facts: facts.pattern is pattern))
    if rule.drawing is not None:
        drawing = rule.drawing
        said = f"drawing: it calls up {'no' if drawing else 'a'} drawing"
        found.append(_Condition(said, lambda facts: facts.drawing is drawing))
    return tuple(found)


def _either(words: Iterable[str]) -> str:
    return ", ".join(f"`{word}`" for word in words)


def _words(words: tuple[str, ...]) -> Callable[[_Facts], bool]:
    wanted = tuple(_small(word) for word in words)
    return lambda facts: all(word in facts.title for word in wanted)


def _any_words(words: tuple[str, ...]) -> Callable[[_Facts], bool]:
    search = _any_of(words)
    return lambda facts: search(facts.title) is not None


def _material(words: tuple[str, ...]) -> Callable[[_Facts], bool]:
    search = _any_of(words)
    return lambda facts: search(facts.material) is not None


def _any_of(words: tuple[str, ...]) -> Callable[[str], re.Match[str] | None]:
    return re.compile("|".join(re.escape(_small(word)) for word in words)).search


def _drawings(beginnings: tuple[str, ...]) -> Callable[[_Facts], bool]:
    wanted = tuple(folded(beginning) for beginning in beginnings)
    return lambda facts: any(drawing.startswith(wanted) for drawing in facts.drawings)


def _in_sections(entries: tuple[str, ...]) -> Callable[[_Facts], bool]:
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

    def within(facts: _Facts) -> bool:
        for key in facts.keys:
            if key in singles or key.startswith(under):
                return True
            for first, last in ranges:
                if first <= key and (key <= last or key.startswith(f"{last}!")):
                    return True
        return False

    return within


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
        faults.extend(f"{named}: {problem}" for problem in _parse(text, departments, rule.name)[1])
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
    return step.department, _small(step.operation)


def _place_to_add(rule: Rule, forks: list[tuple[Step, ...]]) -> int:
    """Before or after the first step of the department named; before the last steps when it is not on the route."""
    wanted = (rule.before or rule.after).strip().upper()
    for place, fork in enumerate(forks):
        if wanted and any(step.department == wanted for step in fork):
            return place if rule.before else place + 1
    return max(len(forks) - 1, 0)


def _numbered(steps: tuple[Step, ...], total: Reckoned) -> tuple[Step, ...]:
    """The steps with their numbers, without those for nought, their places closed up."""
    off, spares = total.off, total.spares or 0
    none_spare = not has_spares(total)
    kept: list[Step] = []
    place = last = 0
    for step in steps:
        basis = step.basis
        count: int | None = None
        if off is not None:
            count = off if basis == ALL else off - spares if basis == MACHINES else spares
            count = count if basis in _WORDS else int(basis)
        if count == 0 or (basis == SPARES and none_spare):
            continue
        if step.place != last:
            place, last = place + 1, step.place
        kept.append(Step(place, step.department, step.operation, basis, step.extra, step.because, count))
    return tuple(kept)
