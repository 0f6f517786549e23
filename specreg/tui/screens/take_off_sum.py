"""One sum of the take-off: its items, each with number off, weight of one and of all, and how it stands."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.binding import BindingType

from specreg.services.readings import Reader
from specreg.services.take_off_readings import SumKind, SumPage
from specreg.tui.commands import bindings_on
from specreg.tui.pieces import clean
from specreg.tui.screens.prefaced_screen import PrefacedScreen
from specreg.tui.screens.table_screen import place_line
from specreg.tui.sources import HeldRows
from specreg.tui.stepping import Stepping
from specreg.tui.take_off_over import over_the_items, place_in_head, state_words
from specreg.tui.take_off_rows import THE_ORDER, ItemsOfSum, item_columns, units_in_columns
from specreg.tui.widgets.register_table import RegisterTable


def neighbour(reader: Reader, page: SumPage, open_edits: bool, steps: int) -> SumPage:
    """The sum so many further (back when negative), or the last one there is that way. Raises NotFound."""
    at = page.names.index(page.total.name) + steps
    return reader.sum_page(page.kind, page.names[min(max(at, 0), len(page.names) - 1)], open_edits)


class SumScreen(Stepping, PrefacedScreen):
    """The items of one sum; Enter opens an item's sheet. `saw` is told each sum shown."""

    PAGE = "sum"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("sum")

    def __init__(self, kind: SumKind, name: str, open_edits: bool, saw: Callable[[str], None]) -> None:
        self._kind = kind
        self._sum = name
        self._open = open_edits
        self._saw = saw
        self._page: SumPage | None = None
        super().__init__(RegisterTable((), HeldRows(), empty="Nothing stands under this sum."))

    def load(self) -> None:
        """Ask for the sum."""
        self.headed(self.page_title())
        self.reload()

    def reload(self) -> None:
        """Ask for it again; the cursor stays on its item."""
        kind, name, open_edits = self._kind, self._sum, self._open
        self._ask(lambda reader: reader.sum_page(kind, name, open_edits))

    def _ask(self, question: Callable[[Reader], SumPage]) -> None:
        self.ask("sum", lambda: question(self.readers.mine()), self._show, self._miss)

    def _show(self, page: SumPage) -> None:
        self.steps = 0
        is_other = page.total.name != self._sum
        self._page, self._sum = page, page.total.name
        self._saw(self._sum)
        self.lay_out(from_the_top=is_other)

    def _miss(self, sentence: str) -> None:
        self.steps = 0
        if self._page:
            self.say_trouble(sentence)
        else:
            self.house.leave_with(self, sentence)

    def lay_out(self, from_the_top: bool = False) -> None:
        """Paint what the sum comes to and its items; the cursor stays on its item."""
        page = self._page
        if page is None:
            return
        row = None if from_the_top else self.table.row_at_cursor()
        self.say_over(over_the_items(page, self.room, self.most_lines))
        self.table.columns = item_columns(page, self.room)
        self.table.put(ItemsOfSum(page, self.room), row.key if row else "")

    def page_title(self) -> str:
        """What the sum is over, and the state."""
        name = THE_ORDER if self._kind is SumKind.WHOLE else self._sum
        if self._page is None:
            return clean(name)
        title = self.house.title_line
        return clean(f"{name} · {state_words(self._page.revision, title is None or bool(title.revision))}")

    def say_place(self, row: int, count: int) -> None:
        """Say which of the items one stands on, and what the figures of a weight are."""
        if self._page is None:
            return
        title, units = self.page_title(), units_in_columns(self._page.units, self.room)
        self.headed(title, place_in_head(title, units, place_line(row, count), self.app.size.width))

    def on_register_table_opened(self, opened: RegisterTable.Opened) -> None:
        """Open the item's sheet."""
        if self._page is not None:
            self.house.open_item(self._page.lines[opened.at].number)

    def step(self, steps: int) -> None:
        """Ask for the sum so many further."""
        page, open_edits = self._page, self._open
        if steps and page is not None:
            self._ask(lambda reader: neighbour(reader, page, open_edits, steps))
        else:
            self.reload()
