"""The pages of departments say what the extracts say, before they are made and after."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from specreg.core.errors import NotFound, Refused
from specreg.core.model import Sheet
from specreg.core.picture import Picture
from specreg.services import extracting
from specreg.services.altering import alter, delete, insert
from specreg.services.department_readings import DepartmentLine, DepartmentsPage
from specreg.services.entering import enter_sheets
from specreg.services.extracting import make_extracts
from specreg.services.office import Office
from specreg.services.people import say_person
from specreg.services.reading import OfficeReader
from specreg.services.standing import as_issued, as_it_stands
from specreg.services.taking_in import take_in
from specreg.store import day_book
from specreg.store.people import Person
from specreg.store.revisions import Revision
from tests.services.office_for_tests import (
    ROUTING,
    Clock,
    as_person,
    issue_all,
    new_office,
    note_opened,
    second_program,
    tiny_order_folder,
    with_order,
    with_revision_a,
)


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order at revision A, no extract made."""
    made = with_revision_a(tmp_path)
    yield made
    made.book.close()


def page_of(office: Office, open_edits: bool = False) -> DepartmentsPage:
    return OfficeReader(office).departments(open_edits)


def lines_of(office: Office, open_edits: bool = False) -> dict[str, DepartmentLine]:
    return {one.code: one for one in page_of(office, open_edits).departments}


def alter_a_little(office: Office) -> None:
    """Under note 1: one altered, one put in, one deleted, and a sheet that comes to another revision."""
    note_opened(office)
    alter(office, "4.1.1", {"Off": "14"})
    insert(office, "4.4", {"Description": "Guard", "Off": "1", "Per": "machine", "Material": "cast iron"})
    delete(office, "5.5", "solid barrel")
    enter_sheets(office, [Sheet("SL-1004", title="Slewing pinion", revision="A", stage="issued", drawn="H.P.",
                                checked="W.G.", approved="J.D.")])  # fmt: skip


def test_a_book_without_an_order_has_no_departments(tmp_path: Path) -> None:
    office = new_office(tmp_path)
    page = page_of(office)
    assert (page.departments, page.may_extract, page.reconciliation.holds) == ((), frozenset(), True)
    office.book.close()


def test_while_nothing_is_issued_the_order_is_shown_as_it_stands(tmp_path: Path) -> None:
    office = with_order(tmp_path)
    page = page_of(office)
    assert page == page_of(office, open_edits=True)
    assert (page.revision, page.may_extract) == ("", frozenset())
    assert [(one.code, one.lines, one.since, one.extract, one.seal) for one in page.departments] == [
        ("BUY", 2, "", 0, ""), ("FDY", 5, "", 0, ""), ("MCH", 10, "", 0, ""), ("ERE", 11, "", 0, ""),
    ]  # fmt: skip
    share = OfficeReader(office).share("FDY", open_edits=False)
    assert (share.number, share.seal, share.title_block.revision, share.revision_seal) == (0, "", "", "")
    assert share.title_block.identification_number == "W 611 FDY"
    assert not any(line.sign for line in share.lines)
    office.book.close()


def test_the_proof_covers_every_department(office: Office) -> None:
    page = page_of(office)
    assert page.reconciliation.holds
    assert sum(one.lines for one in page.departments) == page.reconciliation.in_shares == page.reconciliation.steps


def test_before_any_extract_there_is_nothing_to_compare_with(office: Office) -> None:
    page = page_of(office)
    assert page.revision == "A"
    assert [(one.changed, one.since, one.extract) for one in page.departments] == [(False, "", 0)] * 4


def test_an_extract_made_is_shown_with_its_number_and_seal(office: Office) -> None:
    ((made, _),) = make_extracts(office, ("FDY",))
    shown = lines_of(office)
    assert (shown["FDY"].extract, shown["FDY"].seal) == (1, made.seal)
    assert (shown["MCH"].extract, shown["MCH"].seal) == (0, "")


def test_a_share_is_the_very_extract_that_is_made_of_it(office: Office) -> None:
    make_extracts(office, ("FDY", "MCH", "BUY"))
    alter_a_little(office)
    issue_all(office, "1")
    reader = OfficeReader(office)
    for code in ("BUY", "FDY", "MCH", "ERE"):
        before = reader.share(code, open_edits=False)
        assert (before.number, before.seal) == (0, "")
        ((made, new),) = make_extracts(office, (code,))
        assert new
        assert extracting.numbered(before, made.number) == replace(made, seal="")
        assert reader.share(code.lower(), open_edits=False) == made


