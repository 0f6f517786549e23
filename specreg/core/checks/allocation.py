"""Has every line its departments, and is nothing lost in the splitting."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.core.faults import Fault, Severity
from specreg.core.model import Step
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.routing import Allocator
from specreg.core.shares import off_faults, shares, split_faults


def all_allocated(picture: Picture) -> Iterator[Fault]:
    """Every live item goes to at least one department, or says why it goes to none."""
    for item in picture.lines:
        route = picture.routes.get(number_key(item.number))
        if route is None or not route.allocated:
            yield Fault(
                "not allocated",
                Severity.STOP,
                item.number,
                f"{item.number} {item.title} goes to no department; run `specreg allocate`, add a rule, or give it a "
                "Route of its own.",
            )


def departments_known(picture: Picture) -> Iterator[Fault]:
    """Every step goes to a department that the works has."""
    for item in picture.lines:
        route = picture.routes.get(number_key(item.number))
        for step in route.steps if route else ():
            if picture.standards.department(step.department) is None:
                yield Fault(
                    "department not known",
                    Severity.STOP,
                    item.number,
                    f"{item.number} goes to {step.department}, and the works has no such department.",
                )


def possible_orders(picture: Picture) -> Iterator[Fault]:
    """No department has a piece before one that it follows: nothing is machined before it is cast."""
    follows = [(one.code, before) for one in picture.standards.departments for before in one.follows]
    for item in picture.lines:
        route = picture.routes.get(number_key(item.number))
        if route is None:
            continue
        first: dict[str, Step] = {}
        for step in route.steps:
            first.setdefault(step.department, step)
        for code, before in follows:
            if code in first and before in first and first[code].place < first[before].place:
                yield Fault(
                    "impossible order",
                    Severity.ERROR,
                    item.number,
                    f"{item.number} {item.title} goes to {code} to {first[code].operation} before {before} can "
                    f"{first[before].operation}, and in this works {code} follows {before}; put its Route or the "
                    "rule right.",
                )


def routes_end_in_the_machine_or_in_stores(picture: Picture) -> Iterator[Fault]:
    """The last step of a route puts the piece into the machine or into stores."""
    final = {one.code for one in picture.standards.departments if one.final}
    for item in picture.lines:
        route = picture.routes.get(number_key(item.number))
        last = route.steps[-1] if route is not None and route.steps else None
        if last is not None and last.department not in final:
            yield Fault(
                "route without an end",
                Severity.WARNING,
                item.number,
                f"{item.number} {item.title} ends with {last.department} to {last.operation}, which puts it neither "
                f"into the machine nor into stores ({', '.join(sorted(final))}); add where it goes.",
            )


def routes_agree_with_rules(picture: Picture) -> Iterator[Fault]:
    """An item altered since it was allocated is allocated again before it is issued."""
    allocator = Allocator(picture.standards)
    for item in picture.lines:
        route = picture.routes.get(number_key(item.number))
        if route is None or not route.allocated:
            continue
        if allocator.unnumbered(item) != route:
            yield Fault(
                "route out of date",
                Severity.STOP,
                item.number,
                f"{item.number} {item.title} was altered since it was allocated; run `specreg allocate` again.",
            )


def nothing_lost(picture: Picture) -> Iterator[Fault]:
    """Every line stands in exactly one share, and the final steps of an item add to its order quantity."""
    yield from split_faults(picture.routed, shares(picture.routed))
    yield from off_faults(picture.routed, picture.totals)


ALLOCATION = (
    all_allocated,
    departments_known,
    possible_orders,
    routes_end_in_the_machine_or_in_stores,
    routes_agree_with_rules,
    nothing_lost,
)
