"""Edits: kept at once, taken back by whoever made them, refused where somebody else has been meanwhile."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from specreg.core.errors import AlteredMeanwhile, NotFound, Refused, WrongUse
from specreg.core.model import Kind, Layout, Note
from specreg.core.numbering import INSERTION_LETTERS, number_key
from specreg.services.altering import alter, delete, find_item, insert, redo, restore, undo
from specreg.services.checking import check, faults_naming, let_pass
from specreg.services.noting import open_note, say_note
from specreg.services.office import Office
from specreg.store import drawings, items
from tests.services.office_for_tests import as_person, note_opened, second_program, with_order, with_revision_a


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order before its first issue."""
    made = with_order(tmp_path)
    yield made
    made.book.close()


@pytest.fixture
def issued(tmp_path: Path) -> Iterator[Office]:
    """The same at revision A with note 1 open."""
    made = with_revision_a(tmp_path)
    note_opened(made)
    yield made
    made.book.close()


def off(office: Office, number: str = "4.1.2") -> str:
    """What the Off field says now."""
    return find_item(office, number).item.off


def test_edits_are_undone_and_redone_one_by_one(office: Office) -> None:
    for text in ("25", "26", "27"):
        alter(office, "4.1.2", {"Off": text})
    assert undo(office) == "4.1.2: Off was 26, now 27"
    assert undo(office) == "4.1.2: Off was 25, now 26"
    assert off(office) == "25"
    assert redo(office) == "4.1.2: Off was 25, now 26"
    assert off(office) == "26"
    alter(office, "4.3", {"Remarks": "in thirds"})
    with pytest.raises(Refused, match="Nothing to redo"):
        redo(office)
    undo(office)
    undo(office)
    undo(office)
    assert off(office) == "24"


def test_each_person_undoes_his_own(office: Office) -> None:
    clerk, draughtsman = as_person(office, "MB"), as_person(office, "HP")
    alter(clerk, "4.1.2", {"Off": "25"})
    alter(draughtsman, "4.3", {"Remarks": "in thirds"})
    assert undo(clerk).startswith("4.1.2")
    assert find_item(office, "4.3").item.remarks == "in thirds"


def test_an_edit_that_somebody_has_gone_over_is_not_undone(office: Office) -> None:
    alter(as_person(office, "MB"), "4.1.2", {"Off": "25"})
    alter(as_person(office, "HP"), "4.1.2", {"Off": "26"})
    with pytest.raises(AlteredMeanwhile, match="it has been altered since"):
        undo(as_person(office, "MB"))
    assert off(office) == "26"


def test_what_was_read_before_somebody_else_altered_it_is_not_overwritten(office: Office) -> None:
    read = find_item(office, "4.1.2").digest
    other = second_program(office, "MB")
    alter(other, "4.1.2", {"Off": "25"})
    other.book.close()
    with pytest.raises(AlteredMeanwhile, match="somebody has altered it since you read it"):
        alter(office, "4.1.2", {"Off": "26"}, as_read=read)
    alter(office, "4.1.2", {"Off": "26"}, as_read=find_item(office, "4.1.2").digest)


def test_an_insertion_undone_is_gone_and_redone_has_its_number(issued: Office) -> None:
    made = insert(issued, "", {"Description": "Washer", "Supply": "buy"}, after="4.1.2").item
    assert (made.number, made.section, made.kind, made.layout) == ("4.1.2A", "4", Kind.ITEM, Layout.ROW)
    undo(issued)
    with pytest.raises(NotFound):
        find_item(issued, "4.1.2A")
    redo(issued)
    assert find_item(issued, "4.1.2A").item.title == "Washer"
    assert insert(issued, "", {"Description": "Second"}, after="4.1.2").item.number == "4.1.2B"
    assert insert(issued, "", {"Description": "Third"}, after="4.1.2A").item.number == "4.1.2C"


def test_a_number_is_never_used_again(issued: Office) -> None:
    delete(issued, "4.1.2", "riveted")
    with pytest.raises(Refused, match=r"taken by Rack bolt \(deleted\)"):
        insert(issued, "4.1.2", {"Description": "Rivet"})
    with pytest.raises(Refused, match="taken by"):
        insert(issued, "04.1.02", {"Description": "Rivet"})


def test_a_text_without_fields_is_a_clause_and_a_new_first_level_a_section(office: Office) -> None:
    assert insert(office, "1.2", {"Description": "Guarantee", "Text": "Twelve months."}).item.kind is Kind.CLAUSE
    assert insert(office, "6", {"Description": "Lubrication"}).item.kind is Kind.SECTION
    assert insert(office, "6.1", {"Description": "Oil cup", "Off": "4", "Per": "machine"}).item.section == "6"


def test_a_deleted_item_stays_listed_and_comes_back_as_it_was(office: Office) -> None:
    before = find_item(office, "4.1.2").item
    assert delete(office, "4.1.2", " riveted ").item.reason == "riveted"
    assert restore(office, "4.1.2").item == before


