"""Nothing is lost in the splitting: a sound order passes, a lost line and a final step that falls short are named."""

from __future__ import annotations

import pytest

from specreg.core.checks import allocation
from specreg.core.checks.allocation import nothing_lost
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
