"""Pieces of bar, tube and section cut from stock lengths: the rules, a plan, simple bounds, an independent check.

A bar gives the pieces p1 to pn when end trim + chuck grip + p1 + ... + pn + kerf × (n − 1) is at most its length. The
cut that parts the last piece from the offcut eats from the offcut, so 6 pieces of 40 in. come out of 240 in. only
without kerf. All lengths are exact, in millimetres. What is longer than any bar can give is listed, never left out.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from math import ceil, gcd, lcm

from specreg.core.counts import so_many
from specreg.core.errors import WrongUse

Load = tuple[tuple[int, int], ...]
"""What one bar gives: (place in `CuttingTask.lengths`, pieces), in the order of the places, no pieces of nought."""

MOST_STEPS = 1_000_000
"""Beyond so many units of stock length a bound is no longer raised to the next sum that bars can make."""


@dataclass(frozen=True, slots=True)
class PieceWanted:
    """So many pieces of one length under one label, such as the item's number. Raises WrongUse for no length."""

    label: str
    length: Fraction
    count: int

    def __post_init__(self) -> None:
        if self.length <= 0 or self.count < 0:
            raise WrongUse(
                f"Cutting {so_many(self.count, 'piece')} of {millimetres(self.length)} for {self.label or 'no item'}",
                "a piece has a length above nought, and its number is not below it",
                "Correct the length or the number",
            )


@dataclass(frozen=True, slots=True)
class CuttingRules:
    """How bars are cut, in millimetres.

    `stock` are the lengths bars come in, `kerf` the width of one cut, `end_trim` what is cropped from a bar before its
    first piece, `chuck_grip` the end that the chuck holds and that is never cut up, `keep_offcut` the shortest offcut
    worth keeping. Raises WrongUse for a measure below nought, for no stock, and for a bar that trim and grip use up.
    """

    stock: tuple[Fraction, ...]
    kerf: Fraction
    end_trim: Fraction
    chuck_grip: Fraction
    keep_offcut: Fraction

    def __post_init__(self) -> None:
        if not self.stock:
            raise WrongUse("Cutting bars", "no stock length is given", "Give the length of the bars")
        for name in ("kerf", "end_trim", "chuck_grip", "keep_offcut"):
            if getattr(self, name) < 0:
                said = f"{name.replace('_', ' ')} of {millimetres(getattr(self, name))}"
                raise WrongUse(f"Cutting with {said}", "it is below nought", "Give nought or more")
        for length in self.stock:
            if length <= self.lost:
                raise WrongUse(
                    f"Cutting bars of {millimetres(length)}",
                    f"end trim and chuck grip already take {millimetres(self.lost)}",
                    "Give longer bars, or less trim and grip",
                )

    @property
    def lost(self) -> Fraction:
        """What no piece can be cut from: end trim and chuck grip together."""
        return self.end_trim + self.chuck_grip


@dataclass(frozen=True, slots=True)
class Pattern:
    """One way of cutting a bar, in millimetres: `times` bars of the length `stock`, each giving these `pieces`.

    A piece is (label, length, number in one bar), longest first. `offcut` is what is left of each bar beside the chuck
    grip when the last piece is parted off; `is_kept` says that it is long enough to go back into the rack.
    """

    stock: Fraction
    pieces: tuple[tuple[str, Fraction, int], ...]
    times: int
    offcut: Fraction
    is_kept: bool


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """All the bars of a cutting list, in millimetres, with how far they are proved to be the fewest.

    `bars_by_stock` is (stock length, bars), shortest first; `bought` their length together. No plan at all can do with
    less stock than `least`; with one stock length no plan can do with fewer bars than `least_bars`, else that is None.
    `used` is the length of all pieces, `kept` the offcuts worth keeping as (length, number), longest first.
    """

    patterns: tuple[Pattern, ...]
    bars_by_stock: tuple[tuple[Fraction, int], ...]
    pieces_too_long: tuple[PieceWanted, ...]
    least: Fraction
    least_bars: int | None
    used: Fraction
    kept: tuple[tuple[Fraction, int], ...]

    @property
    def bars(self) -> int:
        """Bars of all stock lengths."""
        return sum(bars for _, bars in self.bars_by_stock)

    @property
    def bought(self) -> Fraction:
        """The length of all bars."""
        return sum((length * bars for length, bars in self.bars_by_stock), Fraction(0))

    @property
    def gap(self) -> Fraction:
        """How much less stock could still do, as far as is known; nought when the plan is proved."""
        return self.bought - self.least

    @property
    def is_proved(self) -> bool:
        """Whether no plan can do with less stock; with one stock length, with fewer bars."""
        return self.gap == 0

    @property
    def wasted(self) -> Fraction:
        """What becomes neither piece nor kept offcut: kerf, trim, grip and scrap."""
        return self.bought - self.used - sum((length * number for length, number in self.kept), Fraction(0))


