"""Books made by commands: the small practice order, and the sample order taken through the whole round once."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from specreg.settings import shipped_folder
from tests.cli.shell import Said, Shell, new_book
from tests.services.office_for_tests import tiny_order_folder


@pytest.fixture(scope="session")
def tiny_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The practice order W 611 taken in and allocated by commands, nothing issued."""
    folder = tmp_path_factory.mktemp("tiny")
    shell = new_book(folder / "works.specreg")
    shell.ok("import", str(tiny_order_folder(folder)))
    shell.ok("allocate")
    return shell.book


@pytest.fixture(scope="session")
def tiny_issued_book(tiny_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same at revision A."""
    shell = Shell(Path(shutil.copy(tiny_book, tmp_path_factory.mktemp("issued"))))
    shell.sign("A")
    shell.ok("issue")
    return shell.book


@pytest.fixture
def tiny(tiny_book: Path, tmp_path: Path) -> Shell:
    """A shell on a copy of the practice order before its first issue."""
    return Shell(Path(shutil.copy(tiny_book, tmp_path)))


@pytest.fixture
def issued(tiny_issued_book: Path, tmp_path: Path) -> Shell:
    """A shell on a copy of the practice order at revision A."""
    return Shell(Path(shutil.copy(tiny_issued_book, tmp_path)))


@dataclass(frozen=True, slots=True)
class Round:
    """The sample order after the whole round: the shell on its book, and what was said on the way, by name."""

    shell: Shell
    said: dict[str, Said]

    def json(self, name: str) -> Any:
        """What was said, as JSON."""
        return self.said[name].json


NOTES = ("B/1-slewing-gear-to-suit-shop.toml", "B/2-magnetic-brake-of-third-crane.toml")


@pytest.fixture(scope="session")
def round_trip(tmp_path_factory: pytest.TempPathFactory) -> Round:
    """The sample order taken through the whole round by commands, each person under his own login."""
    folder = tmp_path_factory.mktemp("round")
    shell = new_book(folder / "works.specreg")
    sample = shipped_folder("sample_spec")
    said = {
        "preview": shell.ok("import", str(sample), "--preview", "--json"),
        "import": shell.ok("import", str(sample), "--json", login="mb"),
        "gaps": shell.run("check", "--json"),
        "allocate": shell.ok("allocate", "--json", login="hp"),
        "allocate again": shell.ok("allocate", "--json", login="hp"),
        "check": shell.ok("check", "--json"),
    }
    shell.sign("A")
    said["issue A"] = shell.ok("issue", "--json")
    said["extract A"] = shell.ok("extract", "--all", "--out", str(folder / "A"), "--json")
    for file in NOTES:
        shell.ok("note", "open", "--file", str(sample / "notes" / file), login="hp")
    shell.ok("alter", "4.3.1", "Remarks=as agreed", "--note", "1", login="mb")
    said["undo"] = shell.ok("undo", login="mb")
    said["redo"] = shell.ok("redo", login="mb")
    shell.ok("undo", login="mb")
    shell.ok("insert", "--after", "4.1.3", "Description=Spring washer", "Off=4", "Per=4.1", "Supply=stock",
             "--note", "1", login="hp")  # fmt: skip
    shell.ok("delete", "4.1.3A", "--reason", "entered by mistake", "--note", "1", login="hp")
    shell.ok("undo", login="hp")
    shell.ok("undo", login="hp")
    shell.ok("allocate", login="hp")
    for number in ("1", "2"):
        shell.sign(number)
    said["issue B"] = shell.ok("issue", "--notes", "1,2", "--json")
    said["extract B"] = shell.ok(
        "extract", "--all", "--out", str(folder / "B"), "--format", "txt", "--format", "csv", "--format", "md", "--json"
    )
    said["compare"] = shell.ok("compare", "A", "B", "--json")
    return Round(shell, said)
