"""Issued revisions, what each one's seal covers, numbers off as reckoned, extracts, and faults let pass."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from specreg.core.model import NumberOff
from specreg.core.record_forms import extract_form, passed_form, revision_form, total_form
from specreg.store.database import Act, WorksBook, record


@dataclass(frozen=True, slots=True)
class Revision:
    """An issued revision of an order; everything of the order with an entry up to `entry` is in it."""

    order_id: int
    seq: int
    letter: str
    entry: int
    issued_on: str
    issued_by: str
    drawn: str
    checked: str
    approved: str
    rows: int
    content: bytes
    previous: bytes | None
    seal: bytes
    seal_form: str

    @property
    def head(self) -> list[tuple[str, str]]:
        """What the seal covers beside the content: letter, date and names."""
        return [
            ("letter", self.letter), ("issued on", self.issued_on), ("issued by", self.issued_by),
            ("drawn", self.drawn), ("checked", self.checked), ("approved", self.approved),
        ]  # fmt: skip


_REVISION = """SELECT order_id, seq, letter, entry, issued_on, issued_by, drawn, checked, approved, rows, content,
  previous, seal, seal_form FROM revision"""


def of_order(book: WorksBook, order_id: int) -> list[Revision]:
    """All issued revisions of an order, first to last."""
    return [Revision(*row) for row in book.db.execute(f"{_REVISION} WHERE order_id = ? ORDER BY seq", (order_id,))]


def last(book: WorksBook, order_id: int) -> Revision | None:
    """The revision last issued."""
    row = book.db.execute(f"{_REVISION} WHERE order_id = ? ORDER BY seq DESC LIMIT 1", (order_id,)).fetchone()
    return Revision(*row) if row else None


def by_letter(book: WorksBook, order_id: int, letter: str) -> Revision | None:
    """A revision by its letter, any case."""
    row = book.db.execute(
        f"{_REVISION} WHERE order_id = ? AND upper(letter) = ?", (order_id, letter.strip().upper())
    ).fetchone()
    return Revision(*row) if row else None


def first_holding(book: WorksBook, order_id: int, entry: int) -> Revision | None:
    """The first revision that holds what an entry recorded."""
    row = book.db.execute(
        f"{_REVISION} WHERE order_id = ? AND entry >= ? ORDER BY seq LIMIT 1", (order_id, entry)
    ).fetchone()
    return Revision(*row) if row else None


def add(book: WorksBook, act: Act, order_no: str, revision: Revision) -> None:
    """Record an issued revision."""
    _, _, digest = revision_form(order_no, revision.letter, revision.head, revision.seal)
    row = {
        "order_id": revision.order_id, "seq": revision.seq, "letter": revision.letter,
        "issued_on": revision.issued_on, "issued_by": revision.issued_by, "drawn": revision.drawn,
        "checked": revision.checked, "approved": revision.approved, "rows": revision.rows,
        "content": revision.content, "previous": revision.previous, "seal": revision.seal,
        "seal_form": revision.seal_form, "digest": digest,
    }  # fmt: skip
    record(book, act, "revision", row)


def sealed_rows(
    book: WorksBook, order_no: str, order_id: int, after: int, upto: int
) -> Iterator[tuple[str, tuple[str, ...], bytes]]:
    """(kind, natural key, digest) of every row that a seal covers: all of the order recorded after one entry, up to
    and including another, and the sheets of its drawing list that came in, or came on the list, in that time."""
    span = (order_id, after, upto)
    for kind, query in _SEALED.items():
        for key, digest in book.db.execute(query, span):
            # A key can be wanting only in a book that somebody has altered: it must be proved, not fail.
            yield kind, (order_no, key or ""), digest
    rows = book.db.execute(
        """SELECT d.number, v.sheet, v.mark, v.digest FROM sheet_version v JOIN drawing d ON d.id = v.drawing_id
           WHERE v.entry <= ?3 AND EXISTS (SELECT 1 FROM order_drawing l WHERE l.order_id = ?1
             AND l.drawing_id = v.drawing_id AND l.entry <= ?3 AND l.listed = 1
             AND (l.entry > ?2 OR v.entry > ?2))""",
        span,
    )
    for number, sheet, mark, digest in rows:
        yield "sheet", (number, sheet, mark), digest


_ROUTE_KEY = (
    "SELECT number_key FROM item_version v WHERE v.item_id = t.item_id AND v.entry <= t.entry "
    "ORDER BY v.entry DESC LIMIT 1"
)
_SEALED = {
    "order": "SELECT '', digest FROM order_version WHERE order_id = ? AND entry > ? AND entry <= ?",
    "item": "SELECT number_key, digest FROM item_version WHERE order_id = ? AND entry > ? AND entry <= ?",
    "route": f"SELECT ({_ROUTE_KEY}), digest FROM route t WHERE order_id = ? AND entry > ? AND entry <= ?",
    "total": f"SELECT ({_ROUTE_KEY}), digest FROM item_total t WHERE order_id = ? AND entry > ? AND entry <= ?",
    "call": (
        "SELECT v.number_key || ' ' || t.written, t.digest FROM item_version v JOIN item_drawing t "
        "ON t.item_id = v.item_id AND t.entry = v.entry WHERE v.order_id = ? AND v.entry > ? AND v.entry <= ?"
    ),
    "note": (
        "SELECT n.number, v.digest FROM note_version v JOIN note n ON n.id = v.note_id "
        "WHERE v.order_id = ? AND v.entry > ? AND v.entry <= ? AND v.state <> 'open'"
    ),
    "listed": (
        "SELECT d.number, l.digest FROM order_drawing l JOIN drawing d ON d.id = l.drawing_id "
        "WHERE l.order_id = ? AND l.entry > ? AND l.entry <= ?"
    ),
    "passed": (
        "SELECT fault || ' ' || subject, digest FROM fault_passed WHERE order_id = ? AND entry > ? AND entry <= ?"
    ),
}


# Numbers off as reckoned at the issues ------------------------------------------------------------------------------

_TOTAL = "off, for_machines, spares, written, working"


def record_total(
    book: WorksBook, act: Act, order_no: str, order_id: int, item_id: int, number: str, total: NumberOff
) -> bool:
    """Record an item's number off where it differs from the last recorded; returns whether it does."""
    _, _, digest = total_form(order_no, number, total)
    last_one = book.db.execute(
        "SELECT digest FROM item_total WHERE item_id = ? ORDER BY entry DESC LIMIT 1", (item_id,)
    ).fetchone()
    if last_one and last_one[0] == digest:
        return False
    row: dict[str, Any] = {
        "item_id": item_id, "order_id": order_id, "off": total.off, "for_machines": total.for_machines,
        "spares": total.spares, "written": total.written, "working": total.working, "digest": digest,
    }  # fmt: skip
    record(book, act, "item_total", row)
    return True


