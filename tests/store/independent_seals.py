"""The seals of a book by a second hand: written from the description of form 1 alone, with nothing of the program.

A row is SHA-256 of the JSON `[kind, key, [[name, value], ...]]` without spaces, empty values left out. The content of
a revision is SHA-256 over the JSON `[kind, key]` and the digest of every row it covers, sorted. A seal is SHA-256 over
the seal before, the content, and the JSON of the head.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3

SPAN = "order_id = :order AND entry > :after AND entry <= :upto"
ITEM = {
    "off": "Off", "per": "Per", "machines": "Machines", "hand": "Hand", "part": "Part", "material": "Material",
    "size": "Size", "rough_weight": "Rough weight", "weight": "Weight", "drawing": "Drawing", "pattern": "Pattern",
    "supply": "Supply", "spares": "Spares", "clearance": "Clearance", "safety": "Safety", "route": "Route",
    "wanted": "Wanted", "remarks": "Remarks",
}  # fmt: skip
SHEET = (
    "of", "title", "size", "scale", "hand", "date", "stage", "drawn", "checked", "approved", "planned", "replaces",
    "machines", "remarks", "group",
)  # fmt: skip
HEAD = ("letter", "issued_on", "issued_by", "drawn", "checked", "approved")


def text(value) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()


def digest(kind, key, named) -> bytes:
    said = [[name, value] for name, value in named if value not in ("", None, [])]
    return hashlib.sha256(text([kind, key, said])).digest()


def seals_of(db: sqlite3.Connection, order_id: int) -> list[bytes]:
    """The seals of all revisions of an order, reckoned from what the rows say, never from their digests."""
    db.row_factory = sqlite3.Row
    order = one(db, "SELECT number FROM works_order WHERE id = ?", order_id)
    found, previous, after = [], b"", 0
    for revision in db.execute("SELECT * FROM revision WHERE order_id = ? ORDER BY seq", (order_id,)).fetchall():
        rows = covered(db, order, {"order": order_id, "after": after, "upto": revision["entry"]})
        content = hashlib.sha256(b"".join(text([kind, key]) + row for kind, key, row in sorted(rows))).digest()
        head = [[name.replace("_", " "), revision[name]] for name in HEAD if revision[name]]
        previous = hashlib.sha256(previous + content + text(head)).digest()
        after = revision["entry"]
        found.append(previous)
    db.row_factory = None
    return found


def one(db, query, *values):
    return db.execute(query, values).fetchone()[0]


def covered(db, order, span) -> list[tuple[str, list[str], bytes]]:
    def rows(table, where=SPAN):
        return db.execute(f"SELECT * FROM {table} WHERE {where}", span).fetchall()

    def key_of(row) -> str:
        return one(
            db, "SELECT number_key FROM item_version WHERE item_id = ? AND entry <= ? ORDER BY entry DESC LIMIT 1",
            row["item_id"], row["entry"],
        )  # fmt: skip

    def drawing(row) -> str:
        return one(db, "SELECT coalesce((SELECT number FROM drawing WHERE id = ?), '')", row["drawing_id"])

    found = []
    for row in rows("order_version"):
        numbering = one(db, "SELECT numbering FROM works_order WHERE id = ?", row["order_id"])
        named = [(name, row[name]) for name in ("title", "customer", "machines", "spares")]
        named += [("inspecting authority", row["authority"]), ("units", row["units"]), ("numbering", numbering)]
        named += [("standards", row["standards"].hex())]
        found.append(("order", [order, ""], digest("order", [order], named)))
    for row in rows("item_version"):
        named = [("number", row["number"]), ("kind", row["kind"]), ("layout", row["layout"])]
        named += [("section", row["section"] if row["kind"] != "section" else "")]
        named += [("Description", row["title"]), ("Text", row["text"])]
        named += [(label, row[name]) for name, label in ITEM.items()]
        named += [("other", json.loads(row["other"])), ("state", row["state"] if row["state"] != "live" else "")]
        key = [order, row["number_key"]]
        found.append(("item", key, digest("item", key, [*named, ("state reason", row["reason"])])))
        calls = "SELECT * FROM item_drawing WHERE item_id = ? AND entry = ?"
        for call in db.execute(calls, (row["item_id"], row["entry"])):
            called = [("drawing", drawing(call)), ("sheet", call["sheet"])]
            row_key = [order, row["number_key"], call["written"]]
            found.append(("call", [order, f"{key[1]} {call['written']}"], digest("call", row_key, called)))
    for row in rows("route"):
        names = ("place", "department", "operation", "basis", "extra", "because")
        query = "SELECT * FROM route_step WHERE item_id = ? AND entry = ? ORDER BY step"
        taken = db.execute(query, (row["item_id"], row["entry"]))
        steps = [[str(step[name]) if name in ("place", "extra") else step[name] for name in names] for step in taken]
        named = [("no action", row["no_action"]), ("because", row["because"]), ("steps", steps)]
        found.append(("route", [order, key_of(row)], digest("route", [order, key_of(row)], named)))
    for row in rows("item_total"):
        counts = [(name.replace("_", " "), row[name]) for name in ("off", "for_machines", "spares")]
        named = [(name, "" if count is None else str(count)) for name, count in counts]
        named += [("written", row["written"]), ("working", row["working"])]
        found.append(("total", [order, key_of(row)], digest("total", [order, key_of(row)], named)))
    for row in rows("note_version", f"{SPAN} AND state <> 'open'"):
        key = [order, one(db, "SELECT number FROM note WHERE id = ?", row["note_id"])]
        names = ("reason", "urgency", "authority", "machines", "words", "state")
        found.append(("note", key, digest("note", key, [(name, row[name]) for name in names])))
    for row in rows("fault_passed"):
        named = [(name, row[name]) for name in ("text", "person", "reason")]
        row_key = [order, row["fault"], row["subject"]]
        found.append(("passed", [order, f"{row['fault']} {row['subject']}"], digest("passed", row_key, named)))
    for row in rows("order_drawing"):
        key = [order, drawing(row)]
        found.append(("listed", key, digest("listed", key, [("listed", "yes" if row["listed"] else "no")])))
    listed = "SELECT entry FROM order_drawing WHERE order_id = ? AND drawing_id = ? AND listed = 1 AND entry <= ?"
    for row in rows("sheet_version", "entry <= :upto"):
        on_list = db.execute(listed, (span["order"], row["drawing_id"], span["upto"])).fetchall()
        if any(entry > span["after"] or row["entry"] > span["after"] for (entry,) in on_list):
            key = [drawing(row), row["sheet"], row["mark"]]
            found.append(("sheet", key, digest("sheet", key, [(name, row[name]) for name in SHEET])))
    return found
