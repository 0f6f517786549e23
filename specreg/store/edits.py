"""The log of open edits, for undo and redo across programs; an edit is forgotten when its note is issued."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from specreg.store.database import WorksBook, insert


@dataclass(frozen=True, slots=True)
class Change:
    """What an edit did to one item: what was open before and after, as `items.item_as_json`; None: nothing open."""

    item_id: int
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True)
class Edit:
    """One act of editing."""

    edit_id: int
    note_id: int
    person: str
    at: str
    words: str
    changes: tuple[Change, ...]


def open_text(book: WorksBook, item_id: int) -> tuple[int, str] | None:
    """The note and the text, as kept in the log, of an item's open edit; None when it stands as issued."""
    from specreg.store.items import CONTENT, item_as_json, item_of

    row = book.db.execute(
        f"SELECT note_id, {', '.join(CONTENT)} FROM open_item WHERE item_id = ?", (item_id,)
    ).fetchone()
    return (row[0], item_as_json(item_of(row[1:]))) if row else None


def log(
    book: WorksBook, order_id: int, note_id: int, person: str, at: str, words: str, changes: Sequence[Change]
) -> None:
    """Enter an edit; what this person had undone can no longer be redone."""
    book.db.execute("DELETE FROM open_edit WHERE order_id = ? AND person = ? AND undone = 1", (order_id, person))
    edit_id = insert(
        book.db,
        "open_edit",
        {"order_id": order_id, "note_id": note_id, "person": person, "at": at, "words": words},
    )
    book.db.executemany(
        "INSERT INTO open_change (edit_id, item_id, before, after) VALUES (?, ?, ?, ?)",
        [(edit_id, change.item_id, change.before, change.after) for change in changes],
    )


def last(book: WorksBook, order_id: int, person: str, undone: bool) -> Edit | None:
    """The edit that this person would undo next, or with `undone` redo next."""
    row = book.db.execute(
        "SELECT id, note_id, person, at, words FROM open_edit WHERE order_id = ? AND person = ? AND undone = ? "
        f"ORDER BY id {'ASC' if undone else 'DESC'} LIMIT 1",
        (order_id, person, int(undone)),
    ).fetchone()
    if row is None:
        return None
    changes = book.db.execute(
        "SELECT item_id, before, after FROM open_change WHERE edit_id = ? ORDER BY item_id", (row[0],)
    )
    edit_id, note_id, by, at, words = row
    return Edit(edit_id, note_id, by, at, words, tuple(Change(*change) for change in changes))


def mark(book: WorksBook, edit_id: int, undone: bool) -> None:
    """Say that an edit has been undone, or redone."""
    book.db.execute("UPDATE open_edit SET undone = ? WHERE id = ?", (int(undone), edit_id))


def latest(book: WorksBook, order_id: int) -> tuple[str, str, str] | None:
    """The last edit of anybody in an order: (person, when, words)."""
    row = book.db.execute(
        "SELECT person, at, words FROM open_edit WHERE order_id = ? AND undone = 0 ORDER BY id DESC LIMIT 1",
        (order_id,),
    ).fetchone()
    return (row[0], row[1], row[2]) if row else None


def forget_note(book: WorksBook, note_id: int) -> None:
    """Forget all edits under a note, and undone edits of the same items under other notes: what they were made upon
    is no longer what is issued, and nothing is redone across an issue."""
    book.db.execute(
        """DELETE FROM open_edit WHERE undone = 1 AND id IN (SELECT edit_id FROM open_change WHERE item_id IN
             (SELECT c.item_id FROM open_change c JOIN open_edit e ON e.id = c.edit_id
              WHERE e.note_id = ? AND e.undone = 0))""",
        (note_id,),
    )
    book.db.execute("DELETE FROM open_edit WHERE note_id = ?", (note_id,))
