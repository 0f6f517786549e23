"""The sample order states its weights and sizes soundly, and the checks say nothing against them."""

from __future__ import annotations

from pathlib import Path

from specreg.core.checks import weights_and_sizes
from specreg.core.picture import Picture
from specreg.core.stock.records import Stock
from specreg.intake.order_folder import read_order
from specreg.intake.standards_folder import read_standards

ROOT = Path(__file__).parents[3]


def test_the_sample_order_has_no_fault_of_weights_and_sizes() -> None:
    taken = read_order(ROOT / "sample_spec")
    items = tuple(one.item for one in taken.items)
    sample = Picture(taken.order, read_standards(ROOT / "shared"), items, {})
    assert sum(isinstance(one.size, Stock) for one in sample.masses.values()) > 300
    assert list(weights_and_sizes(sample)) == []