def test_the_figures_are_those_of_the_shares(office: Office) -> None:
    make_extracts(office, ("FDY", "MCH", "BUY"))
    alter_a_little(office)
    issue_all(office, "1")
    note_opened(office)
    alter(office, "4.2", {"Off": "as required"}, "2")
    alter(office, "4.3", {"Route": "BUY; ERE"}, "2")
    reader = OfficeReader(office)
    for open_edits in (False, True):
        for one in reader.departments(open_edits).departments:
            share = reader.share(one.code, open_edits)
            signs = [line.sign for line in share.lines]
            assert (one.lines, one.pieces, one.not_counted) == (len(signs), share.pieces, share.not_counted)
            assert (one.added, one.altered) == (signs.count("+"), signs.count("»"))
            assert one.withdrawn == len(share.withdrawn)
            assert (one.since, one.extract, one.seal) == (share.since, share.number, share.seal)
            assert one.changed == bool([sign for sign in signs if sign] or share.withdrawn)


def test_changes_are_told_against_the_extract_before_the_revision_shown(office: Office) -> None:
    make_extracts(office, ("FDY",))
    alter_a_little(office)
    issue_all(office, "1")
    foundry = lines_of(office)["FDY"]
    assert (foundry.added, foundry.altered, foundry.withdrawn) == (1, 2, 1)
    assert (foundry.since, foundry.extract) == ("extract 1 of revision A", 0)
    make_extracts(office, ("FDY",))
    after = lines_of(office)["FDY"]
    assert (after.added, after.altered, after.withdrawn, after.since) == (1, 2, 1, "extract 1 of revision A")
    assert after.extract == 2


def test_the_date_is_that_of_the_last_extract_a_department_had(office: Office) -> None:
    make_extracts(office, ("FDY", "MCH"))
    first = office.today
    note_opened(office)
    alter(office, "4.1.1", {"Off": "14"})
    assert isinstance(office.clock, Clock)
    office.clock.on(days=40)
    issue_all(office, "1")
    make_extracts(office, ("MCH",))
    assert office.today != first
    dates = {code: one.dated for code, one in lines_of(office).items()}
    assert dates == {"BUY": "", "FDY": first, "MCH": office.today, "ERE": ""}
    assert lines_of(office, open_edits=True)["MCH"].dated == office.today


def test_as_it_stands_changes_are_told_against_the_last_extract_of_all(office: Office) -> None:
    make_extracts(office, ("FDY",))
    issued = lines_of(office)["FDY"]
    alter_a_little(office)
    open_now = lines_of(office, open_edits=True)["FDY"]
    assert (open_now.added, open_now.altered, open_now.withdrawn) == (0, 2, 1), "4.4 has no route before allocating"
    assert (open_now.since, open_now.extract, open_now.seal) == ("extract 1 of revision A", 0, "")
    assert lines_of(office)["FDY"] == issued, "the revision issued does not change"
    page = page_of(office, open_edits=True)
    assert (page.revision, page.reconciliation.unallocated) == ("", 1)


def test_a_department_that_skipped_a_revision_is_told_all_since_its_own_last_extract(office: Office) -> None:
    make_extracts(office, ())
    for number, off in (("1", "14"), ("2", "15")):
        note_opened(office)
        alter(office, "4.1.1", {"Off": off}, number)
        issue_all(office, number)
        make_extracts(office, ("MCH",))
    shown = lines_of(office)
    assert shown["FDY"].since == "extract 1 of revision A"
    assert shown["MCH"].since == "extract 2 of revision B"
    was = {line.was for line in OfficeReader(office).share("FDY", open_edits=False).lines if line.sign}
    assert was == {"Off was 24, now 30"}


def test_a_department_given_up_stands_there_until_it_has_been_told(office: Office, tmp_path: Path) -> None:
    make_extracts(office, ())
    note_opened(office)
    folder = tiny_order_folder(tmp_path, into="more", routing=ROUTING.replace("FDY cast all; ", ""))
    departments = tmp_path / "shared" / "departments.toml"
    text = departments.read_text(encoding="utf-8")
    departments.write_text(text.replace(f"[[department]]{text.split('[[department]]')[2]}", ""), encoding="utf-8")
    take_in(office, folder)
    issue_all(office, "1")
    page = page_of(office)
    assert [one.code for one in page.departments] == ["BUY", "MCH", "ERE", "FDY"]
    foundry = page.departments[-1]
    assert (foundry.name, foundry.lines, foundry.withdrawn) == ("Foundry", 0, 5)
    assert page.may_extract == {"BUY", "MCH", "ERE", "FDY"}
    share = OfficeReader(office).share("FDY", open_edits=False)
    assert [line.number for line in share.withdrawn] == ["4.1.1", "4.2", "4.3", "5.1", "5.5"]
    assert "FDY" in lines_of(office, open_edits=True)
    make_extracts(office, ())
    assert "FDY" in lines_of(office), "its extract of this revision is shown"
    assert "FDY" not in lines_of(office, open_edits=True), "it has been told"


