"""Issuing a revision: the chosen notes' edits go into the record, numbers off are reckoned, and the whole is sealed.

All of it is one act: either a revision stands, sealed and chained, or nothing was written.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from specreg.core.errors import FaultsStop, Refused, WrongUse
from specreg.core.faults import Fault, Severity
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.revisions import next_letter
from specreg.core.seals import SEAL_FORM, chained_seal, content_digest
from specreg.services.checking import check_items
from specreg.services.noting import note_faults
from specreg.services.office import Office
from specreg.services.signing import Signed, signature_faults, signatures
from specreg.services.standing import as_it_stands
from specreg.store import drawings, edits, items, notes, revisions, routes
from specreg.store.database import Act
from specreg.store.notes import NoteStanding
from specreg.store.revisions import Revision


@dataclass(frozen=True, slots=True)
class Issued:
    """A revision as issued: the notes it brought in, how many items and routes and how many numbers off it wrote."""

    revision: Revision
    notes: tuple[str, ...]
    written: int
    totals: int


def chosen_notes(office: Office, named: Sequence[str]) -> list[NoteStanding]:
    """The notes to issue: those named, or the only open one."""
    if named:
        return list(
            {one.note_id: one for one in (office.note_to_edit_under(number, "Issue") for number in named)}.values()
        )
    open_ones = office.open_notes()
    if len(open_ones) > 1:
        names = ",".join(one.note.number for one in open_ones)
        raise WrongUse("Which notes to issue", f"several are open: {names}", f"Name them, or some: --notes {names}")
    if not open_ones:
        raise WrongUse("Issue a revision", "no note is open", "Open one with `specreg note open`, and alter under it")
    return open_ones


def causes(office: Office, chosen: Sequence[NoteStanding], picture: Picture) -> tuple[Fault, ...]:
    """Everything that bars the issue of these notes: faults of the order as it would be (`picture`), and signatures
    that are wanting or have lapsed."""
    barring = list(check_items(office, picture).barring)
    for one in chosen:
        barring += note_faults(office, one)
        barring += signature_faults(office, one, Severity.STOP)
    return tuple(barring)


def issue(office: Office, named: Sequence[str] = ()) -> Issued:
    """Issue the next revision with some notes. Raises FaultsStop with every cause when anything stands in the way."""
    office.require("issue a revision")
    book = office.book
    with book.act(office.person.code, "issue", office.now, office.order_id) as act:
        # The head may have been altered since this program put the order on the desk.
        office.refresh()
        chosen = chosen_notes(office, named)
        picture = as_it_stands(office, {one.note_id for one in chosen})
        barring = causes(office, chosen, picture)
        letter = _next_letter(office)
        if barring:
            raise FaultsStop(f"Issue revision {letter} of {office.order_no}", barring, "See `specreg check`")
        # Asked before the record is written: a signature holds for the note as it was, and issuing alters the note.
        signed = [signatures(office, one) for one in chosen]
        count, totals = _record(office, act, chosen, picture)
        if not count and not totals and revisions.last(book, office.order_id) is not None:
            raise Refused(f"Issue revision {letter}", "nothing stands altered under these notes", "Nothing was written")
        revision = _seal(office, act, letter, signed)
        act.words = f"revision {letter}: {', '.join(one.note.name for one in chosen)}"
    return Issued(revision, tuple(one.note.number for one in chosen), count, totals)


def _next_letter(office: Office) -> str:
    last = revisions.last(office.book, office.order_id)
    return next_letter(last.letter if last else "", office.standards().house.omitted_letters)


def _record(office: Office, act: Act, chosen: Sequence[NoteStanding], picture: Picture) -> tuple[int, int]:
    """Write the chosen notes' edits into the record; returns how many rows and how many numbers off it wrote."""
    book, order_no, order_id = office.book, office.order_no, office.order_id
    count = 0
    for note in chosen:
        for standing in items.under_note(book, note.note_id):
            if items.record_open(book, act, order_no, standing):
                drawings.record_calls(book, act, order_no, order_id, standing.item_id, standing.item.number)
                count += 1
        for item_id in routes.under_note(book, note.note_id):
            said = items.one_at(book, item_id, act.entry)
            if said is not None:
                count += routes.record_open(book, act, order_no, item_id, said.number)
        notes.say(book, act, order_no, order_id, note.note_id, replace(note.note, state="issued"))
        edits.forget_note(book, note.note_id)
    totals = 0
    # By what is recorded, not by what stands now: another note may have given an item another number, still open.
    for item_id, item in items.issued_at(book, order_id, act.entry):
        total = picture.totals.get(number_key(item.number)) if item.is_line else None
        if total is not None:
            totals += revisions.record_total(book, act, order_no, order_id, item_id, item.number, total)
    return count, totals


def _seal(office: Office, act: Act, letter: str, signed: Sequence[Signed]) -> Revision:
    book, order_id = office.book, office.order_id
    last = revisions.last(book, order_id)
    after = last.entry if last else 0
    count, content = content_digest(revisions.sealed_rows(book, office.order_no, order_id, after, act.entry))
    draft = Revision(
        order_id=order_id,
        seq=(last.seq if last else 0) + 1,
        letter=letter,
        entry=act.entry,
        issued_on=office.today,
        issued_by=office.person.name,
        drawn=_names(signed, "drawn"),
        checked=_names(signed, "checked", "second check"),
        approved=_names(signed, "approved"),
        rows=count,
        content=content,
        previous=last.seal if last else None,
        seal=bytes(32),
        seal_form=SEAL_FORM,
    )
    sealed = replace(draft, seal=chained_seal(draft.previous, content, draft.head))
    revisions.add(book, act, office.order_no, sealed)
    return sealed


def _names(signed: Sequence[Signed], *capacities: str) -> str:
    names = [one.name for state in signed for one in state.holding if one.signed_as in capacities]
    return ", ".join(dict.fromkeys(names))
