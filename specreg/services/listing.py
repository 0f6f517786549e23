"""Short lists: the orders of a book, the rows set aside, the day-book."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.core.errors import NotFound, WrongUse
from specreg.services.office import Office
from specreg.store import day_book, orders, revisions, set_aside
from specreg.store.day_book import Entry
from specreg.store.set_aside import KeptRow


@dataclass(frozen=True, slots=True)
class OrderHeld:
    """An order in the book and its last revision, empty before the first issue."""

    number: str
    title: str
    revision: str


def orders_held(office: Office) -> list[OrderHeld]:
    """All orders of the book."""
    found = []
    for number in orders.numbers(office.book):
        standing = orders.by_number(office.book, number)
        if standing is not None:
            last = revisions.last(office.book, standing.order_id)
            found.append(OrderHeld(number, standing.order.title, last.letter if last else ""))
    return found


def rows_set_aside(office: Office) -> list[KeptRow]:
    """Rows of sources that could not be taken in."""
    return set_aside.of_order(office.book, office.order_id)


def strike_row(office: Office, row_id: int, reason: str) -> None:
    """Take a row off the list of those set aside, because it has been put right by hand or is not wanted."""
    office.require("alter items")
    if not reason.strip():
        raise WrongUse(f"Strike row {row_id}", "no reason is given", "Say why with --reason")
    with office.book.act(office.person.code, "strike row set aside", office.now, office.order_id) as act:
        kept = next((row for row in set_aside.of_order(office.book, office.order_id) if row.row_id == row_id), None)
        if kept is None:
            raise NotFound(f"Row {row_id}", "no such row is set aside", "See `specreg set-aside`")
        set_aside.strike(office.book, office.order_id, row_id)
        act.words = f"{kept.file}, line {kept.line}: {kept.text} ({reason.strip()})"


def last_acts(office: Office, count: int) -> list[Entry]:
    """The last entries of the day-book, newest first; of the order on the desk, or of the works."""
    order_id = office.standing.order_id if office.standing else None
    return day_book.entries(office.book, order_id, count)
