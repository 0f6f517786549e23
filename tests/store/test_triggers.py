"""The rules in the file itself: whoever writes to a book with any other program cannot alter what is recorded."""

from __future__ import annotations

import sqlite3
from contextlib import contextmanager

import pytest

from specreg.core.errors import BookUnusable
from specreg.store import proof
from specreg.store.database import open_book
from specreg.store.triggers import IDENTITIES, RECORDED, RECORDED_WITH_DIGEST, altered_triggers, trigger_statements
from tests.store.book_contents import contents

GUARDED = (*RECORDED, *IDENTITIES, "day_book")
UNIQUE_KEYS = {
    "order_version": [("order_id", "entry")],
    "item_version": [("id",), ("item_id", "entry")],
    "item_drawing": [("item_id", "entry", "place")],
    "route": [("item_id", "entry")],
    "route_step": [("item_id", "entry", "step")],
    "item_total": [("item_id", "entry")],
    "sheet_version": [("drawing_id", "sheet", "mark", "entry")],
    "order_drawing": [("order_id", "drawing_id", "entry")],
    "note_version": [("note_id", "entry")],
    "signature": [("note_id", "entry")],
    "revision": [("order_id", "seq"), ("order_id", "letter"), ("entry",)],
    "extract": [("id",), ("order_id", "department", "number"), ("order_id", "department", "seq"), ("seal",)],
    "fault_passed": [("order_id", "fault", "subject", "entry")],
    "purchase": [("item_id", "entry")],
    "works_order": [("id",), ("number_key",)],
    "item": [("id",)],
    "note": [("id",), ("order_id", "number")],
    "drawing": [("id",), ("number",)],
    "standards": [("digest",)],
    "day_book": [("entry",)],
}
"""Every key of every guarded table, by hand, so that the generated rules are held against something else."""


@pytest.fixture
def db(file):
    """The good book as any SQLite program opens it; as careless as can be."""
    opened = sqlite3.connect(file, isolation_level=None)
    opened.row_factory = sqlite3.Row
    yield opened
    opened.close()


def columns(db, table) -> list[str]:
    return [row[1] for row in db.execute(f"PRAGMA table_info({table})")]


def rows(db, table) -> list[tuple[object, ...]]:
    return sorted(map(tuple, db.execute(f"SELECT * FROM {table}")), key=repr)


def refused(db, table, statement, values=(), because="") -> None:
    """The statement is refused by a rule of that table, and the table is as it was."""
    before = rows(db, table)
    with pytest.raises(sqlite3.IntegrityError, match=f"^{table}: .*{because}"):
        db.execute(statement, values)
    assert rows(db, table) == before


@contextmanager
def entry_open(db):
    """Inside an open day-book entry, as an act has it; everything is taken back."""
    db.execute("BEGIN IMMEDIATE")
    entry = db.execute("SELECT max(entry) + 1 FROM day_book").fetchone()[0]
    db.execute("INSERT INTO day_book (entry, at, person, host, act) VALUES (?, '', 'X', '', 'x')", (entry,))
    yield entry
    db.execute("ROLLBACK")


def insert_words(db, table, row, how="INSERT") -> tuple[str, tuple[object, ...]]:
    names = ", ".join(f'"{name}"' for name in row)
    return f"{how} INTO {table} ({names}) VALUES ({', '.join('?' * len(row))})", tuple(row.values())


def other_value(value):
    """Another value of the same type."""
    if isinstance(value, int):
        return value + 1000
    if isinstance(value, bytes):
        return bytes(32) if value != bytes(32) else b"\1" * 32
    return f"{value or ''}x"


def test_every_guarded_table_holds_rows_in_the_good_book(db):
    assert {table for table in GUARDED if not rows(db, table)} == set()
    assert set(UNIQUE_KEYS) == set(GUARDED)
    assert set(RECORDED_WITH_DIGEST) | {"route_step"} == set(RECORDED)


@pytest.mark.parametrize("recursive", [0, 1])
@pytest.mark.parametrize("table", GUARDED)
def test_no_column_of_a_row_is_altered(db, table, recursive):
    db.execute(f"PRAGMA recursive_triggers = {recursive}")
    for name in columns(db, table):
        refused(db, table, f'UPDATE {table} SET "{name}" = "{name}"')
        refused(db, table, f'UPDATE OR REPLACE {table} SET "{name}" = "{name}"')
        refused(db, table, f'UPDATE OR IGNORE {table} SET "{name}" = "{name}"')
    with entry_open(db) as entry:
        # Only the open entry itself may be altered, when it is closed.
        besides = f" WHERE entry <> {entry}" if table == "day_book" else ""
        for name in columns(db, table):
            refused(db, table, f'UPDATE {table} SET "{name}" = "{name}"{besides}')


