"""The checks: each a small function that looks at a whole order and yields faults, never raises.

A check's fault has a stable name, by which an error is let pass. To add a check, write the function in the file of its
subject and put it in that file's tuple.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from specreg.core.checks.allocation import ALLOCATION
from specreg.core.checks.completeness import COMPLETENESS
from specreg.core.checks.drawings import DRAWINGS
from specreg.core.checks.numbers import NUMBERS
from specreg.core.checks.quantities import QUANTITIES
from specreg.core.faults import Fault, Severity
from specreg.core.picture import Picture

Check = Callable[[Picture], Iterable[Fault]]


def weights_and_sizes(picture: Picture) -> Iterator[Fault]:
    """The checks of weights and sizes, loaded when first run."""
    # Reading quantities is dear to load, and much that checks nothing stands on this module.
    from specreg.core.checks.sizes import SIZES
    from specreg.core.checks.weights import WEIGHTS

    for check in (*WEIGHTS, *SIZES):
        yield from check(picture)


BEFORE_ALLOCATION: tuple[Check, ...] = (*COMPLETENESS, *QUANTITIES, *DRAWINGS, *NUMBERS, weights_and_sizes)
"""Checks that ask nothing of routes."""

CHECKS: tuple[Check, ...] = (*BEFORE_ALLOCATION, *ALLOCATION)
_WEIGHT = {Severity.STOP: 0, Severity.ERROR: 1, Severity.WARNING: 2, Severity.NOTE: 3}


def faults_of(picture: Picture) -> list[Fault]:
    """Every fault of an order, the gravest first, in specification order within a severity."""
    return _found(CHECKS, picture)


def faults_before_allocation(picture: Picture) -> list[Fault]:
    """The same without the checks of allocation, for an order not yet in the book."""
    return _found(BEFORE_ALLOCATION, picture)


def _found(checks: Iterable[Check], picture: Picture) -> list[Fault]:
    return sorted((fault for check in checks for fault in check(picture)), key=gravity)


def gravity(fault: Fault) -> int:
    """Sorts faults, the gravest first."""
    return _WEIGHT[fault.severity]
