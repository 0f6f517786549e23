"""Shares and their proof: every line in one share, final steps that deliver the order, what changed for whom."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.core.model import Item, Route, State
from specreg.core.roll_up import roll_up
from specreg.core.routing import Allocator
from specreg.core.shares import (
    Line,
    final_steps,
    lines_of,
    off_faults,
    reconcile,
    share_changes,
    shares,
    split_faults,
)
from specreg.core.standards import House, Rule, Standards
from tests.strategies import DEPARTMENTS, Specified, item, orders
from tests.strategies import standards as drawn_standards

WORKS = Standards(
    House("Practice works"),
    DEPARTMENTS,
    (
        Rule("castings", route="FDY all+1; MCH; FDY anneal; ERE machines & STO spares", material=("cast",)),
        Rule("bought", route="BUY; STO", supply=("buy",)),
        Rule("free", no_action="the customer supplies it", supply=("free issue",)),
    ),
)
MACHINES = ("1471", "1472")
Routed = list[tuple[Item, Route]]


def route_all(
    items: list[Item] | tuple[Item, ...], standards: Standards = WORKS, machines: tuple[str, ...] = MACHINES
) -> Routed:
    up = roll_up(items, machines)
    allocator = Allocator(standards)
    return [(one, allocator.allocate(one, found) if (found := up.of(one.number)) else Route()) for one in items]


RACK = item("4.1", "6 per machine", title="Rack", material="cast steel", spares="1 per machine")
BOLT = item("4.2", "24 per 4.1", title="Bolt", supply="buy")
MOTOR = item("4.3", title="Motor", supply="free issue")
ITEMS = [RACK, BOLT, MOTOR]


def test_each_department_gets_its_lines_with_where_they_come_from_and_go() -> None:
    split = shares(route_all([*ITEMS, item("4.4", material="cast iron", state=State.DELETED)]))
    said = {
        code: [(line.item.number, line.visit, line.step.off, line.came_from, line.goes_to) for line in lines]
        for code, lines in split.items()
    }
    assert said == {
        "FDY": [("4.1", 1, 14, (), ("MCH",)), ("4.1", 2, 14, ("MCH",), ("ERE", "STO"))],
        "MCH": [("4.1", 1, 14, ("FDY",), ("FDY",))],
        "ERE": [("4.1", 1, 12, ("FDY",), ())],
        "STO": [("4.1", 1, 2, ("FDY",), ()), ("4.2", 1, 288, ("BUY",), ())],
        "BUY": [("4.2", 1, 288, (), ("STO",))],
    }


def test_the_reconciliation_counts_items_lines_and_pieces() -> None:
    routed = route_all([*ITEMS, item("4.4", title="Key"), item("4.5", "as required", supply="buy")])
    up = roll_up([one for one, _ in routed], MACHINES)
    proof = reconcile(routed, up.totals)
    assert (proof.items, proof.allocated, proof.no_action, proof.unallocated) == (5, 3, 1, 1)
    assert (proof.steps, proof.in_shares, proof.difference) == (9, 9, 0)
    # The key has no route: its 2 are wanted and not delivered. The motor is nobody's, the packing is not counted.
    assert (proof.order_off, proof.final_off, proof.off_difference) == (14 + 288 + 2, 14 + 288, 2)
    assert not proof.holds
    whole = route_all(ITEMS)
    assert reconcile(whole, roll_up(ITEMS, MACHINES).totals).holds


def test_final_steps_that_do_not_deliver_the_order_are_named() -> None:
    short = item("4.1", "6 per machine", route="FDY 12; ERE 8 & STO 2")
    right = item("4.2", "6 per machine", route="FDY 12+2; ERE 8 & STO 4")
    more = item("4.3", "6 per machine", route="ERE 14+3")
    routed = route_all([short, right, more])
    totals = roll_up([short, right, more], MACHINES).totals
    faults = off_faults(routed, totals)
    assert [fault.subject for fault in faults] == ["4.1", "4.3"]
    assert "the order wants 12, and its final steps deliver 10 (ERE 8 and STO 2)" in faults[0].text
    # One short and one over by as much: the sums agree, and each is named all the same.
    assert reconcile(routed, totals).off_difference == 0
    assert final_steps(Route()) == ()


def test_a_line_lost_doubled_or_given_to_another_is_caught() -> None:
    routed = route_all(ITEMS)
    split = shares(routed)
    totals = roll_up(ITEMS, MACHINES).totals
    assert split_faults(routed, split) == ()
    deleted = (replace(RACK, number="4.9", state=State.DELETED), routed[0][1])
    assert shares([*routed, deleted]) == split
    assert split_faults([*routed, deleted], split) == ()
    assert reconcile([*routed, deleted], totals).holds
    lost = {**split, "STO": split["STO"][1:]}
    assert reconcile(routed, totals, lost).difference == 1
    assert not reconcile(routed, totals, lost).holds
    assert "stands in no share" in split_faults(routed, lost)[0].text
    doubled = {**split, "BUY": split["BUY"] * 2}
    assert reconcile(routed, totals, doubled).difference == -1
    assert "more than once" in split_faults(routed, doubled)[0].text
    both = {**split, "STO": split["STO"][1:], "BUY": split["BUY"] * 2}
    assert reconcile(routed, totals, both).difference == 0
    assert len(split_faults(routed, both)) == 2
    given_away = {**split, "STO": (), "MCH": (*split["MCH"], *split["STO"])}
    assert {fault.text.split(", ")[-1] for fault in split_faults(routed, given_away)} == {
        "stands in the share of MCH: split the order again"
    }
    foreign = {**split, "BUY": lines_of(item("9.9", supply="buy"), route_all([item("9.9", supply="buy")])[0][1])}
    assert {"stands on no route" in fault.text for fault in split_faults(routed, foreign)} == {True, False}


@settings(max_examples=40, deadline=None)
@given(orders(), drawn_standards())
def test_nothing_is_lost_in_splitting_any_order_by_any_rules(drawn: Specified, standards: Standards) -> None:
    routed = route_all(drawn.items, standards, drawn.machines)
    totals = roll_up(drawn.items, drawn.machines).totals
    split = shares(routed)
    proof = reconcile(routed, totals, split)
    assert proof.difference == 0
    assert proof.steps == sum(len(route.steps) for one, route in routed if one.is_line)
    assert (
        proof.items == proof.allocated + proof.no_action + proof.unallocated == sum(one.is_line for one in drawn.items)
    )
    assert split_faults(routed, split) == ()
    identities = [line.identity for lines in split.values() for line in lines]
    assert len(identities) == len(set(identities))


@settings(max_examples=40, deadline=None)
@given(orders(), drawn_standards(), st.data())
def test_any_broken_share_is_caught(drawn: Specified, standards: Standards, data: st.DataObject) -> None:
    routed = route_all(drawn.items, standards, drawn.machines)
    totals = roll_up(drawn.items, drawn.machines).totals
    split = shares(routed)
    if not split:
        return
    department = data.draw(st.sampled_from(sorted(split)))
    lines = list(split[department])
    place = data.draw(st.integers(0, len(lines) - 1))
    if data.draw(st.booleans()):
        del lines[place]
    else:
        lines.append(lines[place])
    broken = {**split, department: tuple(lines)}
    assert reconcile(routed, totals, broken).difference != 0
    assert len(split_faults(routed, broken)) == 1


@settings(max_examples=40, deadline=None)
@given(orders(), drawn_standards())
def test_off_faults_are_the_items_that_make_up_the_difference(drawn: Specified, standards: Standards) -> None:
    routed = [pair for pair in route_all(drawn.items, standards, drawn.machines) if pair[1].steps]
    totals = roll_up(drawn.items, drawn.machines).totals
    if not off_faults(routed, totals):
        assert reconcile(routed, totals).off_difference == 0
    for fault in off_faults(routed, totals):
        alone = [(one, route) for one, route in routed if one.number == fault.subject]
        assert reconcile(alone, totals).off_difference != 0


# --- what changed for a department


def share(items: list[Item], department: str) -> tuple[Line, ...]:
    return shares(route_all(items)).get(department, ())


def test_a_department_is_told_what_is_new_altered_and_no_longer_its_own() -> None:
    altered = replace(RACK, size="4 ft")
    new = item("4.6", material="cast iron")
    changes = share_changes(share(ITEMS, "STO"), share([altered, replace(BOLT, supply="free issue"), new], "STO"))
    assert [line.item.number for line in changes.withdrawn] == ["4.2"]
    assert [(before.item.size, now.item.size) for before, now in changes.altered] == [("", "4 ft")]
    assert changes.added == ()
    changes = share_changes(share(ITEMS, "MCH"), share([RACK, new], "MCH"))
    assert [line.item.number for line in changes.added] == ["4.6"]
    assert [line.item.number for line in changes.standing] == ["4.1"]
    assert changes.any


@pytest.mark.parametrize(
    ("altered", "department", "is_altered"),
    [
        (replace(RACK, off="3 per machine"), "MCH", True),
        (replace(RACK, off="12 per order", spares="2 per order"), "MCH", False),
        (replace(RACK, spares="2 per machine"), "STO", True),
        (replace(RACK, spares="2 per machine"), "ERE", False),
        (replace(RACK, route="FDY all+1; MCH; FDY anneal; ERE machines & STO spares"), "MCH", False),
        (replace(RACK, route="FDY all+2; MCH; FDY anneal; ERE machines & STO spares"), "MCH", False),
        (replace(RACK, route="FDY all+2; MCH; FDY anneal; ERE machines & STO spares"), "FDY", True),
        (replace(RACK, route="FDY all+1; MCH; ERE machines & STO spares"), "MCH", True),
        (replace(RACK, remarks="handle with care"), "ERE", True),
    ],
)
def test_only_what_a_department_reads_is_altered_for_it(altered: Item, department: str, is_altered: bool) -> None:
    assert share_changes(share([RACK], department), share([altered], department)).any is is_altered


def test_an_uncounted_quantity_in_other_words_is_altered() -> None:
    some = item("4.5", "as required", supply="buy")
    assert share_changes(share([some], "BUY"), share([replace(some, off="1 lot")], "BUY")).any
    assert not share_changes(share([some], "BUY"), share([some], "BUY")).any


def test_a_second_visit_taken_away_is_withdrawn() -> None:
    once = replace(RACK, route="FDY all+1; MCH; ERE machines & STO spares")
    changes = share_changes(share([RACK], "FDY"), share([once], "FDY"))
    assert [line.visit for line in changes.withdrawn] == [2]


@settings(max_examples=40, deadline=None)
@given(orders(most=6), orders(most=6), drawn_standards(most=4), drawn_standards(most=4))
def test_lines_before_and_what_changed_give_the_lines_now(
    before: Specified, now: Specified, old_rules: Standards, new_rules: Standards
) -> None:
    old = shares(route_all(before.items, old_rules, before.machines))
    new = shares(route_all(now.items, new_rules, now.machines))
    for department in old.keys() | new.keys():
        was, stands = old.get(department, ()), new.get(department, ())
        changes = share_changes(was, stands)
        assert len(was) + len(changes.added) - len(changes.withdrawn) == len(stands)
        assert len(stands) == len(changes.added) + len(changes.altered) + len(changes.standing)
        gone = {line.identity for line in changes.withdrawn}
        kept = {line.identity for line in was} - gone | {line.identity for line in changes.added}
        assert kept == {line.identity for line in stands}
        assert not share_changes(stands, stands).any


def test_a_number_used_twice_does_not_hide_a_line() -> None:
    twice = lines_of(RACK, route_all([RACK])[0][1]) * 2
    changes = share_changes(twice[:4], twice)
    assert len(changes.added) == len(twice) - 4
    assert changes.withdrawn == ()
