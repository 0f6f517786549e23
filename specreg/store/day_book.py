"""Reading the day-book: who did what, when, at which machine."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.store.database import WorksBook


@dataclass(frozen=True, slots=True)
class Entry:
    """One act."""

    entry: int
    at: str
    person: str
    host: str
    act: str
    words: str


def entries(book: WorksBook, order_id: int | None = None, limit: int = 50) -> list[Entry]:
    """The last acts, newest first; of the whole works, or of one order with those that concern no order."""
    where, values = ("", ()) if order_id is None else (" WHERE order_id = ? OR order_id IS NULL", (order_id,))
    rows = book.db.execute(
        f"SELECT entry, at, person, host, act, words FROM day_book{where} ORDER BY entry DESC LIMIT ?",
        (*values, limit),
    )
    return [Entry(*row) for row in rows]


def at_of(book: WorksBook, entry: int) -> str:
    """When an entry was made."""
    (at,) = book.db.execute("SELECT at FROM day_book WHERE entry = ?", (entry,)).fetchone()
    return str(at)


def last_entry(book: WorksBook) -> int:
    """The number of the last entry; 0 in an empty book."""
    (entry,) = book.db.execute("SELECT coalesce(max(entry), 0) FROM day_book").fetchone()
    return int(entry)
