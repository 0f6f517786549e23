"""What the desk shows: what waits for the person at it, what is out of order, how far the drawings are."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from specreg.core.faults import Severity
from specreg.core.picture import Picture
from specreg.core.programme import days_late
from specreg.core.shares import reconcile
from specreg.services.checking import check_picture
from specreg.services.office import Office
from specreg.services.readings import Count, Desk, NoteLine
from specreg.services.signing import MAY_SIGN_AS, gives_approval_away, signatures
from specreg.store import edits, items, revisions, routes
from specreg.store.notes import NoteStanding


def desk_of(office: Office, picture: Picture) -> Desk:
    """The desk of the person at it, from the order as it stands."""
    reckoned = reconcile(picture.routed, picture.totals)
    open_notes = office.open_notes()
    numbers = {sheet.number: True for sheet in picture.sheets}
    for sheet in picture.sheets:
        numbers[sheet.number] &= sheet.may_be_made_from
    last = edits.latest(office.book, office.order_id)
    return Desk(
        day=office.today,
        waits=_waits(office, open_notes),
        out_of_order=_out_of_order(office, picture),
        notes=tuple(_note_line(office, one) for one in open_notes),
        last_edit=f"{last[2]}, {last[0]}, {last[1][:16].replace('T', ' ')}" if last else "",
        drawings_issued=sum(numbers.values()),
        drawings_total=len(numbers),
        steps=reckoned.steps,
        in_shares=reckoned.in_shares,
        items=reckoned.items,
    )


def _note_line(office: Office, standing: NoteStanding) -> NoteLine:
    under = items.count_under(office.book, standing.note_id)
    state = signatures(office, standing)
    waits = f"waits to be signed: {state.wanting[0]}" if state.wanting else "ready to issue"
    if not under and not routes.under_note(office.book, standing.note_id):
        waits = "no edits yet"
    return NoteLine(
        standing.note.number,
        "first compilation" if standing.note.is_compilation else standing.note.words or standing.note.reason,
        under,
        tuple(f"{one.signed_as} {one.person}" for one in state.holding),
        waits,
    )


def _waits(office: Office, open_notes: Sequence[NoteStanding]) -> tuple[Count, ...]:
    mine = set(office.person.roles)
    to_sign = second = 0
    for standing in open_notes:
        state = signatures(office, standing)
        signed = any(one.person == office.person.code for one in state.holding)
        under = items.count_under(office.book, standing.note_id)
        if not under or not state.wanting or signed or gives_approval_away(office, state, state.wanting[0]):
            continue
        if MAY_SIGN_AS[state.wanting[0]] & mine:
            second += state.wanting[0] == "second check"
            to_sign += state.wanting[0] != "second check"
    ready = sum(
        signatures(office, one).complete and bool(items.count_under(office.book, one.note_id)) for one in open_notes
    )
    found = [
        Count("^", to_sign, f"{_noun(to_sign, 'note')} to sign"),
        Count("§", second, f"{_noun(second, 'note')} with safety items, for a second checker"),
        Count("^", ready if "chief" in mine else 0, f"{_noun(ready, 'note')} signed, ready to issue"),
    ]
    return tuple(one for one in found if one.count)


def _out_of_order(office: Office, picture: Picture) -> tuple[Count, ...]:
    # Reading quantities is dear to load, and what shows no desk shows none of this.
    from specreg.core.order_list import out_of_order
    from specreg.services.ordering import placed_now

    checked = check_picture(office, picture)
    last = revisions.last(office.book, office.order_id)
    made = {
        one.department
        for one in revisions.extracts_of(office.book, office.order_id)
        if last is not None and one.seq == last.seq
    }
    without = len([one for one in picture.standards.departments if one.code not in made]) if last else 0
    today = date.fromisoformat(office.today)
    ordering = out_of_order(picture, placed_now(office), today)
    held = sum(item.clearance.strip().lower() == "hold" for item in picture.lines)
    late = len({sheet.number for sheet in picture.sheets if days_late(sheet, today)})
    stops, errors, warnings = (checked.count(one) for one in (Severity.STOP, Severity.ERROR, Severity.WARNING))
    letter = last.letter if last else ""
    found = [
        Count("!", stops, f"{_noun(stops, 'stop')} before the next revision can issue"),
        Count("x", errors, f"{_noun(errors, 'error')} nobody has let pass"),
        Count("~", warnings, _noun(warnings, "warning")),
        Count("~", without, f"{_noun(without, 'department')} without an extract of revision {letter}"),
        Count("x", ordering.outdated, f"{_noun(ordering.outdated, 'item')} placed, altered since"),
        Count("x", ordering.late, f"{_noun(ordering.late, 'item')} past the day to order"),
        Count("~", late, f"{_noun(late, 'drawing')} late against the programme"),
        Count("·", held, f"{_noun(held, 'item')} on hold"),
    ]
    return tuple(one for one in found if one.count)


def _noun(count: int, noun: str) -> str:
    """The noun by itself, since the screen sets the number in a column of its own."""
    return noun if count == 1 else f"{noun}s"