@pytest.mark.parametrize("table", GUARDED)
def test_no_row_is_deleted(db, table):
    refused(db, table, f"DELETE FROM {table}")
    with entry_open(db):
        refused(db, table, f"DELETE FROM {table}")


def fresh(db, table, entry) -> dict[str, object]:
    """A row as nearly like one of the table as its keys allow, standing under an entry."""
    row = dict(db.execute(f"SELECT * FROM {table} LIMIT 1").fetchone())
    for key in UNIQUE_KEYS[table]:
        if "entry" not in key:
            row[key[-1]] = other_value(row[key[-1]])
    if table == "signature":
        row["person"] = "XY"
    if "entry" in row:
        row["entry"] = entry
    return row


ADDED = [table for table in GUARDED if table not in ("day_book", "revision")]


@pytest.mark.parametrize("how", ["INSERT", "INSERT OR REPLACE", "INSERT OR IGNORE"])
@pytest.mark.parametrize("table", ADDED)
def test_a_row_is_added_only_while_an_entry_is_open(db, table, how):
    db.execute("PRAGMA foreign_keys = OFF")
    last = db.execute("SELECT max(entry) FROM day_book").fetchone()[0]
    for entry in (last, last + 1, None) if table in RECORDED else (None,):
        # Under a closed entry, under one that is not there, under none.
        refused(db, table, *insert_words(db, table, fresh(db, table, entry), how), because="open")
    with entry_open(db) as entry:
        before = len(rows(db, table))
        db.execute(*insert_words(db, table, fresh(db, table, entry), how))
        assert len(rows(db, table)) == before + 1


def test_a_revision_is_added_only_while_an_entry_is_open_and_in_its_turn(db):
    last = db.execute("SELECT max(entry) FROM day_book").fetchone()[0]
    newest = dict(db.execute("SELECT * FROM revision ORDER BY seq DESC LIMIT 1").fetchone())
    next_one = {**newest, "seq": newest["seq"] + 1, "letter": "C", "previous": newest["seal"], "entry": last}
    refused(db, "revision", *insert_words(db, "revision", next_one), because="open")
    with entry_open(db) as entry:
        good = {**next_one, "entry": entry}
        for wrong in ({"seq": good["seq"] + 1}, {"previous": newest["previous"]}, {"previous": None}):
            refused(db, "revision", *insert_words(db, "revision", {**good, **wrong}), because="chain")
        db.execute(*insert_words(db, "revision", good))


@pytest.mark.parametrize("recursive", [0, 1])
@pytest.mark.parametrize(
    ("table", "place"), [(table, place) for table in GUARDED for place in range(len(UNIQUE_KEYS[table]))]
)
def test_a_row_is_not_replaced_by_any_of_its_keys(db, table, place, recursive):
    """Each key by itself: the row agrees with one that stands in this key alone, and all other rules are out."""
    db.execute(f"PRAGMA recursive_triggers = {recursive}")
    db.execute("PRAGMA foreign_keys = OFF")
    key = UNIQUE_KEYS[table][place]
    for name, statement in db.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall():
        if f"'{table}: {', '.join(key)} is taken'" not in statement:
            db.execute(f"DROP TRIGGER {name}")
    there = dict(db.execute(f"SELECT * FROM {table} LIMIT 1").fetchone())
    row = dict(there)
    for other in UNIQUE_KEYS[table]:
        if not set(other) <= set(key):
            free = next(name for name in reversed(other) if name not in key)
            row[free] = other_value(row[free])
    for how in ("INSERT OR REPLACE", "REPLACE", "INSERT OR IGNORE", "INSERT"):
        refused(db, table, *insert_words(db, table, row, how), because=f"{', '.join(key)} is taken")
    named = ", ".join(f'"{name}"' for name in key)
    statement, values = insert_words(db, table, row)
    refused(
        db, table, f'{statement} ON CONFLICT ({named}) DO UPDATE SET "{key[0]}" = excluded."{key[0]}"', values,
        because="is taken",
    )  # fmt: skip


@pytest.mark.parametrize("recursive", [0, 1])
@pytest.mark.parametrize("table", GUARDED)
def test_no_row_is_replaced_with_all_rules_in_force_and_an_entry_open(db, table, recursive):
    db.execute(f"PRAGMA recursive_triggers = {recursive}")
    db.execute("PRAGMA foreign_keys = OFF")
    for row in db.execute(f"SELECT * FROM {table} LIMIT 5").fetchall():
        with entry_open(db):
            refused(db, table, *insert_words(db, table, dict(row), "INSERT OR REPLACE"))


