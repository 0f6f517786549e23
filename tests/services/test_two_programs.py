"""Two programs at one book: what a task goes by is read in the act that writes, so that nothing slips in between."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from specreg.core.errors import AlteredMeanwhile, BookUnusable
from specreg.core.model import Sheet
from specreg.services import entering, extracting, noting, people
from specreg.services.allocating import allocate
from specreg.services.altering import alter
from specreg.services.issuing import issue
from specreg.services.office import Office
from specreg.services.people import say_person
from specreg.services.reading import OfficeReader
from specreg.services.taking_in import take_in
from specreg.store.people import Person
from tests.services.office_for_tests import (
    as_person,
    issue_all,
    note_opened,
    second_program,
    sign_all,
    tiny_order_folder,
    with_revision_a,
)


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order at revision A."""
    made = with_revision_a(tmp_path)
    yield made
    made.book.close()


@pytest.fixture
def other(office: Office) -> Iterator[Office]:
    """The chief at another program, who does not wait for a book that is held."""
    second = second_program(office)
    second.book.db.execute("PRAGMA busy_timeout = 1")
    yield second
    second.book.close()


def meanwhile(monkeypatch: pytest.MonkeyPatch, module: object, name: str, act: Callable[[], object]) -> list[bool]:
    """Have the other program act in the middle of a task, just before `module.name`; whether it was kept out."""
    real = getattr(module, name)
    kept_out: list[bool] = []

    def interrupted(*told: object) -> object:
        try:
            act()
            kept_out.append(False)
        except BookUnusable:
            kept_out.append(True)
        return real(*told)

    monkeypatch.setattr(module, name, interrupted)
    return kept_out


def test_a_note_is_not_issued_while_its_words_are_altered(
    office: Office, other: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    number = note_opened(office)
    alter(office, "4.1.1", {"Off": "13"})
    issue_ready(office, number)
    kept_out = meanwhile(monkeypatch, noting, "_check_note", lambda: issue(other, [number]))
    noting.say_note(office, number, words="said late")
    assert kept_out == [True]
    assert (office.note(number).note.state, office.note(number).note.words) == ("open", "said late")


def issue_ready(office: Office, number: str) -> None:
    """Have a note signed by everybody."""
    allocate(office)
    sign_all(office, number)


def test_two_chiefs_cannot_unmake_each_other(office: Office, other: Office, monkeypatch: pytest.MonkeyPatch) -> None:
    say_person(office, Person("HP", "", "", ("chief",)))
    unmade = Person("JD", "", "", ("clerk",))
    kept_out = meanwhile(monkeypatch, people, "_check_department", lambda: say_person(other, unmade))
    say_person(office, Person("HP", "", "", ("draughtsman",)))
    monkeypatch.undo()
    assert kept_out == [True]
    assert [one.code for one in people.everybody(office) if "chief" in one.roles] == ["JD"]


def test_what_another_says_of_a_sheet_is_not_put_back(
    office: Office, other: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    entering.enter_by_hand(office, "HG-2009", {"title": "Outline", "stage": "drawn"})
    kept_out = meanwhile(
        monkeypatch, entering, "_check_sheet",
        lambda: entering.enter_sheets(other, [Sheet("HG-2009", title="Outline", stage="checked")]),
    )  # fmt: skip
    entering.enter_by_hand(office, "HG-2009", {"scale": "1:10"})
    assert kept_out == [True]


def test_an_extract_made_by_another_in_the_same_moment_is_not_numbered_twice(
    office: Office, other: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = extracting.content_of

    def late(extract: extracting.Extract) -> bytes:
        monkeypatch.setattr(extracting, "content_of", real)
        extracting.make_extracts(other, ["FDY"])
        return real(extract)

    monkeypatch.setattr(extracting, "content_of", late)
    with pytest.raises(AlteredMeanwhile, match="Ask for it again"):
        extracting.make_extracts(as_person(office, "HP"), ["FDY"])
    ((extract, new),) = extracting.make_extracts(office, ["FDY"])
    assert (extract.number, new) == (1, False)


def test_an_issue_goes_by_the_head_as_another_has_altered_it(office: Office, other: Office, tmp_path: Path) -> None:
    number = note_opened(office, machines="all")
    take_in(other, tiny_order_folder(tmp_path, into="more", machines="1471-1473"))
    alter(office, "4.1.1", {"Remarks": "painted"})
    done = issue_all(office, number)
    assert OfficeReader(office).item_at("4.1.1", done.revision).off == "36"
