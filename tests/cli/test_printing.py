"""The whole specification by command, read back from the file."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.shell import Shell

WRONG_USE = 2
REFUSED = 3


def text_of(path: Path) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(path).pages)


def test_the_last_revision_or_another_or_what_is_not_issued(issued: Shell, tmp_path: Path) -> None:
    out = tmp_path / "paper"
    said = issued.ok("print", "--out", str(out))
    assert said.out == ""
    assert "Specification, revision A: 12 items; compared with nothing" in said.err
    read = text_of(out / "W611-A-specification.pdf")
    for number in ("4.1", "4.1.1", "4.1.2", "4.2", "4.2.1", "4.3", "5.1", "5.1.1", "5.2", "5.3", "5.4", "5.5"):
        assert number in read.split(), number
    assert "28 steps = 28 in shares" in read
    issued.ok(
        "note", "open", "bolts longer", "--reason", "shop request", "--authority", "works manager", "--machines", "all"
    )
    issued.ok("alter", "4.1.2", "Remarks=bright")
    issued.ok("print", "--at", "open", "--out", str(out))
    read = text_of(out / "W611-open-specification.pdf")
    assert "Remarks were black" in " ".join(read.split())
    assert "NOT ISSUED: for checking only" in read
    assert "1 bolts longer" in read, "the note whose edits are in it"


def test_one_section_for_a_program(issued: Shell, tmp_path: Path) -> None:
    said = issued.ok("print", "--section", "5", "--out", str(tmp_path), "--json")
    file = tmp_path / "W611-A-specification-section-5.pdf"
    assert said.json == {"order": "W 611", "revision": "A", "sections": ["5"], "items": 6, "file": str(file)}
    assert "Rack bolt" not in text_of(file)


def test_what_is_not_there_is_refused_and_nothing_is_written(issued: Shell, tmp_path: Path) -> None:
    for words in (("--at", "K"), ("--section", "9")):
        said = issued.run("print", *words, "--out", str(tmp_path / "none"))
        assert said.code == WRONG_USE
        assert "Give one of these" in said.err
    assert not (tmp_path / "none").exists()


def test_a_blank_option_is_refused_and_a_folder_one_may_not_write_in_numbers_nothing(
    issued: Shell, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "--section ''" in issued.no(WRONG_USE, "print", "--section", "", "--out", str(tmp_path))
    assert "--section ''" in issued.no(WRONG_USE, "extract", "FDY", "--section", " ")

    def refused(*words: object, **named: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("specreg.services.extracting.TemporaryFile", refused)
    assert "Permission denied" in issued.no(REFUSED, "extract", "--all", "--out", str(tmp_path))
    assert "extract" not in {one["act"] for one in issued.entries()}


def test_before_the_first_issue_one_is_told_how_to_print_what_stands(tiny: Shell, tmp_path: Path) -> None:
    said = tiny.run("print", "--out", str(tmp_path))
    assert said.code == WRONG_USE
    assert "--at open" in said.err
