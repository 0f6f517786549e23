"""The help page: what the page one came from is for, its keys, the signs."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from specreg.tui.commands import bindings_on
from specreg.tui.help_paper import NAMES, help_lines
from specreg.tui.screens.paper_screen import PaperScreen


class HelpScreen(PaperScreen):
    """Help on one page."""

    PAGE = "help"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("help")

    def __init__(self, page: str) -> None:
        self._page = page
        super().__init__()

    def load(self) -> None:
        """Write the help; nothing is asked of the book."""
        self.headed(f"Help · {NAMES.get(self._page, self._page)}")
        self.paper.write(lambda width: help_lines(self._page, width), from_the_top=False)
