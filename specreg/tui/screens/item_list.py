"""The list of items of one section, or of the whole order."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from specreg.tui.commands import bindings_on
from specreg.tui.item_rows import COLUMNS, SectionRows
from specreg.tui.pieces import clean
from specreg.tui.screens.table_screen import TableScreen
from specreg.tui.widgets.register_table import RegisterTable


class ItemListScreen(TableScreen):
    """The list; Enter opens an item's sheet, and coming back the cursor stands on the item last seen."""

    PAGE = "list"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("list")

    def __init__(self, section: str, title: str, number: str = "") -> None:
        self.section = section
        self._title = title
        self._number = number
        super().__init__(RegisterTable(COLUMNS, empty="Nothing stands in this section yet."))

    def page_title(self) -> str:
        """The page's name: the section, or the whole order."""
        name = f"{self.section} {clean(self._title)}".strip() if self.section else "all sections"
        return f"Specification · {name}"

    def load(self) -> None:
        """Ask for the rows."""
        self.headed(self.page_title())
        self.table.load(SectionRows(self.readers, self.section), self._number)

    def on_register_table_opened(self, opened: RegisterTable.Opened) -> None:
        """Open the item's sheet."""
        self.house.open_item(opened.row.key, self.section, self.saw)

    def saw(self, number: str) -> None:
        """Remember which item was looked at last."""
        self._number = number

    def on_screen_resume(self) -> None:
        """Catch up with the book, and put the cursor on the item that was looked at last."""
        row = self.table.row_at_cursor()
        if row and self._number and row.key != self._number:
            source, number = SectionRows(self.readers, self.section), self._number
            self.ask("row", lambda: source.row_of(number), self._stand_in)
        self._number = ""

    def _stand_in(self, row: int) -> None:
        if row >= 0:
            self.table.go_to(row)
