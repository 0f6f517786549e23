"""The demonstration: the sample order taken through the whole round, from an empty book to extracts of revision B.

It uses the same tasks as everybody; only the persons who sign are the sample's invented ones, at one desk.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from specreg.core.order_list import How
from specreg.core.seals import short_code
from specreg.services.allocating import allocate
from specreg.services.checking import check
from specreg.services.comparing import compare
from specreg.services.extracting import ToMake, Written, folder_for
from specreg.services.issuing import issue
from specreg.services.office import Office
from specreg.services.ordering import Placing, order_list_at, place
from specreg.services.people import say_person
from specreg.services.signing import sign, signatures
from specreg.services.taking_in import Progress, take_in
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

FORMATS = ("txt", "csv", "md", "pdf")


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
    changes: tuple[tuple[str, int], ...]
    files: int
    placed: int
    outdated: int
    verified: bool


def demonstrate(
    office: Office, sample: Path, extracts: Path, say: Callable[[str], None], progress: Progress | None = None
) -> Shown:
    """Take the sample order through the whole round in a new book whose chief is at the desk."""
    for person in OFFICE:
        say_person(office, person)
    say("taking in the order")
    taken = take_in(office, sample, progress=progress)
    say("allocating")
    allocated = allocate(office)
    say("signing and issuing revision A")
    _sign_all(office, "0")
    first = issue(office)
    say("making every department's extract of revision A")
    files = sum(len(one.files) for one in _extract(office, extracts))
    say("placing what takes longest to come")
    placed = _place(office)
    notes = sorted((sample / "notes").glob("*.toml"))
    say("taking in alteration notes")
    numbers = [take_note(office, file).note.note.number for file in notes]
    to_issue = numbers[:-1]
    allocate(office)
    say("signing and issuing revision B")
    for number in to_issue:
        _sign_all(office, number)
    second = issue(office, to_issue)
    say("making every department's extract of revision B")
    written = _extract(office, extracts)
    counts = compare(office, first.revision.letter, second.revision.letter).comparison.counts
    reckoned = written[0].extract.reconciliation
    return Shown(
        order=taken.order.number,
        title=taken.order.title,
        items=allocated.items,
        sheets=taken.sheets,
        set_aside=len(taken.set_aside),
        warnings=len(check(office).faults),
        steps=reckoned.steps,
        in_shares=reckoned.in_shares,
        departments=tuple(_department(one) for one in written),
        revisions=tuple((one.revision.letter, short_code(one.revision.seal)) for one in (first, second)),
        open_notes=tuple(one.note.number for one in office.open_notes()),
        changes=(("added", counts.added), ("deleted", counts.deleted), ("altered", counts.changed)),
        files=files + sum(len(one.files) for one in written),
        placed=placed,
        outdated=order_list_at(office).found.outdated,
        verified=not verify(office).differences,
    )


def _extract(office: Office, folder: Path) -> list[Written]:
    asked, into = ToMake(office, ()), folder_for(folder)
    return list(asked.write_each(FORMATS, into))


def _place(office: Office) -> int:
    """Record what the invented buyer placed at the revision last issued; returns how many items."""
    lines = [line for line in order_list_at(office).found.lines if line.how is How.BUY]
    waiting = [piece.item for line in lines for piece in line.pieces]
    placed = 0
    for purchase, supplier, wanted in PURCHASES:
        items = [item for item in waiting if item.material in wanted or item.section in wanted]
        placed += len(place(office, Placing(purchase, supplier), {item.number: None for item in items}))
        waiting = [item for item in waiting if item not in items]
    return placed


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
