"""Proving the book: every digest recomputed, every seal and the day-book's chain followed from the first entry.

Stands on nothing but what the rows say, so that it finds what was altered with the triggers taken out. What it cannot
find: the last revision cut off, or the whole file replaced by an older one; those show only against a seal on paper.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from typing import Any

from specreg.core.model import Note, NumberOff, Order, Route, Sheet, Step
from specreg.core.numbering import number_key
from specreg.core.purchases import Purchase
from specreg.core.record_forms import (
    call_form,
    extract_form,
    item_form,
    listed_form,
    note_form,
    order_form,
    passed_form,
    purchase_form,
    revision_form,
    route_form,
    sheet_form,
    signature_form,
    total_form,
)
from specreg.core.seals import SEAL_FORM, chained_seal, content_digest
from specreg.store import revisions
from specreg.store.database import WorksBook
from specreg.store.entry_digests import BESIDE, NOTE, entry_digest, row_print
from specreg.store.items import CONTENT, item_of
from specreg.store.triggers import altered_triggers

Row = tuple[Any, ...]


def differences(book: WorksBook) -> Iterator[str]:
    """Sentences naming each thing that does not agree; none when the book is whole."""
    (check,) = book.db.execute("PRAGMA integrity_check(1)").fetchone()
    if check != "ok":
        yield f"The file is damaged: {check}."
    for rule in altered_triggers(book.db):
        yield f"The rule {rule} that guards the record has been taken out, altered or put in."
    yield from _identities(book)
    recorded: dict[int, list[bytes]] = {}
    for table, query, again, name in _TABLES:
        beside = len(BESIDE[table])
        for row in book.db.execute(_with_beside(table, query)):
            entry, digest, *values = row[: len(row) - beside]
            recorded.setdefault(entry, []).append(row_print(table, digest, row[len(row) - beside :]))
            if not _agrees(again, tuple(values), digest):
                yield f"{table}: {name(tuple(values))}, recorded by entry {entry}, has been altered."
    yield from _routes(book, recorded)
    yield from _day_book(book, recorded)
    yield from _seals(book)


def _with_beside(table: str, query: str) -> str:
    """The query of a table, with the columns that only the entry's digest covers put last."""
    columns = ["(SELECT number FROM note WHERE id = t.note_id)" if name == NOTE else name for name in BESIDE[table]]
    return query.replace(f" FROM {table} t", "".join(f", {column}" for column in columns) + f" FROM {table} t")


def _agrees(again: Callable[[Row], bytes], values: Row, digest: bytes) -> bool:
    try:
        return again(values) == digest
    except (ValueError, TypeError):
        # A kind, a state or a list of other fields that no program wrote.
        return False


def _identities(book: WorksBook) -> Iterator[str]:
    """What the identities say beside their numbers, and that nothing hangs on one that is gone."""
    for table, _, parent, _ in book.db.execute("PRAGMA foreign_key_check").fetchall():
        yield f"{parent}: a row that {table} stands on has been taken away."
    for digest, content in book.db.execute("SELECT digest, content FROM standards"):
        if hashlib.sha256(content.encode()).digest() != digest:
            yield f"standards: the works standards kept as {digest.hex()[:8]} have been altered."
    for number, key in book.db.execute("SELECT number, number_key FROM drawing"):
        if number_key(number) != key:
            yield f"drawing: the sort key of drawing {number} has been altered."
    for number, key in book.db.execute("SELECT number, number_key FROM works_order"):
        if number_key(number.replace(" ", "")) != key:
            yield f"works_order: the sort key of order {number} has been altered."
    for number, purchase, order, keys in book.db.execute(_PURCHASED):
        if keys is not None and number_key(number) not in keys.split("\n"):
            yield f"purchase: item {number} on {purchase} of order {order} is put down to another item."
    for thing, query in _OUT_OF_PLACE.items():
        for number, order in book.db.execute(query):
            yield f"{thing}: {number} of order {order} is put down to another order, or to another {thing}."


