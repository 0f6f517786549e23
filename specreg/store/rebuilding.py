"""Making all that is derived anew: where everything stands now, and the word indexes. The record is only read."""

from __future__ import annotations

from specreg.store import drawings, items, routes, word_index
from specreg.store.database import WorksBook


def rebuild_now(book: WorksBook) -> None:
    """Empty every derived table and fill it from the record and the open edits; inside an act."""
    drawings.rebuild_now(book)
    word_index.clear(book, "item")
    for table in ("item_now", "route_now", "call_now"):
        book.db.execute(f"DELETE FROM {table}")
    for (order_id,) in book.db.execute("SELECT id FROM works_order ORDER BY id").fetchall():
        items.rebuild_now(book, order_id)
        routes.rebuild_now(book, order_id)
        for one in list(items.all_now(book, order_id)):
            calls = [drawings.match(book, written) for written in one.item.drawings]
            drawings.set_calls(book, one.item_id, calls)
