"""Can every number off be reckoned, and for machines that the order has."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.core.faults import Fault, Severity
from specreg.core.machines import machines_of, order_machines
from specreg.core.picture import Picture
from specreg.core.quantities import OffKind, parse_spares


def machines_known(picture: Picture) -> Iterator[Fault]:
    """The order's machines, and those of each item, can be read."""
    names, problem = order_machines(picture.order.machines)
    if problem:
        yield Fault("machines not read", Severity.STOP, "", problem)
    for item in picture.lines:
        if item.machines:
            _, wrong = machines_of(item.machines, names)
            if wrong:
                yield Fault("machines not read", Severity.ERROR, item.number, f"{item.number}: {wrong}")


def numbers_off(picture: Picture) -> Iterator[Fault]:
    """Every live item's number off can be reckoned down from the machines."""
    for total in picture.roll_up.problems:
        yield Fault("number off not reckoned", Severity.ERROR, total.number, f"{total.number}: {total.problem}")


def spares_read(picture: Picture) -> Iterator[Fault]:
    """The Spares field can be read."""
    for item in picture.lines:
        problem = parse_spares(item.spares).problem if item.spares else ""
        if problem and problem not in (picture.roll_up.of(item.number) or _NOTHING).problem:
            yield Fault("spares not read", Severity.ERROR, item.number, f"{item.number}: {problem}")


def none_wanted(picture: Picture) -> Iterator[Fault]:
    """An item of which the order wants none is most often a slip."""
    for item in picture.lines:
        total = picture.roll_up.of(item.number)
        if total is not None and total.off == 0 and not total.problem and total.kind is OffKind.COUNT:
            yield Fault(
                "none wanted", Severity.WARNING, item.number, f"{item.number}: the whole order wants none of it."
            )


class _Nothing:
    problem = ""


_NOTHING = _Nothing()

QUANTITIES = (machines_known, numbers_off, spares_read, none_wanted)
