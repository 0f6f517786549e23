"""The take-off: weights counted once, whatever is counted per what, and nothing without a weight taken as nought."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from specreg.core.measures.units import POUND
from specreg.core.model import Item
from specreg.core.standards import Material
from specreg.core.take_off import NO_MATERIAL, TakenOff, TakeOff, take_off
from specreg.core.weighing import Standing
from tests.core.pictures import CASTING, GREASE, SECTION, picture

HEAD = replace(
    CASTING, number="4.1", title="Slewing rack", off="2", per="machine", material="", drawing="", spares="", route="ERE"
)
SEGMENT = replace(
    CASTING, number="4.1.1", title="Rack segment", off="4", per="4.1", weight="10 lb", rough_weight="12 lb", spares=""
)
STEEL = Material("mild steel", "7850", "a density for practice")


def taken(*items: Item) -> TakeOff:
    drawn = picture(*items)
    return take_off(replace(drawn, standards=replace(drawn.standards, materials=(STEEL,))))


def lines(*items: Item) -> dict[str, TakenOff]:
    return {line.item.number: line for line in taken(*items).lines}


def test_an_assembly_counts_by_its_parts_and_its_own_weight_is_not_added() -> None:
    found = lines(replace(HEAD, weight="50 lb"), SEGMENT)
    assert (found["4.1"].standing, found["4.1"].parts, found["4.1"].mass) == (Standing.BY_PARTS, 40 * POUND, None)
    assert (found["4.1.1"].standing, found["4.1.1"].mass) == (Standing.WEIGHED, 24 * 10 * POUND)
    whole = taken(replace(HEAD, weight="50 lb"), SEGMENT).whole
    assert (whole.mass, whole.to_order, whole.without) == (240 * POUND, 288 * POUND, 0)


def test_an_assembly_whose_parts_have_no_weight_counts_by_its_own() -> None:
    bare = replace(SEGMENT, weight="", rough_weight="")
    found = lines(replace(HEAD, weight="50 lb"), bare, replace(bare, number="4.1.1A", per="4.1.1", off="2"))
    assert (found["4.1"].standing, found["4.1"].mass) == (Standing.WEIGHED, 6 * 50 * POUND)
    assert found["4.1.1"].standing is Standing.WITH_ASSEMBLY
    assert found["4.1.1A"].standing is Standing.WITH_ASSEMBLY
    assert taken(replace(HEAD, weight="50 lb"), bare).whole.without == 0


def test_a_bolt_that_is_weighed_does_not_hide_a_motor_that_is_not() -> None:
    bare = replace(SEGMENT, weight="", rough_weight="")
    bolt = replace(SEGMENT, number="4.1.2", weight="1 lb", rough_weight="")
    found = lines(replace(HEAD, weight="50 lb"), bare, bolt)
    assert (found["4.1"].standing, found["4.1"].mass, found["4.1"].parts) == (
        Standing.WEIGHED, 6 * 50 * POUND, 4 * POUND,
    )  # fmt: skip
    assert {found["4.1.1"].standing, found["4.1.2"].standing} == {Standing.WITH_ASSEMBLY}
    heavy = lines(replace(HEAD, weight="3 lb"), bare, bolt)
    assert heavy["4.1"].standing is Standing.BY_PARTS and heavy["4.1.2"].standing is Standing.WEIGHED


def test_what_should_have_a_weight_and_has_none_is_told() -> None:
    bare = replace(SEGMENT, weight="", rough_weight="")
    found = taken(HEAD, bare)
    assert [line.standing for line in found.lines] == [Standing.BY_PARTS, Standing.NO_WEIGHT]
    assert (found.whole.mass, found.whole.without) == (0, 1)
    assert found.lines[1].basis


def test_a_piece_that_others_are_counted_per_weighs_itself() -> None:
    stud = replace(SEGMENT, number="4.1.2", material="mild steel", size='1" sq x 12"', weight="", rough_weight="")
    nut = replace(SEGMENT, number="4.1.3", off="2", per="4.1.2", weight="1 lb", rough_weight="")
    found = lines(HEAD, stud, nut)
    assert found["4.1.2"].standing is Standing.WEIGHED
    assert found["4.1.2"].length == Fraction("304.8")
    one = Fraction("25.4") ** 2 * Fraction("304.8") * 7850 / 10**9
    assert found["4.1.2"].mass == one * 24
    assert found["4.1"].parts == 4 * (one + 2 * POUND), "the nuts are counted per the stud and hang on it"
    assert found["4.1.3"].mass == 48 * POUND


def test_what_has_no_count_is_kept_apart() -> None:
    found = lines(replace(GREASE, weight="7 lb"))
    assert (found["4.2"].standing, found["4.2"].mass) == (Standing.NO_COUNT, None)


def test_sums_add_to_the_whole_and_departments_have_their_own_pieces() -> None:
    other = replace(SECTION, number="5", section="5", title="Hoisting gear")
    barrel = replace(
        SEGMENT, number="5.1", section="5", off="1", per="machine", spares="2 per order", weight="100 lb",
        material="cast iron", route="PAT make pattern 1; FDY all+1; ERE machines & STO spares",
    )  # fmt: skip
    found = taken(HEAD, replace(SEGMENT, material=""), other, barrel)
    for sums in (found.sections, found.materials):
        assert sum(one.mass for one in sums) == found.whole.mass == (240 + 500) * POUND
        assert sum(one.pieces for one in sums) == found.whole.pieces
    assert {one.name for one in found.materials} == {NO_MATERIAL, "cast iron"}
    departments = {one.name.split()[0]: one.mass / POUND for one in found.departments}
    assert departments["FDY"] == 6 * 100 + 25 * 10
    assert departments["STO"] == 2 * 100
    assert "PAT" not in departments, "a pattern does not weigh what its casting weighs"


def test_a_loop_of_assemblies_has_no_count_and_stops_nothing() -> None:
    one, other = replace(HEAD, per="4.2"), replace(HEAD, number="4.2", per="4.1")
    assert {line.standing for line in taken(one, other).lines} == {Standing.NO_COUNT}
