"""What is wanted of bars: gathered by like stock, counted with spares and extra, nothing left out without a word."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from specreg.core.cutting import CuttingRules, first_fit_plan
from specreg.core.cutting_list import (
    CutGroup,
    CuttingList,
    CuttingWanted,
    LeftOut,
    PiecesOfItem,
    PiecesOfLength,
    Reason,
    cutting_wanted,
    those_like,
)
from specreg.core.measures.records import NotRead
from specreg.core.measures.units import FOOT, INCH, POUND
from specreg.core.model import Item, State
from specreg.core.reckoning_standards import CuttingRule
from specreg.core.standards import Standards
from tests.core.pictures import CASTING, picture
from tests.core.pictures import WORKS as DEPARTMENTS
from tests.core.stock.works import BARS, WORKS

ROD = replace(
    CASTING, number="4.1", title="Rod", off="4", per="order", material="mild steel", size='3" dia x 40"', drawing="",
    spares="", route="MCH; ERE",
)  # fmt: skip


def rod(number: str, **fields: str) -> Item:
    """A rod of another number and other fields."""
    return replace(ROD, number=number, **fields)  # type: ignore[arg-type]


def listed(*items: Item, works: Standards = WORKS) -> tuple[tuple[CuttingWanted, ...], tuple[LeftOut, ...]]:
    drawn = picture(*items)
    standards = replace(DEPARTMENTS, materials=works.materials, reckoning=works.reckoning, sections=works.sections)
    return cutting_wanted(replace(drawn, standards=standards))


def one_group(*items: Item) -> CuttingWanted:
    (group,), left_out = listed(*items)
    assert left_out == ()
    return group


def left(item: Item) -> tuple[Reason, str]:
    groups, (one,) = listed(item)
    assert groups == ()
    return one.reason, one.why


def numbers(pieces: tuple[PiecesOfLength, ...]) -> list[tuple[Fraction, int, list[tuple[str, int]]]]:
    return [(one.length, one.number, [(i.item.number, i.number) for i in one.items]) for one in pieces]


def test_like_stock_is_gathered_however_it_is_written_longest_piece_first() -> None:
    group = one_group(
        rod("4.1"),
        rod("4.2", off="3", size="76.2 mm dia x 1016 mm", material="M.S."),
        rod("4.3", off="2", size='round 3" x 5 ft'),
    )
    assert group.name == 'mild steel, round 3"'
    assert numbers(group.pieces) == [(5 * FOOT, 2, [("4.3", 2)]), (40 * INCH, 7, [("4.1", 4), ("4.2", 3)])]
    assert group.rules == CuttingRules((20 * FOOT,), INCH / 8, INCH / 2, 3 * INCH, FOOT)
    assert group.rule is not None and group.rule.basis == "works figures"
    assert [(one.label, one.length, one.count) for one in group.to_cut] == [("", 5 * FOOT, 2), ("", 40 * INCH, 7)]


def test_groups_stand_by_material_form_and_rising_section() -> None:
    groups, _ = listed(
        rod("4.1", size='2" sq x 1 ft'),
        rod("4.2", size='10" dia x 1 ft'),
        rod("4.3", size='3" dia x 1 ft'),
        rod("4.4", size='3" dia x 1 ft', material="phosphor bronze"),
        rod("4.5", size='1/2" dia x 1 ft', material="aluminium"),
    )
    assert [one.name for one in groups] == [
        'aluminium, round 1/2"', 'mild steel, round 3"', 'mild steel, round 10"', 'mild steel, square 2"',
        'phosphor bronze, round 3"',
    ]  # fmt: skip


def test_spares_and_extra_are_cut_and_a_pattern_is_no_piece() -> None:
    def wanted(**fields: str) -> int:
        return one_group(rod("4.1", **fields)).number

    assert wanted(off="4", per="machine", spares="2 per order") == 4 * 3 + 2
    assert wanted(route="MCH turn all+3; ERE") == 7
    assert wanted(route="PAT make pattern 9; MCH turn all+1; ERE") == 5
    assert wanted(spares="2 per order", route="ERE machines & STO spares") == 6, "no step asks for all, the order does"


@pytest.mark.parametrize(
    ("item", "reason", "why"),
    [
        (rod("4.1", supply="buy"), Reason.BOUGHT, ""),
        (rod("4.1", supply="Free  issue"), Reason.FREE_ISSUE, ""),
        (rod("4.1", route="none: fixed by the customer"), Reason.NO_ACTION, "fixed by the customer"),
        (rod("4.1", pattern="3382"), Reason.CAST, "pattern 3382"),
        (rod("4.1", size=""), Reason.NO_SIZE, ""),
        (rod("4.1", size='3" dia'), Reason.NOT_READ, '3" dia — one measure alone is no size of a piece'),
        (rod("4.1", size='1/4" plate x 2 ft x 3 ft'), Reason.NOT_CUT, "plate"),
        (rod("4.1", off="as required", per=""), Reason.NO_COUNT, "as required"),
        (rod("4.1", off="2", per="4.9"), Reason.NO_COUNT, "4.9, which it is counted per, is not in the specification: "
         "correct the number"),
        (rod("4.1", off="reference only", per="", route="MCH"), Reason.NO_ACTION, "reference only"),
        (rod("4.1", off="reference only", per="", route="no such department"), Reason.NONE_WANTED, ""),
    ],
)  # fmt: skip
def test_what_is_left_out_says_why(item: Item, reason: Reason, why: str) -> None:
    assert left(item) == (reason, why)


def test_what_is_made_is_cut_and_no_live_item_is_lost() -> None:
    items = (
        rod("4.1", supply="stock"), rod("4.2", supply="make"), rod("4.3", supply=""), rod("4.4", supply="buy"),
        rod("4.5", size="as drawing"), rod("4.6", state=State.DELETED),
    )  # fmt: skip
    groups, left_out = listed(*items)
    assert numbers(groups[0].pieces) == [(40 * INCH, 8, [("4.2", 4), ("4.3", 4)])]
    assert [one.item.number for one in left_out] == ["4.1", "4.4", "4.5"]
    assert CuttingList(tuple(CutGroup(one, None) for one in groups), left_out).items == 5


def test_a_bar_left_out_still_has_the_name_of_its_stock() -> None:
    _, (bought, cast) = listed(rod("4.1", supply="buy"), rod("4.2", size="as drawing"))
    assert (bought.name, cast.name) == ('mild steel, round 3"', "")


def test_what_no_bar_gives_stands_apart() -> None:
    group = one_group(rod("4.1", size='3" dia x 19 ft 8 1/2 in'), rod("4.2", size='3" dia x 19 ft 8 9/16 in', off="2"))
    assert numbers(group.too_long) == [((19 * 12 + Fraction(137, 16)) * INCH, 2, [("4.2", 2)])]
    assert numbers(group.pieces) == [((19 * 12 + Fraction(17, 2)) * INCH, 4, [("4.1", 4)])]
    assert group.number == 6
    assert [one.count for one in group.to_cut] == [4]


def test_a_form_without_a_rule_is_gathered_and_says_why_it_is_not_planned() -> None:
    group = one_group(rod("4.1", size='3" x 3" x 3/8" angle x 10 ft'))
    assert isinstance(group.rules, NotRead)
    assert group.rule is None
    assert [one.number for one in group.pieces] == [4]
    assert "no cutting rule of the works fits" in CutGroup(group, None).why_no_plan


def test_a_rule_that_cannot_be_is_told() -> None:
    bad = replace(BARS, stock=("3 in",))
    works = replace(WORKS, reckoning=replace(WORKS.reckoning, cutting=(bad,)))
    (group,), _ = listed(rod("4.1"), works=works)
    assert "end trim and chuck grip already take 88.9 mm" in CutGroup(group, None).why_no_plan


def test_the_mass_per_metre_is_that_of_the_piece() -> None:
    # 2.67 d2 lb/ft: a published figure for round steel bars; 3 in x 10 ft = 240.3 lb.
    per_metre = one_group(rod("4.1")).per_metre
    assert per_metre is not None
    assert float(per_metre * 10 * FOOT / 1000 / POUND) == pytest.approx(240.3, rel=0.002)
    (unknown,), _ = listed(rod("4.1", material="mystery metal"))
    assert unknown.per_metre is None
    assert "not in the works' list of materials" in unknown.basis


def test_a_length_given_as_about_is_doubted() -> None:
    assert one_group(rod("4.1", size='3" dia x about 40"')).doubts == (
        "4.1: the size says about: measure before cutting",
    )


def test_words_choose_groups_and_what_is_left_out_of_such_stock() -> None:
    groups, left_out = listed(
        rod("4.1"), rod("4.2", size='2" sq x 1 ft'), rod("4.3", off="as required", per=""), rod("4.4", size="")
    )
    chosen, beside = those_like(groups, left_out, "round 3")
    assert [one.name for one in chosen] == ['mild steel, round 3"']
    assert [one.item.number for one in beside] == ["4.3"]
    assert those_like(groups, left_out, " ") == (groups, left_out)


def planned(group: CuttingWanted) -> CutGroup:
    assert isinstance(group.rules, CuttingRules)
    return CutGroup(group, first_fit_plan(group.to_cut, group.rules))


def test_bars_by_the_plain_sum_of_lengths_are_told_for_one_stock_length() -> None:
    plain = CuttingRule(("round",), ("240 in",), "1/8 in", "0 in", "0 in", "0 in", "works figures")

    def of(rule: CuttingRule) -> CutGroup:
        works = replace(WORKS, reckoning=replace(WORKS.reckoning, cutting=(rule,)))
        (group,), _ = listed(rod("4.1", off="40"), works=works)
        return planned(group)

    found = of(plain)
    assert found.plan is not None
    assert (found.bars_by_length, found.plan.bars) == (7, 8)
    assert of(replace(plain, stock=("240 in", "20 ft 1 in"))).bars_by_length is None
    assert CutGroup(found.wanted, None).bars_by_length is None


def test_bars_are_weighed_as_they_are_bought() -> None:
    found = planned(one_group(rod("4.1")))
    assert found.mass is not None
    assert found.wanted.per_metre is not None
    assert found.mass == 20 * FOOT * found.wanted.per_metre / 1000
    assert CutGroup(found.wanted, None).mass is None


def test_a_list_is_stopped_when_a_group_that_can_be_planned_is_not() -> None:
    done, (no_rule,) = planned(one_group(rod("4.1"))), listed(rod("4.1", size='3" x 3" x 3/8" angle x 10 ft'))[0]
    assert not CuttingList((done, CutGroup(no_rule, None)), ()).was_stopped
    assert CuttingList((done, CutGroup(done.wanted, None)), ()).was_stopped
    assert CuttingList((replace(done, was_stopped=True),), ()).was_stopped
    waiting = CutGroup(done.wanted, None)
    assert CuttingList((done, waiting), ()).not_planned == (waiting,)
    assert waiting.why_no_plan == "stopped before it was planned"
    assert done.why_no_plan == ""


def test_pieces_of_one_length_add_up() -> None:
    assert PiecesOfLength(FOOT, (PiecesOfItem(ROD, 2), PiecesOfItem(ROD, 5))).number == 7
