"""What a book holds, table by table, for comparing two states of a book or two books."""

from __future__ import annotations

import sqlite3

from specreg.store.database import WorksBook

DERIVED = ("item_now", "route_now", "call_now", "sheet_now")


def contents(book: WorksBook, but: tuple[str, ...] = ()) -> dict[str, list[tuple[object, ...]]]:
    """The rows of every table, and every word of the indexes with where it stands; sorted, tables of `but` left out."""
    held = {
        name: sorted(book.db.execute(f"SELECT * FROM {name}").fetchall(), key=repr)
        for (name,) in book.db.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND sql NOT LIKE 'CREATE VIRTUAL%' "
            "AND name NOT LIKE 'item_words_%' AND name NOT LIKE 'drawing_words_%' AND name NOT LIKE '%sqlite_%'"
        ).fetchall()
        if name not in but
    }
    for index in ("item_words", "drawing_words"):
        held[index] = words_in(book.db, index)
    return held


def words_in(db: sqlite3.Connection, index: str, schema: str = "main") -> list[tuple[object, ...]]:
    """Every word of an index with the row and the column in which it stands."""
    db.execute(f"CREATE VIRTUAL TABLE temp.seen_words USING fts5vocab ({schema}, {index}, 'instance')")
    found = db.execute("SELECT DISTINCT term, doc, col FROM temp.seen_words ORDER BY 1, 2, 3").fetchall()
    db.execute("DROP TABLE temp.seen_words")
    return found
