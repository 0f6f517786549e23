"""Extracts as files: their names, their bytes, and that nothing is ever half written."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import NoReturn

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.errors import Refused, WrongUse
from specreg.output.csv_table import csv_table
from specreg.output.files import FORMATS, Format, file_name, format_named, write_file, written
from specreg.output.markdown_sheet import markdown_sheet
from specreg.output.plain_text import plain_text
from tests.output.extracts_to_write import SMALL, TITLE_BLOCK


def test_every_form_is_written_as_utf_8_with_its_own_line_ends() -> None:
    assert written(SMALL, "txt") == plain_text(SMALL).encode("utf-8")
    assert written(SMALL, "csv") == csv_table(SMALL).encode("utf-8")
    assert written(SMALL, "MD") == markdown_sheet(SMALL).encode("utf-8")
    assert b"\r" not in written(SMALL, "txt") + written(SMALL, "md")
    assert written(SMALL, "csv").endswith(b"\r\n")


def test_every_form_can_be_loaded_and_ends_its_file_name() -> None:
    for name, form in FORMATS.items():
        assert callable(form.load())
        assert file_name(SMALL, name).endswith(form.suffix)


def test_a_form_that_is_not_text_is_written_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    both = {"raw": Format(".raw", f"{__name__}:raw_bytes", "\r\n"), "dos": Format(".dos", f"{__name__}:a_text", "\r\n")}
    monkeypatch.setattr("specreg.output.files.FORMATS", both)
    assert written(SMALL, "raw") == b"\x00\n"
    assert written(SMALL, "dos") == b"a\r\nb\r\n"


def raw_bytes(extract: object) -> bytes:
    return b"\x00\n"


def a_text(extract: object) -> str:
    return "a\nb\n"


def test_writers_are_imported_when_they_are_first_used() -> None:
    code = "import sys, specreg.output.files; print([n for n in sys.modules if n.startswith('specreg.output.')])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "['specreg.output.files']"


def test_an_unknown_form_is_refused_with_the_forms_there_are() -> None:
    for asked in (lambda: format_named("doc"), lambda: file_name(SMALL, "doc"), lambda: written(SMALL, "doc")):
        with pytest.raises(WrongUse, match="txt, csv, md"):
            asked()


@pytest.mark.parametrize(
    ("order", "revision", "department", "part", "name"),
    [
        ("W 611", "B", "FDY", "", "W611-B-FDY-2.txt"),
        ("E 4013/2A", "", "FDY", "", "E4013_2A-FDY-2.txt"),
        ("../../etc", "B", "F:D*Y", "", "_.._etc-B-F_D_Y-2.txt"),
        ("W 611", "B", "FDY", "4", "W611-B-FDY-2-section-4.txt"),
        ("Ø 7", "B", "FDY", "", "Ø7-B-FDY-2.txt"),
    ],
)
def test_names_of_files(order: str, revision: str, department: str, part: str, name: str) -> None:
    block = replace(TITLE_BLOCK, revision=revision)
    extract = replace(SMALL, order=order, department=department, part=part, title_block=block)
    assert file_name(extract, "txt") == name


@given(st.text(), st.text(), st.text())
def test_a_name_is_always_one_file_in_the_folder(order: str, department: str, part: str) -> None:
    name = file_name(replace(SMALL, order=order, department=department, part=part), "txt")
    assert not set(name) & set('/\\:*?"<>|\0\n\r\t ')
    assert not name.startswith(".")
    assert name.endswith(".txt")


def test_a_file_is_written_whole_and_replaces_the_old_one(tmp_path: Path) -> None:
    path = tmp_path / "W611-B-FDY-2.txt"
    write_file(path, b"old")
    write_file(path, b"new \x00\r\n")
    assert path.read_bytes() == b"new \x00\r\n"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(os.name != "posix", reason="permission bits of POSIX")
def test_a_file_may_be_read_by_whom_the_mask_allows(tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        write_file(tmp_path / "x.txt", b"")
    finally:
        os.umask(before)
    assert (tmp_path / "x.txt").stat().st_mode & 0o777 == 0o644


def test_a_full_disk_leaves_the_old_file_and_nothing_beside_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "x.txt"
    path.write_bytes(b"old")

    def full(handle: int) -> NoReturn:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refused, match=r"No space left on device\. Make room on the disk"):
        write_file(path, b"new")
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_an_interruption_leaves_nothing_beside_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(handle: int) -> NoReturn:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_file(tmp_path / "x.txt", b"new")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_written_is_refused_with_the_reason(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="Make the folder first"):
        write_file(tmp_path / "none" / "x.txt", b"")
    (tmp_path / "file").write_bytes(b"kept")
    with pytest.raises(Refused, match="part of this path is a file"):
        write_file(tmp_path / "file" / "x.txt", b"")
    (tmp_path / "folder").mkdir()
    with pytest.raises(Refused, match="this one is a folder"):
        write_file(tmp_path / "folder", b"")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["file", "folder"]


def test_a_folder_without_leave_is_refused_with_what_to_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def barred(self: Path, *mode: str) -> NoReturn:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", barred)
    with pytest.raises(Refused, match=r"x\.txt: Permission denied\. Choose a folder you may write in"):
        write_file(tmp_path / "x.txt", b"")
