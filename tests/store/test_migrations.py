"""Forms of the book: a new one is made by migrations, an old one brought up to date, each migration whole or none."""

from __future__ import annotations

import sqlite3
from dataclasses import replace

import pytest

from specreg.bootstrap import open_office
from specreg.core.errors import BookUnusable
from specreg.services import altering, finding, upkeep
from specreg.services.comparing import compare
from specreg.settings import Settings
from specreg.store import database, items, migrations, orders, proof, revisions
from specreg.store.database import create_book, open_book
from specreg.store.triggers import altered_triggers
from tests.services.office_for_tests import OTHERS, Clock, issue_all, note_opened, say_person
from tests.store.book_contents import contents
from tests.store.book_of_form_1 import make_book_of_form_1
from tests.store.other_process import started


@pytest.fixture
def old(tmp_path):
    """A tiny book as the first form of the program left it, and its seals."""
    path = tmp_path / "old.specreg"
    return path, make_book_of_form_1(path)


def schema_of(db) -> list[tuple[str, str]]:
    return db.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL ORDER BY name").fetchall()


def test_a_book_of_the_first_form_is_read_with_all_it_says(old):
    path, seals = old
    book = open_book(path, "bench")
    assert book.db.execute("PRAGMA user_version").fetchone() == (database.SCHEMA_VERSION,)
    standing = orders.by_number(book, "W 1")
    assert (standing.order.title, standing.order.machines) == ("A crane", "1")
    assert [one.seal.hex() for one in revisions.of_order(book, 1)] == seals
    entry = revisions.last(book, 1).entry
    assert [(item.number, item.title, item.other) for _, item in items.issued_at(book, 1, entry)] == [
        ("4", "Slewing gear", ()),
        ("4.1", "Rack", (("Finish", "black"),)),
    ]
    assert list(proof.differences(book)) == []
    assert altered_triggers(book.db) == []
    book.close()


def test_work_goes_on_in_a_book_of_the_first_form(old):
    path, seals = old
    office = open_office(Settings(str(path)), clock=Clock(), login="jd")
    for person in OTHERS:
        # The works of this book has no foundry yet.
        say_person(office, replace(person, department="ERE") if person.department else person)
    note_opened(office, "1", machines="1")
    altering.alter(office, "4.1", {"Size": "12 segments"}, "1")
    assert issue_all(office, "1").revision.letter == "B"
    assert [one.seal.hex() for one in revisions.of_order(office.book, 1)][:1] == seals
    assert compare(office, "A", "B").comparison.counts.changed == 1
    assert upkeep.verify(office).differences == ()
    assert [hit.number for hit in finding.Finder(office).find("segm", 10, lambda: False).hits] == ["4.1"]
    office.book.close()


def test_bringing_a_book_up_to_date_twice_does_nothing_more(old):
    path, _ = old
    book = open_book(path, "bench")
    before = schema_of(book.db), contents(book)
    for _ in range(2):
        migrations.migrate(book.db)
    assert (schema_of(book.db), contents(book)) == before
    applied = book.db.execute("SELECT migration_set, name FROM _sqlite_migrations").fetchall()
    assert applied == [("specreg", f"{number:04d}") for number in range(1, database.SCHEMA_VERSION + 1)]
    book.close()


def test_an_old_book_brought_up_to_date_has_the_schema_of_a_new_one(old, tmp_path):
    brought, made = open_book(old[0], "bench"), create_book(tmp_path / "new.specreg", "bench")
    ours = [row for row in schema_of(brought.db) if "_migrations" not in row[0]]
    assert ours == [row for row in schema_of(made.db) if "_migrations" not in row[0]]
    brought.close()
    made.close()


def test_an_old_book_with_a_rule_taken_out_is_not_brought_up_to_date(old):
    path, _ = old
    db = sqlite3.connect(path)
    db.execute("DROP TRIGGER item_version_kept")
    db.close()
    with pytest.raises(BookUnusable, match="some of the rules that guard the record have been taken out"):
        open_book(path, "bench")
    db = sqlite3.connect(path)
    assert db.execute("PRAGMA user_version").fetchone() == (1,)
    db.close()


def test_two_programs_that_bring_a_book_up_to_date_at_once_both_open_it(old, monkeypatch):
    path, _ = old
    real = database._migrate

    def late(db):
        # Another program has found it due and done it, after this one did.
        open_another = sqlite3.connect(path, isolation_level=None)
        real(open_another)
        open_another.close()
        raise sqlite3.OperationalError("table purchase already exists")

    monkeypatch.setattr(database, "_migrate", late)
    book = open_book(path, "bench")
    assert book.db.execute("PRAGMA user_version").fetchone() == (database.SCHEMA_VERSION,)
    assert altered_triggers(book.db) == [] and list(proof.differences(book)) == []
    book.close()


def test_a_migration_that_fails_leaves_nothing_behind(tmp_path, monkeypatch):
    path = tmp_path / "empty.specreg"
    db = sqlite3.connect(path)
    db.execute(f"PRAGMA application_id = {database.APPLICATION_ID}")
    db.close()
    real = migrations.trigger_statements

    def failing(db):
        yield from real(db)[:5]
        raise KeyboardInterrupt

    monkeypatch.setattr(migrations, "trigger_statements", failing)
    with pytest.raises(KeyboardInterrupt):
        open_book(path, "bench")
    db = sqlite3.connect(path)
    assert {name for name, _ in schema_of(db)} <= {"_sqlite_migrations", "idx__sqlite_migrations_migration_set_name"}
    assert db.execute("PRAGMA user_version").fetchone() == (0,)
    db.close()
    monkeypatch.undo()
    book = open_book(path, "bench")
    assert book.db.execute("PRAGMA user_version").fetchone() == (database.SCHEMA_VERSION,)
    assert altered_triggers(book.db) == []
    book.close()


def test_a_program_that_only_opens_a_book_does_not_load_what_migrates():
    code = (
        "import sys; import specreg.store.database, specreg.bootstrap; "
        "print('sqlite_utils' in sys.modules, 'specreg.store.migrations' in sys.modules)"
    )
    with started(code) as process:
        assert process.stdout.read() == "False False\n"
