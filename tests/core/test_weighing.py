"""What a share weighs: every piece once, whether by itself, with its assembly, or as a part of one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specreg.core.drawing_up import Issue, content_of, draw_up
from specreg.core.extracts import Extract, LineWeight
from specreg.core.measures.units import HUNDREDWEIGHT, POUND, QUARTER
from specreg.core.model import Item
from specreg.core.picture import Picture
from specreg.core.shares import reconcile, shares
from specreg.core.standards import Material
from specreg.core.take_off import lines_taken_off, take_off
from specreg.core.weighing import Scales, Standing
from specreg.output.plain_text import plain_text
from tests.core.weighed_order import ISSUED, ITEMS, WORKS, an_item, an_order, metric

SEGMENT = 3 * HUNDREDWEIGHT + QUARTER + 17 * POUND


def weighed(picture: Picture, code: str) -> dict[tuple[str, int], LineWeight]:
    lines = shares(picture.routed)[code]
    scales = Scales(lines_taken_off(picture), picture.order.units)
    return {(line.item.number, line.step.place): one for line, one in zip(lines, scales.weigh(lines), strict=True)}


def extract_of(picture: Picture, code: str, weigh: bool = True) -> Extract:
    department = picture.standards.department(code)
    assert department is not None
    split = shares(picture.routed)
    proof = reconcile(picture.routed, picture.totals, split)
    issue = Issue("A", "2026-11-25", "H. Pellow", "J. Dunmore", "K7MP4TQ2")
    scales = Scales(lines_taken_off(picture), picture.order.units) if weigh else None
    return draw_up(picture, department, 1, issue, split.get(code, ()), proof, None, scales)


def test_a_line_has_the_weight_of_its_pieces_with_the_extra_and_a_pattern_none():
    pattern = weighed(ISSUED, "PAT")[("4.1.1", 1)]
    assert (pattern.standing, pattern.one, pattern.counts) == (Standing.PATTERN, None, None)
    cast = weighed(ISSUED, "FDY")[("4.1.1", 2)]
    assert (cast.standing, cast.one, cast.rough, cast.counts) == (
        Standing.WEIGHED, SEGMENT, 4 * HUNDREDWEIGHT, SEGMENT,
    )  # fmt: skip
    foundry = extract_of(ISSUED, "FDY")
    assert foundry.weight is not None and foundry.pieces == 37
    assert (foundry.weight.mass, foundry.weight.to_order) == (37 * SEGMENT, 37 * 4 * HUNDREDWEIGHT)


def test_an_item_that_comes_twice_counts_once():
    found = weighed(ISSUED, "MCH")
    turned, again = found[("5.1", 1)], found[("5.1", 3)]
    assert (turned.standing, again.standing) == (Standing.WEIGHED, Standing.OTHER_STEP)
    assert turned.one == again.one and again.counts is None


def test_two_steps_beside_each_other_on_the_same_pieces_count_once():
    both = an_item("4.1", "Gland", "4 per order", "MCH turn & MCH drill; ERE", weight="10 lb")
    assert extract_of(an_order(both), "MCH").weight.mass == 40 * POUND
    shared = an_item("4.1", "Gland", "4 per order", "MCH turn 3 & MCH bore 1; ERE", weight="10 lb")
    assert extract_of(an_order(shared), "MCH").weight.mass == 40 * POUND


def test_an_assembly_beside_its_parts_adds_nothing_and_alone_all_of_them():
    erecting = weighed(ISSUED, "ERE")
    rack = erecting[("4.1", 1)]
    assert (rack.standing, rack.counts, rack.is_by_parts, rack.is_least) == (Standing.BY_PARTS, 0, True, True)
    assert rack.one is not None and rack.one > 12 * SEGMENT
    alone = tuple(replace(one, route="FDY") if one.number.startswith("4.1.") else one for one in ITEMS)
    rack = weighed(an_order(*alone), "ERE")[("4.1", 1)]
    # The nut has no weight, and what has no count adds none: the share is that much short, and says so.
    assert rack.counts == rack.one and rack.is_short


def test_only_the_parts_that_the_share_has_not_are_added_with_their_assembly():
    some = tuple(replace(one, route="FDY") if one.number == "4.1.1" else one for one in ITEMS)
    assert weighed(an_order(*some), "ERE")[("4.1", 1)].counts == 12 * SEGMENT


def test_what_is_counted_per_a_part_goes_with_it_where_it_has_no_line_itself():
    head = an_item("4.1", "Cover", "1 per machine", "ERE")
    stud = an_item("4.1.1", "Stud", "4 per 4.1", "ERE", material="mild steel", weight="2 lb")
    nut = an_item("4.1.2", "Nut", "2 per 4.1.1", "FDY", material="mild steel", weight="1 lb")
    found = weighed(an_order(head, stud, nut), "ERE")
    assert (found[("4.1", 1)].one, found[("4.1", 1)].counts, found[("4.1.1", 1)].counts) == (
        16 * POUND, 8 * POUND, 2 * POUND,
    )  # fmt: skip
    elsewhere = weighed(an_order(head, replace(stud, route="FDY"), nut), "ERE")
    assert elsewhere[("4.1", 1)].counts == 16 * POUND
    everywhere = weighed(an_order(head, stud, replace(nut, route="ERE")), "ERE")
    assert everywhere[("4.1", 1)].counts == 0


def test_a_part_whose_assembly_counts_by_its_own_weight_is_not_added():
    head = an_item("4.1", "Gear box", "1 per machine", "ERE", weight="9 cwt")
    part = an_item("4.1.1", "Cover", "1 per 4.1", "ERE")
    found = weighed(an_order(head, part), "ERE")
    assert found[("4.1", 1)].counts == 9 * HUNDREDWEIGHT
    assert (found[("4.1.1", 1)].standing, found[("4.1.1", 1)].counts) == (Standing.WITH_ASSEMBLY, None)
    assert extract_of(an_order(head, part), "ERE").weight.without == 0


def test_a_chain_of_assemblies_of_any_depth_is_weighed():
    deep = 3000
    chain = [an_item("1", "Top", "1 per machine", "ERE")]
    chain += [an_item(str(place), "Case", f"1 per {place - 1}", "FDY") for place in range(2, deep)]
    leaf = an_item(str(deep), "Bolt", f"2 per {deep - 1}", "FDY", material="mild steel", weight="1 lb")
    assert weighed(an_order(*chain, leaf), "ERE")[("1", 1)].counts == 2 * POUND


@pytest.mark.parametrize("picture", [ISSUED, metric(ISSUED)])
def test_the_take_off_and_the_extract_of_a_department_agree(picture):
    found = {one.name.split()[0]: one for one in take_off(picture).departments}
    for code in ("FDY", "MCH", "ERE", "BUY"):
        weight = extract_of(picture, code).weight
        assert weight is not None
        there = found[code]
        assert (weight.mass, weight.to_order, weight.without) == (there.mass, there.to_order, there.without)


def test_weights_are_no_part_of_what_is_sealed():
    assert content_of(extract_of(ISSUED, "ERE")) == content_of(extract_of(ISSUED, "ERE", weigh=False))


def plate(item: Item) -> Picture:
    works = replace(WORKS, materials=(Material("steel plate", "7842.6", "489.6 lb/ft3"),))
    return an_order(item, standards=works)


def test_a_plate_of_the_handbook_on_a_line_of_paper():
    # 40.8 lb to the square foot an inch thick, as in handbooks for steel of 489.6 lb/ft3: 5/8 in, 6 ft x 4 ft is
    # 25.5 x 24 = 612 lb. 489.6 lb/ft3 is 7842.6 kg/m3.
    one = an_item("4.1", "Web", "1 per order", "MCH", material="steel plate", size='5/8" plate 6\' 0" x 4\' 0"')
    assert "5 cwt 1 qr 24 lb" in plain_text(extract_of(plate(one), "MCH"))


def test_who_makes_a_forging_reads_its_rough_size_and_who_has_it_after_him_does_not():
    pin = an_item("4.1", "Pin", "2 per order", "FDY cast; MCH; ERE", material="cast steel", size='4" dia x 10"')
    words = 'Rough size: 4 1/2" diameter x 10 1/2" length'
    drawn = an_order(pin)
    told = {code: " ".join(plain_text(extract_of(drawn, code)).split()) for code in ("FDY", "MCH")}
    assert words in told["FDY"] and "Rough size" not in told["MCH"]
