"""Works orders: their identity, what their heads say, and the works standards they stand on."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from specreg.core.model import Order
from specreg.core.numbering import number_key
from specreg.core.record_forms import order_form
from specreg.store.database import Act, WorksBook, as_json, insert, record


@dataclass(frozen=True, slots=True)
class OrderStanding:
    """An order where it stands: its head, the digest of its works standards, the entry that said so."""

    order_id: int
    order: Order
    standards: bytes
    entry: int


_HEAD = """SELECT o.id, o.number, o.numbering, v.title, v.customer, v.machines, v.spares, v.authority, v.units,
  v.standards_source, v.standards, v.entry
  FROM works_order o JOIN order_version v ON v.order_id = o.id"""


def _standing(row: tuple[Any, ...]) -> OrderStanding:
    order = Order(
        number=row[1], numbering=row[2], title=row[3], customer=row[4], machines=row[5], spares=row[6],
        authority=row[7], units=row[8], standards=row[9],
    )  # fmt: skip
    return OrderStanding(row[0], order, row[10], row[11])


def numbers(book: WorksBook) -> list[str]:
    """Numbers of all orders in the book, in their order."""
    return [number for (number,) in book.db.execute("SELECT number FROM works_order ORDER BY number_key")]


def by_number(book: WorksBook, number: str, entry: int | None = None) -> OrderStanding | None:
    """An order as it stands, or as it stood at an entry of the day-book; any case and spacing of the number."""
    return _one(book, "o.number_key = ?", number_key(number.replace(" ", "")), entry)


def by_id(book: WorksBook, order_id: int, entry: int | None = None) -> OrderStanding:
    """The same by identity."""
    found = _one(book, "o.id = ?", order_id, entry)
    if found is None:
        raise LookupError(f"no order {order_id}")
    return found


def _one(book: WorksBook, where: str, value: object, entry: int | None) -> OrderStanding | None:
    row = book.db.execute(
        f"{_HEAD} WHERE {where} AND v.entry <= ? ORDER BY v.entry DESC LIMIT 1",
        (value, entry if entry is not None else 2**62),
    ).fetchone()
    return _standing(row) if row else None


def add(book: WorksBook, order: Order) -> int:
    """A new order, without a head yet."""
    key = number_key(order.number.replace(" ", ""))
    return insert(book.db, "works_order", {"number": order.number, "number_key": key, "numbering": order.numbering})


def say(book: WorksBook, act: Act, order_id: int, order: Order, standards: bytes) -> bool:
    """Record what the head of an order says now; returns whether that is new."""
    _, _, digest = order_form(order, standards)
    last = book.db.execute(
        "SELECT digest FROM order_version WHERE order_id = ? ORDER BY entry DESC LIMIT 1", (order_id,)
    ).fetchone()
    if last and last[0] == digest:
        return False
    record(
        book,
        act,
        "order_version",
        {
            "order_id": order_id, "title": order.title, "customer": order.customer, "machines": order.machines,
            "spares": order.spares, "authority": order.authority, "units": order.units,
            "standards_source": order.standards, "standards": standards, "digest": digest,
        },
    )  # fmt: skip
    return True


def keep_standards(book: WorksBook, content: Mapping[str, Any], source: str, at: str) -> bytes:
    """Keep a set of works standards by its digest; the same content is kept once."""
    text = as_json(content)
    digest = hashlib.sha256(text.encode()).digest()
    known = book.db.execute("SELECT 1 FROM standards WHERE digest = ?", (digest,)).fetchone()
    if not known:
        insert(book.db, "standards", {"digest": digest, "read_at": at, "source": source, "content": text})
    return digest


def standards_content(book: WorksBook, digest: bytes) -> dict[str, Any]:
    """A kept set of works standards, as plain data."""
    (text,) = book.db.execute("SELECT content FROM standards WHERE digest = ?", (digest,)).fetchone()
    content: dict[str, Any] = json.loads(text)
    return content
