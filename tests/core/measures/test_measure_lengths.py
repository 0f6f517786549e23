"""Lengths in every customary form, and what is refused."""

from __future__ import annotations

from fractions import Fraction

import pytest

from specreg.core.measures.records import Kind, Measure, NotRead
from specreg.core.measures.written import read_length

INCH = Fraction(254, 10)


def length(text: str, *, in_a_length_field: bool = False, unit: str = "") -> Measure:
    """The measure that a text is read as."""
    read = read_length(text, in_a_length_field=in_a_length_field, unit=unit)
    assert isinstance(read, Measure), str(read)
    assert read.kind is Kind.LENGTH
    assert read.written == text
    return read


def refusal(text: str, *, in_a_length_field: bool = False, unit: str = "") -> str:
    """The refusal that a text meets, in words."""
    read = read_length(text, in_a_length_field=in_a_length_field, unit=unit)
    assert isinstance(read, NotRead), read
    assert read.written == text
    assert read.why
    assert read.do
    return str(read)


@pytest.mark.parametrize(
    ("written", "inches"),
    [
        ("19' 6\"", "234"), ("19'6\"", "234"), ("19' - 6\"", "234"), ("19'-6½\"", "469/2"), ("19′ 6½″", "469/2"),
        ("19’ 6”", "234"), ("19 ft 6 in", "234"), ("19 FT. 6 INS.", "234"), ("19ft6in", "234"),
        ("19 feet 6 inches", "234"),
        ("19 ft - 6 in", "234"), ("3 ft 0 1/4 in", "145/4"), ("5' 1/2\"", "121/2"), ("5'-0½\"", "121/2"),
        ("15/16\"", "15/16"), ("13/16 in", "13/16"), ("31/32\"", "31/32"), ("11 15/16\"", "191/16"),
        ("1.1/4\"", "5/4"), ("1-1/4\"", "5/4"), ("1 1/4''", "5/4"), ("1⁄4\"", "1/4"), ("1.½\"", "3/2"),
        ("1 ½ in.", "3/2"),
        ("2.13/16\"", "45/16"), ("1·25\"", "5/4"), (".005\"", "1/200"), ("10 thou", "1/100"), ("0.5'", "6"),
        ("2 1/2 ft", "30"), ("40 yards", "1440"), ("2 yd 1 ft 6 in", "90"), ("20 fathoms", "1440"), ("0\"", "0"),
        ("1,250 ft", "15000"),
    ],
)  # fmt: skip
def test_feet_and_inches(written: str, inches: str) -> None:
    assert length(written).value == Fraction(inches) * INCH


@pytest.mark.parametrize(
    ("written", "millimetres"),
    [
        ("25.4 mm", "25.4"), ("25,4 mm", "25.4"), ("1 250 mm", "1250"), ("1\u00a0250,5 mm", "1250.5"),
        ("12 500 mm", "12500"),
        ("0,125 mm", "0.125"), ("1,250,000 mm", "1250000"), ("1,250.5 mm", "1250.5"), ("1250mm", "1250"),
        ("3.5 m", "3500"), ("12 cm", "120"), ("2 km", "2000000"), ("5 µm", "0.005"), ("１２ ｍｍ", "12"),
        ("3 metres", "3000"),
    ],
)  # fmt: skip
def test_metric(written: str, millimetres: str) -> None:
    assert length(written).value == Fraction(millimetres)


def test_the_slash_decides_between_a_stop_and_a_point() -> None:
    assert length('1.1/4"').value == length('1.25"').value == length('1 1/4"').value
    assert length('3.5/8"').value == Fraction(29, 8) * INCH


@pytest.mark.parametrize("written", ['1/3"', '1/12"', '1/10"', "5/6 in", '1⅓"'])
def test_odd_parts_are_read_with_a_doubt(written: str) -> None:
    assert "sixty-fourths" in length(written).doubts[0]


