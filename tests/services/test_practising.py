"""The practice book: the sample through all its revisions, PRACTICE on everything, mistakes that the checker finds."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from specreg.core.checks.numbers import words_of_another_order
from specreg.core.faults import Severity
from specreg.output.files import FORMATS, file_name, written
from specreg.services.checking import check
from specreg.services.extracting import make_extracts
from specreg.services.office import Office
from specreg.services.ordering import order_list_at
from specreg.services.practising import LESSONS, MARK, Practice, practise
from specreg.services.printing import specification
from specreg.services.reading import OfficeReader
from specreg.services.standing import as_issued
from specreg.settings import shipped_folder
from tests.cli.shell import Shell
from tests.services.office_for_tests import new_office


@dataclass(frozen=True)
class Practising:
    """A practice book, and what was said of its making."""

    office: Office
    made: Practice
    said: list[str]


@pytest.fixture(scope="module")
def practice(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Practising]:
    office = new_office(tmp_path_factory.mktemp("practice"))
    said: list[str] = []
    made = practise(office, shipped_folder("sample_spec"), said.append)
    yield Practising(office, made, said)
    office.book.close()


def test_it_stands_at_the_third_revision_with_a_note_of_mistakes(practice: Practising) -> None:
    assert practice.made.order == "PRACTICE C 1187"
    assert practice.made.revisions == ("A", "B", "C")
    assert practice.said[0] == "taking in the order"
    open_notes = [one.note.number for one in practice.office.open_notes()]
    assert open_notes == ["9", practice.made.note]


def test_the_checker_tells_every_mistake_and_nothing_else_is_wrong(practice: Practising) -> None:
    told = {(one.name, one.subject) for one in practice.made.mistakes}
    assert {subject for _, subject in told} == {"4.1.2", "4.1.5A", "4.2.3", "4.3.4", "4.3.5", "4.4.9B"}
    others = [one for one in check(practice.office).faults if (one.name, one.subject) not in told]
    assert not [one for one in others if one.severity is not Severity.NOTE]


@pytest.mark.parametrize("form", sorted(FORMATS))
def test_practice_stands_on_every_form_of_an_extract_and_in_its_name(practice: Practising, form: str) -> None:
    ((extract, _),) = make_extracts(practice.office, ("FDY",))
    assert MARK in file_name(extract, form)
    data = written(extract, form)
    if form in ("txt", "md", "csv"):
        text = data.decode("utf-8-sig")
        sheets = text.split("\f") if form == "txt" else [text]
    elif form == "pdf":
        sheets = [page.extract_text() for page in PdfReader(BytesIO(data)).pages]
    else:
        cells = load_workbook(BytesIO(data)).active.iter_rows(values_only=True)
        sheets = ["\n".join(str(cell) for row in cells for cell in row)]
    assert sheets
    assert all(MARK in sheet for sheet in sheets)


def test_practice_stands_in_the_title_block_of_every_screen_and_of_the_whole_specification(
    practice: Practising,
) -> None:
    assert OfficeReader(practice.office).title_line().order.startswith(MARK)
    assert specification(practice.office).title_block.identification_number.startswith(MARK)


def test_revision_c_takes_the_words_of_another_order_out(practice: Practising) -> None:
    told = {
        letter: [
            one.subject for one in words_of_another_order(as_issued(practice.office, practice.office.revision(letter)))
        ]
        for letter in practice.made.revisions
    }
    assert told == {"A": ["17"], "B": ["17"], "C": []}


def test_what_was_placed_at_a_and_altered_since_is_told(practice: Practising) -> None:
    lines = order_list_at(practice.office).found.lines
    outdated = {piece.item.number for line in lines for piece in line.pieces if piece.outdated}
    assert {"2.2.3", "11.3.4", "13.2.1"} <= outdated


def test_every_lesson_runs_as_it_is_written(practice: Practising, tmp_path: Path) -> None:
    shell = Shell(practice.office.book.path)
    for _, commands in LESSONS:
        for command in commands:
            said = shell.run(*shlex.split(command.format(note=practice.made.note)))
            assert said.code == (1 if command == "check" else 0), (command, said.err)
