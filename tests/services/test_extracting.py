"""Extracts: numbered once a revision, printed again the same, true to what changed for the department."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from specreg.core.errors import NotFound, NotPermitted, Refused
from specreg.core.extracts import Extract
from specreg.core.model import Sheet
from specreg.output.extract_wording import compared
from specreg.output.files import written
from specreg.services.altering import alter, delete, insert
from specreg.services.entering import enter_sheets
from specreg.services.extracting import make_extracts
from specreg.services.office import Office
from specreg.services.taking_in import take_in
from specreg.services.upkeep import verify
from specreg.store import day_book, revisions
from tests.services.office_for_tests import (
    ROUTING,
    as_person,
    issue_all,
    note_opened,
    tiny_order_folder,
    with_order,
    with_revision_a,
)


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order at revision A."""
    made = with_revision_a(tmp_path)
    yield made
    made.book.close()


def every(office: Office, letter: str = "") -> dict[str, Extract]:
    """All extracts by department."""
    return {extract.department: extract for extract, _ in make_extracts(office, (), letter)}


def test_there_is_none_before_the_first_issue(tmp_path: Path) -> None:
    office = with_order(tmp_path)
    with pytest.raises(NotFound, match="none is issued yet"):
        make_extracts(office, ("FDY",))
    office.book.close()


def test_it_is_numbered_once_and_printed_again_the_same(office: Office) -> None:
    ((first, new),) = make_extracts(office, ("FDY",))
    entry = day_book.entries(office.book, None, 1)[0].entry
    ((again, new_again),) = make_extracts(office, ("fdy",))
    assert (new, new_again) == (True, False)
    assert first == again
    for form in ("txt", "csv", "md"):
        assert written(first, form) == written(again, form)
    assert day_book.entries(office.book, None, 1)[0].entry == entry
    assert len(revisions.extracts_of(office.book, office.order_id)) == 1


def test_an_old_one_is_printed_the_same_after_later_revisions_and_later_drawings(office: Office) -> None:
    before = every(office)
    note_opened(office)
    alter(office, "4.1.1", {"Off": "14"})
    enter_sheets(
        office,
        [
            Sheet(
                "SL-1002",
                "1",
                "2",
                "Rack details, segment",
                revision="B",
                stage="issued",
                drawn="H.P.",
                checked="W.G.",
                approved="J.D.",
            )
        ],
    )
    issue_all(office, "1")
    every(office)
    assert every(office, "A") == before


def test_lines_are_signed_and_say_what_was(office: Office) -> None:
    every(office)
    note_opened(office)
    alter(office, "4.1.1", {"Off": "14", "Remarks": "as agreed"})
    insert(office, "4.4", {"Description": "Guard", "Off": "1", "Per": "machine", "Material": "cast iron"})
    delete(office, "5.5", "solid barrel")
    issue_all(office, "1")
    foundry = every(office)["FDY"]
    lines = {line.number: line for line in foundry.lines}
    assert {number: line.sign for number, line in lines.items() if line.sign} == {"4.1.1": "»", "4.4": "+"}
    assert lines["4.1.1"].was == "Off was 24, now 28; Remarks were blank, now as agreed"
    assert [(line.number, line.sign) for line in foundry.withdrawn] == [("5.5", "-")]
    assert (foundry.number, foundry.since) == (2, "extract 1 of revision A")
    assert foundry.pieces == sum(line.pieces or 0 for line in foundry.lines)


def test_a_line_that_goes_elsewhere_is_withdrawn_there_and_added_here(office: Office) -> None:
    every(office)
    note_opened(office)
    alter(office, "4.3", {"Route": "BUY; ERE"})
    issue_all(office, "1")
    after = every(office)
    assert [line.number for line in after["FDY"].withdrawn] == ["4.3"]
    assert [line.number for line in after["BUY"].lines if line.sign == "+"] == ["4.3"]
    (erected,) = [line for line in after["ERE"].lines if line.number == "4.3"]
    assert erected.sign == "»"
    assert "From was Machine shop, now Buying office" in erected.was


def test_a_department_that_nothing_changed_for_is_told_so_and_keeps_its_lines(office: Office) -> None:
    before = every(office)["BUY"]
    note_opened(office)
    alter(office, "4.1.1", {"Off": "14"})
    issue_all(office, "1")
    after = every(office)["BUY"]
    assert not after.changed
    assert [(line.number, line.off, line.sign) for line in after.lines] == [
        (line.number, line.off, "") for line in before.lines
    ]
    assert after.withdrawn == ()
    assert after.seal != before.seal


