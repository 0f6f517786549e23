"""Budgets of what is written and reckoned: taking in, allocating, checking, sealing, edits, comparing, the take-off."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import replace

from specreg.core.model import Note
from specreg.core.order_list import order_list
from specreg.core.seals import content_digest
from specreg.core.take_off import take_off
from specreg.services.allocating import allocate
from specreg.services.altering import alter
from specreg.services.checking import check
from specreg.services.comparing import compare
from specreg.services.cutting_list import cutting_list_at
from specreg.services.demonstrating import OFFICE
from specreg.services.giving_out import export
from specreg.services.issuing import issue
from specreg.services.noting import open_note
from specreg.services.signing import sign
from specreg.services.upkeep import verify
from specreg.settings import shipped_folder
from specreg.store import items, revisions
from tests.budgets.figures import Figure, timed, timed_each
from tests.budgets.invented_orders import write_invented
from tests.budgets.trial import FULL_SIZE, Trial, taken_in_once

GREAT = 20 * FULL_SIZE
"""From so many items on a work of minutes is done once, and what is only for an order of a works' size is left out."""

EDITS = 100
"""Items altered one after the other."""


def working(trial: Trial) -> Iterator[Figure]:
    """Every figure of this kind."""
    runs = 1 if trial.items > GREAT else 3
    office = trial.office
    again = [taken_in_once(trial.folder, trial.source) for _ in range(runs - 1)]
    taken = (trial.took["take in"], *again)
    yield Figure("take in", taken, must="2 s at full size")
    if trial.items > FULL_SIZE:
        yield _grows(trial, taken)
    yield Figure("allocate, every item", (trial.took["allocate"],), must="1 s at full size")
    yield Figure("allocate, nothing to do", timed(lambda: allocate(office), runs))
    yield Figure("issue with all checks", (trial.took["issue"],))
    yield Figure("seal", timed(lambda: _seal(trial), runs), must="0.3 s at full size")
    yield Figure("check", timed(lambda: check(office), runs))
    yield Figure("verify", timed(lambda: verify(office), runs))
    yield Figure("take-off", timed(lambda: take_off(replace(trial.picture)), runs), must="0.3 s at full size")
    yield Figure("order list", timed(lambda: order_list(replace(trial.picture)), runs))
    if trial.items > GREAT:
        yield Figure("cutting list", (), left_out="a works cuts for one order of its own size")
    else:
        yield Figure("cutting list", timed(lambda: cutting_list_at(office), 1))
    yield from _changing(trial)


def _grows(trial: Trial, taken: tuple[float, ...]) -> Figure:
    """Taking in an item of this order, beside one of an order of full size."""
    small = trial.folder / "full size"
    write_invented(shipped_folder("sample_spec"), small, FULL_SIZE)
    theirs = [taken_in_once(trial.folder, small) for _ in range(3)]
    per_item = tuple(seconds / trial.count for seconds in taken)
    return Figure("take in, an item of it", per_item, "an item of a full-size order",
                  tuple(seconds / FULL_SIZE for seconds in theirs), "1.5 ×")  # fmt: skip


def _seal(trial: Trial) -> object:
    """The digest over all that revision A brought in, which is the work of a seal."""
    office = trial.office
    last = revisions.last(office.book, office.order_id)
    assert last is not None
    return content_digest(revisions.sealed_rows(office.book, office.order_no, office.order_id, 0, last.entry))


def _changing(trial: Trial) -> Iterator[Figure]:
    """Edits under a note, the revision they come to, and the two revisions compared."""
    office = trial.office
    apart = max(1, trial.count // EDITS)
    numbers = [
        standing.item.number
        for place, standing in enumerate(items.all_now(office.book, office.order_id))
        if place % apart == 0 and standing.item.is_line
    ][:EDITS]
    note = open_note(office, Note("", reason="shop request", urgency="next batch", authority="works manager",
                                  machines="all", words="measured"))  # fmt: skip
    tasks = (
        lambda number=number: alter(office, number, {"Remarks": "altered to be measured"}, note.note.number)
        for number in numbers
    )
    yield Figure("edit one item with its index", timed_each(tasks), must="median 1 ms, p99 50 ms")  # type: ignore[arg-type]
    for person, part in zip(
        (*OFFICE[:3], office.person), ("drawn", "checked", "second check", "approved"), strict=True
    ):
        sign(replace(office, person=person), note.note.number, part)
    yield Figure(f"issue {len(numbers)} edits with all checks", timed(lambda: issue(office, (note.note.number,)), 1))
    runs = 1 if trial.items > GREAT else 3
    theirs: tuple[float, ...] = ()
    if shutil.which("git"):
        for letter in "AB":
            export(office, trial.folder / letter, office.revision(letter))
        words = ("git", "diff", "--no-index", "--word-diff", str(trial.folder / "A"), str(trial.folder / "B"))
        theirs = timed(lambda: subprocess.run(words, check=False, capture_output=True), runs)
    ours = timed(lambda: compare(office, "A", "B"), runs)
    yield Figure("compare A with B", ours, "git diff --word-diff of the text", theirs, "1 ×")
