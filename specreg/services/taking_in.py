"""Taking in an order folder: read, held against the book, shown as a preview or written as open edits in one act.

Nothing is guessed and nothing is dropped: a faulty row is set aside with file and line, a row that somebody else
altered in the book since the folder was written is not overwritten but set aside too.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from specreg.core.counts import so_many
from specreg.core.errors import Refused, WrongUse
from specreg.core.faults import Fault, Place
from specreg.core.model import Note, Order, Sheet
from specreg.core.record_forms import sheet_form
from specreg.services.altering import put_item
from specreg.services.entering import overtaken, put_in_register
from specreg.services.import_doubts import doubts
from specreg.services.import_plan import ItemPlan, Plan, ReadItem, plan_items
from specreg.services.office import Office
from specreg.store import drawings, edits, items, notes, orders, set_aside
from specreg.store.database import Act
from specreg.store.edits import Change

Progress = Callable[[str, int, int], None]
"""Told what is being done, how far it is, and out of how many."""

_FOLDER = "order folder"


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What was, or would be, taken in.

    `records` counts items and sheets read; `kept` are numbers that were altered in the book since the folder was
    written and not in the folder, and so left alone; `flags` are what the readers noticed and `doubts` what the checker
    says of it, each with file and line.
    """

    source: str
    order: Order
    new_order: bool
    records: int
    plans: tuple[ItemPlan, ...]
    sheets: int
    kept: tuple[str, ...]
    flags: tuple[Fault, ...]
    set_aside: tuple[tuple[Place, str, str], ...]
    note: str
    written: bool
    doubts: tuple[Fault, ...] = ()

    def numbers(self, act: str) -> tuple[str, ...]:
        """Numbers of the items that were added, altered, renumbered only, or deleted."""
        return tuple(plan.item.number for plan in self.plans if plan.act == act)

    @property
    def renumbered(self) -> tuple[tuple[str, str], ...]:
        """Former and new number of every item that has another number now, altered besides or not."""
        return tuple((plan.former, plan.item.number) for plan in self.plans if plan.former)


@dataclass(frozen=True, slots=True)
class _Read:
    """A folder as read, with its works standards."""

    folder: Path
    order: Order
    items: tuple[ReadItem, ...]
    sheets: tuple[Sheet, ...]
    flags: tuple[Fault, ...]
    set_aside: tuple[tuple[Place, str, str], ...]
    written_from: Mapping[tuple[str, str], str]
    standards: Mapping[str, object] | None
    standards_source: str
    has_drawing_list: bool


def take_in(
    office: Office,
    folder: Path,
    note: str = "",
    preview: bool = False,
    standards: Path | None = None,
    progress: Progress | None = None,
    as_order: str = "",
) -> TakenIn:
    """Take in an order folder; with `preview` nothing is written.

    A new order becomes a first compilation; into an order the book holds, differences become open edits under the
    note named, or the only open one. With `as_order` it is taken in under that number instead of its own.
    """
    say = progress or _quiet
    say("reading", 0, 1)
    read = _read(office, folder, standards, as_order)
    held = orders.by_number(office.book, read.order.number)
    office.standing = held
    if held is None and read.standards is None:
        raise WrongUse(
            f"Take in {folder}",
            "order.toml names no works standards, and a new order must stand on some",
            'Add standards = "FOLDER" to order.toml, or give --standards',
        )
    if preview:
        with office.book.reading():
            plan = _plan(office, read, None)
            doubtful = _doubts(office, read)
        done = _account(read, plan, new_order=held is None, note=note, written=False)
        return replace(done, doubts=doubtful)
    office.require("take in an order")
    with office.book.act(office.person.code, "take in", office.now, held.order_id if held else None) as act:
        target = _order_and_note(office, act, read, note)
        plan = _plan(office, read, target)
        sheets = _enter_sheets(office, act, read, say)
        _write_items(office, target, plan.items, say)
        aside = (*read.set_aside, *plan.set_aside)
        rows = [(place.file, place.line, text, reason) for place, text, reason in aside]
        set_aside.replace_all(office.book, office.order_id, _FOLDER, rows)
        act.order_id = office.order_id
        act.words = _taken_in_words(folder, sheets, len(rows), len(plan.items))
        number = notes.by_id(office.book, target).note.number if target else ""
        doubtful = (*_doubts(office, read), *overtaken(office, read.sheets))
    done = _account(read, plan, new_order=held is None, note=number, written=True, sheets=sheets)
    return replace(done, doubts=doubtful)


def take_in_drawing_list(office: Office, file: Path, preview: bool = False) -> TakenIn:
    """Take in a drawing list by itself, into the register and onto the list of the order on the desk."""
    from specreg.intake.drawing_list import read_drawing_list

    taken = read_drawing_list(file, file.name)
    order = orders.by_id(office.book, office.order_id).order
    read = _Read(
        folder=file,
        order=order,
        items=(),
        sheets=tuple(one.sheet for one in taken.sheets),
        flags=taken.flags,
        set_aside=tuple((one.place, one.text, one.reason) for one in taken.set_aside),
        written_from={},
        standards=None,
        standards_source="",
        has_drawing_list=False,
    )
    if preview:
        return _account(read, Plan(), new_order=False, note="", written=False)
    office.require("enter drawings")
    with office.book.act(office.person.code, "take in drawings", office.now, office.order_id) as act:
        sheets = _enter_sheets(office, act, read, _quiet)
        rows = [(place.file, place.line, text, reason) for place, text, reason in read.set_aside]
        set_aside.replace_all(office.book, office.order_id, "drawing list", rows)
        act.words = _taken_in_words(file, sheets, len(rows))
        older = overtaken(office, read.sheets)
    done = _account(read, Plan(), new_order=False, note="", written=True, sheets=sheets)
    return replace(done, doubts=tuple(older))


