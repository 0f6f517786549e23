"""Reading the rows that a search found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from specreg.core.model import Item, Sheet
from specreg.store.database import WorksBook
from specreg.store.drawings import current_sheets
from specreg.store.items import CONTENT, item_of

_FOUND = f"""SELECT i.item_id, i.order_id, o.number, CASE WHEN i.note_id IS NOT NULL THEN 'open' ELSE coalesce(
    (SELECT r.letter FROM revision r JOIN item_version v ON v.id = i.version_id
     WHERE r.order_id = i.order_id AND r.entry >= v.entry ORDER BY r.seq LIMIT 1), '') END,
  {", ".join(f"i.{name}" for name in CONTENT)} FROM item_now i JOIN works_order o ON o.id = i.order_id"""
_AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class FoundItem:
    """An item found: `revision` is the letter it was last said in, or `open`."""

    item_id: int
    order_id: int
    order: str
    revision: str
    item: Item


def items_of(book: WorksBook, ids: Sequence[int]) -> list[FoundItem]:
    """Items by identity, in specification order."""
    found: list[FoundItem] = []
    for first in range(0, len(ids), _AT_ONCE):
        some = ids[first : first + _AT_ONCE]
        marks = ", ".join("?" * len(some))
        rows = book.db.execute(f"{_FOUND} WHERE i.item_id IN ({marks})", some)
        found += [FoundItem(row[0], row[1], row[2], row[3], item_of(row[4:])) for row in rows]
    return sorted(found, key=lambda one: (one.order_id, one.item.place_key))


def items_holding(book: WorksBook, signs: Sequence[str]) -> list[FoundItem]:
    """Items in which each of some signs of punctuation stands; read row by row, since no index holds punctuation."""
    whole = " || char(10) || ".join(f"i.{name}" for name in CONTENT if name not in ("kind", "layout", "state"))
    where = " AND ".join(f"instr({whole}, ?) > 0" for _ in signs)
    rows = book.db.execute(f"{_FOUND} WHERE {where} ORDER BY i.order_id, i.place_key", tuple(signs))
    return [FoundItem(row[0], row[1], row[2], row[3], item_of(row[4:])) for row in rows]


def sheets_of(book: WorksBook, ids: Sequence[int]) -> list[Sheet]:
    """Current sheets of drawings by identity."""
    return [sheet for drawing_id in ids for sheet in current_sheets(book, drawing_id)]


def sheets_holding(book: WorksBook, signs: Sequence[str]) -> list[Sheet]:
    """Current sheets in whose number, title or remarks each of some signs stands."""
    ids = [row[0] for row in book.db.execute("SELECT id FROM drawing ORDER BY number_key")]
    return [
        sheet
        for sheet in sheets_of(book, ids)
        if all(sign in f"{sheet.name}\n{sheet.title}\n{sheet.remarks}" for sign in signs)
    ]
