"""The office: an open works book, the order on the desk, the person at it, and the clock.

Every task takes an office. Who may do what is asked here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime

from specreg.core.errors import NotFound, NotPermitted, WrongUse
from specreg.core.model import Order
from specreg.core.standards import Standards
from specreg.store import notes, orders, revisions
from specreg.store.database import WorksBook
from specreg.store.notes import NoteStanding
from specreg.store.orders import OrderStanding
from specreg.store.people import Person
from specreg.store.revisions import Revision

MAY: dict[str, frozenset[str]] = {
    "take in an order": frozenset({"chief", "draughtsman", "clerk"}),
    "alter the head or the standards of an order": frozenset({"chief"}),
    "alter items": frozenset({"chief", "draughtsman", "clerk"}),
    "open a note": frozenset({"chief", "draughtsman"}),
    "allocate": frozenset({"chief", "draughtsman"}),
    "place orders": frozenset({"chief", "draughtsman", "clerk", "head"}),
    "enter drawings": frozenset({"chief", "draughtsman", "clerk"}),
    "sign": frozenset({"chief", "draughtsman", "checker"}),
    "issue a revision": frozenset({"chief"}),
    "let a fault pass": frozenset({"chief"}),
    "make extracts": frozenset({"chief", "draughtsman", "clerk", "head"}),
    "say who is who": frozenset({"chief"}),
}
"""Which roles may do what; reading is free to everybody."""

BY_OWN_LOGIN = frozenset({
    "alter the head or the standards of an order", "sign", "issue a revision", "let a fault pass", "say who is who",
})  # fmt: skip
"""Acts that a person does under his own login: to be named with --as serves reading and entry only."""

ROLES = ("chief", "draughtsman", "checker", "clerk", "head")


@dataclass(slots=True)
class Office:
    """Where tasks are done. `standing` is the order on the desk, None in a book without any."""

    book: WorksBook
    person: Person
    clock: Callable[[], datetime]
    standing: OrderStanding | None = None
    own_login: bool = True
    """False when the person was named with --as: that serves reading and entry, never a signature."""
    standards_made: dict[bytes, Standards] = field(default_factory=dict, repr=False)
    """Works standards already made from their content, by digest."""

    @property
    def now(self) -> str:
        """This moment, with its offset from Greenwich."""
        return self.clock().isoformat(timespec="seconds")

    @property
    def today(self) -> str:
        """This day, unmistakably: 2026-11-25."""
        return self.clock().date().isoformat()

    @property
    def order_id(self) -> int:
        """Identity of the order on the desk. Raises WrongUse when there is none."""
        return self._order().order_id

    @property
    def order_no(self) -> str:
        """Number of the order on the desk."""
        return self._order().order.number

    @property
    def order(self) -> Order:
        """What the head of the order on the desk says. Raises WrongUse when there is none."""
        return self._order().order

    def _order(self) -> OrderStanding:
        if self.standing is not None:
            return self.standing
        held = orders.numbers(self.book)
        if not held:
            raise WrongUse("Which order", "the book holds none yet", "Take one in with `specreg import FOLDER`")
        raise WrongUse(
            "Which order", f"the book holds {len(held)}: {', '.join(held)}", "Name one with --order, or SPECREG_ORDER"
        )

    def choose(self, number: str | None) -> None:
        """Put an order on the desk: the one named, or the only one there is."""
        if number:
            self.standing = orders.by_number(self.book, number)
            if self.standing is None:
                held = ", ".join(orders.numbers(self.book)) or "none yet"
                raise NotFound(f"Order {number}", f"the book holds {held}", "Give one of these numbers")
        else:
            held_numbers = orders.numbers(self.book)
            self.standing = orders.by_number(self.book, held_numbers[0]) if len(held_numbers) == 1 else None

    def refresh(self) -> None:
        """Read the head of the order on the desk again."""
        if self.standing is not None:
            self.standing = orders.by_id(self.book, self.standing.order_id)

    def require(self, act: str) -> None:
        """Raise NotPermitted unless this person may do it."""
        allowed = MAY[act]
        if not allowed & set(self.person.roles):
            who = ", ".join(role for role in ROLES if role in allowed)
            is_one = f"is {' and '.join(self.person.roles)} here" if self.person.roles else "only reads here"
            raise NotPermitted(
                act[0].upper() + act[1:],
                f"{self.person.name} {is_one}, and this is for: {who}",
                "Ask one of these to do it"
                if self.person.roles
                else "Ask the chief to say who you are with `specreg person`",
            )
        if act in BY_OWN_LOGIN and not self.own_login:
            raise NotPermitted(
                act[0].upper() + act[1:],
                "--as serves reading and entry, and this is done under one's own login",
                f"{self.person.name} must log in for it",
            )

    def standards(self, entry: int | None = None) -> Standards:
        """The works standards that the order stands on now, or stood on at an entry."""
        from specreg.intake.standards_folder import standards_from_content

        standing = self._order() if entry is None else orders.by_id(self.book, self.order_id, entry)
        made = self.standards_made.get(standing.standards)
        if made is None:
            made = standards_from_content(orders.standards_content(self.book, standing.standards))
            self.standards_made[standing.standards] = made
        return made

    # Notes and revisions of the order on the desk -------------------------------------------------------------------

    def open_notes(self) -> list[NoteStanding]:
        """Notes not yet issued."""
        return notes.of_order(self.book, self.order_id, "open")

    def note(self, number: str) -> NoteStanding:
        """A note by its number; the letter of the revision to come names the first compilation."""
        wanted = number.strip()
        if wanted.upper() == "A" and not self.revisions():
            wanted = "0"
        found = notes.by_number(self.book, self.order_id, wanted)
        if found is None:
            there = ", ".join(one.note.number for one in notes.of_order(self.book, self.order_id)) or "none"
            raise NotFound(f"Note {number} of order {self.order_no}", f"its notes are: {there}", "Give one of these")
        return found

    def note_to_edit_under(self, number: str = "", asked: str = "Edit under") -> NoteStanding:
        """The open note that an edit belongs to: the one named, or the only open one. `asked` says what for."""
        if number:
            found = self.note(number)
            if found.note.state != "open":
                raise WrongUse(f"{asked} {found.note.name}", f"it is {found.note.state}", "Open a new note")
            return found
        open_ones = self.open_notes()
        if len(open_ones) == 1:
            return open_ones[0]
        if not open_ones:
            raise WrongUse(
                "Under which note",
                "no note is open, and after the first issue every edit belongs to one",
                "Open one with `specreg note open`",
            )
        names = ", ".join(one.note.number for one in open_ones)
        raise WrongUse("Under which note", f"several are open: {names}", "Name one with --note")

    def revisions(self) -> list[Revision]:
        """Issued revisions, first to last."""
        return revisions.of_order(self.book, self.order_id)

    def revision(self, letter: str = "") -> Revision:
        """An issued revision by its letter, or the last."""
        found = revisions.by_letter(self.book, self.order_id, letter) if letter else None
        if found is None and not letter:
            found = revisions.last(self.book, self.order_id)
        if found is None:
            issued = ", ".join(one.letter for one in self.revisions())
            raise NotFound(
                f"Revision {letter} of order {self.order_no}" if letter else f"The last revision of {self.order_no}",
                f"issued are: {issued}" if issued else "none is issued yet",
                "Give one of these letters" if issued else "Issue one with `specreg issue`",
            )
        return found


def nobody(login: str) -> Person:
    """The person at a login that the book does not know: he reads, and no more."""
    return Person(code="", name=login or "a reader", login=login)
