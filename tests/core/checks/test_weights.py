"""Weights: what cannot be read, what disagrees and by which slip, and how many items have none."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from specreg.core.checks import faults_of, weights_and_sizes
from specreg.core.checks.weights import few_without_weight
from specreg.core.faults import Fault, Severity
from specreg.core.measures.figures import decimal
from specreg.core.measures.records import NotRead
from specreg.core.measures.written import read_mass
from specreg.core.take_off import take_off
from tests.core.checks.works_to_check import faults, names, picture
from tests.core.stock.test_stock_properties import SIZES
from tests.core.stock.works import BARE, WORKS, item

ROUND = '3" dia x 8\' 4"'
PER_METRE = Fraction(7850, 10**6)
"""kg of a metre of flat of one mm2 in mild steel."""


@pytest.mark.parametrize(
    ("weight", "rough", "found"),
    [
        ("9 cwt", "8 cwt", ["error: weight over rough weight"]),
        ("9 cwt", "447.3 kg", ["error: weight over rough weight"]),
        ("8 cwt", "8 cwt", []),
        ("8 cwt", "9 cwt", []),
        ("8 cwt", "", []),
        ("", "9 cwt", []),
    ],
)
def test_nothing_weighs_more_finished_than_rough(weight: str, rough: str, found: list[str]) -> None:
    assert names("", "cast iron", weight, rough) == found


def test_finished_over_rough_names_both() -> None:
    (fault,) = faults(item("", "cast iron", "9 cwt", "8 cwt"))
    assert fault.subject == "4.1" and "Weight 9 cwt" in fault.text and "Rough weight 8 cwt" in fault.text


@pytest.mark.parametrize(
    ("weight", "severity", "said"),
    [
        ("12", Severity.ERROR, "12 — of what? Write 12 lb or 12 kg."),
        ("1-2-3", Severity.ERROR, "tons, cwt and qr, or cwt, qr and lb?"),
        ("5 cwt 20 kg", Severity.ERROR, "2 measures stand here"),
        ("1 t", Severity.ERROR, "tons or tonnes?"),
        ("½", Severity.ERROR, "of what?"),
        ("to follow", Severity.WARNING, "it cannot be read as a weight"),
    ],
)
def test_a_weight_that_cannot_be_read_is_asked_about(weight: str, severity: Severity, said: str) -> None:
    for label, one in (("Weight", item(ROUND, weight=weight)), ("Rough weight", item(ROUND, rough=weight))):
        (fault,) = faults(one)
        assert (fault.name, fault.severity, fault.subject) == ("weight not read", severity, "4.1")
        assert fault.text.startswith(f"4.1, {label}: {weight} — ") and said in fault.text


def test_each_field_is_asked_about_and_only_what_cannot_be_read() -> None:
    both = faults(item("", "cast iron", "3 x", "4 y"))
    assert [fault.text.partition(" — ")[0] for fault in both] == ["4.1, Weight: 3 x", "4.1, Rough weight: 4 y"]
    assert len(faults(item("", "cast iron", "3", "3"))) == 2
    (one,) = faults(item("", "cast iron", "8 cwt", "9"))
    assert one.text.startswith("4.1, Rough weight: 9 — of what?")


def test_a_ton_is_read_by_the_rule_of_the_house() -> None:
    (fault,) = faults(item("", "cast iron", "3 tons"), works=BARE)
    assert (fault.name, fault.severity) == ("weight not read", Severity.ERROR) and "which ton?" in fault.text
    assert faults(item("", "cast iron", "3 tons")) == []


@pytest.mark.parametrize(
    ("weight", "severity", "said"),
    [
        ("101 kg", Severity.WARNING, "11 % over the 90.9 kg by size."),
        ("80 kg", Severity.WARNING, "12 % under the 90.9 kg by size."),
        ("450 kg", Severity.WARNING, "4.9 times the 90.9 kg by size."),
        ("19 kg", Severity.WARNING, "one part in 4.8 of the 90.9 kg by size."),
        ("456 kg", Severity.ERROR, "5.0 times the 90.9 kg by size."),
        ("18 kg", Severity.ERROR, "one part in 5.1 of the 90.9 kg by size."),
        ("200 kg", Severity.ERROR, "a ratio near 2.2046: pounds for kilograms?"),
        ("9.1 kg", Severity.ERROR, "a ratio near 10: is the point in its place?"),
        ("0 kg", Severity.ERROR, "nought against the 90.9 kg by size."),
    ],
)
def test_a_stated_weight_far_from_the_one_by_size(weight: str, severity: Severity, said: str) -> None:
    for label, one in (("Weight", item(ROUND, weight=weight)), ("Rough weight", item(ROUND, rough=weight))):
        (fault,) = faults(one)
        assert (fault.name, fault.severity, fault.subject) == ("weight against size", severity, "4.1")
        assert (
            fault.text.startswith(f"4.1, {label} {weight}, by size 1 cwt 3 qr 4 lb: the stated ") and said in fault.text
        )
        assert ".." not in fault.text and "?." not in fault.text


def test_the_weight_by_size_is_written_as_the_order_writes_weights() -> None:
    (fault,) = faults(item(ROUND, weight="101 kg"), units="metric")
    assert fault.text.startswith("4.1, Weight 101 kg, by size 90.9 kg: ")


def test_a_works_that_does_not_say_how_near_doubts_nothing() -> None:
    assert faults(item(ROUND, weight="200 kg"), works=BARE) == []


LENGTHS = st.integers(100, 9000)
WIDTHS = st.integers(10, 300)
SLIPS = st.sampled_from(["10", "1000", "2.2046", "112", "2240"])


def stated(width: int, length: int, times: Fraction) -> list[Fault]:
    """The faults of a flat with its weight times so much stated, to a ten-thousandth of a kg."""
    mass = width * 10 * Fraction(length, 1000) * PER_METRE
    return faults(item(f"{width} mm x 10 mm flat x {length} mm", weight=f"{decimal(mass * times, 4)} kg"))


@given(WIDTHS, LENGTHS, st.fractions(Fraction(91, 100), Fraction(109, 100)))
def test_a_weight_within_ten_per_cent_is_never_a_fault(width: int, length: int, times: Fraction) -> None:
    assert stated(width, length, times) == []


@given(WIDTHS, LENGTHS, SLIPS, st.fractions("0.98", "1.02"), st.booleans())
def test_a_slip_of_units_is_always_an_error_that_names_it(
    width: int, length: int, slip: str, near: Fraction, over: bool
) -> None:
    times = Fraction(slip) * near
    # What is too light for the four places of the stated weight would be rounded out of the ratio.
    assume(over or width * length * PER_METRE / 100 / times >= Fraction(1, 10))
    (fault,) = stated(width, length, times if over else 1 / times)
    assert (fault.name, fault.severity) == ("weight against size", Severity.ERROR)
    assert f"a ratio near {slip}: " in fault.text


@given(WIDTHS, LENGTHS, st.fractions(Fraction(112, 100), 20))
def test_a_weight_further_off_is_always_a_fault_and_grave_from_five_times_on(
    width: int, length: int, times: Fraction
) -> None:
    (fault,) = stated(width, length, times)
    assert fault.name == "weight against size"
    if times > Fraction("5.01"):
        assert fault.severity is Severity.ERROR


def test_many_items_without_weight_are_told_once_and_counted() -> None:
    named = item("as makers' list")
    nine = [item(ROUND)] * 9
    assert list(few_without_weight(picture(*nine, named))) == []
    (fault,) = few_without_weight(picture(*nine, named, named))
    assert (fault.name, fault.severity, fault.subject) == ("items without weight", Severity.WARNING, "")
    assert fault.text.startswith("2 items of 11 (18 %) should have a weight and have none")


def test_an_assembly_whose_parts_have_weights_is_not_one_without() -> None:
    head = item("", "")
    parts = [replace(item(ROUND), per="4.1"), replace(item(ROUND), per="4.1")]
    assert list(few_without_weight(picture(head, *parts))) == []


SAID = st.tuples(
    st.sampled_from([ROUND, "", "as makers' list"]),
    st.sampled_from(["mild steel", ""]),
    st.sampled_from(["", "", "3 cwt"]),
    st.sampled_from(["machine", "machine", "4.1", "4.2", "4.3"]),
    st.sampled_from(["1", "2", "as required", "2 per 4.1", "0"]),
)


@given(st.lists(SAID, min_size=1, max_size=12))
def test_items_without_weight_are_those_that_the_take_off_tells_of(said: list[tuple[str, ...]]) -> None:
    drawn = picture(
        *(replace(item(size, material, weight), per=per, off=off) for size, material, weight, per, off in said)
    )
    whole = take_off(drawn).whole
    found = list(few_without_weight(drawn))
    assert bool(found) is (whole.without * 10 > whole.items)
    assert not found or f" of {whole.items} (" in found[0].text


def test_a_works_without_rules_for_masses_is_not_asked_for_weights() -> None:
    assert list(few_without_weight(picture(item("as makers' list"), works=BARE))) == []


def test_an_order_of_nothing_wants_no_weights() -> None:
    assert list(weights_and_sizes(picture())) == []


def test_of_a_number_used_twice_the_mass_of_the_first_is_told_of_the_first_alone() -> None:
    first = replace(item("", "cast iron", "9 cwt", "8 cwt"), number="4.1")
    drawn = replace(picture(), items=(first, replace(first, weight="1 cwt")))
    assert [fault.name for fault in weights_and_sizes(drawn) if fault.subject] == ["weight over rough weight"]


FIELDS = st.one_of(SIZES, st.sampled_from(["3 cwt", "12", "4/8 cwt", "nil", ""]), st.text(max_size=20))


@given(st.lists(st.tuples(FIELDS, FIELDS, FIELDS), max_size=4), st.sampled_from(["machine", "4.1", "4.2", "9", ""]))
def test_whatever_is_written_the_checks_answer_with_sentences(written: list[tuple[str, str, str]], per: str) -> None:
    items = [replace(item(size, "mild steel", weight, rough), per=per) for size, weight, rough in written]
    for works in (WORKS, BARE):
        drawn = picture(*items, works=works)
        for fault in faults_of(drawn):
            assert fault.text.strip() and fault.name
        refused = [
            f"{one.number}, {label}"
            for one in drawn.items
            for label, said in (("Weight", one.weight), ("Rough weight", one.rough_weight))
            if said.strip() not in ("", "-", "–", "—") and isinstance(read_mass(said, ton=works.reckoning.ton), NotRead)
        ]
        told = [fault for fault in weights_and_sizes(drawn) if fault.name == "weight not read"]
        assert [fault.text.partition(":")[0] for fault in told] == refused
