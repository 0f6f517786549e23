"""Persons of the works: who may do what is read from here, and nowhere else."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from specreg.store.database import WorksBook, put


@dataclass(frozen=True, slots=True)
class Person:
    """A person: `code` his initials, `login` under which he works (empty when he never does), his `roles`
    (chief, draughtsman, checker, head, clerk), the code of the department he heads or belongs to."""

    code: str
    name: str
    login: str = ""
    roles: tuple[str, ...] = ()
    department: str = ""


_PERSON = "SELECT code, name, login, roles, department FROM person"


def _person(row: tuple[Any, ...]) -> Person:
    return Person(row[0], row[1], row[2] or "", tuple(json.loads(row[3])), row[4] or "")


def everybody(book: WorksBook) -> list[Person]:
    """All persons, by initials."""
    return [_person(row) for row in book.db.execute(f"{_PERSON} ORDER BY code").fetchall()]


def by_login(book: WorksBook, login: str) -> Person | None:
    """Who works under a login."""
    row = book.db.execute(f"{_PERSON} WHERE login = ?", (login,)).fetchone()
    return _person(row) if row else None


def by_code(book: WorksBook, code: str) -> Person | None:
    """Who has these initials, any case."""
    row = book.db.execute(f"{_PERSON} WHERE code = ?", (code.strip().upper(),)).fetchone()
    return _person(row) if row else None


def say(book: WorksBook, person: Person) -> None:
    """Enter a person, or alter what is said of him."""
    put(
        book.db,
        "person",
        ["code"],
        {
            "code": person.code.upper(), "name": person.name, "login": person.login or None,
            "roles": json.dumps(list(person.roles)), "department": person.department or None,
        },
    )  # fmt: skip
