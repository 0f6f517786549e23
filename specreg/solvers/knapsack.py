"""What one bar can be worth when every piece has a price: exact whole numbers, by branch and bound or by a table."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from itertools import accumulate
from typing import TYPE_CHECKING

from specreg.core.cutting import Load

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

MOST_CELLS = 1_500_000_000
"""Steps of the exact table; of a list too fine and long for it the bound is the less sharp one of the knapsack."""


class Knapsack:
    """The loads of one bar by what they are worth, by branch and bound in whole numbers.

    `upper` is what no load is worth more than; `is_cut_short` tells that `most_steps` did not do to see all loads.
    """

    def __init__(
        self, prices: Sequence[int], widths: Sequence[int], left: Sequence[int], room: int, most_steps: int
    ) -> None:
        # Worth by width, rounded down so finely that two different ones never change places.
        fine = 2 * room.bit_length()
        order = [place for place, count in enumerate(left) if count and widths[place] <= room]
        order.sort(key=lambda place: -(prices[place] << fine) // widths[place])
        self.places = order
        self.prices = [prices[place] for place in order]
        self.widths = [widths[place] for place in order]
        self.most = [min(left[place], room // widths[place]) for place in order]
        self.room, self.most_steps = room, most_steps
        pairs = list(zip(self.prices, self.widths, self.most, strict=True))
        self.worth_before = [0, *accumulate(price * most for price, _, most in pairs)]
        self.width_before = [0, *accumulate(width * most for _, width, most in pairs)]
        self.narrowest = list(accumulate(reversed(self.widths), min))[::-1]
        self.upper = self._bound(0, room)
        self.steps = 0
        self.is_cut_short = False

    def _bound(self, first: int, rest: int) -> int:
        """What `rest` of the room can be worth in lengths from `first` on, if the last may be cut anyhow."""
        end = self.width_before[first] + rest
        last = bisect_right(self.width_before, end, first) - 1
        worth = self.worth_before[last] - self.worth_before[first]
        if last < len(self.widths):
            worth += (end - self.width_before[last]) * self.prices[last] // self.widths[last]
        return worth

    def loads_above(self, floor: int, is_rising: bool) -> Iterator[tuple[int, Load]]:
        """Every load worth more than `floor`, as (worth, load); where it rises, only those worth more than the last."""
        stack: list[list[int]] = []
        first, worth, rest, count = 0, 0, self.room, len(self.widths)
        while True:
            while first < count and rest >= self.narrowest[first]:
                self.steps += 1
                if (width := self.widths[first]) <= rest:
                    if worth + self._bound(first, rest) <= floor:
                        break
                    number = min(rest // width, self.most[first])
                    stack.append([first, number])
                    worth += number * self.prices[first]
                    rest -= number * width
                first += 1
            if worth > floor and stack:
                yield worth, tuple(sorted((self.places[place], number) for place, number in stack))
                floor = worth if is_rising else floor
            if not stack:
                return
            if self.steps > self.most_steps:
                self.is_cut_short = True
                return
            top = stack[-1]
            first = top[0]
            top[1] -= 1
            worth -= self.prices[first]
            rest += self.widths[first]
            if not top[1]:
                stack.pop()
            first += 1


def richest_by_table(
    prices: Sequence[int], widths: Sequence[int], left: Sequence[int], room: int, must_stop: Callable[[], bool]
) -> tuple[int, Load] | None:
    """The load worth most, exact, by a table over the room: (worth, load); None when too large or told to stop."""
    import numpy

    rows: list[tuple[int, int]] = []
    for place, (price, width, count) in enumerate(zip(prices, widths, left, strict=True)):
        free, step = min(count, room // width) if price else 0, 1
        while free:
            # 1, 2, 4, ... pieces at once make up every number up to the most.
            rows.append((place, min(step, free)))
            free -= min(step, free)
            step *= 2
    if len(rows) * room > MOST_CELLS:
        return None
    worth = numpy.zeros(room + 1, dtype=numpy.int64)
    taken: list[NDArray[numpy.uint8]] = []
    for place, number in rows:
        if must_stop():
            return None
        width = widths[place] * number
        with_it = worth[: room + 1 - width] + prices[place] * number
        better = with_it > worth[width:]
        taken.append(numpy.packbits(better))
        worth[width:] = numpy.where(better, with_it, worth[width:])
    numbers: dict[int, int] = {}
    at = room
    for (place, number), bits in zip(reversed(rows), reversed(taken), strict=True):
        before = at - widths[place] * number
        if before >= 0 and bits[before // 8] >> (7 - before % 8) & 1:
            numbers[place] = numbers.get(place, 0) + number
            at = before
    return int(worth[room]), tuple(sorted(numbers.items()))