# What no digest covers, since row numbers are left out of all of them: that rows hang together as they must.
_OUT_OF_PLACE = {
    "item": """SELECT v.number, o.number FROM item_version v JOIN works_order o ON o.id = v.order_id
        LEFT JOIN item i ON i.id = v.item_id
        WHERE i.order_id IS NOT v.order_id OR (o.numbering = 'ours' AND EXISTS (SELECT 1 FROM item_version n
          WHERE n.item_id = v.item_id AND n.number_key <> v.number_key))""",
    "note": """SELECT n.number, o.number FROM note_version v JOIN works_order o ON o.id = v.order_id
        LEFT JOIN note n ON n.id = v.note_id WHERE n.order_id IS NOT v.order_id""",
    "route": """SELECT r.item_id, o.number FROM route r JOIN works_order o ON o.id = r.order_id
        LEFT JOIN item i ON i.id = r.item_id WHERE i.order_id IS NOT r.order_id""",
    "purchase": """SELECT p.purchase, o.number FROM purchase p JOIN works_order o ON o.id = p.order_id
        LEFT JOIN item i ON i.id = p.item_id WHERE i.order_id IS NOT p.order_id""",
    "route_step": """SELECT s.item_id, o.number FROM route_step s JOIN works_order o ON o.id = s.order_id
        LEFT JOIN route r ON r.item_id = s.item_id AND r.entry = s.entry WHERE r.order_id IS NOT s.order_id""",
}


_PURCHASED = """SELECT p.number, p.purchase, o.number,
  (SELECT group_concat(v.number_key, char(10)) FROM item_version v WHERE v.item_id = p.item_id)
  FROM purchase p JOIN works_order o ON o.id = p.order_id"""
"""Each item on a purchase with every number its item ever had in the record; none for one never issued."""


def _order_number(alias: str) -> str:
    return f"(SELECT number FROM works_order WHERE id = {alias}.order_id)"


_ITEM_NUMBER = (
    "(SELECT number FROM item_version v WHERE v.item_id = t.item_id AND v.entry <= t.entry "
    "ORDER BY v.entry DESC LIMIT 1)"
)
_T = _order_number("t")

_TABLES: tuple[tuple[str, str, Callable[[Row], bytes], Callable[[Row], str]], ...] = (
    (
        "item_version",
        f"SELECT entry, digest, {_T}, {', '.join(CONTENT)} FROM item_version t",
        lambda row: item_form(row[0], item_of(row[1:]))[2],
        lambda row: f"item {row[1]} of order {row[0]}",
    ),
    (
        "order_version",
        f"SELECT entry, digest, {_T}, title, customer, machines, spares, authority, units, "
        "(SELECT numbering FROM works_order WHERE id = t.order_id), standards FROM order_version t",
        lambda row: order_form(Order(*row[:8]), row[8])[2],
        lambda row: f"the head of order {row[0]}",
    ),
    (
        "item_total",
        f"SELECT entry, digest, {_T}, {_ITEM_NUMBER}, off, for_machines, spares, written, working FROM item_total t",
        lambda row: total_form(row[0], row[1] or "", NumberOff(*row[2:]))[2],
        lambda row: f"the number off of item {row[1]} of order {row[0]}",
    ),
    (
        "item_drawing",
        f"SELECT entry, digest, (SELECT o.number FROM item i JOIN works_order o ON o.id = i.order_id "
        f"WHERE i.id = t.item_id), {_ITEM_NUMBER}, written, "
        "coalesce((SELECT number FROM drawing WHERE id = t.drawing_id), ''), sheet FROM item_drawing t",
        lambda row: call_form(*row)[2],
        lambda row: f"drawing {row[2]} called up by item {row[1]} of order {row[0]}",
    ),
    (
        "sheet_version",
        'SELECT entry, digest, (SELECT number FROM drawing WHERE id = t.drawing_id), sheet, "of", title, size, scale, '
        'hand, mark, date, stage, drawn, checked, approved, planned, replaces, machines, remarks, "group" '
        "FROM sheet_version t",
        lambda row: sheet_form(Sheet(*row))[2],
        lambda row: f"drawing {row[0]} sheet {row[1] or '-'} revision {row[7] or '(none)'}",
    ),
    (
        "order_drawing",
        f"SELECT entry, digest, {_T}, (SELECT number FROM drawing WHERE id = t.drawing_id), listed "
        "FROM order_drawing t",
        lambda row: listed_form(row[0], row[1], bool(row[2]))[2],
        lambda row: f"drawing {row[1]} on the list of order {row[0]}",
    ),
    (
        "note_version",
        f"SELECT entry, digest, {_T}, (SELECT number FROM note WHERE id = t.note_id), reason, urgency, authority, "
        "machines, words, state FROM note_version t",
        lambda row: note_form(row[0], Note(*row[1:]))[2],
        lambda row: f"note {row[1]} of order {row[0]}",
    ),
    (
        "signature",
        f"SELECT entry, digest, {_T}, (SELECT number FROM note WHERE id = t.note_id), signed_as, person, name, "
        "signed_at, signed FROM signature t",
        lambda row: signature_form(*row)[2],
        lambda row: f"the signature of {row[3]} under note {row[1]} of order {row[0]}",
    ),
    (
        "revision",
        f"SELECT entry, digest, {_T}, letter, issued_on, issued_by, drawn, checked, approved, seal FROM revision t",
        lambda row: revision_form(
            row[0],
            row[1],
            list(zip(("letter", "issued on", "issued by", "drawn", "checked", "approved"), row[1:7], strict=True)),
            row[7],
        )[2],
        lambda row: f"revision {row[1]} of order {row[0]}",
    ),
    (
        "extract",
        f"SELECT entry, digest, {_T}, department, number, (SELECT letter FROM revision r WHERE r.order_id = t.order_id "
        "AND r.seq = t.seq), content, seal FROM extract t",
        lambda row: extract_form(*row)[2],
        lambda row: f"extract {row[2]} for {row[1]} of order {row[0]}",
    ),
    (
        "fault_passed",
        f"SELECT entry, digest, {_T}, fault, subject, text, person, reason FROM fault_passed t",
        lambda row: passed_form(*row)[2],
        lambda row: f"the fault '{row[1]}' let pass at {row[2]} of order {row[0]}",
    ),
    (
        "purchase",
        f"SELECT entry, digest, {_T}, number, purchase, supplier, placed_on, due, revision, pieces, title, part, "
        "material, size, drawing, remarks FROM purchase t",
        lambda row: purchase_form(row[0], Purchase(*row[1:]))[2],
        lambda row: f"item {row[1]} on purchase {row[2]} of order {row[0]}",
    ),
)


