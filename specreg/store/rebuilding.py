"""Making all that is derived anew: where everything stands now, and the word indexes. The record is only read."""

from __future__ import annotations

from specreg.store import drawings, items, routes, word_index
from specreg.store.database import WorksBook

DERIVED_FORM = 1
"""By which rules derived tables are filled. To be raised whenever words are cut, or rows derived, in another way: the
index must be told exactly the words it holds when they are taken out, and so cannot be kept up by other rules."""


def bring_up_to_date(book: WorksBook) -> None:
    """Make everything derived anew in a book that an older, or a newer, program filled by other rules."""
    if _form(book) == DERIVED_FORM:
        return
    book.db.execute("BEGIN IMMEDIATE")
    try:
        if _form(book) != DERIVED_FORM:
            rebuild_now(book)
            book.db.execute("UPDATE derived_form SET form = ?", (DERIVED_FORM,))
        book.db.execute("COMMIT")
    except BaseException:
        book.db.execute("ROLLBACK")
        raise


def _form(book: WorksBook) -> int:
    (form,) = book.db.execute("SELECT form FROM derived_form").fetchone()
    return int(form)


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
