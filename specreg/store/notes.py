"""Alteration notes, and the signatures under them."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Any

from specreg.core.model import Note
from specreg.core.record_forms import note_form, signature_form
from specreg.store.database import Act, WorksBook, insert, record


@dataclass(frozen=True, slots=True)
class NoteStanding:
    """A note where it stands."""

    note_id: int
    order_id: int
    note: Note


@dataclass(frozen=True, slots=True)
class Signature:
    """One person's signature under a note: `signed` is the digest of what he signed."""

    signed_as: str
    person: str
    name: str
    signed_at: str
    signed: bytes


_NOTE = """SELECT n.id, n.order_id, n.number, v.reason, v.urgency, v.authority, v.machines, v.words, v.state
  FROM note n JOIN note_version v ON v.note_id = n.id
  AND v.entry = (SELECT max(entry) FROM note_version WHERE note_id = n.id AND entry <= ?)"""


def _standing(row: tuple[Any, ...]) -> NoteStanding:
    return NoteStanding(row[0], row[1], Note(*row[2:9]))


def add(book: WorksBook, act: Act, order_no: str, order_id: int, note: Note) -> int:
    """Open a note; returns its identity."""
    note_id = insert(book.db, "note", {"order_id": order_id, "number": note.number})
    say(book, act, order_no, order_id, note_id, note)
    return note_id


def say(book: WorksBook, act: Act, order_no: str, order_id: int, note_id: int, note: Note) -> None:
    """Record what a note says now."""
    _, _, digest = note_form(order_no, note)
    record(
        book,
        act,
        "note_version",
        {
            "note_id": note_id, "order_id": order_id, "reason": note.reason, "urgency": note.urgency,
            "authority": note.authority, "machines": note.machines, "words": note.words, "state": note.state,
            "digest": digest,
        },
    )  # fmt: skip


def by_number(book: WorksBook, order_id: int, number: str) -> NoteStanding | None:
    """A note of an order by its number."""
    row = book.db.execute(f"{_NOTE} WHERE n.order_id = ? AND n.number = ?", (2**62, order_id, number)).fetchone()
    return _standing(row) if row else None


def by_id(book: WorksBook, note_id: int) -> NoteStanding:
    """A note by its identity."""
    return _standing(book.db.execute(f"{_NOTE} WHERE n.id = ?", (2**62, note_id)).fetchone())


def of_order(book: WorksBook, order_id: int, state: str = "") -> list[NoteStanding]:
    """All notes of an order in the order they were opened, or those in one state."""
    rows = book.db.execute(f"{_NOTE} WHERE n.order_id = ? ORDER BY n.id", (2**62, order_id)).fetchall()
    return [_standing(row) for row in rows if not state or row[8] == state]


def numbers(book: WorksBook, order_id: int) -> list[str]:
    """Numbers of all notes of an order."""
    return [n for (n,) in book.db.execute("SELECT number FROM note WHERE order_id = ? ORDER BY id", (order_id,))]


def digest_of_edits(book: WorksBook, note_id: int) -> bytes:
    """SHA-256 over the note as it stands and all edits under it: what a signature signs."""
    total = hashlib.sha256()
    (note,) = book.db.execute(
        "SELECT digest FROM note_version WHERE note_id = ? ORDER BY entry DESC LIMIT 1", (note_id,)
    ).fetchone()
    total.update(note)
    rows = book.db.execute(
        """SELECT i.number_key, 'item', o.digest FROM open_item o JOIN item_now i ON i.item_id = o.item_id
             WHERE o.note_id = ?1
           UNION ALL SELECT i.number_key, 'route', r.digest FROM open_route r JOIN item_now i ON i.item_id = r.item_id
             WHERE r.note_id = ?1 ORDER BY 1, 2""",
        (note_id,),
    )
    for key, kind, digest in rows:
        total.update(f"{kind} {key}\n".encode())
        total.update(digest)
    return total.digest()


def sign(book: WorksBook, act: Act, order_no: str, standing: NoteStanding, signature: Signature) -> None:
    """Record a signature."""
    _, _, digest = signature_form(
        order_no, standing.note.number, signature.signed_as, signature.person, signature.name, signature.signed_at,
        signature.signed,
    )  # fmt: skip
    record(
        book,
        act,
        "signature",
        {
            "note_id": standing.note_id, "order_id": standing.order_id, "signed_as": signature.signed_as,
            "person": signature.person, "name": signature.name, "signed_at": signature.signed_at,
            "signed": signature.signed, "digest": digest,
        },
    )  # fmt: skip


def signatures(book: WorksBook, note_id: int) -> list[Signature]:
    """All signatures ever set under a note, oldest first; those whose `signed` differs from today's have lapsed."""
    rows = book.db.execute(
        "SELECT signed_as, person, name, signed_at, signed FROM signature WHERE note_id = ? ORDER BY entry", (note_id,)
    )
    return [Signature(*row) for row in rows]
