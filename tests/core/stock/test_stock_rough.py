"""The rough piece out of the finished one: every face left its allowance, a bore made smaller, the pattern larger."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.measures.units import INCH
from specreg.core.reckoning_standards import Allowance
from specreg.core.stock.geometry import annulus, circle
from specreg.core.stock.rough import Rough, rough_of
from tests.core.stock.works import WORKS, stock_of

IRON = Fraction(7240)


def rough(size: str, material: str = "cast iron") -> Rough:
    found = rough_of(stock_of(size, material), material, WORKS)
    assert found is not None
    return found


def test_a_round_is_left_its_allowance_on_the_turning_and_on_both_ends():
    found = rough('3" dia x 8"')
    assert found.size == '3 1/4" diameter x 8 1/4" length'
    assert found.mass == circle(Fraction("3.25") * INCH) * Fraction("8.25") * INCH * IRON / 10**9
    # 1/8 in in the foot of a rough size of 3 1/4 in by 8 1/4 in.
    assert found.pattern == '3.284" diameter x 8.336" length'
    assert found.basis == "machined all over, 1/8 in a machined face, Dooley"


@pytest.mark.parametrize("size", ['4" o.d. x 3" i.d. x 5"', '4" o.d. x 1/2" wall x 5"', '3" bore x 1/2" wall x 5"'])
def test_a_bore_is_made_smaller_however_the_bush_is_written(size):
    found = rough(size)
    over, inside, length = Fraction("4.25"), Fraction("2.75"), Fraction("5.25")
    assert found.mass == annulus(over * INCH, inside * INCH) * length * INCH * IRON / 10**9


def test_a_block_and_a_metric_piece():
    assert rough('9" x 6" x 1 1/2"').size == '9 1/4" x 6 1/4" x 1 3/4"'
    assert rough("100 mm dia x 200 mm").size == "106.4 mm diameter x 206.4 mm length"
    assert rough('5\' 0" x 6" x 2"').size == '5\' 0 1/4" x 6 1/4" x 2 1/4"'


def test_bars_plates_and_what_has_no_allowance_are_ordered_as_they_are():
    assert rough_of(stock_of('3" dia x 8"'), "mild steel", WORKS) is None
    assert rough_of(stock_of("1/2\" plate 4' x 3'", "cast iron"), "cast iron", WORKS) is None
    assert rough_of(stock_of('3/4" dia x 3" B.S.W.', "cast iron"), "cast iron", WORKS) is None


def test_a_bore_that_the_allowance_fills_has_no_rough_size():
    assert rough_of(stock_of('2" o.d. x 1/4" i.d. x 5"', "cast iron"), "cast iron", WORKS) is None


def test_a_material_that_is_not_cast_has_no_pattern():
    works = replace(WORKS, reckoning=replace(WORKS.reckoning, allowances=(Allowance(("m.s.",), "1/4 in", "forge"),)))
    found = rough_of(stock_of('3" dia x 8"'), "mild steel", works)
    assert found is not None and (found.size, found.pattern) == ('3 1/2" diameter x 8 1/2" length', "")


@given(st.integers(1, 400), st.integers(1, 400))
def test_the_rough_piece_is_heavier_than_the_finished_one(sixteenths, length):
    size = f'{sixteenths}/16" dia x {length}/16"'
    stock = stock_of(size, "cast iron")
    found = rough_of(stock, "cast iron", WORKS)
    assert found is not None and stock.volume is not None and found.mass > stock.volume * IRON / 10**9
