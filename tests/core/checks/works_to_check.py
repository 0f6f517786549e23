"""Orders of the practice works whose weights and sizes are to be checked, and the faults that are found in them."""

from __future__ import annotations

from dataclasses import replace

from specreg.core.checks import weights_and_sizes
from specreg.core.faults import Fault
from specreg.core.model import Item, Order
from specreg.core.picture import Picture
from specreg.core.standards import Standards
from tests.core.stock.works import WORKS, item


def picture(*items: Item, works: Standards = WORKS, units: str = "imperial") -> Picture:
    """An order of these items, numbered from 4.1 on, one off each."""
    numbered = tuple(replace(one, number=f"4.{place}", off=one.off or "1") for place, one in enumerate(items, start=1))
    listed = tuple(one if one.per else replace(one, per="machine") for one in numbered)
    return Picture(Order("W 1", "Three cranes", machines="1-3", units=units), works, listed, {})


def faults(*items: Item, works: Standards = WORKS, units: str = "imperial") -> list[Fault]:
    """What the checks of weights and sizes say of the items; that few have a weight is left out."""
    found = weights_and_sizes(picture(*items, works=works, units=units))
    return [fault for fault in found if fault.name != "items without weight"]


def names(size: str = "", material: str = "mild steel", weight: str = "", rough: str = "") -> list[str]:
    """The severity and the name of each fault of one item."""
    return [f"{one.severity}: {one.name}" for one in faults(item(size, material, weight, rough))]
