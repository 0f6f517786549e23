"""Items: their identities, their versions in the record, their open edits, and where each stands now."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from specreg.core.model import FIELDS, Item, Kind, Layout, State
from specreg.core.numbering import number_key
from specreg.core.record_forms import item_form
from specreg.store import word_index
from specreg.store.database import Act, WorksBook, as_json, insert, put, record

CONTENT = (
    "number", "kind", "layout", "section", "title", "text", *(field.name for field in FIELDS), "other", "state",
    "reason",
)  # fmt: skip
"""Columns that hold what an item says, the same in the recorded, open and derived tables."""

_COLUMNS = ", ".join(CONTENT)
# The columns stand in the order of the record's fields; by name it would take twice as long, row by row.
_MAKE: Callable[..., Item] = Item


@dataclass(frozen=True, slots=True)
class Standing:
    """An item where it stands: `note_id` the open note it is edited under, None as issued; `version_id` its last
    row in the record, None when never issued; `digest` of what it says now."""

    item_id: int
    order_id: int
    note_id: int | None
    version_id: int | None
    item: Item
    digest: bytes


def columns_of(item: Item) -> dict[str, Any]:
    """An item as column values."""
    row: dict[str, Any] = {name: getattr(item, name) for name in CONTENT}
    row["kind"], row["layout"], row["state"] = item.kind.value, item.layout.value, item.state.value
    row["other"] = as_json(item.other)
    return row


def item_of(values: Iterable[Any]) -> Item:
    """An item from column values in the order of `CONTENT`."""
    number, kind, layout, *said, other, state, reason = values
    labelled = () if other == "[]" else tuple((label, text) for label, text in json.loads(other))
    return _MAKE(number, Kind(kind), Layout(layout), *said, labelled, State(state), reason)


def item_as_json(item: Item) -> str:
    """An item as kept in the log of open edits."""
    return as_json(columns_of(item))


def item_from_json(text: str) -> Item:
    """The inverse of `item_as_json`."""
    row = json.loads(text)
    return item_of(row[name] for name in CONTENT)


# Where items stand now ----------------------------------------------------------------------------------------------

_STANDING = f"SELECT item_id, order_id, note_id, version_id, digest, {_COLUMNS} FROM item_now"


def _standing(row: tuple[Any, ...]) -> Standing:
    return Standing(row[0], row[1], row[2], row[3], item_of(row[5:]), row[4])


def by_id(book: WorksBook, item_id: int) -> Standing | None:
    """Where one item stands, by its identity."""
    row = book.db.execute(f"{_STANDING} WHERE item_id = ?", (item_id,)).fetchone()
    return _standing(row) if row else None


def by_number(book: WorksBook, order_id: int, number: str) -> Standing | None:
    """Where the item of a number stands; any case, leading zeros do not matter."""
    row = book.db.execute(
        f"{_STANDING} WHERE order_id = ? AND number_key = ? ORDER BY state = 'deleted' LIMIT 1",
        (order_id, number_key(number)),
    ).fetchone()
    return _standing(row) if row else None


def all_now(book: WorksBook, order_id: int) -> Iterator[Standing]:
    """Every item of an order as it stands, in specification order."""
    for row in book.db.execute(f"{_STANDING} WHERE order_id = ? ORDER BY place_key", (order_id,)):
        yield _standing(row)


def under_note(book: WorksBook, note_id: int) -> list[Standing]:
    """Items edited under an open note, in specification order."""
    rows = book.db.execute(f"{_STANDING} WHERE note_id = ? ORDER BY place_key", (note_id,)).fetchall()
    return [_standing(row) for row in rows]


def count_under(book: WorksBook, note_id: int) -> int:
    """How many items are edited under an open note."""
    (found,) = book.db.execute("SELECT count(*) FROM open_item WHERE note_id = ?", (note_id,)).fetchone()
    return int(found)


def recorded_under(book: WorksBook, note_id: int) -> list[tuple[int, int, Item]]:
    """What an issued note brought into the record, in specification order: (identity, entry, what it said)."""
    rows = book.db.execute(
        f"SELECT item_id, entry, {_COLUMNS} FROM item_version WHERE note_id = ? ORDER BY place_key", (note_id,)
    )
    return [(row[0], row[1], item_of(row[2:])) for row in rows]


def count_recorded_under(book: WorksBook, note_id: int) -> int:
    """How many rows an issued note brought into the record."""
    (found,) = book.db.execute("SELECT count(*) FROM item_version WHERE note_id = ?", (note_id,)).fetchone()
    return int(found)


def section_range(section: str) -> tuple[str, str]:
    """Bounds of `place_key` of a section's rows: from the first, up to but not including the second."""
    key = number_key(section)
    return f"{key} ", f"{key}!"


