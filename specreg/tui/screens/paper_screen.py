"""The base of pages that are one sheet of painted lines."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget

from specreg.tui.screens.sheet_screen import SheetScreen
from specreg.tui.widgets.paper import Paper


class PaperScreen(SheetScreen):
    """A page with a `Paper`, scrolled by the keys that move."""

    @property
    def paper(self) -> Paper:
        """The sheet."""
        return self.query_one(Paper)

    def body(self) -> Iterable[Widget]:
        """The sheet alone."""
        yield Paper()

    def action_up(self) -> None:
        """One line up."""
        self.paper.move(-1)

    def action_down(self) -> None:
        """One line down."""
        self.paper.move(1)

    def action_page_up(self) -> None:
        """One page up."""
        self.paper.move_page(-1)

    def action_page_down(self) -> None:
        """One page down."""
        self.paper.move_page(1)

    def action_top(self) -> None:
        """To the first line."""
        self.paper.go_to(0)

    def action_bottom(self) -> None:
        """To the last line."""
        self.paper.go_to(len(self.paper.lines_written))
