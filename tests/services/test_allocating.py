"""Allocating: every line its route, gaps shown, nothing written where nothing changed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from specreg.core.errors import FaultsStop, NotPermitted
from specreg.services.allocating import allocate, try_rules, why
from specreg.services.altering import alter, delete, insert
from specreg.services.checking import check
from specreg.services.office import Office
from specreg.store import day_book, routes
from tests.services.office_for_tests import (
    ROUTING,
    as_person,
    issue_all,
    new_office,
    note_opened,
    take_in_tiny,
    with_order,
)


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order, allocated."""
    made = with_order(tmp_path)
    yield made
    made.book.close()


def last_entry(office: Office) -> int:
    """The number of the last entry in the day-book."""
    return day_book.entries(office.book, None, 1)[0].entry


def test_every_line_is_allocated_or_says_why_not(tmp_path: Path) -> None:
    office = new_office(tmp_path)
    take_in_tiny(office, tmp_path)
    done = allocate(office)
    assert (done.items, done.allocated, done.no_action, done.unallocated) == (12, 11, 1, 0)
    assert done.written == 12
    # The order's own rules: castings FDY MCH ERE, steel MCH ERE, bought BUY ERE, 5.2 and 5.3 proved by MCH besides.
    assert {one.code: (one.items, one.steps) for one in done.departments} == {
        "BUY": (2, 2), "FDY": (5, 5), "MCH": (10, 10), "ERE": (11, 11),
    }  # fmt: skip
    office.book.close()


def test_with_nothing_to_do_nothing_is_written(office: Office) -> None:
    before = last_entry(office)
    assert allocate(office).written == 0
    assert last_entry(office) == before
    assert allocate(as_person(office, "WG")).written == 0


def test_who_may_not_allocate_is_refused_as_soon_as_there_is_something_to_write(office: Office) -> None:
    alter(office, "4.1.2", {"Material": "cast iron"})
    with pytest.raises(NotPermitted):
        allocate(as_person(office, "WG"))
    assert allocate(as_person(office, "HP")).written == 1


def test_only_what_changed_is_written(office: Office) -> None:
    alter(office, "4.1.2", {"Material": "cast iron"})
    alter(office, "4.3", {"Remarks": "in thirds"})
    assert allocate(office).written == 1


def test_an_items_own_route_goes_before_the_rules_and_back_again(office: Office) -> None:
    alter(office, "4.1.2", {"Route": "BUY; ERE 40 & FDY 8"})
    assert allocate(office).written == 1
    told = why(office, "4.1.2")
    assert [(step.department, step.off) for step in told.route.steps] == [("BUY", 48), ("ERE", 40), ("FDY", 8)]
    assert {step.because for step in told.route.steps} == {"Route field"}
    alter(office, "4.1.2", {"Route": ""})
    allocate(office)
    assert [step.because for step in why(office, "4.1.2").route.steps] == ["steel", "steel"]


def test_numbers_of_a_route_that_do_not_add_up_bar_the_issue(office: Office) -> None:
    alter(office, "4.1.2", {"Route": "BUY; ERE 40"})
    allocate(office)
    (fault,) = check(office).barring
    assert (fault.name, fault.subject) == ("final steps do not add up", "4.1.2")
    assert "the order wants 48, and its final steps deliver 40 (ERE 40)" in fault.text


def test_a_gap_is_shown_and_an_old_route_does_not_stand_in_for_it(office: Office) -> None:
    alter(office, "4.1.2", {"Material": "oak"})
    done = allocate(office)
    assert [(item.number, reason) for item, reason in done.gaps] == [("4.1.2", "no rule fits it")]
    assert done.unallocated == 1
    assert "not allocated" in {fault.name for fault in check(office).barring}


def test_deleted_items_go_to_nobody(office: Office) -> None:
    before = {one.code: one.items for one in allocate(office).departments}
    delete(office, "4.1.2", "riveted")
    after = {one.code: one.items for one in allocate(office).departments}
    assert (before["ERE"] - after["ERE"], before["MCH"] - after["MCH"]) == (1, 1)


def test_why_tells_of_each_rule_whether_it_fits(office: Office) -> None:
    told = why(office, "5.2")
    fits = {one.rule: one.matched for one in told.tried if one.rule}
    assert fits["bought"]
    assert fits["safety is proved"]
    assert not fits["castings"]
    assert [(step.department, step.because) for step in told.route.steps] == [
        ("BUY", "bought"), ("MCH", "safety is proved"), ("ERE", "bought"),
    ]  # fmt: skip
    assert told.stands
    alter(office, "5.2", {"Safety": ""})
    assert not why(office, "5.2").stands


@pytest.mark.parametrize("number", ["4", "1.1"])
def test_a_heading_or_a_clause_wants_no_route_and_none_is_missing(office: Office, number: str) -> None:
    told = why(office, number)
    assert told.route.steps == ()
    assert told.stands


def test_a_new_item_under_a_note_is_allocated_under_it(office: Office) -> None:
    issue_all(office)
    number = note_opened(office)
    note_opened(office)
    insert(office, "4.4", {"Description": "Guard", "Off": "1", "Per": "machine", "Material": "mild steel"}, number)
    assert allocate(office).written == 1
    issue_all(office, number)
    assert check(office).barring == ()


RULES = (
    ROUTING.replace("FDY cast all;", "FDY cast all; FDY fettle all;")
    + """
[[rule]]
name = "timber"
material = ["teak"]
route = "MCH saw all; ERE erect all"
"""
)


def test_a_rule_file_is_tried_and_nothing_is_written(office: Office, tmp_path: Path) -> None:
    allocate(office)
    before = routes.all_now(office.book, office.order_id)
    entries = len(day_book.entries(office.book, limit=1000))
    (tmp_path / "rules.toml").write_text(RULES, encoding="utf-8")
    tried = try_rules(office, tmp_path / "rules.toml")
    moved = {one.item.number: (len(one.old.steps), len(one.new.steps)) for one in tried.moved}
    assert (moved["4.1.1"], moved["4.3"]) == ((3, 4), (3, 4))
    assert all(one.old != one.new for one in tried.moved)
    foundry = next(one for one in tried.departments if one[0] == "FDY")
    assert foundry[3] == 2 * foundry[2] > 0
    assert [one.rule.name for one in tried.used if one.is_idle] == ["timber"]
    assert routes.all_now(office.book, office.order_id) == before
    assert len(day_book.entries(office.book, limit=1000)) == entries


def test_items_that_a_rule_file_leaves_without_a_route_are_its_gaps(office: Office, tmp_path: Path) -> None:
    allocate(office)
    (tmp_path / "rules.toml").write_text('[[rule]]\nname = "bought"\nsupply = ["buy"]\nroute = "BUY; ERE"\n', "utf-8")
    tried = try_rules(office, tmp_path / "rules.toml")
    assert tried.gaps
    assert {reason for _, reason in tried.gaps} == {"no rule fits it"}
    assert {item.number for item, _ in tried.gaps} <= {one.item.number for one in tried.moved}


def test_the_same_rules_move_nothing_and_a_faulty_file_says_where(office: Office, tmp_path: Path) -> None:
    allocate(office)
    file = tmp_path / "rules.toml"
    file.write_text(ROUTING, encoding="utf-8")
    assert try_rules(office, file).moved == ()
    file.write_text('[[rule]]\nname = "x"\nroute = "XYZ all"\n', encoding="utf-8")
    with pytest.raises(FaultsStop) as caught:
        try_rules(office, file)
    assert str(caught.value.faults[0].place) == "rules.toml, line 3"
