"""The rule of the recorded tables in one place: a row is added only by an open day-book entry, and never changed.

The triggers are generated from the schema after every migration, and compared with the file at every opening.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator

RECORDED_WITH_DIGEST = (
    "order_version", "item_version", "item_drawing", "route", "item_total", "sheet_version", "order_drawing",
    "note_version", "signature", "revision", "extract", "fault_passed", "purchase",
)  # fmt: skip
"""Recorded tables whose rows carry a digest of their own."""

RECORDED = (*RECORDED_WITH_DIGEST, "route_step")
"""All recorded tables; a route's steps are covered by the digest of the route."""

IDENTITIES = ("works_order", "item", "note", "drawing", "standards")
"""Tables that only say that a thing exists: never altered, never deleted."""


def trigger_statements(db: sqlite3.Connection) -> list[str]:
    """Every CREATE TRIGGER statement that a book of this schema must hold; an older one lacks some tables yet."""
    missing = _missing(db)
    recorded = [table for table in RECORDED if table not in missing]
    return [*_recorded(recorded), *_identities(), *_day_book(), *_across_rows(), *_taken(db, recorded)]


def _missing(db: sqlite3.Connection) -> list[str]:
    """Recorded tables that the file does not have."""
    there = {name for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    return [table for table in RECORDED if table not in there]


def altered_triggers(db: sqlite3.Connection) -> list[str]:
    """Names of triggers that are missing from a book, stand in it in other words, or do not belong there; of a recorded
    table that is missing, its first."""
    return sorted({*altered_rules(db), *(f"{table}_added" for table in _missing(db))})


def altered_rules(db: sqlite3.Connection) -> list[str]:
    """The same for the tables that the file has: an older form lacks some."""
    standing = dict(db.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall())
    wanted = {statement.split()[2]: statement for statement in trigger_statements(db)}
    return sorted(name for name in standing.keys() | wanted.keys() if standing.get(name) != wanted.get(name))


def _recorded(tables: Iterable[str]) -> Iterator[str]:
    for table in tables:
        yield (
            f"CREATE TRIGGER {table}_added BEFORE INSERT ON {table} WHEN NOT EXISTS "
            f"(SELECT 1 FROM day_book WHERE entry = NEW.entry AND closed = 0) "
            f"BEGIN SELECT RAISE(ABORT, '{table}: a row can only be added by an open day-book entry'); END"
        )
        yield (
            f"CREATE TRIGGER {table}_kept BEFORE UPDATE ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{table}: what is recorded is never altered'); END"
        )
        yield (
            f"CREATE TRIGGER {table}_stays BEFORE DELETE ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{table}: what is recorded is never deleted'); END"
        )


def _identities() -> Iterator[str]:
    for table in IDENTITIES:
        yield (
            f"CREATE TRIGGER {table}_added BEFORE INSERT ON {table} WHEN NOT EXISTS "
            f"(SELECT 1 FROM day_book WHERE entry = (SELECT max(entry) FROM day_book) AND closed = 0) "
            f"BEGIN SELECT RAISE(ABORT, '{table}: an identity can only be added while a day-book entry is open'); END"
        )
        yield (
            f"CREATE TRIGGER {table}_kept BEFORE UPDATE ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{table}: an identity is never altered'); END"
        )
        yield (
            f"CREATE TRIGGER {table}_stays BEFORE DELETE ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{table}: an identity is never deleted'); END"
        )


def _day_book() -> Iterator[str]:
    yield (
        "CREATE TRIGGER day_book_added BEFORE INSERT ON day_book WHEN NEW.closed <> 0 "
        "OR NEW.entry <> (SELECT coalesce(max(entry), 0) + 1 FROM day_book) "
        "OR EXISTS (SELECT 1 FROM day_book WHERE entry = (SELECT max(entry) FROM day_book) AND closed = 0) "
        "BEGIN SELECT RAISE(ABORT, 'day_book: the next entry follows a closed one'); END"
    )
    yield (
        "CREATE TRIGGER day_book_closed BEFORE UPDATE ON day_book WHEN OLD.closed = 1 OR NEW.closed <> 1 "
        "OR NEW.entry <> OLD.entry OR NEW.at <> OLD.at OR NEW.person <> OLD.person OR NEW.act <> OLD.act "
        "OR NEW.digest IS NULL "
        "BEGIN SELECT RAISE(ABORT, 'day_book: an entry is closed once and never altered'); END"
    )
    yield (
        "CREATE TRIGGER day_book_stays BEFORE DELETE ON day_book BEGIN SELECT RAISE(ABORT, 'day_book: only grows'); END"
    )


def _across_rows() -> Iterator[str]:
    yield (
        "CREATE TRIGGER item_version_number_kept BEFORE INSERT ON item_version WHEN EXISTS "
        "(SELECT 1 FROM item_version v JOIN works_order o ON o.id = v.order_id AND o.numbering = 'ours' "
        "WHERE v.order_id = NEW.order_id AND v.number_key = NEW.number_key AND v.item_id <> NEW.item_id) "
        "BEGIN SELECT RAISE(ABORT, 'item_version: a number of our own order is never used for a second item'); END"
    )
    yield (
        "CREATE TRIGGER revision_chained BEFORE INSERT ON revision WHEN NEW.seq <> "
        "(SELECT coalesce(max(seq), 0) + 1 FROM revision WHERE order_id = NEW.order_id) "
        "OR NEW.previous IS NOT (SELECT seal FROM revision WHERE order_id = NEW.order_id AND seq = NEW.seq - 1) "
        "BEGIN SELECT RAISE(ABORT, 'revision: out of turn, or the chain of seals is broken'); END"
    )
    yield (
        "CREATE TRIGGER signature_once BEFORE INSERT ON signature WHEN EXISTS "
        "(SELECT 1 FROM signature s WHERE s.note_id = NEW.note_id AND s.signed = NEW.signed "
        "AND s.person = NEW.person) "
        "BEGIN SELECT RAISE(ABORT, 'signature: one person signs a note once'); END"
    )


def _taken(db: sqlite3.Connection, recorded: Iterable[str]) -> Iterator[str]:
    """INSERT OR REPLACE deletes the row in its way without firing delete triggers, unless the connection asks for it.

    So each of these tables refuses a row whose key is taken, by its row number or by any of its unique indexes.
    """
    for table in (*recorded, *IDENTITIES, "day_book"):
        keys: list[list[str]] = []
        primary = [row[1] for row in db.execute(f"PRAGMA table_info({table})") if row[5]]
        (statement,) = db.execute("SELECT sql FROM sqlite_master WHERE name = ?", (table,)).fetchone()
        if "WITHOUT ROWID" not in statement:
            keys.append(primary or ["rowid"])
        for _, index, unique, _, partial in db.execute(f"PRAGMA index_list({table})").fetchall():
            if unique and not partial:
                keys.append([row[2] for row in db.execute(f"PRAGMA index_info({index})")])
        for place, key in enumerate(keys):
            same = " AND ".join(f"{column} = NEW.{column}" for column in key)
            yield (
                f"CREATE TRIGGER {table}_taken_{place} BEFORE INSERT ON {table} "
                f"WHEN EXISTS (SELECT 1 FROM {table} WHERE {same}) "
                f"BEGIN SELECT RAISE(ABORT, '{table}: {', '.join(key)} is taken'); END"
            )
