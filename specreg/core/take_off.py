"""The take-off: numbers off, lengths and weights of a whole order, each with how it was reckoned, and their sums.

A weight counts once: an item with neither material nor size, which others are counted per, is an assembly and counts by
its parts; where none of these has a weight, by its own. What has no count or no weight is told, never taken as nought.
Sums are exact; rounding is left to whoever writes them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from specreg.core.exact_sums import sum_of
from specreg.core.linked_items import LinkedItems, linked_items
from specreg.core.model import Item, NumberOff
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.stock.records import MassOfOne, NotReckoned


class Standing(StrEnum):
    """How an item stands in the sums."""

    WEIGHED = "weighed"
    BY_PARTS = "by its parts"
    WITH_ASSEMBLY = "with its assembly"
    NO_WEIGHT = "no weight"
    NO_COUNT = "no count"


@dataclass(frozen=True, slots=True)
class TakenOff:
    """One item taken off.

    `one` is the mass of one piece, or why there is none; `parts` in kg what the parts of one assembly come to, None for
    what is no assembly. `mass` and `to_order` in kg are all its pieces, finished and as ordered; None where the item is
    not `WEIGHED`. `length` in mm is that of one piece cut to length, None for others.
    """

    item: Item
    total: NumberOff
    one: MassOfOne | NotReckoned
    standing: Standing
    mass: Fraction | None
    to_order: Fraction | None
    length: Fraction | None
    parts: Fraction | None

    @property
    def basis(self) -> str:
        """What its weight rests on, or why it has none."""
        if self.standing is Standing.BY_PARTS:
            return "the weights of its parts"
        return self.one.basis if isinstance(self.one, MassOfOne) else str(self.one)


@dataclass(frozen=True, slots=True)
class Sum:
    """What some items come to: `mass` and `to_order` in kg, `items` taken off, `without` of them that should have a
    weight and have none."""

    name: str
    items: int
    pieces: int
    mass: Fraction
    to_order: Fraction
    without: int


@dataclass(frozen=True, slots=True)
class TakeOff:
    """The whole order taken off. Departments have the pieces of their own steps but patterns, so that their sums add to
    more than the order; the other sums each add to `whole`."""

    lines: tuple[TakenOff, ...]
    sections: tuple[Sum, ...]
    materials: tuple[Sum, ...]
    departments: tuple[Sum, ...]
    whole: Sum


NO_MATERIAL = "(no material)"


def take_off(picture: Picture) -> TakeOff:
    """Take an order off."""
    lines = tuple(_Taking(picture).lines())
    titles = picture.section_titles
    by_key = {number_key(line.item.number): line for line in lines}
    departments: dict[str, list[tuple[TakenOff, int]]] = {}
    for item, route in picture.routed:
        for step in route.steps:
            line = by_key.get(number_key(item.number))
            # A pattern is named by its casting and does not weigh what that weighs.
            if line is not None and step.total is not None and "pattern" not in step.operation:
                departments.setdefault(step.department, []).append((line, step.total))
    works = {department.code: department.name for department in picture.standards.departments}
    order = [code for code in works if code in departments] + sorted(departments.keys() - works.keys())
    return TakeOff(
        lines,
        tuple(_sums(lines, lambda line: f"{line.item.section} {titles.get(line.item.section, '')}".strip())),
        tuple(sorted(_sums(lines, lambda line: line.item.material or NO_MATERIAL), key=lambda one: -one.mass)),
        tuple(_department(f"{code} {works.get(code, '')}".strip(), departments[code]) for code in order),
        _sum("the order", lines),
    )


class _Taking:
    """The items of a picture being taken off, in lists by their places among the linked items."""

    def __init__(self, picture: Picture) -> None:
        self._picture = picture
        self._linked: LinkedItems = linked_items(picture.items, picture.machines)
        items, children = self._linked.items, self._linked.children
        self._ones = [picture.masses[number_key(item.number)] for item in items]
        self._heads = [
            bool(below) and not item.material and not item.size for item, below in zip(items, children, strict=True)
        ]
        self._parts = [Fraction(0)] * len(items)
        self._covered = [False] * len(items)
        upwards = self._from_the_leaves()
        for place in upwards:
            if self._heads[place]:
                self._parts[place] = sum_of(
                    (self._in_one(child), self._number(place, child)) for child in children[place]
                )
        for place in reversed(upwards):
            if self._covered[place] or self._counts_itself(place):
                for child in children[place]:
                    self._covered[child] = True

    def lines(self) -> Iterator[TakenOff]:
        """The items that departments must have, in the order of the specification."""
        for item in self._picture.lines:
            place = self._linked.places.get(number_key(item.number))
            total = self._picture.totals.get(number_key(item.number))
            if place is not None and total is not None and self._linked.items[place] is item:
                yield self._line(place, item, total)

    def _from_the_leaves(self) -> list[int]:
        """The places, each after all that are counted per it; those on a loop are left out."""
        waiting = [len(children) for children in self._linked.children]
        order = [place for place, count in enumerate(waiting) if count == 0]
        for place in order:
            for parent in self._linked.parents[place]:
                waiting[parent] -= 1
                if waiting[parent] == 0:
                    order.append(parent)
        return order

    def _number(self, parent: int, child: int) -> int:
        """How many of an item one of another holds."""
        links = (link for link in self._linked.offs[child].links if link.parent)
        return sum(
            link.number for link, above in zip(links, self._linked.parents[child], strict=False) if above == parent
        )

    def _in_one(self, place: int) -> Fraction:
        """What one of an item comes to with all its parts."""
        one = self._ones[place]
        if self._parts[place]:
            return self._parts[place]
        return one.mass if isinstance(one, MassOfOne) else Fraction(0)

    def _counts_itself(self, place: int) -> bool:
        """Whether an assembly counts by its own weight, because none of its parts has one."""
        return self._heads[place] and not self._parts[place] and isinstance(self._ones[place], MassOfOne)

    def _line(self, place: int, item: Item, total: NumberOff) -> TakenOff:
        one, parts = self._ones[place], self._parts[place] if self._heads[place] else None
        mass = to_order = length = None
        if isinstance(one, MassOfOne):
            stock = one.by_size.stock if one.by_size is not None else None
            length = stock.length if stock is not None and stock.form.is_cut_to_length else None
        standing = self._standing(place, total)
        if standing is Standing.WEIGHED and isinstance(one, MassOfOne) and total.off is not None:
            mass, to_order = one.mass * total.off, one.to_order * total.off
        return TakenOff(item, total, one, standing, mass, to_order, length, parts)

    def _standing(self, place: int, total: NumberOff) -> Standing:
        if self._parts[place]:
            return Standing.BY_PARTS
        if total.off is None:
            return Standing.NO_COUNT
        if self._covered[place]:
            return Standing.WITH_ASSEMBLY
        if isinstance(self._ones[place], MassOfOne):
            return Standing.WEIGHED
        return Standing.BY_PARTS if self._heads[place] else Standing.NO_WEIGHT


def _sums(lines: Iterable[TakenOff], name: Callable[[TakenOff], str]) -> Iterator[Sum]:
    gathered: dict[str, list[TakenOff]] = {}
    for line in lines:
        gathered.setdefault(name(line), []).append(line)
    return (_sum(one, some) for one, some in gathered.items())


def _sum(name: str, lines: Iterable[TakenOff]) -> Sum:
    return _department(name, [(line, line.total.off or 0) for line in lines])


def _department(name: str, lines: Sequence[tuple[TakenOff, int]]) -> Sum:
    """What lines come to with so many pieces each."""
    weighed = [
        (line.one, pieces)
        for line, pieces in lines
        if line.standing is Standing.WEIGHED and isinstance(line.one, MassOfOne)
    ]
    return Sum(
        name,
        len({id(line) for line, _ in lines}),
        sum(pieces for _, pieces in lines),
        sum_of((one.mass, pieces) for one, pieces in weighed),
        sum_of((one.to_order, pieces) for one, pieces in weighed),
        len({id(line) for line, _ in lines if line.standing is Standing.NO_WEIGHT}),
    )