@pytest.mark.parametrize(
    "row",
    [
        {"entry": 10_000, "closed": 0},
        {"entry": 1, "closed": 0},
        {"entry": None, "closed": 1},
    ],
    ids=["leaves a gap", "taken", "closed already"],
)
def test_the_next_entry_follows_the_last_and_is_open(db, row):
    last = db.execute("SELECT max(entry) FROM day_book").fetchone()[0]
    full = {"at": "", "person": "", "host": "", "act": "", **row, "entry": row["entry"] or last + 1}
    refused(db, "day_book", *insert_words(db, "day_book", full))


def test_no_second_entry_while_one_is_open(db):
    with entry_open(db) as entry:
        full = {"entry": entry + 1, "at": "", "person": "", "host": "", "act": ""}
        refused(db, "day_book", *insert_words(db, "day_book", full), because="follows a closed one")


@pytest.mark.parametrize("name", ["entry", "at", "person", "act", "digest", "closed"])
def test_closing_an_entry_alters_nothing_of_its_head(db, name):
    with entry_open(db) as entry:
        digest, closed = bytes(32), 1
        if name in ("digest", "closed"):
            digest, closed = (None, 1) if name == "digest" else (bytes(32), 0)
            said = f"digest = ?, closed = {closed}"
        else:
            said = f"digest = ?, closed = 1, {name} = {entry + 5 if name == 'entry' else repr('other')}"
        refused(db, "day_book", f"UPDATE day_book SET {said} WHERE entry = {entry}", (digest,))
        db.execute(f"UPDATE day_book SET digest = ?, closed = 1 WHERE entry = {entry}", (bytes(32),))
        refused(db, "day_book", f"UPDATE day_book SET words = 'more' WHERE entry = {entry}")


def test_a_number_of_our_own_order_never_stands_for_a_second_item(db):
    with entry_open(db) as entry:
        row = dict(db.execute("SELECT * FROM item_version WHERE number = '4.1.1' LIMIT 1").fetchone())
        db.execute("INSERT INTO item (id, order_id) VALUES (900, 1)")
        row.update(id=900, item_id=900, entry=entry)
        refused(db, "item_version", *insert_words(db, "item_version", row), because="second item")
        row.update(number="4.1.9", number_key="free")
        db.execute(*insert_words(db, "item_version", row))


def test_one_person_signs_the_same_thing_once(db):
    with entry_open(db) as entry:
        row = dict(db.execute("SELECT * FROM signature LIMIT 1").fetchone())
        row["entry"] = entry
        refused(db, "signature", *insert_words(db, "signature", row), because="once")
        db.execute(*insert_words(db, "signature", {**row, "person": "XY"}))


# The rules in the file and the rules wanted ---------------------------------------------------------------------------


def test_the_rules_in_the_file_are_the_generated_ones(db):
    there = dict(map(tuple, db.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")))
    wanted = trigger_statements(db)
    assert sorted(there.values()) == sorted(wanted)
    assert len(there) == len(wanted) == len(set(wanted))
    assert altered_triggers(db) == []


REFUSAL = (
    "some of the rules that guard the record have been taken out of the file, or altered. "
    "Run `specreg verify` on it, and go back to the last good copy."
)


def refused_for_writing(file) -> None:
    before = file.read_bytes()
    with pytest.raises(BookUnusable) as refusal:
        open_book(file, "bench")
    assert str(refusal.value) == f"Write to {file}: {REFUSAL}"
    assert file.read_bytes() == before


def test_a_book_is_not_written_to_with_any_one_rule_taken_out(file, db):
    rules = db.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
    assert len(rules) > 80
    for name, statement in rules:
        db.execute(f"DROP TRIGGER {name}")
        assert altered_triggers(db) == [name]
        db.execute(statement)
    assert altered_triggers(db) == []
    db.execute("DROP TRIGGER item_version_kept")
    db.close()
    refused_for_writing(file)
    book = open_book(file, "bench", read_only=True)
    assert list(proof.differences(book)) == [
        "The rule item_version_kept that guards the record has been taken out, altered or put in."
    ]
    assert contents(book)["revision"]
    book.close()


def test_a_book_is_not_written_to_with_a_rule_in_other_words(file, db):
    db.execute("DROP TRIGGER revision_stays")
    db.execute("CREATE TRIGGER revision_stays BEFORE DELETE ON revision WHEN 0 BEGIN SELECT 1; END")
    db.close()
    refused_for_writing(file)


def test_a_book_is_not_written_to_with_a_rule_put_in(file, db):
    db.execute("CREATE TRIGGER quiet BEFORE INSERT ON item_version BEGIN SELECT RAISE(IGNORE); END")
    assert altered_triggers(db) == ["quiet"]
    db.close()
    refused_for_writing(file)


def test_a_book_is_not_written_to_with_a_recorded_table_taken_out(file, db):
    db.execute("DROP VIEW purchases")
    db.execute("DROP TABLE purchase")
    assert altered_triggers(db) == ["purchase_added"]
    db.close()
    refused_for_writing(file)
