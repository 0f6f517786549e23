"""The exact cutting list against exhaustive search, its proof, its stopping, and what it loads and prints."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.core.cutting import CuttingPlan, CuttingRules, PieceWanted, first_fit_plan, problems
from specreg.solvers.cutting_stock import Limits, cut_stock
from specreg.solvers.knapsack import Knapsack, richest_by_table
from tests.architecture.fresh import ROOT

FEW = st.lists(st.tuples(st.integers(20, 130), st.integers(1, 3)), min_size=1, max_size=6)


def listed(wanted: Sequence[tuple[int, int]]) -> list[PieceWanted]:
    """Pieces by (half millimetres, count)."""
    return [PieceWanted(f"{place % 4}", Fraction(length, 2), count) for place, (length, count) in enumerate(wanted)]


def ruled(stock: Sequence[int], kerf: Fraction = Fraction(0), trim: int = 0, grip: int = 0) -> CuttingRules:
    """Rules for bars of these lengths."""
    return CuttingRules(tuple(map(Fraction, stock)), kerf, Fraction(trim), Fraction(grip), Fraction(10))


def least_by_every_way(wanted: Sequence[PieceWanted], rules: CuttingRules) -> Fraction:
    """The least stock length by trying every set of pieces as a bar: nothing is shared with the program."""
    single = [piece.length for piece in wanted for _ in range(piece.count)]
    full = (1 << len(single)) - 1
    bar: dict[int, Fraction] = {}
    for some in range(1, full + 1):
        lengths = [length for place, length in enumerate(single) if some >> place & 1]
        taken = rules.end_trim + rules.chuck_grip + sum(lengths) + rules.kerf * (len(lengths) - 1)
        fitting = [stock for stock in rules.stock if taken <= stock]
        if fitting:
            bar[some] = min(fitting)
    best: dict[int, Fraction] = {0: Fraction(0)}
    for some in range(1, full + 1):
        first, rest = some & -some, some & (some - 1)
        part = rest
        while True:
            if first | part in bar and rest ^ part in best:
                cost = bar[first | part] + best[rest ^ part]
                best[some] = min(best.get(some, cost), cost)
            if not part:
                break
            part = (part - 1) & rest
    return best[full]


def hard_list(lengths: int = 40, count: int = 10) -> tuple[list[PieceWanted], CuttingRules]:
    """A list where first fit decreasing is bars away from the least: three pieces fill a bar, two of them never."""
    wanted = [PieceWanted(f"{n}", Fraction(1200 + (n * 467) % 1200), count) for n in range(lengths)]
    return wanted, ruled([6000], kerf=Fraction(3))


@settings(max_examples=150, deadline=None)
@given(
    FEW.filter(lambda wanted: sum(count for _, count in wanted) <= 9),
    st.lists(st.integers(85, 170), min_size=1, max_size=3),
    st.integers(0, 20),
    st.integers(0, 10),
    st.integers(0, 10),
)
def test_the_plan_is_the_least_of_all(
    wanted: list[tuple[int, int]], stock: list[int], kerf: int, trim: int, grip: int
) -> None:
    pieces, rules = listed(wanted), ruled(stock, Fraction(kerf, 4), trim, grip)
    plan = cut_stock(pieces, rules)
    assert problems(plan, pieces, rules) == ()
    assert plan.is_proved
    assert plan.bought == least_by_every_way(pieces, rules)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.integers(20, 200), st.integers(1, 30)), min_size=3, max_size=15),
    st.integers(100, 140),
    st.integers(0, 8),
    st.integers(0, 6),
)
def test_no_bound_passes_a_plan_and_no_plan_is_worse_than_first_fit(
    wanted: list[tuple[int, int]], stock: int, kerf: int, rounds: int
) -> None:
    pieces, rules = listed(wanted), ruled([stock], Fraction(kerf, 4))
    whole, early = cut_stock(pieces, rules), cut_stock(pieces, rules, Limits(rounds=rounds))
    quick = first_fit_plan(pieces, rules)
    for plan in (whole, early):
        assert problems(plan, pieces, rules) == ()
        assert plan.bought <= quick.bought
        assert plan.least >= quick.least
    assert early.least <= whole.bought
    assert whole.least <= early.bought


def test_a_bar_too_full_for_the_simple_bounds_is_proved_by_search() -> None:
    # Two bars of 132 hold the metal of this list (259), and yet it takes three.
    pieces = [PieceWanted(f"{length}", Fraction(length), count) for length, count in ((44, 2), (33, 3), (12, 6))]
    assert first_fit_plan(pieces, ruled([132])).least_bars == 2
    plan = cut_stock(pieces, ruled([132]))
    assert (plan.bars, plan.least_bars, plan.is_proved) == (3, 3, True)


def test_several_stock_lengths_mix() -> None:
    # 2 × 3400 from 7000, and 3400 + 2500 from 6000: 13 000 in all. Bars of one length come to 14 000 at the least.
    pieces = [PieceWanted("a", Fraction(3400), 3), PieceWanted("b", Fraction(2500), 1)]
    plan = cut_stock(pieces, ruled([6000, 7000]))
    assert plan.bars_by_stock == ((Fraction(6000), 1), (Fraction(7000), 1))
    assert plan.is_proved
    assert [cut_stock(pieces, ruled([stock])).bought for stock in (6000, 7000)] == [18000, 14000]


def test_several_stock_lengths_come_within_one_step_of_the_bound() -> None:
    # Bars of 6000, 7000 and 9500 add up in steps of 500; this list needs every means there is, and 112 500 can be had.
    wanted = (
        (1574, 6),
        (2330, 5),
        (2142, 6),
        (1289, 3),
        (1573, 4),
        (2335, 3),
        (1663, 7),
        (2589, 7),
        (1570, 7),
        (2474, 8),
    )
    pieces = [PieceWanted(f"{length}", Fraction(length), count) for length, count in wanted]
    rules = ruled([6000, 7000, 9500], Fraction(3))
    plan = cut_stock(pieces, rules)
    assert problems(plan, pieces, rules) == ()
    assert plan.least <= 112500 <= plan.bought
    assert plan.gap <= 500


@pytest.mark.parametrize(("grip", "bars"), [(0, 6), (5, 6), (6, 8), (1005, 8), (1006, 9)])
def test_the_grip_decides_how_many_pieces_a_bar_gives(grip: int, bars: int) -> None:
    # 6 × 995 + 5 × 5 = 5995 of a bar of 6000: a grip of 6 costs a piece a bar.
    plan = cut_stock([PieceWanted("a", Fraction(995), 36)], ruled([6000], Fraction(5), grip=grip))
    assert (plan.bars, plan.is_proved) == (bars, True)


def test_pieces_too_long_do_not_stop_the_rest() -> None:
    pieces, rules = hard_list()
    plan = cut_stock([*pieces, PieceWanted("long", Fraction(6001), 4)], rules)
    assert [piece.label for piece in plan.pieces_too_long] == ["long"]
    assert plan.bought == cut_stock(pieces, rules).bought
    assert problems(plan, [*pieces, PieceWanted("long", Fraction(6001), 4)], rules) == ()


def test_the_same_list_gives_the_same_plan() -> None:
    pieces, rules = hard_list()
    assert cut_stock(pieces, rules) == cut_stock(pieces, rules)


def test_a_hard_list_is_bettered_and_proved() -> None:
    pieces, rules = hard_list()
    quick, plan = first_fit_plan(pieces, rules), cut_stock(pieces, rules)
    assert plan.bars < quick.bars
    assert plan.is_proved
    assert problems(plan, pieces, rules) == ()


@pytest.mark.parametrize("most", [0, 1, 5, 20, 60, 200])
def test_stopped_at_any_time_it_gives_a_sound_plan(most: int) -> None:
    pieces, rules = hard_list()
    asked = 0

    def stopped() -> bool:
        nonlocal asked
        asked += 1
        return asked > most

    plan = cut_stock(pieces, rules, stopped=stopped)
    assert problems(plan, pieces, rules) == ()
    assert plan.gap >= 0
    assert plan.bars <= first_fit_plan(pieces, rules).bars
    assert plan.least <= cut_stock(pieces, rules).bought


@pytest.mark.parametrize("limits", [Limits(seconds=0), Limits(rounds=0)])
def test_without_time_or_rounds_first_fit_and_its_gap_come_back(limits: Limits) -> None:
    pieces, rules = hard_list()
    plan, quick = cut_stock(pieces, rules, limits), first_fit_plan(pieces, rules)
    assert (plan.bars, plan.is_proved) == (quick.bars, False)
    assert plan.gap == plan.bought - plan.least > 0


def test_progress_only_grows_and_ends_full() -> None:
    pieces, rules = hard_list()
    told: list[tuple[int, int]] = []
    cut_stock(pieces, rules, told=lambda done, of: told.append((done, of)))
    assert told == sorted(told)
    assert {of for _, of in told} == {Limits().rounds}
    assert told[0][0] == 1
    assert told[-1][0] == Limits().rounds


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str]) -> None:
    pieces, rules = hard_list()
    cut_stock(pieces, rules)
    assert capfd.readouterr() == ("", "")


def test_the_library_is_loaded_only_where_first_fit_does_not_settle_it() -> None:
    asked = """
