"""Alteration notes: opening one, altering what it says, giving it up, and what must be said before it is signed."""

from __future__ import annotations

from dataclasses import replace

from specreg.core.counts import so_many
from specreg.core.errors import Refused, WrongUse
from specreg.core.faults import Fault, Severity
from specreg.core.machines import machines_of, order_machines
from specreg.core.model import Note
from specreg.services.office import Office
from specreg.store import items, notes, routes
from specreg.store.notes import NoteStanding

REASONS = (
    "design error", "customer", "shop request", "inspector", "buying", "cost", "failure in service", "clerical",
    "as made",
)  # fmt: skip
"""Why a note is opened; coded so that the chief sees where checking fails."""

URGENCIES = ("at once", "next batch", "next machine", "when convenient", "record only")


def open_note(office: Office, note: Note) -> NoteStanding:
    """Open an alteration note; its number is the one given, or the next."""
    office.require("open a note")
    _check_note(office, note)
    with office.book.act(office.person.code, "open note", office.now, office.order_id) as act:
        used = notes.numbers(office.book, office.order_id)
        number = note.number.strip() or str(1 + max((int(one) for one in used if one.isdecimal()), default=0))
        if number in used:
            raise Refused(
                f"Open note {number}", "the order has a note of that number", "Leave the number to the program"
            )
        made = replace(note, number=number, state="open")
        note_id = notes.add(office.book, act, office.order_no, office.order_id, made)
        act.words = f"note {number}: {note.words}"
    return notes.by_id(office.book, note_id)


def say_note(office: Office, number: str, **said: str) -> NoteStanding:
    """Alter what an open note says; signatures under it lapse."""
    office.require("open a note")
    # Read inside the act: a note that another program issues meanwhile must not be opened again.
    with office.book.act(office.person.code, "alter note", office.now, office.order_id) as act:
        standing = office.note_to_edit_under(number, "Alter")
        altered = replace(standing.note, **said)
        _check_note(office, altered)
        notes.say(office.book, act, office.order_no, office.order_id, standing.note_id, altered)
        act.words = f"{standing.note.name}: {', '.join(said)}"
    return notes.by_id(office.book, standing.note_id)


def abandon_note(office: Office, number: str) -> None:
    """Give an open note up; only when no edit stands under it."""
    office.require("open a note")
    with office.book.act(office.person.code, "abandon note", office.now, office.order_id) as act:
        standing = office.note_to_edit_under(number, "Abandon")
        if standing.note.is_compilation:
            raise Refused("Abandon the first compilation", "it is the order itself", "")
        under = items.count_under(office.book, standing.note_id)
        if under:
            stand = f"{so_many(under, 'item')} stand{'s' if under == 1 else ''} altered under it"
            raise Refused(f"Abandon {standing.note.name}", stand, "Undo these edits first")
        # An edit that was allocated and then undone leaves its route behind.
        for item_id in routes.under_note(office.book, standing.note_id):
            routes.take_back_open(office.book, item_id)
        gone = replace(standing.note, state="abandoned")
        notes.say(office.book, act, office.order_no, office.order_id, standing.note_id, gone)
        act.words = standing.note.name


def _check_note(office: Office, note: Note) -> None:
    if note.reason and note.reason not in REASONS:
        raise WrongUse(f"Reason '{note.reason}'", "it is not one of the house's", f"Use {', '.join(REASONS)}")
    if note.urgency and note.urgency not in URGENCIES:
        raise WrongUse(f"Urgency '{note.urgency}'", "it is not one of the house's", f"Use {', '.join(URGENCIES)}")
    if note.machines and (problem := machines_problem(office, note.machines)):
        raise WrongUse(f"Machines '{note.machines}'", problem.rstrip("."), "Give machines of the order, or `all`")


def touches_safety(office: Office, standing: NoteStanding) -> bool:
    """Whether an item under the note carries a safety mark, or did before the note took it away."""
    for one in items.under_note(office.book, standing.note_id):
        before = items.one_at(office.book, one.item_id, 2**62)
        if one.item.safety or (before is not None and before.safety):
            return True
    return False


def note_faults(office: Office, standing: NoteStanding) -> list[Fault]:
    """What a note does not say and must, before anybody signs it: why, by whose authority, for which machines."""
    note = standing.note
    if note.is_compilation:
        return []
    told: list[tuple[str, str]] = []
    if not note.reason:
        told.append(("no reason", f"Note {note.number} gives no reason"))
    if not note.authority:
        whose = ", which for a safety item is the inspecting authority's" if touches_safety(office, standing) else ""
        told.append(("no authority", f"Note {note.number} names no authority{whose}"))
    if not note.machines:
        told.append(("no machines", f"Note {note.number} does not say for which machines"))
    elif problem := machines_problem(office, note.machines):
        told.append(("machines not read", f"Note {note.number}, for which machines: {problem}"))
    return [
        Fault(name, Severity.STOP, note.name, f"{text.rstrip('.')}; say so with `specreg note say {note.number}`.")
        for name, text in told
    ]


def machines_problem(office: Office, text: str) -> str:
    """Why the machines of a note cannot be read; empty when they can."""
    return machines_of(text, order_machines(office.order.machines)[0])[1]
