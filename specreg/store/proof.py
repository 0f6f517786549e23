"""Proving the book: every digest recomputed, every seal and the day-book's chain followed from the first entry.

Stands on nothing but what the rows say, so that it finds what was altered with the triggers taken out. What it cannot
find: the last revision cut off, or the whole file replaced by an older one; those show only against a seal on paper.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from specreg.core.model import Note, NumberOff, Order, Route, Sheet, Step
from specreg.core.record_forms import (
    call_form,
    extract_form,
    item_form,
    listed_form,
    note_form,
    order_form,
    passed_form,
    revision_form,
    route_form,
    sheet_form,
    signature_form,
    total_form,
)
from specreg.core.seals import SEAL_FORM, chained_seal, content_digest
from specreg.store import revisions
from specreg.store.database import WorksBook, entry_digest, missing_triggers
from specreg.store.items import CONTENT, item_of

Row = tuple[Any, ...]


def differences(book: WorksBook) -> Iterator[str]:
    """Sentences naming each thing that does not agree; none when the book is whole."""
    (check,) = book.db.execute("PRAGMA integrity_check(1)").fetchone()
    if check != "ok":
        yield f"The file is damaged: {check}."
    for rule in missing_triggers(book.db):
        yield f"The rule {rule} that guards the record has been taken out or altered."
    recorded: dict[int, list[bytes]] = {}
    for table, query, again, name in _TABLES:
        for row in book.db.execute(query):
            entry, digest, *values = row
            recorded.setdefault(entry, []).append(digest)
            if again(tuple(values)) != digest:
                yield f"{table}: {name(tuple(values))}, recorded by entry {entry}, has been altered."
    yield from _routes(book, recorded)
    yield from _day_book(book, recorded)
    yield from _seals(book)


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
)


def _routes(book: WorksBook, recorded: dict[int, list[bytes]]) -> Iterator[str]:
    heads = book.db.execute(
        f"SELECT item_id, entry, digest, {_T}, {_ITEM_NUMBER}, no_action, because FROM route t"
    ).fetchall()
    for item_id, entry, digest, order, number, no_action, because in heads:
        recorded.setdefault(entry, []).append(digest)
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
    rows = book.db.execute("SELECT entry, at, person, host, act, words, digest FROM day_book ORDER BY entry")
    for entry, at, person, host, act, words, digest in rows:
        if entry != expected:
            yield f"day_book: entry {expected} is missing."
            (before,) = book.db.execute(
                "SELECT coalesce((SELECT digest FROM day_book WHERE entry < ? ORDER BY entry DESC LIMIT 1), x'')",
                (entry,),
            ).fetchone()
        again = entry_digest(before, [str(entry), at, person, host, act, words], recorded.pop(entry, []))
        if again != digest:
            yield (
                f"day_book: entry {entry} ({act}, {person}, {at}) does not agree with the rows it recorded: "
                "one was taken away, added or altered."
            )
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
            if one.seal_form == SEAL_FORM and chained_seal(one.previous, one.content, one.head) != one.seal:
                yield f"{name}: the seal does not agree with its letter, date, names and content."
            previous, after, expected = one.seal, one.entry, one.seq + 1
