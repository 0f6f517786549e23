"""Proving a book: whatever is altered with the guarding rules taken out is found, and named."""

from __future__ import annotations

import sqlite3
from importlib import resources

import pytest

from specreg.core.model import FIELDS
from specreg.core.seals import short_code
from specreg.services import altering
from specreg.services.allocating import allocate
from specreg.store import proof, revisions
from specreg.store.database import WorksBook, open_book
from specreg.store.entry_digests import BESIDE
from specreg.store.items import CONTENT
from specreg.store.triggers import IDENTITIES, RECORDED, RECORDED_WITH_DIGEST
from tests.services.office_for_tests import Clock, issue_all, new_office, note_opened, take_in_tiny, with_revision_a
from tests.store.conftest import good_acts
from tests.store.independent_seals import seals_of

LOCAL = {
    "id", "entry", "order_id", "item_id", "note_id", "drawing_id", "standards", "digest", "number_key",
}  # fmt: skip
"""Columns that tie rows together; a change of one is found, though not always by the name of the thing."""

NOT_PROVED = {
    ("item_version", "id"),  # which row of the file it is, and
    ("extract", "id"),  # in what order they were made: days and numbers say that too
    ("standards", "read_at"),
    ("standards", "source"),  # where a set of standards was first read from; the content is proved
}
"""All that may be altered in guarded tables without being found."""


@pytest.fixture(scope="module")
def unguarded(good_file):
    """The good book as bytes, every guarding rule taken out."""
    db = sqlite3.connect(":memory:", isolation_level=None)
    db.deserialize(as_one_file(good_file))
    for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        db.execute(f"DROP TRIGGER {name}")
    return db.serialize()


def as_one_file(path) -> bytes:
    """The bytes of a closed book, marked as not in WAL mode, which a book in memory cannot be in."""
    content = bytearray(path.read_bytes())
    content[18:20] = b"\1\1"
    return bytes(content)


@pytest.fixture
def db(unguarded):
    """The good book without its rules, and all other care dropped."""
    opened = sqlite3.connect(":memory:", isolation_level=None)
    opened.deserialize(unguarded)
    opened.execute("PRAGMA foreign_keys = OFF")
    opened.execute("PRAGMA ignore_check_constraints = ON")
    yield opened
    opened.close()


def found(db) -> list[str]:
    """What the proof says beside that the rules are gone, and beside SQLite's own check of the file."""
    said = list(proof.differences(WorksBook(None, db, True)))
    return [one for one in said if not one.startswith(("The rule ", "The file is damaged"))]


def columns(table) -> list[str]:
    fresh = sqlite3.connect(":memory:")
    for form in ("schema_0001.sql", "schema_0002.sql"):
        fresh.executescript(resources.files("specreg.store").joinpath(form).read_text(encoding="utf-8"))
    names = [row[1] for row in fresh.execute(f"PRAGMA table_info({table})")]
    fresh.close()
    return names


GUARDED = (*RECORDED, *IDENTITIES, "day_book")
EVERY_COLUMN = [(table, column) for table in GUARDED for column in columns(table)]


def pick(db, table, last) -> str:
    """A condition that holds for one row of a table, near its beginning or its end."""
    keys = [row[1] for row in db.execute(f"PRAGMA table_info({table})") if row[5]]
    order = ", ".join(f"{key} {'DESC' if last else 'ASC'}" for key in keys)
    row = db.execute(f"SELECT {', '.join(keys)} FROM {table} ORDER BY {order} LIMIT 1 OFFSET 1").fetchone()
    row = row or db.execute(f"SELECT {', '.join(keys)} FROM {table} LIMIT 1").fetchone()
    quoted = [db.execute("SELECT quote(?)", (value,)).fetchone()[0] for value in row]
    return " AND ".join(f"{key} = {value}" for key, value in zip(keys, quoted, strict=True))


def test_a_good_book_is_whole(book):
    assert len(revisions.of_order(book, 1)) == 2
    assert len(revisions.extracts_of(book, 1)) == 8
    assert len(revisions.passed(book, 1)) == 1
    assert list(proof.differences(book)) == []


def test_every_column_that_the_row_does_not_cover_is_covered_by_its_entry():
    assert set(BESIDE) == set(RECORDED_WITH_DIGEST)
    assert {name for name in columns("item_version") if name not in CONTENT} == {
        "id", "item_id", "entry", "order_id", "note_id", "digest", "number_key", "place_key",
    }  # fmt: skip


