"""What the program costs, measured beside a peer in the same run: `python -m tests.budgets.measure [--json]`.

The figures are told, not asserted: machines differ and wander, ratios less so. The orders measured are the sample,
taken through the round into a temporary folder, and for paper one of full size. Each figure is the median of several
runs.
"""

from __future__ import annotations

import gc
import json
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from specreg.__main__ import collect_seldom
from specreg.bootstrap import make_book, open_office
from specreg.core.order_list import order_list
from specreg.core.picture import Picture
from specreg.core.take_off import take_off
from specreg.services.allocating import allocate
from specreg.services.checking import check
from specreg.services.comparing import compare
from specreg.services.cutting_list import cutting_list_at
from specreg.services.demonstrating import CHIEF, OFFICE, demonstrate
from specreg.services.extracting import ToMake, folder_for
from specreg.services.finding import Finder
from specreg.services.giving_out import export
from specreg.services.issuing import issue
from specreg.services.people import say_person
from specreg.services.printing import write_specification
from specreg.services.signing import sign
from specreg.services.standing import as_it_stands
from specreg.services.taking_in import take_in
from specreg.services.upkeep import verify
from specreg.settings import Settings, shipped_folder
from tests.budgets.full_size import many_times, write_full_size

TYPED = ("rack bolt", "beari", "4.1.2", "SL-402", "slewng", '1 1/8"', "U 613", "402/2", "phosph bush", "boom")
"""Whole words, halves, numbers, a slip, a size, punctuation, and one of the works' own words."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One line of the table: seconds of ours, of the peer in the same run where there is one, and what the peer is."""

    work: str
    seconds: float
    peer_seconds: float | None = None
    peer: str = ""
    must: str = ""

    @property
    def ratio(self) -> float | None:
        """Ours to the peer's."""
        return self.seconds / self.peer_seconds if self.peer_seconds else None


def median(task: Callable[[], object], runs: int = 5) -> float:
    """Median seconds of a task over several runs; what others left behind is cleared away first."""
    times = []
    for _ in range(runs):
        gc.collect()
        start = time.perf_counter()
        task()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def process(*words: str) -> Callable[[], object]:
    """A whole process, its output thrown away."""
    return lambda: subprocess.run(words, check=True, capture_output=True)


def measured(folder: Path) -> list[Figure]:
    """Every figure, from a book made in a folder."""
    office = make_book(folder / "works.specreg", CHIEF)
    demonstrate(office, shipped_folder("sample_spec"), folder / "extracts", lambda _: None)
    office.book.close()
    office = open_office(Settings(book=str(folder / "works.specreg")))
    python = sys.executable
    bare = median(process(python, "-c", "pass"))
    version = median(process(python, "-m", "specreg", "--version"))
    figures = [
        Figure("specreg --version", version, bare, "python -c pass", "5 ×"),
        Figure("desk painted from cold", _cold_desk(folder), median(process(python, "-c", "import textual.app")),
               "python -c 'import textual.app'", "2 ×"),
        *_finding(office),
        *_comparing(office, folder),
        Figure("take in the sample", _taking_in(folder), must="2 s at full size"),
        Figure("allocate, nothing to do", median(lambda: allocate(office))),
        Figure("check", median(lambda: check(office))),
        Figure("verify", median(lambda: verify(office))),
    ]  # fmt: skip
    office.book.close()
    return [*figures, *_at_full_size(folder / "full size")]


def _take_off_grows(picture: Picture) -> list[Figure]:
    """The take-off of 100 000 items an item, beside that of full size: 1 means that it is linear."""
    times = 100_000 // len(picture.lines)
    great = many_times(picture, times)
    ours = median(lambda: take_off(replace(great)), 1) / len(great.lines)
    peer = median(lambda: take_off(replace(picture)), 3) / len(picture.lines)
    return [Figure("take-off of 100 000 items, an item", ours, peer, "take-off of full size, an item", "linear")]


