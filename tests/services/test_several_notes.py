"""Several notes open at once: each edit under one, issued apart, none barred by another's faults."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from specreg.core.errors import FaultsStop, Refused, WrongUse
from specreg.core.picture import Picture
from specreg.services.allocating import allocate
from specreg.services.altering import alter, delete, insert, undo
from specreg.services.checking import check
from specreg.services.comparing import Compared, compare
from specreg.services.extracting import make_extracts
from specreg.services.issuing import issue
from specreg.services.noting import abandon_note, say_note
from specreg.services.office import Office
from specreg.services.reading import OfficeReader
from specreg.services.signing import signatures
from specreg.services.standing import as_issued, as_it_stands
from specreg.services.taking_in import take_in
from specreg.services.upkeep import verify
from specreg.store import items, routes
from tests.services.office_for_tests import (
    SECTIONS,
    as_person,
    issue_all,
    note_opened,
    sign_all,
    tiny_order_folder,
    with_order,
    with_revision_a,
)


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order at revision A, with notes 1 and 2 open."""
    made = with_revision_a(tmp_path)
    note_opened(made)
    note_opened(made)
    yield made
    made.book.close()


def departments(picture: Picture) -> dict[str, list[str]]:
    """The departments of each item's route."""
    return {item.number: [step.department for step in route.steps] for item, route in picture.routed}


def said_at(office: Office, letter: str) -> dict[str, str]:
    """What each item said at a revision."""
    return {item.number: item.size for item in as_issued(office, office.revision(letter)).items}


def test_an_edit_without_a_note_asks_which(office: Office) -> None:
    with pytest.raises(WrongUse, match="several are open: 1, 2"):
        alter(office, "4.1.2", {"Size": "6 in"})


def test_an_item_under_one_note_is_refused_to_another_and_needs_no_naming(office: Office) -> None:
    alter(office, "4.1.2", {"Size": "6 in"}, "1")
    with pytest.raises(Refused, match="it stands altered under note 1 and not yet issued"):
        alter(office, "4.1.2", {"Size": "7 in"}, "2")
    with pytest.raises(Refused, match="under note 1"):
        delete(office, "4.1.2", "riveted", "2")
    assert alter(office, "4.1.2", {"Size": "7 in"}).note.number == "1"


def test_notes_are_issued_apart_and_the_other_stays_open(office: Office) -> None:
    alter(office, "4.1.2", {"Size": "6 in"}, "1")
    alter(office, "4.3", {"Size": "20 ft"}, "2")
    insert(office, "4.4", {"Description": "Guard", "Off": "1", "Per": "machine", "Material": "mild steel"}, "2")
    issue_all(office, "1")
    assert said_at(office, "B")["4.1.2"] == "6 in"
    assert said_at(office, "B")["4.3"] == said_at(office, "A")["4.3"]
    assert "4.4" not in said_at(office, "B")
    assert [one.note.number for one in office.open_notes()] == ["2"]
    issue_all(office, "2")
    assert said_at(office, "C")["4.3"] == "20 ft"
    assert "4.4" in said_at(office, "C")
    assert verify(office).differences == ()


def test_notes_may_be_issued_in_the_other_order_and_together(office: Office) -> None:
    alter(office, "4.1.2", {"Size": "6 in"}, "1")
    alter(office, "4.3", {"Size": "20 ft"}, "2")
    done = issue_all(office, "2", "1")
    assert set(done.notes) == {"1", "2"}
    assert (said_at(office, "B")["4.1.2"], said_at(office, "B")["4.3"]) == ("6 in", "20 ft")


def test_a_fault_under_one_note_does_not_bar_the_other(office: Office) -> None:
    alter(office, "4.1.2", {"Size": "6 in"}, "1")
    alter(office, "4.3", {"Drawing": "SL-1099", "Off": "many"}, "2")
    allocate(office)
    sign_all(office, "1")
    first = office.note("1").note_id
    assert check(office, {first}).barring == ()
    assert {one.subject for one in check(office).barring} == {"4.3"}
    issue(office, ["1"])
    sign_all(office, "2")
    with pytest.raises(FaultsStop) as stopped:
        issue(office, ["2"])
    assert {one.name for one in stopped.value.faults} == {"drawing not registered", "number off not reckoned"}