def _taken_in_words(source: Path, sheets: int, aside: int, taken: int | None = None) -> str:
    """What the day-book says of a source taken in."""
    counts = [so_many(sheets, "sheet"), f"{so_many(aside, 'row')} set aside"]
    return f"{source}: {', '.join(counts if taken is None else [so_many(taken, 'item'), *counts])}"


def _quiet(what: str, done: int, of: int) -> None:
    del what, done, of


# Reading ------------------------------------------------------------------------------------------------------------


def _read(office: Office, folder: Path, standards: Path | None, as_order: str) -> _Read:
    from specreg.intake.order_folder import read_order
    from specreg.intake.standards_folder import read_standards

    taken = read_order(folder)
    order = replace(taken.order, number=as_order) if as_order else taken.order
    held = orders.by_number(office.book, order.number) is not None
    where = standards or taken.standards_folder
    content: Mapping[str, object] | None = None
    # An exported folder may lie anywhere: an order that is held keeps the standards it stands on.
    if where is not None and (where.is_dir() or not held or standards is not None):
        content = read_standards(where).content
    return _Read(
        folder=folder,
        order=order,
        items=tuple(ReadItem(one.item, one.place, one.source) for one in taken.items),
        sheets=tuple(one.sheet for one in taken.sheets),
        flags=taken.flags,
        set_aside=tuple((one.place, one.text, one.reason) for one in taken.set_aside),
        written_from=taken.written_from,
        standards=content,
        standards_source=str(where) if where else "",
        has_drawing_list="drawings.csv" in taken.files,
    )


def _doubts(office: Office, read: _Read) -> tuple[Fault, ...]:
    from specreg.intake.standards_folder import standards_from_content

    standards = standards_from_content(read.standards) if read.standards is not None else office.standards()
    return doubts(office, read.order, read.items, read.sheets, standards)


def _plan(office: Office, read: _Read, target: int | None) -> Plan:
    standing = list(items.all_now(office.book, office.order_id)) if office.standing is not None else []
    return plan_items(read.order, read.items, standing, read.written_from, Place(str(read.folder)), target)


# Writing ------------------------------------------------------------------------------------------------------------


def _order_and_note(office: Office, act: Act, read: _Read, note: str) -> int | None:
    """The order with its head, and the note that edits go under; None when there is no open note and none is needed."""
    book = office.book
    if office.standing is None:
        assert read.standards is not None
        order_id = orders.add(book, read.order)
        digest = orders.keep_standards(book, read.standards, read.standards_source, office.now)
        orders.say(book, act, order_id, read.order, digest)
        office.standing = orders.by_id(book, order_id)
        return notes.add(book, act, read.order.number, order_id, Note("0", words="first compilation"))
    standing = orders.by_id(book, office.order_id)
    digest = standing.standards
    if read.standards is not None:
        digest = orders.keep_standards(book, read.standards, read.standards_source, office.now)
    if orders.say(book, act, standing.order_id, read.order, digest):
        office.require("alter the head or the standards of an order")
    office.refresh()
    if note or office.open_notes():
        return office.note_to_edit_under(note).note_id
    return None


def _enter_sheets(office: Office, act: Act, read: _Read, say: Progress) -> int:
    say("drawings", 0, len(read.sheets))
    entered = put_in_register(office, act, read.sheets)
    if read.has_drawing_list:
        _take_off_list(office, act, read)
    return entered


def _take_off_list(office: Office, act: Act, read: _Read) -> None:
    """A drawing that an export listed and that somebody struck out of drawings.csv comes off the order's list."""
    there = {sheet.number for sheet in read.sheets}
    for sheet in drawings.list_of_order(office.book, office.order_id):
        written = read.written_from.get(("sheet", sheet.name))
        if sheet.number not in there and written == sheet_form(sheet)[2].hex():
            drawings.put_on_list(office.book, act, office.order_no, office.order_id, sheet.number, listed=False)


def _write_items(office: Office, target: int | None, plans: Sequence[ItemPlan], say: Progress) -> None:
    if not plans:
        return
    if target is None:
        raise Refused(
            "Take in these edits",
            f"{so_many(len(plans), 'item')} would be altered and no note is open",
            "Open one with `specreg note open`, and look first with --preview",
        )
    items.free_numbers(office.book, [plan.item_id for plan in plans if plan.item_id is not None and plan.former])
    changes: list[Change] = []
    for place, plan in enumerate(plans):
        say("items", place, len(plans))
        item_id = plan.item_id if plan.item_id is not None else items.new_identity(office.book, office.order_id)
        before = edits.open_text(office.book, item_id) if plan.item_id is not None else None
        put_item(office, item_id, target, plan.item)
        changes.append(Change(item_id, before[1] if before else None, items.item_as_json(plan.item)))
    edits.log(
        office.book, office.order_id, target, office.person.code, office.now,
        f"{so_many(len(plans), 'item')} taken in", changes,
    )  # fmt: skip


def _account(read: _Read, plan: Plan, new_order: bool, note: str, written: bool, sheets: int = 0) -> TakenIn:
    return TakenIn(
        source=str(read.folder),
        order=read.order,
        new_order=new_order,
        records=len(read.items) + len(read.sheets),
        plans=plan.items,
        sheets=sheets if written else len(read.sheets),
        kept=plan.kept,
        flags=(*read.flags, *plan.flags),
        set_aside=(*read.set_aside, *plan.set_aside),
        note=note,
        written=written,
    )
