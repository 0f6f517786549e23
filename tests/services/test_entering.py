"""Entering sheets: an older mark stays older, and what items call up stands on the order's list."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from specreg.core.model import Sheet
from specreg.services.allocating import allocate
from specreg.services.altering import alter
from specreg.services.entering import enter_sheets, overtaken, sheets_of_drawing
from specreg.services.office import Office
from specreg.services.upkeep import verify
from specreg.store import drawings
from tests.services.office_for_tests import issue_all, note_opened, with_revision_a


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order at revision A."""
    made = with_revision_a(tmp_path)
    yield made
    made.book.close()


def test_an_older_mark_entered_late_does_not_become_current(office: Office) -> None:
    """Else the shops would be sent to an old print."""
    enter_sheets(office, [Sheet("SL-7", revision="B", title="Guard", stage="issued")])
    enter_sheets(office, [Sheet("SL-7", revision="A", title="Guard", stage="issued")])
    assert [one.revision for one in sheets_of_drawing(office, "SL-7")] == ["B"]
    (fault,) = overtaken(office, [Sheet("SL-7", revision="A")])
    assert "rev B stays current" in fault.text
    enter_sheets(office, [Sheet("SL-7", revision="C", title="Guard", stage="issued")])
    assert [one.revision for one in sheets_of_drawing(office, "SL-7")] == ["C"]
    # Two schemes of marks: which is the later cannot be told, so the one entered last stands.
    enter_sheets(office, [Sheet("SL-7", revision="0", title="Guard", stage="issued")])
    assert [one.revision for one in sheets_of_drawing(office, "SL-7")] == ["0"]


def test_a_drawing_called_up_comes_on_the_orders_list_and_under_its_seal(office: Office) -> None:
    enter_sheets(office, [Sheet("SL-8", revision="A", title="Cover", stage="issued")])
    with office.book.act("JD", "take off", office.now, office.order_id) as act:
        drawings.put_on_list(office.book, act, office.order_no, office.order_id, "SL-8", listed=False)
    note_opened(office, "9")
    alter(office, "4.1.1", {"Drawing": "SL-8"}, "9")
    allocate(office)
    issue_all(office, "9")
    assert "SL-8" in {sheet.number for sheet in drawings.list_of_order(office.book, office.order_id)}
    assert verify(office).differences == ()
