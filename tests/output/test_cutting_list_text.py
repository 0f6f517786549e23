"""The cutting list on paper: exact lengths, one stock after another, the proof in words, never wider than the paper."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from specreg.core.cutting import CuttingRules, first_fit_plan
from specreg.core.cutting_list import (
    CutGroup,
    CuttingList,
    CuttingWanted,
    LeftOut,
    PiecesOfItem,
    PiecesOfLength,
    Reason,
)
from specreg.core.measures.records import NotRead
from specreg.core.measures.units import FOOT, INCH
from specreg.core.model import Item, Kind, Layout, Order
from specreg.core.reckoning_standards import CuttingRule
from specreg.core.stock.alike import Alike
from specreg.core.stock.records import Form
from specreg.core.take_off_words import length_words
from specreg.output.cutting_list_text import cutting_list_text

ORDER = Order("W 611", "Two dockside cranes")
ROD = Item("4.1.2", Kind.ITEM, Layout.ROW, "4", "Rod")
RULES = CuttingRules((240 * INCH,), INCH / 8, Fraction(0), 3 * INCH, FOOT)
RULE = CuttingRule(("round",), ("240 in",), "1/8 in", "0 in", "3 in", "1 ft", "works figures")
PER_METRE = Fraction(36)


def of_length(length: Fraction, *wanted: tuple[str, int]) -> PiecesOfLength:
    return PiecesOfLength(length, tuple(PiecesOfItem(replace(ROD, number=number), pieces) for number, pieces in wanted))


def cut(*pieces: PiecesOfLength, rules: CuttingRules = RULES, too_long: tuple[PiecesOfLength, ...] = ()) -> CutGroup:
    alike = Alike(('3"',), "mild steel", Form.ROUND, '3"')
    wanted = CuttingWanted(alike, RULE, rules, pieces, too_long, PER_METRE, "mild steel of 7850 kg/m3")
    return CutGroup(wanted, first_fit_plan(wanted.to_cut, rules))


def text(
    *groups: CutGroup, left_out: tuple[LeftOut, ...] = (), units: str = "imperial", state: str = "B", like: str = ""
) -> str:
    found = CuttingList(groups, left_out)
    said = cutting_list_text(found, replace(ORDER, units=units), state, "2026-11-25", ("Local codes decide.",), like)
    assert max(map(len, said.splitlines())) <= 80
    assert said == "\n".join(line.rstrip() for line in said.splitlines())
    return said


FORTY = cut(of_length(40 * INCH, ("4.1.2", 30), ("4.2", 10)))


def test_the_trade_s_check_is_told_in_words() -> None:
    lines = text(FORTY).splitlines()
    assert lines[0] == "Cutting list of order W 611 Two dockside cranes, revision B, 2026-11-25"
    begin = lines.index('mild steel, round 3"')
    assert lines[begin + 1 : lines.index("", begin)] == [
        '  bars of 20 ft, kerf 1/8", no end trim, chuck grip 3", offcuts kept from 1 ft',
        "  rule: works figures",
        "  40 off  3' 4\"  for 4.1.2 (30), 4.2 (10)",
        "  8 × 20 ft: 5 × 3' 4\"; offcut 3' 0 3/8\" (kept)",
        "  = 8 bars; no plan can do with fewer; weight 1 ton 14 cwt 2 qr 7 lb",
        "    The plain sum of the lengths says 7; cutting says 8.",
    ]
    assert lines[-1] == "Caution: Local codes decide."


def test_bars_that_the_plain_sum_finds_too_are_not_remarked_on() -> None:
    assert "plain sum" not in text(cut(of_length(40 * INCH, ("4.1.2", 5))))


def test_the_order_as_it_stands_and_the_words_asked_by_are_named() -> None:
    said = text(FORTY, state="open", like=" round 3 ")
    assert said.startswith(
        "Cutting list of order W 611 Two dockside cranes, as it stands, not issued,\n2026-11-25\n"
        "Only stock like `round 3`.\n"
    )


def test_bars_kerf_trim_and_grip_are_told_in_millimetres_in_a_metric_order() -> None:
    rules = CuttingRules((Fraction(6000), Fraction(7500)), Fraction(3), Fraction(10), Fraction(0), Fraction(0))
    said = text(cut(of_length(Fraction(1250), ("4.1.2", 5)), rules=rules), units="metric")
    assert "  bars of 6000 mm or 7500 mm, kerf 3 mm, end trim 10 mm, no chuck grip,\n  offcuts kept all\n" in said
    assert "5 × 1250 mm" in said
    assert "= 1 bar, 7500 mm of stock; no plan can do with less; weight 270 kg" in said


def test_offcuts_are_kept_or_scrap_or_none() -> None:
    rules = CuttingRules((100 * INCH,), Fraction(0), Fraction(0), Fraction(0), 12 * INCH)
    pieces = (of_length(100 * INCH, ("4.1", 1)), of_length(95 * INCH, ("4.2", 1)), of_length(80 * INCH, ("4.3", 1)))
    said = text(cut(*pieces, rules=rules))
    assert "8' 4\": 1 × 8' 4\"; no offcut" in said
    assert '1 × 7\' 11"; offcut 5" (scrap)' in said
    assert "1 × 6' 8\"; offcut 1' 8\" (kept)" in said


def test_a_plan_that_is_not_proved_says_its_gap() -> None:
    assert FORTY.plan is not None
    gap = replace(FORTY, plan=replace(FORTY.plan, least=7 * 240 * INCH, least_bars=7))
    assert "= 8 bars; at least 7: gap 1; weight" in text(gap)
    stopped = text(replace(gap, was_stopped=True))
    assert "= 8 bars; at least 7: gap 1; stopped before more was tried; weight" in " ".join(stopped.split())
    several = replace(gap, plan=replace(FORTY.plan, least=150 * FOOT, least_bars=None))
    assert "= 8 bars, 160 ft of stock; at least 150 ft: gap 10 ft; weight" in text(several)


def test_pieces_too_long_are_named_and_not_in_the_plan() -> None:
    long = of_length(21 * FOOT, ("4.9", 2))
    said = text(cut(of_length(40 * INCH, ("4.1.2", 5)), too_long=(long,)))
    assert "  Longer than any bar gives, NOT in the plan:\n  2 off  21' 0\"  for 4.9\n" in said
    assert "2 pieces longer than their stock: not in these sums." in said
    only = text(cut(too_long=(long,)))
    assert "NOT in the plan" in only
    assert "= 0 bars" not in only
    assert ["mild", "steel,", "round", '3"', "–", "0", "–"] in [line.split() for line in only.splitlines()]


def test_what_has_no_plan_says_why_in_its_place_and_in_the_sums() -> None:
    none = replace(FORTY.wanted, rules=NotRead("wire", "the works standards do not say how it is cut", "Enter it"))
    said = text(FORTY, CutGroup(none, None))
    assert "  No plan: wire — the works standards do not say how it is cut. Enter it." in said
    assert "1 stock of 2 without a plan: not in these sums." in said
    assert "STOPPED" not in said


def test_a_list_that_was_stopped_says_so_at_its_head() -> None:
    said = text(FORTY, CutGroup(FORTY.wanted, None), CutGroup(FORTY.wanted, None))
    assert said.splitlines()[2] == "STOPPED BEFORE THE END: 2 stocks of 3 not planned."
    assert said.count("  No plan: stopped before it was planned") == 2


def test_the_bars_of_all_stock_are_summed_with_what_they_weigh() -> None:
    unweighed = replace(FORTY, wanted=replace(FORTY.wanted, per_metre=None, basis="nothing is written"))
    said = text(FORTY, FORTY, unweighed)
    rows = [line.split() for line in said.splitlines()]
    assert rows.count(["mild", "steel,", "round", '3"', "8", "×", "20", "ft", "40", "1-14-2-7"]) == 2
    assert ["All", "bars", "24", "120", "3-9-0-13"] in rows
    assert "1 stock without a weight: the weight is that much short." in said
    assert said.count("Weight by: mild steel of 7850 kg/m3") == 1
    assert 'No weight: mild steel, round 3": nothing is written' in said


def test_what_is_left_out_is_counted_by_reason_and_told_where_it_can_be_put_right() -> None:
    def out(number: str, reason: Reason, why: str = "", name: str = "") -> LeftOut:
        return LeftOut(replace(ROD, number=number), reason, why, name)

    left_out = (
        out("5.1", Reason.BOUGHT, name='mild steel, round 3"'),
        out("5.2", Reason.NOT_CUT, "plate"),
        out("5.3", Reason.NOT_CUT, "disc"),
        out("5.4", Reason.NOT_CUT, "plate"),
        out("5.5", Reason.NOT_READ, '3/4" — one measure alone'),
        out("5.6", Reason.NOT_READ, '3/4" — one measure alone'),
        out("5.7", Reason.NO_COUNT, "as required", 'mild steel, round 3"'),
    )
    said = text(FORTY, left_out=left_out)
    assert (
        "Left out: 7 of the 9 items of the order\n       1  bought\n       3  not cut from bars: plate 2, disc 1\n"
        in said
    )
    assert '       2  size not read:\n          5.5, 5.6: 3/4" — one measure alone\n' in said
    assert '       1  no count:\n          5.7: mild steel, round 3": as required\n' in said
    beside = text(FORTY, left_out=left_out[:1], like="round 3")
    assert 'Left out: 1 of the 3 items of such stock\n       1  bought:\n          5.1: mild steel, round 3"' in beside


def test_doubts_about_a_size_stand_with_its_stock() -> None:
    doubted = PiecesOfLength(40 * INCH, (PiecesOfItem(ROD, 4, ("the size says about",)),))
    assert "  ~ 4.1.2: the size says about\n" in text(cut(doubted))


def test_long_lists_go_on_under_their_beginning_and_no_size_is_broken() -> None:
    many = of_length(Fraction(81, 2) * INCH, *((f"4.{n}.{n}A", 1) for n in range(1, 40)))
    rules = CuttingRules((1000 * FOOT,), INCH / 8, Fraction(0), Fraction(0), FOOT)
    group = cut(many, *(of_length(Fraction(n * 16 + 3, 16) * INCH, ("4.1", 1)) for n in range(30, 1, -1)), rules=rules)
    lines = text(group).splitlines()
    begin = next(place for place, line in enumerate(lines) if "39 off" in line)
    end = next(place for place, line in enumerate(lines) if place > begin and "off" in line)
    column = lines[begin].index("for ") + len("for ")
    assert end - begin > 1
    assert all(line[:column].isspace() and not line[column].isspace() for line in lines[begin + 1 : end])
    said = "\n".join(lines)
    assert all(f"4.{n}.{n}A (1)" in said for n in range(1, 40))
    assert group.plan is not None
    cuts = [(number, length) for _, length, number in group.plan.patterns[0].pieces]
    assert len(cuts) == 30
    assert all(f"{number} × {length_words(length, 'imperial')}" in said for number, length in cuts)