def totals_at(book: WorksBook, order_id: int, entry: int) -> dict[int, NumberOff]:
    """Numbers off of all items as recorded at an entry."""
    rows = book.db.execute(
        f"SELECT item_id, {_TOTAL} FROM item_total t WHERE order_id = ? AND entry <= ? AND NOT EXISTS "
        "(SELECT 1 FROM item_total n WHERE n.item_id = t.item_id AND n.entry > t.entry AND n.entry <= ?)",
        (order_id, entry, entry),
    )
    return {row[0]: NumberOff(*row[1:]) for row in rows}


def totals_between(book: WorksBook, order_id: int, first: int, last: int) -> list[int]:
    """Items whose number off was recorded anew after entry `first`, up to and including `last`."""
    rows = book.db.execute(
        "SELECT DISTINCT item_id FROM item_total WHERE order_id = ? AND entry > ? AND entry <= ?",
        (order_id, first, last),
    )
    return [item_id for (item_id,) in rows]


def total_at(book: WorksBook, item_id: int, entry: int) -> NumberOff | None:
    """The number off of one item as recorded at an entry."""
    row = book.db.execute(
        f"SELECT {_TOTAL} FROM item_total WHERE item_id = ? AND entry <= ? ORDER BY entry DESC LIMIT 1",
        (item_id, entry),
    ).fetchone()
    return NumberOff(*row) if row else None


# Extracts -----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class IssuedExtract:
    """An extract as numbered: what it held is worked out again from the record, and proved by `content`."""

    department: str
    number: int
    seq: int
    since_seq: int | None
    lines: int
    withdrawn: int
    pieces: int
    content: bytes
    seal: str


_EXTRACT = "SELECT department, number, seq, since_seq, lines, withdrawn, pieces, content, seal FROM extract"


def extracts_of(book: WorksBook, order_id: int, department: str = "") -> list[IssuedExtract]:
    """All extracts of an order, or of one department, in the order they were made."""
    where, values = ("", ()) if not department else (" AND department = ?", (department,))
    rows = book.db.execute(f"{_EXTRACT} WHERE order_id = ?{where} ORDER BY id", (order_id, *values))
    return [IssuedExtract(*row) for row in rows]


def seal_is_taken(book: WorksBook, seal: str) -> bool:
    """Whether any extract in the book bears this seal already."""
    return book.db.execute("SELECT 1 FROM extract WHERE seal = ?", (seal,)).fetchone() is not None


def add_extract(book: WorksBook, act: Act, order_no: str, order_id: int, letter: str, made: IssuedExtract) -> None:
    """Record an extract."""
    _, _, digest = extract_form(order_no, made.department, made.number, letter, made.content, made.seal)
    row = {
        "order_id": order_id, "department": made.department, "number": made.number, "seq": made.seq,
        "since_seq": made.since_seq, "lines": made.lines, "withdrawn": made.withdrawn, "pieces": made.pieces,
        "content": made.content, "seal": made.seal, "digest": digest,
    }  # fmt: skip
    record(book, act, "extract", row)


# Faults let pass ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Passed:
    """A fault let pass: it holds only for the very same sentence, so that a new cause shows again."""

    fault: str
    subject: str
    text: str
    person: str
    reason: str
    at: str


def passed(book: WorksBook, order_id: int) -> Sequence[Passed]:
    """Every fault let pass in an order."""
    rows = book.db.execute(
        "SELECT p.fault, p.subject, p.text, p.person, p.reason, d.at FROM fault_passed p "
        "JOIN day_book d ON d.entry = p.entry WHERE p.order_id = ? ORDER BY p.entry",
        (order_id,),
    )
    return [Passed(*row) for row in rows]


def pass_fault(book: WorksBook, act: Act, order_no: str, order_id: int, said: Passed) -> None:
    """Record that a fault is let pass."""
    _, _, digest = passed_form(order_no, said.fault, said.subject, said.text, said.person, said.reason)
    row = {
        "order_id": order_id, "fault": said.fault, "subject": said.subject, "text": said.text,
        "person": said.person, "reason": said.reason, "digest": digest,
    }  # fmt: skip
    record(book, act, "fault_passed", row)