def _within(section: str) -> tuple[str, tuple[str, ...]]:
    if not section:
        return "", ()
    return " AND place_key >= ? AND place_key < ?", section_range(section)


def count(book: WorksBook, order_id: int, section: str = "") -> int:
    """How many rows a section, or the whole order, has."""
    where, bounds = _within(section)
    (found,) = book.db.execute(
        f"SELECT count(*) FROM item_now WHERE order_id = ?{where}", (order_id, *bounds)
    ).fetchone()
    return int(found)


def page(book: WorksBook, order_id: int, section: str, first: int, count: int) -> list[Standing]:
    """Rows of a section, or of the whole order, in specification order."""
    where, bounds = _within(section)
    rows = book.db.execute(
        f"{_STANDING} WHERE order_id = ?{where} ORDER BY place_key LIMIT ? OFFSET ?", (order_id, *bounds, count, first)
    )
    return [_standing(row) for row in rows.fetchall()]


def row_of(book: WorksBook, order_id: int, section: str, number: str) -> int:
    """In which row an item stands in a section or the whole order; -1 when it does not."""
    where, bounds = _within(section)
    (place,) = book.db.execute(
        f"SELECT max(place_key) FROM item_now WHERE order_id = ? AND number_key = ?{where}",
        (order_id, number_key(number), *bounds),
    ).fetchone()
    if place is None:
        return -1
    (before,) = book.db.execute(
        f"SELECT count(*) FROM item_now WHERE order_id = ?{where} AND place_key < ?", (order_id, *bounds, place)
    ).fetchone()
    return int(before)


def taken_numbers(book: WorksBook, order_id: int) -> set[str]:
    """`number_key` of every number ever used in an order, live, deleted or reserved."""
    rows = book.db.execute(
        "SELECT number_key FROM item_now WHERE order_id = ? "
        "UNION SELECT number_key FROM item_version WHERE order_id = ?",
        (order_id, order_id),
    )
    return {key for (key,) in rows}


# Open edits ---------------------------------------------------------------------------------------------------------


def new_identity(book: WorksBook, order_id: int) -> int:
    """A new item without a word said of it yet."""
    return insert(book.db, "item", {"order_id": order_id})


def put_open(book: WorksBook, order_no: str, order_id: int, item_id: int, note_id: int, item: Item) -> None:
    """Write what an item shall say under an open note, and where it stands now."""
    _, _, digest = item_form(order_no, item)
    row = {
        "item_id": item_id, "order_id": order_id, "note_id": note_id, "number_key": number_key(item.number),
        "place_key": item.place_key, **columns_of(item), "digest": digest,
    }  # fmt: skip
    put(book.db, "open_item", ["item_id"], row)
    version = book.db.execute("SELECT max(id) FROM item_version WHERE item_id = ?", (item_id,)).fetchone()[0]
    _set_now(book, {**row, "version_id": version}, item)


def free_numbers(book: WorksBook, item_ids: Iterable[int]) -> None:
    """Let go of the numbers of items that are about to be written anew: those of a renumbered specification change
    places, and two cannot hold one number even for a moment."""
    book.db.executemany(
        "UPDATE item_now SET number_key = '~' || item_id WHERE item_id = ?", [(item_id,) for item_id in item_ids]
    )


def take_back_open(book: WorksBook, item_id: int) -> None:
    """Forget the open edit of an item: it stands as issued again, or not at all when it never was."""
    book.db.execute("DELETE FROM open_item WHERE item_id = ?", (item_id,))
    _stand_as_issued(book, item_id)


