"""An invented order whose items have weights, sizes and doubts, for the tests of what is shown of a take-off."""

from __future__ import annotations

from dataclasses import replace

from specreg.core.model import Item, Kind, Layout, Order
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.reckoning_standards import Allowance, Contraction, Reckoning
from specreg.core.routing import Allocator
from specreg.core.standards import House, Material, Standards
from tests.strategies import DEPARTMENTS

CAUTIONS = (
    "Weights, lengths and order quantities are estimates for planning and are not to be used for slinging or payment.",
    "The inspecting authority and the local codes decide; nothing printed here takes their place.",
)
WORKS = Standards(
    House("Practice works", cautions=CAUTIONS),
    DEPARTMENTS,
    materials=(Material("mild steel", "7850", "a density for practice"), Material("cast steel", "7800"),
               Material("cast iron", "7240")),
    reckoning=Reckoning(
        ton="long", doubt_above="10",
        allowances=(Allowance(("cast steel",), "1/4 in", "works figure"),),
        contractions=(Contraction(("cast steel",), "3/16 in", "works figure"),),
    ),
)  # fmt: skip


def a_section(number: str, title: str) -> Item:
    """The heading of a section."""
    return Item(number, Kind.SECTION, Layout.HEADING, number, title)


def an_item(number: str, title: str, off: str, route: str = "MCH; ERE", **more: str) -> Item:
    """One item with what is usual filled in."""
    return Item(
        number, Kind.ITEM, Layout.ROW, number.split(".", maxsplit=1)[0], title, off=off, supply="make", route=route,
        **more,
    )  # type: ignore[arg-type] # fmt: skip


ITEMS = (
    a_section("4", "Slewing gear"),
    an_item("4.1", "Slewing rack", "1 per machine", "ERE"),
    an_item("4.1.1", "Rack segment", "12 per 4.1", "PAT make pattern 1; FDY all+1; MCH; ERE", material="cast steel",
            weight="3 cwt 1 qr 17 lb", rough_weight="4 cwt", pattern="3382", safety="slewing"),
    an_item("4.1.2", "Rack bolt, turned", "24 per 4.1", material="mild steel", size='1 1/4" dia x 5"'),
    an_item("4.1.3", "Nut for rack bolt, hexagon", "24 per 4.1", material="mild steel", size='1 1/4" B.S.W.'),
    an_item("4.1.4", "Grease", "as required per machine", "ERE", size="about 14 lb"),
    a_section("5", "Hoisting gear"),
    an_item("5.1", "Barrel shaft", "1 per machine", "MCH; INS; MCH; ERE", material="mild steel",
            size='4" dia x 6\' 0"', weight="19 cwt"),
    an_item("5.2", "Hook block", "1 per machine", "BUY", weight="17 cwt", safety="lifting"),
)  # fmt: skip


def an_order(*items: Item, units: str = "imperial", standards: Standards = WORKS) -> Picture:
    """An order for three machines with these items, allocated."""
    allocator = Allocator(standards)
    routes = {number_key(one.number): allocator.unnumbered(one) for one in items}
    return Picture(Order("W 611", "Cranes", "The Board", "1471-1473", units=units), standards, items, routes)


ISSUED = an_order(*ITEMS)
STANDS = an_order(*ITEMS, an_item("5.3", "Guard", "2 per machine", material="cast iron", weight="1 cwt"))


def metric(picture: Picture) -> Picture:
    """The same order with weights written in kilograms."""
    return replace(picture, order=replace(picture.order, units="metric"))
