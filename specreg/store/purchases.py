"""What is placed with suppliers, as recorded."""

from __future__ import annotations

from specreg.core.purchases import Purchase
from specreg.core.record_forms import purchase_form
from specreg.store.database import Act, WorksBook, record

_COLUMNS = "number, purchase, supplier, placed_on, due, revision, pieces, title, part, material, size, drawing, remarks"


def add(book: WorksBook, act: Act, order_no: str, order_id: int, item_id: int, purchase: Purchase) -> None:
    """Record one item on a purchase; one act names an item once."""
    _, _, digest = purchase_form(order_no, purchase)
    values = {name: getattr(purchase, name) for name in _COLUMNS.split(", ")}
    record(book, act, "purchase", {"item_id": item_id, "order_id": order_id, **values, "digest": digest})


def of_order(book: WorksBook, order_id: int) -> list[tuple[int, Purchase]]:
    """Every purchase of an order with the identity of its item, in the order recorded."""
    rows = book.db.execute(
        f"SELECT item_id, {_COLUMNS} FROM purchase WHERE order_id = ? ORDER BY entry, item_id", (order_id,)
    )
    return [(item_id, Purchase(*said)) for item_id, *said in rows]


def of_item(book: WorksBook, item_id: int) -> list[Purchase]:
    """Every purchase of one item, in the order recorded."""
    rows = book.db.execute(f"SELECT {_COLUMNS} FROM purchase WHERE item_id = ? ORDER BY entry", (item_id,))
    return [Purchase(*said) for said in rows]
