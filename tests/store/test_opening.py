"""Opening and making a book: what is refused, in which words, and that a refused file is left as it was."""

from __future__ import annotations

import functools
import os
import sqlite3
import stat
import sys
from pathlib import Path

import pytest

from specreg.core.errors import BookUnusable, Refused
from specreg.store import database, day_book
from specreg.store.database import create_book, file_system_of, open_book
from tests.store.other_process import started, without_rights

HOLD = """
import sqlite3, sys
db = sqlite3.connect(sys.argv[1], isolation_level=None)
db.execute("BEGIN IMMEDIATE")
print("held", flush=True)
sys.stdin.read()
"""


def sentence_of(opening, *arguments, **keywords) -> str:
    with pytest.raises(Refused) as refusal:
        opening(*arguments, **keywords)
    return str(refusal.value)


def with_pragma(file: Path, pragma: str) -> None:
    db = sqlite3.connect(file)
    db.execute(f"PRAGMA {pragma}")
    db.close()


def test_a_new_book_is_an_empty_works_book_of_this_form(tmp_path):
    path = tmp_path / "works % ?#ü.specreg"
    book = create_book(path, "bench")
    assert not book.read_only
    assert day_book.last_entry(book) == 0
    (mode,) = book.db.execute("PRAGMA journal_mode").fetchone()
    (keys,) = book.db.execute("PRAGMA foreign_keys").fetchone()
    (synchronous,) = book.db.execute("PRAGMA synchronous").fetchone()
    assert (mode, keys, synchronous) == ("wal", 1, 2)
    book.close()
    assert [one.name for one in tmp_path.iterdir()] == [path.name]
    assert path.read_bytes()[68:72] == b"SREG"
    again = open_book(path, "bench")
    assert again.db.execute("PRAGMA user_version").fetchone() == (database.SCHEMA_VERSION,)
    again.close()


@pytest.mark.parametrize("read_only", [False, True])
def test_opening_a_good_book_alters_nothing(file, read_only):
    before = file.read_bytes()
    open_book(file, "bench", read_only=read_only).close()
    assert file.read_bytes() == before


def test_a_book_is_never_made_over_a_file(tmp_path):
    path = tmp_path / "letter.txt"
    path.write_text("Dear Sirs")
    assert sentence_of(create_book, path, "bench") == (
        f"Make {path}: a file of that name is there already. Give another name."
    )
    assert path.read_text() == "Dear Sirs"


@pytest.mark.parametrize("parent", ["missing", "letter.txt"])
def test_a_book_is_made_only_in_a_folder_that_is_there(tmp_path, parent):
    (tmp_path / "letter.txt").write_text("Dear Sirs")
    path = tmp_path / parent / "works.specreg"
    assert sentence_of(create_book, path, "bench") == (
        f"Make {path}: there is no folder {path.parent}. Make the folder first."
    )
    assert [one.name for one in tmp_path.iterdir()] == ["letter.txt"]


def test_nothing_is_left_of_a_book_that_could_not_be_made(tmp_path, monkeypatch):
    def stopped(db):
        db.execute("CREATE TABLE half (a)")
        raise KeyboardInterrupt

    monkeypatch.setattr(database, "_migrate", stopped)
    with pytest.raises(KeyboardInterrupt):
        create_book(tmp_path / "works.specreg", "bench")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("read_only", [False, True])
@pytest.mark.parametrize("name", ["none.specreg", "."])
def test_a_book_that_is_not_there(tmp_path, name, read_only):
    path = tmp_path / name
    assert sentence_of(open_book, path, "bench", read_only=read_only) == (
        f"Open {path}: there is no such book. Make one with `specreg new`, or name another with --book."
    )
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("read_only", [False, True])
@pytest.mark.parametrize("content", [b"", b"S", b"Dear Sirs,\nwe thank you for your letter.\n" * 40])
def test_a_file_that_is_no_sqlite_file(tmp_path, content, read_only):
    path = tmp_path / "letter.txt"
    path.write_bytes(content)
    assert sentence_of(open_book, path, "bench", read_only=read_only) == (
        f"Open {path}: it is not a works book. Name the book with --book."
    )
    assert path.read_bytes() == content
    assert [one.name for one in tmp_path.iterdir()] == ["letter.txt"]


@pytest.mark.parametrize("read_only", [False, True])
def test_a_sqlite_file_of_another_program(tmp_path, read_only):
    path = tmp_path / "other.db"
    db = sqlite3.connect(path)
    db.execute("CREATE TABLE item (id INTEGER PRIMARY KEY)")
    db.execute("PRAGMA user_version = 1")
    db.close()
    before = path.read_bytes()
    assert sentence_of(open_book, path, "bench", read_only=read_only) == (
        f"Open {path}: it is a SQLite file of some other program, not a works book. Name the book with --book."
    )
    assert path.read_bytes() == before


