"""Invented orders: the same from the same seed, sound to take in, made a section at a time, with words as frequent as
the sample's."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

import pytest

from specreg.core.model import Item, Kind
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.wording import index_words
from specreg.intake.order_folder import read_order
from specreg.intake.standards_folder import read_standards
from specreg.intake.taken import TakenOrder
from specreg.settings import shipped_folder
from tests.budgets.invented_orders import InventedOrder, write_invented


@pytest.fixture(scope="module")
def sample() -> TakenOrder:
    """The sample order as read."""
    return read_order(shipped_folder("sample_spec"))


def items_of(invented: InventedOrder) -> Iterator[Item]:
    """Every item in order."""
    for section in invented.sections():
        yield from section.items


def frequencies(items: Iterator[Item]) -> Counter[str]:
    """How often each word stands in the descriptions and remarks."""
    return Counter(word for item in items for word in index_words(f"{item.title} {item.remarks}"))


def test_a_seed_gives_the_same_order_again_and_another_seed_another(sample: TakenOrder) -> None:
    first, again, other = (list(items_of(InventedOrder(sample, 400, seed))) for seed in (1, 1, 2))
    assert first == again
    assert first != other


@pytest.mark.parametrize("wanted", [50, 1000, 4000])
def test_it_has_at_least_so_many_items_and_not_many_more(sample: TakenOrder, wanted: int) -> None:
    made = sum(item.kind is Kind.ITEM for item in items_of(InventedOrder(sample, wanted)))
    assert wanted <= made < wanted + 200


def test_a_section_is_made_when_it_is_asked_for(sample: TakenOrder) -> None:
    (first,) = islice(InventedOrder(sample, 1_000_000).sections(), 1)
    assert first.items[0].number == "1"
    assert len(first.items) > 1000


def test_it_is_taken_in_whole_and_counts_down_every_chain(sample: TakenOrder, tmp_path: Path) -> None:
    write_invented(shipped_folder("sample_spec"), tmp_path / "order", 1500, seed=3)
    taken = read_order(tmp_path / "order")
    assert taken.set_aside == ()
    assert taken.flags == ()
    items = tuple(one.item for one in taken.items)
    picture = Picture(taken.order, read_standards(shipped_folder("shared")), items, {})
    assert [item.number for item in picture.lines if not picture.totals.get(number_key(item.number))] == []
    register = {name for one in taken.sheets for name in (one.sheet.number, one.sheet.name)}
    assert {called for item in items for called in item.drawings} <= register


def test_common_words_stay_common_and_new_ones_go_on_turning_up(sample: TakenOrder) -> None:
    theirs = frequencies(one.item for one in sample.items)
    few, many = (frequencies(items_of(InventedOrder(sample, size))) for size in (1500, 6000))
    common = {word for word, _ in theirs.most_common(40)}
    assert len(common & {word for word, _ in many.most_common(80)}) >= 32
    assert 1.15 * len(few) < len(many) < 4 * len(few)
