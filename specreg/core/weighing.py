"""What the shares of departments weigh: every line's pieces, and each share with all that is in it counted once.

A line has the pieces of its step, with the extra. A pattern is named by its casting and does not weigh what that
weighs. An item that comes to a department twice counts at the step that has most of it. An assembly counts by those of
its parts that have no line in the share: it adds nothing where all have one, and all of itself where none has, as with
a fitting shop that puts together what others made.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from specreg.core.exact_sums import sum_of
from specreg.core.extracts import LineWeight, ShareWeight
from specreg.core.numbering import number_key
from specreg.core.shares import Line
from specreg.core.stock.records import MassOfOne, Source

if TYPE_CHECKING:
    from specreg.core.take_off import TakenOff


class Standing(StrEnum):
    """How an item stands in the sums of the order, or a line in those of its share; only a line is a pattern or counts
    at another step."""

    WEIGHED = "weighed"
    BY_PARTS = "by its parts"
    WITH_ASSEMBLY = "with its assembly"
    NO_WEIGHT = "no weight"
    NO_COUNT = "no count"
    PATTERN = "pattern"
    OTHER_STEP = "at another step"


@lru_cache(maxsize=1024)
def is_pattern(operation: str) -> bool:
    """Whether a step is work on the pattern of an item: `make pattern`, `alter patterns`; not `plane pattern plate`."""
    return operation.strip().casefold().endswith((" pattern", " patterns", "pattern"))


def is_work_on_pieces(line: Line) -> bool:
    """Whether a step is counted, and no work on a pattern."""
    return line.step.total is not None and not is_pattern(line.step.operation)


class Scales:
    """Weighs the shares of one order that was taken off; `units` is how the order writes weights."""

    def __init__(self, taken: Iterable[TakenOff], units: str) -> None:
        self._taken = {number_key(one.item.number): one for one in taken}
        self._units = units
        self._whole: dict[str, LineWeight] = {}

    def weigh(self, lines: Sequence[Line]) -> tuple[LineWeight, ...]:
        """What each line of a whole share weighs."""
        return tuple(_Share(self._taken, lines, self._units, self._whole).weights())

    def together(self, lines: Sequence[Line]) -> ShareWeight:
        """What a whole share weighs."""
        return together(
            ((one, line.step.total) for one, line in zip(self.weigh(lines), lines, strict=True)), self._units
        )


def together(weights: Iterable[tuple[LineWeight, int | None]], units: str) -> ShareWeight:
    """What lines of a share weigh together, each with its pieces."""
    found = list(weights)
    return ShareWeight(
        sum_of((one.counts, pieces) for one, pieces in found if one.counts is not None and pieces is not None),
        sum_of((one.to_order, pieces) for one, pieces in found if one.to_order is not None and pieces is not None),
        sum(one.is_short for one, _ in found),
        units,
    )


class _Rest(NamedTuple):
    """What is counted per one of an item and has no line in the share, in kg, and whether any of it has no weight."""

    mass: Fraction
    to_order: Fraction
    is_short: bool


class _Share:
    """One share on the scales; `whole` keeps the weights that are the same in every share, by the items' keys."""

    def __init__(
        self, taken: Mapping[str, TakenOff], lines: Sequence[Line], units: str, whole: dict[str, LineWeight]
    ) -> None:
        self._taken = taken
        self._lines = lines
        self._units = units
        self._whole = whole
        self._visits = _counted((line, one.total.off or 0) for line in lines if (one := self._of(line)) is not None)
        self._rests: dict[str, _Rest] = {}

    def weights(self) -> Iterator[LineWeight]:
        """What each line weighs."""
        short: set[int] = set()
        for line in self._lines:
            weight = self._weight(line)
            yield replace(weight, is_short=False) if id(line.item) in short else weight
            if weight.is_short:
                short.add(id(line.item))

    def _of(self, line: Line) -> TakenOff | None:
        """The line's item as taken off; of a number used twice only the first item is."""
        one = self._taken.get(line.key)
        return one if one is not None and one.item is line.item else None

    def _is_counted(self, line: Line) -> bool:
        return line.visit in self._visits.get(line.key, ()) and not is_pattern(line.step.operation)

    def _weight(self, line: Line) -> LineWeight:
        taken = self._of(line)
        if is_pattern(line.step.operation):
            return LineWeight(Standing.PATTERN, self._units)
        if taken is None:
            return LineWeight(Standing.NO_WEIGHT, self._units, is_short=True)
        if line.step.total is None:
            return _known(taken, self._units, Standing.NO_COUNT)
        if not self._is_counted(line):
            return _known(taken, self._units, Standing.OTHER_STEP)
        if taken.is_by_parts:
            rest = self._rests.get(line.key) or self._rest(line.key)
            return _known(taken, self._units, Standing.BY_PARTS, rest.mass, rest.to_order, rest.is_short)
        if not self._visits.keys().isdisjoint(taken.within):
            return _known(taken, self._units, Standing.WITH_ASSEMBLY)
        weight = self._whole.get(line.key)
        if weight is None:
            weight = self._whole[line.key] = self._by_itself(taken)
        return weight

    def _by_itself(self, taken: TakenOff) -> LineWeight:
        if isinstance(taken.one, MassOfOne):
            return _known(taken, self._units, Standing.WEIGHED, taken.one.mass, taken.one.to_order)
        return _known(taken, self._units, Standing.NO_WEIGHT, is_short=True)

    def _rest(self, key: str) -> _Rest:
        """What one of an assembly adds to the share. Its parts first, without recursion, for a chain may be deep."""
        waiting = [key]
        while waiting:
            item = self._taken[waiting[-1]]
            below = [part for part, _ in item.holds if self._is_open(part)]
            if below:
                waiting += below
            else:
                self._rests[waiting.pop()] = self._added_up(item)
        return self._rests[key]

    def _is_open(self, key: str) -> bool:
        """Whether what an item holds is still to be added up; an assembly with a line in the share does so there."""
        part = self._taken.get(key)
        if part is None or key in self._rests:
            return False
        return key not in self._visits if part.is_by_parts else bool(part.holds)

    def _added_up(self, item: TakenOff) -> _Rest:
        parts: list[tuple[_Rest, int]] = []
        # An assembly without counted parts, or on a loop, has no weight that anybody knows.
        is_short = not item.holds
        for key, number in item.holds:
            part, has_line = self._taken.get(key), key in self._visits
            if key in self._rests and not (has_line and part is not None and part.is_by_parts):
                parts.append((self._rests[key], number))
            if has_line or (part is not None and part.is_by_parts):
                continue
            if part is not None and isinstance(part.one, MassOfOne):
                parts.append((_Rest(part.one.mass, part.one.to_order, False), number))
            else:
                is_short = True
        return _Rest(
            sum_of((rest.mass, number) for rest, number in parts),
            sum_of((rest.to_order, number) for rest, number in parts),
            is_short or any(rest.is_short for rest, _ in parts),
        )