def test_deleting_under_one_note_what_another_counts_by_bars_only_where_both_meet(office: Office) -> None:
    delete(office, "4.2", "made in one with the shaft", "1")
    delete(office, "4.2.1", "no key then", "1")
    alter(office, "4.1.2", {"Off": "2 per 4.2"}, "2")
    issue_all(office, "1")
    allocate(office)
    sign_all(office, "2")
    with pytest.raises(FaultsStop) as stopped:
        issue(office, ["2"])
    assert [(one.subject, one.name) for one in stopped.value.faults] == [("4.1.2", "number off not reckoned")]


def test_a_route_that_changes_under_a_note_is_issued_with_it(office: Office) -> None:
    alter(office, "4.1.2", {"Material": "cast iron"}, "1")
    alter(office, "4.3", {"Route": "ERE"}, "2")
    allocate(office)
    sign_all(office, "1")
    issue(office, ["1"])
    at_b, now = departments(as_issued(office, office.revision("B"))), departments(as_it_stands(office))
    assert at_b["4.1.2"] == ["FDY", "MCH", "ERE"]
    assert at_b["4.3"] == ["FDY", "MCH", "ERE"]
    assert now["4.3"] == ["ERE"]


def test_a_route_that_stands_open_under_one_note_waits_for_it(office: Office) -> None:
    alter(office, "4.1.2", {"Material": "cast iron"}, "1")
    allocate(office)
    undo(office)
    assert routes.note_of_open(office.book, items.by_number(office.book, office.order_id, "4.1.2").item_id)  # type: ignore[union-attr]
    assert allocate(office, "2").written == 0
    assert allocate(office, "1").written == 1
    assert allocate(office).written == 0


def test_giving_a_note_up_leaves_no_route_open_behind_it(office: Office) -> None:
    alter(office, "4.1.2", {"Material": "cast iron"}, "1")
    allocate(office)
    undo(office)
    abandon_note(office, "1")
    assert routes.under_note(office.book, office.note("1").note_id) == {}
    assert allocate(office, "2").written == 0
    alter(office, "4.3", {"Size": "20 ft"}, "2")
    issue_all(office, "2")
    picture = as_issued(office, office.revision("B"))
    assert departments(picture)["4.1.2"] == ["MCH", "ERE"]
    assert verify(office).differences == ()


# Numbers off --------------------------------------------------------------------------------------------------------


def numbers_off(found: Compared) -> list[tuple[str, str, str]]:
    """The items of which another number is wanted, by number: (item, before, now)."""
    return [(one.item.number, one.old, one.new) for one in found.numbers_off]


def test_an_edit_of_an_assembly_changes_its_parts_numbers_off_everywhere(office: Office) -> None:
    make_extracts(office, ())
    alter(office, "4.1", {"Off": "2 per machine"}, "1")
    issue_all(office, "1")
    found = compare(office, "A", "B")
    assert [pair.new.number for pair in found.comparison.changed] == ["4.1"]
    # Two machines: 12 and 24 per rack, one rack a machine before, two after.
    assert set(numbers_off(found)) == {("4.1", "2", "4"), ("4.1.1", "24", "48"), ("4.1.2", "48", "96")}
    erecting = compare(office, "A", "B", "ERE")
    assert erecting.lines is not None
    assert {(one.printed.number, one.printed.sign, one.printed.was) for one in erecting.lines.changed} == {
        ("4.1", "»", "Off was 2, now 4"), ("4.1.1", "»", "Off was 24, now 48"), ("4.1.2", "»", "Off was 48, now 96"),
    }  # fmt: skip
    by_code = {extract.department: extract for extract, _ in make_extracts(office, ())}
    lines = {line.number: line for line in by_code["MCH"].lines}
    assert (lines["4.1.2"].sign, lines["4.1.2"].was) == ("»", "Off was 48, now 96")
    assert lines["4.2"].sign == ""
    foundry = {line.number: line for line in by_code["FDY"].lines}
    assert foundry["4.1.1"].was == "Off was 24, now 48"
    assert by_code["BUY"].changed is False


def test_numbers_off_are_recorded_at_each_issue_and_shown_as_they_were(office: Office) -> None:
    alter(office, "4.1", {"Off": "2 per machine"}, "1")
    issue_all(office, "1")
    reader = OfficeReader(office)
    at_a, at_b = (reader.item_at("4.1.2", office.revision(letter)) for letter in "AB")
    assert (at_a.off, at_b.off, reader.item("4.1.2").off) == ("48", "96", "96")
    assert at_a.working != at_b.working


# The second check ---------------------------------------------------------------------------------------------------


