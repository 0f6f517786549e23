"""The reader of one office: what the screens and the reading commands are shown."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from specreg.core.comparing import field_changes
from specreg.core.faults import Severity
from specreg.core.model import FIELDS, Item, NumberOff, Route, Sheet, State
from specreg.core.numbering import depth, number_key
from specreg.core.picture import Picture
from specreg.core.routing import numbered
from specreg.core.seals import short_code
from specreg.core.shares import reconcile
from specreg.core.standards import Standards
from specreg.services.altering import find_item
from specreg.services.checking import check_picture
from specreg.services.finding import Finder
from specreg.services.office import Office
from specreg.services.readings import (
    Count,
    Desk,
    Found,
    ItemLine,
    ItemSheet,
    NoteLine,
    SaidLine,
    SectionLine,
    SheetLine,
    StepLine,
    TitleLine,
)
from specreg.services.signing import MAY_SIGN_AS, signatures
from specreg.services.standing import as_it_stands
from specreg.store import day_book, drawings, edits, items, notes, revisions, routes
from specreg.store.items import Standing
from specreg.store.notes import NoteStanding
from specreg.store.revisions import Revision


class OfficeReader:
    """Reads one order for one thread; never writes. Fulfils `readings.Reader`."""

    def __init__(self, office: Office) -> None:
        self._office = office
        self._finder = Finder(office)
        self._pictured: tuple[int, Picture] | None = None

    # The order ------------------------------------------------------------------------------------------------------

    def version(self) -> int:
        """Changes whenever anybody has written to the book."""
        return self._office.book.version()

    def close(self) -> None:
        """Let go of the book."""
        self._office.book.close()

    def title_line(self) -> TitleLine:
        """What the title block says."""
        office = self._office
        office.refresh()
        if office.standing is None:
            return TitleLine("", "no order yet", "", "", "", office.person.name, _role(office), 0, "")
        last = revisions.last(office.book, office.order_id)
        order = office.standing.order
        return TitleLine(
            order=order.number,
            title=order.title,
            machines=order.machines,
            revision=last.letter if last else "",
            seal=short_code(last.seal) if last else "",
            person=office.person.name,
            role=_role(office),
            open_edits=sum(len(items.under_note(office.book, one.note_id)) for one in office.open_notes()),
            issued_on=last.issued_on if last else "",
        )

    def picture(self) -> Picture:
        """The order as it stands, drawn once until somebody writes."""
        version = self.version()
        if self._pictured is None or self._pictured[0] != version:
            with self._office.book.reading():
                self._pictured = (version, as_it_stands(self._office))
        return self._pictured[1]

    # The desk -------------------------------------------------------------------------------------------------------

    def desk(self) -> Desk:
        """What waits for this person, what is out of order, and how far the drawings are."""
        office = self._office
        if office.standing is None:
            return Desk(office.today, (), (), (), "", 0, 0, 0, 0, 0)
        picture = self.picture()
        reckoned = reconcile(picture.routed, picture.totals)
        open_notes = office.open_notes()
        numbers = {sheet.number: True for sheet in picture.sheets}
        for sheet in picture.sheets:
            numbers[sheet.number] &= sheet.may_be_made_from
        last = edits.latest(office.book, office.order_id)
        return Desk(
            day=office.today,
            waits=self._waits(open_notes),
            out_of_order=self._out_of_order(picture),
            notes=tuple(self._note_line(one) for one in open_notes),
            last_edit=f"{last[2]}, {last[0]}, {last[1][:16].replace('T', ' ')}" if last else "",
            drawings_issued=sum(numbers.values()),
            drawings_total=len(numbers),
            steps=reckoned.steps,
            in_shares=reckoned.in_shares,
            items=reckoned.items,
        )

    def _note_line(self, standing: NoteStanding) -> NoteLine:
        under = items.under_note(self._office.book, standing.note_id)
        state = signatures(self._office, standing)
        waits = f"waits to be signed: {state.wanting[0]}" if state.wanting else "ready to issue"
        if not under and not routes.under_note(self._office.book, standing.note_id):
            waits = "no edits yet"
        return NoteLine(
            standing.note.number,
            "first compilation" if standing.note.is_compilation else standing.note.words or standing.note.reason,
            len(under),
            tuple(f"{one.signed_as} {one.person}" for one in state.holding),
            waits,
        )

    def _waits(self, open_notes: Sequence[NoteStanding]) -> tuple[Count, ...]:
        mine = set(self._office.person.roles)
        to_sign = second = 0
        for standing in open_notes:
            state = signatures(self._office, standing)
            signed = any(one.person == self._office.person.code for one in state.holding)
            under = items.under_note(self._office.book, standing.note_id)
            if under and state.wanting and not signed and MAY_SIGN_AS[state.wanting[0]] & mine:
                second += state.wanting[0] == "second check"
                to_sign += state.wanting[0] != "second check"
        ready = sum(
            signatures(self._office, one).complete and bool(items.under_note(self._office.book, one.note_id))
            for one in open_notes
        )
        found = [
            Count("^", to_sign, "note to sign" if to_sign == 1 else "notes to sign"),
            Count("§", second, "with safety items, for a second checker"),
            Count("^", ready if "chief" in mine else 0, "signed, ready to issue"),
        ]
        return tuple(one for one in found if one.count)

    def _out_of_order(self, picture: Picture) -> tuple[Count, ...]:
        checked = check_picture(self._office, picture)
        last = revisions.last(self._office.book, self._office.order_id)
        made = {
            one.department
            for one in revisions.extracts_of(self._office.book, self._office.order_id)
            if last is not None and one.seq == last.seq
        }
        without = len([one for one in picture.standards.departments if one.code not in made]) if last else 0
        held = sum(item.clearance.strip().lower() == "hold" for item in picture.lines)
        late = _late(picture.sheets, self._office.today)
        found = [
            Count("!", checked.count(Severity.STOP), "stops before the next revision can issue"),
            Count("x", checked.count(Severity.ERROR), "errors nobody has let pass"),
            Count("~", checked.count(Severity.WARNING), "warnings"),
            Count("~", without, f"departments without an extract of revision {last.letter if last else ''}"),
            Count("~", late, "drawings late against the programme"),
            Count("·", held, "items on hold"),
        ]
        return tuple(one for one in found if one.count)

    # The specification ----------------------------------------------------------------------------------------------

    def sections(self) -> tuple[SectionLine, ...]:
        """The index page."""
        if self._office.standing is None:
            return ()
        last = revisions.last(self._office.book, self._office.order_id)
        entry = last.entry if last and last.seq > 1 else 2**62
        rows = items.section_counts(self._office.book, self._office.order_id, entry)
        return tuple(SectionLine(*row) for row in rows)

    def count(self, section: str) -> int:
        """How many rows the list of a section has."""
        return items.count(self._office.book, self._office.order_id, section) if self._office.standing else 0

    def lines(self, section: str, first: int, count: int) -> tuple[ItemLine, ...]:
        """Rows of the list of a section."""
        office = self._office
        if office.standing is None:
            return ()
        with office.book.reading():
            last = revisions.last(office.book, office.order_id)
            page = items.page(office.book, office.order_id, section, first, count)
            return tuple(self._item_line(one, last) for one in page)

    def _item_line(self, standing: Standing, last: Revision | None) -> ItemLine:
        item = standing.item
        note = notes.by_id(self._office.book, standing.note_id).note.number if standing.note_id is not None else ""
        return ItemLine(
            sign=self._sign(standing, last),
            number=item.number,
            title=item.title or item.text.partition("\n")[0],
            safety=bool(item.safety),
            off=_off_as_written(item),
            material=item.material,
            size=item.size or item.weight or item.rough_weight,
            drawing=item.drawing,
            kind=item.kind.value,
            state=item.state.value if item.state is State.LIVE else f"{item.state.value}: {item.reason}",
            depth=max(depth(item.number) - 1, 0),
            note=note,
        )

    def _sign(self, standing: Standing, last: Revision | None) -> str:
        """How an item differs: from the last issue while it is open, else from the issue before that."""
        item = standing.item
        if last is not None and standing.note_id is not None:
            return _sign_of(items.one_at(self._office.book, standing.item_id, last.entry), item)
        if last is not None and last.seq > 1 and standing.version_id is not None:
            said = items.versions(self._office.book, standing.item_id)
            if said and said[-1][0] == last.entry:
                return _sign_of(said[-2][2] if len(said) > 1 else None, item)
        clearance = item.clearance.strip().lower()
        return {"hold": "H", "material only": "M"}.get(clearance, "-" if item.state is State.DELETED else "")

    def row_of(self, section: str, number: str) -> int:
        """In which row of the list an item stands."""
        return items.row_of(self._office.book, self._office.order_id, section, number)

    # One item -------------------------------------------------------------------------------------------------------

    def item(self, number: str) -> ItemSheet:
        """The sheet of one item as it stands."""
        with self._office.book.reading():
            standing = find_item(self._office, number)
            picture = self.picture()
            total = picture.totals.get(number_key(standing.item.number))
            route = routes.one_now(self._office.book, standing.item_id) or Route()
            last = revisions.last(self._office.book, self._office.order_id)
            before = items.one_at(self._office.book, standing.item_id, last.entry) if last else None
            note = ""
            was: dict[str, str] = {}
            if standing.note_id is not None:
                note = notes.by_id(self._office.book, standing.note_id).note.number
                if before is not None:
                    was = {one.label: one.old for one in field_changes(before, standing.item)}
            sheets = {call.written: call.sheets for call in picture.calls.get(number_key(standing.item.number), ())}
            made = item_sheet(
                standing.item, route, total, sheets, picture.standards, self._section_title(standing.item)
            )
            return replace(
                made,
                was=was,
                note=note,
                sign=self._sign(standing, last),
                history=self.history(standing),
            )

    def item_at(self, number: str, revision: Revision) -> ItemSheet:
        """The sheet of one item as a revision said it."""
        from specreg.core.errors import NotFound
        from specreg.services.standing import as_issued

        office = self._office
        with office.book.reading():
            found = items.number_at(office.book, office.order_id, number, revision.entry)
            if found is None:
                raise NotFound(f"Item {number} at revision {revision.letter}", "there was none", "")
            item_id, item = found
            route = routes.one_at(office.book, item_id, revision.entry) or Route()
            total = revisions.total_at(office.book, item_id, revision.entry)
            picture = as_issued(office, revision)
            sheets = {call.written: call.sheets for call in picture.calls.get(number_key(item.number), ())}
            standing = items.by_id(office.book, item_id)
            made = item_sheet(item, route, total, sheets, picture.standards, self._section_title(item))
            return replace(made, history=self.history(standing) if standing else ())

    def _section_title(self, item: Item) -> str:
        section = items.by_number(self._office.book, self._office.order_id, item.section)
        return section.item.title if section else ""

    def history(self, standing: Standing) -> tuple[SaidLine, ...]:
        """Every revision that says something new of an item, and what is open."""
        book, order_id = self._office.book, self._office.order_id
        told: list[SaidLine] = []
        before: Item | None = None
        for entry, note_id, item in items.versions(book, standing.item_id):
            revision = revisions.first_holding(book, order_id, entry)
            note = notes.by_id(book, note_id).note
            told.append(
                SaidLine(
                    revision.letter if revision else "",
                    revision.issued_on if revision else day_book.at_of(book, entry)[:10],
                    "" if note.is_compilation else note.number,
                    _change_in_words(before, item),
                )
            )
            before = item
        if standing.note_id is not None:
            note = notes.by_id(book, standing.note_id).note
            words = _change_in_words(before, standing.item)
            told.append(SaidLine("open", "", "" if note.is_compilation else note.number, words))
        return tuple(told)

    def find(self, text: str, limit: int, stopped: Callable[[], bool]) -> Found:
        """Search."""
        return self._finder.find(text, limit, stopped)

    def sheets(self) -> tuple[Sheet, ...]:
        """The drawing list of the order, current sheets."""
        return tuple(drawings.list_of_order(self._office.book, self._office.order_id))


def item_sheet(
    item: Item,
    route: Route,
    total: NumberOff | None,
    sheets: dict[str, tuple[Sheet, ...]],
    standards: Standards,
    section_title: str,
) -> ItemSheet:
    """An item with its route, its number off and its drawings, laid out for reading."""
    shown = numbered(route, total) if total is not None else route
    return ItemSheet(
        number=item.number,
        title=item.title,
        text=item.text,
        kind=item.kind.value,
        state=item.state.value,
        reason=item.reason,
        section=item.section,
        section_title=section_title,
        fields=tuple(item.said()),
        was={},
        off=_total_in_words(total),
        working=total.working if total else "",
        sheets=tuple(_sheet_lines(item, sheets)),
        route=tuple(
            StepLine(
                step.place,
                step.department,
                _department_name(standards, step.department),
                step.operation,
                "as required" if step.off is None else f"{step.off}+{step.extra}" if step.extra else str(step.off),
                step.because,
            )
            for step in shown.steps
        ),
        no_action=route.no_action,
        history=(),
        note="",
        sign="",
        safety=bool(item.safety),
    )


def _sheet_lines(item: Item, sheets: dict[str, tuple[Sheet, ...]]) -> list[SheetLine]:
    told: list[SheetLine] = []
    for written in item.drawings:
        meant = sheets.get(written, ())
        if not meant:
            told.append(SheetLine(written, "", "", "", "not in the register", False))
        told += [SheetLine(written, one.name, one.title, one.revision, one.stage, True) for one in meant]
    return told


def _department_name(standards: Standards, code: str) -> str:
    found = standards.department(code)
    return found.name if found else code


def _total_in_words(total: NumberOff | None) -> str:
    if total is None:
        return ""
    return str(total.off) if total.off is not None else total.written


def _off_as_written(item: Item) -> str:
    """As a parts list shows it: the number, and what it is per when that is not the usual."""
    if not item.off or not item.per:
        return item.off
    per = item.per.strip().lower()
    return f"{item.off} an order" if per == "order" else item.off


def _sign_of(before: Item | None, after: Item) -> str:
    if before is None or (before.state is not State.LIVE and after.state is State.LIVE):
        return "+"
    if after.state is State.DELETED and before.state is not State.DELETED:
        return "-"
    return "»" if before != after else ""


def _change_in_words(before: Item | None, after: Item) -> str:
    if before is None:
        return "first said"
    if before.state is not after.state:
        if after.state is State.LIVE:
            return "live again"
        return f"{after.state.value}: {after.reason}"
    labels = {field.label for field in FIELDS}
    told = [
        f"{one.label} {one.old or 'blank'} -> {one.new or 'blank'}" if one.label in labels else f"{one.label} altered"
        for one in field_changes(before, after)
    ]
    return "; ".join(told) or "written otherwise"


def _late(sheets: Sequence[Sheet], today: str) -> int:
    """Drawings planned for a day gone by and not approved; only days written as 2026-11-25 can be held against today."""
    planned = {
        sheet.number
        for sheet in sheets
        if not sheet.may_be_made_from and len(sheet.planned) == 10 and sheet.planned < today
    }
    return len(planned)


def _role(office: Office) -> str:
    roles = office.person.roles
    return roles[0] if roles else "reader"