def weight_of(taken: TakenOff, units: str) -> LineWeight:
    """An item's weight in the whole order, where every assembly counts by its parts."""
    one = taken.one
    if taken.standing is Standing.WEIGHED and isinstance(one, MassOfOne):
        return _known(taken, units, taken.standing, one.mass, one.to_order)
    return _known(taken, units, taken.standing, is_short=taken.standing is Standing.NO_WEIGHT)


def _known(
    taken: TakenOff, units: str, standing: Standing, counts: Fraction | None = None, to_order: Fraction | None = None,
    is_short: bool = False,
) -> LineWeight:  # fmt: skip
    """A weight with what is known of one piece, whether it counts or not."""
    if taken.is_by_parts:
        return LineWeight(
            standing, units, taken.parts or None, None, counts, to_order, is_by_parts=True,
            is_least=taken.parts_without > 0, is_short=is_short,
        )  # fmt: skip
    one = taken.one
    if not isinstance(one, MassOfOne):
        return LineWeight(standing, units, is_short=is_short)
    rough = one.rough.value if one.rough else one.allowed.mass if one.allowed else None
    return LineWeight(
        standing, units, one.mass, rough, counts, to_order, is_about=one.approximate,
        is_rough=one.source is Source.ROUGH, is_short=is_short, rough_size=one.allowed.size if one.allowed else "",
    )  # fmt: skip


def _counted(lines: Iterable[tuple[Line, int]]) -> dict[str, frozenset[int]]:
    """Which visits of each item to the department count, by its key; with each line the pieces the order wants.

    Those at the place of the route with most of its pieces, the first of several. Where two stand beside each other
    there and have more pieces than are wanted, both work on the same ones, and one counts.
    """
    found: dict[str, dict[int, list[Line]]] = {}
    wanted: dict[str, int] = {}
    for line, pieces in lines:
        if line.step.total is not None and not is_pattern(line.step.operation):
            found.setdefault(line.key, {}).setdefault(line.step.place, []).append(line)
            wanted[line.key] = pieces
    counted = {}
    for key, places in found.items():
        some = (
            next(iter(places.values()))
            if len(places) == 1
            else max(
                (places[place] for place in sorted(places)), key=lambda there: sum(one.step.total or 0 for one in there)
            )
        )
        if len(some) > 1 and sum(one.step.off or 0 for one in some) > wanted[key]:
            some = [max(some, key=lambda one: one.step.total or 0)]
        counted[key] = frozenset(one.visit for one in some)
    return counted
