"""A tiny book of the first form, written by plain SQL: one order, one item, revision A; as an older program left it.

The statements and digests stay as they are when the program goes on, so that every later form is shown to take in the
first. Only the schema itself comes from `schema_0001.sql`, which is never altered once books have been made by it.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from importlib import resources
from pathlib import Path

from specreg.store.triggers import trigger_statements
from tests.store.independent_seals import digest, text

AT = "2026-11-25T09:00:00+01:00"
ORDER = "W 1"
CONTENT = json.dumps(
    {
        "house": {"works": "Practice works", "safety_second_check": True},
        "departments": [{"code": "ERE", "name": "Erecting shop", "operation": "erect", "final": True}],
        "rules": [{"name": "all", "route": "ERE erect all"}],
        "materials": [],
        "synonyms": [],
    }
)
BLANK = (
    "text", "off", "per", "machines", "hand", "part", "material", "size", "rough_weight", "weight", "drawing",
    "pattern", "supply", "spares", "clearance", "safety", "route", "wanted", "remarks", "reason",
)  # fmt: skip


def sections_and_items() -> list[dict[str, str]]:
    """What the section and its one item say; keys as `number_key` gave them."""
    blank = dict.fromkeys(BLANK, "")
    head = {**blank, "kind": "section", "layout": "heading", "section": "4", "other": "[]", "state": "live"}
    item = {**head, "kind": "item", "layout": "row"}
    return [
        {**head, "number": "4", "number_key": "014", "place_key": "014 ", "title": "Slewing gear"},
        {
            **item, "number": "4.1", "number_key": "014!011", "place_key": "014 014!011", "title": "Rack",
            "off": "1 per machine", "material": "cast steel", "other": '[["Finish","black"]]',
        },
    ]  # fmt: skip


def make_book_of_form_1(path: Path) -> list[str]:
    """Write the book; returns the seals of its revisions, in hexadecimal."""
    db = sqlite3.connect(path, isolation_level=None)
    db.execute(f"PRAGMA application_id = {int.from_bytes(b'SREG', 'big')}")
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("BEGIN")
    db.execute(
        "CREATE TABLE _sqlite_migrations (id INTEGER PRIMARY KEY, migration_set TEXT, name TEXT, applied_at TEXT)"
    )
    db.execute("CREATE UNIQUE INDEX idx_migrations ON _sqlite_migrations (migration_set, name)")
    db.execute("INSERT INTO _sqlite_migrations VALUES (1, 'specreg', '0001', '2026-11-25 08:00:00')")
    for statement in schema_statements():
        db.execute(statement)
    seal = _rows(db)
    for statement in trigger_statements(db):
        db.execute(statement)
    db.execute("PRAGMA user_version = 1")
    db.execute("COMMIT")
    db.close()
    return [seal.hex()]


def schema_statements() -> list[str]:
    """The first schema, statement by statement."""
    statements, pending = [], ""
    for line in resources.files("specreg.store").joinpath("schema_0001.sql").read_text("utf-8").splitlines(True):
        pending += line
        if sqlite3.complete_statement(pending):
            statements.append(pending)
            pending = ""
    return statements


def _add(db: sqlite3.Connection, table: str, **row: object) -> None:
    names = ", ".join(row)
    db.execute(f"INSERT INTO {table} ({names}) VALUES ({', '.join('?' * len(row))})", tuple(row.values()))


def _print(table: str, row_digest: bytes, *beside: object) -> bytes:
    return hashlib.sha256(row_digest + text([table, *map(str, beside)])).digest()


def _close(db: sqlite3.Connection, entry: int, act: str, order: str, prints: list[bytes]) -> None:
    before = db.execute("SELECT digest FROM day_book WHERE entry = ?", (entry - 1,)).fetchone()
    head = [str(entry), AT, "JD", "bench", order, act, ""]
    total = (before[0] if before else b"") + text(head) + b"".join(sorted(prints))
    _add(
        db, "day_book", entry=entry, at=AT, person="JD", host="bench", order_id=1 if order else None, act=act,
        closed=1, digest=hashlib.sha256(total).digest(),
    )  # fmt: skip


def _rows(db: sqlite3.Connection) -> bytes:
    _add(db, "person", code="JD", name="J. Dunmore", login="jd", roles='["chief"]')
    _close(db, 1, "new", "", [])
    standards = hashlib.sha256(CONTENT.encode()).digest()
    _add(db, "standards", digest=standards, read_at=AT, source="shared", content=CONTENT)
    _add(db, "works_order", id=1, number=ORDER, number_key="W011", numbering="ours")
    named = [("title", "A crane"), ("machines", "1"), ("units", "metric"), ("numbering", "ours")]
    head = digest("order", [ORDER], [*named, ("standards", standards.hex())])
    _add(
        db, "order_version", order_id=1, entry=2, title="A crane", customer="", machines="1", spares="", authority="",
        units="metric", standards_source="shared", standards=standards, digest=head,
    )  # fmt: skip
    _add(db, "note", id=1, order_id=1, number="0")
    opened = digest("note", [ORDER, "0"], [("words", "first compilation"), ("state", "open")])
    note = {"note_id": 1, "order_id": 1, "reason": "", "urgency": "", "authority": "", "machines": ""}
    _add(db, "note_version", entry=2, words="first compilation", state="open", digest=opened, **note)
    _close(db, 2, "take in", ORDER, [_print("order_version", head, "shared"), _print("note_version", opened)])

    prints, covered = [], [("order", [ORDER, ""], head)]
    for item_id, row in enumerate(sections_and_items(), 1):
        _add(db, "item", id=item_id, order_id=1)
        said = [(name, row[name]) for name in ("number", "kind", "layout")]
        said += [("section", row["section"] if row["kind"] == "item" else ""), ("Description", row["title"])]
        said += [("Off", row["off"]), ("Material", row["material"]), ("other", json.loads(row["other"]))]
        own = digest("item", [ORDER, row["number_key"]], said)
        _add(db, "item_version", id=item_id, item_id=item_id, entry=3, order_id=1, note_id=1, digest=own, **row)
        _add(db, "item_now", item_id=item_id, version_id=item_id, order_id=1, digest=own, **row)
        prints.append(_print("item_version", own, row["number_key"], row["place_key"], "0"))
        covered.append(("item", [ORDER, row["number_key"]], own))
    words = ((1, "4", "slewing gear", ""), (2, "4ƌ1 41", "rack", "cast steel black"))
    db.executemany("INSERT INTO item_words (rowid, number, title, words) VALUES (?, ?, ?, ?)", words)
    issued = digest("note", [ORDER, "0"], [("words", "first compilation"), ("state", "issued")])
    _add(db, "note_version", entry=3, words="first compilation", state="issued", digest=issued, **note)
    covered.append(("note", [ORDER, "0"], issued))
    content = hashlib.sha256(b"".join(text([kind, key]) + own for kind, key, own in sorted(covered))).digest()
    heads = {"letter": "A", "issued on": "2026-11-25", "issued by": "J. Dunmore"}
    seal = hashlib.sha256(content + text([list(pair) for pair in heads.items()])).digest()
    own = digest("revision", [ORDER, "A"], [*heads.items(), ("seal", seal.hex())])
    _add(
        db, "revision", order_id=1, seq=1, letter="A", entry=3, issued_on="2026-11-25", issued_by="J. Dunmore",
        drawn="", checked="", approved="", rows=len(covered), content=content, previous=None, seal=seal, seal_form="1",
        digest=own,
    )  # fmt: skip
    prints += [_print("note_version", issued), _print("revision", own, 1, len(covered), content.hex(), "", "1")]
    _close(db, 3, "issue", ORDER, prints)
    return seal
