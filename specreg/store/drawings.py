"""The drawing register, works-wide: every number ever drawn, every revision of every sheet, and each order's list."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from specreg.core.days import day_of
from specreg.core.model import Sheet
from specreg.core.numbering import number_key
from specreg.core.record_forms import call_form, listed_form, sheet_form
from specreg.core.revisions import order_marks, plain_mark
from specreg.store import word_index
from specreg.store.database import Act, WorksBook, insert, record

_SAID = (
    "of", "title", "size", "scale", "hand", "date", "stage", "drawn", "checked", "approved", "planned", "replaces",
    "machines", "remarks", "group",
)  # fmt: skip
_SHEET = ", ".join(["d.number", "v.sheet", "v.mark", *(f'v."{name}"' for name in _SAID)])
_CURRENT = f"""SELECT d.id, {_SHEET} FROM sheet_now c JOIN drawing d ON d.id = c.drawing_id
  JOIN sheet_version v ON v.drawing_id = c.drawing_id AND v.sheet = c.sheet AND v.mark = c.mark AND v.entry = c.entry"""


@dataclass(frozen=True, slots=True)
class Call:
    """A drawing called up by an item: as written, the drawing it was matched to (None when not in the register)."""

    written: str
    drawing_id: int | None
    sheet: str


def _sheet(values: Sequence[Any]) -> Sheet:
    number, sheet, mark, *said = values
    return Sheet(number=number, sheet=sheet, revision=mark, **dict(zip(_SAID, said, strict=True)))


def find(book: WorksBook, number: str) -> int | None:
    """The identity of a drawing by its number: verbatim first, else the only one that differs just in case or zeros."""
    row = book.db.execute("SELECT id FROM drawing WHERE number = ?", (number,)).fetchone()
    if row:
        return int(row[0])
    near = book.db.execute("SELECT id FROM drawing WHERE number_key = ?", (number_key(number),)).fetchall()
    return int(near[0][0]) if len(near) == 1 else None


def match(book: WorksBook, written: str) -> Call:
    """Match what an item calls up against the register: the whole first, then as number and sheet."""
    whole = find(book, written)
    if whole is not None:
        return Call(written, whole, "")
    number, slash, sheet = written.rpartition("/")
    if slash:
        drawing_id = find(book, number.strip())
        if drawing_id is not None and sheet.strip() in {one.sheet for one in current_sheets(book, drawing_id)}:
            return Call(written, drawing_id, sheet.strip())
    return Call(written, None, "")


def enter(book: WorksBook, act: Act, sheet: Sheet) -> bool:
    """Enter a sheet in the register, or what is new about it; returns whether anything was."""
    drawing_id = find_exact(book, sheet.number)
    before = current_sheets(book, drawing_id) if drawing_id is not None else []
    if drawing_id is None:
        drawing_id = insert(book.db, "drawing", {"number": sheet.number, "number_key": number_key(sheet.number)})
    _, _, digest = sheet_form(sheet)
    last = book.db.execute(
        "SELECT digest, rank FROM sheet_version WHERE drawing_id = ? AND sheet = ? AND mark = ? "
        "ORDER BY entry DESC LIMIT 1",
        (drawing_id, sheet.sheet, sheet.revision),
    ).fetchone()
    if last and last[0] == digest:
        return False
    rank = last[1] if last else _rank_among(book, drawing_id, sheet)
    said = {name: getattr(sheet, name) for name in _SAID}
    record(
        book,
        act,
        "sheet_version",
        {
            "drawing_id": drawing_id,
            "sheet": sheet.sheet,
            "mark": sheet.revision,
            "rank": rank,
            **said,
            "digest": digest,
        },
    )
    _set_current(book, drawing_id, sheet.sheet)
    after = current_sheets(book, drawing_id)
    word_index.replace(
        book,
        "drawing",
        drawing_id,
        word_index.sheet_texts(sheet.number, before) if before else None,
        word_index.sheet_texts(sheet.number, after),
    )
    return True


def _rank_among(book: WorksBook, drawing_id: int, sheet: Sheet) -> int:
    """Where a mark not met before stands among the marks of its sheet: last, unless by dates or by the marks themselves
    it is surely an older one, entered late; that must not become current."""
    known = book.db.execute(
        "SELECT mark, max(rank), date FROM sheet_version WHERE drawing_id = ? AND sheet = ? "
        "GROUP BY mark ORDER BY rank",
        (drawing_id, sheet.sheet),
    ).fetchall()
    last: int = max((rank for _, rank, _ in known), default=0)
    marks = [*(mark for mark, _, _ in known), sheet.revision]
    days = [day_of(text) for text in (*(day for _, _, day in known), sheet.date)]
    found = order_marks(marks, days)
    own = plain_mark(sheet.revision)
    if not found.sure or own not in found.ordered:
        return last + 1
    later = found.ordered[found.ordered.index(own) + 1 :]
    return min((rank - 1 for mark, rank, _ in known if plain_mark(mark) in later), default=last + 1)


def find_exact(book: WorksBook, number: str) -> int | None:
    """The identity of a drawing by its number, verbatim."""
    row = book.db.execute("SELECT id FROM drawing WHERE number = ?", (number,)).fetchone()
    return int(row[0]) if row else None


def _set_current(book: WorksBook, drawing_id: int, sheet: str) -> None:
    book.db.execute(
        """INSERT INTO sheet_now (drawing_id, sheet, mark, entry, rank)
           SELECT drawing_id, sheet, mark, entry, rank FROM sheet_version WHERE drawing_id = ? AND sheet = ?
           ORDER BY rank DESC, entry DESC LIMIT 1
           ON CONFLICT (drawing_id, sheet) DO UPDATE SET mark = excluded.mark, entry = excluded.entry,
             rank = excluded.rank""",
        (drawing_id, sheet),
    )


def current_sheets(book: WorksBook, drawing_id: int) -> list[Sheet]:
    """The current revision of each sheet of a drawing, in sheet order."""
    rows = book.db.execute(f"{_CURRENT} WHERE c.drawing_id = ?", (drawing_id,)).fetchall()
    return sorted((_sheet(row[1:]) for row in rows), key=lambda sheet: number_key(sheet.sheet))


def sheets_at(book: WorksBook, drawing_id: int, entry: int) -> list[Sheet]:
    """The sheets of a drawing as the register said at an entry."""
    rows = book.db.execute(
        f"SELECT {_SHEET} FROM sheet_version v JOIN drawing d ON d.id = v.drawing_id "
        "WHERE v.drawing_id = ? AND v.entry <= ? AND NOT EXISTS (SELECT 1 FROM sheet_version n "
        "WHERE n.drawing_id = v.drawing_id AND n.sheet = v.sheet AND n.entry <= ? "
        "AND (n.rank > v.rank OR (n.rank = v.rank AND n.entry > v.entry)))",
        (drawing_id, entry, entry),
    ).fetchall()
    return sorted((_sheet(row) for row in rows), key=lambda sheet: number_key(sheet.sheet))


def everything_said(book: WorksBook, drawing_id: int) -> list[tuple[Sheet, str]]:
    """Every entry of the register about the sheets of a drawing with the moment it was made, last first; what was
    entered in one act in sheet order, later marks first."""
    rows = book.db.execute(
        f"SELECT v.entry, v.rank, b.at, {_SHEET} FROM sheet_version v JOIN drawing d ON d.id = v.drawing_id "
        "JOIN day_book b ON b.entry = v.entry WHERE v.drawing_id = ?",
        (drawing_id,),
    )
    said = [(entry, rank, at, _sheet(values)) for entry, rank, at, *values in rows]
    said.sort(key=lambda one: (-one[0], number_key(one[3].sheet), -one[1]))
    return [(sheet, at) for _, _, at, sheet in said]


def put_on_list(book: WorksBook, act: Act, order_no: str, order_id: int, number: str, listed: bool = True) -> bool:
    """Put a registered drawing on an order's drawing list, or take it off; returns whether that is new."""
    drawing_id = find_exact(book, number)
    if drawing_id is None:
        raise LookupError(number)
    last = book.db.execute(
        "SELECT listed FROM order_drawing WHERE order_id = ? AND drawing_id = ? ORDER BY entry DESC LIMIT 1",
        (order_id, drawing_id),
    ).fetchone()
    if bool(last and last[0]) == listed:
        return False
    _, _, digest = listed_form(order_no, number, listed)
    record(
        book,
        act,
        "order_drawing",
        {"order_id": order_id, "drawing_id": drawing_id, "listed": int(listed), "digest": digest},
    )
    return True


