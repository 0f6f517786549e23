"""What the digest of a day-book entry covers: the entry itself, and all that the rows it recorded say.

The digest of a row is that of its form, the same in every book. What a row says beside its form (sort keys, ranks,
counts, the note it came by) is covered by the digest of the entry. Nothing but row numbers of this file is left out.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence

from specreg.core.seals import canonical

NOTE = "note"
"""Stands in `BESIDE` for the number of the note that `note_id` means."""

BESIDE: Mapping[str, tuple[str, ...]] = {
    "order_version": ("standards_source",),
    "item_version": ("number_key", "place_key", NOTE),
    "item_drawing": ("place",),
    "route": (NOTE,),
    "item_total": (),
    "sheet_version": ("rank",),
    "order_drawing": (),
    "note_version": (),
    "signature": (),
    "revision": ("seq", "rows", "content", "previous", "seal_form"),
    "extract": ("seq", "since_seq", "lines", "withdrawn", "pieces"),
    "fault_passed": (),
    "purchase": (),
}
"""Columns of each recorded table that the digest of its rows does not cover."""


def row_print(table: str, digest: bytes, beside: Iterable[object]) -> bytes:
    """SHA-256 over the digest of a row, its table, and what it says beside its form, in the order of `BESIDE`."""
    said = [value.hex() if isinstance(value, bytes) else "" if value is None else str(value) for value in beside]
    return hashlib.sha256(digest + canonical([table, *said])).digest()


def entry_digest(before: bytes, head: Sequence[str], prints: Iterable[bytes]) -> bytes:
    """SHA-256 over the digest of the entry before, the entry's own words, and the prints of its rows in their order.

    `head` is entry, at, person, host, order, act, words.
    """
    total = hashlib.sha256(before)
    total.update(canonical(list(head)))
    for one in sorted(prints):
        total.update(one)
    return total.digest()
