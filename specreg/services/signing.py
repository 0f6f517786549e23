"""Signatures: each person signs for himself, once, in one capacity; a signature lapses when what was signed changes."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.core.errors import FaultsStop, NotPermitted, Refused, WrongUse
from specreg.core.faults import Fault, Severity
from specreg.services.noting import note_faults, touches_safety
from specreg.services.office import Office
from specreg.store import notes, people
from specreg.store.notes import NoteStanding, Signature

CAPACITIES = ("drawn", "checked", "second check", "approved")
"""In the order in which a note is signed; the second check only where the house asks it for safety items."""

MAY_SIGN_AS = {
    "drawn": frozenset({"draughtsman", "chief"}),
    "checked": frozenset({"checker", "draughtsman", "chief"}),
    "second check": frozenset({"checker", "chief"}),
    "approved": frozenset({"chief"}),
}


@dataclass(frozen=True, slots=True)
class Signed:
    """The signatures under a note: those that hold, those that have lapsed, and the capacities still wanting."""

    holding: tuple[Signature, ...]
    lapsed: tuple[Signature, ...]
    wanting: tuple[str, ...]

    @property
    def complete(self) -> bool:
        """Whether nothing is wanting."""
        return not self.wanting


def capacities_needed(office: Office, standing: NoteStanding) -> tuple[str, ...]:
    """The capacities a note must be signed in; a safety item under it asks for a second checker by house rule."""
    second = office.standards().house.safety_second_check and touches_safety(office, standing)
    return tuple(one for one in CAPACITIES if one != "second check" or second)


def signatures(office: Office, standing: NoteStanding) -> Signed:
    """How a note is signed, held against what stands under it today."""
    today = notes.digest_of_edits(office.book, standing.note_id)
    every = notes.signatures(office.book, standing.note_id)
    holding = tuple(one for one in every if one.signed == today)
    lapsed = tuple(one for one in every if one.signed != today)
    have = {one.signed_as for one in holding}
    return Signed(holding, lapsed, tuple(one for one in capacities_needed(office, standing) if one not in have))


def sign(office: Office, note: str, capacity: str = "") -> tuple[NoteStanding, str]:
    """Sign a note in a capacity: the one named, or the next that is wanting and that this person may sign.

    Returns the note and the capacity.
    """
    office.require("sign")
    with office.book.act(office.person.code, "sign", office.now, office.order_id) as act:
        standing = office.note(note)
        if standing.note.state != "open":
            raise Refused(f"Sign {standing.note.name}", f"it is {standing.note.state}", "")
        faults = note_faults(office, standing)
        if faults:
            raise FaultsStop(f"Sign {standing.note.name}", faults, "A signature would lapse when it is mended")
        state = signatures(office, standing)
        chosen = capacity or _next_for(office, standing, state)
        _refuse(office, standing, state, chosen)
        today = notes.digest_of_edits(office.book, standing.note_id)
        made = Signature(chosen, office.person.code, office.person.name, office.now, today)
        notes.sign(office.book, act, office.order_no, standing, made)
        act.words = f"{standing.note.name}, {chosen}"
    return standing, chosen


def _next_for(office: Office, standing: NoteStanding, state: Signed) -> str:
    roles = set(office.person.roles)
    for capacity in state.wanting:
        if MAY_SIGN_AS[capacity] & roles:
            if gives_approval_away(office, state, capacity):
                raise Refused(
                    f"Sign {standing.note.name} as {capacity}",
                    f"{office.person.name} alone may approve it, and nobody signs twice",
                    f"Keep your signature for the approval and let others sign first; or say --for '{capacity}'",
                )
            return capacity
    if state.complete:
        raise Refused(f"Sign {standing.note.name}", "it has every signature it needs", "Issue it with `specreg issue`")
    who = "; ".join(f"{one}: a {' or '.join(sorted(MAY_SIGN_AS[one]))}" for one in state.wanting)
    raise Refused(f"Sign {standing.note.name}", f"what is wanting is not for you: {who}", "")


def gives_approval_away(office: Office, state: Signed, capacity: str) -> bool:
    """Whether nobody could approve a note once this person has signed it in a capacity: the only chief signs once."""
    chiefs = [one.code for one in people.everybody(office.book) if "chief" in one.roles]
    return capacity != "approved" and "approved" in state.wanting and chiefs == [office.person.code]


def _refuse(office: Office, standing: NoteStanding, state: Signed, capacity: str) -> None:
    if capacity not in CAPACITIES:
        raise WrongUse(f"Sign as '{capacity}'", "there is no such capacity", f"Use {', '.join(CAPACITIES)}")
    mine = next((one for one in state.holding if one.person == office.person.code), None)
    if mine is not None:
        raise Refused(
            f"Sign {standing.note.name} as {capacity}",
            f"{office.person.name} has signed it already, as {mine.signed_as}; nobody signs twice",
            "Another person must sign",
        )
    if not MAY_SIGN_AS[capacity] & set(office.person.roles):
        who = " or ".join(sorted(MAY_SIGN_AS[capacity]))
        raise NotPermitted(f"Sign as {capacity}", f"that is for a {who}", "")
    holder = next((one for one in state.holding if one.signed_as == capacity), None)
    if holder is not None:
        raise Refused(f"Sign {standing.note.name} as {capacity}", f"{holder.name} has signed so", "")
    order = {name: place for place, name in enumerate(CAPACITIES)}
    earlier = [one for one in state.wanting if order[one] < order[capacity]]
    if earlier:
        raise Refused(
            f"Sign {standing.note.name} as {capacity}", f"it must first be signed as {' and '.join(earlier)}", ""
        )


def signature_faults(office: Office, standing: NoteStanding, severity: Severity) -> list[Fault]:
    """The signatures that a note still wants, as a fault: a stop when it is to be issued, before that a mere note."""
    state = signatures(office, standing)
    if state.complete:
        return []
    lapsed = ""
    if state.lapsed:
        names = ", ".join(f"{one.name} ({one.signed_as})" for one in state.lapsed)
        lapsed = f"; signed before it was altered last, and so lapsed: {names}"
    name = standing.note.name
    said = f"{name[0].upper()}{name[1:]} still wants signatures: {', '.join(state.wanting)}{lapsed}."
    return [Fault("not signed", severity, name, said)]
