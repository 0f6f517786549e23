"""Records of the trade: items and their fields, where items stand, sheets, steps."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.model import (
    FIELD_BY_LABEL,
    FIELDS,
    RESERVED_LABELS,
    Item,
    Kind,
    Layout,
    Route,
    Sheet,
    Stage,
    State,
    Step,
)


def item(number: str = "4.1", section: str = "4", kind: Kind = Kind.ITEM, state: State = State.LIVE) -> Item:
    return Item(number, kind, Layout.ROW, section, state=state)


words = st.text(alphabet='ab 1/"½', max_size=8).map(str.strip)
labels = st.sampled_from(["Description", "Text", *(field.label for field in FIELDS)])
own_labels = st.sampled_from(["Colour", "Bin", "Finish"])


def test_every_field_has_its_attribute_and_a_label_of_its_own() -> None:
    assert len(FIELD_BY_LABEL) == len(FIELDS) == 18
    assert all(getattr(item(), field.name) == "" for field in FIELDS)
    assert {"item", "description", "text", "deleted", "reserved", "rough weight"} <= RESERVED_LABELS


@given(st.one_of(labels, own_labels), words)
def test_a_field_says_what_was_put_in_and_nothing_else_is_touched(label: str, text: str) -> None:
    before = item()
    after = before.with_field(f" {label.upper()} ", f" {text} ")
    assert after.get(label.lower()) == text
    others = {*(field.label for field in FIELDS), "Description", "Text", "Colour", "Bin", "Finish"} - {label}
    assert all(after.get(other) == "" for other in others)
    assert (after.number, after.section, after.kind, after.state) == ("4.1", "4", Kind.ITEM, State.LIVE)
    assert before == item()
    assert after.with_field(label, "") == before


def test_fields_of_the_source_are_kept_sorted_and_once() -> None:
    one = item().with_field("Finish", "black").with_field("Bin", "12").with_field("finish", "bright")
    assert one.other == (("Bin", "12"), ("finish", "bright"))
    assert one.get("FINISH") == "bright"
    assert one.get("no such label") == ""


def test_what_an_item_says_stands_in_the_order_of_the_paper() -> None:
    one = item().with_field("Colour", "grey").with_field("Remarks", "see 4.2").with_field("Off", "12")
    assert list(one.said()) == [("Off", "12"), ("Remarks", "see 4.2"), ("Colour", "grey")]


@pytest.mark.parametrize(
    ("kind", "state", "is_line"),
    [
        (Kind.ITEM, State.LIVE, True),
        (Kind.ITEM, State.DELETED, False),
        (Kind.ITEM, State.RESERVED, False),
        (Kind.CLAUSE, State.LIVE, False),
        (Kind.SECTION, State.LIVE, False),
    ],
)
def test_only_live_items_are_lines(kind: Kind, state: State, is_line: bool) -> None:
    assert item(kind=kind, state=state).is_line is is_line


def test_items_of_an_order_stand_by_section_the_section_first() -> None:
    in_order = [
        item("4", "4", Kind.SECTION),
        item("4.1", "4"),
        item("4.1.1", "4"),
        item("4.1.2", "4"),
        item("4.1.2A", "4"),
        item("4.2", "4"),
        item("4.10", "4"),
        item("4A", "4A", Kind.SECTION),
        item("4A.1", "4A"),
        item("5", "5", Kind.SECTION),
        item("5.1", "5"),
        item("10", "10", Kind.SECTION),
    ]
    backwards = in_order[::-1]
    assert sorted(backwards, key=lambda one: one.place_key) == in_order


def test_an_item_stands_in_the_section_it_was_put_in_whatever_its_number() -> None:
    strange = item("2.1.3", "3")
    assert item("3", "3", Kind.SECTION).place_key < strange.place_key < item("4", "4", Kind.SECTION).place_key


@pytest.mark.parametrize("stage", [*Stage, "", "Issued"])
def test_only_approved_and_issued_sheets_may_be_made_from(stage: str) -> None:
    assert Sheet("SL-1002", stage=stage).may_be_made_from is (stage in ("approved", "issued"))


def test_a_sheet_is_called_by_number_and_sheet() -> None:
    assert Sheet("SL-1002", sheet="1").name == "SL-1002/1"
    assert Sheet("SL-1002").name == "SL-1002"


def test_a_step_counts_its_extra_and_as_required_stays_uncounted() -> None:
    step = Step(place=1, department="FDY", operation="cast", basis="17", off=17, extra=1, because="iron castings")
    assert step.total == 18
    assert replace(step, off=None).total is None


def test_a_route_is_allocated_by_steps_or_by_a_reason_for_none() -> None:
    assert not Route().allocated
    assert Route(no_action="reference only").allocated
    step = Step(place=1, department="FDY", operation="cast", basis="all", off=4, extra=0, because="castings")
    assert Route((step,)).allocated
