"""The take-off: numbers off, lengths and weights of a whole order, each with how it was reckoned, and their sums.

A weight counts once: an item with neither material nor size, which others are counted per, is an assembly and counts by
its parts; where none of these has a weight, or some have none and the rest come to less, by its own. What has no count
or no weight is told, never taken as nought. Sums are exact; rounding is left to whoever writes them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from specreg.core.exact_sums import sum_of
from specreg.core.extracts import ShareWeight
from specreg.core.linked_items import LinkedItems, linked_items
from specreg.core.model import Item, NumberOff
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.quantities import OffKind
from specreg.core.shares import Line, shares
from specreg.core.stock.records import MassOfOne, NotReckoned
from specreg.core.weighing import Scales, Standing, is_work_on_pieces


@dataclass(frozen=True, slots=True)
class TakenOff:
    """One item taken off.

    `one` is the mass of one piece, or why there is none; `parts` in kg what the parts of one assembly come to, None for
    what is no assembly; so many items as `parts_without` have no weight or no count and are missing there. `mass` and
    `to_order` in kg are all its pieces, finished and as ordered; None where the item is not `WEIGHED`. `length` in mm
    is that of one piece cut to length, None for others. `holds` are the items counted per one of it, by their
    `number_key`, and how many; `within` the assemblies whose weight has its own in it. `counts_by_itself`: an
    assembly counts by its own weight.
    """

    item: Item
    total: NumberOff
    one: MassOfOne | NotReckoned
    standing: Standing
    mass: Fraction | None
    to_order: Fraction | None
    length: Fraction | None
    parts: Fraction | None
    parts_without: int = 0
    holds: tuple[tuple[str, int], ...] = ()
    within: tuple[str, ...] = ()
    counts_by_itself: bool = False

    @property
    def is_by_parts(self) -> bool:
        """Whether it is an assembly that counts by its parts, known or not."""
        return self.parts is not None and not self.counts_by_itself

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
    """The whole order taken off. Departments have the pieces of their own steps but patterns, weighed as `weighing`
    weighs a share, so that their sums add to more than the order; the other sums each add to `whole`."""

    lines: tuple[TakenOff, ...]
    sections: tuple[Sum, ...]
    materials: tuple[Sum, ...]
    departments: tuple[Sum, ...]
    whole: Sum


NO_MATERIAL = "(no material)"


def take_off(picture: Picture) -> TakeOff:
    """Take an order off."""
    lines = tuple(lines_taken_off(picture))
    works = {department.code: department.name for department in picture.standards.departments}
    scales, taken = Scales(lines, picture.order.units), {id(line.item) for line in lines}
    departments = {
        code: (counted, scales.together(share))
        for code, share in shares(picture.routed).items()
        if (counted := [line for line in share if id(line.item) in taken and is_work_on_pieces(line)])
    }
    order = [code for code in works if code in departments] + sorted(departments.keys() - works.keys())
    return TakeOff(
        lines,
        tuple(_sums(lines, lambda line: picture.section_name(line.item))),
        tuple(sorted(_sums(lines, lambda line: line.item.material or NO_MATERIAL), key=lambda one: -one.mass)),
        tuple(_department(f"{code} {works.get(code, '')}".strip(), *departments[code]) for code in order),
        _sum("the order", lines),
    )


def lines_taken_off(picture: Picture) -> Iterator[TakenOff]:
    """The lines of a take-off without its sums, which cost more than they do."""
    return _Taking(picture).lines()


def taken_off(picture: Picture, number: str, total: NumberOff) -> TakenOff | None:
    """One item as `take_off` has it, reckoned from the items alone that hang together with it by what they are counted
    per. None where no live item has this number."""
    linked = linked_items(picture.items, picture.machines)
    place = linked.places.get(number_key(number))
    if place is None:
        return None
    above = _reached((place,), linked.parents)
    kin = tuple(linked.items[one] for one in sorted(_reached(above, linked.children)))
    return _Taking(replace(picture, items=kin)).line(linked.items[place], total)


def _reached(places: Iterable[int], onward: Sequence[Sequence[int]]) -> set[int]:
    """These places and all that are reached from them."""
    reached = set(places)
    waiting = list(reached)
    while waiting:
        for place in onward[waiting.pop()]:
            if place not in reached:
                reached.add(place)
                waiting.append(place)
    return reached


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
        self._numbers = [self._number_in_each(place) for place in range(len(items))]
        self._below = [Fraction(0)] * len(items)
        """What is counted per one of each item weighs, in kg, with all that is counted per that in turn."""
        self._without = [0] * len(items)
        """How many items are missing from that weight."""
        self._within: list[frozenset[int]] = [frozenset()] * len(items)
        upwards = self._from_the_leaves()
        self._sorted = frozenset(upwards)
        for place in upwards:
            if children[place]:
                self._below[place] = sum_of(
                    (self._in_one(child), self._number(place, child)) for child in children[place]
                )
                self._without[place] = sum(self._missing(place, child) for child in children[place])
        for place in reversed(upwards):
            above = self._within[place] | (self._and_heads_above(place) if self._counts_itself(place) else frozenset())
            for child in children[place] if above else ():
                self._within[child] |= above

    def lines(self) -> Iterator[TakenOff]:
        """The items that departments must have, in the order of the specification."""
        for item in self._picture.lines:
            place = self._linked.places.get(number_key(item.number))
            total = self._picture.totals.get(number_key(item.number))
            if place is not None and total is not None and self._linked.items[place] is item:
                yield self.line(item, total)

    def _number_in_each(self, place: int) -> dict[int, int]:
        """How many of an item each of its parents holds."""
        found: dict[int, int] = {}
        if self._linked.offs[place].kind is OffKind.COUNT:
            for link, parent in self._linked.links_to_parents(place):
                found[parent] = found.get(parent, 0) + link.number
        return found

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
        """How many of an item one of another holds; 0 of what has no count."""
        return self._numbers[child].get(parent, 0)

    def _parts(self, place: int) -> Fraction:
        """What the parts of one of an assembly come to; nothing for what is none, or counts by its own weight."""
        return self._below[place] if self._heads[place] and not self._counts_itself(place) else Fraction(0)

    def _in_one(self, place: int) -> Fraction:
        """What one of an item comes to in its assembly: an assembly its parts, a stud itself with its nuts."""
        one = self._ones[place]
        if parts := self._parts(place):
            return parts
        own = one.mass if isinstance(one, MassOfOne) else Fraction(0)
        return own if self._heads[place] else own + self._below[place]

    def _missing(self, parent: int, child: int) -> int:
        """How many items are missing from the weight of one with that of another in it."""
        if not self._number(parent, child):
            return max(1, self._without[child])
        if self._heads[child] and self._counts_itself(child):
            return 0
        own_is_missing = not self._heads[child] and not isinstance(self._ones[child], MassOfOne)
        return self._without[child] + own_is_missing or int(not self._in_one(child))

    def _counts_itself(self, place: int) -> bool:
        """Whether an assembly counts by its own weight: its parts have none, or some of them have none and the rest
        come to less, so that a bolt that is weighed does not hide a motor that is not."""
        own = self._ones[place]
        if not self._heads[place] or not isinstance(own, MassOfOne):
            return False
        return not self._below[place] or (self._without[place] > 0 and own.mass > self._below[place])

    def _and_heads_above(self, place: int) -> frozenset[int]:
        """An assembly, and those that have it among their parts."""
        found, waiting = {place}, [place]
        while waiting:
            above = {one for one in self._linked.parents[waiting.pop()] if self._heads[one]} - found
            found |= above
            waiting += above
        return frozenset(found)

    def line(self, item: Item, total: NumberOff) -> TakenOff:
        """One of the items, of which so many are wanted."""
        place = self._linked.places[number_key(item.number)]
        one, parts = self._ones[place], self._below[place] if self._heads[place] else None
        mass = to_order = length = None
        if isinstance(one, MassOfOne):
            stock = one.by_size.stock if one.by_size is not None else None
            length = stock.length if stock is not None and stock.form.is_cut_to_length else None
        standing = self._standing(place, total)
        if standing is Standing.WEIGHED and isinstance(one, MassOfOne) and total.off is not None:
            mass, to_order = one.mass * total.off, one.to_order * total.off
        return TakenOff(
            item, total, one, standing, mass, to_order, length, parts, self._without[place], self._holds(place),
            self._keys(sorted(self._within[place])), self._counts_itself(place),
        )  # fmt: skip

    def _holds(self, place: int) -> tuple[tuple[str, int], ...]:
        """What is counted per one of an item; none for an assembly that counts by its own weight, and none on a loop,
        where nobody can know the weight."""
        if self._counts_itself(place) or place not in self._sorted:
            return ()
        children = self._linked.children[place]
        held = zip(self._keys(children), (self._number(place, child) for child in children), strict=True)
        return tuple((key, number) for key, number in held if number)

    def _keys(self, places: Iterable[int]) -> tuple[str, ...]:
        return tuple(number_key(self._linked.items[place].number) for place in places)

    def _standing(self, place: int, total: NumberOff) -> Standing:
        if self._parts(place):
            return Standing.BY_PARTS
        if total.off is None:
            return Standing.NO_COUNT
        if self._within[place]:
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
    """What items of the order come to."""
    found = [(line, line.total.off or 0) for line in lines]
    weighed = [
        (line.one, pieces)
        for line, pieces in found
        if line.standing is Standing.WEIGHED and isinstance(line.one, MassOfOne)
    ]
    return Sum(
        name,
        len(found),
        sum(pieces for _, pieces in found),
        sum_of((one.mass, pieces) for one, pieces in weighed),
        sum_of((one.to_order, pieces) for one, pieces in weighed),
        sum(line.standing is Standing.NO_WEIGHT for line, _ in found),
    )


def _department(name: str, lines: Sequence[Line], weight: ShareWeight) -> Sum:
    """What a department works on, with the pieces of each of its steps."""
    return Sum(
        name,
        len({line.key for line in lines}),
        sum(line.step.total or 0 for line in lines),
        weight.mass,
        weight.to_order,
        weight.without,
    )