def listed(book: WorksBook, order_id: int, entry: int = 2**62) -> list[int]:
    """Identities of the drawings on an order's list, at an entry."""
    rows = book.db.execute(
        "SELECT drawing_id FROM order_drawing l WHERE order_id = ? AND entry <= ? AND listed = 1 AND NOT EXISTS "
        "(SELECT 1 FROM order_drawing n WHERE n.order_id = l.order_id AND n.drawing_id = l.drawing_id "
        "AND n.entry > l.entry AND n.entry <= ?)",
        (order_id, entry, entry),
    )
    return [drawing_id for (drawing_id,) in rows]


def orders_listing(book: WorksBook, drawing_id: int) -> list[str]:
    """Numbers of the orders on whose list a drawing stands."""
    rows = book.db.execute(
        "SELECT o.number FROM order_drawing l JOIN works_order o ON o.id = l.order_id "
        "WHERE l.drawing_id = ? AND l.listed = 1 AND NOT EXISTS (SELECT 1 FROM order_drawing n "
        "WHERE n.order_id = l.order_id AND n.drawing_id = l.drawing_id AND n.entry > l.entry) ORDER BY o.number_key",
        (drawing_id,),
    )
    return [number for (number,) in rows]


def changed_between(book: WorksBook, order_id: int, first: int, last: int) -> set[int]:
    """Drawings of which something was entered, or that came on or off an order's list, after entry `first`, up to and
    including `last`."""
    rows = book.db.execute(
        "SELECT drawing_id FROM sheet_version WHERE entry > ?1 AND entry <= ?2 "
        "UNION SELECT drawing_id FROM order_drawing WHERE order_id = ?3 AND entry > ?1 AND entry <= ?2",
        (first, last, order_id),
    )
    return {drawing_id for (drawing_id,) in rows}


