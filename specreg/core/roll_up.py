"""How many pieces the whole order needs of every item, reckoned down from the machines.

The order quantity of an item is (number off × number of the parent on each machine, down every chain of parents) over
the machines the item is for, plus what is wanted once for the order, plus the spares. Spares of a parent bring its
children only where the house says so: a spare gear box may be the case alone, or the box with all that is in it. What
is no count is kept in its own words and never multiplied. Nothing is guessed: what cannot be reckoned has no number and
one sentence that says what to write.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from specreg.core.linked_items import LinkedItems, linked_items
from specreg.core.loops import find_loops
from specreg.core.machines import spoken
from specreg.core.model import Item
from specreg.core.numbering import number_key
from specreg.core.quantities import (
    MACHINE,
    NOT_KNOWN,
    ORDER,
    SPARES_SAID,
    OffKind,
)
from specreg.core.workings import Path, gathered_paths, paths_down, subtotals, summed, too_many_paths

MOST_PIECES = 10**12
"""A number off beyond this is a slip, and may not grow down a long chain until nothing can print it."""
MOST_NAMED = 12
"""So many items of a loop are named; a longer loop is written with a gap."""


@dataclass(frozen=True, slots=True)
class Total:
    """How many of one item the whole order needs.

    `off` is the order quantity with spares, None when it has no count (`kind` says why) or cannot be reckoned
    (`problem` says why). `for_machines` are positions in the order's list of machines, `by_machine` the pieces that
    go into each of the order's machines, `once` the pieces wanted once for the order, `spares` the spares;
    `off == sum(by_machine) + once + spares`. `written` is the quantity in words, `working` the sum in full,
    `waits_for` the number of the item above whose problem must be put right first.
    """

    number: str
    kind: OffKind
    off: int | None
    for_machines: tuple[int, ...]
    spares: int
    by_machine: tuple[int, ...]
    once: int
    written: str
    working: str
    problem: str = ""
    waits_for: str = ""


@dataclass(frozen=True, slots=True)
class RollUp:
    """The totals of an order by `number_key`, in the order of its items, and its loops in words."""

    totals: Mapping[str, Total]
    loops: tuple[str, ...] = ()

    def of(self, number: str) -> Total | None:
        """The total of the item with this number; None when no live item has it."""
        return self.totals.get(number_key(number))

    @property
    def problems(self) -> tuple[Total, ...]:
        """The totals that have a problem of their own, not one they wait for."""
        return tuple(total for total in self.totals.values() if total.problem and not total.waits_for)


def roll_up(items: Iterable[Item], machines: tuple[str, ...], spares_bring_parts: bool = False) -> RollUp:
    """The exact order quantity of every live item, over the order's `machines`.

    Several parents add, by every path; an item counts only for the machines it and its chain of parents are for.
    With `spares_bring_parts` the parts of a spare are wanted with it, and count as spares themselves. Time and memory
    grow with the number of links; a chain may be of any depth.
    """
    return _Reckoning(linked_items(items, machines), machines, spares_bring_parts).result()


class _Reckoning:
    """One roll-up under way: parallel lists over the live items, filled from the machines downwards.

    Parents come before their children (a queue of items whose parents are all reckoned), so no recursion is needed.
    """

    def __init__(self, linked: LinkedItems, machines: tuple[str, ...], spares_bring_parts: bool) -> None:
        self.machines = machines
        self.spares_bring_parts = spares_bring_parts
        self.linked = linked
        self.items, self.offs, self.spares = linked.items, linked.offs, linked.spares
        self.parents, self.children, self.own = linked.parents, linked.children, linked.own
        count = len(linked.items)
        self.problems = list(linked.problems)
        self.roots = [""] * count
        self.masks = [0] * count
        self.amounts: list[tuple[int, ...]] = [()] * count
        self.once = [0] * count
        self.spare_amounts = [(0, 0)] * count
        self.paths: list[tuple[Path, ...]] = [()] * count
        self.totals: list[Total | None] = [None] * count
        self.loops: list[str] = []
        self.positions: dict[int, tuple[int, ...]] = {}

    def result(self) -> RollUp:
        waiting = [len(parents) for parents in self.parents]
        ready = [place for place, count in enumerate(waiting) if count == 0]
        self._work_down(ready, waiting)
        left = [place for place, count in enumerate(waiting) if count > 0]
        if left:
            ringed = self._name_loops(left)
            for place in ringed:
                waiting[place] = 0
            self._work_down(ringed, waiting)
        totals = {key: total for key, place in self.linked.places.items() if (total := self.totals[place]) is not None}
        return RollUp(totals, tuple(self.loops))

    def _work_down(self, ready: list[int], waiting: list[int]) -> None:
        for place in ready:
            self._reckon(place)
        while ready:
            for child in self.children[ready.pop()]:
                waiting[child] -= 1
                if waiting[child] == 0:
                    self._reckon(child)
                    ready.append(child)

    def _reckon(self, place: int) -> None:
        off = self.offs[place]
        if off.kind is OffKind.COUNT and not self.problems[place]:
            self._look_up(place)
        self._find_machines(place)
        if self.problems[place]:
            self._set_down(place, None)
        elif off.kind is OffKind.COUNT:
            self._count(place)
        else:
            self._keep_apart(place)

    def _look_up(self, place: int) -> None:
        """The problems an item has from the items it is counted per."""
        for parent in self.parents[place]:
            above = self.items[parent].number
            if self.problems[parent]:
                root = self.roots[parent] or above
                self.problems[place] = f"cannot be reckoned before {root} is put right"
                self.roots[place] = root
                return
            kind = self.offs[parent].kind
            if kind is not OffKind.COUNT:
                self.problems[place] = (
                    f"counted per {above}, of which there is no count (`{self.offs[parent].written}`): "
                    "write it per machine or per order"
                )
                return
            if self.once[parent] and self.masks[parent] & ~self.own[place]:
                self.problems[place] = (
                    f"for {self._spoken(self.own[place])} only, but {above} is wanted per order and belongs to no one "
                    "machine: write it per machine or per order"
                )
                return

    def _find_machines(self, place: int) -> None:
        links = self.offs[place].links
        if len(self.parents[place]) < len(links) or not links:
            mask = self.own[place]
        else:
            mask = 0
            for parent in self.parents[place]:
                mask |= self.masks[parent]
            mask &= self.own[place]
            if not mask and self.own[place] and not self.problems[place]:
                above = " and ".join(self.items[parent].number for parent in self.parents[place])
                self.problems[place] = (
                    f"for {self._spoken(self.own[place])}, but {above} is for none of these: correct the machines"
                )
        self.masks[place] = mask
        if not self.machines and not self.problems[place] and any(link.per == MACHINE for link in links):
            self.problems[place] = "counted per machine, but the order names no machines: write them in the order"

    def _count(self, place: int) -> None:
        """The count of an item whose parents are all counted."""
        own, size = self.own[place], len(self.machines)
        amounts = [0] * size
        once = 0
        parents = iter(self.parents[place])
        inside = self._positions(own)
        for link in self.offs[place].links:
            number = link.number
            if link.per == ORDER:
                once += number
            elif link.per == MACHINE:
                for machine in inside:
                    amounts[machine] += number
            else:
                parent = next(parents)
                above = self.amounts[parent]
                for machine in inside:
                    amounts[machine] += number * above[machine]
                once += number * self.once[parent]
        spare = self.spares[place]
        if spare.kind is not OffKind.COUNT:
            self.problems[place] = f"counted in pieces, but its spares are `{spare.written}`: write spares in pieces"
            return self._set_down(place, None)
        brought = self._brought(place) if self.spares_bring_parts else []
        if self.problems[place]:
            return self._set_down(place, None)
        per_machine = spare.per_machine + sum(number * each for number, each, _ in brought)
        per_order = spare.per_order + sum(number * once for number, _, once in brought)
        self.spare_amounts[place] = per_machine, per_order
        spares = per_machine * self.masks[place].bit_count() + per_order
        off = sum(amounts) + once + spares
        if off > MOST_PIECES:
            self.problems[place] = f"comes to more than {MOST_PIECES:,} pieces: correct a number off in its chain"
            return self._set_down(place, None)
        self.amounts[place] = tuple(amounts)
        self.once[place] = once
        terms = self._terms(place)
        if spare.per_machine:
            terms.append(f"{spare.per_machine} × {self.masks[place].bit_count()}")
        if spare.per_order:
            terms.append(str(spare.per_order))
        for number, each, once in brought:
            if each:
                terms.append(f"{number} × {each} × {self.masks[place].bit_count()}")
            if once:
                terms.append(f"{number} × {once}")
        return self._set_down(place, off, spares, summed(terms, off))

    def _brought(self, place: int) -> list[tuple[int, int, int]]:
        """What spares of the items above bring of this one: its number in each, and how many of these are spare on a
        machine and for the order. A spare for the order belongs to no one machine, so a part that is for some of its
        machines only has a problem then."""
        found = []
        parents = iter(self.parents[place])
        for link in self.offs[place].links:
            if link.per in (MACHINE, ORDER):
                continue
            parent = next(parents)
            each, once = self.spare_amounts[parent]
            if once and self.masks[parent] & ~self.own[place]:
                self.problems[place] = (
                    f"for {self._spoken(self.own[place])} only, but spares of {self.items[parent].number} are wanted "
                    "per order and belong to no one machine: write these spares per machine"
                )
            elif each or once:
                found.append((link.number, each, once))
        return found

    def _terms(self, place: int) -> list[str]:
        """The terms of the working before the spares; sets down the paths for the children."""
        links, parents = self.offs[place].links, self.parents[place]
        above = [self.paths[parent] for parent in parents]
        if not too_many_paths(links, above):
            paths = self.paths[place] = paths_down(links, self.own[place], above)
            return [path.term for path in paths]
        self.paths[place] = gathered_paths(self.amounts[place], self.once[place])
        inside = self._positions(self.own[place])
        counts = [sum(self.amounts[parent][machine] for machine in inside) + self.once[parent] for parent in parents]
        return subtotals(links, len(inside), counts)

    def _keep_apart(self, place: int) -> None:
        """An item without a count: its own words, never multiplied; reference only counts as nought."""
        off, spare = self.offs[place], self.spares[place]
        if spare.written and spare.kind is not off.kind:
            self.problems[place] = f"its spares `{spare.written}` are not counted as it is itself (`{off.written}`)"
        self._set_down(place, 0 if off.kind is OffKind.REFERENCE and not self.problems[place] else None)

    def _set_down(self, place: int, off: int | None, spares: int = 0, working: str = "") -> None:
        said = self.offs[place]
        written = str(off) if said.kind is OffKind.COUNT else said.written
        if said.kind is OffKind.COUNT and off is None:
            written = NOT_KNOWN
        elif said.kind is not OffKind.COUNT and (spare := self.spares[place].written) and not self.problems[place]:
            written = f"{written}{SPARES_SAID}{spare}"
        self.totals[place] = Total(
            self.items[place].number,
            said.kind,
            off,
            self._positions(self.masks[place]),
            spares,
            self.amounts[place],
            self.once[place],
            written or NOT_KNOWN,
            working,
            self.problems[place],
            self.roots[place],
        )

    def _positions(self, mask: int) -> tuple[int, ...]:
        positions = self.positions.get(mask)
        if positions is None:
            positions = tuple(place for place in range(len(self.machines)) if mask >> place & 1)
            self.positions[mask] = positions
        return positions

    def _spoken(self, mask: int) -> str:
        return spoken(self._positions(mask), self.machines)

    def _name_loops(self, left: list[int]) -> list[int]:
        """Give every item that stands on a loop its problem, and return these items."""
        loops, named = find_loops(left, self.parents)
        self.loops = [self._loop_said(loop) for loop in loops]
        for place, which in named.items():
            self.problems[place] = (
                f"stands on a loop of items each counted per the next: {self.loops[which]}; correct one of them"
            )
        return list(named)

    def _loop_said(self, loop: list[int]) -> str:
        """A loop in words, beginning at its first number, so that all its items name it alike."""
        first = min(range(len(loop)), key=lambda place: number_key(self.items[loop[place]].number))
        turned = [*loop[first:], *loop[:first]]
        names = [self.items[place].number for place in [*turned, turned[0]]]
        if len(names) > MOST_NAMED + 1:
            between = len(names) - MOST_NAMED
            names = [*names[: MOST_NAMED - 1], f"({between} more)", names[-1]]
        return " -> ".join(names)
