"""The base of pages that are one sheet of painted lines."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual.widget import Widget

from specreg.tui.screens.sheet_screen import SheetScreen
from specreg.tui.widgets.paper import Paper


class PaperScreen(SheetScreen):
    """A page with a `Paper`. Keys that come before it is written are kept and done when it is."""

    def __init__(self) -> None:
        self._kept_keys: tuple[Callable[[], None], ...] = ()
        super().__init__()

    @property
    def paper(self) -> Paper:
        """The sheet."""
        return self.query_one(Paper)

    def body(self) -> Iterable[Widget]:
        """The sheet alone."""
        yield Paper()

    def when_written(self, act: Callable[[], None]) -> None:
        """Do it now, or as soon as something stands on the sheet."""
        if self.paper.written:
            act()
        else:
            self._kept_keys = (*self._kept_keys, act)

    def on_paper_moved(self, moved: Paper.Moved) -> None:
        """Do what was typed too early."""
        del moved
        if self.paper.written:
            acts, self._kept_keys = self._kept_keys, ()
            for act in acts:
                act()

    def action_open(self) -> None:
        """Open the passage under the cursor."""
        self.when_written(self.paper.open)

    def action_up(self) -> None:
        """To the passage before, or one line up."""
        self.when_written(lambda: self.paper.move(-1))

    def action_down(self) -> None:
        """To the next passage, or one line down."""
        self.when_written(lambda: self.paper.move(1))

    def action_page_up(self) -> None:
        """One page up."""
        self.when_written(lambda: self.paper.move_page(-1))

    def action_page_down(self) -> None:
        """One page down."""
        self.when_written(lambda: self.paper.move_page(1))

    def action_top(self) -> None:
        """To the first line."""
        self.when_written(self.paper.to_top)

    def action_bottom(self) -> None:
        """To the last line."""
        self.when_written(self.paper.to_bottom)
