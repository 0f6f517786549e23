"""Cutting lists: the rules, first fit, the simple bounds, the labels and the check of a plan."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.cutting import (
    CuttingRules,
    PieceWanted,
    first_fit_plan,
    least_cost,
    millimetres,
    next_cost,
    problems,
    task_of,
)
from specreg.core.errors import WrongUse

NOUGHT = Fraction(0)


def rules(
    *stock: float, kerf: Fraction = NOUGHT, trim: int = 0, grip: int = 0, keep: Fraction = Fraction(300)
) -> CuttingRules:
    """Rules with everything at nought that is not named."""
    return CuttingRules(tuple(Fraction(one) for one in stock), kerf, Fraction(trim), Fraction(grip), keep)


def pieces(**wanted: tuple[float, int]) -> list[PieceWanted]:
    """Pieces by label, each (length, count)."""
    return [PieceWanted(label, Fraction(length), count) for label, (length, count) in wanted.items()]


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        (rules, "no stock length is given"),
        (lambda: rules(6000, kerf=Fraction(-1)), "Cutting with kerf of -1 mm: it is below nought"),
        (lambda: rules(6000, keep=Fraction(-300)), "Cutting with keep offcut of -300 mm"),
        (
            lambda: rules(6000, 150, trim=50, grip=100),
            "Cutting bars of 150 mm: end trim and chuck grip already take 150",
        ),
        (lambda: PieceWanted("4.1.2", NOUGHT, 1), "Cutting 1 piece of 0 mm for 4.1.2"),
        (lambda: PieceWanted("4.1.2", Fraction(10), -1), "its number is not below it"),
    ],
)
def test_nonsense_is_refused_with_the_reason(asked: object, why: str) -> None:
    with pytest.raises(WrongUse, match=why) as refused:
        asked()  # type: ignore[operator]
    assert refused.value.asked
    assert refused.value.do


def test_lengths_are_said_without_a_tail_of_noughts() -> None:
    said = [millimetres(Fraction(one)) for one in ("6000", "1016", "127/40", "1/3", "12345678")]
    assert said == ["6000 mm", "1016 mm", "3.175 mm", "0.333 mm", "12345678 mm"]


@pytest.mark.parametrize(
    ("kerf", "stock", "given", "offcut"),
    [
        (0, 300, 3, 0),
        (5, 310, 3, 0),  # two cuts: nothing is left to part the third piece from
        (5, 309, 2, 99),  # a third piece lacks 1 mm; the second cut eats from what is left
        (5, 312, 3, 0),  # less is left than the cut that frees the last piece
        (5, 320, 3, 5),
    ],
)
def test_the_last_cut_eats_from_the_offcut(kerf: int, stock: int, given: int, offcut: int) -> None:
    wanted, cut = pieces(a=(100, 3)), rules(stock, kerf=Fraction(kerf))
    plan = first_fit_plan(wanted, cut)
    assert plan.patterns[0].pieces == (("a", 100, given),)
    assert plan.patterns[0].offcut == offcut
    assert problems(plan, wanted, cut) == ()


def test_a_kerf_wider_than_the_offcut_leaves_none() -> None:
    plan = first_fit_plan(pieces(a=(98, 1)), rules(100, kerf=Fraction(5), keep=NOUGHT))
    assert (plan.patterns[0].offcut, plan.kept, plan.wasted) == (0, (), 2)


def test_trim_and_grip_are_lost_on_every_bar() -> None:
    wanted = pieces(a=(1000, 12))
    free, held = rules(6000), rules(6000, trim=10, grip=150)
    assert first_fit_plan(wanted, free).bars == 2
    plan = first_fit_plan(wanted, held)
    assert (plan.bars, plan.least_bars, plan.is_proved) == (3, 3, True)
    assert plan.kept == ((Fraction(3840), 1), (Fraction(840), 2))
    assert plan.wasted == 3 * 160
    assert problems(plan, wanted, held) == ()


def test_offcuts_are_kept_from_the_length_that_is_worth_it() -> None:
    for keep, kept in ((999, True), (1000, True), (1001, False), (0, True)):
        plan = first_fit_plan(pieces(a=(5000, 1)), rules(6000, keep=Fraction(keep)))
        assert (plan.patterns[0].is_kept, bool(plan.kept)) == (kept, kept)
        assert plan.wasted == (0 if kept else 1000)


def test_what_is_longer_than_any_bar_is_listed() -> None:
    wanted = pieces(long=(5901, 2), just=(5900, 1), none=(7000, 0))
    plan = first_fit_plan(wanted, rules(5000, 6000, grip=100))
    assert plan.pieces_too_long == (wanted[0],)
    assert (plan.bars, plan.used) == (1, 5900)
    assert problems(plan, wanted, rules(5000, 6000, grip=100)) == ()


def test_nothing_wanted_takes_no_bar() -> None:
    plan = first_fit_plan([], rules(6000))
    assert (plan.bars, plan.bought, plan.least_bars, plan.is_proved, plan.wasted) == (0, 0, 0, True, 0)


def test_labels_of_one_length_are_cut_in_their_order() -> None:
    wanted = pieces(a=(1000, 7), b=(1000, 8), c=(1000, 1))
    plan = first_fit_plan(wanted, rules(4000))
    assert [(pattern.times, [(label, count) for label, _, count in pattern.pieces]) for pattern in plan.patterns] == [
        (1, [("a", 4)]),
        (1, [("a", 3), ("b", 1)]),
        (1, [("b", 4)]),
        (1, [("b", 3), ("c", 1)]),
    ]


def test_several_stock_lengths_take_the_shortest_bar_that_does() -> None:
    plan = first_fit_plan(pieces(a=(5000, 1), b=(2000, 1)), rules(9000, 6000, 2500))
    assert plan.bars_by_stock == ((Fraction(2500), 1), (Fraction(6000), 1))
    assert plan.bought == 8500
    assert plan.least_bars is None


def test_alike_bars_are_not_cut_one_by_one() -> None:
    plan = first_fit_plan(pieces(a=(1000, 6_000_000), b=(999, 1)), rules(6000))
    assert [pattern.times for pattern in plan.patterns] == [1_000_000, 1]


def test_the_material_bound_counts_the_kerf() -> None:
    # 8 bars of 3 × (100 + 10) − 10 are full of metal and kerf: a ninth is needed for the 25th piece.
    task = task_of(pieces(a=(100, 25)), rules(320, kerf=Fraction(10)))
    assert least_cost(task) == 9


def test_a_bound_on_stock_length_is_a_sum_of_bars() -> None:
    task = task_of(pieces(a=(100, 1)), rules(6000, 7000, 9500))
    assert task.cost_unit == 500
    assert task.costs == (12, 14, 19)
    assert [next_cost(task, least) for least in (0, 1, 13, 15, 27, 34)] == [0, 12, 14, 19, 28, 36]
    assert next_cost(task_of(pieces(a=(100, 1)), rules(6000)), 7) == 7


def test_a_bound_too_far_to_sum_is_left_alone() -> None:
    task = task_of(pieces(a=(100, 1)), rules(6000, Fraction(60001, 10)))
    assert next_cost(task, 10**9) == 10**9


@given(
    st.lists(st.tuples(st.integers(1, 320), st.integers(0, 5)), max_size=8),
    st.lists(st.integers(121, 300), min_size=1, max_size=3),
    st.integers(0, 30),
    st.integers(0, 60),
    st.integers(0, 60),
)
def test_first_fit_cuts_every_piece_once(
    wanted: list[tuple[int, int]], stock: list[int], kerf: int, trim: int, grip: int
) -> None:
    listed = [PieceWanted(f"{n % 3}", Fraction(length, 2), count) for n, (length, count) in enumerate(wanted)]
    cut = rules(*stock, kerf=Fraction(kerf, 4), trim=trim, grip=grip, keep=Fraction(20))
    plan = first_fit_plan(listed, cut)
    assert problems(plan, listed, cut) == ()
    assert plan.wasted >= plan.bars * (trim + grip)
    assert plan.gap >= 0


def test_the_check_finds_what_is_wrong() -> None:
    wanted, cut = pieces(a=(1000, 5), b=(2000, 2)), rules(6000, kerf=Fraction(3), grip=100)
    plan = first_fit_plan(wanted, cut)
    first, *others = plan.patterns
    assert problems(plan, wanted, cut) == ()

    def said(**changes: object) -> str:
        changed = replace(first, **changes)  # type: ignore[arg-type]
        return "; ".join(problems(replace(plan, patterns=(changed, *others)), wanted, cut))

    assert problems(plan, [*pieces(a=(1000, 4)), wanted[1]], cut) == ("a: of 1000 mm 5 are cut of 4 wanted",)
    assert problems(plan, [*wanted, *pieces(c=(1000, 1))], cut) == ("c: of 1000 mm 0 are cut of 1 wanted",)
    assert "is listed as too long, but a bar gives it" in "; ".join(
        problems(replace(plan, pieces_too_long=tuple(pieces(a=(1000, 1)))), wanted, cut)
    )
    assert "it takes 8106 mm of a bar of 6000 mm" in said(pieces=(("b", Fraction(2000), 4), ("c", Fraction(0), -1)))
    assert "no bars of 7000 mm are given" in said(stock=Fraction(7000))
    assert "the bars are not those of the patterns" in said(times=first.times + 1)
    assert "it cuts no bar or no piece" in said(times=0)
    assert "its offcut is not 1 mm" in said(offcut=Fraction(1))
    assert "it keeps a short offcut or scraps a long one" in said(is_kept=not first.is_kept)
    assert "the length used is not that of the pieces" in "; ".join(
        problems(replace(plan, used=Fraction(1)), wanted, cut)
    )
    assert "the offcuts kept are not those of the patterns" in "; ".join(
        problems(replace(plan, kept=((Fraction(5000), 9),)), wanted, cut)
    )
    assert "less stock than it says" in "; ".join(problems(replace(plan, least=Fraction(60000)), wanted, cut))
