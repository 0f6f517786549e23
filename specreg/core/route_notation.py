"""Routes in one notation, for the Route field and the routing rules alike, and the numbers of their steps.

`PAT make pattern 1; FDY cast all+1; MCH machine all; ERE erect machines & STO put by spares`: `;` is the next step,
`&` a step beside it; a step is a department's code, what it does (else the department's own operation), and a number:
a figure, `all` (the order quantity, also when no number stands), `machines` (what is not spare) or `spares`; `+1` is
extra against wasters. Departments legitimately see different numbers of the same item.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from specreg.core.model import Item, Route, Step
from specreg.core.quantities import OffKind, Reckoned, has_spares
from specreg.core.standards import Department, Standards

ROUTE_FIELD = "Route field"
"""What stands behind a step that an item's own Route field gives."""
OFF_FIELD = "Off field"
"""What stands behind no action on an item that is for reference only."""
ALL = "all"
MACHINES = "machines"
SPARES = "spares"
FOR_REFERENCE = Route(no_action=str(OffKind.REFERENCE), because=OFF_FIELD)
"""The route of an item for reference only: no department acts."""

_WORDS = frozenset({ALL, MACHINES, SPARES})
_NUMBER = re.compile(
    r"(?:^|\s+)(?:(?P<basis>[0-9]{1,9}|all|machines|spares)(?:\s*\+\s*(?P<extra>[0-9]{1,9}))?"
    r"|\+\s*(?P<only>[0-9]{1,9}))$",
    re.IGNORECASE,
)
_LIKE_A_NUMBER = re.compile(r"[0-9½¼¾+−-].*")
_NONE = re.compile(r"(?:none|no action)\b\s*(?::|-|–)?\s*(?P<reason>.*)", re.IGNORECASE | re.DOTALL)


@dataclass(frozen=True, slots=True)
class RouteField:
    """What a Route field says, or what is wrong with it; then it gives no route."""

    route: Route
    problems: tuple[str, ...] = ()


def parse_route(
    text: str, standards: Standards, because: str = ROUTE_FIELD
) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """The steps of a route in the notation, not yet numbered, and a sentence for each that cannot be read.

    `because` is set down as what stands behind the steps. Empty text has no steps and no fault.
    """
    return parse_steps(text, departments_by_code(standards), because)


def read_route_field(text: str, departments: dict[str, Department]) -> RouteField:
    """The route that a Route field gives, not yet numbered: steps, or `none:` with the reason why nobody acts."""
    none = _NONE.fullmatch(text.strip())
    if none and none["reason"].strip():
        return RouteField(Route(no_action=" ".join(none["reason"].split()), because=ROUTE_FIELD))
    if none:
        return RouteField(
            Route(because=ROUTE_FIELD),
            ("no action is taken, but no reason given: write `none: supplied by the customer`",),
        )
    steps, problems = parse_steps(text, departments, ROUTE_FIELD)
    return RouteField(Route(() if problems else steps, because=ROUTE_FIELD), problems)


def route_problems(item: Item, standards: Standards) -> tuple[str, ...]:
    """What is wrong with an item's own Route field, one sentence a fault."""
    return read_route_field(item.route, departments_by_code(standards)).problems


def numbered(route: Route, total: Reckoned) -> Route:
    """The route with its numbers off: a step for nought pieces is left out, and the places close up.

    Where the item is not counted, no step is. On an item for reference only no department acts, unless its own Route
    field gives figures.
    """
    own = route.because == ROUTE_FIELD
    steps = _numbered(route.steps, total) if own or total.off != 0 else ()
    no_route = not steps and not route.no_action
    if total.off == 0 and no_route and (route.steps or not own):
        return FOR_REFERENCE
    return Route(steps, route.no_action, route.because)


def departments_by_code(standards: Standards) -> dict[str, Department]:
    """The departments of the works by code in capitals."""
    return {department.code.upper(): department for department in standards.departments}


def parse_steps(
    text: str, departments: dict[str, Department], because: str
) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """As `parse_route`, with the departments by code at hand, for many routes."""
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
