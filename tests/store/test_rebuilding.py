"""All that is derived can be thrown away: what is made anew from the record and the open edits is the same."""

from __future__ import annotations

import pytest

from specreg.core.model import Sheet
from specreg.services import altering
from specreg.services.allocating import allocate
from specreg.services.entering import enter_sheets
from specreg.store import word_index
from specreg.store.database import open_book
from specreg.store.rebuilding import DERIVED_FORM, rebuild_now
from tests.services.office_for_tests import issue_all, new_office, note_opened, take_in_tiny
from tests.store.book_contents import DERIVED, contents
from tests.store.conftest import good_acts


@pytest.fixture
def office(tmp_path):
    """Two orders with one register, sheets at several marks, edits open."""
    office = new_office(tmp_path)
    take_in_tiny(office, tmp_path, number="W 500", into="first")
    take_in_tiny(office, tmp_path)
    issue_all(office)
    good_acts(office)
    enter_sheets(office, [Sheet("SL-1002", "2", revision="B", title="Cover in one piece", stage="issued")])
    enter_sheets(office, [Sheet("SL-1002", "2", revision="A", title="Cover, withdrawn", stage="superseded")])
    enter_sheets(office, [Sheet("NEW-1", title="Nothing calls it up")])
    note_opened(office, "4")
    altering.alter(office, "5.1", {"Material": "mild steel"}, "4")
    allocate(office)
    yield office
    office.book.close()


@pytest.mark.parametrize("spoilt", [False, True])
def test_what_is_made_anew_is_what_stood(office, spoilt):
    db = office.book.db
    before = contents(office.book)
    with office.book.act("JD", "upkeep", office.now):
        if spoilt:
            for table in DERIVED:
                db.execute(f"DELETE FROM {table} WHERE rowid % 2" if table == "item_now" else f"DELETE FROM {table}")
            word_index.replace(office.book, "item", 4, None, ("ghost", "ghost", "ghost"))
            word_index.clear(office.book, "drawing")
        rebuild_now(office.book)
    after = contents(office.book, but=("day_book",))
    assert {table: rows for table, rows in before.items() if table != "day_book"} == after
    assert all(before[table] for table in (*DERIVED, "item_words", "drawing_words", "open_item", "open_route"))


def test_a_book_filled_by_other_rules_is_made_anew_at_its_next_opening_for_writing(office):
    """An index holding words cut in another way cannot be kept up: taking out words it does not hold damages it."""
    before = contents(office.book)
    path = office.book.path
    word_index.clear(office.book, "item")
    office.book.db.execute("INSERT INTO item_words (rowid, number, title, words) VALUES (1, 'old', 'rules', '')")
    office.book.db.execute("UPDATE derived_form SET form = 0")
    office.book.close()
    reading = open_book(path, "", read_only=True)
    assert reading.db.execute("SELECT form FROM derived_form").fetchone() == (0,)
    reading.close()
    office.book = open_book(path, "")
    assert contents(office.book) == before
    assert office.book.db.execute("SELECT form FROM derived_form").fetchone() == (DERIVED_FORM,)
    altering.alter(office, "5.1", {"Material": "cast iron"}, "4")
    office.book.db.execute("INSERT INTO item_words (item_words) VALUES ('integrity-check')")