def _stand_as_issued(book: WorksBook, item_id: int) -> None:
    row = book.db.execute(
        f"SELECT id, order_id, number_key, place_key, digest, {_COLUMNS} FROM item_version "
        "WHERE item_id = ? ORDER BY entry DESC LIMIT 1",
        (item_id,),
    ).fetchone()
    if row is None:
        _drop_now(book, item_id)
        return
    item = item_of(row[5:])
    now = {
        "item_id": item_id, "order_id": row[1], "note_id": None, "version_id": row[0], "number_key": row[2],
        "place_key": row[3], **columns_of(item), "digest": row[4],
    }  # fmt: skip
    _set_now(book, now, item)


def _set_now(book: WorksBook, row: dict[str, Any], item: Item) -> None:
    before = by_id(book, int(row["item_id"]))
    if before is None or before.item != item:
        word_index.replace_item(book, int(row["item_id"]), before.item if before else None, item)
    put(book.db, "item_now", ["item_id"], row)


def _drop_now(book: WorksBook, item_id: int) -> None:
    before = by_id(book, item_id)
    if before is not None:
        word_index.replace_item(book, item_id, before.item, None)
        book.db.execute("DELETE FROM item_now WHERE item_id = ?", (item_id,))
        book.db.execute("DELETE FROM call_now WHERE item_id = ?", (item_id,))
        book.db.execute("DELETE FROM route_now WHERE item_id = ?", (item_id,))
        book.db.execute("DELETE FROM open_route WHERE item_id = ?", (item_id,))


# The record ---------------------------------------------------------------------------------------------------------


def record_open(book: WorksBook, act: Act, order_no: str, standing: Standing) -> bool:
    """Write the open edit of an item into the record and clear it.

    Nothing is recorded when it says what the last row in the record says; returns whether anything was.
    """
    item = standing.item
    last = book.db.execute(
        "SELECT digest FROM item_version WHERE item_id = ? ORDER BY entry DESC LIMIT 1", (standing.item_id,)
    ).fetchone()
    version = standing.version_id
    new = last is None or last[0] != standing.digest
    if new:
        _, _, digest = item_form(order_no, item)
        version = record(
            book,
            act,
            "item_version",
            {
                "item_id": standing.item_id, "order_id": standing.order_id, "note_id": standing.note_id,
                "number_key": number_key(item.number), "place_key": item.place_key, **columns_of(item),
                "digest": digest,
            },
        )  # fmt: skip
    book.db.execute("DELETE FROM open_item WHERE item_id = ?", (standing.item_id,))
    book.db.execute("UPDATE item_now SET note_id = NULL, version_id = ? WHERE item_id = ?", (version, standing.item_id))
    return new


def issued_at(book: WorksBook, order_id: int, entry: int) -> Iterator[tuple[int, Item]]:
    """Every item of an order as it stood at an entry of the day-book, in specification order, with its identity."""
    rows = book.db.execute(
        f"SELECT item_id, {_COLUMNS} FROM item_version v WHERE order_id = ? AND entry <= ? AND NOT EXISTS "
        "(SELECT 1 FROM item_version n WHERE n.item_id = v.item_id AND n.entry > v.entry AND n.entry <= ?) "
        "ORDER BY place_key",
        (order_id, entry, entry),
    )
    for row in rows:
        yield row[0], item_of(row[1:])


def one_at(book: WorksBook, item_id: int, entry: int) -> Item | None:
    """What one item said at an entry; None when it was not issued then."""
    row = book.db.execute(
        f"SELECT {_COLUMNS} FROM item_version WHERE item_id = ? AND entry <= ? ORDER BY entry DESC LIMIT 1",
        (item_id, entry),
    ).fetchone()
    return item_of(row) if row else None


