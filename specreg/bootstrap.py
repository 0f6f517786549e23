"""The one place where a run of the program is put together: book, person, order and clock."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from specreg.core.errors import NotFound, WrongUse
from specreg.services.doings import Doer
from specreg.services.office import Office, nobody
from specreg.services.readings import Reader
from specreg.settings import Settings, login_name
from specreg.store import people
from specreg.store.database import WorksBook, create_book, host_name, open_book
from specreg.store.people import Person


def local_clock() -> datetime:
    """This moment, with the offset of the place."""
    return datetime.now().astimezone()


def book_path(settings: Settings, folder: Path | None = None) -> Path:
    """The book of this run: the one named, or the only one in the folder. Raises WrongUse, naming what there is."""
    if settings.book:
        return Path(settings.book)
    here = folder or Path.cwd()
    found = sorted(here.glob("*.specreg"))
    if len(found) == 1:
        return found[0]
    if found:
        names = ", ".join(path.name for path in found)
        raise WrongUse("Which book", f"there are several here: {names}", "Name one with --book, or SPECREG_BOOK")
    raise WrongUse(
        "Which book",
        "there is none in this folder",
        "Name one with --book or SPECREG_BOOK, or make one: specreg new FILE",
    )


def open_office(
    settings: Settings,
    read_only: bool = False,
    clock: Callable[[], datetime] = local_clock,
    login: str | None = None,
) -> Office:
    """Open the book, find out who is at it, and put an order on the desk."""
    book = open_book(book_path(settings), host_name(), read_only=read_only)
    try:
        person, own_login = _person(book, settings, login if login is not None else login_name())
        office = Office(book, person, clock, own_login=own_login)
        office.choose(settings.order or None)
    except BaseException:
        book.close()
        raise
    return office


def _person(book: WorksBook, settings: Settings, login: str) -> tuple[Person, bool]:
    own = people.by_login(book, login)
    if not settings.person:
        return own or nobody(login), True
    named = people.by_code(book, settings.person)
    if named is None:
        there = ", ".join(one.code for one in people.everybody(book)) or "nobody"
        raise NotFound(f"Person {settings.person}", f"the book knows {there}", "Give the initials of one of these")
    return named, own is not None and own.code == named.code


def make_book(
    path: Path, name: str = "", clock: Callable[[], datetime] = local_clock, login: str | None = None
) -> Office:
    """Make a new book; whoever makes it is its chief."""
    from specreg.services.people import first_chief, initials

    user = login if login is not None else login_name()
    book = create_book(path, host_name())
    chief = Person(initials(name or user), name or user, user, ("chief",))
    office = Office(book, chief, clock)
    try:
        first_chief(office)
    except BaseException:
        book.close()
        raise
    return office


def open_reader(settings: Settings, clock: Callable[[], datetime] = local_clock) -> Reader:
    """A reader with a book of its own, for one thread of the screens."""
    from specreg.services.reading import OfficeReader

    return OfficeReader(open_office(settings, read_only=True, clock=clock))


def doer(settings: Settings, clock: Callable[[], datetime] = local_clock) -> Doer:
    """What the screens have done: each act opens the book for itself."""
    from specreg.services.doing import OfficeDoer

    return OfficeDoer(lambda: open_office(settings, clock=clock))