import sys
from fractions import Fraction
from specreg.core.cutting import CuttingRules, PieceWanted
from specreg.solvers.cutting_stock import cut_stock
nought = Fraction(0)
rules = CuttingRules((Fraction(6000),), nought, nought, nought, nought)
cut_stock([PieceWanted("a", Fraction(1000), 12)], rules)
print("highspy" in sys.modules, "numpy" in sys.modules)
cut_stock([PieceWanted(str(n), Fraction(1200 + n * 467 % 1200), 10) for n in range(40)], rules)
print("highspy" in sys.modules)
"""
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stdout.split() == ["False", "False", "True"]


@settings(deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 60), st.integers(1, 30), st.integers(0, 3)), min_size=1, max_size=5),
    st.integers(1, 60),
    st.integers(0, 100),
)
def test_knapsacks_against_every_load(kinds: list[tuple[int, int, int]], room: int, floor: int) -> None:
    prices, widths, counts = zip(*kinds, strict=True)
    every: dict[tuple[tuple[int, int], ...], int] = {}
    for numbers in product(*(range(count + 1) for count in counts)):
        if sum(number * width for number, width in zip(numbers, widths, strict=True)) <= room:
            load = tuple((place, number) for place, number in enumerate(numbers) if number)
            every[load] = sum(number * price for number, price in zip(numbers, prices, strict=True))
    most = max(every.values())
    knapsack = Knapsack(prices, widths, counts, room, 10**6)
    above = {load: worth for worth, load in knapsack.loads_above(floor, is_rising=False)}
    # A load that leaves out a piece worth nothing is no other plan, but is met all the same.
    assert above == {load: worth for load, worth in every.items() if worth > floor and load}
    rising = [worth for worth, _ in Knapsack(prices, widths, counts, room, 10**6).loads_above(floor, is_rising=True)]
    assert rising == sorted(set(rising))
    assert (rising[-1] if rising else None) == (most if most > floor else None)
    assert most <= knapsack.upper
    tabled = richest_by_table(prices, widths, counts, room, lambda: False)
    assert tabled is not None
    assert tabled[0] == most == every[tabled[1]]


def test_a_table_told_to_stop_says_nothing() -> None:
    yes: Callable[[], bool] = lambda: True  # noqa: E731
    assert richest_by_table([5], [2], [3], 10, yes) is None
    assert richest_by_table([5], [2], [3], 10**10, lambda: False) is None


def test_lengths_too_fine_for_the_table_still_get_a_sound_bound() -> None:
    # Thirds and elevenths of a millimetre with a kerf in inches: a bar has millions of units.
    pieces = [PieceWanted(f"{n}", Fraction(1500) + Fraction(n * 997, 33), 8) for n in range(30)]
    rules = ruled([6000], Fraction(127, 40))
    plan: CuttingPlan = cut_stock(pieces, rules)
    assert problems(plan, pieces, rules) == ()
    assert plan.least >= first_fit_plan(pieces, rules).least
