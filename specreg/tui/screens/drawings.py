"""The drawing list of the order: stages, what is late, which items call each sheet up."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import ClassVar

from textual.binding import BindingType
from textual.widget import Widget

from specreg.tui.commands import bindings_on
from specreg.tui.drawing_rows import ALL, NOTHING, VIEWS, DrawingList, columns_of, drawing_list
from specreg.tui.pieces import Line
from specreg.tui.screens.table_screen import TableScreen
from specreg.tui.sources import HeldRows
from specreg.tui.widgets.painted import PaintedLine, framed
from specreg.tui.widgets.register_table import RegisterTable


class Summary(PaintedLine):
    """The line over the list: how far the drawings are, and what is out of order."""

    def __init__(self) -> None:
        self._said: Line = ()
        super().__init__()

    def say(self, said: Line) -> None:
        """Paint other words."""
        self._said = said
        self.refresh()

    def the_line(self) -> Line:
        """What it says."""
        return framed(self._said, self.size.width)


class DrawingsScreen(TableScreen):
    """The list in one of three views; Enter opens the drawing of the sheet under the cursor, and coming back the cursor
    stands on the drawing last seen."""

    PAGE = "drawings"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("drawings")

    def __init__(self) -> None:
        self._view = ALL
        self._list: DrawingList | None = None
        self._number = ""
        super().__init__(RegisterTable(columns_of(ALL), HeldRows()))

    def body(self) -> Iterable[Widget]:
        """The sums, the list."""
        yield Summary()
        yield self.table

    def page_title(self) -> str:
        """The page's name and view."""
        return f"Drawings · {VIEWS[self._view]}"

    def load(self) -> None:
        """Ask for the list."""
        self.headed(self.page_title())
        self.reload()

    def reload(self) -> None:
        """Ask for it, its rows made in the thread; the cursor stays on its sheet."""
        self.ask("drawings", lambda: drawing_list(self.readers.mine().drawings(), date.today()), self._show)

    def _show(self, drawings: DrawingList) -> None:
        self._list = drawings
        self.query_one(Summary).say(drawings.summary)
        self._put()

    def _put(self) -> None:
        if self._list is None:
            self.headed(self.page_title())
            return
        row = self.table.row_at_cursor()
        self.table.columns = columns_of(self._view)
        self.table.empty = NOTHING[self._view]
        self.table.put(HeldRows(self._list.rows[self._view]), row.key if row else "")

    def action_view(self, view: int) -> None:
        """Show another view; the cursor stays on its sheet where that stands in it."""
        self._view = view
        self._put()

    def on_register_table_opened(self, opened: RegisterTable.Opened) -> None:
        """Open the drawing."""
        self.house.open_drawing(opened.row.key, self.saw)

    def saw(self, number: str) -> None:
        """Remember which drawing was looked at last."""
        self._number = number

    def on_screen_resume(self) -> None:
        """Put the cursor on the drawing that was looked at last, unless it stands on one of its sheets."""
        number, self._number = self._number, ""
        row = self.table.row_at_cursor()
        if self._list and row and number and self._list.drawing_of[row.key] != number:
            at = self._list.row_of(self._view, number)
            if at >= 0:
                self.table.go_to(at)