def test_a_sheet_come_to_a_new_revision_is_a_change_for_those_who_have_the_line(office: Office) -> None:
    every(office)
    note_opened(office)
    alter(office, "5.5", {"Remarks": "in halves"})
    enter_sheets(
        office,
        [
            Sheet(
                "SL-1003",
                "",
                "1",
                "Rack bolt",
                revision="A",
                stage="issued",
                drawn="H.P.",
                checked="W.G.",
                approved="J.D.",
            )
        ],
    )
    issue_all(office, "1")
    lines = {line.number: line for line in every(office)["MCH"].lines}
    assert lines["4.1.2"].was == "Drawing was SL-1003 rev -, now SL-1003 rev A"


def test_signs_compare_with_the_departments_own_last_extract(office: Office) -> None:
    make_extracts(office, ("FDY",))
    for number, off in (("1", "14"), ("2", "15")):
        note_opened(office)
        alter(office, "4.1.1", {"Off": off}, number)
        issue_all(office, number)
    ((foundry, _),) = make_extracts(office, ("FDY",))
    assert foundry.number == 2
    assert foundry.since == "extract 1 of revision A"
    assert {line.number: line.was for line in foundry.lines if line.sign} == {"4.1.1": "Off was 24, now 30"}
    ((machining, _),) = make_extracts(office, ("MCH",))
    assert (machining.number, machining.since) == (1, "")


def test_a_part_says_it_is_a_part_and_takes_no_number(office: Office) -> None:
    ((whole, _),) = make_extracts(office, ("ERE",))
    ((part, new),) = make_extracts(office, ("ERE",), section="5")
    assert not new
    assert part.number == whole.number
    assert {line.section for line in part.lines} == {"5"}
    assert "5 Hoisting gear" in part.part
    assert part.pieces < whole.pieces
    with pytest.raises(NotFound, match="sections are 1, 4, 5"):
        make_extracts(office, ("ERE",), section="9")


def test_a_department_without_lines_has_a_nil_extract(tmp_path: Path) -> None:
    office = with_order(tmp_path)
    for number in ("5.2", "5.3"):
        delete(office, number, "bought by the customer")
    issue_all(office)
    nil = every(office)["BUY"]
    assert (nil.lines, nil.pieces) == ((), 0)
    assert nil.reconciliation.difference == 0
    office.book.close()


def test_heads_may_ask_for_their_own_and_strangers_for_none(office: Office) -> None:
    head = as_person(office, "FO")
    assert make_extracts(head, ("FDY",))
    with pytest.raises(Refused, match=r"F\. Oakshott is head of FDY"):
        make_extracts(head, ("FDY", "MCH"))
    with pytest.raises(NotPermitted):
        make_extracts(as_person(office, "WG"), ("FDY",))
    with pytest.raises(NotFound, match="the works has BUY, FDY, MCH, ERE"):
        make_extracts(office, ("XYZ",))


def test_an_old_revision_made_late_does_not_become_the_one_to_compare_with(office: Office) -> None:
    note_opened(office)
    alter(office, "4.1.1", {"Off": "13"})
    issue_all(office, "1")
    of_b = every(office, "B")["FDY"]
    of_a = every(office, "A")["FDY"]
    assert (of_b.number, of_a.number, of_a.since) == (1, 2, "")
    assert "first extract" in compared(of_b)
    assert compared(of_a) == "nothing: no extract of an earlier revision was made for this department"
    note_opened(office)
    alter(office, "4.1.1", {"Off": "14"})
    issue_all(office, "2")
    of_c = every(office, "C")["FDY"]
    assert (of_c.number, of_c.since) == (3, "extract 1 of revision B")
    assert [line.was for line in of_c.lines if line.sign] == ["Off was 26, now 28"]


def test_a_department_given_up_is_told_that_its_lines_are_withdrawn(office: Office, tmp_path: Path) -> None:
    every(office)
    note_opened(office)
    folder = tiny_order_folder(tmp_path, into="more", routing=ROUTING.replace("FDY cast all; ", ""))
    departments = tmp_path / "shared" / "departments.toml"
    foundry = departments.read_text(encoding="utf-8").split("[[department]]")[2]
    departments.write_text(
        departments.read_text(encoding="utf-8").replace(f"[[department]]{foundry}", ""), encoding="utf-8"
    )
    take_in(office, folder)
    issue_all(office, "1")
    of_b = every(office)
    assert list(of_b) == ["BUY", "MCH", "ERE", "FDY"]
    foundrys = of_b["FDY"]
    assert (foundrys.lines, foundrys.since) == ((), "extract 1 of revision A")
    assert [line.number for line in foundrys.withdrawn] == ["4.1.1", "4.2", "4.3", "5.1", "5.5"]
    assert every(office) == of_b
    assert [extract.number for extract, _ in make_extracts(office, ("fdy",))] == [2]
    note_opened(office)
    alter(office, "4.1.1", {"Off": "13"})
    issue_all(office, "2")
    assert "FDY" not in every(office)
    assert make_extracts(office, ("FDY",))[0][0].withdrawn == ()
    assert verify(office).differences == ()
