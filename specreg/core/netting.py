"""What is already had, complete, taken off what is wanted, level by level: an assembly had complete needs no parts.

Nothing is guessed: where a part belongs to some machines of an assembly only, and it cannot be known which of them had
the complete one, its number is left as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from specreg.core.linked_items import LinkedItems, linked_items
from specreg.core.model import Item
from specreg.core.numbering import number_key
from specreg.core.quantities import OffKind
from specreg.core.roll_up import RollUp


def pieces_spared(
    items: Iterable[Item], machines: tuple[str, ...], totals: RollUp, had: Mapping[str, int], spares_bring_parts: bool
) -> dict[str, int]:
    """How many pieces of each item are not wanted because what they belong to is had complete, by `number_key`.

    `had` are pieces by `number_key`; `totals` the roll-up of the same items. Items of which none is spared are left
    out. What is had goes to the machines before the spares, and a spare has parts only where the house says so.
    """
    return _Netting(linked_items(items, machines), totals, had, spares_bring_parts).result()


class _Netting:
    def __init__(self, linked: LinkedItems, totals: RollUp, had: Mapping[str, int], spares_bring_parts: bool) -> None:
        self._linked, self._totals, self._had = linked, totals, had
        self._spares_bring_parts = spares_bring_parts
        self._spared = [0] * len(linked.items)
        self._without_parts = [0] * len(linked.items)
        """Pieces that need no parts: not wanted, or had complete."""
        self._all_had = [False] * len(linked.items)

    def result(self) -> dict[str, int]:
        linked = self._linked
        waiting = [len(parents) for parents in linked.parents]
        order = [place for place, count in enumerate(waiting) if count == 0]
        for place in order:
            self._net(place)
            for child in linked.children[place]:
                waiting[child] -= 1
                if waiting[child] == 0:
                    order.append(child)
        return {number_key(linked.items[place].number): spared for place, spared in enumerate(self._spared) if spared}

    def _net(self, place: int) -> None:
        key = number_key(self._linked.items[place].number)
        total = self._totals.totals.get(key)
        if total is None or total.off is None or self._linked.offs[place].kind is not OffKind.COUNT:
            return
        built = total.off if self._spares_bring_parts else total.off - total.spares
        links = self._linked.links_to_parents(place)
        spared = sum(link.number * self._spared_by(place, parent) for link, parent in links)
        self._spared[place] = min(spared, total.off)
        self._without_parts[place] = min(built, self._spared[place] + self._had.get(key, 0))
        self._all_had[place] = self._without_parts[place] == built

    def _spared_by(self, place: int, parent: int) -> int:
        """Of how many of an assembly an item is not wanted. Where it is in those of some machines only, of none until
        all are had."""
        above = self._totals.totals.get(number_key(self._linked.items[parent].number))
        if above is None or above.off is None:
            return 0
        own = self._linked.own[place]
        inside = sum(count for machine, count in enumerate(above.by_machine) if own >> machine & 1)
        if inside == sum(above.by_machine):
            return self._without_parts[parent]
        return inside + above.once if self._all_had[parent] else 0
