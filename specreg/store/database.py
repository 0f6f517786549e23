"""Opening a works book, and the act: the one way anything is written to it.

What must stay true: every act opens a day-book entry, adds rows that carry its number, closes it, all in one
BEGIN IMMEDIATE; a book that is foreign, newer, locked or on a file share is refused with the reason; sqlite3 errors
are translated here and nowhere else.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from specreg.core.errors import BookUnusable, Refused, SpecregError
from specreg.store.entry_digests import BESIDE, NOTE, entry_digest, row_print
from specreg.store.triggers import altered_rules, altered_triggers

APPLICATION_ID = 0x53524547
"""`SREG` in the header of the file, by which a works book is told from any other SQLite file."""

SCHEMA_VERSION = 2
LEAST_SQLITE = (3, 37, 0)
WAIT_FOR_LOCK_SECONDS = 5.0
# File systems on which SQLite's locks cannot be trusted; read from /proc/mounts where there is one.
SHARED_FILE_SYSTEMS = frozenset({"nfs", "nfs4", "cifs", "smb3", "smbfs", "9p", "afs", "ceph", "fuse.sshfs", "davfs"})


@dataclass(slots=True)
class Act:
    """An open day-book entry: `entry` is the number that every row written under it carries."""

    entry: int
    person: str
    at: str
    words: str = ""
    order_id: int | None = None
    prints: list[bytes] = field(default_factory=list)
    """Of the rows recorded so far; asking the tables again would cost with what is held, not with what is added."""
    note_numbers: dict[int, str] = field(default_factory=dict)


@dataclass(slots=True)
class WorksBook:
    """An open book. `db` is for the store's own modules; nobody else speaks SQL."""

    path: Path
    db: sqlite3.Connection
    read_only: bool
    host: str = field(default="")

    def close(self) -> None:
        """Let go of the file."""
        self.db.close()

    def version(self) -> int:
        """Changes whenever any connection, this one or another, has written."""
        (others,) = self.db.execute("PRAGMA data_version").fetchone()
        return int(others) * 1_000_000 + self.db.total_changes

    @contextmanager
    def reading(self) -> Iterator[None]:
        """A view of the book that stays the same for all reads inside, whatever others write meanwhile."""
        if self.db.in_transaction:
            yield
            return
        with translated(self.path):
            self.db.execute("BEGIN")
            try:
                yield
            finally:
                self.db.execute("COMMIT")

    @contextmanager
    def act(self, person: str, act: str, at: str, order_id: int | None = None) -> Iterator[Act]:
        """One act: all or nothing. The entry closes with the digest of all it recorded, chained to the one before."""
        if self.read_only:
            raise BookUnusable(f"{act}", "the book was opened for reading only", "Open it again to write")
        with translated(self.path):
            self.db.execute("BEGIN IMMEDIATE")
            try:
                (last,) = self.db.execute("SELECT coalesce(max(entry), 0) FROM day_book").fetchone()
                done = Act(last + 1, person, at, order_id=order_id)
                self.db.execute(
                    "INSERT INTO day_book (entry, at, person, host, order_id, act) VALUES (?, ?, ?, ?, ?, ?)",
                    (done.entry, at, person, self.host, order_id, act),
                )
                yield done
                self.db.execute(
                    "UPDATE day_book SET closed = 1, words = ?, order_id = ?, digest = ? WHERE entry = ?",
                    (done.words, done.order_id, self._entry_digest(done, act), done.entry),
                )
                self.db.execute("COMMIT")
            except BaseException:
                with suppress(sqlite3.Error):
                    self.db.execute("ROLLBACK")
                raise

    def _entry_digest(self, done: Act, act: str) -> bytes:
        (before,) = self.db.execute(
            "SELECT coalesce((SELECT digest FROM day_book WHERE entry = ?), x'')", (done.entry - 1,)
        ).fetchone()
        (order,) = self.db.execute(
            "SELECT coalesce((SELECT number FROM works_order WHERE id = ?), '')", (done.order_id,)
        ).fetchone()
        return entry_digest(
            before, [str(done.entry), done.at, done.person, self.host, order, act, done.words], done.prints
        )


@contextmanager
def translated(path: Path) -> Iterator[None]:
    """Turn every sqlite3 error into a refusal in plain words; the program's own errors pass through."""
    try:
        yield
    except SpecregError:
        raise
    except sqlite3.OperationalError as error:
        raise _refusal_of(error, path) from error
    except sqlite3.IntegrityError as error:
        raise Refused("The book did not take this", str(error), "Nothing was written") from error
    except sqlite3.DatabaseError as error:
        raise BookUnusable(
            f"Open {path}", f"it is not a works book, or it is damaged ({error})", "Take the last good copy"
        ) from error


