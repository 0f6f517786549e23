"""The order list: like material together, every line somewhere, what is placed beside what is wanted."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from specreg.core.lead_times import OrderBy
from specreg.core.measures.records import NotRead
from specreg.core.measures.units import FOOT, INCH, POUND
from specreg.core.model import Item, Sheet
from specreg.core.numbering import number_key
from specreg.core.order_list import How, OrderLine, OrderList, fitting, order_list, out_of_order
from specreg.core.purchases import Purchase
from specreg.core.reckoning_standards import Allowance, CuttingRule, LeadTime, Reckoning
from specreg.core.standards import Material
from tests.core.pictures import CASTING, SHEET, picture

STEEL = Material("mild steel", "7850", "a density for practice", ("m.s.",))
CUTTING = CuttingRule(("round",), ("240 in",), "1/8 in", "0 in", "0 in", "12 in", "works figures")
RECKONING = Reckoning(cutting=(CUTTING,), lead_times=(LeadTime("10 weeks", "works figure"),), slack="1 week")
BAR = replace(
    CASTING, number="4.1", title="Shaft", material="mild steel", size='3" dia x 40"', off="40", per="order", spares="",
    drawing="", route="MCH; ERE",
)  # fmt: skip


def listed(*items: Item, purchases: tuple[Purchase, ...] = (), sheet: Sheet = SHEET) -> OrderList:
    drawn = picture(*items, sheet=sheet)
    works = replace(drawn.standards, materials=(STEEL, Material("cast iron", "7250")), reckoning=RECKONING)
    return order_list(replace(drawn, standards=works), purchases)


def lines(*items: Item) -> list[OrderLine]:
    return list(listed(*items).lines)


def placed(number: str = "4.1", pieces: int | None = 40, drawing: str = "", **said: str) -> Purchase:
    quoted = {"title": "Shaft", "part": "", "material": "mild steel", "size": '3" dia x 40"', **said}
    return Purchase(number, "P 1", "The mill", "2026-11-20", "", "A", pieces, drawing=drawing, **quoted)


def test_bars_of_one_section_are_one_line_with_pieces_lengths_weight_and_bars():
    other = replace(BAR, number="4.2", material="M.S.", size='76.2 mm dia x 10"', off="1", per="machine")
    (line,) = lines(BAR, other)
    assert (line.how, line.name) == (How.MATERIAL, 'mild steel, round 3"')
    assert [(one.item.number, one.pieces, one.rough) for one in line.pieces] == [("4.1", 40, '40"'), ("4.2", 3, '10"')]
    assert (line.wanted, line.length) == (43, (40 * 40 + 3 * 10) * INCH)
    assert [(one.label, one.length, one.count) for one in line.to_cut] == [
        ("4.1", 40 * INCH, 40),
        ("4.2", 10 * INCH, 3),
    ]
    # 2.67 d2 lb to the foot of steel of 489.6 lb/ft3; 7850 kg/m3 is 490 (common practice, no source).
    pounds = Fraction("2.67") * 9 * line.length / FOOT
    assert abs(line.mass / POUND / pounds - 1) < Fraction(2, 1000)
    assert line.per_mm is not None and line.per_mm * line.length == line.mass


def test_a_bolt_and_a_nut_of_one_size_are_not_like():
    bolt = replace(BAR, title="Bolt for cap", size='3/4" dia x 2" B.S.W.', supply="stock")
    same = replace(bolt, number="4.2", title="Cover bolt")
    nut = replace(bolt, number="4.3", title="Nut for cover bolt, hexagon", size='3/4" B.S.W.')
    assert [(line.how, line.name, len(line.pieces)) for line in lines(bolt, same, nut)] == [
        (How.STORES, 'mild steel, bolt 3/4" B.S.W. x 2"', 2),
        (How.STORES, 'mild steel, nut 3/4" B.S.W.', 1),
    ]


def test_castings_made_here_are_had_by_weight_and_articles_bought_by_name():
    casting = replace(BAR, material="cast iron", size='15" at bottom of groove', weight="20 lb", rough_weight="25 lb")
    bought = replace(BAR, number="4.2", supply="buy", title="Pressure gauge", material="", size='6" dial', part="WS 9")
    again = replace(bought, number="4.3", title="Gauge, as 4.2")
    found = lines(casting, bought, again)
    assert [(line.how, line.name, len(line.pieces)) for line in found] == [
        (How.BUY, 'WS 9 6" dial', 2),
        (How.MATERIAL, "cast iron, by weight", 1),
    ]
    assert found[1].mass == 40 * 25 * POUND and found[1].pieces[0].rough == '15" at bottom of groove'
    assert (found[0].mass, found[0].without_mass) == (0, 2)


def test_the_extra_of_a_route_is_ordered_too_and_a_pattern_is_no_piece():
    route = "FDY make pattern 90; FDY cast all+2; MCH; ERE"
    (line,) = lines(replace(BAR, route=route))
    assert line.wanted == 42


def test_every_line_is_on_the_list_or_left_out_with_its_reason():
    head = replace(BAR, material="", size="", off="1", per="machine")
    part = replace(BAR, number="4.1.1", off="2", per="4.1")
    free = replace(BAR, number="4.2", supply="free issue")
    reference = replace(BAR, number="4.3", off="reference only", per="")
    unknown = replace(BAR, number="4.4", material="", size="", title="Something")
    found = listed(head, part, free, reference, unknown)
    assert [(one.item.number, one.why) for one in found.left_out] == [
        ("4.1", "put together from its parts"),
        ("4.2", "sent by the customer"),
        ("4.3", "reference only"),
    ]
    assert [one.item.number for line in found.lines for one in line.pieces] == ["4.1.1", "4.4"]
    assert found.lines[1].name == "Something"


def test_what_has_no_count_is_kept_apart():
    (line,) = lines(replace(BAR, off="as required", per="", size="bars, various"))
    assert (line.wanted, line.not_counted, line.pieces[0].written, line.pieces[0].one) == (0, 1, "as required", None)


def test_the_earliest_day_of_what_is_not_placed_counts():
    soon = replace(BAR, wanted="2027-02-12")
    later = replace(BAR, number="4.2", wanted="2027-03-12")
    (line,) = lines(soon, later)
    assert isinstance(line.by, OrderBy) and line.by.day == date(2026, 11, 27)
    (line,) = listed(soon, later, purchases=(placed(),)).lines
    assert isinstance(line.by, OrderBy) and line.by.day == date(2026, 12, 25)
    found = listed(soon, later)
    assert [found.late(day) for day in (date(2026, 11, 27), date(2026, 11, 28), date(2026, 12, 26))] == [0, 1, 2]


def test_wanted_placed_and_difference_stand_side_by_side():
    found = listed(BAR, purchases=(placed(pieces=30), placed(pieces=5)))
    (line,) = found.lines
    assert (line.wanted, line.placed, line.pieces[0].difference, line.is_placed) == (40, 35, 5, False)
    over = listed(BAR, purchases=(placed(pieces=50),)).lines[0]
    assert (over.pieces[0].difference, over.pieces[0].still, over.is_placed) == (-10, 0, True)


def test_lengths_weights_and_pieces_to_cut_are_of_what_is_still_to_be_placed():
    (line,) = listed(BAR, purchases=(placed(pieces=30),)).lines
    assert line.length == 10 * 40 * INCH and line.mass == 10 * line.pieces[0].one
    assert [one.count for one in line.to_cut] == [10]
    (line,) = listed(BAR, purchases=(placed(),)).lines
    assert (line.length, line.mass, line.to_cut, line.without_mass) == (0, 0, (), 0)


def test_a_purchase_due_after_the_day_wanted_is_told():
    late = replace(placed(), due="2027-02-13")
    (line,) = listed(replace(BAR, wanted="2027-02-12"), purchases=(late,)).lines
    assert line.pieces[0].due_too_late == (late,)
    (line,) = listed(replace(BAR, wanted="2027-02-13"), purchases=(late,)).lines
    assert line.pieces[0].due_too_late == ()


def test_the_extra_of_a_route_is_told_apart():
    route = "FDY cast all+2; MCH; ERE"
    assert lines(replace(BAR, route=route))[0].pieces[0].written == "40+2"


def test_a_forging_is_listed_by_its_rough_size_and_weight():
    works = replace(RECKONING, allowances=(Allowance(("mild steel",), "1/4 in", "forge"),), cutting=())
    drawn = picture(BAR)
    standards = replace(drawn.standards, materials=(STEEL,), reckoning=works)
    (line,) = order_list(replace(drawn, standards=standards)).lines
    (piece,) = line.pieces
    assert (line.name, piece.rough, piece.length) == (
        "mild steel, by weight", "rough 3 1/2\" diameter x 3' 4 1/2\" length", None,
    )  # fmt: skip


def test_what_was_placed_at_an_older_revision_and_says_otherwise_is_told():
    drawn = replace(BAR, drawing="SL-1")
    found = listed(drawn, purchases=(placed(drawing="SL-1 rev A", size='3" dia x 38"'),))
    (outdated,) = found.lines[0].pieces[0].outdated
    assert outdated[1] == ('size was 3" dia x 38", now 3" dia x 40"',) and found.outdated == 1
    newer = replace(SHEET, revision="B")
    found = listed(drawn, purchases=(placed(drawing="SL-1 rev A"),), sheet=newer)
    assert found.lines[0].pieces[0].outdated[0][1] == ("drawing was SL-1 rev A, now SL-1 rev B",)
    assert listed(drawn, purchases=(placed(drawing="SL-1 rev B"),), sheet=newer).outdated == 0


def test_the_material_of_a_wheel_placed_spares_none_of_its_bushes():
    wheel = replace(BAR, title="Wheel", material="cast iron", size="", off="4", per="machine", weight="20 lb")
    bush = replace(BAR, number="4.1.1", title="Bush", off="2", per="4.1")
    ordered = placed(pieces=12, title="Wheel", material="cast iron", size="")
    found = listed(wheel, bush, purchases=(ordered,))
    assert found.of("4.1").is_placed and (found.of("4.1.1").pieces, found.of("4.1.1").spared) == (24, 0)


def test_what_is_too_many_of_one_does_not_make_up_for_another():
    (line,) = listed(BAR, replace(BAR, number="4.2"), purchases=(placed(pieces=50), placed("4.2", 30))).lines
    assert (line.wanted, line.placed, line.still, line.over) == (80, 80, 10, 10)


def test_a_casting_to_a_pattern_is_no_bar():
    (line,) = lines(replace(BAR, pattern="318", weight="20 lb"))
    assert (line.name, line.to_cut) == ("mild steel, by weight", ())


def test_the_desk_counts_what_the_list_counts():
    head = replace(BAR, material="", size="", off="1", per="machine", wanted="2026-12-01")
    part = replace(BAR, number="4.1.1", off="2", per="4.1", wanted="2026-12-01")
    found = listed(head, part)
    drawn = picture(head, part)
    standards = replace(drawn.standards, materials=(STEEL,), reckoning=RECKONING)
    today = date(2026, 11, 25)
    counted = out_of_order(replace(drawn, standards=standards), (), today)
    assert (counted.late, counted.outdated) == (found.late(today), 0) == (1, 0)


def test_a_day_before_all_days_is_asked_about():
    (line,) = lines(replace(BAR, wanted="0001-01-05"))
    assert isinstance(line.pieces[0].by, NotRead) and line.by is None


def test_what_is_placed_for_an_item_that_is_gone_is_told():
    found = listed(BAR, purchases=(placed("4.9"), placed("4.8"), placed("4.8", -40)))
    assert list(found.unwanted) == ["4.9"]
    free = replace(BAR, number="4.9", supply="free issue")
    assert list(listed(BAR, free, purchases=(placed("4.9"),)).unwanted) == ["4.9"]


def test_words_pick_lines_by_name_or_title():
    found = listed(BAR, replace(BAR, number="4.2", size='4" dia x 40"', title="Axle"))
    assert [line.name for line in fitting(found, "ROUND 3").lines] == ['mild steel, round 3"']
    assert [line.name for line in fitting(found, "axle").lines] == ['mild steel, round 4"']
    assert fitting(found, "square").lines == ()


SIZES = ('3" dia x 40"', '3" dia x 10"', '3" sq x 9"', "1/2\" plate 4' x 3'", "", "about 9 cwt", '3/4" B.S.W.', "odd")


@given(
    st.lists(
        st.tuples(
            st.sampled_from(SIZES),
            st.sampled_from(["mild steel", "cast iron", ""]),
            st.sampled_from(["", "make", "buy", "stock", "free issue"]),
            st.sampled_from(["3", "as required", "reference only", "1 set"]),
        ),
        max_size=12,
    )
)
def test_no_line_is_lost_or_listed_twice(said):
    items = [
        replace(BAR, number=f"4.{place}", size=size, material=material, supply=supply, off=off, per="order")
        if off == "3" else
        replace(BAR, number=f"4.{place}", size=size, material=material, supply=supply, off=off, per="")
        for place, (size, material, supply, off) in enumerate(said, 1)
    ]  # fmt: skip
    found = listed(*items)
    told = [one.item.number for line in found.lines for one in line.pieces]
    told += [one.item.number for one in found.left_out]
    assert sorted(told, key=number_key) == [one.number for one in items]
    assert all(one.why for one in found.left_out) and all(line.name for line in found.lines)
