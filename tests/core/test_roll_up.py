"""The order quantity of every item, with its working."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.core.machines import machines_of
from specreg.core.model import Item, Kind, State
from specreg.core.numbering import number_key
from specreg.core.quantities import OffKind, has_spares
from specreg.core.roll_up import MOST_PIECES, RollUp, Total, roll_up
from specreg.core.workings import MOST_PATHS
from tests.strategies import Specified, item, orders

THREE = ("1471", "1472", "1473")


def rolled(*items: Item, machines: tuple[str, ...] = THREE) -> RollUp:
    return roll_up(items, machines)


def total_of(number: str, *items: Item, machines: tuple[str, ...] = THREE) -> Total:
    total = roll_up(items, machines).of(number)
    assert total is not None
    return total


def test_the_working_shows_the_chain_the_machines_and_the_spares() -> None:
    engine = item("4.1", "2 per machine")
    cover = item("4.2", "2", per="4.1", spares="1 per machine, 2 per order")
    total = total_of("4.2", engine, cover)
    assert total.working == "2 × 2 × 3 + 1 × 3 + 2 = 17"
    assert (total.off, total.written, total.spares, total.by_machine) == (17, "17", 5, (4, 4, 4))


def test_bogies_of_four_machines() -> None:
    # Common practice, no source: 2 per bogie, 2 bogies, 4 machines, 1 spare per machine, 2 spares for the order.
    bogie, wheel = item("1.1", "2 per machine"), item("1.2", "2", per="1.1", spares="1 per machine, 2 per order")
    total = total_of("1.2", wheel, bogie, machines=("7", "8", "9", "10"))
    assert total.working == "2 × 2 × 4 + 1 × 4 + 2 = 22"


def test_spares_of_a_parent_do_not_bring_its_children() -> None:
    total = total_of("1.2", item("1.1", "1 per machine", spares="5 per order"), item("1.2", "4", per="1.1"))
    assert total.off == 12


def test_several_parents_add_and_machines_limit_each_path() -> None:
    total = total_of(
        "4.4",
        item("4.1", "2 per machine", machines="-1472"),
        item("4.2", "3 per machine", machines="1473"),
        item("4.3", "1", per="4.2"),
        item("4.4", "5 per 4.1, 2 per 4.3, 1 per order"),
    )
    assert total.working == "5 × 2 × 2 + 2 × 1 × 3 × 1 + 1 = 27"
    assert (total.by_machine, total.once, total.for_machines) == ((10, 10, 6), 1, (0, 1, 2))


def test_spares_per_machine_are_for_the_machines_the_item_is_for() -> None:
    total = total_of(
        "4.2",
        item("4.1", "1 per machine", machines="1472-"),
        item("4.2", "1", per="4.1", machines="-1472", spares="1 per machine"),
    )
    assert (total.off, total.for_machines, total.working) == (2, (1,), "1 × 1 × 1 + 1 × 1 = 2")


def test_per_order_counts_once_and_multiplies_what_is_counted_per_it() -> None:
    box, lamp = item("9.1", "2 per order"), item("9.2", "3", per="9.1")
    assert total_of("9.1", box).working == "2"
    total = total_of("9.2", box, lamp)
    assert (total.off, total.once, total.by_machine, total.working) == (6, 6, (0, 0, 0), "3 × 2 = 6")


def test_what_is_no_count_stands_apart_with_its_words() -> None:
    total = total_of("4.1", item("4.1", "1 pair per machine", spares="1 pair per order"))
    assert (total.off, total.kind, total.written) == (None, OffKind.PAIR, "1 pair per machine, spares 1 pair per order")
    assert total.problem == ""
    assert has_spares(total)
    assert not has_spares(total_of("4.1", item("4.1", "as required")))
    assert total_of("4.1", item("4.1", "reference only")).off == 0


@pytest.mark.parametrize("off", ["1 pair per machine", "as required", "lot", "reference only"])
def test_a_count_per_something_without_count_is_a_problem(off: str) -> None:
    total = total_of("4.2", item("4.1", off), item("4.2", "2", per="4.1"))
    assert total.off is None
    assert "counted per 4.1, of which there is no count" in total.problem


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"off": "2 per 9.9"}, "9.9, which it is counted per, is not in the specification"),
        ({"off": "2 per 4.3"}, "4.3, which it is counted per, is deleted"),
        ({"off": "2 per 5"}, "5, which it is counted per, is a section"),
        ({"off": "2"}, "does not say per what"),
        ({"off": "2 per 4.1", "machines": "1479"}, "`1479` cannot be read as machines of this order"),
        ({"off": "2 per 4.4", "machines": "1471"}, "for 1471, but 4.4 is for none of these"),
        ({"off": "2 per 4.5", "machines": "1471"}, "4.5 is wanted per order and belongs to no one machine"),
        ({"off": "2 per 4.1", "spares": "1 pair per order"}, "counted in pieces, but its spares"),
        ({"off": "1 set per 4.1", "spares": "1 per order"}, "are not counted as it is itself"),
        ({"off": "2 per 4.1", "spares": "3"}, "spares `3` cannot be reckoned"),
    ],
)
def test_what_cannot_be_reckoned_has_no_number_and_says_what_to_do(fields: dict[str, str], said: str) -> None:
    others = (
        item("4.1"),
        item("4.3", state=State.DELETED),
        item("4.4", machines="1472-"),
        item("4.5", "6 per order"),
        item("5", kind=Kind.SECTION),
    )
    total = total_of("4.2", *others, item("4.2", **fields))  # type: ignore[arg-type]
    assert said in total.problem
    assert (total.off, total.waits_for) == (None, "")


def test_items_below_a_fault_wait_for_its_root_and_are_no_problem_of_their_own() -> None:
    up = rolled(item("4.1", "2"), item("4.2", "1", per="4.1"), item("4.3", "1 per 4.2"))
    assert [total.number for total in up.problems] == ["4.1"]
    below = up.of("4.3")
    assert below is not None
    assert (below.off, below.waits_for, below.written) == (None, "4.1", "not known")


def test_without_machines_only_what_is_per_order_can_be_counted() -> None:
    up = rolled(item("4.1", "2 per order"), item("4.2", "2 per machine"), machines=())
    assert [total.off for total in up.totals.values()] == [2, None]
    assert "names no machines" in up.problems[0].problem


def test_a_number_used_twice_is_a_problem_and_a_deleted_one_is_not_in_the_way() -> None:
    assert "more than one live item" in total_of("4.1", item("4.1"), item("04.1")).problem
    assert total_of("4.1", item("4.1", state=State.DELETED), item("4.1")).off == 3


def test_every_item_on_a_loop_names_it_and_those_below_wait() -> None:
    up = rolled(
        item("4.1", "1 per 4.2"),
        item("4.2", "1 per 4.3, 1 per 4.1"),
        item("4.3", "1 per 4.1"),
        item("4.4", "1 per 4.4"),
        item("4.5", "2 per 4.3"),
        item("4.6"),
    )
    said = {total.number: total.problem for total in up.totals.values()}
    assert "4.1 -> 4.2 -> 4.1" in said["4.1"]
    assert "4.1 -> 4.2 -> 4.1" in said["4.2"]
    assert "4.1 -> 4.2 -> 4.3 -> 4.1" in said["4.3"]
    assert "4.4 -> 4.4" in said["4.4"]
    assert said["4.5"] == "cannot be reckoned before 4.3 is put right"
    assert said["4.6"] == ""
    assert len(up.loops) == 3


def test_a_chain_5000_deep_is_reckoned_and_a_loop_as_long_is_named() -> None:
    deep = 5000
    chain = [item("1.1", "2 per machine"), *(item(f"1.{n}", "1", per=f"1.{n - 1}") for n in range(2, deep + 1))]
    total = roll_up(reversed(chain), THREE).of(f"1.{deep}")
    assert total is not None
    assert total.off == 6
    assert len(total.working) < 60
    ring = roll_up((item(f"1.{n}", "1", per=f"1.{n % deep + 1}") for n in range(1, deep + 1)), THREE)
    assert all("loop" in total.problem and len(total.problem) < 250 for total in ring.totals.values())


def test_a_number_that_grows_beyond_reason_is_a_problem() -> None:
    chain = [item("1.1", "999 per machine"), *(item(f"1.{n}", "999", per=f"1.{n - 1}") for n in range(2, 3000))]
    up = roll_up(chain, THREE)
    assert len(up.problems) == 1
    assert f"{MOST_PIECES:,}" in up.problems[0].problem


def test_many_paths_are_written_as_subtotals() -> None:
    ladder = [item("1.1"), item("1.2", "1 per 1.1")]
    ladder += [item(f"1.{n}", f"1 per 1.{n - 1}, 1 per 1.{n - 2}") for n in range(3, 30)]
    total = total_of("1.29", *ladder)
    assert total.off == 514229 * 3  # the 29th number of Fibonacci, one path for each
    assert total.working == "1 × 953433 + 1 × 589254 = 1542687"
    limited = [*ladder, item("3.1", "1 per 1.29", machines="1471"), item("3.2", "2 per 3.1", machines="-1472")]
    assert total_of("3.2", *limited).working == "2 × 1 × 514229 × 1 = 1028458"
    parted = [
        *(item(f"2.{n}", machines="1472-") for n in range(1, 8)),
        item("3.3", ", ".join(f"1 per 2.{n}" for n in range(1, 8))),
    ]
    assert total_of("3.4", *parted, item("3.4", "5 per 3.3")).working == "5 × 7 × 2 = 70"
    wide = [item(f"2.{n}", f"{n} per machine") for n in range(1, 21)]
    gathered = item("2.30", ", ".join(f"1 per 2.{n}" for n in range(1, 21)))
    assert total_of("2.30", *wide, gathered).off == 630
    assert total_of("2.30", *wide, gathered).working.count("+") == MOST_PATHS - 1


def reckoned_by_hand(drawn: Specified, number: str, machine: int | None) -> int:
    """The pieces of an item on one machine, or wanted per order (None), by walking up every path.

    The drawn items are never counted per a deleted one when this is asked; their own limits apply on the way.
    """
    found = {one.number: one for one in drawn.items}[number]
    if machine is not None and machine not in machines_of(found.machines, drawn.machines)[0]:
        return 0
    pieces = 0
    for part in found.off.split(", "):
        count, per = part.split(" per ")
        if per == "machine":
            pieces += int(count) if machine is not None else 0
        elif per == "order":
            pieces += int(count) if machine is None else 0
        else:
            pieces += int(count) * reckoned_by_hand(drawn, per, machine)
    return pieces


@settings(max_examples=80, deadline=None)
@given(orders())
def test_the_total_is_the_sum_over_every_path(drawn: Specified) -> None:
    up = roll_up(drawn.items, drawn.machines)
    for total in up.totals.values():
        if total.kind is not OffKind.COUNT or total.problem:
            assert total.off in (None, 0)
            continue
        by_hand = tuple(reckoned_by_hand(drawn, total.number, place) for place in range(len(drawn.machines)))
        assert total.by_machine == by_hand
        assert total.once == reckoned_by_hand(drawn, total.number, None)
        assert total.off == sum(by_hand) + total.once + total.spares


@settings(max_examples=80, deadline=None)
@given(orders())
def test_the_working_comes_to_the_total(drawn: Specified) -> None:
    for total in roll_up(drawn.items, drawn.machines).totals.values():
        if total.off is None or total.kind is OffKind.REFERENCE:
            assert total.working == ""
            continue
        terms, _, result = total.working.partition(" = ")
        reckoned = sum(product(term) for term in terms.split(" + "))
        assert reckoned == total.off == int(result or terms)
        assert terms.count(" + ") < MOST_PATHS + 2


def product(term: str) -> int:
    result = 1
    for factor in term.split(" × "):
        result *= int(factor)
    return result


@settings(max_examples=50, deadline=None)
@given(orders(), st.randoms(use_true_random=False))
def test_the_order_in_which_items_stand_changes_no_total(drawn: Specified, random: object) -> None:
    shuffled = list(drawn.items)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert roll_up(shuffled, drawn.machines).totals == roll_up(drawn.items, drawn.machines).totals


@settings(max_examples=50, deadline=None)
@given(orders())
def test_every_live_item_has_a_total_and_nothing_else_has(drawn: Specified) -> None:
    live = {number_key(one.number) for one in drawn.items if one.is_line}
    assert set(roll_up(drawn.items, drawn.machines).totals) == live


def with_parts(number: str, *items: Item) -> Total:
    total = roll_up(items, THREE, spares_bring_parts=True).of(number)
    assert total is not None
    return total


def test_by_rule_of_the_house_spares_of_a_parent_bring_its_children_down_the_chain() -> None:
    box = item("1.1", "1 per machine", spares="1 per machine, 5 per order")
    wheel, key = item("1.2", "4", per="1.1", spares="1 per order"), item("1.3", "2", per="1.2")
    total = with_parts("1.2", box, wheel, key)
    assert total.working == "4 × 1 × 3 + 1 + 4 × 1 × 3 + 4 × 5 = 45"
    assert (total.spares, sum(total.by_machine)) == (33, 12)
    below = with_parts("1.3", box, wheel, key)
    assert below.working == "2 × 4 × 1 × 3 + 2 × 4 × 3 + 2 × 21 = 90"
    assert below.spares == 66


def test_a_part_for_some_machines_takes_spares_of_these_and_none_that_belong_to_no_machine() -> None:
    box = item("1.1", "1 per machine", spares="1 per machine")
    wheel = item("1.2", "4", per="1.1", machines="1473")
    assert with_parts("1.2", box, wheel).working == "4 × 1 × 1 + 4 × 1 × 1 = 8"
    said = with_parts("1.2", item("1.1", "1 per machine", spares="1 per order"), wheel).problem
    assert "spares of 1.1 are wanted per order and belong to no one machine" in said


@settings(max_examples=60, deadline=None)
@given(orders(uncounted=False, limited=False))
def test_with_parts_brought_an_item_comes_to_as_many_as_if_its_parents_spares_were_on_the_machines(
    drawn: Specified,
) -> None:
    """The same pieces reckoned another way: every item's pieces are its own spares and its numbers times its parents'
    pieces, machine and order taken as items."""
    up = roll_up(drawn.items, drawn.machines, spares_bring_parts=True)
    plain = roll_up(drawn.items, drawn.machines)
    own = {number: total.spares for number, total in plain.totals.items()}
    whole: dict[str, int] = {"machine": len(drawn.machines), "order": 1}
    waiting = {one.number: one for one in drawn.items if one.is_line}
    while waiting:
        ready = [
            n for n, one in waiting.items() if all(part.split(" per ")[1] in whole for part in one.off.split(", "))
        ]
        if not ready:
            break
        for number in ready:
            parts = (part.split(" per ") for part in waiting.pop(number).off.split(", "))
            whole[number] = sum(int(count) * whole[per] for count, per in parts) + own[number_key(number)]
    for number, off in whole.items():
        total = up.of(number)
        assert total is None or total.problem or total.off == off
