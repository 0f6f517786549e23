"""Entering sheets in the drawing register, and reading it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from specreg.core.errors import NotFound, WrongUse
from specreg.core.model import Sheet
from specreg.services.office import Office
from specreg.store import drawings, items
from specreg.store.database import Act
from specreg.store.revisions import Revision


def enter_sheets(office: Office, sheets: Sequence[Sheet]) -> int:
    """Enter sheets, or what is new about them, and put their drawings on the order's list; returns how many are new."""
    office.require("enter drawings")
    for sheet in sheets:
        if not sheet.number.strip():
            raise WrongUse("Enter a sheet", "it has no drawing number", "Give one")
    with office.book.act(office.person.code, "enter drawings", office.now, office.order_id) as act:
        new = put_in_register(office, act, sheets)
        act.words = ", ".join(f"{sheet.name} {sheet.revision}".strip() for sheet in sheets[:8])
    return new


def put_in_register(office: Office, act: Act, sheets: Sequence[Sheet]) -> int:
    """The same inside an act; items that called up something unknown are matched again."""
    new = 0
    for sheet in sheets:
        new += drawings.enter(office.book, act, sheet)
        drawings.put_on_list(office.book, act, office.order_no, office.order_id, sheet.number)
    for item_id in drawings.unmatched_items(office.book):
        standing = items.by_id(office.book, item_id)
        if standing is not None:
            calls = [drawings.match(office.book, written) for written in standing.item.drawings]
            drawings.set_calls(office.book, item_id, calls)
    return new


def sheet_said(office: Office, number: str, said: Mapping[str, str]) -> Sheet:
    """A sheet as now to be entered: the current one of that number and sheet, with what is said of it altered.

    A new revision takes over title, size and scale, and begins without stage and signatures.
    """
    drawing_id = drawings.find_exact(office.book, number.strip())
    there = drawings.current_sheets(office.book, drawing_id) if drawing_id is not None else []
    wanted = said.get("sheet", "")
    current = next((one for one in there if one.sheet == wanted), None) or Sheet(number.strip(), wanted)
    if "revision" in said and said["revision"] != current.revision:
        current = replace(current, stage="", date="", drawn="", checked="", approved="")
    return replace(current, **said)


def listed_sheets(office: Office, revision: Revision | None = None) -> list[Sheet]:
    """Current sheets of the order's drawing list, now or when a revision was issued, in number order."""
    return drawings.list_of_order(office.book, office.order_id, revision.entry if revision else None)


def sheets_of_drawing(office: Office, number: str, revision: Revision | None = None) -> list[Sheet]:
    """Sheets of one drawing, or the one sheet named as number/sheet, as the register says now or said when a revision
    was issued. Raises NotFound."""
    call = drawings.match(office.book, number.strip())
    if call.drawing_id is None:
        raise NotFound(f"Drawing {number}", "it is not in the register", "Look it up with `specreg find`")
    there = (
        drawings.sheets_at(office.book, call.drawing_id, revision.entry)
        if revision is not None
        else drawings.current_sheets(office.book, call.drawing_id)
    )
    return [sheet for sheet in there if not call.sheet or sheet.sheet == call.sheet]


def called_up_by(office: Office, number: str) -> list[tuple[str, str, str, str]]:
    """Live items that call up a drawing, or the one sheet named: (order, item, title, as written)."""
    call = drawings.match(office.book, number.strip())
    if call.drawing_id is None:
        return []
    return [
        found
        for found in drawings.called_up_by(office.book, call.drawing_id)
        if not call.sheet or drawings.match(office.book, found[3]).sheet in ("", call.sheet)
    ]