def list_of_order(
    book: WorksBook, order_id: int, entry: int | None = None, only: Collection[int] | None = None
) -> list[Sheet]:
    """Current sheets of the drawings on an order's list, or of some of them, now or at an entry, in number order."""
    if entry is None:
        wanted = {one for one in listed(book, order_id) if only is None or one in only}
        sheets = [sheet for drawing_id, sheet in every_drawing(book) if drawing_id in wanted]
    else:
        wanted = {one for one in listed(book, order_id, entry) if only is None or one in only}
        sheets = [sheet for one in wanted for sheet in sheets_at(book, one, entry)]
    return sorted(sheets, key=lambda sheet: (number_key(sheet.number), number_key(sheet.sheet)))


def every_drawing(book: WorksBook) -> Iterator[tuple[int, Sheet]]:
    """Current sheets of the whole register, with the drawing's identity."""
    for row in book.db.execute(_CURRENT):
        yield row[0], _sheet(row[1:])


def rebuild_now(book: WorksBook) -> None:
    """Make the current marks and the word index of the register anew from the record."""
    book.db.execute("DELETE FROM sheet_now")
    word_index.clear(book, "drawing")
    for drawing_id, number in book.db.execute("SELECT id, number FROM drawing").fetchall():
        for (sheet,) in book.db.execute(
            "SELECT DISTINCT sheet FROM sheet_version WHERE drawing_id = ?", (drawing_id,)
        ).fetchall():
            _set_current(book, drawing_id, sheet)
        texts = word_index.sheet_texts(number, current_sheets(book, drawing_id))
        word_index.replace(book, "drawing", drawing_id, None, texts)