def test_a_section_goes_only_when_nothing_lives_in_it(office: Office) -> None:
    with pytest.raises(Refused, match="6 live items stand in it"):
        delete(office, "4", "no slewing")
    insert(office, "6", {"Description": "Lubrication"})
    assert delete(office, "6", "no lubrication").item.state.value == "deleted"


def test_what_an_item_calls_up_follows_its_edits(office: Office) -> None:
    item_id = find_item(office, "4.1.2").item_id
    alter(office, "4.1.2", {"Drawing": "SL-1002/2, SL-1099"})
    assert [(one.written, one.drawing_id is not None) for one in drawings.calls_of(office.book, item_id)] == [
        ("SL-1002/2", True), ("SL-1099", False),
    ]  # fmt: skip
    undo(office)
    assert [one.written for one in drawings.calls_of(office.book, item_id)] == ["SL-1003"]


def test_whoever_alters_an_item_is_told_its_faults_at_once(office: Office) -> None:
    alter(office, "4.1.2", {"Drawing": "SL-1099", "Off": "many"})
    assert [fault.name for fault in faults_naming(office, "4.1.2")] == [
        "number off not reckoned", "drawing not registered",
    ]  # fmt: skip
    alter(office, "4.3", {"Material": "mild steel"})
    assert faults_naming(office, "4.3") == []


def test_a_note_number_is_given_once(issued: Office) -> None:
    assert note_opened(issued) == "2"
    assert note_opened(issued, "17") == "17"
    assert note_opened(issued) == "18"
    with pytest.raises(Refused, match="the order has a note of that number"):
        note_opened(issued, "17")
    with pytest.raises(WrongUse, match="Use design error"):
        open_note(issued, Note("", reason="whim"))
    assert say_note(issued, "1", words="other words").note.words == "other words"


def test_a_fault_is_let_pass_by_the_chief_for_a_reason(office: Office) -> None:
    alter(office, "5.1.1", {"Drawing": ""})
    with pytest.raises(WrongUse, match="no reason"):
        let_pass(office, "no drawing", "5.1.1", "  ")
    let_pass(office, "no drawing", "5.1.1", "a plain bar")
    checked = check(office)
    assert [(fault.subject, said.person, said.reason) for fault, said in checked.passed] == [
        ("5.1.1", "JD", "a plain bar")
    ]
    assert "no drawing" not in {fault.name for fault in checked.faults}
    with pytest.raises(NotFound, match="it does not stand"):
        let_pass(office, "no drawing", "5.1.1", "again")


def test_nothing_goes_into_a_deleted_section(office: Office) -> None:
    for number in ("5.1", "5.1.1", "5.2", "5.3", "5.4", "5.5", "5"):
        delete(office, number, "no hoist")
    with pytest.raises(Refused, match=r"section 5 is deleted\. Bring it back first with `specreg restore 5`"):
        insert(office, "5.6", {"Description": "Hook", "Off": "1 per machine"})
    with pytest.raises(Refused, match="section 5 is deleted"):
        restore(office, "5.2")
    restore(office, "5")
    assert restore(office, "5.2").item.section == "5"


def test_an_outsiders_flat_number_goes_into_the_section_of_the_item_it_follows(tmp_path: Path) -> None:
    rows = "| Item | Description | Off | Per | Supply |\n|---|---|---|---|---|\n| 142 | Bolt | 2 | machine | buy |\n"
    office = with_order(tmp_path, sections={"07.md": f"# 7 Sundries\n\n{rows}"}, drawings="", numbering="theirs")
    done = insert(office, "", {"Description": "Nut", "Off": "2", "Per": "machine"}, after="142")
    assert (done.item.number, done.item.kind, done.item.section) == ("142A", Kind.ITEM, "7")
    assert insert(office, "", {"Description": "More sundries"}, after="7").item.kind is Kind.SECTION
    office.book.close()


def test_letters_for_insertions_used_up_are_refused_in_words(office: Office, monkeypatch: pytest.MonkeyPatch) -> None:
    every = {f"4.1.2{first}{last}" for first in ["", *INSERTION_LETTERS] for last in INSERTION_LETTERS}
    taken = {number_key(number) for number in every}
    monkeypatch.setattr(items, "taken_numbers", lambda book, order_id: taken)
    with pytest.raises(Refused, match=r"no letter is left for an insertion after 4\.1\.2"):
        insert(office, "", {"Description": "Washer"}, after="4.1.2")


def test_what_was_undone_does_not_take_a_number_given_to_another_since(issued: Office) -> None:
    said = {"Description": "Washer", "Off": "24", "Per": "4.1", "Supply": "buy"}
    draughtsman = as_person(issued, "HP")
    insert(draughtsman, "4.1.3", said)
    undo(draughtsman)
    insert(issued, "4.1.3", {**said, "Description": "Tab washer"})
    with pytest.raises(AlteredMeanwhile, match=r"the number is now that of Tab washer \(live\)"):
        redo(draughtsman)
    undo(issued)
    redo(draughtsman)
    assert find_item(issued, "4.1.3").item.title == "Washer"