def _refusal_of(error: sqlite3.OperationalError, path: Path) -> SpecregError:
    said = str(error)
    if "locked" in said or "busy" in said:
        return BookUnusable(
            f"Write to {path}",
            f"another program has held the book for more than {WAIT_FOR_LOCK_SECONDS:.0f} seconds",
            "Nothing was written; try again, or close the program that holds it",
        )
    if "readonly" in said:
        return BookUnusable(f"Write to {path}", "the file may only be read here", "Ask for leave to write to it")
    if "full" in said:
        return BookUnusable(f"Write to {path}", "the disk is full", "Nothing was written; make room and try again")
    if "unable to open" in said:
        return BookUnusable(
            f"Open {path}", "the file cannot be opened", "Look at its name and folder, and whether you may open it"
        )
    return BookUnusable(f"Use {path}", said, "Nothing was written")


def insert(db: sqlite3.Connection, table: str, row: Mapping[str, Any]) -> int:
    """Add one row; returns its row number."""
    columns = ", ".join(f'"{name}"' for name in row)
    marks = ", ".join("?" * len(row))
    cursor = db.execute(f"INSERT INTO {table} ({columns}) VALUES ({marks})", tuple(row.values()))
    return int(cursor.lastrowid or 0)


def put(db: sqlite3.Connection, table: str, key: Sequence[str], row: Mapping[str, Any]) -> None:
    """Add one row of an open or derived table, or alter the row with the same key.

    Not INSERT OR REPLACE, which would also delete a row that stands in the way by another unique index.
    """
    columns = ", ".join(f'"{name}"' for name in row)
    marks = ", ".join("?" * len(row))
    altered = ", ".join(f'"{name}" = excluded."{name}"' for name in row if name not in key)
    db.execute(
        f"INSERT INTO {table} ({columns}) VALUES ({marks}) ON CONFLICT ({', '.join(key)}) DO UPDATE SET {altered}",
        tuple(row.values()),
    )


def record(book: WorksBook, act: Act, table: str, row: Mapping[str, Any]) -> int:
    """Add one row to a recorded table under an open act; the row carries its digest."""
    beside = [_note_number(book, act, row["note_id"]) if name == NOTE else row[name] for name in BESIDE[table]]
    act.prints.append(row_print(table, row["digest"], beside))
    return insert(book.db, table, {"entry": act.entry, **row})


def _note_number(book: WorksBook, act: Act, note_id: int) -> str:
    if note_id not in act.note_numbers:
        (number,) = book.db.execute("SELECT number FROM note WHERE id = ?", (note_id,)).fetchone()
        act.note_numbers[note_id] = number
    return act.note_numbers[note_id]


def create_book(path: Path, host: str) -> WorksBook:
    """Make a new, empty book. Raises Refused when the file is there already or its folder is not."""
    if path.exists():
        raise Refused(f"Make {path}", "a file of that name is there already", "Give another name")
    if not path.parent.is_dir():
        raise Refused(f"Make {path}", f"there is no folder {path.parent}", "Make the folder first")
    _refuse_share(path)
    _check_sqlite()
    with translated(path):
        db = _connect(path, read_only=False)
        try:
            db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            db.execute("PRAGMA journal_mode = WAL")
            _migrate(db)
        except BaseException:
            db.close()
            for suffix in ("", "-wal", "-shm"):
                Path(f"{path}{suffix}").unlink(missing_ok=True)
            raise
    book = WorksBook(path, db, read_only=False, host=host)
    _bring_derived_up_to_date(book)
    return book


def open_book(path: Path, host: str, read_only: bool = False) -> WorksBook:
    """Open a book that exists. Raises BookUnusable when it cannot be used, with the reason."""
    if not path.is_file():
        raise BookUnusable(
            f"Open {path}", "there is no such book", "Make one with `specreg new`, or name another with --book"
        )
    _refuse_share(path)
    _check_sqlite()
    with translated(path):
        _refuse_foreign(path)
        db = _connect(path, read_only)
        try:
            version = _checked_version(db, path, read_only)
            if version < SCHEMA_VERSION and not read_only:
                _bring_up_to_date(db, path, version)
            elif version < SCHEMA_VERSION:
                raise BookUnusable(
                    f"Read {path}",
                    f"it was written by an older specreg (form {version}, this one reads form {SCHEMA_VERSION})",
                    "Open it once for writing, which brings it up to date",
                )
        except BaseException:
            db.close()
            raise
    book = WorksBook(path, db, read_only=read_only, host=host)
    if not read_only:
        _refuse_missing_triggers(book)
        _bring_derived_up_to_date(book)
    return book