def _routes(book: WorksBook, recorded: dict[int, list[bytes]]) -> Iterator[str]:
    heads = book.db.execute(
        _with_beside("route", f"SELECT item_id, entry, digest, {_T}, {_ITEM_NUMBER}, no_action, because FROM route t")
    ).fetchall()
    for item_id, entry, digest, order, number, no_action, because, *beside in heads:
        recorded.setdefault(entry, []).append(row_print("route", digest, beside))
        steps = book.db.execute(
            "SELECT place, department, operation, basis, extra, because FROM route_step "
            "WHERE item_id = ? AND entry = ? ORDER BY step",
            (item_id, entry),
        )
        route = Route(tuple(Step(*step) for step in steps), no_action, because)
        if route_form(order, number or "", route)[2] != digest:
            yield f"route: the route of item {number} of order {order}, recorded by entry {entry}, has been altered."


def _day_book(book: WorksBook, recorded: dict[int, list[bytes]]) -> Iterator[str]:
    before, expected = b"", 1
    rows = book.db.execute(
        """SELECT entry, closed, digest, at, person, host,
             coalesce((SELECT number FROM works_order WHERE id = d.order_id), ''), act, words
           FROM day_book d ORDER BY entry"""
    )
    for entry, closed, digest, *head in rows:
        at, person, _, _, act, _ = head
        if entry != expected:
            yield f"day_book: entry {expected} is missing."
            (before,) = book.db.execute(
                "SELECT coalesce((SELECT digest FROM day_book WHERE entry < ? ORDER BY entry DESC LIMIT 1), x'')",
                (entry,),
            ).fetchone()
        again = entry_digest(before, [str(entry), *head], recorded.pop(entry, []))
        if again != digest:
            yield (
                f"day_book: entry {entry} ({act}, {person}, {at}) does not agree with the rows it recorded: "
                "one was taken away, added or altered."
            )
        if not closed:
            yield f"day_book: entry {entry} ({act}, {person}, {at}) stands open."
        before, expected = digest or b"", entry + 1
    for entry in sorted(recorded):
        yield f"day_book: entry {entry} is missing, though rows were recorded by it."


def _seals(book: WorksBook) -> Iterator[str]:
    for order_id, order_no in book.db.execute("SELECT id, number FROM works_order").fetchall():
        previous, after, expected = None, 0, 1
        for one in revisions.of_order(book, order_id):
            name = f"Revision {one.letter} of order {order_no}"
            if one.seq != expected:
                yield f"{name} follows a revision that is missing."
            if one.previous != previous:
                yield f"{name} is not chained to the revision before it."
            count, content = content_digest(revisions.sealed_rows(book, order_no, order_id, after, one.entry))
            if (count, content) != (one.rows, one.content):
                yield f"{name} does not hold what was sealed: {one.rows} rows then, {count} now."
            if one.seal_form != SEAL_FORM:
                yield f"{name} is sealed in form {one.seal_form}, which this program does not know."
            elif chained_seal(one.previous, one.content, one.head) != one.seal:
                yield f"{name}: the seal does not agree with its letter, date, names and content."
            previous, after, expected = one.seal, one.entry, one.seq + 1
