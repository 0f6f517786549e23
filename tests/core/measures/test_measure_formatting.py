"""Lengths and weights written back: every form reads back to the same value."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.measures.figures import decimal, mixed, rounded
from specreg.core.measures.formatting import (
    Hundredweights,
    NotWritten,
    decimal_inches,
    feet_and_inches,
    in_hundredweights,
    kilograms,
    metres,
    millimetres,
    pounds,
    tonnes,
    tons_and_hundredweights,
)
from specreg.core.measures.records import Measure
from specreg.core.measures.written import read_length, read_mass

INCH = Fraction(254, 10)
POUND = Fraction("0.45359237")


def length_of(text: str | NotWritten) -> Fraction:
    """The value that a written length reads back to."""
    assert isinstance(text, str), str(text)
    read = read_length(text)
    assert isinstance(read, Measure), str(read)
    assert read.doubts == ()
    return read.value


def mass_of(text: str | NotWritten) -> Fraction:
    """The value that a written weight reads back to."""
    assert isinstance(text, str), str(text)
    read = read_mass(text, ton="long")
    assert isinstance(read, Measure), str(read)
    assert read.doubts == ()
    return read.value


@pytest.mark.parametrize(
    ("inches", "written"),
    [
        ("469/2", "19' 6 1/2\""), ("36", "3' 0\""), ("6", '6"'), ("1/2", '1/2"'), ("5/4", '1 1/4"'), ("0", '0"'),
        ("12", "1' 0\""), ("121/2", "5' 0 1/2\""), ("2495", "207' 11\""), ("767/64", '11 63/64"'),
    ],
)  # fmt: skip
def test_feet_and_inches(inches: str, written: str) -> None:
    assert feet_and_inches(Fraction(inches) * INCH) == written


def test_inches_alone_up_to_a_limit() -> None:
    assert feet_and_inches(18 * INCH) == "1' 6\""
    assert feet_and_inches(18 * INCH, inches_below=24) == '18"'
    assert feet_and_inches(Fraction(47, 2) * INCH, inches_below=24) == '23 1/2"'
    assert feet_and_inches(24 * INCH, inches_below=24) == "2' 0\""


def test_rounding_only_when_asked() -> None:
    value = Fraction(100)
    assert isinstance(feet_and_inches(value), NotWritten)
    assert feet_and_inches(value, nearest=16) == '3 15/16"'
    assert feet_and_inches(value, nearest=1) == '4"'
    assert feet_and_inches(Fraction(1, 32) * INCH, nearest=16) == '1/16"'
    assert feet_and_inches(Fraction(1439, 120) * INCH, nearest=8) == "1' 0\""
    with pytest.raises(ValueError, match="no part of a rule"):
        feet_and_inches(value, nearest=12)


def test_decimals() -> None:
    assert decimal_inches(Fraction("31.75")) == '1.25"'
    assert decimal_inches(Fraction(100), places=3) == '3.937"'
    assert "never end" in str(decimal_inches(Fraction(100)))
    assert millimetres(Fraction("31.75")) == "31.75 mm"
    assert millimetres(Fraction("31.75"), places=0) == "32 mm"
    assert metres(Fraction("5943.6"), places=3) == "5.944 m"
    assert metres(Fraction("5943.6")) == "5.9436 m"
    assert pounds(381 * POUND) == "381 lb"
    assert kilograms(381 * POUND, places=1) == "172.8 kg"
    assert tonnes(4572 * POUND, places=3) == "2.074 tonnes"
    assert tonnes(4572 * POUND) == "2.07382431564 tonnes"


def test_rounded_once_half_way_up() -> None:
    assert rounded(Fraction(5, 2)) == 3
    assert rounded(Fraction(7, 2)) == 4
    assert decimal(Fraction("0.125"), 2) == "0.13"
    assert decimal(Fraction("0.1249"), 2) == "0.12"
    assert decimal(Fraction(1, 3)) is None
    assert decimal(Fraction(3)) == "3"
    assert mixed(Fraction(0)) == "0"


@pytest.mark.parametrize(
    ("weight", "written"),
    [
        (52035, "23 tons 4 cwt 2 qr 11 lb"), (381, "3 cwt 1 qr 17 lb"), (14, "14 lb"), (2240, "1 ton"),
        (4480, "2 tons"),
        (122, "1 cwt 0 qr 10 lb"), (168, "1 cwt 2 qr"), (2246, "1 ton 0 cwt 0 qr 6 lb"), (0, "0 lb"), (28, "1 qr"),
    ],
)  # fmt: skip
def test_hundredweights(weight: int, written: str) -> None:
    assert tons_and_hundredweights(weight * POUND) == written


def test_carries() -> None:
    read = read_mass("0-19-3-28")
    assert isinstance(read, Measure)
    assert tons_and_hundredweights(read.value) == "1 ton"
    assert tons_and_hundredweights(read.value, dashes=True) == "1-0-0-0"
    assert tons_and_hundredweights(read.value, full=True) == "1 ton 0 cwt 0 qr 0 lb"
    assert in_hundredweights(2239 * POUND) == Hundredweights(0, 19, 3, Fraction(27))


def test_ounces_and_rounding() -> None:
    weight = (Fraction(381) + Fraction(255, 256)) * POUND
    assert tons_and_hundredweights(weight) == "3 cwt 1 qr 17 lb 15 oz 15 dr"
    assert tons_and_hundredweights(weight, nearest="lb") == "3 cwt 1 qr 18 lb"
    assert tons_and_hundredweights(weight, nearest="oz") == "3 cwt 1 qr 18 lb"
    assert "no whole number of pounds" in str(tons_and_hundredweights(weight, dashes=True))
    assert "no whole number of drams" in str(tons_and_hundredweights(Fraction(100)))
    assert tons_and_hundredweights(Fraction(100), nearest="lb") == "1 cwt 3 qr 24 lb"
    # Rounded before it is parted: 27 1/2 lb carry all the way.
    assert tons_and_hundredweights((Fraction(2239) + Fraction(1, 2)) * POUND, nearest="lb") == "1 ton"
    with pytest.raises(ValueError, match="no part of a weight"):
        tons_and_hundredweights(weight, nearest="kg")


def test_nothing_is_below_nought() -> None:
    for written in (
        feet_and_inches(Fraction(-1)), millimetres(Fraction(-1)), kilograms(Fraction(-1)),
        tons_and_hundredweights(Fraction(-1)),
    ):  # fmt: skip
        assert isinstance(written, NotWritten)


sixty_fourths = st.integers(0, 10**7).map(lambda number: Fraction(number, 64))
decimals = st.tuples(st.integers(0, 10**9), st.integers(0, 6)).map(lambda one: Fraction(one[0], 10 ** one[1]))
drams = st.integers(0, 10**9).map(lambda number: Fraction(number, 256))


@given(sixty_fourths, st.sampled_from([0, 12, 24, 36, 1000]))
def test_feet_and_inches_read_back(inches: Fraction, inches_below: int) -> None:
    assert length_of(feet_and_inches(inches * INCH, inches_below=inches_below)) == inches * INCH


@given(decimals)
def test_decimal_lengths_read_back(number: Fraction) -> None:
    assert length_of(decimal_inches(number * INCH)) == number * INCH
    assert length_of(millimetres(number)) == number
    assert length_of(metres(number)) == number


@given(decimals)
def test_decimal_weights_read_back(number: Fraction) -> None:
    assert mass_of(pounds(number * POUND)) == number * POUND
    assert mass_of(kilograms(number)) == number
    assert mass_of(tonnes(number)) == number


@given(drams, st.booleans())
def test_weights_read_back(weight: Fraction, full: bool) -> None:
    assert mass_of(tons_and_hundredweights(weight * POUND, full=full)) == weight * POUND


@given(st.integers(0, 10**8))
def test_weights_in_dashes_read_back(weight: int) -> None:
    written = tons_and_hundredweights(weight * POUND, dashes=True)
    assert mass_of(written) == weight * POUND


@given(decimals, st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_rounding_is_by_half_a_part_at_most(value: Fraction, nearest: int) -> None:
    assert abs(length_of(feet_and_inches(value, nearest=nearest)) - value) <= INCH / nearest / 2