def test_a_safety_item_wants_a_second_checker(office: Office) -> None:
    alter(office, "4.1.2", {"Size": "6 in"}, "1")
    assert "second check" not in signatures(office, office.note("1")).wanting
    alter(office, "5.2", {"Size": "1 in"}, "1")
    assert signatures(office, office.note("1")).wanting == ("drawn", "checked", "second check", "approved")


def test_taking_the_safety_mark_away_wants_the_second_check_as_well(office: Office) -> None:
    alter(office, "5.2", {"Safety": ""}, "1")
    assert "second check" in signatures(office, office.note("1")).wanting
    alter(office, "4.1.2", {"Safety": "lifting"}, "2")
    assert "second check" in signatures(office, office.note("2")).wanting
    undo(office)
    assert "second check" not in signatures(office, office.note("2")).wanting


def test_a_route_under_a_note_is_part_of_what_is_signed(office: Office) -> None:
    from specreg.services.signing import sign

    alter(office, "4.1.2", {"Material": "cast iron"}, "1")
    sign(as_person(office, "HP"), "1", "drawn")
    allocate(office)
    assert signatures(office, office.note("1")).holding == ()
    assert [one.signed_as for one in signatures(office, office.note("1")).lapsed] == ["drawn"]


def test_numbers_off_are_recorded_by_the_numbers_issued_not_by_those_another_note_gives(tmp_path: Path) -> None:
    outsiders = with_order(tmp_path, numbering="theirs")
    issue_all(outsiders)
    note_opened(outsiders, "1")
    note_opened(outsiders, "2")
    take_in(outsiders, tiny_order_folder(tmp_path, swapped(), into="again", numbering="theirs"), note="2")
    alter(outsiders, "4.1.1", {"Off": "13"}, "1")
    allocate(outsiders, "1")
    sign_all(outsiders, "1")
    assert issue(outsiders, ["1"]).totals == 1
    assert verify(outsiders).differences == ()
    bush = OfficeReader(outsiders).item_at("5.5", outsiders.revision("B"))
    assert (bush.title, bush.off) == ("Barrel bush", "6")
    issue_all(outsiders, "2")
    assert verify(outsiders).differences == ()
    outsiders.book.close()


def test_a_machine_more_is_issued_though_no_item_says_anything_else(office: Office, tmp_path: Path) -> None:
    take_in(office, tiny_order_folder(tmp_path, into="more", machines="1471-1473"), note="1")
    sign_all(office, "1")
    assert issue(office, ["1"]).written == 0
    assert ("4.1.1", "24", "36") in numbers_off(compare(office, "A", "B"))
    sign_all(office, "2")
    with pytest.raises(Refused, match="nothing stands altered"):
        issue(office, ["2"])


def test_a_number_given_to_another_item_is_no_other_number_off(tmp_path: Path) -> None:
    outsiders = with_order(tmp_path, numbering="theirs")
    issue_all(outsiders)
    note_opened(outsiders, "1")
    take_in(outsiders, tiny_order_folder(tmp_path, swapped(), into="again", numbering="theirs"))
    assert compare(outsiders, "A", "open").numbers_off == ()
    alter(outsiders, "5.2", {"Spares": "5 per order"})
    assert numbers_off(compare(outsiders, "A", "open")) == [("5.2", "6", "9")]
    issue_all(outsiders, "1")
    assert numbers_off(compare(outsiders, "A", "B")) == [("5.2", "6", "9")]
    outsiders.book.close()


def swapped() -> dict[str, str]:
    """The sections with the numbers of the hoisting rope and the barrel bush changed about."""
    hoisting = SECTIONS["05-hoisting-gear.md"]
    for old, new in (("| 5.2 |", "| x |"), ("| 5.5 |", "| 5.2 |"), ("| x |", "| 5.5 |")):
        hoisting = hoisting.replace(old, new)
    return {**SECTIONS, "05-hoisting-gear.md": hoisting}


def test_a_note_issued_already_is_refused_in_the_words_of_what_was_asked(office: Office) -> None:
    alter(office, "4.1.1", {"Off": "13"}, "1")
    issue_all(office, "1")
    for asked, act in (
        ("Issue", lambda: issue(office, ["1"])),
        ("Abandon", lambda: abandon_note(office, "1")),
        ("Alter", lambda: say_note(office, "1", words="late")),
        ("Edit under", lambda: alter(office, "4.1.1", {"Off": "14"}, "1")),
    ):
        with pytest.raises(WrongUse, match=f"^{asked} note 1: it is issued"):
            act()
