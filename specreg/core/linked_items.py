"""The live items of an order with their fields read and the items found that each is counted per.

Items are known by their place in this list, so that the reckoning goes along lists and looks up no number twice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from specreg.core.machines import machines_of
from specreg.core.model import Item, State
from specreg.core.numbering import number_key
from specreg.core.quantities import Link, Off, Spares, parse_off, parse_spares


@dataclass(frozen=True, slots=True)
class LinkedItems:
    """Lists over the live items, one entry a place; `places` by `number_key`.

    `own` are the machines the item's own field names, a bit each. `parents` are the places an item is counted per, in
    the order of its links, those not found left out; `children` the places counted per it. A problem is a sentence,
    else empty.
    """

    items: Sequence[Item]
    places: Mapping[str, int]
    offs: Sequence[Off]
    spares: Sequence[Spares]
    own: Sequence[int]
    parents: Sequence[tuple[int, ...]]
    children: Sequence[Sequence[int]]
    problems: Sequence[str]

    def links_to_parents(self, place: int) -> Iterator[tuple[Link, int]]:
        """The links of an item to those it is counted per that there are, each with the place of that one."""
        there = (link for link in self.offs[place].links if link.parent and number_key(link.parent) in self.places)
        return zip(there, self.parents[place], strict=True)


def linked_items(items: Iterable[Item], machines: tuple[str, ...]) -> LinkedItems:
    """Read the Off, Per, Spares and Machines fields of every live item, and find its parents.

    Of a number used twice the first item stands in the list, with the problem.
    """
    # The items of one order say few different things, so each is read once.
    key, read_off, read_spares = cache(number_key), cache(parse_off), cache(parse_spares)

    @cache
    def read_machines(text: str) -> tuple[int, str]:
        positions, fault = machines_of(text, machines) if text else (range(len(machines)), "")
        return sum(1 << position for position in positions), fault

    found, places, others, doubled = _by_place(items, key)
    offs = [read_off(item.off, item.per) for item in found]
    spares = [read_spares(item.spares) for item in found]
    own: list[int] = []
    parents: list[tuple[int, ...]] = []
    children: list[list[int]] = [[] for _ in found]
    problems: list[str] = []
    for place, item in enumerate(found):
        bits, fault = read_machines(item.machines)
        above: list[int] = []
        for link in offs[place].links:
            if not link.parent:
                continue
            parent = places.get(key(link.parent))
            if parent is None:
                fault = fault or _missing(link.parent, others.get(key(link.parent)))
            else:
                above.append(parent)
                children[parent].append(place)
        if place in doubled:
            fault = f"the number {item.number} stands at more than one live item: give the other one a new number"
        own.append(bits)
        parents.append(tuple(above))
        problems.append(fault or offs[place].problem or spares[place].problem)
    return LinkedItems(found, places, offs, spares, own, parents, children, problems)


def _by_place(
    items: Iterable[Item], key: Callable[[str], str]
) -> tuple[list[Item], dict[str, int], dict[str, Item], set[int]]:
    """The live items, their places by number, what else has a number, and the places of numbers used twice."""
    found: list[Item] = []
    places: dict[str, int] = {}
    others: dict[str, Item] = {}
    doubled: set[int] = set()
    for item in items:
        number = key(item.number)
        if not item.is_line:
            others.setdefault(number, item)
        elif number in places:
            doubled.add(places[number])
        else:
            places[number] = len(found)
            found.append(item)
    return found, places, others, doubled


def _missing(number: str, other: Item | None) -> str:
    """Why a parent that is not among the live items cannot be counted per; `other` is what has its number."""
    if other is None:
        return f"{number}, which it is counted per, is not in the specification: correct the number"
    if other.state is not State.LIVE:
        return f"{other.number}, which it is counted per, is {other.state}: say what it is now for"
    return f"{other.number}, which it is counted per, is a {other.kind} and no item: write per item or per machine"
