"""Entering sheets in the drawing register, and reading it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from specreg.core.days import is_no_day
from specreg.core.errors import NotFound, WrongUse
from specreg.core.faults import Fault, Severity
from specreg.core.model import Sheet, Stage
from specreg.services.office import Office
from specreg.store import drawings, items
from specreg.store.database import Act
from specreg.store.revisions import Revision


def enter_sheets(office: Office, sheets: Sequence[Sheet]) -> int:
    """Enter sheets, or what is new about them, and put their drawings on the order's list; returns how many are new."""
    office.require("enter drawings")
    for sheet in sheets:
        _check_number(sheet)
    with office.book.act(office.person.code, "enter drawings", office.now, office.order_id) as act:
        new = put_in_register(office, act, sheets)
        act.words = ", ".join(f"{sheet.name} {sheet.revision}".strip() for sheet in sheets[:8])
    return new


def _check_number(sheet: Sheet) -> None:
    if not sheet.number.strip():
        raise WrongUse("Enter a sheet", "it has no drawing number", "Give one")


def _check_sheet(sheet: Sheet) -> None:
    """A sheet entered by hand says what it is, how far it has come, and who signed it."""
    _check_number(sheet)
    asked = f"Enter {sheet.name or 'a sheet'}"
    stages = ", ".join(stage.value for stage in Stage)
    if not sheet.title.strip():
        raise WrongUse(asked, "it has no title", "Give title=...")
    if sheet.stage not in set(Stage):
        raise WrongUse(asked, f"its stage is {sheet.stage or 'not given'}", f"Give stage= one of {stages}")
    if sheet.may_be_made_from and not (sheet.drawn and sheet.checked and sheet.approved):
        raise WrongUse(
            asked,
            f"it is to stand at '{sheet.stage}' without saying who drew, checked and approved it",
            "Give drawn=, checked= and approved=, or 'not recorded' for legacy work",
        )
    for label in ("date", "planned", "drawn", "checked", "approved"):
        said: str = getattr(sheet, label)
        if is_no_day(said):
            raise WrongUse(f"{asked}, {label} {said}", "there is no such day", "Write a day as 2026-11-25")


def put_in_register(office: Office, act: Act, sheets: Sequence[Sheet]) -> int:
    """The same inside an act; items that called up something unknown are matched again."""
    entered: list[str] = []
    for sheet in sheets:
        if drawings.enter(office.book, act, sheet):
            entered += [sheet.number, sheet.name]
        drawings.put_on_list(office.book, act, office.order_no, office.order_id, sheet.number)
    for item_id in drawings.items_to_match(office.book, entered):
        standing = items.by_id(office.book, item_id)
        if standing is not None:
            calls = [drawings.match(office.book, written) for written in standing.item.drawings]
            drawings.set_calls(office.book, item_id, calls)
    return len(entered) // 2


def overtaken(office: Office, sheets: Sequence[Sheet]) -> list[Fault]:
    """Of sheets just entered, those that are surely older than what the register holds, and so not current."""
    found = []
    for sheet in {one.name: one for one in sheets}.values():
        drawing_id = drawings.find_exact(office.book, sheet.number)
        there = drawings.current_sheets(office.book, drawing_id) if drawing_id is not None else []
        current = next((one.revision for one in there if one.sheet == sheet.sheet), sheet.revision)
        if current != sheet.revision:
            said = f"{sheet.name} rev {sheet.revision or '(none)'} is the older one; rev {current} stays current."
            found.append(Fault("older revision", Severity.WARNING, sheet.name, said))
    return found


def enter_by_hand(office: Office, number: str, said: Mapping[str, str]) -> tuple[Sheet, bool]:
    """Enter one sheet from what a person says of it; returns it and whether anything was new. Raises WrongUse when it
    does not say what it is, how far it has come, or who signed it."""
    office.require("enter drawings")
    # Read inside the act: what another program enters of the same sheet meanwhile must not be put back.
    with office.book.act(office.person.code, "enter drawings", office.now, office.order_id) as act:
        sheet = sheet_said(office, number, said)
        _check_sheet(sheet)
        new = put_in_register(office, act, [sheet])
        act.words = f"{sheet.name} {sheet.revision}".strip()
    return sheet, bool(new)


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
