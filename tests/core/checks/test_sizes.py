"""Sizes: what a quantity in them leaves open, fractions, two systems of units, pieces longer than their bars."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.checks.completeness import materials_known
from specreg.core.faults import Severity
from specreg.core.reckoning_standards import CuttingRule
from tests.core.checks.works_to_check import faults, names, picture
from tests.core.stock.works import BARE, WORKS, item

NOT_READ = "error: size not read"
NO_GAUGE = "warning: gauge not named"
NO_THREAD = "warning: thread not named"
TWO_SYSTEMS = "warning: metric beside imperial"
OFF_THE_RULE = "error: fraction off the rule"
NOT_LOWEST = "warning: fraction not in lowest form"
ONE_OR_MORE = "error: fraction of one or more"
TOO_LONG = "error: piece longer than its stock"

NO_STOCK_AND_NO_FAULT = [
    '26" at bottom of groove',
    "as makers' list",
    "No. 4",
    "SL-1002",
    "E 4013/2A",
    "4013/2",
    "1/2 pint",
    "50 h.p., 440 volts, 7 notches",
    "150 to 300 amperes",
    '1 1/2" fine, 9 to the inch',
    '10 tons, 12" lift',
    '6x19, 3/4" dia x 400 ft',
    '6/37, 1" dia',
    "6x19",
    'No. 10 x 2" screws',
    'No. 3 taper x 6" long',
    '3" dia white metal lined',
    '3/8" and 1/4" sq',
    '3/4"',
    '3" dia x 5" ±1/32"',
    'TUBE 2.1/2" NB',
    '1/2" bar, black',
    "",
]


@pytest.mark.parametrize("size", NO_STOCK_AND_NO_FAULT)
def test_a_size_that_is_no_stock_is_no_fault(size: str) -> None:
    assert names(size) == []
    assert faults(item(size), works=BARE) == []


@pytest.mark.parametrize(
    ("size", "said"),
    [
        ("10 x 6' x 3'", "10: of what? Write each size with its unit."),
        ("10 x 6' x 3' plate", "10: of what?"),
        ("3 x 8", "3 8: of what?"),
        ("plate 10x6x3", "10x6x3: of what?"),
        ("3 dia x 8'", "3: of what?"),
        ("3 ft 6", "6: of what?"),
        ("3½ x 3½ x ½ angle", "3½ 3½ ½: of what?"),
        ("12", "12: of what?"),
        ("Ø60", "60: of what?"),
        ('1 in. 1/4 dia x 5"', "the fraction 1/4 stands behind the unit"),
        ("3\" dia x 19'-13", "13 behind the foot mark is no number of inches"),
        ("1,234 mm x 40 mm dia", "1234 or 1.234?"),
        ('1 5/4" dia x 5"', "5/4 is no proper fraction"),
        ("1 t", "tons or tonnes?"),
        ('0" dia x 5"', "a size of nought"),
        ('2" o.d. x 3" i.d. x 4"', "the wall of this tube cannot be"),
    ],
)
def test_a_quantity_that_does_not_say_enough_is_an_error(size: str, said: str) -> None:
    (fault,) = faults(item(size))
    assert (f"{fault.severity}: {fault.name}", fault.subject) == (NOT_READ, "4.1")
    assert fault.text.startswith(f"4.1, Size: {size} — ") and said in fault.text


def test_a_ton_in_a_size_is_asked_about_where_it_would_be_stock() -> None:
    (fault,) = faults(item("2 tons"), works=BARE)
    assert fault.name == "size not read" and "which ton?" in fault.text
    assert names("2 tons") == []


@pytest.mark.parametrize(
    ("size", "found"),
    [
        ("10 gauge plate 6' x 3'", [NO_GAUGE]),
        ("No. 10 sheet 6' x 3'", [NO_GAUGE]),
        ("16g sheet 6' x 3'", [NO_GAUGE]),
        ("10 S.W.G. sheet 6' x 3'", []),
        ("10 B.W.G. sheet 6' x 3'", []),
        ('3/4" Whit. x 3"', [NO_THREAD]),
        ('bolt 3/4" dia x 3"', [NO_THREAD]),
        ('nut 3/4"', [NO_THREAD]),
        ('1/2-13 B.S.W. x 3"', [NO_THREAD]),
        ('3/4" dia x 3" B.S.W.', []),
        ("bolt M24 x 110 mm", []),
        ('rivet 3/4" dia x 3"', []),
        ("bolts", []),
    ],
)
def test_a_gauge_and_a_thread_are_named(size: str, found: list[str]) -> None:
    assert names(size) == found


@pytest.mark.parametrize(
    ("size", "found"),
    [
        ('3" dia x 100 mm', [TWO_SYSTEMS]),
        ('3" (76 mm) at bottom of groove', [TWO_SYSTEMS]),
        ("40 mm dia x 6 ft", [TWO_SYSTEMS]),
        ('3" dia x 8 ft 4 in', []),
        ("40 mm dia x 1.5 m", []),
        ('1/2" B.S.P. x 100 mm', []),
        ("10 S.W.G. sheet 600 mm x 300 mm", []),
        ("203x133x25 UB x 20 ft", []),
        ('10 m.s. plates, 3" thick', []),
    ],
)
def test_metric_and_imperial_lengths_in_one_size(size: str, found: list[str]) -> None:
    assert names(size) == found


def test_two_systems_are_told_with_a_measure_of_each() -> None:
    (fault,) = faults(item('3" dia x 100 mm'))
    assert '100 mm is metric and 3" is not' in fault.text


@pytest.mark.parametrize(
    ("size", "found"),
    [
        ("1/3\" plate x 6' x 3'", [OFF_THE_RULE]),
        ("⅓\" plate x 6' x 3'", [OFF_THE_RULE]),
        ('3/10" dia x 5"', [OFF_THE_RULE]),
        ('1 1/128" dia x 5"', [OFF_THE_RULE]),
        ('26 1/3" at bottom of groove', [OFF_THE_RULE]),
        ('4/8" dia x 5"', [NOT_LOWEST]),
        ('1 3/6" dia x 5"', [NOT_LOWEST]),
        ('4/8" B.S.W. x 5"', [NOT_LOWEST]),
        ('4/8" dia x 4/8"', [NOT_LOWEST]),
        ('4/8" dia x 6/8"', [NOT_LOWEST, NOT_LOWEST]),
        ('11/4" dia x 5"', [ONE_OR_MORE]),
        ('63/64" dia x 1 1/2"', []),
        ('½" dia x 5⅜"', []),
        ('2" dia x 6 2/3 ft', []),
        ("9 t.p.i. 4/8 to 1, drg 4/6", []),
        ("5/0 S.W.G. wire x 40 ft", []),
    ],
)
def test_fractions_of_a_rule(size: str, found: list[str]) -> None:
    assert names(size) == found


@pytest.mark.parametrize(
    ("weight", "found"),
    [
        ("2 1/3 cwt", [OFF_THE_RULE]),
        ("4/8 cwt", [NOT_LOWEST]),
        ("2 1/2 cwt", []),
        ("1/7 cwt", []),
        ("3/10 kg", [OFF_THE_RULE]),
    ],
)
def test_fractions_of_a_weight(weight: str, found: list[str]) -> None:
    assert names("", "cast iron", weight) == names("", "cast iron", "", weight) == found


def test_a_fraction_is_told_with_its_field() -> None:
    (size,) = faults(item('3/10" dia x 5"'))
    assert size.text.startswith('4.1, Size 3/10" dia x 5": 3/10 is none of the halves down to sixty-fourths')
    (rough,) = faults(item("", "cast iron", "", "4/8 cwt"))
    assert rough.text.startswith("4.1, Rough weight 4/8 cwt: 4/8 is 1/2")


@given(st.integers(0, 40), st.integers(1, 200), st.integers(2, 200))
def test_a_fraction_is_a_fault_unless_it_is_of_a_rule_and_in_lowest_form(whole: int, top: int, bottom: int) -> None:
    said = f"{whole} {top}/{bottom}" if whole else f"{top}/{bottom}"
    found = {fault.name for fault in faults(item(f'{said}" at bottom of groove'))}
    part = Fraction(top, bottom)
    if part >= 1:
        assert found == ({"size not read"} if whole else {"fraction of one or more"})
    elif 64 % part.denominator:
        assert found == {"fraction off the rule"}
    else:
        assert found == (set() if part.denominator == bottom else {"fraction not in lowest form"})


@pytest.mark.parametrize(
    ("size", "material", "found"),
    [
        ('3" dia x 19\' 8 1/2"', "mild steel", []),
        ('3" dia x 19\' 9"', "mild steel", [TOO_LONG]),
        ('3" dia x 19\' 9"', "unobtainium", [TOO_LONG]),
        ("3\" dia x 11'", "phosphor bronze", []),
        ('3" dia x 12\' 1"', "phosphor bronze", [TOO_LONG]),
        ('3" sq x 12\' 1"', "phosphor bronze", []),
        ('4" x 4" x 1/2" angle x 60\'', "mild steel", []),
        ("1/2\" plate x 60' x 3'", "mild steel", []),
    ],
)
def test_a_piece_longer_than_its_stock(size: str, material: str, found: list[str]) -> None:
    assert names(size, material) == found


def test_a_piece_too_long_is_told_with_the_bar_and_what_comes_off_it() -> None:
    (fault,) = faults(item("3\" dia x 21'"))
    assert (fault.severity, fault.subject) == (Severity.ERROR, "4.1")
    assert "a piece of 21' 0\" does not come out of the longest round in stock, 20' 0\"" in fault.text
    assert 'end trim and chuck grip take 3 1/2"' in fault.text
    (metric,) = faults(item("80 mm dia x 7 m"), units="metric")
    assert "a piece of 7000 mm" in metric.text and "6096 mm" in metric.text and "take 88.9 mm" in metric.text


def test_what_is_not_cut_here_may_be_of_any_length() -> None:
    long = item("3\" dia x 21'")
    for other in (replace(long, supply="buy"), replace(long, supply="Free issue"), replace(long, pattern="3382")):
        assert faults(other) == []
    for here in (replace(long, supply="make"), replace(long, supply="stock")):
        assert [fault.name for fault in faults(here)] == ["piece longer than its stock"]


def test_a_works_that_does_not_say_how_it_cuts_is_told_nothing() -> None:
    assert faults(item("3\" dia x 21'"), works=BARE) == []
    rule = CuttingRule(("round",), ("20 furlongs",), "0 in", "0 in", "0 in", "0 in", "")
    unread = replace(WORKS, reckoning=replace(WORKS.reckoning, cutting=(rule,)))
    assert faults(item("3\" dia x 21'"), works=unread) == []


def test_a_material_that_the_list_does_not_have_is_told_whatever_the_size() -> None:
    (fault,) = materials_known(picture(item('3" dia x 5"', "unobtainium")))
    assert (fault.name, fault.severity) == ("material not in the list", Severity.WARNING)
    assert list(materials_known(picture(item('3" dia x 5"', "M.S.")))) == []


def test_a_size_is_asked_about_though_the_weight_cannot_be_read() -> None:
    assert names('1/3" dia x 3', "mild steel", "12") == ["error: weight not read", NOT_READ, OFF_THE_RULE]