ALTERED = {
    str: lambda said: f"{said}x",
    int: lambda said: said + 1000,
    bytes: lambda said: bytes(32) if any(said) else b"\1" * 32,
    type(None): lambda _: 1,
    ("item_version", "other"): lambda _: '[["Finish","black"]]',
    ("order_drawing", "listed"): lambda said: 1 - said,
    ("day_book", "closed"): lambda _: 0,
    ("day_book", "order_id"): lambda said: None if said else 1,
    ("revision", "previous"): lambda said: None if said else bytes(32),
}
"""Another value, by the type of the value or by the column."""


@pytest.mark.parametrize("last", [False, True], ids=["early row", "late row"])
@pytest.mark.parametrize(("table", "column"), EVERY_COLUMN)
def test_a_value_altered_in_any_column_is_found(db, table, column, last):
    where = pick(db, table, last)
    said = db.execute(f'SELECT "{column}" FROM {table} WHERE {where}').fetchone()[0]
    altered = ALTERED.get((table, column), ALTERED[type(said)])(said)
    done = db.execute(f'UPDATE {table} SET "{column}" = ? WHERE {where}', (altered,))
    assert done.rowcount == 1
    if (table, column) in NOT_PROVED:
        assert found(db) == []
        return
    said = found(db)
    assert said
    if table in RECORDED_WITH_DIGEST and column not in LOCAL and column not in BESIDE[table]:
        assert any(one.startswith(f"{table}: ") and "has been altered" in one for one in said), said


@pytest.mark.parametrize("column", ["title", "text", *(field.name for field in FIELDS), "other", "reason", "section"])
def test_an_altered_text_of_an_item_is_named_with_its_number_and_the_revision(db, column):
    said = '[["Finish","bright"]]' if column == "other" else "9"
    where = "number = '4.1.1' AND entry = (SELECT max(entry) FROM item_version WHERE number = '4.1.1')"
    entry = db.execute(f"SELECT entry FROM item_version WHERE {where}").fetchone()[0]
    db.execute(f'UPDATE item_version SET "{column}" = ? WHERE {where}', (said,))
    assert found(db) == [f"item_version: item 4.1.1 of order W 611, recorded by entry {entry}, has been altered."]


@pytest.mark.parametrize(
    ("statement", "named"),
    [
        ("UPDATE item_version SET kind = 'clause' WHERE number = '5.2'", "item_version: item 5.2 of order W 611"),
        ("UPDATE item_version SET kind = 'bogus' WHERE number = '5.2'", "item_version: item 5.2 of order W 611"),
        ("UPDATE item_version SET other = '[1]' WHERE number = '5.2'", "item_version: item 5.2 of order W 611"),
        ("UPDATE item_version SET other = '{' WHERE number = '5.2'", "item_version: item 5.2 of order W 611"),
        ("UPDATE order_version SET machines = '1471'", "order_version: the head of order W 611"),
        ("UPDATE works_order SET numbering = 'theirs'", "order_version: the head of order W 611"),
        ("UPDATE item_total SET off = 23 WHERE off = 24", "item_total: the number off of item 4.1.1"),
        ("UPDATE item_drawing SET drawing_id = 1 WHERE written = 'SL-1003'", "drawing SL-1003 called up by item 4.1.2"),
        ("UPDATE sheet_version SET stage = 'planned' WHERE mark = 'A'", "drawing SL-1002 sheet 2 revision A"),
        ("UPDATE drawing SET number = 'SL-1009' WHERE number = 'SL-1001'", "drawing SL-1009 sheet - revision -"),
        ("UPDATE order_drawing SET listed = 0 WHERE drawing_id = 1", "drawing SL-1001 on the list of order W 611"),
        ("UPDATE note_version SET authority = '' WHERE state = 'issued'", "note_version: note 1 of order W 611"),
        ("UPDATE note SET number = '9' WHERE number = '1'", "note_version: note 9 of order W 611"),
        ("UPDATE signature SET name = 'X' WHERE signed_as = 'approved'", "the signature of JD under note 0"),
        ("UPDATE revision SET issued_on = '2026-11-26' WHERE letter = 'B'", "revision: revision B of order W 611"),
        ("UPDATE extract SET seal = 'AAAA-AAAA' WHERE department = 'FDY' AND seq = 2", "extract 2 for FDY of order W"),
        ("UPDATE fault_passed SET reason = 'none'", "the fault 'no drawing' let pass at 5.1.1 of order W 611"),
        ("UPDATE purchase SET pieces = 4 WHERE pieces = -5", "item 4.1.2 on purchase P 17 of order W 611, recorded by"),
        ("UPDATE purchase SET revision = 'A' WHERE number = '5.2'", "item 5.2 on purchase P 17 of order W 611"),
        ("UPDATE route SET because = 'x' WHERE because = 'bought'", "route: the route of item 5."),
        ("UPDATE standards SET content = replace(content, 'cast', 'forge')", "standards: the works standards kept as "),
        ("UPDATE day_book SET person = 'MB' WHERE act = 'issue'", "(issue, MB, 2026-11-25T09:00:00+01:00) does not"),
        ("UPDATE day_book SET closed = 0 WHERE act = 'issue'", "(issue, JD, 2026-11-25T09:00:00+01:00) stands open."),
        ("DELETE FROM day_book WHERE entry = 7", "day_book: entry 7 is missing."),
        ("DELETE FROM revision WHERE letter = 'A'", "Revision B of order W 611 follows a revision that is missing."),
        ("UPDATE revision SET previous = zeroblob(32) WHERE letter = 'B'", "is not chained to the revision before it."),
        ("UPDATE revision SET seal_form = '2'", "Revision A of order W 611 is sealed in form 2, which this program"),
        ("UPDATE purchase SET order_id = 2", "purchase: item 5.2 on purchase P 17 of order None, recorded by entry"),
        ("UPDATE purchase SET item_id = 3 WHERE number = '5.2'", "purchase: item 5.2 on P 17 of order W 611 is put"),
        ("UPDATE item SET order_id = 2 WHERE id = 3", "item: 4 of order W 611 is put down to another order"),
        ("DELETE FROM note WHERE number = '1'", "note: a row that note_version stands on has been taken away."),
    ],
)  # fmt: skip
def test_what_was_altered_is_named(db, statement, named):
    assert db.execute(statement).rowcount > 0
    said = found(db)
    assert any(named in one for one in said), said


