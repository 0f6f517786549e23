"""The index page's figures: each row counted once a column, the last revision apart from what is open."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from specreg.services.altering import alter, delete, insert
from specreg.services.office import Office
from specreg.services.reading import OfficeReader
from specreg.services.readings import SectionLine
from specreg.store import items
from tests.services.office_for_tests import issue_all, note_opened, with_order, with_revision_a

NEVER = 2**62
"""An entry at which nothing was issued."""


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order at revision A."""
    made = with_revision_a(tmp_path)
    yield made
    made.book.close()


def index(office: Office) -> dict[str, SectionLine]:
    return {line.number: line for line in OfficeReader(office).sections()}


def revision_b(office: Office) -> None:
    """One item added, two altered and one deleted in section 4, one altered in section 5."""
    note_opened(office)
    insert(office, "4.3A", {"Description": "Cover handle", "Material": "mild steel", "Off": "2 per 4.3"})
    alter(office, "4.1.1", {"Remarks": "as agreed"})
    alter(office, "4.3", {"Remarks": "in thirds"})
    delete(office, "4.2.1", "keyed by a feather of the shaft")
    alter(office, "5.1.1", {"Remarks": "black"})
    issue_all(office, "1")


def test_before_the_first_issue_everything_is_open(tmp_path: Path) -> None:
    office = with_order(tmp_path)
    # Section 4 has six items and its own heading, section 1 a heading and a clause.
    assert index(office)["4"] == SectionLine("4", "Slewing gear", 6, 0, 0, 0, 7, 0)
    assert index(office)["1"] == SectionLine("1", "General", 0, 0, 0, 0, 2, 0)
    office.book.close()


def test_a_first_revision_has_nothing_to_be_held_against(office: Office) -> None:
    assert index(office)["4"] == SectionLine("4", "Slewing gear", 6, 0, 0, 0, 0, 0)
    assert index(office)["5"] == SectionLine("5", "Hoisting gear", 6, 0, 0, 0, 0, 2)


def test_added_altered_and_deleted_are_counted_apart_and_once(office: Office) -> None:
    revision_b(office)
    assert index(office)["4"] == SectionLine("4", "Slewing gear", 6, 1, 2, 1, 0, 0)
    assert index(office)["5"] == SectionLine("5", "Hoisting gear", 6, 0, 1, 0, 0, 2)
    assert index(office)["1"] == SectionLine("1", "General", 0, 0, 0, 0, 0, 0)


def test_open_edits_have_a_column_of_their_own(office: Office) -> None:
    revision_b(office)
    note_opened(office, "2")
    alter(office, "4.1.1", {"Remarks": "as agreed again"}, "2")
    delete(office, "4.1.2", "no longer wanted", "2")
    insert(office, "4.4", {"Description": "Guard", "Off": "1", "Per": "machine", "Material": "cast iron"}, "2")
    assert index(office)["4"] == SectionLine("4", "Slewing gear", 6, 1, 2, 1, 3, 0)


def test_only_the_last_revision_counts(office: Office) -> None:
    revision_b(office)
    note_opened(office, "2")
    alter(office, "5.5", {"Remarks": "in halves"}, "2")
    issue_all(office, "2")
    assert index(office)["4"] == SectionLine("4", "Slewing gear", 6, 0, 0, 0, 0, 0)
    assert index(office)["5"] == SectionLine("5", "Hoisting gear", 6, 0, 1, 0, 0, 2)


def test_rows_are_numbers_and_stand_in_specification_order(office: Office) -> None:
    rows = items.section_counts(office.book, office.order_id, NEVER)
    assert [row[:3] for row in rows] == [("1", "General", 0), ("4", "Slewing gear", 6), ("5", "Hoisting gear", 6)]
