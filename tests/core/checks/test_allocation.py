"""Nothing is lost in the splitting: a sound order passes, a lost line and a final step that falls short are named."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specreg.core.checks import allocation
from specreg.core.checks.allocation import nothing_lost, possible_orders, routes_end_in_the_machine_or_in_stores
from specreg.core.faults import Severity
from specreg.core.model import Item, Order
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.routing import Allocator
from specreg.core.shares import shares
from specreg.core.standards import House, Standards
from tests.strategies import DEPARTMENTS, item

WORKS = Standards(House("Practice works"), DEPARTMENTS)


def picture(*items: Item) -> Picture:
    allocator = Allocator(WORKS)
    routes = {number_key(one.number): allocator.unnumbered(one) for one in items}
    return Picture(Order("W 611", "Three cranes", machines="1471-1473"), WORKS, items, routes)


def test_a_sound_order_passes() -> None:
    assert list(nothing_lost(picture(item("4.1", route="FDY all+1; ERE all"), item("4.2", route="STO")))) == []


def test_a_line_that_stands_in_no_share_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(allocation, "shares", lambda routed: {**shares(routed), "FDY": ()})
    (fault,) = nothing_lost(picture(item("4.1", route="FDY; ERE"), item("4.2", route="ERE")))
    assert (fault.subject, fault.severity) == ("4.1", Severity.STOP)
    assert "FDY cast, stands in no share" in fault.text


def test_final_steps_that_do_not_deliver_what_is_wanted_are_named() -> None:
    (fault,) = nothing_lost(picture(item("4.1", route="FDY 3; ERE 2")))
    assert (fault.subject, fault.severity) == ("4.1", Severity.STOP)
    assert "wants 3, and its final steps deliver 2" in fault.text


# Orders of work that cannot be ---------------------------------------------------------------------------------------

IN_ORDER = tuple(
    replace(one, follows={"FDY": ("PAT",), "MCH": ("PAT", "FDY"), "ERE": ("FDY", "MCH")}.get(one.code, ()))
    for one in DEPARTMENTS
)


def with_order_of_work(*items: Item) -> Picture:
    return replace(picture(*items), standards=Standards(House("Practice works"), IN_ORDER))


@pytest.mark.parametrize(
    ("route", "said"),
    [
        ("PAT 1; FDY all; MCH all; ERE all", []),
        ("MCH all; FDY all; ERE all", ["MCH to machine before FDY can cast"]),  # machined before it is cast
        ("FDY all; PAT 1; ERE all", ["FDY to cast before PAT can make pattern"]),
        ("ERE all; MCH all", ["ERE to erect before MCH can machine"]),
        ("MCH all; ERE all", []),  # from bar: the foundry never has it
        ("FDY all; MCH all; INS all; MCH all; ERE all", []),  # what comes back has been there before
        ("FDY 3 & MCH 3; ERE all", []),  # side by side
    ],
)
def test_nobody_works_on_a_piece_that_is_not_there_yet(route: str, said: list[str]) -> None:
    faults = list(possible_orders(with_order_of_work(item("4.1", route=route))))
    assert [fault.text.partition(" goes to ")[2].partition(", and in this")[0] for fault in faults] == said
    assert {(fault.name, fault.severity) for fault in faults} <= {("impossible order", Severity.ERROR)}


def test_a_works_that_says_nothing_of_the_order_is_held_to_none() -> None:
    assert list(possible_orders(picture(item("4.1", route="MCH all; FDY all; ERE all")))) == []


@pytest.mark.parametrize(("route", "told"), [("FDY all; ERE all", 0), ("STO all", 0), ("FDY all; MCH all", 1)])
def test_a_route_ends_in_the_machine_or_in_stores(route: str, told: int) -> None:
    faults = list(routes_end_in_the_machine_or_in_stores(picture(item("4.1", route=route))))
    assert [(one.name, one.severity) for one in faults] == [("route without an end", Severity.WARNING)] * told
