"""A practice works that reckons masses, and items of it, for the tests of stock."""

from __future__ import annotations

from specreg.core.measures.records import NotRead
from specreg.core.model import Item, Kind, Layout
from specreg.core.reckoning_standards import Allowance, Contraction, CuttingRule, Reckoning, SectionTable
from specreg.core.standards import House, Material, Standards
from specreg.core.stock.reading import read_stock
from specreg.core.stock.records import Stock

BEAMS = SectionTable(
    "universal beams", "I-section", ("UB", "universal beam"), "7850", "practice table",
    ("203x133x25: 25.1 kg/m, 32.0 cm2", "203x133x30: 30 kg/m"),
)  # fmt: skip
ANGLES = SectionTable(
    "angles", "angle", ("RSA", "L"), "7850", "practice table",
    ("50x50x6: 4.47 kg/m, 5.69 cm2", "100x75x8: 10.6 kg/m, 13.5 cm2"), unit="mm",
)  # fmt: skip
AMERICAN = SectionTable(
    "American shapes", "I-section", ("W",), "7849.05", "practice table", ("12x26: 26.0 lb/ft, 7.65 in2",)
)
BARS = CuttingRule(("round", "square"), ("20 ft",), "1/8 in", "1/2 in", "3 in", "12 in", "works figures")
BRONZE = CuttingRule(
    ("round",), ("12 ft", "3 m"), "1/8 in", "0 in", "0 in", "6 in", "works figures", ("phosphor bronze",)
)
WORKS = Standards(
    House("Practice works"),
    materials=(
        Material("mild steel", "7850", "490 lb/ft3", ("steel", "m.s.")),
        Material("cast iron", "7240", "", ("c.i.",)),
        Material("phosphor bronze", "8800", "works figure"),
        Material("aluminium", "2700", "works figure"),
        Material("jointing sheet", "", "no density taken: bought by the square foot"),
        Material("elm"),
    ),
    reckoning=Reckoning(
        ton="long",
        doubt_above="10",
        shrink_fit="0.001 in",
        shrink_fit_basis="Dooley",
        cutting=(BRONZE, BARS),
        allowances=(Allowance(("cast iron",), "1/8 in", "Dooley"),),
        contractions=(Contraction(("cast iron",), "1/8 in", "shrink rule"),),
    ),
    sections=(BEAMS, ANGLES, AMERICAN),
)
BARE = Standards(House("Practice works"), materials=WORKS.materials)
"""The same works before it had rules for masses."""


def stock_of(size: str, material: str = "mild steel", works: Standards = WORKS) -> Stock:
    """The stock of a size that can be read."""
    stock = read_stock(size, material, works)
    assert isinstance(stock, Stock), str(stock)
    return stock


def refused(size: str, material: str = "mild steel", works: Standards = WORKS) -> str:
    """The question that a size puts."""
    stock = read_stock(size, material, works)
    assert isinstance(stock, NotRead), repr(stock)
    assert stock.why and stock.do
    return stock.why


def item(size: str = "", material: str = "mild steel", weight: str = "", rough: str = "") -> Item:
    """An item of these fields."""
    return Item(
        "4.1", Kind.ITEM, Layout.ROW, "4", "Rack bolt", material=material, size=size, weight=weight, rough_weight=rough
    )
