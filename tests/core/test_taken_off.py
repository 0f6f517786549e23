"""One item taken off by itself says what the take-off of the whole order says of it."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from specreg.core.measures.units import POUND
from specreg.core.model import Order
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.standards import House, Material, Standards
from specreg.core.take_off import take_off, taken_off
from specreg.core.weighing import Standing
from tests.core.pictures import CASTING, picture
from tests.strategies import item, orders

STEEL = Standards(House("Practice works"), materials=(Material("mild steel", "7850", "a density for practice"),))
WEIGHTS = ("", "", "4 lb", "1 cwt", "tons")
HEAD = replace(CASTING, number="4.1", title="Slewing rack", off="2", material="", drawing="", spares="", route="ERE")


@st.composite
def pictures(draw: st.DrawFn) -> Picture:
    """An order of which some items have weights, some are heads of assemblies, and one may be counted per nothing."""
    drawn = draw(orders())
    items = [replace(one, weight=draw(st.sampled_from(WEIGHTS)), size="") for one in drawn.items]
    if items and draw(st.booleans()):
        at = draw(st.integers(0, len(items) - 1))
        per = draw(st.sampled_from([*(one.number for one in items), "99.9"]))
        items[at] = replace(items[at], off=f"2 per {per}, 1 per {items[0].number}", per="")
    machines = ", ".join(drawn.machines)
    return Picture(Order("W 1", "Cranes", "The Board", machines), STEEL, tuple(items), {})


@given(pictures())
def test_every_item_by_itself_is_as_in_the_take_off(drawn: Picture) -> None:
    for line in take_off(drawn).lines:
        total = drawn.totals[number_key(line.item.number)]
        assert taken_off(drawn, line.item.number, total) == line


def test_what_is_no_live_item_is_not_taken_off() -> None:
    drawn = picture(CASTING)
    total = drawn.totals[number_key("4.1")]
    assert taken_off(drawn, "4", total) is None
    assert taken_off(drawn, "4.9", total) is None


def test_an_item_of_two_assemblies_counts_in_each_as_often_as_it_is_counted_per_that_one() -> None:
    other = replace(HEAD, number="4.2", off="1")
    bolt = item("4.3", "2 per 4.1, 5 per 4.2", weight="1 lb")
    found = {line.item.number: line for line in take_off(picture(HEAD, other, bolt)).lines}
    assert (found["4.1"].parts, found["4.2"].parts) == (2 * POUND, 5 * POUND)
    # One that is counted per a number that is not there does not take the number of the other.
    alone = {line.item.number: line for line in take_off(picture(other, bolt)).lines}
    assert alone["4.2"].parts == 5 * POUND


def test_what_is_missing_from_the_weight_of_an_assembly_is_counted() -> None:
    inner = replace(HEAD, number="4.1.1", off="2", per="4.1")
    items = (
        HEAD, inner,
        item("4.1.2", "3 per 4.1", weight="1 lb"),
        item("4.1.3", "1 per 4.1", material="mild steel"),
        item("4.1.4", "1 pair per 4.1", weight="1 lb"),
        item("4.1.5", "1 per 4.1.1", weight="1 lb"),
        item("4.1.6", "1 per 4.1.1", material="mild steel"),
    )  # fmt: skip
    found = {line.item.number: line for line in take_off(picture(*items)).lines}
    assert (found["4.1"].parts, found["4.1"].parts_without) == (5 * POUND, 3)
    assert (found["4.1.1"].parts, found["4.1.1"].parts_without) == (POUND, 1)
    assert found["4.1.4"].standing is Standing.NO_COUNT


def test_a_department_has_a_line_for_each_step_but_the_pattern_and_they_make_its_sum() -> None:
    casting = replace(
        CASTING, weight="10 lb", route="PAT make pattern 1; FDY all+1; MCH; INS; ERE machines & STO spares"
    )
    drawn = picture(casting)
    found = take_off(drawn)
    assert [one.name.split()[0] for one in found.departments] == ["FDY", "MCH", "INS", "ERE", "STO"]
    assert [one.pieces for one in found.departments] == [14, 13, 13, 12, 1]
