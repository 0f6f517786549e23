"""The cutting list with the least stock, and the proof that no less will do: patterns found by their prices.

A linear programme over the patterns known so far puts a price on every length; a knapsack over the prices finds a load
worth more than its bar, which is a new pattern, until there is none. The programme reckons in floats, so its prices
prove nothing: they are made whole numbers and lowered until the knapsack, which is exact, finds no load worth more
than its bar. Then every plan costs at least what the wanted pieces are worth, and that is the bound. Whole bars come
from rounding down and pricing the rest again, from an exhaustive search, and from HiGHS over the patterns in question.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice
from math import ceil
from random import Random
from typing import TYPE_CHECKING

from specreg.core.cutting import (
    CuttingPlan,
    CuttingRules,
    CuttingTask,
    Load,
    PieceWanted,
    first_fit,
    least_cost,
    next_cost,
    plan_of,
    task_of,
)
from specreg.solvers.knapsack import Knapsack, richest_by_table

if TYPE_CHECKING:
    import highspy

WORTH = 10**9
"""The price of the longest bar, so that prices of pieces are whole numbers."""
TOLERANCE = 10**7
"""A load is a new pattern when worth more than its bar by one part in this many; less is the floats' own error."""
WHOLE = 1e-6
"""How far HiGHS may miss a whole number."""
MOST_NODES = 8_000
"""Steps of one knapsack by branch and bound before the exact table is used instead."""
MOST_LOADS_A_ROUND = 4
MOST_ROUNDS_OF_A_REST = 20
MOST_DIVES = 20
"""Dives with chance having a say, from a fixed seed each, after the one without."""
MOST_BARS_SEARCHED = 200
"""A plan of more bars is not searched exhaustively, which goes one call deeper with every bar."""
SOME_STEPS = 50_000
MOST_STEPS = 3_000_000
"""Steps of the exhaustive search at first, and at last."""
MOST_LOADS_OF_A_BAR = 20_000
"""A search with more choices for one bar would not end."""
MOST_LOADS_WEIGHED = 1_000
"""Loads that HiGHS chooses from at most, beside those already found."""
MOST_NODES_WEIGHED = 100_000
MOST_BRANCHES = 1_000
"""Branches of HiGHS's own search."""

Bars = Sequence[tuple[Load, int]]


@dataclass(frozen=True, slots=True)
class Limits:
    """When to be content with the best plan found: after so many `seconds`, or `rounds` of pricing.

    The same list gives the same plan as long as the seconds do not run out first.
    """

    seconds: float = 20.0
    rounds: int = 3_000


def cut_stock(
    wanted: Sequence[PieceWanted],
    rules: CuttingRules,
    limits: Limits = Limits(),
    stopped: Callable[[], bool] = lambda: False,
    told: Callable[[int, int], None] = lambda _done, _of: None,
) -> CuttingPlan:
    """A plan with the least stock length, proved as far as it could be; one stock length: with the fewest bars.

    No library is loaded where first fit decreasing already meets the simple bounds. `stopped` is asked often, from the
    thread that called; once it says yes, the best plan so far comes back with what is proved of it. `told` gets the
    rounds done and the most there can be, and the two alike at the end. Never raises for what cannot be cut: pieces
    too long are listed in the plan.
    """
    task = task_of(wanted, rules)
    search = _Search(task, limits, stopped, told)
    if search.cost > search.least:
        search.run()
    told(limits.rounds, limits.rounds)
    return plan_of(task, search.bars, search.least, wanted, rules)


class _Master:
    """The linear programme over the loads known so far: cover what is wanted at the least cost of bars."""

    def __init__(self, task: CuttingTask) -> None:
        self.task = task
        self.loads: list[Load] = []
        self.known: set[Load] = set()
        self.highs = _programme(task)
        self.highs.setOptionValue("solver", "simplex")
        self.highs.setOptionValue("dual_feasibility_tolerance", 1e-9)

    def add(self, load: Load) -> bool:
        """Make a load known; False when it was."""
        if load in self.known:
            return False
        self.known.add(load)
        self.loads.append(load)
        _add_column(self.highs, self.task, load)
        return True

    def want(self, left: Sequence[int]) -> None:
        """Ask for `left` pieces of each length; a load with more than that of any is set aside."""
        for place, count in enumerate(left):
            self.highs.changeRowBounds(place, float(count), self.highs.inf)
        for column, load in enumerate(self.loads):
            self.highs.changeColBounds(column, 0.0, self.highs.inf if _times(load, left) else 0.0)

    def solve(self) -> tuple[list[float], list[int]] | None:
        """How often each load is used, in parts, and the prices of the lengths as whole numbers; None if it fails."""
        from highspy import HighsModelStatus

        self.highs.run()
        if self.highs.getModelStatus() != HighsModelStatus.kOptimal:
            return None
        solution = self.highs.getSolution()
        return list(solution.col_value), [max(0, int(price * WORTH)) for price in solution.row_dual]


