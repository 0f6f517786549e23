"""Every Size of the sample order, by the works standards that come with it."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from specreg.core.measures.records import NotRead
from specreg.core.model import Kind
from specreg.core.reckoning_standards import CUT_TO_LENGTH
from specreg.core.stock.house_rules import cutting_rules
from specreg.core.stock.masses import mass_of_one
from specreg.core.stock.reading import read_stock
from specreg.core.stock.records import Form, MassOfOne, Stock
from specreg.intake.order_folder import read_order
from specreg.intake.standards_folder import read_standards

ROOT = Path(__file__).parents[3]
SHARED = read_standards(ROOT / "shared")
CUT_FROM_BAR = {
    "mild steel", "bright steel", "key steel", "spring steel", "tool steel", "wrought iron", "mild steel section",
    "phosphor bronze", "gunmetal", "brass", "copper", "copper tube", "steam tube",
}  # fmt: skip
"""What the works saws from bars; forgings, timber and wire are got otherwise."""


@pytest.fixture(scope="module")
def items():
    return [taken.item for taken in read_order(ROOT / "sample_spec").items if taken.item.kind is Kind.ITEM]


def test_most_sizes_are_read_and_the_others_say_why(items):
    read = {item.number: read_stock(item.size, item.material, SHARED) for item in items if item.size}
    forms = Counter(str(stock.form) for stock in read.values() if isinstance(stock, Stock))
    assert len(read) > 2500 and forms.total() > 0.9 * len(read)
    assert {form for form, count in forms.items() if count > 5} >= {
        "round", "fastener", "plate", "flat", "square", "angle", "tube", "block", "by weight", "disc",
        "chequered plate", "sheet", "hexagon",
    }  # fmt: skip
    for stock in read.values():
        if isinstance(stock, NotRead):
            assert stock.why.strip() and stock.do.strip()


def test_what_is_cut_to_length_has_a_length_and_a_rule_but_forgings(items):
    for item in items:
        stock = read_stock(item.size, item.material, SHARED)
        if isinstance(stock, Stock) and stock.form in CUT_TO_LENGTH:
            assert stock.length
            rules = cutting_rules(Form(stock.form), item.material, SHARED)
            if item.material not in CUT_FROM_BAR or stock.form is Form.WIRE:
                assert item.material != "forged steel" or isinstance(rules, NotRead), item.number
                continue
            assert not isinstance(rules, NotRead), item.number
            assert stock.length <= max(rules.stock) - rules.lost, item.number


def test_stated_and_reckoned_weights_agree(items):
    masses = {item.number: mass_of_one(item, SHARED) for item in items}
    known = {number: mass for number, mass in masses.items() if isinstance(mass, MassOfOne)}
    assert not any(mass.disagreement for mass in known.values())
    assert len(known) > 0.85 * len(items)
    assert not [number for number, mass in known.items() if any("by size" in one for one in mass.doubts)]