@dataclass(frozen=True, slots=True)
class CuttingTask:
    """A cutting list in whole numbers, which every way of solving it shares.

    `lengths` are the different lengths, longest first, with `counts` pieces of each. A piece takes its `widths` (length
    and one kerf) of the room of its bar; `stock` are the bars, shortest first, with `rooms` in the same unit (the last
    kerf needs no room, so it is added). Whole-number `costs` of the bars stand for their lengths by `cost_unit` mm.
    """

    lengths: tuple[Fraction, ...]
    counts: tuple[int, ...]
    widths: tuple[int, ...]
    stock: tuple[Fraction, ...]
    rooms: tuple[int, ...]
    costs: tuple[int, ...]
    cost_unit: Fraction

    def bar_for(self, load: Load) -> int:
        """The place of the shortest bar that gives this load, which must fit the longest."""
        return bisect_left(self.rooms, sum(self.widths[place] * number for place, number in load))

    def cost_of(self, loads: Iterable[tuple[Load, int]]) -> int:
        """What bars of these loads cost, each (load, times) on the shortest bar that gives it."""
        return sum(self.costs[self.bar_for(load)] * times for load, times in loads)


def millimetres(length: Fraction) -> str:
    """A length in words, exact to a thousandth: `6000 mm`, `1016 mm`, `3.175 mm`."""
    return f"{round(float(length), 3):.15g} mm"