def test_swapped_steps_of_a_route_are_found(db):
    item_id, entry = db.execute("SELECT item_id, entry FROM route_step WHERE department = 'FDY' LIMIT 1").fetchone()
    number = db.execute("SELECT number FROM item_version WHERE item_id = ?", (item_id,)).fetchone()[0]
    for step, other in ((1, 91), (2, 1), (91, 2)):
        db.execute("UPDATE route_step SET step = ? WHERE item_id = ? AND entry = ? AND step = ?",
                   (other, item_id, entry, step))  # fmt: skip
    assert found(db) == [
        f"route: the route of item {number} of order W 611, recorded by entry {entry}, has been altered."
    ]


def test_two_rows_that_change_places_are_found(db):
    """What each row says is still said, under its own digest, but of the other item."""
    first, second = (
        db.execute("SELECT id, item_id FROM item_version WHERE number = ?", (number,)).fetchone()
        for number in ("5.2", "5.3")
    )
    db.execute("UPDATE item_version SET item_id = -1 WHERE id = ?", (first[0],))
    db.execute("UPDATE item_version SET item_id = ? WHERE id = ?", (first[1], second[0]))
    db.execute("UPDATE item_version SET item_id = ? WHERE id = ?", (second[1], first[0]))
    assert any("item_total: the number off of item 5." in one for one in found(db))


@pytest.mark.parametrize("last", [False, True], ids=["early row", "late row"])
@pytest.mark.parametrize("table", GUARDED)
def test_a_row_taken_away_is_found(db, table, last):
    if table == "day_book" and last:
        # The last entry and all that came with it may be cut off: only paper shows that.
        db.execute("DELETE FROM day_book WHERE act = 'issue' AND entry = (SELECT max(entry) FROM revision)")
    else:
        db.execute(f"DELETE FROM {table} WHERE {pick(db, table, last)}")
    said = found(db)
    if table in IDENTITIES:
        assert f"{table}: a row that " in "\n".join(said)
    elif table == "route_step":
        assert any(one.startswith("route: the route of item ") for one in said)
    else:
        assert any(one.startswith("day_book: entry ") for one in said)


@pytest.mark.parametrize("table", RECORDED_WITH_DIGEST)
def test_a_row_added_with_a_right_digest_is_found(db, table):
    """A copy of a row under an entry of another act: its own digest is right, that of the entry is not."""
    names = [row[1] for row in db.execute(f"PRAGMA table_info({table})")]
    row = dict(zip(names, db.execute(f"SELECT * FROM {table} LIMIT 1").fetchone(), strict=True))
    row["entry"] = db.execute("SELECT entry FROM day_book WHERE act = 'person' LIMIT 1").fetchone()[0]
    if "id" in row:
        row["id"] = 10_000
    if table == "extract":
        row.update(number=99, seq=99, seal="AAAA-AAAA")
    if table == "revision":
        row.update(seq=99, letter="X")
    db.execute(f"INSERT INTO {table} VALUES ({', '.join('?' * len(row))})", tuple(row.values()))
    assert any(one.startswith(f"day_book: entry {row['entry']} (person, JD, ") for one in found(db))