@pytest.mark.parametrize("read_only", [False, True])
def test_a_book_of_a_newer_program(file, read_only):
    with_pragma(file, "user_version = 99")
    before = file.read_bytes()
    assert sentence_of(open_book, file, "bench", read_only=read_only) == (
        f"Open {file}: it was written by a newer specreg (form 99, this one knows form {database.SCHEMA_VERSION}). "
        "Use the newer program; the book was not touched."
    )
    assert file.read_bytes() == before


def test_a_book_of_an_older_program_is_not_brought_up_to_date_by_a_reader(file):
    with_pragma(file, "user_version = 0")
    before = file.read_bytes()
    assert sentence_of(open_book, file, "bench", read_only=True) == (
        f"Read {file}: it was written by an older specreg (form 0, this one reads form {database.SCHEMA_VERSION}). "
        "Open it once for writing, which brings it up to date."
    )
    assert file.read_bytes() == before


def test_a_book_cut_short(file):
    file.write_bytes(file.read_bytes()[:5000])
    before = file.read_bytes()
    said = sentence_of(open_book, file, "bench")
    assert said.startswith(f"Open {file}: it is not a works book, or it is damaged (")
    assert said.endswith("). Take the last good copy.")
    assert file.read_bytes() == before


def test_what_is_damaged_further_in_is_told_when_it_is_read(file):
    content = bytearray(file.read_bytes())
    content[8192:] = b"\xa5" * (len(content) - 8192)
    file.write_bytes(content)
    book = open_book(file, "bench", read_only=True)
    with pytest.raises(BookUnusable, match="it is damaged"), book.reading():
        book.db.execute("SELECT * FROM day_book ORDER BY entry").fetchall()
    assert not book.db.in_transaction
    book.close()


def test_a_book_held_by_another_program(file, book, monkeypatch):
    before = day_book.last_entry(book)
    with started(HOLD, file) as holder:
        assert holder.stdout.readline() == "held\n"
        monkeypatch.setattr(database, "WAIT_FOR_LOCK_SECONDS", 0.05)
        other = open_book(file, "bench")
        with pytest.raises(BookUnusable) as refusal, other.act("JD", "alter", "2026-11-25"):
            pytest.fail("the act was begun")
        assert str(refusal.value) == (
            f"Write to {file}: another program has held the book for more than 0 seconds. "
            "Nothing was written; try again, or close the program that holds it."
        )
        with other.reading():
            assert day_book.last_entry(other) == before
        holder.stdin.close()
        holder.wait(10)
    with other.act("JD", "alter", "2026-11-25") as act:
        assert act.entry == before + 1
    other.close()


def test_the_wait_is_said_in_seconds():
    said = str(database._refusal_of(sqlite3.OperationalError("database is locked"), Path("works.specreg")))
    assert "for more than 5 seconds" in said


@pytest.fixture
def shown_file(file):
    """The good book with all folders above it open to everybody for reading."""
    above = [one for one in file.parents if one.stat().st_uid == os.geteuid() and "pytest" in str(one)]
    before = [(one, stat.S_IMODE(one.stat().st_mode)) for one in above]
    for one in above:
        one.chmod(0o755)
    yield file
    for one, mode in before:
        one.chmod(mode)


needs_rights = pytest.mark.skipif(sys.platform == "win32", reason="rights of files are those of POSIX")


@needs_rights
def test_a_file_that_may_only_be_read(shown_file):
    shown_file.chmod(0o444)
    shown_file.parent.chmod(0o777)
    before = shown_file.read_bytes()

    def write():
        book = open_book(shown_file, "bench")
        with book.act("JD", "alter", "2026-11-25"):
            pass

    assert without_rights(write) == (
        f"Write to {shown_file}: the file may only be read here. Ask for leave to write to it."
    )
    assert shown_file.read_bytes() == before


@needs_rights
def test_a_book_in_a_folder_that_may_only_be_read(shown_file):
    shown_file.chmod(0o444)
    shown_file.parent.chmod(0o555)
    assert without_rights(lambda: open_book(shown_file, "bench", read_only=True)) == (
        f"Read {shown_file}: no file may be written in its folder, and a book needs one beside it while it is open. "
        "Copy the book to a folder of your own and read that."
    )


@needs_rights
def test_a_reader_without_rights_sees_what_the_writer_writes(shown_file):
    writer = open_book(shown_file, "bench")
    with writer.act("JD", "alter", "2026-11-25") as act:
        entry = act.entry
    for beside in shown_file.parent.iterdir():
        beside.chmod(0o444)
    shown_file.parent.chmod(0o555)

    def read():
        book = open_book(shown_file, "bench", read_only=True)
        with book.reading():
            return day_book.last_entry(book)

    assert without_rights(read) == str(entry)
    writer.close()


