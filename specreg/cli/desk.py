"""desk."""

from __future__ import annotations

import click

from specreg.cli.main import Run


@click.command()
@click.pass_obj
def desk(run: Run) -> None:
    """The terminal screens: desk, specification and find."""
    from specreg.bootstrap import open_reader
    from specreg.tui.run import run as run_screens

    # Opened once here, so that a book that cannot be used is told in the terminal and not on a screen.
    run.open(read_only=True)
    run.close()
    run_screens(lambda: open_reader(run.settings))


COMMANDS = {"desk": desk}
