"""The mass of one piece: by size, as stated, the two side by side, and what is asked."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from specreg.core.measures.units import FOOT, HUNDREDWEIGHT, INCH, POUND, QUARTER, TONNE
from specreg.core.model import Item, Kind
from specreg.core.standards import House, Material, Standards
from specreg.core.stock.geometry import circle
from specreg.core.stock.masses import mass_by_size, mass_of_one
from specreg.core.stock.records import MassBySize, MassOfOne, NotReckoned, Source
from tests.core.stock.works import BARE, WORKS, item, stock_of

ROUND = '3" dia x 8\' 4"'
BY_SIZE = circle(3 * INCH) * 100 * INCH * 7850 / 10**9
"""kg of such a piece in mild steel."""


def reckoned(one: Item, works: Standards = WORKS) -> MassOfOne:
    mass = mass_of_one(one, works)
    assert isinstance(mass, MassOfOne), str(mass)
    return mass


def refused(one: Item, works: Standards = WORKS) -> NotReckoned:
    mass = mass_of_one(one, works)
    assert isinstance(mass, NotReckoned), repr(mass)
    return mass


def test_a_mass_by_size_names_the_density_it_rests_on():
    mass = reckoned(item(ROUND))
    assert (mass.mass, mass.source, mass.to_order) == (BY_SIZE, Source.BY_SIZE, BY_SIZE)
    assert mass.basis == "mild steel of 7850 kg/m3: 490 lb/ft3"
    assert (mass.finished, mass.rough, mass.difference, mass.doubts, mass.disagreement) == (None, None, None, (), None)


def test_another_name_of_a_material_is_the_material():
    assert reckoned(item(ROUND, "M.S.")).mass == reckoned(item(ROUND, " Mild  Steel")).mass == BY_SIZE


def test_the_stated_weight_counts_and_the_other_stands_beside_it():
    mass = reckoned(item(ROUND, weight="about 1 cwt 3 qr 4 lb"))
    stated = 7 * QUARTER + 4 * POUND
    assert (mass.mass, mass.source, mass.approximate) == (stated, Source.STATED, True)
    assert mass.basis == "Weight as stated, about 1 cwt 3 qr 4 lb"
    assert mass.by_size is not None and mass.by_size.mass == BY_SIZE
    assert mass.difference == stated - BY_SIZE
    assert mass.doubts == () and mass.to_order == BY_SIZE


def test_a_casting_has_its_rough_and_its_finished_weight():
    mass = reckoned(item("", "cast iron", "5 cwt", "6 cwt"))
    assert (mass.mass, mass.to_order) == (5 * HUNDREDWEIGHT, 6 * HUNDREDWEIGHT)
    assert (mass.source, mass.size_not_read, mass.disagreement) == (Source.STATED, "", None)


def test_a_rough_weight_alone_is_used_and_said():
    mass = reckoned(item("", "cast iron", rough="6 cwt"))
    assert (mass.mass, mass.source) == (6 * HUNDREDWEIGHT, Source.ROUGH)
    assert mass.basis == "Rough weight as stated, 6 cwt; no finished weight is known"


def test_a_doubt_of_the_rough_weight_is_told_once():
    assert reckoned(item("", "cast iron", rough="3 cwt 5 qr")).doubts == (
        "Rough weight: 5 qr beside cwt make 1 cwt or more",
    )


def test_a_size_that_is_no_stock_does_not_stop_a_stated_weight():
    mass = reckoned(item('26" at bottom of groove', "cast iron", "4 cwt 1 qr 22 lb"))
    assert mass.by_size is None and mass.difference is None
    assert mass.size_not_read.startswith('26" at bottom of groove — `at bottom of groove` belongs to no form of stock.')


@pytest.mark.parametrize(
    ("weight", "doubt"),
    [
        ("91 kg", ""),
        ("99 kg", ""),
        ("82 kg", ""),
        ("101 kg", "the stated weight is 11 % over the 90.9 kg by size"),
        ("80 kg", "the stated weight is 12 % under the 90.9 kg by size"),
        ("909 kg", "the stated weight is 10.0 times the 90.9 kg by size, a ratio near 10: is the point in its place?"),
        ("9.1 kg",
         "the stated weight is one part in 10.0 of the 90.9 kg by size, a ratio near 10: is the point in its place?"),
        ("91 tonnes",
         "the stated weight is 1000.8 times the 90.9 kg by size, "
         "a ratio near 1000: tonnes for kilograms, or kilograms for grams?"),
        ("91 lb",
         "the stated weight is one part in 2.2 of the 90.9 kg by size, a ratio near 2.2046: pounds for kilograms?"),
        ("200 kg", "the stated weight is 2.2 times the 90.9 kg by size, a ratio near 2.2046: pounds for kilograms?"),
        ("200 cwt",
         "the stated weight is 111.7 times the 90.9 kg by size, a ratio near 112: hundredweights for pounds?"),
        ("200 tons", "the stated weight is 2234.8 times the 90.9 kg by size, a ratio near 2240: tons for pounds?"),
        ("0 kg", "the stated weight is nought against the 90.9 kg by size"),
    ],
)  # fmt: skip
def test_a_doubt_names_the_slip_that_it_looks_like(weight, doubt):
    assert reckoned(item(ROUND, weight=weight)).doubts == ((doubt,) if doubt else ())


def test_a_rough_weight_is_held_against_the_size_when_no_finished_one_is_stated():
    mass = reckoned(item(ROUND, rough="200 kg"))
    assert mass.doubts[0].startswith("the stated rough weight is 2.2 times")
    assert (mass.mass, mass.to_order, mass.difference) == (BY_SIZE, 200, 200 - BY_SIZE)


def test_without_the_rule_of_the_house_nothing_is_doubted_and_no_ton_is_guessed():
    assert reckoned(item(ROUND, weight="200 kg"), BARE).doubts == ()
    asked = refused(item(ROUND, weight="3 tons"), BARE)
    assert asked.refusals[0].why == "which ton?" and "which ton?" in str(asked)
    assert reckoned(item(ROUND, weight="3 tonnes"), BARE).mass == 3 * TONNE


def test_a_weight_that_cannot_be_read_is_not_passed_over():
    asked = refused(item(ROUND, weight="as before", rough="heavy"))
    assert [one.written for one in asked.refusals] == ["as before", "heavy"]


@pytest.mark.parametrize(
    ("one", "why"),
    [
        (item(ROUND, ""), "nothing is written"),
        (item(ROUND, "unobtainium"), "it is not in the works' list of materials"),
        (item(ROUND, "jointing sheet"), "no density taken: bought by the square foot"),
        (item(ROUND, "elm"), "the works' list has no density of elm"),
        (item('1" B.S.W.'), "bought by number: its thread alone gives no mass"),
        (item("as makers' list"), "no size of a piece stands here"),
    ],
)
def test_what_gives_no_mass_says_why(one, why):
    asked = refused(one)
    assert asked.refusals[0].why == why and not asked.nothing_said


def test_an_item_that_says_nothing_and_a_heading():
    assert refused(item()).nothing_said
    heading = replace(item(ROUND), kind=Kind.SECTION)
    assert refused(heading).refusals[0].why == "a section has no mass"


def test_a_fastener_is_approximate():
    mass = reckoned(item('3/4" dia x 3" B.S.W.'))
    assert mass.approximate and "as a plain round" in mass.basis
    assert mass.mass == circle(INCH * 3 / 4) * 3 * INCH * 7850 / 10**9


def test_what_is_bought_by_weight_needs_no_material():
    mass = reckoned(item("about 9 cwt", ""))
    assert (mass.mass, mass.approximate) == (9 * HUNDREDWEIGHT, True)
    assert mass.basis == "the weight that the size names"


def by_size(size: str, material: str = "mild steel", works: Standards = WORKS) -> MassBySize:
    mass = mass_by_size(stock_of(size, material, works), material, works)
    assert isinstance(mass, MassBySize), str(mass)
    return mass


@pytest.mark.parametrize(
    "size",
    [
        "203x133x25 UB x 6 m",
        "UB 203 x 133 x 25 x 6 m long",
        "universal beam 203x133x25 x 6 m",
        "203 x 133 x 25 kg/m UB, 6 m",
        "6 m x UB 203×133×25",
    ],
)
def test_a_section_by_its_name(size):
    mass = by_size(size)
    assert mass.mass == Fraction("25.1") * 6
    assert mass.basis == "25.100 kg/m; 203x133x25 of universal beams, practice table"
    assert (mass.stock.length, mass.stock.area) == (6000, 3200)


@pytest.mark.parametrize("size", ["50 mm x 50 mm x 6 mm angle x 600 mm", "L 50x50x6 x 600 mm", "50x50x6 RSA x 600 mm"])
def test_an_angle_by_its_sizes_or_its_name(size):
    assert by_size(size).mass == Fraction("4.47") * Fraction("0.6")


def test_the_legs_of_an_angle_may_stand_either_way():
    assert by_size("75 mm x 100 mm x 8 mm angle x 1 m").mass == Fraction("10.6")
    inches = by_size('4" x 4" x 1/2" angle x 18\' 0"')
    assert inches.mass == Fraction("3.75") * INCH**2 * 18 * FOOT * 7850 / 10**9


def test_a_table_of_another_material_gives_its_area_only():
    mass = by_size("203x133x25 UB x 6 m", "aluminium")
    assert mass.mass == 3200 * 6000 * Fraction(2700, 10**9)
    assert mass.basis.startswith("aluminium of 2700 kg/m3")
    refusal = mass_by_size(stock_of("203x133x30 UB x 6 m"), "aluminium", WORKS)
    assert "gives no area" in str(refusal)
    assert by_size("203x133x30 UB x 6 m").mass == 180


def test_steels_of_nearly_one_density_are_one():
    assert by_size("W12X26 x 10 ft").mass == 260 * POUND


@pytest.mark.parametrize(
    ("size", "why"),
    [
        ("UB 203x133x25", "203x133x25 of universal beams, and its length?"),
        ("UB 203x133x25 x 6 m x 3 m", "203x133x25 of universal beams, and its length?"),
        ("UB 203x133x25 plate x 6 m", "203x133x25 of universal beams: what stands beside it is no length"),
        ("UB 203x133x25 x 10 S.W.G.", "203x133x25 of universal beams: what stands beside it is no length"),
        ("UB 203x133x99 x 6 m", "the tables of the works hold no such UB"),
        ("UB 203x133x251 x 6 m", "the tables of the works hold no such UB"),
        ("UB 203x133x25 x 0 m", "a size of nought"),
        ("UB 203x133x25 x 6 m with cleats", "`with cleats` belongs to no form of stock"),
    ],
)
def test_a_section_that_is_refused(size, why):
    asked = refused(item(size))
    assert asked.refusals[0].why == why


def test_a_rail_needs_no_density():
    assert by_size("100 lb/yd rail x 30 ft", "rail steel").mass == 1000 * POUND


def test_densities_with_a_point():
    works = Standards(House("Practice works"), materials=(Material("steel", "7842.64"),))
    assert by_size("1 m x 1 m x 1 m block", "steel", works).mass == Fraction("7842.64")


def test_a_forging_is_ordered_with_what_the_works_leave_on_it():
    pin = replace(item(ROUND, "cast iron"), supply="make")
    unrolled = replace(WORKS, reckoning=replace(WORKS.reckoning, cutting=()))
    forged = reckoned(pin, unrolled)
    assert forged.allowed is not None and forged.to_order == forged.allowed.mass > forged.mass
    # Cut from bar, bought complete, or with a rough weight of its own, nothing is allowed for.
    for other in (pin, replace(pin, supply="buy"), replace(pin, rough_weight="3 cwt")):
        assert reckoned(other, WORKS if other is pin else unrolled).allowed is None


def test_no_less_is_ordered_than_the_finished_piece_weighs():
    mass = reckoned(item(ROUND, weight="2 cwt"))
    assert mass.by_size is not None and mass.by_size.mass < mass.mass == mass.to_order