# What items call up -------------------------------------------------------------------------------------------------


def set_calls(book: WorksBook, item_id: int, calls: Sequence[Call]) -> None:
    """Say anew which drawings an item calls up now."""
    book.db.execute("DELETE FROM call_now WHERE item_id = ?", (item_id,))
    for place, call in enumerate(calls):
        insert(
            book.db,
            "call_now",
            {
                "item_id": item_id, "place": place, "written": call.written, "drawing_id": call.drawing_id,
                "sheet": call.sheet,
            },
        )  # fmt: skip


def calls_of(book: WorksBook, item_id: int) -> list[Call]:
    """Which drawings an item calls up now, as written."""
    rows = book.db.execute(
        "SELECT written, drawing_id, sheet FROM call_now WHERE item_id = ? ORDER BY place", (item_id,)
    )
    return [Call(*row) for row in rows]


def calls_of_order(book: WorksBook, order_id: int) -> dict[int, list[Call]]:
    """The same for all items of an order that call up any."""
    found: dict[int, list[Call]] = {}
    for row in book.db.execute(
        "SELECT c.item_id, c.written, c.drawing_id, c.sheet FROM call_now c JOIN item_now i ON i.item_id = c.item_id "
        "WHERE i.order_id = ? ORDER BY c.item_id, c.place",
        (order_id,),
    ):
        found.setdefault(row[0], []).append(Call(*row[1:]))
    return found


def items_to_match(book: WorksBook, entered: Sequence[str]) -> list[int]:
    """Items to be matched again when drawings have been entered: those that call up something unknown, and those that
    call up one of these numbers or sheets, which may have been taken for another's sheet before."""
    wanted = set(entered)
    rows = book.db.execute("SELECT item_id, written, drawing_id FROM call_now ORDER BY item_id")
    return list(dict.fromkeys(item for item, written, drawing in rows if drawing is None or written in wanted))


def called_up_by(book: WorksBook, drawing_id: int) -> list[tuple[str, str, str, str]]:
    """Live items that call up a drawing now: (order, number, title, as written), in specification order."""
    rows = book.db.execute(
        "SELECT o.number, i.number, i.title, c.written FROM call_now c JOIN item_now i ON i.item_id = c.item_id "
        "JOIN works_order o ON o.id = i.order_id WHERE c.drawing_id = ? AND i.state = 'live' "
        "ORDER BY o.number_key, i.place_key",
        (drawing_id,),
    )
    return list(rows.fetchall())


def record_calls(book: WorksBook, act: Act, order_no: str, order_id: int, item_id: int, number: str) -> None:
    """Record which drawings an item called up at the issue; they come on the order's drawing list, and so under its
    seal, if they were not on it."""
    for place, call in enumerate(calls_of(book, item_id)):
        drawing = ""
        if call.drawing_id is not None:
            (drawing,) = book.db.execute("SELECT number FROM drawing WHERE id = ?", (call.drawing_id,)).fetchone()
            put_on_list(book, act, order_no, order_id, drawing)
        _, _, digest = call_form(order_no, number, call.written, drawing, call.sheet)
        record(
            book,
            act,
            "item_drawing",
            {
                "item_id": item_id, "place": place, "written": call.written, "drawing_id": call.drawing_id,
                "sheet": call.sheet, "digest": digest,
            },
        )  # fmt: skip


def calls_at(book: WorksBook, item_id: int, entry: int) -> list[Call]:
    """Which drawings an item called up at an entry, by its last recorded row."""
    rows = book.db.execute(
        "SELECT written, drawing_id, sheet FROM item_drawing WHERE item_id = ?1 AND entry = "
        "(SELECT max(entry) FROM item_version WHERE item_id = ?1 AND entry <= ?2) ORDER BY place",
        (item_id, entry),
    )
    return [Call(*found) for found in rows]
