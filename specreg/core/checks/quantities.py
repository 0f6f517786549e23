"""Can every number off be reckoned, and for machines that the order has."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.core.faults import Fault, Severity
from specreg.core.machines import machines_of, order_machines
from specreg.core.picture import Picture


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
        yield Fault("number off not reckoned", Severity.STOP, total.number, f"{total.number}: {total.problem}")


QUANTITIES = (machines_known, numbers_off)