@pytest.mark.parametrize(
    ("code", "may"),
    [
        ("JD", {"BUY", "FDY", "MCH", "ERE"}),
        ("HP", {"BUY", "FDY", "MCH", "ERE"}),
        ("MB", {"BUY", "FDY", "MCH", "ERE"}),
        ("FO", {"FDY"}),
        ("WG", set()),
    ],
)
@pytest.mark.parametrize("open_edits", [False, True])
def test_who_may_have_which_extract_made(office: Office, code: str, may: set[str], open_edits: bool) -> None:
    person = as_person(office, code)
    assert page_of(person, open_edits).may_extract == may
    for department in ("BUY", "FDY", "MCH", "ERE"):
        if department in may:
            assert make_extracts(person, (department,))
        else:
            with pytest.raises(Refused):
                make_extracts(person, (department,))


def test_a_head_who_checks_too_has_no_more_than_his_own_department(office: Office) -> None:
    say_person(office, Person("CF", "C. Fairlie", "cf", ("checker", "head"), "MCH"))
    person = as_person(office, "CF")
    assert page_of(person).may_extract == {"MCH"}
    with pytest.raises(Refused, match=r"C\. Fairlie is head of MCH"):
        make_extracts(person, ("FDY",))


def test_a_department_that_came_after_the_issue_has_no_extract_yet(office: Office, tmp_path: Path) -> None:
    note_opened(office)
    folder = tiny_order_folder(tmp_path, into="more")
    departments = tmp_path / "shared" / "departments.toml"
    more = '[[department]]\ncode = "STO"\nname = "Stores"\noperation = "put by"\nfinal = true\n'
    departments.write_text(departments.read_text(encoding="utf-8") + more, encoding="utf-8")
    take_in(office, folder)
    page = page_of(office, open_edits=True)
    assert "STO" in {one.code for one in page.departments}
    assert "STO" not in page.may_extract


def test_a_department_that_is_not_there_is_named_with_those_that_are(office: Office) -> None:
    with pytest.raises(NotFound, match="the works has BUY, FDY, MCH, ERE"):
        OfficeReader(office).share("XYZ", open_edits=False)


def test_a_share_that_is_not_what_was_issued_is_not_shown_under_its_seal(
    office: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_extracts(office, ("FDY",))
    monkeypatch.setattr(extracting, "content_of", lambda extract: b"otherwise")
    with pytest.raises(Refused, match="the record no longer gives what was issued"):
        OfficeReader(office).share("FDY", open_edits=False)


def test_looking_writes_nothing(office: Office) -> None:
    alter_a_little(office)
    other = second_program(office, "FO", read_only=True)
    entry = day_book.entries(office.book, None, 1)[0].entry
    reader = OfficeReader(other)
    for open_edits in (False, True):
        reader.departments(open_edits)
        reader.share("FDY", open_edits)
    assert day_book.entries(office.book, None, 1)[0].entry == entry
    reader.close()


def test_a_reader_draws_an_issued_revision_once_and_sees_what_others_write(
    office: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[str] = []

    def counted(real: Callable[..., Picture], name: str) -> Callable[..., Picture]:
        def draw(asking: Office, *arguments: Revision) -> Picture:
            if asking is other:
                drawn.append(name)
            return real(asking, *arguments)

        return draw

    other = second_program(office, "MB", read_only=True)
    monkeypatch.setattr("specreg.services.pictures.as_issued", counted(as_issued, "issued"))
    monkeypatch.setattr("specreg.services.pictures.as_it_stands", counted(as_it_stands, "now"))
    reader = OfficeReader(other)
    page = reader.departments(False)
    assert reader.departments(False) is page
    reader.share("FDY", False)
    assert drawn == ["issued"]
    make_extracts(office, ("FDY",))
    assert {one.code: one.extract for one in reader.departments(False).departments}["FDY"] == 1
    reader.departments(True)
    assert drawn == ["issued", "now"]
    alter_a_little(office)
    assert {one.code: one.changed for one in reader.departments(True).departments}["FDY"]
    assert drawn == ["issued", "now", "now"]
    reader.close()
