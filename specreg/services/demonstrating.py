"""The demonstration: the sample order taken through the whole round, from an empty book to extracts of its revisions.

It uses the same tasks as everybody; only the persons who sign are the sample's invented ones, at one desk. The sample
keeps its alteration notes beside it: `notes/B` are those that revision B is issued with, `notes/open` stay open.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from specreg.core.order_list import How
from specreg.core.seals import short_code
from specreg.services.allocating import Allocated, allocate
from specreg.services.checking import check
from specreg.services.comparing import compare
from specreg.services.extracting import ToMake, Written, folder_for
from specreg.services.issuing import Issued, issue
from specreg.services.office import Office
from specreg.services.ordering import Placing, order_list_at, place
from specreg.services.people import say_person
from specreg.services.signing import sign, signatures
from specreg.services.taking_in import Progress, TakenIn, take_in
from specreg.services.taking_notes import take_note
from specreg.services.upkeep import verify
from specreg.store.people import Person

CHIEF = "J. Dunmore"
OFFICE = (
    Person("HP", "H. Pellow", "", ("draughtsman",)),
    Person("WG", "W. Garnet", "", ("checker",)),
    Person("RC", "R. Corrie", "", ("checker",)),
    Person("MB", "M. Brandreth", "", ("clerk",)),
    Person("FO", "F. Oakshott", "", ("head",), "FDY"),
)
"""The invented drawing office of the sample: who draws, checks, enters, and the head of the foundry."""

PURCHASES = (
    ("P 2101", "Ferncliff Steel Founders", ("cast steel", "forged steel")),
    ("P 2102", "Ardle Rope Works", ("steel wire rope",)),
    ("P 2103", "Tamsel Electric Company", ("11",)),
)
"""The invented purchases: number, supplier, and of which materials or in which section."""

PAPER = ("pdf",)
FORMATS = ("txt", "csv", "md", *PAPER)
"""What every revision's extracts are made as, and those of the last."""

LEFT_OPEN = "open"
"""The folder of the notes that stay open."""

Say = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class First:
    """The order taken in and issued for the first time."""

    taken: TakenIn
    allocated: Allocated
    issued: Issued


@dataclass(frozen=True, slots=True)
class Changed:
    """What a revision changed against the one before: items added, deleted and altered."""

    old: str
    new: str
    added: int
    deleted: int
    altered: int


@dataclass(frozen=True, slots=True)
class Shown:
    """What the demonstration did, as facts for its short account."""

    order: str
    title: str
    items: int
    sheets: int
    set_aside: int
    warnings: int
    steps: int
    in_shares: int
    departments: tuple[tuple[str, str, int, int, int, str], ...]
    revisions: tuple[tuple[str, str], ...]
    open_notes: tuple[str, ...]
    changes: tuple[Changed, ...]
    files: int
    placed: int
    outdated: int
    verified: bool


def demonstrate(office: Office, sample: Path, extracts: Path, say: Say, progress: Progress | None = None) -> Shown:
    """Take the sample order through the whole round in a new book whose chief is at the desk."""
    first = first_revision(office, sample, say, progress)
    written = [_extract(office, extracts, first.issued, say, PAPER)]
    say("placing what takes longest to come")
    placed = place_orders(office)
    issued = [first.issued]
    folders = revision_folders(sample)
    for folder in folders:
        issued.append(next_revision(office, folder, say))
        forms = FORMATS if folder == folders[-1] else PAPER
        written.append(_extract(office, extracts, issued[-1], say, forms))
    leave_open(office, sample)
    reckoned = written[-1][0].extract.reconciliation
    letters = [one.revision.letter for one in issued]
    return Shown(
        order=first.taken.order.number,
        title=first.taken.order.title,
        items=first.allocated.items,
        sheets=first.taken.sheets,
        set_aside=len(first.taken.set_aside),
        warnings=len(check(office).faults),
        steps=reckoned.steps,
        in_shares=reckoned.in_shares,
        departments=tuple(_department(one) for one in written[-1]),
        revisions=tuple((one.revision.letter, short_code(one.revision.seal)) for one in issued),
        open_notes=tuple(one.note.number for one in office.open_notes()),
        changes=tuple(_changed(office, old, new) for old, new in pairwise(letters)),
        files=sum(len(one.files) for made in written for one in made),
        placed=placed,
        outdated=order_list_at(office).found.outdated,
        verified=not verify(office).differences,
    )


def first_revision(
    office: Office, sample: Path, say: Say, progress: Progress | None = None, as_order: str = ""
) -> First:
    """Take the sample in, under its own number or another, allocate it, and issue its first revision."""
    for person in OFFICE:
        say_person(office, person)
    say("taking in the order")
    taken = take_in(office, sample, progress=progress, as_order=as_order)
    say("allocating")
    allocated = allocate(office)
    say("signing and issuing the first revision")
    _sign_all(office, "0")
    return First(taken, allocated, issue(office))


def revision_folders(sample: Path) -> list[Path]:
    """The folders of notes that later revisions are issued with, in the order of the letters."""
    return sorted(folder for folder in (sample / "notes").iterdir() if len(folder.name) == 1)


def next_revision(office: Office, folder: Path, say: Say) -> Issued:
    """Take in the notes of a folder and issue the next revision with them."""
    say(f"taking in alteration notes, and signing and issuing revision {folder.name}")
    numbers = [take_note(office, file).note.note.number for file in sorted(folder.glob("*.toml"))]
    allocate(office)
    for number in numbers:
        _sign_all(office, number)
    return issue(office, numbers)


def leave_open(office: Office, sample: Path) -> None:
    """Take in the notes that stay open, and give what they put in its route."""
    for file in sorted((sample / "notes" / LEFT_OPEN).glob("*.toml")):
        take_note(office, file)
    allocate(office)


def place_orders(office: Office) -> int:
    """Record what the invented buyer placed at the revision last issued; returns how many items."""
    lines = [line for line in order_list_at(office).found.lines if line.how is How.BUY]
    waiting = [piece.item for line in lines for piece in line.pieces]
    placed = 0
    for purchase, supplier, wanted in PURCHASES:
        items = [item for item in waiting if item.material in wanted or item.section in wanted]
        placed += len(place(office, Placing(purchase, supplier), {item.number: None for item in items}))
        waiting = [item for item in waiting if item not in items]
    return placed


def _extract(office: Office, folder: Path, issued: Issued, say: Say, forms: Sequence[str]) -> list[Written]:
    say(f"making every department's extract of revision {issued.revision.letter}")
    asked, into = ToMake(office, ()), folder_for(folder)
    return list(asked.write_each(forms, into))


def _changed(office: Office, old: str, new: str) -> Changed:
    counts = compare(office, old, new).comparison.counts
    return Changed(old, new, counts.added, counts.deleted, counts.changed)


def _department(one: Written) -> tuple[str, str, int, int, int, str]:
    extract = one.extract
    changed = sum(bool(line.sign) for line in extract.lines) + len(extract.withdrawn)
    return (
        extract.department, extract.department_name, len(extract.lines), extract.pieces, changed, extract.seal
    )  # fmt: skip


def _sign_all(office: Office, number: str) -> None:
    """Every signature the note needs, each by another person of the sample's office; the chief approves."""
    for person in (*OFFICE[:3], office.person):
        standing = office.note(number)
        wanting = signatures(office, standing).wanting
        if wanting and (person is office.person or wanting[0] != "approved"):
            sign(replace(office, person=person), number, wanting[0])
