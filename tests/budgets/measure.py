"""All budgets at a size: `python -m tests.budgets.measure [--items N] [--only WORDS] [--json]`.

Without --items the sample order is measured, else an invented order of so many items. The figures are told, not
asserted: machines differ and wander, ratios to a peer in the same run less so.
"""

from __future__ import annotations

import argparse
import json
import shutil
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from specreg.__main__ import collect_seldom
from tests.budgets.figures import Figure, table
from tests.budgets.looking import looking
from tests.budgets.showing import showing
from tests.budgets.trial import Trial
from tests.budgets.working import working

KINDS = {"working": working, "looking": looking, "showing": showing}


def measured(trial: Trial, kinds: Sequence[str] = tuple(KINDS)) -> list[Figure]:
    """Every figure of some kinds, in the order in which they are measured."""
    figures: list[Figure] = []
    for kind in kinds:
        for figure in KINDS[kind](trial):
            trial.say(f"measured: {figure.work}")
            figures.append(figure)
    return figures


def main(arguments: Sequence[str]) -> None:
    """Print the table, or the figures as JSON; what is being done goes to a terminal's error output."""
    parser = argparse.ArgumentParser(prog="python -m tests.budgets.measure", description=__doc__)
    parser.add_argument("--items", type=int, default=0, help="size of an invented order; without it the sample")
    parser.add_argument("--only", choices=KINDS, action="append", help="one kind of figures, or several")
    parser.add_argument("--json", action="store_true", help="figures with keys that stay")
    asked = parser.parse_args(arguments)
    collect_seldom()
    folder = Path(tempfile.mkdtemp(prefix="specreg-budgets-"))
    try:
        trial = Trial(folder, asked.items, _say if sys.stderr.isatty() else _quiet)
        figures = measured(trial, asked.only or tuple(KINDS))
        count = trial.count
        trial.office.book.close()
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    if asked.json:
        sys.stdout.write(json.dumps({"items": count, "figures": [one.as_json() for one in figures]}, indent=2) + "\n")
    else:
        sys.stdout.write(f"{count} items\n{table(figures)}")


def _say(words: str) -> None:
    sys.stderr.write(f"{words} ...\n")


def _quiet(words: str) -> None:
    del words


if __name__ == "__main__":
    main(sys.argv[1:])
