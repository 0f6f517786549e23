"""Machines of an order and of an item: ranges, lists, places, and the text they go back to."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.machines import MOST_MACHINES, machines_of, order_machines, spoken
from tests.strategies import machine_names

OF = ("1471", "1472", "1475")


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("1471-1473", ("1471", "1472", "1473")),
        ("1471 – 1473", ("1471", "1472", "1473")),
        ("1471 to 1473", ("1471", "1472", "1473")),
        ("1471-1472, 1475", ("1471", "1472", "1475")),
        ("1471 and 1475", ("1471", "1475")),
        ("C 12", ("C 12",)),
        ("C 12-C 14", ("C 12", "C 13", "C 14")),
        ("C 12-14", ("C 12", "C 13", "C 14")),
        ("C-12-C-13", ("C-12", "C-13")),
        ("7/99-101", ("7/99", "7/100", "7/101")),
        ("0099-0101", ("0099", "0100", "0101")),
        ("1471A, 1472", ("1471A", "1472")),
        ("1st machine, 2nd machine", ("1st machine", "2nd machine")),
        ("3 machines", ("1st machine", "2nd machine", "3rd machine")),
        ("1 machine", ("1st machine",)),
        ("1471, 2nd machine", ("1471", "2nd machine")),
    ],
)
def test_an_order_names_its_machines(text: str, names: tuple[str, ...]) -> None:
    assert order_machines(text) == (names, "")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "names no machines"),
        ("1473-1471", "runs backwards"),
        ("1471-3", "runs backwards"),
        ("1471-14730", "more than"),
        ("5000 machines", "more than"),
        ("1471,,1473", "an empty place in the list"),
        ("from 1471", "no works number"),
        ("the lot", "no works number"),
        ("1471, 1471", "listed twice"),
        ("1471, 01471", "listed twice"),
        ("2nd machine", "stands in place 1"),
        ("C 12-D 14", "two different series"),
        ("1471A-1473", "a letter ends a number"),
    ],
)
def test_text_that_names_no_machines_is_a_sentence_and_no_machines(text: str, said: str) -> None:
    names, sentence = order_machines(text)
    assert names == ()
    assert said in sentence


def test_an_order_may_have_as_many_machines_as_the_limit_and_no_more() -> None:
    assert len(order_machines(f"1-{MOST_MACHINES}")[0]) == MOST_MACHINES
    assert order_machines(f"1-{MOST_MACHINES + 1}")[0] == ()
    assert order_machines(f"1-{MOST_MACHINES}, 5000")[0] == ()


@pytest.mark.parametrize(
    ("text", "positions"),
    [
        ("", (0, 1, 2)),
        ("all", (0, 1, 2)),
        ("All machines", (0, 1, 2)),
        ("1475", (2,)),
        ("1475, 1471", (0, 2)),
        ("1472-", (1, 2)),
        ("1472 on", (1, 2)),
        ("from 1472", (1, 2)),
        ("from the 2nd machine", (1, 2)),
        ("-1472", (0, 1)),
        ("up to 1472", (0, 1)),
        ("1472–1475", (1, 2)),
        ("from 1471 to 1472", (0, 1)),
        ("3rd machine", (2,)),
        ("1st-2nd machine", (0, 1)),
        ("machines 1471-1472", (0, 1)),
        ("1471, 1471-1472", (0, 1)),
    ],
)
def test_an_item_is_for_the_listed_machines_its_field_means(text: str, positions: tuple[int, ...]) -> None:
    assert machines_of(text, OF) == (positions, "")


@pytest.mark.parametrize(
    "text", ["1473", "1471-1473", "1475-1471", "4th machine", "1471,", "-", "none", "all but 1472", "1471-1472-"]
)
def test_machines_that_are_not_the_orders_are_a_sentence_that_names_the_orders(text: str) -> None:
    positions, sentence = machines_of(text, OF)
    assert positions == ()
    assert "1471-1472, 1475" in sentence


def test_prefixed_numbers_are_found_however_spaced_and_a_dash_may_belong_to_them() -> None:
    of = ("C-12", "C-13", "C-14")
    assert machines_of("c-12", of) == ((0,), "")
    assert machines_of("C-12-13", of) == ((0, 1), "")
    assert machines_of("C-13-", of) == ((1, 2), "")
    assert machines_of("C12", ("C 12", "C 13")) == ((0,), "")


def test_without_machines_a_limit_cannot_be_read_and_a_blank_means_none() -> None:
    assert machines_of("", ()) == ((), "")
    assert "names no machines" in machines_of("1471", ())[1]


def test_a_range_is_not_written_over_numbers_the_order_does_not_list() -> None:
    assert spoken((0, 1, 2), OF) == "1471-1472, 1475"
    assert spoken((1, 2), OF) == "1472, 1475"
    assert spoken((), OF) == "none"
    assert spoken((0, 1), ("C 12", "D 13")) == "C 12, D 13"
    assert spoken((2, 0, 1), ("C 9", "C 10", "C 11")) == "C 9-11"
    assert spoken((0, 1), ("1st machine", "2nd machine")) == "1st-2nd machine"


@given(machine_names())
def test_the_order_goes_to_text_and_back(of: tuple[str, ...]) -> None:
    assert order_machines(spoken(range(len(of)), of)) == (of, "")


@given(machine_names(), st.data())
def test_any_of_its_machines_go_to_text_and_back(of: tuple[str, ...], data: st.DataObject) -> None:
    positions = tuple(sorted(data.draw(st.sets(st.integers(0, len(of) - 1), min_size=1))))
    assert machines_of(spoken(positions, of), of) == (positions, "")


@given(st.text(alphabet="C1472-–, tofrmndhas/A", max_size=14))
def test_any_text_gives_positions_or_a_sentence_but_never_both(text: str) -> None:
    positions, sentence = machines_of(text, OF)
    assert bool(positions) != bool(sentence)
    names, said = order_machines(text)
    assert bool(names) != bool(said)
