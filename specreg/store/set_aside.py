"""Rows of a source that could not be taken in: kept with file, line and reason until they are put right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from specreg.store.database import WorksBook


@dataclass(frozen=True, slots=True)
class KeptRow:
    """A row set aside; `row_id` is how it is named when somebody strikes it."""

    row_id: int
    file: str
    line: int
    text: str
    reason: str


def replace_all(book: WorksBook, order_id: int, source: str, rows: Sequence[tuple[str, int, str, str]]) -> None:
    """Keep the rows (file, line, text, reason) of a source instead of those set aside from it before."""
    book.db.execute("DELETE FROM set_aside WHERE order_id = ? AND source = ?", (order_id, source))
    book.db.executemany(
        "INSERT INTO set_aside (order_id, source, file, line, text, reason) VALUES (?, ?, ?, ?, ?, ?)",
        [(order_id, source, *row) for row in rows],
    )


def of_order(book: WorksBook, order_id: int) -> list[KeptRow]:
    """All rows set aside for an order."""
    rows = book.db.execute(
        "SELECT id, file, line, text, reason FROM set_aside WHERE order_id = ? ORDER BY id", (order_id,)
    )
    return [KeptRow(*row) for row in rows]


def strike(book: WorksBook, order_id: int, row_id: int) -> bool:
    """Take a row off the list; returns whether there was one."""
    done = book.db.execute("DELETE FROM set_aside WHERE order_id = ? AND id = ?", (order_id, row_id))
    return done.rowcount > 0