def test_a_step_added_to_a_route_is_found(db):
    db.execute(
        "INSERT INTO route_step SELECT item_id, entry, 9, order_id, place, department, operation, basis, extra, "
        "because FROM route_step LIMIT 1"
    )
    assert any(one.startswith("route: ") for one in found(db))


def test_an_entry_added_at_the_end_is_found(db):
    last = db.execute("SELECT max(entry) FROM day_book").fetchone()[0]
    db.execute(
        "INSERT INTO day_book SELECT entry + 1, at, person, host, order_id, act, words, closed, digest FROM day_book "
        "WHERE entry = ?", (last,),
    )  # fmt: skip
    assert [one.split(" (")[0] for one in found(db)] == [f"day_book: entry {last + 1}"]


def test_a_file_damaged_below_the_rows_is_told(file):
    db = sqlite3.connect(file)
    (page,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'item_version_entry'").fetchone()
    (size,) = db.execute("PRAGMA page_size").fetchone()
    db.close()
    content = bytearray(file.read_bytes())
    content[page * size - 40 : page * size - 20] = bytes(20)
    file.write_bytes(content)
    book = open_book(file, "bench", read_only=True)
    assert next(proof.differences(book)).startswith("The file is damaged: ")
    book.close()


# Seals --------------------------------------------------------------------------------------------------------------


def test_the_seals_agree_with_those_reckoned_by_a_second_hand(book):
    stored = [one.seal for one in revisions.of_order(book, 1)]
    assert len(stored) == 2
    assert seals_of(book.db, 1) == stored


def sealed(folder, before=None, clock=None, edit=None) -> list[object]:
    folder.mkdir()
    office = new_office(folder, clock=clock)
    if before is not None:
        before(office, folder)
    take_in_tiny(office, folder)
    allocate(office)
    if edit is not None:
        edit(office)
    issue_all(office)
    good_acts(office)
    order_id = office.order_id
    found: list[object] = [one.seal for one in revisions.of_order(office.book, order_id)]
    assert seals_of(office.book.db, order_id) == found
    assert list(proof.differences(office.book)) == []
    found += [one.seal for one in revisions.extracts_of(office.book, order_id)]
    office.book.close()
    return found


def another_order(office, folder) -> None:
    """Another order first, of which one drawing is the same and one has a revision more."""
    take_in_tiny(
        office,
        folder,
        number="W 500",
        into="first",
        sections={"01-frames.md": "# 1 Frames\n\n## 1.1 Frame\n\n- Off: 1 per machine\n- Drawing: SL-1001\n"},
        drawings="number,sheet,of,title,size,revision,date,stage,drawn,checked,approved\n"
        "SL-1001,,1,Slewing rack,A1,-,2026-03-09,issued,H.P.,W.G.,J.D.\n"
        "FR-1,,1,Frame,A1,-,2026-03-09,issued,H.P.,W.G.,J.D.\n",
    )  # fmt: skip
    office.standing = None


def test_the_same_acts_give_the_same_seals_in_every_book(tmp_path):
    first = sealed(tmp_path / "one")
    assert len(set(first)) == 10
    assert sealed(tmp_path / "two") == first
    assert sealed(tmp_path / "three", before=another_order) == first


def test_a_seal_covers_the_day_and_every_word(tmp_path):
    plain = sealed(tmp_path / "one")
    clock = Clock()
    clock.on(days=1)
    later = sealed(tmp_path / "two", clock=clock)
    worded = sealed(tmp_path / "three", edit=lambda office: altering.alter(office, "5.4", {"Remarks": "8 off"}))
    for other in (later, worded):
        assert not set(plain[:2]) & set(other[:2])


def test_a_later_seal_stands_on_the_one_before(tmp_path):
    clock = Clock()
    office = with_revision_a(tmp_path, clock)
    first = revisions.last(office.book, 1)
    for number in ("1", "2"):
        note_opened(office, number)
        altering.alter(office, "4.1.2", {"Remarks": f"note {number}"})
        clock.on(days=1)
        issue_all(office, number)
    every = revisions.of_order(office.book, 1)
    assert [one.letter for one in every] == ["A", "B", "C"]
    assert [one.previous for one in every] == [None, first.seal, every[1].seal]
    assert len({short_code(one.seal) for one in every}) == 3
    assert [one.rows for one in every][1:] == [3, 3]  # the item, the drawing it calls up, the note that brought it
    assert seals_of(office.book.db, 1) == [one.seal for one in every]
    office.book.close()
