"""A shell for tests: command lines run in this process, each under the login of one of the office's persons."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from specreg.cli.main import run
from tests.services.office_for_tests import OTHERS


@dataclass(frozen=True, slots=True)
class Said:
    """What a command line did: exit code, data on standard output, words on standard error."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """Standard output as JSON."""
        return json.loads(self.out)


@dataclass(slots=True)
class Shell:
    """Runs command lines on one book, JD (the chief) being at the keyboard unless another login is given."""

    book: Path
    before: list[str] = field(default_factory=list)

    def run(self, *arguments: str, login: str = "jd", book: Path | None = None) -> Said:
        """Run one command line, whatever comes of it."""
        out, err = io.StringIO(), io.StringIO()
        with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(err):
            patch.setattr("specreg.bootstrap.login_name", lambda: login)
            patch.delenv("SPECREG_BOOK", raising=False)
            patch.delenv("SPECREG_ORDER", raising=False)
            code = run(["--book", str(book or self.book), *self.before, *arguments])
        return Said(code, out.getvalue(), err.getvalue())

    def ok(self, *arguments: str, login: str = "jd") -> Said:
        """Run one that must end with exit code 0."""
        said = self.run(*arguments, login=login)
        assert said.code == 0, f"{' '.join(arguments)}: {said.code}\n{said.out}\n{said.err}"
        return said

    def no(self, code: int, *arguments: str, login: str = "jd") -> str:
        """Run one that must end with that exit code and say why on standard error; returns its words."""
        said = self.run(*arguments, login=login)
        assert said.code == code, f"{' '.join(arguments)}: {said.code}\n{said.out}\n{said.err}"
        assert said.err.strip(), arguments
        assert "Traceback" not in said.err
        return said.err

    def sign(self, number: str) -> None:
        """Every signature a note wants: HP, WG, RC where a second check is wanted, and JD, each under his own login."""
        for login in ("hp", "wg"):
            self.ok("sign", number, login=login)
        wanting = self.ok("note", "list", "--json").json["notes"]
        shown = "0" if number == "A" else number
        if "second check" in next(one["wanting"] for one in wanting if one["number"] == shown):
            self.ok("sign", number, login="rc")
        self.ok("sign", number)

    def entries(self) -> list[dict[str, Any]]:
        """The day-book, newest first."""
        found: list[dict[str, Any]] = self.ok("day-book", "--last", "10000", "--json").json["entries"]
        return found


def new_book(path: Path) -> Shell:
    """A new book made by commands: JD its chief, the office's other persons entered."""
    shell = Shell(path)
    shell.ok("new", str(path), "--name", "J. Dunmore")
    for person in OTHERS:
        roles = [word for role in person.roles for word in ("--role", role)]
        department = ["--department", person.department] if person.department else []
        shell.ok("person", person.code, person.name, "--login", person.login, *roles, *department)
    return shell


def files_of(folder: Path) -> dict[str, bytes]:
    """Every file under a folder with its bytes."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in _files(folder)}


def _files(folder: Path) -> Iterator[Path]:
    return (path for path in sorted(folder.rglob("*")) if path.is_file())