def _bring_up_to_date(db: sqlite3.Connection, path: Path, version: int) -> None:
    """Migrate an older book, whose rules must stand as its own form had them; another program may do so meanwhile."""
    if version and altered_rules(db):
        raise _without_rules(path)
    try:
        _migrate(db)
    except sqlite3.OperationalError:
        (now,) = db.execute("PRAGMA user_version").fetchone()
        if now < SCHEMA_VERSION:
            raise


def _bring_derived_up_to_date(book: WorksBook) -> None:
    from specreg.store.rebuilding import bring_up_to_date

    try:
        with translated(book.path):
            bring_up_to_date(book)
    except BaseException:
        book.close()
        raise


def _connect(path: Path, read_only: bool) -> sqlite3.Connection:
    mode = "ro" if read_only else "rw" if path.exists() else "rwc"
    address = f"{path.absolute().as_uri()}?mode={mode}"
    db = sqlite3.connect(address, uri=True, timeout=WAIT_FOR_LOCK_SECONDS, isolation_level=None)
    try:
        db.execute("PRAGMA foreign_keys = ON")
        if not read_only:
            db.execute("PRAGMA synchronous = FULL")
    except BaseException:
        db.close()
        raise
    return db


def _check_sqlite() -> None:
    if sqlite3.sqlite_version_info < LEAST_SQLITE:
        raise BookUnusable(
            "Open a works book",
            f"this Python carries SQLite {sqlite3.sqlite_version}, and a book needs 3.37 or later",
            "Use a newer Python",
        )


def _refuse_foreign(path: Path) -> None:
    try:
        with path.open("rb") as file:
            head = file.read(72)
    except OSError as error:
        raise BookUnusable(
            f"Open {path}",
            f"the file cannot be read ({error.strerror})",
            "Look at its folder, and whether you may read it",
        ) from error
    if not head.startswith(b"SQLite format 3\x00"):
        raise BookUnusable(f"Open {path}", "it is not a works book", "Name the book with --book")
    if int.from_bytes(head[68:72], "big") != APPLICATION_ID:
        raise BookUnusable(
            f"Open {path}", "it is a SQLite file of some other program, not a works book", "Name the book with --book"
        )


def _checked_version(db: sqlite3.Connection, path: Path, read_only: bool) -> int:
    try:
        (version,) = db.execute("PRAGMA user_version").fetchone()
    except sqlite3.OperationalError as error:
        said = str(error)
        if read_only and ("readonly" in said or "unable to open" in said):
            # Even a reader of a book in WAL mode keeps a file beside it, through which it sees what others write.
            raise BookUnusable(
                f"Read {path}",
                "no file may be written in its folder, and a book needs one beside it while it is open",
                "Copy the book to a folder of your own and read that",
            ) from error
        raise
    if version > SCHEMA_VERSION:
        raise BookUnusable(
            f"Open {path}",
            f"it was written by a newer specreg (form {version}, this one knows form {SCHEMA_VERSION})",
            "Use the newer program; the book was not touched",
        )
    return int(version)


def _migrate(db: sqlite3.Connection) -> None:
    # Costs about 0.2 s to import, so only when a migration is due.
    from specreg.store.migrations import migrate

    migrate(db)


def _refuse_missing_triggers(book: WorksBook) -> None:
    if altered_triggers(book.db):
        book.close()
        raise _without_rules(book.path)


def _without_rules(path: Path) -> BookUnusable:
    return BookUnusable(
        f"Write to {path}",
        "some of the rules that guard the record have been taken out of the file, or altered",
        "Run `specreg verify` on it, and go back to the last good copy",
    )


def _refuse_share(path: Path) -> None:
    # A link on this machine may point at a file on a share.
    kind = file_system_of(path.resolve().parent)
    if kind in SHARED_FILE_SYSTEMS:
        raise BookUnusable(
            f"Open {path}",
            f"it lies on a file share ({kind}), where two programs can spoil a book",
            "Log in to the machine that holds it, or work from an issued copy on this one",
        )


def file_system_of(folder: Path, mounts: Path = Path("/proc/mounts")) -> str:
    """The kind of file system a folder lies on, by the longest mount point above it; empty when not known."""
    try:
        lines = mounts.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return ""
    best, kind = "", ""
    for line in lines:
        parts = line.split()
        if len(parts) >= 3:
            point = parts[1].replace("\\040", " ")
            inside = str(folder) == point or str(folder).startswith(point.rstrip("/") + "/")
            if inside and len(point) >= len(best):
                best, kind = point, parts[2]
    return kind


def as_json(value: Any) -> str:
    """Compact JSON, the same text for the same value."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def host_name(ask: Callable[[], str] | None = None) -> str:
    """The name of this machine, for the day-book."""
    return ask() if ask else os.uname().nodename if hasattr(os, "uname") else ""