class _Search:
    """One cutting list on its way: the best bars so far, and the cost that no plan undercuts."""

    def __init__(
        self, task: CuttingTask, limits: Limits, stopped: Callable[[], bool], told: Callable[[int, int], None]
    ) -> None:
        self.task = task
        self.limits = limits
        self.stopped = stopped
        self.told = told
        self.until = time.monotonic() + limits.seconds
        self.rounds = 0
        self.bars: Bars = first_fit(task)
        self.cost = task.cost_of(self.bars)
        self.least = least_cost(task)
        # What bars are worth. A load's worth is whole, so rounding these down lets no load pass that was held before.
        self.worths = tuple(WORTH * cost // task.costs[-1] for cost in task.costs)

    def run(self) -> None:
        """Better the bars and the bound until they meet, or a limit is reached."""
        self.master = _Master(self.task)
        for place, (width, count) in enumerate(zip(self.task.widths, self.task.counts, strict=True)):
            self.master.add(((place, 1),))
            self.master.add(((place, min(count, self.task.rooms[-1] // width)),))
        for load, _ in self.bars:
            self.master.add(load)
        prices = self._price_all()
        self._dive(None)
        self._search_all(prices, SOME_STEPS)
        for seed in range(MOST_DIVES):
            if not self._must_stop():
                self._dive(Random(seed))
        before = self.cost + 1
        while self.cost < before:
            before = self.cost
            self._search_all(prices, MOST_STEPS)
            self._choose(prices)

    def _must_stop(self) -> bool:
        is_spent = self.rounds >= self.limits.rounds or time.monotonic() >= self.until
        return is_spent or self.cost <= self.least or self.stopped()

    def _count_round(self) -> bool:
        """Count a round of pricing; False when there may be no more."""
        if self._must_stop():
            return False
        self.rounds += 1
        self.told(self.rounds, self.limits.rounds)
        return True

    def _offer(self, bars: Bars) -> None:
        """Keep these bars if they cost less than the best, or as much in fewer patterns."""
        cost = self.task.cost_of(bars)
        if (cost, len({load for load, _ in bars})) < (self.cost, len({load for load, _ in self.bars})):
            self.bars, self.cost = tuple(bars), cost

    def _price_all(self) -> list[int]:
        """Price until no load is worth more than its bar, raising the bound; the prices that the bound rests on."""
        counts = self.task.counts
        best = [0] * len(counts)
        best_worth = 0
        while self._count_round() and (solved := self.master.solve()):
            prices = solved[1]
            found = [self._worth_more(prices, counts, bar, is_exact=True) for bar in range(len(self.worths))]
            # Lowered by the worst of the bars, the prices overvalue no load at all.
            over, under = max(
                ((most, worth) for (most, _), worth in zip(found, self.worths, strict=True)),
                key=lambda pair: Fraction(*pair),
            )
            if over > under:
                prices = [price * under // over for price in prices]
            worth = _total(prices, counts)
            if worth > best_worth:
                best, best_worth = prices, worth
                self._raise(ceil(Fraction(worth * self.task.costs[-1], WORTH)))
            if not self._add([load for _, loads in found for load in loads]):
                break
        return best

    def _raise(self, bound: int) -> None:
        if bound > self.least:
            self.least = next_cost(self.task, bound)

    def _add(self, loads: Sequence[Load]) -> bool:
        """Make all these loads known to the programme; whether any was new."""
        return bool([load for load in loads if self.master.add(load)])

    def _worth_more(
        self, prices: Sequence[int], left: Sequence[int], bar: int, is_exact: bool
    ) -> tuple[int, Sequence[Load]]:
        """What no load of `left` on a bar of this place is worth more than, and loads worth more than the bar."""
        room, worth = self.task.rooms[bar], self.worths[bar]
        floor = worth + worth // TOLERANCE
        knapsack = Knapsack(prices, self.task.widths, left, room, MOST_NODES)
        found = list(knapsack.loads_above(floor, is_rising=True))
        loads = [load for _, load in found[-MOST_LOADS_A_ROUND:]]
        if not knapsack.is_cut_short:
            return max([floor, *(value for value, _ in found)]), loads
        if is_exact and not found:
            tabled = richest_by_table(prices, self.task.widths, left, room, self._must_stop)
            if tabled:
                return max(floor, tabled[0]), [tabled[1]] if tabled[0] > floor else []
        return max(floor, knapsack.upper), loads

    def _dive(self, chance: Random | None) -> None:
        """Fix the loads used once or more by the programme, price the rest again, and so on down to no piece.

        Where chance has a say, fewer are fixed at once, and of the likely ones not always the likeliest.
        """
        left, fixed = list(self.task.counts), list[tuple[Load, int]]()
        self.master.want(left)
        while any(left):
            values: list[float] = []
            for _ in range(MOST_ROUNDS_OF_A_REST):
                if not self._count_round() or not (solved := self.master.solve()):
                    return
                values, prices = solved
                bars = range(len(self.worths))
                found = [load for bar in bars for load in self._worth_more(prices, left, bar, is_exact=False)[1]]
                if not self._add(found):
                    break
            share = chance.uniform(0.5, 1.0) if chance else 1.0
            sure = [(load, int(value * share + WHOLE)) for load, value in zip(self.master.loads, values, strict=False)]
            if not any(times for _, times in sure):
                most = max(values)
                likely = [column for column, value in enumerate(values) if value >= most * share]
                sure = [(self.master.loads[chance.choice(likely) if chance else likely[0]], 1)]
            fixed += _taken(sure, left)
            rest = replace(self.task, counts=tuple(left))
            self._offer([*fixed, *first_fit(rest)])
            self.master.want(left)

    def _search_all(self, prices: Sequence[int], most_steps: int) -> None:
        """Look for a cheaper plan among all there are; where there is none and all were seen, the best is proved."""
        total = _total(prices, self.task.counts)
        while not self._must_stop() and sum(times for _, times in self.bars) <= MOST_BARS_SEARCHED:
            to_lose = WORTH * (self.cost - 1) // self.task.costs[-1] - total
            every = _EveryPlan(self.task, self.worths, prices, most_steps, self._must_stop)
            found = every.within(self.task.counts, to_lose)
            if found is None:
                if not every.is_cut_short:
                    self.least = self.cost
                return
            self._offer([(load, 1) for load in found])

    def _choose(self, prices: Sequence[int]) -> None:
        """Let HiGHS choose whole bars from the loads known and from all others that a cheaper plan may hold."""
        if self._must_stop():
            return
        from highspy import HighsVarType

        to_lose = WORTH * (self.cost - 1) // self.task.costs[-1] - _total(prices, self.task.counts)
        others: list[tuple[int, Load]] = []
        for room, worth in zip(self.task.rooms, self.worths, strict=True):
            knapsack = Knapsack(prices, self.task.widths, self.task.counts, room, MOST_NODES_WEIGHED)
            found = knapsack.loads_above(worth - to_lose - 1, is_rising=False)
            others += [(worth - value, load) for value, load in found if load not in self.master.known]
        self._add([load for _, load in sorted(set(others))[:MOST_LOADS_WEIGHED]])
        highs = _programme(self.task)
        for column, load in enumerate(self.master.loads):
            _add_column(highs, self.task, load)
            highs.changeColIntegrality(column, HighsVarType.kInteger)
        highs.setOptionValue("time_limit", max(0.1, self.until - time.monotonic()))
        highs.setOptionValue("mip_max_nodes", MOST_BRANCHES)
        highs.setOptionValue("objective_target", self.least / self.task.costs[-1] + WHOLE)
        highs.cbMipInterrupt.subscribe(lambda event: event.interrupt(self._must_stop()))
        highs.run()
        values = list(highs.getSolution().col_value)
        # Whatever HiGHS says is taken as advice: it is cut to the pieces wanted, and what it lacks is made up.
        left = list(self.task.counts)
        bars = _taken([(load, round(value)) for load, value in zip(self.master.loads, values, strict=False)], left)
        self._offer([*bars, *first_fit(replace(self.task, counts=tuple(left)))])


class _EveryPlan:
    """An exhaustive search for a plan: bar by bar, each with the longest piece left, each as full as can be.

    Exact prices keep it small: a bar loses what its load is worth less than itself, and no plan may lose more than
    its cost leaves to lose. `is_cut_short` tells that not all plans were seen.
    """

    def __init__(
        self,
        task: CuttingTask,
        worths: Sequence[int],
        prices: Sequence[int],
        most_steps: int,
        must_stop: Callable[[], bool],
    ) -> None:
        self.task, self.worths, self.prices, self.must_stop = task, worths, prices, must_stop
        self.steps_left = most_steps
        self.is_cut_short = False
        self.hopeless: dict[tuple[int, ...], int] = {}

    def within(self, left: tuple[int, ...], to_lose: int) -> list[Load] | None:
        """Loads that cut just what is left and lose no more than `to_lose`; None if there are none, or none was met."""
        if to_lose < 0 or self.hopeless.get(left, -1) >= to_lose:
            return None
        if not any(left):
            return []
        for loss, load in self._loads(left, to_lose):
            rest = list(left)
            for place, number in load:
                rest[place] -= number
            found = self.within(tuple(rest), to_lose - loss)
            if found is not None:
                return [load, *found]
            if self.is_cut_short:
                return None
        self.hopeless[left] = to_lose
        return None

    def _loads(self, left: tuple[int, ...], to_lose: int) -> list[tuple[int, Load]]:
        """All loads with the longest piece left that lose at most this, as (loss, load), the least loss first."""
        longest = next(place for place, count in enumerate(left) if count)
        others = [count - (place == longest) for place, count in enumerate(left)]
        width, price = self.task.widths[longest], self.prices[longest]
        found: list[tuple[int, Load]] = []
        shorter = 0
        for room, worth in zip(self.task.rooms, self.worths, strict=True):
            if width <= room:
                knapsack = Knapsack(self.prices, self.task.widths, others, room - width, max(1, self.steps_left))
                above = knapsack.loads_above(worth - to_lose - price - 1, is_rising=False)
                loads: list[tuple[int, Load]] = [(price, ((longest, 1),))]
                for value, load in islice(above, MOST_LOADS_OF_A_BAR):
                    numbers = dict(load)
                    numbers[longest] = numbers.get(longest, 0) + 1
                    loads.append((price + value, tuple(sorted(numbers.items()))))
                found += [
                    (worth - value, load)
                    for value, load in loads
                    if worth - value <= to_lose and self._fills(load, left, room, shorter)
                ]
                self.steps_left -= knapsack.steps + len(left)
                is_full = len(loads) > MOST_LOADS_OF_A_BAR or knapsack.is_cut_short
                self.is_cut_short |= is_full or self.steps_left < 0 or self.must_stop()
            shorter = room
        return [] if self.is_cut_short else sorted(found)

    def _fills(self, load: Load, left: tuple[int, ...], room: int, shorter: int) -> bool:
        """Whether no piece left still fits, and no shorter bar would do."""
        numbers = dict(load)
        rest = room - sum(self.task.widths[place] * number for place, number in load)
        narrowest = next(
            (self.task.widths[place] for place in reversed(range(len(left))) if left[place] > numbers.get(place, 0)),
            rest + 1,
        )
        return rest < narrowest and room - rest > shorter


def _total(prices: Sequence[int], counts: Sequence[int]) -> int:
    """What all the pieces are worth."""
    return sum(price * count for price, count in zip(prices, counts, strict=True))


def _times(load: Load, left: Sequence[int]) -> int:
    """How many bars of a load the pieces left make."""
    return min(left[place] // number for place, number in load)


def _taken(bars: Bars, left: list[int]) -> list[tuple[Load, int]]:
    """These (load, times) as far as there are pieces for them, the last bar short of some; `left` is what remains."""
    taken: list[tuple[Load, int]] = []
    for load, times in bars:
        wanted = times
        while wanted > 0:
            part = tuple((place, min(number, left[place])) for place, number in load if left[place])
            if not part:
                break
            alike = min(wanted, _times(part, left))
            for place, number in part:
                left[place] -= number * alike
            taken.append((part, alike))
            wanted -= alike
    return taken


def _programme(task: CuttingTask) -> highspy.Highs:
    """The programme that wants the pieces and knows no load yet; one thread and one seed, so that it repeats itself."""
    from highspy import Highs

    highs = Highs()  # type: ignore[no-untyped-call]
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("threads", 1)
    highs.setOptionValue("random_seed", 0)
    for count in task.counts:
        highs.addRow(float(count), highs.inf, 0, [], [])
    return highs


def _add_column(highs: highspy.Highs, task: CuttingTask, load: Load) -> None:
    cost = task.costs[task.bar_for(load)] / task.costs[-1]
    places, numbers = [place for place, _ in load], [float(number) for _, number in load]
    highs.addCol(cost, 0.0, highs.inf, len(load), places, numbers)
