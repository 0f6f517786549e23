"""Opens the screens; the one door into this package."""

from __future__ import annotations

from collections.abc import Callable

from specreg.services.doings import Doer
from specreg.services.readings import Reader


def run(open_reader: Callable[[], Reader], start: str = "", doer: Doer | None = None) -> None:
    """Open the screens and stay until the person leaves.

    `open_reader` is called once in each thread that asks, and the reader is closed by the same thread. `start` is
    empty for the desk, the name of a page, or the number of an item whose sheet is opened at once. `doer` does what
    writes; without one nothing that writes is offered.
    """
    from specreg.tui.app import SpecregApp

    SpecregApp(open_reader, start, doer).run()
