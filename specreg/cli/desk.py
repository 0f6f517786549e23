"""desk."""

from __future__ import annotations

import sys

import click

from specreg.cli.main import Run
from specreg.core.errors import WrongUse


@click.command()
@click.pass_obj
def desk(run: Run) -> None:
    """The terminal screens: desk, sections, drawings, departments, compare, take-off, find."""
    from specreg.bootstrap import doer, open_reader

    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise WrongUse(
            "Open the desk", "the screens need a terminal", "Without one use `specreg find` and `specreg show`"
        )
    from specreg.tui.run import run as run_screens

    # Opened once here, so that a book that cannot be used is told in the terminal and not on a screen.
    run.open(read_only=True)
    run.close()
    run_screens(lambda: open_reader(run.settings), doer=doer(run.settings))


COMMANDS = {"desk": desk}
