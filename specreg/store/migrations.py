"""The schema by numbered migrations, each in a transaction of its own.

Only imported when a migration is due: sqlite-utils costs about 0.2 s to load. A migration drops the guarding
triggers, changes the schema, and the triggers are generated anew from what then stands.
"""

from __future__ import annotations

import sqlite3
from importlib import resources
from typing import TYPE_CHECKING

from sqlite_utils import Database, Migrations

from specreg.store.triggers import trigger_statements

if TYPE_CHECKING:
    from collections.abc import Iterable

schema = Migrations("specreg")


def migrate(db: sqlite3.Connection) -> None:
    """Apply what is due and generate the triggers. The connection is one the store made itself."""
    schema.apply(Database(db))


@schema(name="0001")
def first_form(database: Database) -> None:
    """The first schema."""
    _run(database, _statements("schema_0001.sql"))
    _finish(database, 1)


@schema(name="0002")
def purchases(database: Database) -> None:
    """What is placed with suppliers."""
    _run(database, _statements("schema_0002.sql"))
    _finish(database, 2)


def _finish(database: Database, version: int) -> None:
    """Last act of every migration: the triggers of the schema as it now stands, and the version."""
    db = database.conn
    for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        db.execute(f"DROP TRIGGER {name}")
    _run(database, trigger_statements(db))
    db.execute(f"PRAGMA user_version = {version}")


def _run(database: Database, statements: Iterable[str]) -> None:
    # Not executescript, which would commit the transaction that guards the migration.
    for statement in statements:
        database.conn.execute(statement)


def _statements(name: str) -> list[str]:
    text = resources.files("specreg.store").joinpath(name).read_text(encoding="utf-8")
    statements, pending = [], ""
    for line in text.splitlines(keepends=True):
        pending += line
        if sqlite3.complete_statement(pending):
            statements.append(pending)
            pending = ""
    return statements
