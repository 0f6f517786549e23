"""The index page of the specification: its sections, each with its figures."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from specreg.services.readings import SectionLine
from specreg.tui.commands import bindings_on
from specreg.tui.pieces import Piece
from specreg.tui.screens.table_screen import TableScreen
from specreg.tui.section_rows import ALL, COLUMNS, section_rows
from specreg.tui.sources import HeldRows
from specreg.tui.widgets.register_table import RegisterTable


class IndexScreen(TableScreen):
    """Sections; Enter opens the list of one, or of the whole order from the first row."""

    PAGE = "index"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("index")

    def __init__(self) -> None:
        self._titles: dict[str, str] = {}
        super().__init__(RegisterTable(COLUMNS, HeldRows()))

    def page_title(self) -> str:
        """The page's name."""
        return "Specification · index of sections"

    def say_place(self, row: int, count: int) -> None:
        """Say how many sections there are, the row for all of them not counted."""
        del row
        sections = max(0, count - 1)
        self.headed(self.page_title(), (Piece(f"{sections} section{'' if sections == 1 else 's'}"),))

    def load(self) -> None:
        """Ask for the sections."""
        self.headed(self.page_title())
        self.ask("sections", lambda: self.readers.mine().sections(), self._show)

    def reload(self) -> None:
        """Ask again; the cursor stays on its section."""
        self.load()

    def _show(self, sections: tuple[SectionLine, ...]) -> None:
        row = self.table.row_at_cursor()
        self._titles = {one.number: one.title for one in sections}
        self.table.put(HeldRows(section_rows(sections)), row.key if row else ALL)

    def on_register_table_opened(self, opened: RegisterTable.Opened) -> None:
        """Open the list of a section."""
        number = opened.row.key
        self.house.open_list(number, self._titles.get(number, ""))
