"""What is told of one item's weight: figures first, doubts and what is wanting with their signs, then the caution."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from specreg.core.item_reckoning import ItemReckoned, item_reckoned, told, told_of_basis
from specreg.core.measures.units import POUND
from specreg.core.model import Item
from specreg.core.numbering import number_key
from specreg.core.reckoning_standards import CuttingRule
from specreg.core.standards import Standards
from specreg.core.take_off_words import BRIEF_CAUTION
from tests.core.weighed_order import WORKS, an_order
from tests.strategies import item

HEAD = item("4.1", "2 per machine", title="Slewing rack")
PART = item("4.1.1", "4 per 4.1", title="Rack segment", weight="10 lb", material="cast steel")
BAR = CuttingRule(("round",), ("20 ft",), "1/8 in", "0 in", "0 in", "6 in", "works figure", ("mild steel",))


def reckoned(*items: Item, number: str = "", units: str = "imperial", standards: Standards = WORKS) -> ItemReckoned:
    drawn = an_order(*items, units=units, standards=standards)
    one = next(one for one in items if one.number == (number or items[-1].number))
    found = item_reckoned(drawn, one, drawn.totals[number_key(one.number)])
    assert found is not None
    return found


def said(found: ItemReckoned) -> dict[str, list[str]]:
    return {one.label: [str(saying) for saying in one.sayings] for one in told(found)}


def test_one_and_all_with_where_it_comes_from_and_the_caution() -> None:
    found = reckoned(item("4.1", "2 per machine", weight="3 cwt 1 qr 17 lb", material="mild steel"))
    assert said(found) == {
        "Weighs": ["each 3 cwt 1 qr 17 lb, all 1 ton 0 cwt 1 qr 18 lb, as stated"],
        "": [BRIEF_CAUTION],
    }
    basis = told_of_basis(found)
    assert basis is not None and [str(one) for one in basis.sayings] == ["Weight as stated, 3 cwt 1 qr 17 lb"]


def test_what_is_wanted_once_is_not_told_twice() -> None:
    assert said(reckoned(item("4.1", "1 per order", weight="10 lb")))["Weighs"] == ["10 lb, as stated"]


def test_by_size_with_the_cut_length_of_one_and_of_all() -> None:
    found = reckoned(item("4.1", "24 per machine", material="mild steel", size='1" dia x 5"'))
    told_ = said(found)
    assert told_["Weighs"] == ["each 1.11 lb, all 2 qr 24 lb, by its size"]
    assert told_["Cut length"] == ['each 5", all 30\' 0"']
    assert found.length_of_all == 72 * 5 * Fraction("25.4")
    metric = said(
        reckoned(item("4.1", "24 per machine", material="mild steel", size="25 mm dia x 120 mm"), units="metric")
    )
    assert metric["Weighs"] == ["each 0.46 kg, all 33.3 kg, by its size"]
    assert metric["Cut length"] == ["each 120 mm, all 8640 mm"]


def test_a_stated_weight_stands_beside_the_one_by_size_and_a_doubt_beside_both() -> None:
    near = said(
        reckoned(item("4.1", "1 per machine", material="mild steel", size='4" dia x 6\' 0"', weight="2 cwt 1 qr"))
    )
    assert near["Weighs"] == ["each 2 cwt 1 qr, all 6 cwt 3 qr, as stated", "its size gives 2 cwt 1 qr 5 lb"]
    far = said(reckoned(item("4.1", "1 per machine", material="mild steel", size='4" dia x 6\' 0"', weight="19 cwt")))
    assert far["Weighs"][0] == "each 19 cwt, all 2 tons 17 cwt, as stated"
    assert far["Weighs"][1].startswith("~ the stated weight is 8.3 times") and len(far["Weighs"]) == 2


def test_a_casting_has_its_rough_weight_its_yield_and_what_is_allowed_on_it() -> None:
    casting = item("4.1", "4 per machine", material="cast steel", weight="9 lb", rough_weight="12 lb", supply="make")
    found = reckoned(casting)
    assert found.kept == Fraction(3, 4)
    assert said(found)["To order"] == ["each 12 lb, all 1 cwt 1 qr 4 lb; finished it keeps 75 %"]
    assert said(found)["Allowed"] == ["rough: 1/4 in on each machined face; pattern: 3/16 in in each foot"]
    basis = told_of_basis(found)
    assert basis is not None
    assert [str(one) for one in basis.sayings][1:] == ["rough: works figure", "pattern: works figure"]


def test_a_finished_weight_above_the_rough_one_is_doubted_and_gives_no_yield() -> None:
    found = reckoned(item("4.1", "1 per machine", material="cast steel", weight="12 lb", rough_weight="9 lb"))
    assert not isinstance(found.kept, Fraction)
    assert said(found)["To order"][1].startswith("~ ") and "more than the rough one" in said(found)["To order"][1]


def test_of_a_casting_without_a_rough_weight_that_is_told() -> None:
    told_ = said(reckoned(item("4.1", "1 per machine", material="cast steel", weight="12 lb")))
    assert told_["To order"] == ["^ no rough weight is known: the finished one is taken"]
    assert "To order" not in said(reckoned(item("4.1", "1 per machine", material="mild steel", weight="12 lb")))


def test_a_round_that_no_cutting_rule_fits_is_a_forging_with_its_rough_size() -> None:
    works = replace(WORKS, reckoning=replace(WORKS.reckoning, cutting=(BAR,)))
    pin = item("4.1", "1 per machine", material="cast steel", size='4" dia x 10"')
    forged = said(reckoned(pin, standards=works))
    assert forged["Allowed"][1].startswith('machined all over: rough 4 1/2" diameter x 10 1/2" length, ')
    assert "Cut length" not in forged
    bar = said(reckoned(replace(pin, material="mild steel"), standards=works))
    assert "Allowed" not in bar and bar["Cut length"] == ['each 10", all 2\' 6"']


@pytest.mark.parametrize(("supply", "pattern", "is_told"), [("make", "", True), ("buy", "", False), ("buy", "38", True),
                                                            ("stock", "", False), ("", "", True)])  # fmt: skip
def test_what_is_allowed_is_told_of_what_the_works_or_its_pattern_makes(
    supply: str, pattern: str, is_told: bool
) -> None:
    one = item("4.1", "1 per machine", material="cast steel", weight="12 lb", supply=supply, pattern=pattern)
    assert ("Allowed" in said(reckoned(one))) is is_told


def test_an_assembly_weighs_what_its_parts_come_to_and_says_what_is_missing() -> None:
    bare = item("4.1.2", "1 per 4.1", material="mild steel")
    told_ = said(reckoned(HEAD, PART, bare, number="4.1"))
    assert told_ == {
        "By its parts": ["each 1 qr 12 lb, all 2 cwt 0 qr 16 lb",
                         "^ 1 item in it has no weight or no count: so much is missing"],
        "": [BRIEF_CAUTION],
    }  # fmt: skip


def test_an_assembly_with_a_weight_of_its_own_tells_both_and_how_far_they_are_apart() -> None:
    def told_of(weight: str) -> dict[str, list[str]]:
        return said(reckoned(replace(HEAD, weight=weight), PART, number="4.1"))

    assert told_of("50 lb")["By its parts"][1] == "its own weight says 10 lb more; the parts count"
    assert told_of("30 lb")["By its parts"][1] == "its own weight says 10 lb less; the parts count"
    assert told_of("40 lb")["By its parts"][1] == "its own weight says as much; the parts count"
    assert told_of("50 lb")["Weighs"][0] == "each 1 qr 22 lb, all 2 cwt 2 qr 20 lb, as stated"


def test_where_no_part_has_a_weight_the_own_one_of_the_assembly_counts_and_the_parts_say_so() -> None:
    bare = replace(PART, weight="", material="mild steel")
    assert said(reckoned(replace(HEAD, weight="50 lb"), bare, number="4.1"))["By its parts"] == [
        "none of its parts has a weight, so its own weight counts"
    ]
    assert said(reckoned(replace(HEAD, weight="50 lb"), bare))["Weighs"] == [
        "with its assembly, whose own weight counts"
    ]
    assert said(reckoned(HEAD, bare, number="4.1"))["By its parts"] == ["^ none of its parts has a weight"]


def test_what_has_no_weight_or_no_count_says_why_and_needs_no_caution() -> None:
    nut = said(reckoned(item("4.1", "24 per machine", material="mild steel", size='1" B.S.W.')))
    assert [*nut] == ["Weighs"]
    assert nut["Weighs"][0].startswith('^ no weight: 1" B.S.W. — bought by number')
    grease = said(reckoned(item("4.1", "as required per machine")))
    assert grease == {"Weighs": ["no count: as required per machine"]}
    weighed = said(reckoned(item("4.1", "as required per machine", weight="about 14 lb")))
    assert weighed["Weighs"] == ["about 14 lb, as stated; no count: as required per machine"]


def test_what_is_no_live_item_is_not_reckoned() -> None:
    drawn = an_order(HEAD)
    total = drawn.totals[number_key("4.1")]
    assert item_reckoned(drawn, replace(HEAD, number="9.9"), total) is None


def test_the_mass_is_exact_whatever_is_written() -> None:
    found = reckoned(item("4.1", "3 per machine", weight="10 lb"))
    assert found.taken.mass == 9 * 10 * POUND
