"""A good book, built once: two revisions, extracts of both, a fault let pass, a purchase, an open and a lost note."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from specreg.services import altering, checking, extracting, noting, ordering
from specreg.services.office import Office
from specreg.store.database import WorksBook, open_book
from tests.services.office_for_tests import Clock, issue_all, note_opened, with_revision_a


def good_acts(office: Office) -> None:
    """What makes a good book of a book at revision A."""
    extracting.make_extracts(office, ())
    note_opened(office, "1")
    altering.alter(office, "5.1.1", {"Drawing": "", "Size": '4" dia x 3\'-2"'}, "1")
    altering.insert(office, "4.3A", {"Description": "Cover handle", "Material": "mild steel", "Off": "2 per 4.3"}, "1")
    altering.delete(office, "4.2.1", "keyed by a feather of the shaft", "1")
    altering.alter(office, "4.1.1", {"Material": "mild steel"}, "1")
    checking.let_pass(office, "no drawing", "5.1.1", "a plain bar, sketched on the note")
    issue_all(office, "1")
    extracting.make_extracts(office, ())
    ordering.place(office, ordering.Placing("P 17", "A rope works", due="2027-01-29"), {"5.2": None, "4.1.2": 30})
    ordering.take_back(office, "P 17", {"4.1.2": 5}, "five stand in the rack")
    note_opened(office, "2")
    altering.alter(office, "5.5", {"Remarks": "two halves"}, "2")
    note_opened(office, "3")
    noting.abandon_note(office, "3")


@pytest.fixture(scope="session")
def good_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The good book, closed; not to be written to."""
    folder = tmp_path_factory.mktemp("good")
    office = with_revision_a(folder, Clock())
    good_acts(office)
    office.book.close()
    return office.book.path


@pytest.fixture
def file(good_file: Path, tmp_path: Path) -> Path:
    """A copy of the good book for one test."""
    return Path(shutil.copy(good_file, tmp_path / "works.specreg"))


@pytest.fixture
def book(file: Path) -> Iterator[WorksBook]:
    """The copy, open for writing."""
    opened = open_book(file, "bench")
    yield opened
    opened.close()
