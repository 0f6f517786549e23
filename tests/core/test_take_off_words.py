"""Weights and lengths in words: in the units of the order: weights rounded once, a bolt never nought; lengths exact."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.measures.records import Measure
from specreg.core.measures.units import FOOT, INCH, POUND, TON
from specreg.core.measures.written import read_length
from specreg.core.take_off import Sum
from specreg.core.take_off_words import (
    length_words,
    mass_in_column,
    mass_of_one_in_column,
    mass_of_one_words,
    mass_words,
    stock_length,
    without_words,
)

HEAVY = 239 * TON + (4 * 112 + 2 * 28 + 11) * POUND


@pytest.mark.parametrize(
    ("mass", "written", "column"),
    [
        (HEAVY, "239 tons 4 cwt 2 qr 11 lb", "239-4-2-11"),
        (10 * POUND, "10 lb", "0-0-0-10"),
        (Fraction(0), "0 lb", "0-0-0-0"),
    ],
)
def test_a_weight_is_written_out_or_in_figures_alone(mass: Fraction, written: str, column: str) -> None:
    assert (mass_words(mass, "imperial"), mass_in_column(mass, "imperial")) == (written, column)


def test_kilograms_are_grouped_and_written_alike_in_a_column() -> None:
    assert mass_words(Fraction("243095.6"), "metric") == mass_in_column(Fraction("243095.6"), "metric") == "243 096 kg"


@pytest.mark.parametrize(
    ("mass", "units", "said"),
    [
        (Fraction("2.04") * POUND, "imperial", "2.04 lb"),
        (13 * POUND, "imperial", "13 lb"),
        (Fraction("0.004") * POUND, "imperial", "under 0.01 lb"),
        (Fraction("27.996") * POUND, "imperial", "28.00 lb"),
        (28 * POUND, "imperial", "1 qr"),
        (Fraction("0.004"), "metric", "under 0.01 kg"),
        (Fraction("0.516"), "metric", "0.52 kg"),
        (Fraction(3), "metric", "3 kg"),
        (Fraction("1204.4"), "metric", "1 204 kg"),
        (Fraction(0), "metric", "0 kg"),
    ],
)
def test_what_is_light_is_not_nought(mass: Fraction, units: str, said: str) -> None:
    assert mass_of_one_words(mass, units) == said


def test_one_piece_in_a_column_has_pounds_while_it_is_light() -> None:
    assert mass_of_one_in_column(Fraction("1.41") * POUND, "imperial") == "1.41 lb"
    assert mass_of_one_in_column(642 * POUND, "imperial") == "0-5-2-26"
    assert mass_of_one_in_column(Fraction(291), "metric") == "291 kg"


@pytest.mark.parametrize(
    ("length", "imperial", "metric"),
    [
        (40 * INCH, "3' 4\"", "1016 mm"),
        (Fraction(17, 16) * INCH, '1 1/16"', "26.9875 mm"),
        (Fraction(1, 64) * INCH, '1/64"', '1/64"'),
        (Fraction(900), "900 mm", "900 mm"),
        (Fraction("900.5"), "900.5 mm", "900.5 mm"),
        (Fraction("12.345") * INCH, '12.345"', "313.563 mm"),
        (Fraction(1, 3) * INCH, "about 8.467 mm", "about 8.467 mm"),
        (Fraction(1, 128) * INCH, "about 0.198 mm", "about 0.198 mm"),
        (20 * FOOT, "20' 0\"", "6096 mm"),
    ],
)
def test_a_length_is_written_exactly_or_says_about(length: Fraction, imperial: str, metric: str) -> None:
    assert (length_words(length, "imperial"), length_words(length, "metric")) == (imperial, metric)


@given(
    st.one_of(
        st.fractions(0, 500, max_denominator=64).map(lambda inches: inches * INCH),
        st.integers(0, 10**8).map(lambda parts: Fraction(parts, 10**4)),
        st.integers(0, 500 * 64).map(lambda parts: Fraction(parts, 64) * INCH),
    ),
    st.sampled_from(["imperial", "metric"]),
)
def test_what_is_written_reads_back_as_the_very_length(length: Fraction, units: str) -> None:
    said = length_words(length, units)
    read = read_length(said.removeprefix("about "))
    assert isinstance(read, Measure), said
    assert abs(read.value - length) <= (Fraction(1, 2000) if said.startswith("about ") else 0)


def test_bars_are_called_by_whole_feet_in_an_imperial_order() -> None:
    assert stock_length(20 * FOOT, "imperial") == "20 ft"
    assert stock_length(250 * INCH, "imperial") == "20' 10\""
    assert stock_length(Fraction(6000), "imperial") == "6000 mm"
    assert stock_length(Fraction(6000), "metric") == "6000 mm"


def test_what_the_sums_are_short_of_is_told() -> None:
    whole = Sum("the order", 573, 9, Fraction(1), Fraction(1), 48)
    assert without_words(whole).startswith("48 items of 573 (8 %) should have a weight and have none")
    assert without_words(Sum("", 5, 9, Fraction(1), Fraction(1), 0)) == "Every item that should have a weight has one."
