"""A practice book: the sample order for a new clerk to learn on, with mistakes put in to be found and put right.

PRACTICE is part of the order's number, and so it stands on every screen and on every sheet, in every file and in its
name: nobody can take a practice extract for a real one.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from specreg.core.faults import Fault, Severity
from specreg.intake.order_file import read_order_file
from specreg.services.allocating import allocate
from specreg.services.checking import check
from specreg.services.demonstrating import (
    Say,
    first_revision,
    leave_open,
    next_revision,
    place_orders,
    revision_folders,
)
from specreg.services.office import Office
from specreg.services.taking_in import Progress
from specreg.services.taking_notes import take_note

MARK = "PRACTICE"

LESSONS = (
    ("Find the rack bolt from half a word, and the slewing pinion from half a drawing number",
     ("find rack bo", "find 410/1")),
    ("See the whole of an item, what it was at revision A, and why it goes where it goes",
     ("show 4.1.2", "history 4.1.2", "allocate --why 4.1.2")),
    ("See what revision B changed, for everybody and for the foundry",
     ("compare A B", "compare A B --department FDY")),
    ("Look for the mistakes put in on purpose, and put each right: specreg alter ITEM FIELD=VALUE --note {note}",
     ("check",)),
    ("Alter something, look at it, take it back",
     ('alter 4.1.3 "Spares=20 per order" --note {note}', "compare C", "undo")),
    ("Make the foundry's extract, and see PRACTICE on it",
     ("extract FDY",)),
)  # fmt: skip
"""What to try, and the commands for it; `{note}` is the note with the mistakes."""


@dataclass(frozen=True, slots=True)
class Practice:
    """A practice book as made: its order, revisions, and the note with the mistakes, which the checker tells."""

    order: str
    revisions: tuple[str, ...]
    note: str
    mistakes: tuple[Fault, ...]


def practise(office: Office, sample: Path, say: Say, progress: Progress | None = None) -> Practice:
    """Fill a new book with the sample order under a number that says PRACTICE, at its last revision, with its open
    notes and one more: the note with the mistakes."""
    own = read_order_file(sample / "order.toml", "order.toml").order.number
    first = first_revision(office, sample, say, progress, as_order=f"{MARK} {own}")
    say("placing what takes longest to come")
    place_orders(office)
    later = [next_revision(office, folder, say) for folder in revision_folders(sample)]
    leave_open(office, sample)
    before = {(one.name, one.subject) for one in check(office).faults}
    say("putting mistakes in")
    (file,) = (sample / "notes" / "practice").glob("*.toml")
    note = take_note(office, file).note.note.number
    allocate(office)
    mistakes = [one for one in check(office).faults if (one.name, one.subject) not in before]
    return Practice(
        order=office.order_no,
        revisions=tuple(one.revision.letter for one in (first.issued, *later)),
        note=note,
        mistakes=tuple(one for one in mistakes if one.severity is not Severity.NOTE),
    )
