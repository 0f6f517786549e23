"""The reader of one office: what the screens and the reading commands are shown."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar, cast

from specreg.core.comparing import field_changes
from specreg.core.errors import NotFound
from specreg.core.extracts import Extract
from specreg.core.model import Item, NumberOff, Route, State
from specreg.core.numbering import depth, number_key
from specreg.core.picture import Picture
from specreg.core.seals import short_code
from specreg.services.altering import find_item
from specreg.services.comparison_pages import comparison_page, states
from specreg.services.comparison_readings import ComparisonPage, StateLine
from specreg.services.department_pages import departments_page, no_departments, share_of
from specreg.services.department_readings import DepartmentsPage
from specreg.services.desk_facts import desk_of
from specreg.services.drawing_pages import drawing_lines, drawing_page
from specreg.services.drawing_readings import DrawingLine, DrawingPage
from specreg.services.extracting import Split
from specreg.services.finding import Finder
from specreg.services.item_words import change_in_words, item_sheet, off_as_listed, sign_of
from specreg.services.office import Office
from specreg.services.pictures import Pictures
from specreg.services.readings import Desk, Found, ItemLine, ItemSheet, SaidLine, SectionLine, TitleLine
from specreg.services.standing import sheets_called
from specreg.services.take_off_pages import no_take_off, sum_page, take_off_page
from specreg.services.take_off_readings import SumKind, SumPage, TakeOffPage
from specreg.services.taking_off import Taken, taken
from specreg.store import day_book, items, notes, revisions, routes
from specreg.store.items import Standing
from specreg.store.revisions import Revision

if TYPE_CHECKING:
    from specreg.core.item_reckoning import ItemReckoned

MOST_PAGES = 12
"""How many pages are kept made up until somebody writes."""

Page = TypeVar("Page")


class OfficeReader:
    """Reads one order for one thread; never writes. Fulfils `readings.Reader`."""

    def __init__(self, office: Office) -> None:
        self._office = office
        self._finder = Finder(office)
        self._pictures = Pictures(office)
        self._pages: dict[Hashable, object] = {}
        self._pages_of = 0

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
            open_edits=sum(items.count_under(office.book, one.note_id) for one in office.open_notes()),
            issued_on=last.issued_on if last else "",
        )

    def picture(self) -> Picture:
        """The order as it stands, drawn once until somebody writes."""
        return self._pictures.now()

    def _page(self, make: Callable[..., Page], *asked: Hashable) -> Page:
        """A page made up once until somebody writes; `asked` is what it is of."""
        version = self.version()
        if version != self._pages_of:
            self._pages.clear()
            self._pages_of = version
        key = (make, *asked)
        if key in self._pages:
            page = self._pages.pop(key)
        else:
            with self._office.book.reading():
                page = make(*asked)
        # Put in last, so that the one longest unasked for stands first and goes first.
        self._pages[key] = page
        if len(self._pages) > MOST_PAGES:
            del self._pages[next(iter(self._pages))]
        return cast(Page, page)

    # The desk -------------------------------------------------------------------------------------------------------

    def desk(self) -> Desk:
        """What waits for this person, what is out of order, and how far the drawings are."""
        office = self._office
        if office.standing is None:
            return Desk(office.today, (), (), (), "", 0, 0, 0, 0, 0)
        # The desk turns with the day.
        return self._page(self._desk_of, office.today)

    def _desk_of(self, _: str) -> Desk:
        return desk_of(self._office, self.picture())

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
            off=off_as_listed(item),
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
            return sign_of(items.one_at(self._office.book, standing.item_id, last.entry), item)
        if last is not None and last.seq > 1 and standing.version_id is not None:
            said = items.versions(self._office.book, standing.item_id)
            if said and said[-1][0] == last.entry:
                return sign_of(said[-2][2] if len(said) > 1 else None, item)
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
            total = picture.totals.get(number_key(standing.item.number)) if standing.item.is_line else None
            route = (routes.one_now(self._office.book, standing.item_id) if standing.item.is_line else None) or Route()
            last = revisions.last(self._office.book, self._office.order_id)
            before = items.one_at(self._office.book, standing.item_id, last.entry) if last else None
            note = ""
            was: dict[str, str] = {}
            if standing.note_id is not None:
                note = notes.by_id(self._office.book, standing.note_id).note.number
                if before is not None:
                    was = {one.label: one.old for one in field_changes(before, standing.item)}
            sheets = sheets_called(self._office, standing.item, picture)
            made = item_sheet(
                standing.item, route, total, sheets, picture.standards, self._section_title(standing.item)
            )
            return replace(
                made,
                was=was,
                note=note,
                sign=self._sign(standing, last),
                history=self.history(standing),
                reckoned=_reckoned(picture, standing.item, total),
                placed=_placed(self._office, standing.item_id),
            )

    def item_at(self, number: str, revision: Revision) -> ItemSheet:
        """The sheet of one item as a revision said it."""
        office = self._office
        with office.book.reading():
            found = items.number_at(office.book, office.order_id, number, revision.entry)
            if found is None:
                raise NotFound(f"Item {number} at revision {revision.letter}", "there was none", "")
            item_id, item = found
            route = (routes.one_at(office.book, item_id, revision.entry) if item.is_line else None) or Route()
            total = revisions.total_at(office.book, item_id, revision.entry) if item.is_line else None
            picture = self._pictures.issued(revision)
            sheets = sheets_called(office, item, picture, revision.entry)
            standing = items.by_id(office.book, item_id)
            made = item_sheet(item, route, total, sheets, picture.standards, self._section_title(item))
            return replace(
                made,
                history=self.history(standing) if standing else (),
                reckoned=_reckoned(picture, item, total),
            )

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
                    change_in_words(before, item),
                )
            )
            before = item
        if standing.note_id is not None:
            note = notes.by_id(book, standing.note_id).note
            words = change_in_words(before, standing.item) if before else "new, not yet issued"
            told.append(SaidLine("open", "", "" if note.is_compilation else note.number, words))
        return tuple(told)

    # Departments ----------------------------------------------------------------------------------------------------

    def departments(self, open_edits: bool) -> DepartmentsPage:
        """The departments at the revision last issued, or as the order stands."""
        return self._page(self._departments, open_edits)

    def _departments(self, open_edits: bool) -> DepartmentsPage:
        if self._office.standing is None:
            return no_departments()
        return departments_page(self._office, self._page(self._split, open_edits))

    def share(self, code: str, open_edits: bool) -> Extract:
        """The share of one department in the same state."""
        return self._page(self._share, code, open_edits)

    def _share(self, code: str, open_edits: bool) -> Extract:
        return share_of(self._page(self._split, open_edits), code)

    def _split(self, open_edits: bool) -> Split:
        last = None if open_edits else revisions.last(self._office.book, self._office.order_id)
        return Split(self._office, last, self._pictures)

    # The take-off ---------------------------------------------------------------------------------------------------

    def take_off(self, open_edits: bool) -> TakeOffPage:
        """The sums of the order at the revision last issued, or as it stands."""
        return self._page(self._take_off, open_edits)

    def _take_off(self, open_edits: bool) -> TakeOffPage:
        return take_off_page(self._page(self._taken, open_edits)) if self._office.standing else no_take_off()

    def sum_page(self, kind: SumKind, name: str, open_edits: bool) -> SumPage:
        """One sum of the take-off in the same state, with its items."""
        return self._page(self._sum_page, kind, name, open_edits)

    def _sum_page(self, kind: SumKind, name: str, open_edits: bool) -> SumPage:
        return sum_page(self._page(self._taken, open_edits), kind, name)

    def _taken(self, open_edits: bool) -> Taken:
        last = None if open_edits else revisions.last(self._office.book, self._office.order_id)
        return taken(self._pictures, last)

    # Drawings -------------------------------------------------------------------------------------------------------

    def drawings(self) -> tuple[DrawingLine, ...]:
        """The drawing list of the order."""
        return drawing_lines(self.picture()) if self._office.standing else ()

    def drawing(self, number: str) -> DrawingPage:
        """One drawing, by its number or by that of one of its sheets."""
        return self._page(self._drawing, number)

    def _drawing(self, number: str) -> DrawingPage:
        return drawing_page(self._office, number, self.picture() if self._office.standing else None)

    # Comparing ------------------------------------------------------------------------------------------------------

    def states(self) -> tuple[StateLine, ...]:
        """The states that can be compared, first to last."""
        return self._page(self._states)

    def _states(self) -> tuple[StateLine, ...]:
        return states(self._office)

    def comparison(self, old: str, new: str, department: str) -> ComparisonPage:
        """Two states beside each other, or what changed on one department's paper."""
        return self._page(self._comparison, old, new, department)

    def _comparison(self, old: str, new: str, department: str) -> ComparisonPage:
        return comparison_page(self._office, old, new, department, self._pictures)

    def find(self, text: str, limit: int, stopped: Callable[[], bool]) -> Found:
        """Search."""
        return self._finder.find(text, limit, stopped)


def _reckoned(picture: Picture, item: Item, total: NumberOff | None) -> ItemReckoned | None:
    """What an item weighs and measures; None for what has no number off, being no live item."""
    # Loading the reckoning of weights is dear, and most pages show none.
    from specreg.core.item_reckoning import item_reckoned

    return item_reckoned(picture, item, total) if total is not None else None


def _placed(office: Office, item_id: int) -> tuple[str, ...]:
    """What is placed of an item with suppliers, in words."""
    from specreg.core.purchases import in_words
    from specreg.services.ordering import placed_of

    return tuple(in_words(one) for one in placed_of(office, item_id))


def _role(office: Office) -> str:
    roles = office.person.roles
    return roles[0] if roles else "reader"