def task_of(wanted: Sequence[PieceWanted], rules: CuttingRules) -> CuttingTask:
    """The pieces that some bar can give, gathered by length, in whole numbers."""
    counts: Counter[Fraction] = Counter()
    longest = max(rules.stock) - rules.lost
    for piece in wanted:
        if piece.count and piece.length <= longest:
            counts[Fraction(piece.length)] += piece.count
    lengths = sorted(counts, reverse=True)
    stock = sorted({Fraction(length) for length in rules.stock})
    cost_unit, costs = _whole(stock)
    widths = [length + rules.kerf for length in lengths]
    rooms = [length - rules.lost + rules.kerf for length in stock]
    # Only the widths share a divisor: what of a room is no multiple of it can never be used.
    unit, whole_widths = _whole(widths) if widths else (Fraction(1), ())
    return CuttingTask(
        tuple(lengths),
        tuple(counts[length] for length in lengths),
        whole_widths,
        tuple(stock),
        tuple(room // unit for room in rooms),
        costs,
        cost_unit,
    )


def least_cost(task: CuttingTask) -> int:
    """A cost that no plan undercuts: by material, and with one stock length by Martello and Toth's bound L2."""
    wanted = sum(width * count for width, count in zip(task.widths, task.counts, strict=True))
    if not wanted:
        return 0
    cheapest = min(Fraction(cost, room) for cost, room in zip(task.costs, task.rooms, strict=True) if room)
    found = ceil(wanted * cheapest)
    if len(task.stock) == 1:
        found = max(found, task.costs[0] * _bars_by_long_pieces(task.widths, task.counts, task.rooms[0]))
    return next_cost(task, found)


def next_cost(task: CuttingTask, least: int) -> int:
    """The least cost, not below `least`, that whole bars can come to; `least` itself where that is long to find."""
    top = least + task.costs[0]
    if len(task.costs) == 1:
        return ceil(Fraction(least, task.costs[0])) * task.costs[0]
    if top > MOST_STEPS:
        return least
    # Bit n stands for a cost of n: what the bars so far can come to, then with ever more of the next bar.
    reached = 1
    for cost in task.costs:
        step = cost
        while step <= top:
            reached |= (reached << step) & ((1 << (top + 1)) - 1)
            step *= 2
    above = reached >> least
    return least + (above & -above).bit_length() - 1


def first_fit(task: CuttingTask) -> list[tuple[Load, int]]:
    """Loads by first fit decreasing, as (load, bars): each stock length is tried for all that fit it, the best kept."""
    tries = [_first_fit_in(task, place) for place in range(len(task.stock))]
    return min(tries, key=task.cost_of)


def first_fit_plan(wanted: Sequence[PieceWanted], rules: CuttingRules) -> CuttingPlan:
    """A quick plan by first fit decreasing, with the simple bounds; often proved already."""
    task = task_of(wanted, rules)
    return plan_of(task, first_fit(task), least_cost(task), wanted, rules)


def plan_of(
    task: CuttingTask,
    loads: Sequence[tuple[Load, int]],
    least: int,
    wanted: Sequence[PieceWanted],
    rules: CuttingRules,
) -> CuttingPlan:
    """The plan of these loads, each (load, times), that together cut `task` exactly; `least` is the proved cost.

    Each load takes the shortest bar that gives it; the labels of one length are cut in the order of the list.
    """
    waiting: dict[Fraction, Counter[str]] = {length: Counter() for length in task.lengths}
    longest = max(rules.stock) - rules.lost
    for piece in wanted:
        if piece.count and piece.length <= longest:
            waiting[piece.length][piece.label] += piece.count
    named: Counter[tuple[Fraction, tuple[tuple[str, Fraction, int], ...]]] = Counter()
    for load, times in sorted(loads, key=lambda one: [(place, -number) for place, number in one[0]]):
        stock, left = task.stock[task.bar_for(load)], times
        while left:
            pieces, alike = _labelled([(task.lengths[place], number) for place, number in load], left, waiting)
            named[stock, pieces] += alike
            left -= alike
    patterns = tuple(_pattern(stock, pieces, times, rules) for (stock, pieces), times in named.items())
    bars: Counter[Fraction] = Counter()
    kept: Counter[Fraction] = Counter()
    for pattern in patterns:
        bars[pattern.stock] += pattern.times
        if pattern.is_kept:
            kept[pattern.offcut] += pattern.times
    return CuttingPlan(
        patterns,
        tuple(sorted(bars.items())),
        tuple(piece for piece in wanted if piece.count and piece.length > longest),
        least * task.cost_unit,
        least // task.costs[0] if len(task.stock) == 1 else None,
        sum((length * count for length, count in zip(task.lengths, task.counts, strict=True)), Fraction(0)),
        tuple(sorted(kept.items(), reverse=True)),
    )


def problems(plan: CuttingPlan, wanted: Sequence[PieceWanted], rules: CuttingRules) -> tuple[str, ...]:
    """What is wrong with a plan, in words, checked from the bars up by none of the reckoning above; empty if sound."""
    found: list[str] = []
    cut: Counter[tuple[str, Fraction]] = Counter()
    for number, pattern in enumerate(plan.patterns, 1):
        found += [f"pattern {number}: {said}" for said in _pattern_problems(pattern, rules)]
        for label, length, count in pattern.pieces:
            cut[label, length] += count * pattern.times
    longest = max(rules.stock) - rules.end_trim - rules.chuck_grip
    for piece in plan.pieces_too_long:
        cut[piece.label, piece.length] += piece.count
        if piece.length <= longest:
            found.append(f"{piece.label}: {millimetres(piece.length)} is listed as too long, but a bar gives it")
    asked: Counter[tuple[str, Fraction]] = Counter()
    for piece in wanted:
        asked[piece.label, piece.length] += piece.count
    for label, length in sorted(asked.keys() | cut.keys()):
        if asked[label, length] != cut[label, length]:
            wrong = f"{cut[label, length]} are cut of {asked[label, length]} wanted"
            found.append(f"{label}: of {millimetres(length)} {wrong}")
    bought = sum(pattern.stock * pattern.times for pattern in plan.patterns)
    if bought != plan.bought or sum(pattern.times for pattern in plan.patterns) != plan.bars:
        found.append("the bars are not those of the patterns")
    if plan.used != sum(count * length * one.times for one in plan.patterns for _, length, count in one.pieces):
        found.append("the length used is not that of the pieces")
    if sum(length * count for length, count in plan.kept) != sum(
        one.offcut * one.times for one in plan.patterns if one.is_kept
    ):
        found.append("the offcuts kept are not those of the patterns")
    if plan.least > bought:
        found.append("the plan does with less stock than it says that any plan can")
    return tuple(found)


def _pattern_problems(pattern: Pattern, rules: CuttingRules) -> list[str]:
    found: list[str] = []
    numbers = [count for _, _, count in pattern.pieces]
    if pattern.stock not in rules.stock:
        found.append(f"no bars of {millimetres(pattern.stock)} are given")
    if pattern.times < 1 or not numbers or min(numbers) < 1:
        found.append("it cuts no bar or no piece")
    taken = sum(length * count for _, length, count in pattern.pieces)
    taken += rules.end_trim + rules.chuck_grip + rules.kerf * (sum(numbers) - 1)
    if taken > pattern.stock:
        found.append(f"it takes {millimetres(taken)} of a bar of {millimetres(pattern.stock)}")
    if pattern.offcut != max(Fraction(0), pattern.stock - taken - rules.kerf):
        found.append(f"its offcut is not {millimetres(pattern.offcut)}")
    if pattern.is_kept != (pattern.offcut > 0 and pattern.offcut >= rules.keep_offcut):
        found.append("it keeps a short offcut or scraps a long one")
    return found


def _whole(lengths: Sequence[Fraction]) -> tuple[Fraction, tuple[int, ...]]:
    """The greatest unit that all these lengths are multiples of, and the multiples."""
    under = lcm(*(length.denominator for length in lengths))
    over = [int(length * under) for length in lengths]
    divisor = gcd(*over)
    return Fraction(divisor, under), tuple(length // divisor for length in over)


def _bars_by_long_pieces(widths: Sequence[int], counts: Sequence[int], room: int) -> int:
    """The bound L2 of Martello and Toth (1990), in bars of `room`; widths fall.

    For every limit: pieces that leave less than the limit stand alone, those over half a bar have a bar each, and what
    the pieces from the limit to one half need beyond the room these leave takes further bars.
    """
    rising, numbers = list(reversed(widths)), list(reversed(counts))
    pieces = [0, *accumulate(numbers)]
    sums = [0, *accumulate(width * number for width, number in zip(rising, numbers, strict=True))]
    half = bisect_right(rising, room // 2)
    best = 0
    for limit in [0, *rising[:half]]:
        alone, short = bisect_right(rising, room - limit), bisect_left(rising, limit)
        shared = pieces[alone] - pieces[half]
        over = sums[half] - sums[short] - (shared * room - (sums[alone] - sums[half]))
        best = max(best, pieces[-1] - pieces[half] + max(0, -(-over // room)))
    return best


def _first_fit_in(task: CuttingTask, bar: int) -> list[tuple[Load, int]]:
    """First fit decreasing in bars of this place; what is too long for them goes on the shortest longer bar.

    Bars filled alike so far stay together, so the work grows with the different lengths and not with the pieces.
    """
    groups: list[tuple[int, Load, int]] = []
    for place, (width, count) in enumerate(zip(task.widths, task.counts, strict=True)):
        left, filled = count, []
        for room, load, times in groups:
            fit = min(room // width, left)
            if not fit:
                filled.append((room, load, times))
                continue
            full = min(left // fit, times)
            filled.append((room - fit * width, (*load, (place, fit)), full))
            left -= fit * full
            if full < times and left:
                filled.append((room - left * width, (*load, (place, left)), 1))
                full, left = full + 1, 0
            if full < times:
                filled.append((room, load, times - full))
        room = task.rooms[max(bar, bisect_left(task.rooms, width))]
        whole, rest = divmod(left, room // width)
        if whole:
            filled.append((room - room // width * width, ((place, room // width),), whole))
        if rest:
            filled.append((room - rest * width, ((place, rest),), 1))
        groups = filled
    return [(load, times) for _, load, times in groups]


def _labelled(
    pieces: Sequence[tuple[Fraction, int]], times: int, waiting: dict[Fraction, Counter[str]]
) -> tuple[tuple[tuple[str, Fraction, int], ...], int]:
    """The labels of the next bar of these (length, number), and how many of `times` bars get just these.

    What the bars get is taken from `waiting`, the pieces of each length by label.
    """
    shares: list[tuple[str, Fraction, int]] = []
    alike = times
    for length, number in pieces:
        left = number
        for label, count in waiting[length].items():
            share = min(left, count)
            shares.append((label, length, share))
            # Only a label that fills its whole place in the bar can fill it in the next bar too.
            alike = min(alike, count // number if share == number else 1)
            left -= share
            if not left:
                break
    for label, length, share in shares:
        waiting[length][label] -= share * alike
        if not waiting[length][label]:
            del waiting[length][label]
    return tuple(shares), alike


def _pattern(
    stock: Fraction, pieces: tuple[tuple[str, Fraction, int], ...], times: int, rules: CuttingRules
) -> Pattern:
    number = sum(count for _, _, count in pieces)
    taken = rules.lost + rules.kerf * number + sum(length * count for _, length, count in pieces)
    offcut = max(Fraction(0), stock - taken)
    return Pattern(stock, pieces, times, offcut, offcut > 0 and offcut >= rules.keep_offcut)
