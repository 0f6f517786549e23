"""What the screens and the reading commands are shown of a real book."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from specreg.core.errors import NotFound
from specreg.core.model import Sheet
from specreg.services.altering import alter, delete, insert
from specreg.services.entering import enter_sheets
from specreg.services.extracting import make_extracts
from specreg.services.office import Office
from specreg.services.reading import OfficeReader
from specreg.services.signing import sign
from tests.services.office_for_tests import (
    as_person,
    issue_all,
    new_office,
    note_opened,
    second_program,
    with_order,
    with_revision_a,
)


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order at revision A with note 1 open."""
    made = with_revision_a(tmp_path)
    note_opened(made)
    yield made
    made.book.close()


def desk_of(office: Office, code: str) -> dict[str, int]:
    """What a person's desk counts, by its words."""
    desk = OfficeReader(as_person(office, code)).desk()
    return {one.text: one.count for one in (*desk.waits, *desk.out_of_order)}


def test_a_book_without_an_order_is_shown_as_one(tmp_path: Path) -> None:
    office = new_office(tmp_path)
    reader = OfficeReader(office)
    assert (reader.title_line().title, reader.title_line().role) == ("no order yet", "chief")
    assert (reader.desk().items, reader.sections(), reader.count(""), reader.lines("", 0, 9)) == (0, (), 0, ())
    assert reader.find("anything", 5, lambda: False).count == 0
    office.book.close()


def test_the_title_block_says_what_one_looks_at(office: Office) -> None:
    alter(office, "4.1.2", {"Size": "6 in"})
    line = OfficeReader(office).title_line()
    assert (line.order, line.revision, line.open_edits, line.person) == ("W 611", "A", 1, "J. Dunmore")
    assert len(line.seal.replace("-", "")) == 8


def test_the_index_counts_what_its_lists_hold(office: Office) -> None:
    insert(office, "4.4", {"Description": "Guard", "Off": "1", "Per": "machine", "Material": "mild steel"})
    delete(office, "4.2.1", "no key")
    reader = OfficeReader(office)
    index = {one.number: one for one in reader.sections()}
    assert [*index] == ["1", "4", "5"]
    assert (index["4"].items, index["4"].added, index["4"].altered, index["4"].deleted, index["4"].open) == (
        6,
        0,
        0,
        0,
        2,
    )
    assert (index["5"].items, index["5"].safety) == (6, 2)
    for number in index:
        rows = reader.lines(number, 0, 100)
        assert len(rows) == reader.count(number)
        assert [reader.row_of(number, row.number) for row in rows] == list(range(len(rows)))
        assert rows == tuple(row for first in range(0, 100, 2) for row in reader.lines(number, first, 2))
    assert reader.count("") == sum(reader.count(number) for number in index)
    assert reader.row_of("4", "5.1") == -1
    issue_all(office, "1")
    issued = {one.number: one for one in OfficeReader(office).sections()}["4"]
    assert (issued.items, issued.added, issued.altered, issued.deleted, issued.open) == (6, 1, 0, 1, 0)


def test_signs_say_how_a_row_differs(office: Office) -> None:
    insert(office, "4.4", {"Description": "Guard", "Off": "1", "Per": "machine", "Material": "mild steel"})
    delete(office, "4.2.1", "no key")
    alter(office, "4.1.2", {"Size": "6 in"})

    def signs() -> dict[str, str]:
        return {row.number: row.sign for row in OfficeReader(office).lines("4", 0, 100) if row.sign}

    expected = {"4.1.2": "»", "4.2.1": "-", "4.4": "+"}
    assert signs() == expected
    issue_all(office, "1")
    assert signs() == expected
    note_opened(office)
    alter(office, "4.1.2", {"Size": "7 in"}, "2")
    alter(office, "4.3", {"Clearance": "hold"}, "2")
    assert signs() == {**expected, "4.3": "»"}


def test_an_item_shows_what_its_fields_were_at_the_last_issue(office: Office) -> None:
    alter(office, "4.1.2", {"Size": "6 in", "Remarks": ""})
    shown = OfficeReader(office).item("4.1.2")
    assert shown.was == {"Size": 'bar 1 1/4" dia x 5"', "Remarks": "black"}
    assert (shown.note, shown.sign, shown.section_title) == ("1", "»", "Slewing gear")
    assert [one.revision for one in shown.history] == ["A", "open"]
    with pytest.raises(NotFound):
        OfficeReader(office).item("4.9")