def _at_full_size(folder: Path) -> list[Figure]:
    """Taking in, and paper, for an order of some 2 850 items."""
    folder.mkdir()
    write_full_size(shipped_folder("sample_spec"), folder / "order")
    office = make_book(folder / "works.specreg", CHIEF)
    for person in OFFICE:
        say_person(office, person)
    start = time.perf_counter()
    take_in(office, folder / "order")
    taken = time.perf_counter() - start
    allocate(office)
    for person, part in zip(
        (*OFFICE[:3], office.person), ("drawn", "checked", "second check", "approved"), strict=True
    ):
        sign(replace(office, person=person), "0", part)
    issue(office)

    picture = as_it_stands(office)

    def departments() -> None:
        asked = ToMake(office, ())
        list(asked.write_each(("pdf",), folder_for(folder / "paper")))

    figures = [
        Figure("take in, full size", taken, must="2 s"),
        Figure("take-off, full size", median(lambda: take_off(replace(picture)), 3), must="0.3 s"),
        *_take_off_grows(picture),
        Figure("order list, full size", median(lambda: order_list(replace(picture)), 3)),
        Figure("cutting list, full size", median(lambda: cutting_list_at(office), 1)),
        Figure("all extracts as PDF, full size", median(departments, 3), must="5 s"),
        Figure("whole specification as PDF", median(lambda: write_specification(office, folder), 3), must="2 s"),
    ]
    office.book.close()
    return figures


def _finding(office: object) -> list[Figure]:
    finder = Finder(office)  # type: ignore[arg-type]
    db = office.book.db  # type: ignore[attr-defined]

    def ours() -> None:
        for typed in TYPED:
            finder.find(typed)

    def scanned() -> None:
        for typed in TYPED:
            query = "SELECT count(*) FROM item_now WHERE number || title || text || size || material || drawing LIKE ?"
            db.execute(query, (f"%{typed}%",)).fetchone()

    ours()
    each = len(TYPED)
    return [
        Figure("find, one look-up", median(ours) / each, median(scanned) / each, "LIKE scan of the same rows", "5 ms")
    ]


def _comparing(office: object, folder: Path) -> list[Figure]:
    if shutil.which("git") is None:
        return []
    for letter in "AB":
        export(office, folder / letter, office.revision(letter))  # type: ignore[arg-type,attr-defined]
    words = ("git", "diff", "--no-index", "--word-diff", str(folder / "A"), str(folder / "B"))
    theirs = median(lambda: subprocess.run(words, check=False, capture_output=True))
    ours = median(lambda: compare(office, "A", "B"))  # type: ignore[arg-type]
    return [Figure("compare A with B", ours, theirs, "git diff --word-diff on the exported text", "1 ×")]


def _taking_in(folder: Path) -> float:
    made = []

    def one() -> None:
        office = make_book(folder / f"again{len(made)}.specreg", CHIEF)
        made.append(office)
        start = time.perf_counter()
        take_in(office, shipped_folder("sample_spec"))
        times.append(time.perf_counter() - start)
        office.book.close()

    times: list[float] = []
    for _ in range(3):
        one()
    return statistics.median(times)


def _cold_desk(folder: Path) -> float:
    """A fresh interpreter up to the first painted desk, under the pilot of the screens."""
    code = (
        "import asyncio\n"
        "from specreg.bootstrap import open_reader\n"
        "from specreg.settings import Settings\n"
        "from specreg.tui.app import SpecregApp\n"
        f"app = SpecregApp(lambda: open_reader(Settings(book={str(folder / 'works.specreg')!r})))\n"
        "async def painted():\n"
        "    async with app.run_test(size=(80, 24)) as pilot:\n"
        "        await pilot.pause()\n"
        "asyncio.run(painted())\n"
    )
    return median(process(sys.executable, "-c", code))


def main(arguments: Sequence[str]) -> None:
    """Print the table, or the figures as JSON."""
    collect_seldom()
    folder = Path(tempfile.mkdtemp(prefix="specreg-budgets-"))
    try:
        figures = measured(folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    if "--json" in arguments:
        rows = [
            {"work": one.work, "seconds": one.seconds, "peer": one.peer, "peer_seconds": one.peer_seconds,
             "ratio": one.ratio, "must": one.must}
            for one in figures
        ]  # fmt: skip
        sys.stdout.write(json.dumps(rows, indent=2) + "\n")
        return
    for one in figures:
        beside = f"{one.ratio:6.2f} × {one.peer}" if one.ratio is not None else ""
        must = f"  (must: {one.must})" if one.must else ""
        sys.stdout.write(f"{one.work:<28}{1000 * one.seconds:10.1f} ms  {beside}{must}\n")


if __name__ == "__main__":
    main(sys.argv[1:])
