"""The base of pages that are one table."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Iterable

from textual.widget import Widget

from specreg.core.counts import grouped
from specreg.tui.pieces import Line, Piece
from specreg.tui.screens.sheet_screen import SheetScreen
from specreg.tui.widgets.register_table import RegisterTable


class TableScreen(SheetScreen):
    """A page with a `RegisterTable`. Keys that come before its rows are kept and done when the rows are there."""

    def __init__(self, table: RegisterTable) -> None:
        self.table = table
        self._kept_keys: tuple[Callable[[], None], ...] = ()
        super().__init__()

    def body(self) -> Iterable[Widget]:
        """The table alone."""
        yield self.table

    def reload(self) -> None:
        """Read the rows on the screen again."""
        self.table.reload()

    def when_loaded(self, act: Callable[[], None]) -> None:
        """Do it now, or as soon as the rows are there."""
        if self.table.loaded:
            act()
        else:
            self._kept_keys = (*self._kept_keys, act)

    def on_register_table_moved(self, moved: RegisterTable.Moved) -> None:
        """Say in the head where one stands, and do what was typed too early."""
        self.say_place(moved.row, moved.count)
        acts, self._kept_keys = self._kept_keys, ()
        for act in acts:
            act()

    def say_place(self, row: int, count: int) -> None:
        """Write `n of m` into the head."""
        self.headed(self.page_title(), place_line(row, count))

    @abstractmethod
    def page_title(self) -> str:
        """What the head calls this page."""

    def action_open(self) -> None:
        """Open the row under the cursor."""
        self.when_loaded(self.table.open)

    def action_up(self) -> None:
        """One row up."""
        self.when_loaded(lambda: self.table.move(-1))

    def action_down(self) -> None:
        """One row down."""
        self.when_loaded(lambda: self.table.move(1))

    def action_page_up(self) -> None:
        """One page up."""
        self.when_loaded(lambda: self.table.move_page(-1))

    def action_page_down(self) -> None:
        """One page down."""
        self.when_loaded(lambda: self.table.move_page(1))

    def action_top(self) -> None:
        """To the first row."""
        self.when_loaded(lambda: self.table.go_to(0))

    def action_bottom(self) -> None:
        """To the last row."""
        self.when_loaded(lambda: self.table.go_to(self.table.count - 1))


def place_line(row: int, count: int) -> Line:
    """`3 of 147`, or that there is nothing."""
    return (Piece(f"{grouped(row + 1)} of {grouped(count)}" if count else "none"),)
