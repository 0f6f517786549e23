"""The sum behind a number off, in full: `2 × 2 × 3 + 1 × 3 + 2 = 17`, so that a head can follow and challenge it.

Each term is one way down from a machine or the order: the item's own number first, then those of the items above it,
then the number of machines. Where there are too many ways, the terms are subtotals of the items above instead.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from specreg.core.quantities import MACHINE, ORDER, Link

MOST_PATHS = 6
"""A working with more terms than this writes subtotals of the parents instead of every path."""
MOST_FACTORS = 8
"""A chain with more multiplicands than this is written with the parent's number as one of them."""

Above = Sequence[Sequence["Path"]]
"""The paths of each item that an item is counted per, in the order of its links."""


class Path(NamedTuple):
    """One way down the chain: its multiplicands, the item's own first, and the machines it runs over (a bit each).

    `written` are the multiplicands in words, `product` what they come to, `factors` how many there are; `machines` 0
    is a chain that ends in a number per order.
    """

    written: str
    product: int
    factors: int
    machines: int

    @property
    def term(self) -> str:
        """The multiplicands with the number of machines."""
        return f"{self.written} × {self.machines.bit_count()}" if self.machines else self.written


def too_many_paths(links: Sequence[Link], above: Above) -> bool:
    """Whether the item would have more than `MOST_PATHS` paths, machines not yet looked at."""
    return sum(map(len, above)) + len(links) - len(above) > MOST_PATHS


def paths_down(links: Sequence[Link], own: int, above: Above) -> tuple[Path, ...]:
    """The paths to an item that is for the machines `own` (a bit each): its own number put before each path above."""
    return tuple(_paths_down(links, own, above))


def _paths_down(links: Sequence[Link], own: int, above: Above) -> Iterator[Path]:
    parents = iter(above)
    for link in links:
        number = link.number
        if link.per == ORDER:
            yield Path(str(number), number, 1, 0)
        elif link.per == MACHINE:
            yield Path(str(number), number, 1, own)
        else:
            for written, product, factors, machines in next(parents):
                over = machines & own
                if machines and not over:
                    continue
                if factors >= MOST_FACTORS:
                    yield Path(f"{number} × {product}", number * product, 2, over)
                else:
                    yield Path(f"{number} × {written}", number * product, factors + 1, over)


def gathered_paths(by_machine: Sequence[int], once: int) -> tuple[Path, ...]:
    """An item's own amounts as paths for the items below it, machines with equal amounts together."""
    groups: dict[int, int] = {}
    for machine, amount in enumerate(by_machine):
        if amount:
            groups[amount] = groups.get(amount, 0) | 1 << machine
    paths = [Path(str(amount), amount, 1, machines) for amount, machines in groups.items()]
    if once:
        paths.append(Path(str(once), once, 1, 0))
    return tuple(paths)


def subtotals(links: Sequence[Link], machines: int, above: Sequence[int]) -> list[str]:
    """One term a link, number × how many of the parent; links beyond the limit are added up in the last term.

    `machines` is how many machines the item is for, `above` how many of each parent there are on these and once for
    the order.
    """
    parents = iter(above)
    terms: list[tuple[str, int]] = []
    for link in links:
        if link.per == ORDER:
            terms.append((str(link.number), link.number))
            continue
        subtotal = machines if link.per == MACHINE else next(parents)
        if subtotal:
            terms.append((f"{link.number} × {subtotal}", link.number * subtotal))
    if len(terms) > MOST_PATHS:
        rest = sum(value for _, value in terms[MOST_PATHS - 1 :])
        terms = [*terms[: MOST_PATHS - 1], (str(rest), rest)]
    return [text for text, _ in terms]


def summed(terms: Sequence[str], off: int) -> str:
    """The terms added up to what they come to; a single figure is not repeated."""
    working = " + ".join(terms)
    return working if working.isdecimal() else f"{working} = {off}"