def test_a_fraction_of_more_than_one_is_doubtful() -> None:
    read = length('11/4"')
    assert read.value == Fraction(11, 4) * INCH
    assert read.doubts == ("11/4 is one or more: was a space lost?",)


def test_fourteen_inches_beside_feet_are_doubtful() -> None:
    read = length("5' 14\"")
    assert read.value == 74 * INCH
    assert read.doubts == ("14 in beside ft make 1 ft or more",)


@pytest.mark.parametrize("written", ["19'-6", "19' 6", "19'6"])
def test_the_inch_mark_may_be_left_off_behind_a_foot_mark(written: str) -> None:
    read = length(written)
    assert read.value == 234 * INCH
    assert read.doubts == ("6 behind the foot mark is taken as inches",)


def test_both_marks_may_be_left_off_in_a_field_for_lengths_only() -> None:
    read = length("19-6 1/2", in_a_length_field=True)
    assert read.value == Fraction(469, 2) * INCH
    assert "marks left off" in read.basis
    assert "a range" in refusal("19-6 1/2")
    assert "a range" in refusal("19-13", in_a_length_field=True)
    assert "a range" in refusal("19-6 1/2", in_a_length_field=True, unit="mm")
    assert length("10-11", in_a_length_field=True).doubts == ("10-11 may be a range",)
    assert length("3-0", in_a_length_field=True).value == 36 * INCH


def test_no_unit_is_refused_unless_the_field_has_a_rule() -> None:
    assert refusal("25.4") == '25.4 — of what? Write 25.4 mm or 25.4".'
    assert "of what?" in refusal("1.1/4")
    assert "of what?" in refusal("1-1/4", in_a_length_field=True)
    read = length("25.4", unit="mm")
    assert read.value == INCH
    assert read.basis == "no unit written: mm, by the rule of the field"
    assert length("1.1/4", unit="in").value == Fraction(5, 4) * INCH
    assert length('6"', unit="mm").value == 6 * INCH
    with pytest.raises(ValueError, match="no unit of length"):
        read_length("25.4", unit="cubit")


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("", "nothing is written"),
        ("   ", "nothing is written"),
        ("1 in. 1/4", "the fraction 1/4 stands behind the unit"),
        ('6" 1/2', "the fraction 1/2 stands behind the unit"),
        ("6' x 3' 2\"", "2 measures stand here: 6' and 3' 2\""),
        ('2" bore x 10 S.W.G. x 4\' 0"', '3 measures stand here: 2" and 10 S.W.G. and 4\' 0"'),
        ("150 to 300", "a range"),
        ("150 to 300 mm", "a range"),
        ('6"-8"', "a range"),
        ('3-4"', "a range"),
        ("1,250 mm", "1250 or 1.250?"),
        ("12,5 in", "comma"),
        ("2 1/2' 6\"", "no whole number"),
        ('1 5/4"', "no proper fraction"),
        ('1/0"', "nought parts"),
        ("19'-13", "no number of inches"),
        ("-5 mm", "less than nothing"),
        ("±0.5 mm", "less than nothing"),
        ("4 cwt", "this is a weight, not a length"),
        ("10 S.W.G.", "this is a gauge, not a length"),
        ('1 1/4" B.S.W.', "this is a thread, not a length"),
        ("15 ft a minute", "a rate"),
        ('2" bore', "stands `bore`"),
        ("3 m 20 mm", "2 measures"),
        ("as drawn", "cannot be read as a length"),
        ("1 in 12", "cannot be read as a length"),
        ("1234567890123 mm", "cannot be read as a length"),
        ("12 mm2", "this is an area, not a length"),
    ],
)
def test_refused(written: str, why: str) -> None:
    assert why in refusal(written)


@pytest.mark.parametrize("written", ["about 40 yards", "abt. 40 yards", "c. 40 yards", "~40 yards", "40 yards approx."])
def test_about(written: str) -> None:
    read = length(written)
    assert read.approximate
    assert read.value == 40 * 36 * INCH
    assert not length("40 yards").approximate
