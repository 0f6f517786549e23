"""Digests and seals: a fixed form of every recorded row, so that a book rebuilt from text gives the same seals.

The form names fields by fixed names kept apart from column names, leaves empty fields out (a field added later changes
no old digest), keeps every value verbatim and holds no local ids, entry numbers or paths. Form 1.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence

SEAL_FORM = "1"
CODE_SIGNS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Base 32 without I L O U: signs that are not taken for one another when read aloud or off a greasy print."""


def canonical(value: object) -> bytes:
    """The one text of a value made of lists and strings, as UTF-8."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()


def row_digest(kind: str, key: Sequence[str], named: Iterable[tuple[str, object]]) -> bytes:
    """SHA-256 of a row: its kind, its natural key, its named values; empty values are left out."""
    said = [[name, value] for name, value in named if value not in ("", None, [], ())]
    return hashlib.sha256(canonical([kind, list(key), said])).digest()


def content_digest(rows: Iterable[tuple[str, Sequence[str], bytes]]) -> tuple[int, bytes]:
    """How many rows, and SHA-256 over their digests in order of kind and natural key."""
    total = hashlib.sha256()
    count = 0
    for kind, key, digest in sorted(rows, key=lambda row: (row[0], list(row[1]), row[2])):
        total.update(canonical([kind, list(key)]))
        total.update(digest)
        count += 1
    return count, total.digest()


def chained_seal(previous: bytes | None, content: bytes, head: Sequence[tuple[str, str]]) -> bytes:
    """The seal of a revision: over the seal before, the content and the head (letter, date, names, standards)."""
    total = hashlib.sha256(previous or b"")
    total.update(content)
    total.update(canonical([[name, value] for name, value in head if value]))
    return total.digest()


def short_code(digest: bytes, signs: int = 8) -> str:
    """The first `signs` x 5 bits of a digest as a code to print: `3F9A-22C1`."""
    number = int.from_bytes(digest[:8], "big")
    code = "".join(CODE_SIGNS[number >> (64 - 5 * (place + 1)) & 31] for place in range(signs))
    return f"{code[:4]}-{code[4:]}" if signs == 8 else code
