"""The notes of an order with what stands under them and who has signed."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.core.model import State
from specreg.services.item_words import change_in_words
from specreg.services.office import Office
from specreg.services.signing import signatures
from specreg.store import items, notes
from specreg.store.notes import NoteStanding


@dataclass(frozen=True, slots=True)
class NoteTold:
    """One note: how many items it alters, signatures that hold as `capacity INITIALS`, those wanting."""

    number: str
    state: str
    words: str
    reason: str
    urgency: str
    authority: str
    machines: str
    edits: int
    signed: tuple[str, ...]
    wanting: tuple[str, ...]

    @property
    def record(self) -> dict[str, object]:
        """As JSON."""
        return {name: getattr(self, name) for name in self.__dataclass_fields__}


def notes_of_order(office: Office) -> list[NoteTold]:
    """All notes of the order on the desk."""
    return [_told(office, standing) for standing in notes.of_order(office.book, office.order_id)]


def _told(office: Office, standing: NoteStanding) -> NoteTold:
    note = standing.note
    if note.state == "open":
        state = signatures(office, standing)
        edits, signed, wanting = items.count_under(office.book, standing.note_id), state.holding, state.wanting
    else:
        # Those that held when it was issued all signed the same thing; earlier ones had lapsed.
        every = notes.signatures(office.book, standing.note_id)
        signed, wanting = tuple(one for one in every if one.signed == every[-1].signed), ()
        edits = items.count_recorded_under(office.book, standing.note_id)
    return NoteTold(
        note.number, note.state, note.words, note.reason, note.urgency, note.authority, note.machines, edits,
        tuple(f"{one.signed_as} {one.person}" for one in signed), wanting,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class NoteWhole:
    """A note with every edit under it as (number, title, what it altered in words)."""

    told: NoteTold
    edits: tuple[tuple[str, str, str], ...]


def note_whole(office: Office, number: str) -> NoteWhole:
    """One note whole, open or issued."""
    with office.book.reading():
        standing = office.note(number)
        edits = []
        if standing.note.state == "open":
            for one in items.under_note(office.book, standing.note_id):
                before = items.one_at(office.book, one.item_id, 2**62)
                words = change_in_words(before, one.item) if before or one.item.state is not State.LIVE else "new"
                edits.append((one.item.number, one.item.title, words))
        else:
            for item_id, entry, item in items.recorded_under(office.book, standing.note_id):
                before = items.one_at(office.book, item_id, entry - 1)
                words = change_in_words(before, item) if before or item.state is not State.LIVE else "new"
                edits.append((item.number, item.title, words))
        return NoteWhole(_told(office, standing), tuple(edits))
