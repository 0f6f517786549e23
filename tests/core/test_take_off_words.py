"""Weights and lengths in words: rounded once, in the units of the order, and a bolt is never nought."""

from __future__ import annotations

from fractions import Fraction

import pytest

from specreg.core.measures.units import INCH, POUND, TON
from specreg.core.take_off import Sum
from specreg.core.take_off_words import (
    length_words,
    mass_in_column,
    mass_of_one_in_column,
    mass_of_one_words,
    mass_words,
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


def test_lengths_are_in_feet_and_inches_or_in_millimetres() -> None:
    assert length_words(Fraction("78.53") * INCH, "imperial") == "6' 6 1/2\""
    assert length_words(Fraction("12345.6"), "metric") == "12 346 mm"


def test_what_the_sums_are_short_of_is_told() -> None:
    whole = Sum("the order", 573, 9, Fraction(1), Fraction(1), 48)
    assert without_words(whole).startswith("48 items of 573 (8 %) should have a weight and have none")
    assert without_words(Sum("", 5, 9, Fraction(1), Fraction(1), 0)) == "Every item that should have a weight has one."
