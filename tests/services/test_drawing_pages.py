"""The pages of drawings: the list with its callers counted, a drawing with everything the register said."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from specreg.core.errors import NotFound
from specreg.core.model import Sheet
from specreg.services.allocating import allocate
from specreg.services.altering import alter, delete
from specreg.services.drawing_readings import DrawingPage
from specreg.services.entering import enter_sheets, listed_sheets
from specreg.services.office import Office
from specreg.services.reading import OfficeReader
from specreg.services.taking_in import take_in
from specreg.store import orders
from tests.services.office_for_tests import Clock, new_office, tiny_order_folder, with_order

SEGMENT = Sheet("SL-1002", "1", "2", "Rack details, segment", "A2", revision="-", date="2026-03-09", stage="issued",
                drawn="H.P.", checked="W.G.", approved="J.D.")  # fmt: skip


@pytest.fixture
def clock() -> Clock:
    """The clock of the office."""
    return Clock()


@pytest.fixture
def office(tmp_path: Path, clock: Clock) -> Iterator[Office]:
    """The practice order, not issued."""
    made = with_order(tmp_path, clock)
    yield made
    made.book.close()


def called(office: Office) -> dict[str, int]:
    return {one.sheet.name: one.called for one in OfficeReader(office).drawings()}


def drawing(office: Office, number: str) -> DrawingPage:
    return OfficeReader(office).drawing(number)


def test_the_list_is_the_orders_own_in_the_order_of_the_numbers(office: Office) -> None:
    lines = OfficeReader(office).drawings()
    assert [one.sheet for one in lines] == listed_sheets(office)
    assert [one.sheet.name for one in lines] == [
        "HG-2001", "HG-2002", "SL-1001", "SL-1002/1", "SL-1002/2", "SL-1003", "SL-1004",
    ]  # fmt: skip


def test_live_items_are_counted_for_each_sheet_that_they_call_up(office: Office) -> None:
    assert called(office) == {
        "HG-2001": 1, "HG-2002": 1, "SL-1001": 1, "SL-1002/1": 1, "SL-1002/2": 1, "SL-1003": 1, "SL-1004": 1,
    }  # fmt: skip
    alter(office, "4.2", {"Drawing": "SL-1002, SL-1004"})
    delete(office, "4.1.2", "not wanted")
    after = called(office)
    assert (after["SL-1002/1"], after["SL-1002/2"]) == (2, 2), "the whole drawing counts for each of its sheets"
    assert (after["SL-1003"], after["SL-1004"]) == (0, 1)


def test_an_item_that_calls_up_a_drawing_and_its_sheet_counts_once(office: Office) -> None:
    alter(office, "4.1.1", {"Drawing": "SL-1002/1, SL-1002"})
    assert (called(office)["SL-1002/1"], called(office)["SL-1002/2"]) == (1, 2)


def test_a_drawing_is_found_by_its_number_and_by_a_sheet_as_an_item_writes_it(office: Office) -> None:
    whole = drawing(office, "SL-1002")
    assert (whole.number, [sheet.name for sheet in whole.sheets]) == ("SL-1002", ["SL-1002/1", "SL-1002/2"])
    for written in ("SL-1002/1", " sl-1002 ", "SL-1002/2"):
        assert drawing(office, written) == whole
    enter_sheets(office, [Sheet("S 33/2", title="Plate", stage="issued")])
    assert drawing(office, "S 33/2").number == "S 33/2", "a stroke may be part of a number"


@pytest.mark.parametrize("number", ["SL-9", "SL-1002/7", " "])
def test_a_drawing_that_is_not_there_is_told_with_what_to_do(office: Office, number: str) -> None:
    with pytest.raises(NotFound, match=r"not in the register\. Give its whole number"):
        drawing(office, number)


def test_everything_that_the_register_said_stands_there_last_first(office: Office, clock: Clock) -> None:
    clock.on(days=2)
    later = replace(SEGMENT, revision="A", date="2026-11-20", stage="drawn", checked="", approved="")
    enter_sheets(office, [later])
    clock.on(days=1)
    enter_sheets(office, [replace(later, stage="issued", checked="W.G.", approved="J.D.")])
    page = drawing(office, "SL-1002")
    assert [(one.entered_on, one.sheet.name, one.sheet.revision, one.sheet.stage) for one in page.said] == [
        ("2026-11-28", "SL-1002/1", "A", "issued"),
        ("2026-11-27", "SL-1002/1", "A", "drawn"),
        ("2026-11-25", "SL-1002/1", "-", "issued"),
        ("2026-11-25", "SL-1002/2", "A", "issued"),
    ]
    assert [(sheet.name, sheet.revision, sheet.stage) for sheet in page.sheets] == [
        ("SL-1002/1", "A", "issued"), ("SL-1002/2", "A", "issued"),
    ]  # fmt: skip


def test_of_two_revisions_entered_at_once_the_later_stands_first(office: Office) -> None:
    enter_sheets(office, [replace(SEGMENT, revision=mark, date="") for mark in ("A", "B")])
    assert [one.sheet.revision for one in drawing(office, "SL-1002/1").said][:3] == ["B", "A", "-"]


def test_callers_are_told_with_what_they_write_and_where_they_go(office: Office) -> None:
    alter(office, "4.3", {"Safety": "lifting", "Drawing": "SL-1002/2, SL-1002/1"})
    alter(office, "4.2", {"Route": "MCH turn; MCH bore; FDY burn in; MCH finish; ERE"})
    allocate(office)
    by = [(one.number, one.written, one.safety, one.departments) for one in drawing(office, "SL-1002").called_by]
    cast = ("FDY", "MCH", "ERE")
    assert by == [
        ("4.1.1", "SL-1002/1", False, cast), ("4.3", "SL-1002/2", True, cast), ("4.3", "SL-1002/1", True, cast),
    ]  # fmt: skip
    (pinion,) = drawing(office, "SL-1004").called_by
    assert (pinion.title, pinion.departments) == ("Slewing pinion", ("MCH", "FDY", "MCH", "ERE"))
    delete(office, "4.2", "not wanted")
    assert drawing(office, "SL-1004").called_by == ()


def test_an_item_never_allocated_goes_nowhere_yet(tmp_path: Path) -> None:
    office = new_office(tmp_path)
    take_in(office, tiny_order_folder(tmp_path))
    assert [(one.number, one.departments) for one in drawing(office, "SL-1003").called_by] == [("4.1.2", ())]
    office.book.close()


def test_other_orders_that_list_a_drawing_are_named(office: Office, tmp_path: Path) -> None:
    assert drawing(office, "SL-1003").other_orders == ()
    office.standing = None
    take_in(office, tiny_order_folder(tmp_path, into="sister", number="W 612"))
    ours = replace(office, standing=orders.by_number(office.book, "W 611"))
    assert drawing(ours, "SL-1003").other_orders == ("W 612",)
    assert [one.number for one in drawing(ours, "SL-1003").called_by] == ["4.1.2"], "only our own"
    nobodys = replace(office, standing=None)
    page = drawing(nobodys, "SL-1003")
    assert (page.number, page.called_by, page.other_orders) == ("SL-1003", (), ("W 611", "W 612"))
    assert OfficeReader(nobodys).drawings() == ()
