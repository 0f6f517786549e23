"""Weights: sums of tons, hundredweights, quarters and pounds, metric, and the ton that is never guessed."""

from __future__ import annotations

from fractions import Fraction

import pytest

from specreg.core.measures.records import Kind, Measure, NotRead
from specreg.core.measures.written import read_mass, read_pressure

POUND = Fraction("0.45359237")


def mass(text: str, ton: str = "") -> Measure:
    """The measure that a text is read as."""
    read = read_mass(text, ton=ton)
    assert isinstance(read, Measure), str(read)
    assert read.kind is Kind.MASS
    assert read.written == text
    return read


def refusal(text: str, ton: str = "") -> str:
    """The refusal that a text meets, in words."""
    read = read_mass(text, ton=ton)
    assert isinstance(read, NotRead), read
    assert read.written == text
    return str(read)


@pytest.mark.parametrize(
    ("written", "pounds"),
    [
        ("3 cwt 1 qr 17 lb", "381"), ("3c 1q 17lb", "381"), ("3c1q17lb", "381"), ("3 cwt. 1 qr. 17 lbs.", "381"),
        ("1 cwt 3 qrs 27 lbs", "223"), ("3 CWT, 1 QR, 17 LB", "381"), ("23-4-2-11", "52035"),
        ("23 – 4 – 2 – 11", "52035"),
        ("23.4.2.11", "52035"), ("0-0-0-7", "7"), ("23 t. 4 c. 2 q. 11 lb.", "52035"), ("4 cwt", "448"),
        ("2 1/2 cwt", "280"),
        ("1 qr 0 lb", "28"), ("3 quarters", "84"), ("14 stone", "196"), ("7 lb 4 oz", "29/4"),
        ("15 oz 15 dr", "255/256"),
        ("1,250 lb", "1250"), ("2.5 lb", "5/2"), ("½ lb", "1/2"), ("3 long tons", "6720"), ("3 short tons", "6000"),
    ],
)  # fmt: skip
def test_hundredweights(written: str, pounds: str) -> None:
    assert mass(written).value == Fraction(pounds) * POUND


@pytest.mark.parametrize(
    ("written", "kilograms"),
    [
        ("12,5 kg", "12.5"), ("12.5 kg", "12.5"), ("1 250 kg", "1250"), ("940 kgs", "940"), ("5 tonnes", "5000"),
        ("1 tonne 250 kg", "1250"), ("2 t 500 kg", "2500"), ("3 metric tons", "3000"), ("500 g", "0.5"),
        ("2 kilos", "2"),
    ],
)  # fmt: skip
def test_metric(written: str, kilograms: str) -> None:
    assert mass(written).value == Fraction(kilograms)


def test_a_ton_by_itself_needs_the_rule_of_the_house() -> None:
    for written in ("2 tons", "1 1/2 tons", "1 ton 2 lb"):
        assert "which ton?" in refusal(written)
        assert "2240 lb (long)" in refusal(written)
    assert mass("2 tons", "long").value == 4480 * POUND
    assert mass("2 tons", "long").basis == "ton of 2240 lb, rule of the house"
    assert mass("2 tons", "short").value == 4000 * POUND
    assert mass("2 tons", "metric").value == 2000
    assert mass("2,5 tons", "metric").value == 2500
    assert mass("1 ton 2 lb", "short").value == 2002 * POUND
    assert "1000 kg" in refusal("1 ton 2 lb", "metric")
    with pytest.raises(ValueError, match="imperial"):
        read_mass("2 tons", ton="imperial")


def test_a_ton_added_up_in_hundredweights_has_twenty_of_them() -> None:
    for ton in ("", "long"):
        read = mass("1 ton 3 cwt 2 qr 14 lb", ton)
        assert read.value == 2646 * POUND
        assert read.basis == "ton of 20 cwt, 2240 lb"
    assert "2240 lb" in refusal("1 ton 3 cwt", "metric")
    assert "2240 lb" in refusal("23-4-2-11", "metric")


def test_hundredweights_are_unclear_where_tons_are_short() -> None:
    for written in ("1 ton 3 cwt", "3 cwt", "3 cwt 1 qr"):
        assert "112 lb" in refusal(written, "short")
    assert "other tons" in refusal("23-4-2-11", "short")
    assert mass("30 lb", "short").value == 30 * POUND


def test_t_is_a_tonne_or_a_ton_only_by_what_stands_beside_it() -> None:
    for ton in ("", "long", "short"):
        assert "tons or tonnes?" in refusal("5 t", ton)
    assert mass("5 t", "metric").value == 5000
    assert mass("7t 6c 3q 24lb").value == (7 * 2240 + 6 * 112 + 3 * 28 + 24) * POUND


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("", "nothing is written"), ("25", "Write 25 lb or 25 kg"), ("3c", "Write 3 cwt"), ("2 q.", "Write 2 qr"),
        ("4-2-11", "tons, cwt and qr, or cwt, qr and lb?"), ("150 to 300 lb", "a range"), ("3 ft", "this is a length"),
        ("100 lb a yard", "a rate"), ("100 lb/yd", "a rate"), ("100 lb/sq in", "this is a pressure"),
        ("50 lb ft", "cannot be read as a weight"), ("1/2 cwt 10 lb", "no whole number"), ("12,5 lb", "comma"),
        ("1,250 kg", "1250 or 1.250?"),
        ("3 cwt 2 kg", "2 measures"), ("heavy", "cannot be read as a weight"), ("3 cwt 1 qr 17", "stands `17`"),
    ],
)  # fmt: skip
def test_refused(written: str, why: str) -> None:
    assert why in refusal(written)


def test_what_is_carried_is_doubtful_and_right() -> None:
    read = mass("0-19-3-28")
    assert read.value == 2240 * POUND
    assert read.doubts == ("28 lb make 1 qr",)
    assert mass("1 cwt 4 qr").doubts == ("4 qr beside cwt make 1 cwt or more",)
    assert mass("30 cwt").doubts == ()
    assert mass("0-19-3-27").doubts == ()


def test_grams_closed_up_may_be_a_gauge() -> None:
    assert mass("16g").doubts == ("g is read as grams: a gauge is written 16 S.W.G.",)
    assert mass("16 g").doubts == ()


def test_about() -> None:
    assert mass("about 9 cwt").approximate
    assert mass("say 0-9-0-0").approximate
    assert mass("about 9 cwt").value == 1008 * POUND


def test_tons_on_the_square_inch_need_the_rule_too() -> None:
    assert isinstance(read_pressure("23 tons/sq in"), NotRead)
    assert isinstance(read_pressure("23 tons/sq in", ton="metric"), NotRead)
    by_rule = read_pressure("23 tons/sq in", ton="long")
    in_pounds = read_pressure("51520 lb/sq in")
    assert isinstance(by_rule, Measure)
    assert isinstance(in_pounds, Measure)
    assert by_rule.value == in_pounds.value
