"""Taking in an alteration note written as a file: the note, its edits and the sheets entered with it, in one go.

Each edit is an act of its own that can be undone. A file with edits that do not fit the items they speak of is refused
before anything is written. What only shows in writing (an item open under another note, no section for a number put in)
ends it half-way: the note stays open with the edits before it.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from specreg.core.errors import FaultsStop, SpecregError
from specreg.core.faults import Fault, Severity
from specreg.core.model import Note, State
from specreg.core.numbering import number_key
from specreg.services import altering, noting
from specreg.services.entering import enter_sheets
from specreg.services.office import Office
from specreg.store import items
from specreg.store.notes import NoteStanding

if TYPE_CHECKING:
    from specreg.intake.note_file import NoteEdit


@dataclass(frozen=True, slots=True)
class NoteTaken:
    """The note opened, how many edits stand under it, how many sheets were entered with it."""

    note: NoteStanding
    edits: int
    sheets: int


def take_note(office: Office, file: Path) -> NoteTaken:
    """Open the note of a file with everything in it."""
    from specreg.intake.note_file import EditAct, read_note

    office.require("open a note")
    read = read_note(file)
    taken = items.taken_numbers(office.book, office.order_id)
    faults = []
    for edit in read.edits:
        why = _misfit(office, edit, taken)
        if why:
            faults.append(
                Fault("edit does not fit", Severity.STOP, edit.item, f"{edit.act} {edit.item}: {why}.", edit.place)
            )
    if faults:
        raise FaultsStop(f"Take in the note of {file}", faults, "Put the file right; nothing was written")
    standing = noting.open_note(
        office,
        Note(
            number=read.number, reason=read.reason, urgency=read.urgency, authority=read.authority,
            machines=read.machines, words=read.words,
        ),
    )  # fmt: skip
    number = standing.note.number
    sheets = enter_sheets(office, [one.sheet for one in read.sheets]) if read.sheets else 0
    for edit in read.edits:
        if edit.act is EditAct.ALTER:
            altering.alter(office, edit.item, dict(edit.fields), number)
        elif edit.act is EditAct.INSERT:
            altering.insert(office, edit.item, dict(edit.fields), number)
        else:
            altering.delete(office, edit.item, edit.reason, number)
    return NoteTaken(standing, len(read.edits), sheets)


def _misfit(office: Office, edit: NoteEdit, taken: Collection[str]) -> str:
    """Why an edit cannot be made to the item it speaks of; empty when it can."""
    from specreg.intake.note_file import EditAct

    there = number_key(edit.item) in taken
    standing = items.by_number(office.book, office.order_id, edit.item)
    try:
        if edit.act is EditAct.INSERT:
            altering.check_form(office, edit.item)
            return "the number is taken" if there else ""
        if standing is None:
            return "the order has no such item"
        if edit.act is EditAct.ALTER:
            altering.as_altered(standing.item, dict(edit.fields))
        elif standing.item.state is State.DELETED:
            return "it is deleted already"
    except SpecregError as error:
        return error.why
    return ""
