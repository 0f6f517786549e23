"""Small invented orders as pictures, for the tests of what is drawn up from them."""

from __future__ import annotations

from dataclasses import replace

from specreg.core.model import Item, Kind, Layout, Order, Sheet
from specreg.core.numbering import number_key
from specreg.core.picture import Called, Picture
from specreg.core.routing import Allocator
from specreg.core.standards import House, Standards
from tests.strategies import DEPARTMENTS

WORKS = Standards(House("Practice works", cautions=("Local codes decide.",)), DEPARTMENTS)
SHEET = Sheet("SL-1", "", "1", "Rack", revision="A", stage="issued")
SECTION = Item("4", Kind.SECTION, Layout.HEADING, "4", "Slewing gear")
CASTING = Item(
    "4.1", Kind.ITEM, Layout.ROW, "4", "Rack segment", off="4", per="machine", material="cast steel", drawing="SL-1",
    spares="1 per order", route="FDY all+1; MCH; ERE machines & STO spares",
)  # fmt: skip
GREASE = replace(CASTING, number="4.2", title="Grease", off="as required", per="", spares="", drawing="", route="MCH")


def picture(*items: Item, sheet: Sheet = SHEET) -> Picture:
    """An order of three machines with one section and these items, allocated."""
    allocator = Allocator(WORKS)
    return Picture(
        Order("W 1", "Three cranes", "The Board", "1-3"),
        WORKS,
        (SECTION, *items),
        {number_key(one.number): allocator.unnumbered(one) for one in items},
        {number_key(one.number): tuple(Called(written, (sheet,)) for written in one.drawings) for one in items},
        (sheet,),
    )
