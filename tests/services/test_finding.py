"""Finding in a real book: half numbers, half words, misspellings, anything typed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.model import Sheet
from specreg.services.altering import alter, insert
from specreg.services.entering import enter_sheets
from specreg.services.finding import Finder
from specreg.services.office import Office
from specreg.services.taking_in import take_in
from specreg.settings import shipped_folder
from specreg.store import drawings, items
from tests.services.office_for_tests import new_office, note_opened, take_in_tiny, with_order

REGISTER = (
    Sheet("QD-05127-S/2", title="bogie frame", stage="drawn"),
    Sheet("QD-05177-S/1", title="bolster 4K", stage="drawn"),
    Sheet("1200340-1", title="clip", stage="drawn"),
    Sheet("1200340-12", title="clip long", stage="drawn"),
    Sheet("0203010", title="ring", stage="drawn"),
    Sheet("KV3307-110-03", title="midship", stage="drawn"),
    Sheet("PL-9", title='3/4" PLATE', stage="drawn"),
    Sheet("M-1", title="bogie lamp 2K", stage="drawn"),
)
"""Invented numbers of the kinds that are met in old registers."""

ALL = {sheet.number for sheet in REGISTER}


@pytest.fixture(scope="module")
def registered(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Finder]:
    """A book whose register holds these drawings, beside an order that calls up none of them."""
    folder = tmp_path_factory.mktemp("registered")
    office = new_office(folder)
    take_in_tiny(office, folder, drawings="", sections={"01-general.md": "# 1 General\n\nTwo cranes alike.\n"})
    enter_sheets(office, REGISTER)
    yield Finder(office)
    office.book.close()


ROWS: tuple[tuple[str, tuple[str, ...], set[str]], ...] = (
    ("05127", ("QD-05127-S/2",), ALL - {"QD-05127-S/2"}),
    ("S/2", ("QD-05127-S/2",), {"QD-05177-S/1"}),
    ("qd05127s2", ("QD-05127-S/2",), set()),
    ("1200340-1", ("1200340-1", "1200340-12"), set()),
    ("203010", ("0203010",), set()),
    ("KV 3307-110", ("KV3307-110-03",), set()),
    ('3/4"', ("PL-9",), set()),
    ("2K", ("M-1",), {"QD-05177-S/1"}),
    ("bogie 2K", ("M-1",), {"QD-05127-S/2", "QD-05177-S/1"}),
    ('"', ("PL-9",), ALL - {"PL-9"}),
)


@pytest.mark.parametrize(("typed", "first", "never"), ROWS, ids=[row[0] for row in ROWS])
def test_what_a_clerk_types_finds_the_drawing_meant(
    registered: Finder, typed: str, first: tuple[str, ...], never: set[str]
) -> None:
    numbers = [hit.number for hit in registered.find(typed).hits]
    assert tuple(numbers[: len(first)]) == first
    assert not never & set(numbers)


SIZES = (
    Sheet("X-2", title="60 mm plate", stage="drawn"),
    Sheet("X-3", title="plate 5/16", stage="drawn"),
    Sheet("X-4", title="plate 15/16", stage="drawn"),
    Sheet("X-5", title="3/4in bolt", stage="drawn"),
    Sheet("X-6", title='3/4" nut', stage="drawn"),
)


def test_sizes_are_found_with_and_without_a_space_and_never_across_two_fields(tmp_path: Path) -> None:
    office = with_order(tmp_path)
    enter_sheets(office, SIZES)
    finder = Finder(office)
    for typed, wanted in (
        ("60mm", {"X-2"}), ("60 mm", {"X-2"}), ("3/4in", {"X-5", "X-6"}), ('3/4"', {"X-5", "X-6"}),
        ("¾in", {"X-5", "X-6"}), ("5/16", {"X-3"}), ("2-6", set()),
    ):  # fmt: skip
        found = {hit.number for hit in finder.find(typed).hits if hit.kind == "drawing" and not hit.near}
        assert found & {sheet.number for sheet in SIZES} == wanted, typed
    office.book.close()


@pytest.fixture(scope="module")
def itemized(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Finder]:
    """The same things as items of an outsider's specification, which keeps its own numbers."""
    folder = tmp_path_factory.mktemp("itemized")
    rows = "".join(f"| {one.number} | {one.title} |\n" for one in REGISTER)
    office = new_office(folder)
    take_in_tiny(
        office, folder, drawings="", numbering="theirs",
        sections={"01-list.md": f"# 1 List\n\n| Item | Description |\n|---|---|\n{rows}"},
    )  # fmt: skip
    yield Finder(office)
    office.book.close()


@pytest.mark.parametrize(("typed", "first", "never"), ROWS, ids=[row[0] for row in ROWS])
def test_the_same_holds_for_items(itemized: Finder, typed: str, first: tuple[str, ...], never: set[str]) -> None:
    numbers = [hit.number for hit in itemized.find(typed).hits]
    assert tuple(numbers[: len(first)]) == first
    assert not never & set(numbers)


@pytest.mark.parametrize("typed", ["AND", "*", "(x", "OR NOT", "NEAR(a", "^", "a:b", "'", "\\", "%", "_", ";--", "{}"])
def test_no_sign_is_read_as_a_command(registered: Finder, itemized: Finder, typed: str) -> None:
    for finder in (registered, itemized):
        assert finder.find(typed).count >= 0


