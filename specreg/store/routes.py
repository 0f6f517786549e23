"""Routes of items: in the record, open under a note, and as they stand now."""

from __future__ import annotations

import json
from functools import lru_cache
from itertools import groupby
from operator import itemgetter
from typing import Any

from specreg.core.model import Route, Step
from specreg.core.record_forms import route_form
from specreg.store.database import Act, WorksBook, as_json, insert, put, record

_STEP = ("place", "department", "operation", "basis", "extra", "because")


def _steps_json(route: Route) -> str:
    return as_json([[getattr(step, name) for name in _STEP] for step in route.steps])


@lru_cache(maxsize=4096)
def _route(no_action: str, because: str, steps: str) -> Route:
    """A route out of its texts. An order of thousands of items has some two hundred routes, each made once."""
    return Route(tuple(_step(*values) for values in json.loads(steps)), no_action, because)


_step = lru_cache(maxsize=4096)(Step)


def all_now(book: WorksBook, order_id: int) -> dict[int, Route]:
    """Every route of an order as it stands, by item."""
    rows = book.db.execute("SELECT item_id, no_action, because, steps FROM route_now WHERE order_id = ?", (order_id,))
    return {row[0]: _route(row[1], row[2], row[3]) for row in rows}


def one_now(book: WorksBook, item_id: int) -> Route | None:
    """The route of one item as it stands; None when it has never been allocated."""
    row = book.db.execute("SELECT no_action, because, steps FROM route_now WHERE item_id = ?", (item_id,)).fetchone()
    return _route(*row) if row else None


def under_note(book: WorksBook, note_id: int) -> dict[int, Route]:
    """Routes open under a note, by item."""
    rows = book.db.execute("SELECT item_id, no_action, because, steps FROM open_route WHERE note_id = ?", (note_id,))
    return {row[0]: _route(row[1], row[2], row[3]) for row in rows}


def note_of_open(book: WorksBook, item_id: int) -> int | None:
    """Under which note the route of an item stands open."""
    row = book.db.execute("SELECT note_id FROM open_route WHERE item_id = ?", (item_id,)).fetchone()
    return row[0] if row else None


def put_open(
    book: WorksBook, order_no: str, order_id: int, item_id: int, number: str, note_id: int, route: Route
) -> None:
    """Write a route under an open note."""
    _, _, digest = route_form(order_no, number, route)
    row: dict[str, Any] = {
        "item_id": item_id, "order_id": order_id, "note_id": note_id, "no_action": route.no_action,
        "because": route.because, "steps": _steps_json(route), "digest": digest,
    }  # fmt: skip
    put(book.db, "open_route", ["item_id"], row)
    put(book.db, "route_now", ["item_id"], row)


def take_back_open(book: WorksBook, item_id: int) -> None:
    """Forget the open route of an item: it stands as issued, or has none."""
    book.db.execute("DELETE FROM open_route WHERE item_id = ?", (item_id,))
    _stand_as_issued(book, item_id)


def _stand_as_issued(book: WorksBook, item_id: int) -> None:
    row = book.db.execute(
        "SELECT entry, order_id, no_action, because, digest FROM route WHERE item_id = ? ORDER BY entry DESC LIMIT 1",
        (item_id,),
    ).fetchone()
    if row is None:
        book.db.execute("DELETE FROM route_now WHERE item_id = ?", (item_id,))
        return
    route = Route(_recorded_steps(book, item_id, row[0]), row[2], row[3])
    put(
        book.db,
        "route_now",
        ["item_id"],
        {
            "item_id": item_id, "order_id": row[1], "note_id": None, "no_action": row[2], "because": row[3],
            "steps": _steps_json(route), "digest": row[4],
        },
    )  # fmt: skip


def _recorded_steps(book: WorksBook, item_id: int, entry: int) -> tuple[Step, ...]:
    rows = book.db.execute(
        f"SELECT {', '.join(_STEP)} FROM route_step WHERE item_id = ? AND entry = ? ORDER BY step", (item_id, entry)
    )
    return tuple(_step(*row) for row in rows)


def record_open(book: WorksBook, act: Act, order_no: str, item_id: int, number: str) -> bool:
    """Write the open route of an item into the record, and clear it.

    Nothing is recorded when it is the route last recorded; returns whether anything was.
    """
    row = book.db.execute(
        "SELECT order_id, note_id, no_action, because, steps FROM open_route WHERE item_id = ?", (item_id,)
    ).fetchone()
    if row is None:
        return False
    order_id, note_id = row[0], row[1]
    route = _route(*row[2:])
    _, _, digest = route_form(order_no, number, route)
    last = book.db.execute(
        "SELECT digest FROM route WHERE item_id = ? ORDER BY entry DESC LIMIT 1", (item_id,)
    ).fetchone()
    new = last is None or last[0] != digest
    if new:
        record(
            book,
            act,
            "route",
            {
                "item_id": item_id, "order_id": order_id, "note_id": note_id, "no_action": route.no_action,
                "because": route.because, "digest": digest,
            },
        )  # fmt: skip
        for count, step in enumerate(route.steps, 1):
            values = {name: getattr(step, name) for name in _STEP}
            insert(
                book.db,
                "route_step",
                {"item_id": item_id, "entry": act.entry, "step": count, "order_id": order_id, **values},
            )
    book.db.execute("DELETE FROM open_route WHERE item_id = ?", (item_id,))
    book.db.execute("UPDATE route_now SET note_id = NULL WHERE item_id = ?", (item_id,))
    return new


def issued_at(book: WorksBook, order_id: int, entry: int) -> dict[int, Route]:
    """Every route of an order as it stood at an entry, by item."""
    heads = book.db.execute(
        "SELECT item_id, entry, no_action, because FROM route r WHERE order_id = ? AND entry <= ? AND NOT EXISTS "
        "(SELECT 1 FROM route n WHERE n.item_id = r.item_id AND n.entry > r.entry AND n.entry <= ?)",
        (order_id, entry, entry),
    ).fetchall()
    rows = book.db.execute(
        f"SELECT item_id, entry, {', '.join(_STEP)} FROM route_step WHERE order_id = ? AND entry <= ? "
        "ORDER BY item_id, entry, step",
        (order_id, entry),
    )
    steps = {said: tuple(_step(*row[2:]) for row in group) for said, group in groupby(rows, key=itemgetter(0, 1))}
    return {head[0]: Route(steps.get((head[0], head[1]), ()), head[2], head[3]) for head in heads}


def one_at(book: WorksBook, item_id: int, entry: int) -> Route | None:
    """The route of one item as it stood at an entry."""
    head = book.db.execute(
        "SELECT entry, no_action, because FROM route WHERE item_id = ? AND entry <= ? ORDER BY entry DESC LIMIT 1",
        (item_id, entry),
    ).fetchone()
    return Route(_recorded_steps(book, item_id, head[0]), head[1], head[2]) if head else None


def rebuild_now(book: WorksBook, order_id: int) -> None:
    """Make the derived rows of an order anew."""
    for (item_id,) in book.db.execute("SELECT id FROM item WHERE order_id = ?", (order_id,)).fetchall():
        row = book.db.execute("SELECT * FROM open_route WHERE item_id = ?", (item_id,)).fetchone()
        if row is None:
            _stand_as_issued(book, item_id)
        else:
            names = ("item_id", "order_id", "note_id", "no_action", "because", "steps", "digest")
            put(book.db, "route_now", ["item_id"], dict(zip(names, row, strict=True)))
