"""Sums by denominators are the sums."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from specreg.core.exact_sums import sum_of


@given(st.lists(st.tuples(st.fractions(max_denominator=1000), st.integers(-1000, 1000))))
def test_a_sum_by_denominators_is_the_sum(parts: list[tuple[Fraction, int]]):
    assert sum_of(parts) == sum((value * times for value, times in parts), Fraction(0))


def test_nothing_comes_to_nought():
    assert sum_of([]) == 0
