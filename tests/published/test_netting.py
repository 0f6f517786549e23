"""What is on hand taken off what is wanted, level by level, against exercises of others."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from specreg.core.model import Item
from specreg.core.netting import pieces_spared
from specreg.core.numbering import number_key
from specreg.core.roll_up import roll_up
from tests.strategies import Specified, item, orders

FOUR_LEVELS = [
    item("A", "100 per order"), item("B", "2 per A"), item("C", "1 per A"), item("D", "3 per A, 2 per B"),
    item("E", "1 per B, 2 per C, 1 per D"), item("F", "1 per B, 1 per D"),
]  # fmt: skip


def wanted(items: list[Item], on_hand: dict[str, int]) -> dict[str, tuple[int, int]]:
    """What is wanted of each item once what is spared is taken off, and what of that is to be had."""
    totals = roll_up(items, ("1",))
    had = {number_key(number): pieces for number, pieces in on_hand.items()}
    spared = pieces_spared(items, ("1",), totals, had, spares_bring_parts=True)
    found = {}
    for total in totals.totals.values():
        assert total.off is not None
        left = total.off - spared.get(number_key(total.number), 0)
        found[total.number] = (left, max(0, left - on_hand.get(total.number, 0)))
    return found


def test_what_is_on_hand_is_netted_at_each_level_before_the_next():
    # Japanese state examination, spring 2009, question 71, as seen at ondine.isuzu-f.com/?p=842: A = 4B + 1C;
    # B = 3D + 1E; C = 1D + 2F; make 10 A; on hand 5 B and 25 D. The answer seen is 90 D.
    items = [
        item("A", "10 per order"), item("B", "4 per A"), item("C", "1 per A"), item("D", "3 per B, 1 per C"),
        item("E", "1 per B"), item("F", "2 per C"),
    ]  # fmt: skip
    found = wanted(items, {"B": 5, "D": 25})
    assert found == {"A": (10, 10), "B": (40, 35), "C": (10, 10), "D": (115, 90), "E": (35, 35), "F": (20, 20)}


def test_no_net_goes_below_nought():
    # Question seen at www.premiumessaywritingservice.com/operation-planning/, the answer computed: 100 A wanted, on
    # hand A 50, B 50, C 20, D 350, E 0, F 175.
    found = wanted(FOUR_LEVELS, {"A": 50, "B": 50, "C": 20, "D": 350, "F": 175})
    assert {number: net for number, (_, net) in found.items()} == {"A": 50, "B": 50, "C": 30, "D": 0, "E": 110, "F": 0}
    assert (found["D"][0], found["E"][0], found["F"][0]) == (250, 110, 50)


def by_hand(items: list[Item], on_hand: dict[str, int]) -> dict[str, int]:
    """The net of each item out of its own links, one level after the other; the items stand in such an order."""
    net: dict[str, int] = {}
    for one in items:
        links = [part.strip().split(" per ") for part in one.off.split(",")]
        gross = sum(int(number) * (1 if above == "order" else net[above]) for number, above in links)
        net[one.number] = max(0, gross - on_hand.get(one.number, 0))
    return net


@given(st.dictionaries(st.sampled_from("ABCDEF"), st.integers(0, 400)))
def test_any_stock_on_hand_against_a_plain_netting(on_hand):
    assert {number: net for number, (_, net) in wanted(FOUR_LEVELS, on_hand).items()} == by_hand(FOUR_LEVELS, on_hand)


def test_a_part_of_some_machines_is_spared_when_all_are_had():
    items = [item("1", "1 per machine"), item("1.1", "2 per 1", machines="1-2", spares="2 per order")]
    machines = ("1", "2", "3")
    totals = roll_up(items, machines)
    for had, spared in ((2, {}), (3, {number_key("1.1"): 4})):
        assert pieces_spared(items, machines, totals, {number_key("1"): had}, spares_bring_parts=False) == spared


@given(orders(), st.integers(0, 9))
def test_nothing_is_spared_that_is_not_wanted(drawn: Specified, pieces: int):
    totals = roll_up(drawn.items, drawn.machines)
    had = dict.fromkeys(totals.totals, pieces)
    spared = pieces_spared(drawn.items, drawn.machines, totals, had, spares_bring_parts=False)
    for key, less in spared.items():
        off = totals.totals[key].off
        assert off is not None and 0 < less <= off
    if not pieces:
        assert spared == {}
