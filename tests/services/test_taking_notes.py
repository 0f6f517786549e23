"""A note written as a file goes in whole, or is refused before anything of it is written."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from specreg.core.errors import FaultsStop, NotPermitted, WrongUse
from specreg.core.model import Note
from specreg.services.altering import delete, find_item
from specreg.services.noting import open_note
from specreg.services.office import Office
from specreg.services.taking_notes import take_note
from specreg.store import day_book, notes
from tests.services.office_for_tests import as_person, issue_all, new_office, note_opened, with_revision_a

HEAD = '[note]\nreason = "customer"\nauthority = "letter of 3 Nov"\nmachines = "all"\nwords = "as agreed"\n'
LONGER = '[[alter]]\nitem = "4.1.1"\nOff = "13"\n'


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order at revision B, in which 5.5 is deleted."""
    made = with_revision_a(tmp_path)
    note_opened(made)
    delete(made, "5.5", "bored solid")
    issue_all(made, "1")
    yield made
    made.book.close()


def written(tmp_path: Path, *edits: str) -> Path:
    """A note file with some edits."""
    file = tmp_path / "note.toml"
    file.write_text("\n".join((HEAD, *edits)), encoding="utf-8")
    return file


def test_a_note_is_opened_with_its_edits_under_it(office: Office, tmp_path: Path) -> None:
    deleted = '[[delete]]\nitem = "4.3"\nreason = "open gear"\n'
    put_in = '[[insert]]\nitem = "4.1.3"\nDescription = "Washer"\nOff = "24"\nPer = "4.1"\nSupply = "buy"\n'
    done = take_note(office, written(tmp_path, LONGER, put_in, deleted))
    assert (done.note.note.number, done.edits, done.sheets) == ("2", 3, 0)
    standing = find_item(office, "4.1.1")
    assert (standing.item.off, standing.note_id) == ("13", done.note.note_id)


@pytest.mark.parametrize(
    ("edit", "why"),
    [
        ('[[alter]]\nitem = "4.1.9"\nOff = "2"\n', "alter 4.1.9: the order has no such item."),
        ('[[alter]]\nitem = "4.1.2"\nOff = "24"\n', "alter 4.1.2: it says so already."),
        ('[[alter]]\nitem = "5.5"\nOff = "3"\n', "alter 5.5: it is deleted."),
        ('[[delete]]\nitem = "5.5"\nreason = "x"\n', "delete 5.5: it is deleted already."),
        ('[[insert]]\nitem = "4.1.2"\nDescription = "x"\n', "insert 4.1.2: the number is taken."),
        (
            '[[insert]]\nitem = "4.1.2O"\nDescription = "x"\n',
            "insert 4.1.2O: O would be taken for a figure on a print.",
        ),
    ],
)
def test_an_edit_that_does_not_fit_refuses_the_whole_with_file_and_line(
    office: Office, tmp_path: Path, edit: str, why: str
) -> None:
    before = day_book.last_entry(office.book)
    with pytest.raises(FaultsStop) as refused:
        take_note(office, written(tmp_path, LONGER, edit))
    (fault,) = refused.value.faults
    assert fault.text == why
    assert fault.place is not None
    assert fault.place.line > len(HEAD.splitlines())
    assert day_book.last_entry(office.book) == before
    assert notes.numbers(office.book, office.order_id) == ["0", "1"]


def test_who_may_open_no_note_is_told_so_before_the_file_is_read(office: Office, tmp_path: Path) -> None:
    with pytest.raises(NotPermitted, match=r"this is for: chief, draughtsman\. Ask one of these to do it"):
        take_note(as_person(office, "MB"), tmp_path / "nowhere.toml")


def test_in_a_book_without_an_order_no_note_is_opened(tmp_path: Path) -> None:
    office = new_office(tmp_path)
    with pytest.raises(WrongUse, match="the book holds none yet"):
        open_note(office, Note("", words="too early", machines="all"))
    office.book.close()
