"""Comparing issued revisions by what was recorded between them gives what comparing them whole would give."""

from __future__ import annotations

import pytest

from specreg.core.comparing import compare_items
from specreg.core.model import Sheet
from specreg.core.numbering import number_key
from specreg.services.allocating import allocate
from specreg.services.altering import alter, delete, insert, restore
from specreg.services.comparing import compare
from specreg.services.entering import enter_sheets
from specreg.services.office import Office
from specreg.services.standing import as_issued
from tests.services.office_for_tests import issue_all, note_opened, with_revision_a


@pytest.fixture(scope="module")
def office(tmp_path_factory):
    """Four revisions: texts, numbers off, items put in, deleted, restored, one put in and deleted before its issue."""
    office = with_revision_a(tmp_path_factory.mktemp("book"))
    note_opened(office, "1")
    alter(office, "4.1", {"Off": "5 per machine"}, "1")
    alter(office, "4.1.1", {"Material": "mild steel", "Remarks": "painted"}, "1")
    insert(office, "4.1.1A", {"Description": "Washer", "Off": "2", "Per": "4.1", "Supply": "buy"}, "1")
    delete(office, "5.5", "no longer wanted", "1")
    allocate(office)
    issue_all(office, "1")
    note_opened(office, "2")
    restore(office, "5.5", "2")
    alter(office, "4.1.1", {"Remarks": ""}, "2")
    insert(office, "5.6", {"Description": "Slip", "Off": "1", "Per": "machine", "Supply": "buy"}, "2")
    delete(office, "5.6", "entered by mistake", "2")
    enter_sheets(office, [Sheet("SL-1001", revision="C", title="Rack", stage="issued")])
    allocate(office)
    issue_all(office, "2")
    note_opened(office, "3")
    delete(office, "4.1.1A", "not wanted after all", "3")
    allocate(office)
    issue_all(office, "3")
    yield office
    office.book.close()


def whole(office: Office, old: str, new: str):
    """The same from the two pictures."""
    before, after = as_issued(office, office.revision(old)), as_issued(office, office.revision(new))
    changes = compare_items(before.items, after.items)
    off = {
        item.number: (before.totals[number_key(item.number)].written, after.totals[number_key(item.number)].written)
        for item in after.lines
        if number_key(item.number) in before.totals
    }
    sheets = [{sheet.name: sheet.revision for sheet in picture.sheets} for picture in (before, after)]
    return changes, {number: pair for number, pair in off.items() if pair[0] != pair[1]}, sheets


@pytest.mark.parametrize("old", "ABCD")
@pytest.mark.parametrize("new", "ABCD")
def test_any_two_revisions_compare_the_same_by_record_as_whole(office: Office, old: str, new: str) -> None:
    found = compare(office, old, new)
    changes, off, (was, now) = whole(office, old, new)
    for name in ("added", "deleted", "changed", "renumbered", "spacing"):
        assert set(getattr(found.comparison, name)) == set(getattr(changes, name)), name
    assert found.comparison.counts == changes.counts
    assert {one.item.number: (one.old, one.new) for one in found.numbers_off} == off
    expected = {name for name in {*was, *now} if was.get(name) != now.get(name)}
    assert {one.sheet.name for one in found.sheets} == expected


def test_an_item_put_in_and_deleted_before_its_issue_counts_as_nothing(office: Office) -> None:
    counts = compare(office, "B", "C").comparison.counts
    assert (counts.added, counts.deleted) == (1, 0), "only 5.5, which came back"
    counts = compare(office, "C", "B").comparison.counts
    assert (counts.added, counts.deleted) == (0, 1), "nor the other way round"


def test_the_lines_of_a_department_add_up_and_say_what_its_paper_says(office: Office) -> None:
    for code in ("BUY", "FDY", "MCH", "ERE"):
        lines = compare(office, "A", "D", code).lines
        assert lines is not None
        assert lines.before + lines.added - len(lines.withdrawn) == lines.now
        assert all(line.printed.was and line.differences for line in lines.changed if line.printed.sign == "»")
