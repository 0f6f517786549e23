"""The cutting list of an order: every piece wanted is cut once, and a list that was stopped says what it lacks."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.core.cutting import CuttingRules, problems
from specreg.core.cutting_list import CutGroup, CuttingWanted, PiecesOfItem, PiecesOfLength
from specreg.core.errors import NotFound
from specreg.core.measures.units import FOOT, INCH
from specreg.core.model import Item, Kind, Layout
from specreg.core.stock.alike import Alike
from specreg.core.stock.records import Form
from specreg.services.cutting_list import cutting_list_at, planned, wanted_at
from specreg.services.office import Office
from specreg.services.taking_in import take_in
from tests.services.office_for_tests import issue_all, new_office, note_opened
from tests.services.order_to_cut import TRADE, order_to_cut

ROD = Item("4.1", Kind.ITEM, Layout.ROW, "4", "Rod")
RULES = CuttingRules((240 * INCH,), INCH / 8, Fraction(0), Fraction(0), FOOT)


def wanting(*pieces: tuple[Fraction, int], rules: CuttingRules = RULES, name: str = '3"') -> CuttingWanted:
    """A group of so many pieces of each length, as `cutting_wanted` makes it."""
    rising = sorted(pieces, reverse=True)
    every = [PiecesOfLength(length, (PiecesOfItem(ROD, number),)) for length, number in rising]
    longest = max(rules.stock) - rules.lost
    fits, too_long = ([one for one in every if (one.length > longest) is over] for over in (False, True))
    return CuttingWanted(Alike((name,), "mild steel", Form.ROUND, name), None, rules, tuple(fits), tuple(too_long))


HARD = wanting(*((Fraction(n * 37 + 900), n % 7 + 3) for n in range(1, 60)))
"""Lengths of which first fit decreasing finds no plan that the simple bounds prove."""


def office_of(folder: Path, *rows: tuple[str, str, str, str], **how: object) -> Office:
    office = new_office(folder)
    take_in(office, order_to_cut(folder, *rows, **how))  # type: ignore[arg-type]
    return office


def test_the_trade_s_check_of_forty_pieces(tmp_path: Path) -> None:
    office = office_of(tmp_path, ("4.1", "40", '3" dia x 40"', ""))
    (group,) = cutting_list_at(office, "open").cutting_list.groups
    assert group.plan is not None
    assert (group.plan.bars, group.plan.least_bars, group.bars_by_length) == (8, 8, 7)
    office.book.close()


def test_a_works_whose_shears_take_no_kerf_cuts_the_plain_sum(tmp_path: Path) -> None:
    office = office_of(tmp_path, ("4.1", "40", '3" dia x 40"', ""), rule={**TRADE, "kerf": "0 in"})
    (group,) = cutting_list_at(office, "open").cutting_list.groups
    assert group.plan is not None
    assert (group.plan.bars, group.bars_by_length) == (7, 7)
    office.book.close()


def test_the_list_is_of_a_revision_or_of_the_order_as_it_stands(tmp_path: Path) -> None:
    from specreg.services.altering import alter

    office = office_of(tmp_path, ("4.1", "40", '3" dia x 40"', ""))
    with pytest.raises(NotFound, match="--at open"):
        cutting_list_at(office)
    issue_all(office)
    alter(office, "4.1", {"Off": "60"}, note_opened(office))
    wanted = {at: (found := wanted_at(office, at)).state + str(found.groups[0].number) for at in ("", "A", "open")}
    assert wanted == {"": "A40", "A": "A40", "open": "open60"}
    with pytest.raises(NotFound, match="Revision C"):
        cutting_list_at(office, "C")
    office.book.close()


def test_stock_is_chosen_by_words_of_its_name(tmp_path: Path) -> None:
    office = office_of(
        tmp_path,
        ("4.1", "4", '3" dia x 40"', ""),
        ("4.2", "4", '2" sq x 1 ft', ""),
        ("4.3", "4", '5" dia x 1 ft', "buy"),
    )
    found = cutting_list_at(office, "open", "round 3").cutting_list
    assert [one.wanted.name for one in found.groups] == ['mild steel, round 3"']
    assert found.left_out == ()
    bought = cutting_list_at(office, "open", "round 5").cutting_list
    assert bought.groups == ()
    assert [one.item.number for one in bought.left_out] == ["4.3"]
    with pytest.raises(NotFound) as refused:
        cutting_list_at(office, "open", "square 9")
    assert 'the order wants mild steel, square 2"' in refused.value.sentence
    assert "round" not in refused.value.sentence
    with pytest.raises(NotFound, match='round 3"; mild steel, square 2"'):
        cutting_list_at(office, "open", "copper")
    office.book.close()


def test_of_an_order_with_nothing_to_cut_the_words_fit_nothing(tmp_path: Path) -> None:
    office = office_of(tmp_path, ("4.1", "4", "as drawing", ""))
    assert cutting_list_at(office, "open").cutting_list.groups == ()
    with pytest.raises(NotFound, match="the order wants nothing that is cut to length"):
        cutting_list_at(office, "open", "round")
    office.book.close()


def test_each_stock_is_told_as_it_is_begun_and_the_end_too() -> None:
    told: list[tuple[str, int, int]] = []
    groups = [wanting((40 * INCH, 40)), wanting((FOOT, 4), name='4"')]
    list(planned(groups, told=lambda *said: told.append(said)))
    assert told == [('mild steel, round 3"', 0, 2), ('mild steel, round 4"', 1, 2), ("", 2, 2)]


def test_stopped_between_two_stocks_leaves_the_first_planned_and_the_others_without_a_plan() -> None:
    groups = [wanting((40 * INCH, 40), name=name) for name in ('3"', '4"', '5"')]
    plans: list[CutGroup] = []
    for one in planned(groups, stopped=lambda: len(plans) >= 1):
        plans.append(one)
    assert [one.plan is not None for one in plans] == [True, False, False]
    assert not plans[0].was_stopped
    assert plans[1].why_no_plan == "stopped before it was planned"


def test_stopped_within_a_stock_keeps_a_plan_that_cuts_every_piece() -> None:
    asked = 0

    def stopped() -> bool:
        nonlocal asked
        asked += 1
        return asked > 3

    proved = next(planned([HARD]))
    assert proved.plan is not None
    assert not proved.was_stopped
    first, second = planned([HARD, wanting((FOOT, 4))], stopped=stopped)
    assert first.plan is not None
    assert isinstance(HARD.rules, CuttingRules)
    assert problems(first.plan, HARD.to_cut, HARD.rules) == ()
    assert first.was_stopped
    assert not first.plan.is_proved
    assert second.plan is None


def test_the_seconds_of_a_stock_are_kept_and_the_gap_is_said() -> None:
    (found,) = planned([HARD], seconds=0.0)
    assert found.plan is not None
    assert found.plan.gap > 0
    assert not found.was_stopped, "nobody stopped it: its time was over"


def test_a_stock_with_no_rule_has_no_plan_and_is_no_stop(tmp_path: Path) -> None:
    office = office_of(tmp_path, ("4.1", "4", '3" x 1/2" flat x 4 ft', ""))
    found = cutting_list_at(office, "open").cutting_list
    assert [one.plan for one in found.groups] == [None]
    assert not found.was_stopped
    office.book.close()


LENGTHS = st.lists(
    st.tuples(st.fractions(Fraction(1, 4), 250, max_denominator=64), st.integers(1, 30)), min_size=1, max_size=8
)


# A plan has a time limit of its own, and a loaded machine may be slow.
@settings(deadline=None)
@given(
    LENGTHS,
    st.lists(st.integers(100, 300), min_size=1, max_size=2),
    st.sampled_from([Fraction(0), Fraction(1, 8), Fraction(3, 16), Fraction(1, 3)]),
    st.integers(0, 8),
    st.integers(0, 20),
)
def test_every_plan_cuts_just_what_is_wanted(
    lengths: list[tuple[Fraction, int]], stock: list[int], kerf: Fraction, lost: int, keep: int
) -> None:
    pieces = Counter[Fraction]()
    for inches, number in lengths:
        pieces[inches * INCH] += number
    bars = tuple(length * INCH for length in stock)
    rules = CuttingRules(bars, kerf * INCH, lost * INCH / 2, lost * INCH / 2, keep * INCH)
    group = wanting(*pieces.items(), rules=rules)
    (found,) = planned([group], seconds=0.2)
    assert found.plan is not None
    assert problems(found.plan, group.to_cut, rules) == ()
    cut = Counter[Fraction]()
    for pattern in found.plan.patterns:
        for _, length, number in pattern.pieces:
            cut[length] += number * pattern.times
    too_long = {one.length: one.number for one in group.too_long}
    assert {**cut, **too_long} == dict(pieces)
    assert not set(cut) & set(too_long)
    assert all(length + rules.lost > max(bars) for length in too_long)
    if found.bars_by_length is not None:
        assert found.bars_by_length <= found.plan.bars
    assert replace(found, plan=None).bars_by_length is None