def test_an_item_as_a_revision_said_it_is_not_touched_by_what_came_later(office: Office) -> None:
    reader = OfficeReader(office)
    before = reader.item_at("4.1.2", office.revision("A"))
    alter(office, "4.1.2", {"Size": "6 in", "Material": "cast iron", "Drawing": "SL-1001"})
    enter_sheets(
        office,
        [
            Sheet(
                "SL-1003",
                "",
                "1",
                "Rack bolt",
                revision="B",
                stage="issued",
                drawn="H.P.",
                checked="W.G.",
                approved="J.D.",
            )
        ],
    )
    issue_all(office, "1")
    after = reader.item_at("4.1.2", office.revision("A"))
    assert replace(after, history=()) == replace(before, history=())
    insert(office, "4.4", {"Description": "Guard"}, note_opened(office))
    with pytest.raises(NotFound, match="there was none"):
        reader.item_at("4.4", office.revision("A"))


def test_each_desk_shows_what_waits_for_that_person(office: Office) -> None:
    assert desk_of(office, "HP").get("note to sign") is None  # nothing stands under the note yet
    alter(office, "5.2", {"Size": "1 in"})
    assert desk_of(office, "HP")["note to sign"] == 1
    assert desk_of(office, "WG").get("note to sign") is None
    assert desk_of(office, "JD").get("note to sign") is None  # the only chief keeps his signature for the approval
    sign(as_person(office, "HP"), "1", "drawn")
    assert desk_of(office, "HP").get("note to sign") is None
    assert desk_of(office, "WG")["note to sign"] == 1
    sign(as_person(office, "WG"), "1", "checked")
    assert desk_of(office, "RC")["note with safety items, for a second checker"] == 1
    assert desk_of(office, "WG").get("note with safety items, for a second checker") is None
    sign(as_person(office, "RC"), "1", "second check")
    assert desk_of(office, "JD")["note to sign"] == 1
    sign(office, "1")
    assert desk_of(office, "JD")["note signed, ready to issue"] == 1
    assert desk_of(office, "HP").get("note signed, ready to issue") is None


def test_the_desk_counts_what_is_out_of_order(office: Office) -> None:
    assert desk_of(office, "JD")["departments without an extract of revision A"] == 4
    make_extracts(office, ())
    assert "departments without an extract of revision A" not in desk_of(office, "JD")
    alter(office, "4.3", {"Clearance": "hold", "Off": "many"})
    enter_sheets(office, [Sheet("HG-2003", "", "1", "Outline", stage="drawn", planned="2026-11-24")])
    enter_sheets(office, [Sheet("HG-2004", "", "1", "Outline", stage="cancelled", planned="2026-11-24")])
    counts = desk_of(office, "JD")
    assert (counts["item on hold"], counts["stop before the next revision can issue"]) == (1, 1)
    assert counts["drawing late against the programme"] == 1
    desk = OfficeReader(office).desk()
    assert (desk.drawings_issued, desk.drawings_total) == (6, 8)
    assert (desk.steps, desk.items) == (desk.in_shares, 12)
    assert "4.3: Off was 1, now many; Clearance was blank, now hold, JD" in desk.last_edit


def test_a_reader_sees_what_another_program_writes(tmp_path: Path) -> None:
    office = with_order(tmp_path)
    other = second_program(office, "MB", read_only=True)
    reader = OfficeReader(other)
    version, desk = reader.version(), reader.desk()
    assert reader.version() == version
    alter(office, "4.3", {"Clearance": "hold"})
    assert reader.version() != version
    assert reader.desk() != desk
    assert ("Clearance", "hold") in reader.item("4.3").fields
    reader.close()
    office.book.close()


def test_a_deleted_item_has_no_number_off_now_or_at_a_revision(office: Office) -> None:
    delete(office, "5.5", "not wanted")
    issue_all(office, "1")
    reader = OfficeReader(office)
    assert reader.item_at("5.5", office.revision("A")).off == "6"
    assert (reader.item("5.5").off, reader.item_at("5.5", office.revision("B")).off) == ("", "")
