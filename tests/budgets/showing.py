"""Budgets of paper and of the screens: what is printed, the desk from a cold start, memory with the screens open."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from specreg.services.extracting import ToMake, folder_for
from specreg.services.printing import write_specification
from tests.budgets.figures import Figure, process, timed
from tests.budgets.trial import FULL_SIZE, Trial

MOST_PRINTED = 4 * FULL_SIZE
"""An order greater than this is not printed whole."""

_DESK = (
    "import asyncio, sys\n"
    "from specreg.bootstrap import open_reader\n"
    "from specreg.settings import Settings\n"
    "from specreg.tui.app import SpecregApp\n"
    "app = SpecregApp(lambda: open_reader(Settings(book={book!r})))\n"
    "async def painted():\n"
    "    async with app.run_test(size=(80, 24)) as pilot:\n"
    "        await pilot.pause()\n"
    "        for key in {keys!r}:\n"
    "            await pilot.press(key)\n"
    "            await pilot.pause(0.5)\n"
    "asyncio.run(painted())\n"
    "for line in open('/proc/self/status'):\n"
    "    if line.startswith('VmHWM'): sys.stdout.write(line.split()[1])\n"
)


def showing(trial: Trial) -> Iterator[Figure]:
    """Every figure of this kind."""
    python = sys.executable
    book = trial.office.book.path
    yield from _paper(trial)
    bare = timed(process(python, "-c", "pass"))
    yield Figure(
        "specreg --version", timed(process(python, "-m", "specreg", "--version")), "python -c pass", bare, "5 ×"
    )
    desk = _DESK.format(book=str(book), keys=())
    yield Figure("desk painted from cold", timed(process(python, "-c", desk), 3), "python -c 'import textual.app'",
                 timed(process(python, "-c", "import textual.app"), 3), "2 ×")  # fmt: skip
    if Path("/proc/self/status").exists():
        yield Figure("memory, the screens looked at", (_memory(book),), must="150 MB", unit="MB")


def _paper(trial: Trial) -> Iterator[Figure]:
    if trial.items > MOST_PRINTED:
        reason = f"an order of more than {MOST_PRINTED} items is not printed whole"
        yield Figure("all extracts as PDF", (), must="5 s at full size", left_out=reason)
        yield Figure("whole specification as PDF", (), must="2 s at full size", left_out=reason)
        return
    office, folder = trial.office, trial.folder
    # First, as a command of its own has it: the typesetter is still busy with the extracts after they are made.
    yield Figure("whole specification as PDF", timed(lambda: write_specification(office, folder)),
                 must="2 s at full size")  # fmt: skip
    extracts = timed(lambda: list(ToMake(office, ()).write_each(("pdf",), folder_for(folder / "paper"))), 3)
    yield Figure("all extracts as PDF", extracts, must="5 s at full size")


def _memory(book: Path) -> float:
    """Megabytes of the program after the desk, the sections, a section and find were looked at."""
    code = _DESK.format(book=str(book), keys=("s", "enter", "end", "slash", "b", "o", "l", "t"))
    said = subprocess.run((sys.executable, "-c", code), check=True, capture_output=True, text=True)
    return int(said.stdout) / 1024