def number_at(book: WorksBook, order_id: int, number: str, entry: int) -> tuple[int, Item] | None:
    """The item that bore a number at an entry."""
    bearers: list[tuple[int, Item]] = []
    for (item_id,) in book.db.execute(
        "SELECT DISTINCT item_id FROM item_version WHERE order_id = ? AND number_key = ? AND entry <= ?",
        (order_id, number_key(number), entry),
    ).fetchall():
        item = one_at(book, item_id, entry)
        if item is not None and number_key(item.number) == number_key(number):
            bearers.append((item_id, item))
    return min(bearers, key=lambda bearer: bearer[1].state is State.DELETED, default=None)


def changed_between(book: WorksBook, order_id: int, first: int, last: int) -> list[int]:
    """Identities of items with a row in the record after entry `first`, up to and including `last`."""
    rows = book.db.execute(
        "SELECT DISTINCT item_id FROM item_version WHERE order_id = ? AND entry > ? AND entry <= ?",
        (order_id, first, last),
    )
    return [item_id for (item_id,) in rows]


def count_at(book: WorksBook, order_id: int, entry: int) -> int:
    """How many items of an order, sections and clauses included, had been recorded by an entry."""
    (found,) = book.db.execute(
        "SELECT count(DISTINCT item_id) FROM item_version WHERE order_id = ? AND entry <= ?", (order_id, entry)
    ).fetchone()
    return int(found)


def versions(book: WorksBook, item_id: int) -> list[tuple[int, int, Item]]:
    """Every row of an item in the record, oldest first: (entry, note_id, what it said)."""
    rows = book.db.execute(
        f"SELECT entry, note_id, {_COLUMNS} FROM item_version WHERE item_id = ? ORDER BY entry", (item_id,)
    )
    return [(row[0], row[1], item_of(row[2:])) for row in rows]


def section_counts(book: WorksBook, order_id: int, entry: int) -> list[tuple[str, str, int, int, int, int, int, int]]:
    """For the index page, a row a section: number, title, live items; rows added, altered and deleted in the revision
    issued at `entry` against the one before, each in one of the three; rows open under a note; live safety items."""
    rows = book.db.execute(
        """WITH issued AS MATERIALIZED (
             SELECT v.item_id, v.state, v.digest, p.state AS was, p.digest AS was_digest
             FROM item_version v LEFT JOIN item_version p ON p.item_id = v.item_id
               AND p.entry = (SELECT max(o.entry) FROM item_version o WHERE o.item_id = v.item_id AND o.entry < v.entry)
             WHERE v.order_id = ?1 AND v.entry = ?2),
           change AS MATERIALIZED (
             SELECT item_id, CASE WHEN was IS NULL OR (was <> 'live' AND state = 'live') THEN 'added'
               WHEN was <> 'deleted' AND state = 'deleted' THEN 'deleted'
               WHEN digest <> was_digest THEN 'altered' END AS kind
             FROM issued)
           SELECT i.section, max(CASE i.kind WHEN 'section' THEN i.title ELSE '' END),
             sum(i.kind = 'item' AND i.state = 'live'),
             count(CASE c.kind WHEN 'added' THEN 1 END), count(CASE c.kind WHEN 'altered' THEN 1 END),
             count(CASE c.kind WHEN 'deleted' THEN 1 END), sum(i.note_id IS NOT NULL),
             sum(i.safety <> '' AND i.state = 'live')
           FROM item_now i LEFT JOIN change c ON c.item_id = i.item_id
           WHERE i.order_id = ?1 GROUP BY i.section ORDER BY min(i.place_key)""",
        (order_id, entry),
    )
    return rows.fetchall()


def rebuild_now(book: WorksBook, order_id: int) -> None:
    """Make the derived rows of an order anew from the record and the open edits."""
    db: sqlite3.Connection = book.db
    for (item_id,) in db.execute("SELECT id FROM item WHERE order_id = ?", (order_id,)).fetchall():
        open_row = db.execute(f"SELECT note_id, {_COLUMNS} FROM open_item WHERE item_id = ?", (item_id,)).fetchone()
        if open_row is None:
            _stand_as_issued(book, item_id)
        else:
            order_no = db.execute("SELECT number FROM works_order WHERE id = ?", (order_id,)).fetchone()[0]
            put_open(book, order_no, order_id, item_id, open_row[0], item_of(open_row[1:]))
