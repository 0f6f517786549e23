"""The notes of an order with what stands under them and who has signed."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.services.office import Office
from specreg.services.signing import signatures
from specreg.store import items, notes


@dataclass(frozen=True, slots=True)
class NoteTold:
    """One note: edits under it while open, signatures that hold as `capacity INITIALS`, what is wanting."""

    number: str
    state: str
    words: str
    reason: str
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
    told = []
    for standing in notes.of_order(office.book, office.order_id):
        note = standing.note
        is_open = note.state == "open"
        state = signatures(office, standing)
        signed = state.holding if is_open else tuple(notes.signatures(office.book, standing.note_id))
        told.append(
            NoteTold(
                note.number, note.state, note.words, note.reason, note.authority, note.machines,
                items.count_under(office.book, standing.note_id),
                tuple(f"{one.signed_as} {one.person}" for one in signed),
                state.wanting if is_open else (),
            )
        )  # fmt: skip
    return told