@needs_rights
def test_a_file_that_may_not_even_be_read(shown_file):
    shown_file.chmod(0o000)
    assert without_rights(lambda: open_book(shown_file, "bench")) == (
        f"Open {shown_file}: the file cannot be read (Permission denied). Look at its folder, and whether "
        "you may read it."
    )


# File shares --------------------------------------------------------------------------------------------------------

MOUNTS = """sysfs /sys sysfs rw 0 0
/dev/sda1 / ext4 rw 0 0
systemd-1 {root}/office autofs rw 0 0
server:/books {root}/office nfs4 rw 0 0
//server/b {root}/drawing\\040office cifs rw 0 0
/dev/sdb1 {root}/office/local ext4 rw 0 0
short line
"""


@pytest.fixture
def mounts(tmp_path, monkeypatch):
    """A works with two file shares and a local disk mounted inside one of them."""
    table = tmp_path / "mounts"
    table.write_text(MOUNTS.format(root=tmp_path))
    for name in ("office/local", "office/old", "drawing office", "offices"):
        (tmp_path / name).mkdir(parents=True)
    monkeypatch.setattr(database, "file_system_of", functools.partial(file_system_of, mounts=table))
    return table


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("office", "nfs4"),
        ("office/old", "nfs4"),
        ("office/local", "ext4"),
        ("offices", "ext4"),
        ("drawing office", "cifs"),
        (".", "ext4"),
    ],
)
def test_the_longest_mount_point_above_a_folder_counts(tmp_path, mounts, folder, kind):
    assert file_system_of(tmp_path / folder, mounts) == kind


def test_without_a_table_of_mounts_nothing_is_known(tmp_path):
    assert file_system_of(tmp_path, tmp_path / "none") == ""


@pytest.mark.parametrize(("folder", "kind"), [("office/old", "nfs4"), ("drawing office", "cifs")])
def test_a_book_on_a_file_share_is_neither_made_nor_opened(tmp_path, file, mounts, folder, kind):
    path = tmp_path / folder / "works.specreg"
    expected = (
        f"Open {path}: it lies on a file share ({kind}), where two programs can spoil a book. "
        "Log in to the machine that holds it, or work from an issued copy on this one."
    )
    assert sentence_of(create_book, path, "bench") == expected
    assert not path.exists()
    file.rename(path)
    before = path.read_bytes()
    for read_only in (False, True):
        assert sentence_of(open_book, path, "bench", read_only=read_only) == expected
    assert path.read_bytes() == before


def test_a_link_to_a_book_on_a_file_share_is_followed(tmp_path, file, mounts):
    held = tmp_path / "office" / "works.specreg"
    file.rename(held)
    link = tmp_path / "offices" / "works.specreg"
    link.symlink_to(held)
    assert "it lies on a file share (nfs4)" in sentence_of(open_book, link, "bench")
    assert "it lies on a file share (nfs4)" in sentence_of(create_book, tmp_path / "office" / "new.specreg", "bench")


def test_a_book_on_a_local_disk_inside_a_share_is_opened(tmp_path, file, mounts):
    path = file.rename(tmp_path / "office" / "local" / "works.specreg")
    open_book(path, "bench").close()


@pytest.mark.parametrize("opening", [create_book, open_book])
def test_an_old_sqlite_is_refused_before_the_file_is_touched(tmp_path, file, monkeypatch, opening):
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 36, 0))
    monkeypatch.setattr(sqlite3, "sqlite_version", "3.36.0")
    path = file if opening is open_book else tmp_path / "new.specreg"
    before = file.read_bytes()
    assert sentence_of(opening, path, "bench") == (
        "Open a works book: this Python carries SQLite 3.36.0, and a book needs 3.37 or later. Use a newer Python."
    )
    assert file.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir()] == [file.name]


def test_a_full_disk_is_said_in_plain_words(book):
    (pages,) = book.db.execute("PRAGMA page_count").fetchone()
    book.db.execute(f"PRAGMA max_page_count = {pages}")
    before = day_book.last_entry(book)
    with pytest.raises(BookUnusable) as refusal, book.act("JD", "alter", "2026-11-25"):
        for row in range(1000):
            book.db.execute(
                "INSERT INTO set_aside (order_id, source, file, line, text, reason) VALUES (1, 'a', 'b', ?, ?, 'c')",
                (row, "x" * 4000),
            )
    assert str(refusal.value) == (
        f"Write to {book.path}: the disk is full. Nothing was written; make room and try again."
    )
    assert day_book.last_entry(book) == before
