"""What the works leaves for machining, adds for contraction, takes for shrinking, and how it cuts bars."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from specreg.core.cutting import CuttingRules
from specreg.core.measures.records import NotRead
from specreg.core.measures.units import FOOT, INCH
from specreg.core.stock.house_rules import (
    Allowed,
    bore_to_shrink,
    cutting_rules,
    pattern_of_casting,
    rough_of_finished,
    yield_of,
)
from specreg.core.stock.records import Form
from tests.core.stock.works import BARE, BARS, WORKS


def test_a_casting_has_the_allowance_on_each_machined_face():
    assert rough_of_finished(FOOT, 2, "cast iron", WORKS) == Allowed(FOOT + INCH / 4, "1/8 in a machined face, Dooley")
    assert rough_of_finished(FOOT, 0, "C.I.", WORKS) == Allowed(FOOT, "1/8 in a machined face, Dooley")
    bore = rough_of_finished(6 * INCH, -2, "cast iron", WORKS)
    assert isinstance(bore, Allowed) and bore.size == Fraction(23, 4) * INCH


def test_the_pattern_is_larger_by_the_contraction():
    basis = "contraction of 1/8 in in the foot, shrink rule"
    assert pattern_of_casting(8 * FOOT, "cast iron", WORKS) == Allowed(97 * INCH, basis)


def test_what_the_standards_do_not_say_is_asked():
    for asked in (
        rough_of_finished(FOOT, 2, "mild steel", WORKS),
        pattern_of_casting(FOOT, "mild steel", WORKS),
        rough_of_finished(FOOT, 2, "cast iron", BARE),
        pattern_of_casting(FOOT, "cast iron", BARE),
        bore_to_shrink(FOOT, BARE),
        cutting_rules(Form.ROUND, "mild steel", BARE),
        cutting_rules(Form.ANGLE, "mild steel", WORKS),
    ):
        assert isinstance(asked, NotRead) and asked.do.startswith("Enter ")


def test_a_shrunk_bore_is_a_thousandth_small():
    assert bore_to_shrink(1000 * INCH, WORKS) == Allowed(999 * INCH, "0.001 in in each inch of diameter, Dooley")


def test_bars_are_cut_by_the_first_rule_of_form_and_material():
    steel = CuttingRules((20 * FOOT,), INCH / 8, INCH / 2, 3 * INCH, FOOT)
    assert cutting_rules(Form.ROUND, "mild steel", WORKS) == steel
    assert cutting_rules(Form.SQUARE, "phosphor bronze", WORKS) == steel
    bronze = CuttingRules((12 * FOOT, Fraction(3000)), INCH / 8, Fraction(0), Fraction(0), FOOT / 2)
    assert cutting_rules(Form.ROUND, "Phosphor bronze", WORKS) == bronze


def test_a_rule_that_leaves_nothing_of_a_bar_is_told():
    short = replace(WORKS, reckoning=replace(WORKS.reckoning, cutting=(replace(BARS, stock=("2 in",)),)))
    asked = cutting_rules(Form.ROUND, "mild steel", short)
    assert isinstance(asked, NotRead) and asked.do == "Correct the cutting rule in the works standards"


def test_a_yield():
    assert yield_of(Fraction(3), Fraction(4)) == Fraction(3, 4)
    assert yield_of(Fraction(0), Fraction(4)) == 0
    for finished, rough in ((5, 4), (1, 0), (-1, 4)):
        assert isinstance(yield_of(Fraction(finished), Fraction(rough)), NotRead)