def test_a_hyphen_finds_everything_with_a_hyphen(registered: Finder, itemized: Finder) -> None:
    hyphened = {number for number in ALL if "-" in number}
    for finder in (registered, itemized):
        assert {hit.number for hit in finder.find("-").hits} == hyphened


@given(st.text(max_size=24))
def test_whatever_is_typed_raises_nothing_and_counts_what_it_shows(registered: Finder, typed: str) -> None:
    found = registered.find(typed, 5)
    assert len(found.hits) == min(found.count, 5)


@given(st.text(alphabet="S/2-\"'K4 3,.(*", min_size=1, max_size=9))
def test_punctuation_and_figures_raise_nothing_either(itemized: Finder, typed: str) -> None:
    found = itemized.find(typed)
    assert len({(hit.kind, hit.number) for hit in found.hits}) == len(found.hits)


@given(st.sampled_from(REGISTER), st.sampled_from(["", " ", "-", "/", "."]))
def test_a_number_is_found_however_it_is_parted(registered: Finder, sheet: Sheet, between: str) -> None:
    parts = "".join(sign if sign.isalnum() else between for sign in sheet.number)
    assert sheet.number in {hit.number for hit in registered.find(parts).hits}


# The sample order ---------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    """The sample order, taken in."""
    office = new_office(tmp_path_factory.mktemp("sample"))
    take_in(office, shipped_folder("sample_spec"))
    yield office
    office.book.close()


def test_every_item_and_drawing_is_found_first_by_its_own_number(sample: Office) -> None:
    finder = Finder(sample)
    for standing in items.all_now(sample.book, sample.order_id):
        hits = finder.find(standing.item.number).hits
        assert (hits[0].kind, hits[0].number, hits[0].why) == ("item", standing.item.number, "number")
    for sheet in drawings.list_of_order(sample.book, sample.order_id):
        hits = finder.find(sheet.name).hits
        assert sheet.name in [hit.number for hit in hits[:2]], sheet.name


def test_every_item_is_found_by_its_whole_title(sample: Office) -> None:
    finder = Finder(sample)
    for standing in items.all_now(sample.book, sample.order_id):
        if standing.item.title:
            found = finder.find(standing.item.title, 1000)
            assert standing.item.number in {hit.number for hit in found.hits if not hit.near}, standing.item.title


def test_tiers_come_in_order(sample: Office) -> None:
    whys = [hit.why for hit in Finder(sample).find("4.1", 1000).hits]
    order = ["number", "title", "text", "near"]
    assert [order.index(why) for why in whys] == sorted(order.index(why) for why in whys)
    numbers = [hit.number for hit in Finder(sample).find("4.1", 1000).hits]
    assert numbers[:3] == ["4.1", "4.1.1", "4.1.2"]
    found = Finder(sample).find("rack").hits
    titles = [hit.title.lower() for hit in found if hit.kind == "item" and hit.why == "title"]
    begins = [any(word.startswith("rack") for word in title.split()) for title in titles]
    assert begins == sorted(begins, reverse=True)
    assert begins[0]
    assert not begins[-1]  # a bracket holds a rack, and comes after


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("rakc bolt", "4.1.2"),
        ("rack bollt", "4.1.2"),
        ("rcak bolt", "4.1.2"),
        ("slewng pinion", "4.4.1"),
        ("whistel", "9.2.28"),
        ("countreweight", "5.2.4"),
        ("SL-4O2/2", "SL-402/2"),
        ("SL 042", "SL-402/1"),
        ("SL-041", "SL-401"),
    ],
)
def test_misspellings_and_figures_swapped_are_found_as_near(sample: Office, typed: str, number: str) -> None:
    hits = Finder(sample).find(typed, 1000).hits
    assert number in {hit.number for hit in hits}, [(hit.number, hit.title) for hit in hits]


def test_nothing_near_is_shown_where_something_is_found(sample: Office) -> None:
    assert not any(hit.near for hit in Finder(sample).find("rack bolt", 1000).hits)


def test_the_limit_cuts_the_page_and_not_the_count(sample: Office) -> None:
    whole, page = Finder(sample).find("bolt", 10_000), Finder(sample).find("bolt", 5)
    assert whole.count == page.count == len(whole.hits)
    assert page.hits == whole.hits[:5]


def test_a_search_that_is_stopped_ends_early(sample: Office) -> None:
    assert Finder(sample).find("bolt", 50, lambda: True).count == 0


def test_an_edit_is_found_at_once_and_what_it_took_away_no_longer(tmp_path: Path) -> None:
    office = with_order(tmp_path)
    finder = Finder(office)
    assert finder.find("zinc").count == 0
    alter(office, "4.1.2", {"Remarks": "zinc coated"})
    insert(office, "4.4", {"Description": "Sacrificial zinc", "Off": "1", "Per": "machine", "Material": "zinc"})
    assert [hit.number for hit in finder.find("zinc").hits] == ["4.4", "4.1.2"]
    assert all(hit.near for hit in finder.find("black").hits)
    office.book.close()


def test_a_note_is_found_by_its_number_and_its_words(tmp_path: Path) -> None:
    from tests.services.office_for_tests import with_revision_a

    office = with_revision_a(tmp_path)
    note_opened(office)
    assert [(hit.kind, hit.number) for hit in Finder(office).find("note 1").hits] == [("note", "note 1")]
    assert "note" in {hit.kind for hit in Finder(office).find("agreed").hits}
    office.book.close()
