"""The take-off: what the order weighs by section, material and department, and what is still to be chased."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from specreg.core.counts import so_many
from specreg.services.take_off_readings import SumKind, TakeOffPage
from specreg.tui.commands import bindings_on
from specreg.tui.pieces import Line, Piece
from specreg.tui.screens.prefaced_screen import PrefacedScreen
from specreg.tui.screens.table_screen import place_line
from specreg.tui.sources import HeldRows
from specreg.tui.take_off_over import over_the_sums, place_in_head, state_words
from specreg.tui.take_off_rows import (
    KINDS,
    NOTHING,
    SECTIONS,
    VIEWS,
    WIDE,
    ChasedRows,
    sum_columns,
    sum_rows,
    units_in_columns,
)
from specreg.tui.widgets.register_table import RegisterTable

RECKONING: Line = (Piece("reckoning …"),)
"""What stands in the head until the answer is there: of a large order it takes a moment."""


class TakeOffScreen(PrefacedScreen):
    """The sums, or what has no weight or a doubted one, in one of two states; Enter opens the items of a sum, or the
    sheet of an item."""

    PAGE = "take-off"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("take-off")

    def __init__(self) -> None:
        self._open = False
        self._view = self._painted = SECTIONS
        self._page: TakeOffPage | None = None
        self._chased: ChasedRows | None = None
        self._keys: dict[int, str] = {}
        super().__init__(RegisterTable((), HeldRows()))

    # Reading

    def load(self) -> None:
        """Ask for the take-off."""
        self.headed("Take-off", RECKONING)
        self.offer("other", offered=False)
        self.reload()

    def reload(self) -> None:
        """Ask again; the cursor stays where it is."""
        open_edits = self._open
        self.ask("take-off", lambda: self.readers.mine().take_off(open_edits), self._show)

    def _show(self, page: TakeOffPage) -> None:
        self._page = page
        self.offer("other", offered=self._is_issued)
        self.lay_out()

    @property
    def _is_issued(self) -> bool:
        """Whether anything is; asked for as issued, a page without a revision says that nothing is."""
        if self._page and (self._page.revision or not self._open):
            return bool(self._page.revision)
        title = self.house.title_line
        return title is None or bool(title.revision)

    # Painting

    def lay_out(self) -> None:
        """Paint what is said over the rows and the rows of the view, the cursor on the key it had there."""
        page, view, room = self._page, self._view, self.room
        if page is None:
            return
        self._keep_place()
        self._painted = view
        # On a narrow screen the word goes for those that nobody would guess.
        self.offer("open", offered=room >= WIDE)
        self.say_over(over_the_sums(page, room, self.most_lines))
        self.table.empty = NOTHING[view]
        if view in KINDS:
            self._chased = None
            self.table.columns, rows = sum_columns(page, view, room), sum_rows(page, view, room)
        else:
            self._chased = ChasedRows(page, view, room)
            self.table.columns, rows = self._chased.columns, self._chased.rows
        self.table.put(HeldRows(rows), self._keys.get(view, ""))

    def _keep_place(self) -> None:
        if row := self.table.row_at_cursor():
            self._keys[self._painted] = row.key

    def page_title(self) -> str:
        """The page's name, its view and the state it shows."""
        if self._page is None:
            return "Take-off"
        return f"Take-off · {VIEWS[self._view]} · {state_words(self._page.revision, self._is_issued)}"

    def say_place(self, row: int, count: int) -> None:
        """Say how many sums there are, or which of the items one stands on; and what the figures of a weight are."""
        if self._page is None:
            return
        if self._chased is not None:
            place = place_line(self._chased.item_at(row), self._chased.items)
            units = ""
        else:
            place = (Piece(so_many(max(0, count - 1), KINDS[self._painted].value)),)
            units = units_in_columns(self._page.units, self.room)
        title = self.page_title()
        self.headed(title, place_in_head(title, units, place, self.app.size.width))

    # Commands

    def action_view(self, view: int) -> None:
        """Show another view."""
        self._view = view
        self.lay_out()

    def action_other(self) -> None:
        """Show the order as it stands, or as last issued again."""
        if self._page is None or not self._is_issued:
            return
        self._open = not self._open
        self.headed(self.page_title(), RECKONING)
        self.reload()

    def on_register_table_opened(self, opened: RegisterTable.Opened) -> None:
        """Open the items of a sum, or the sheet of an item."""
        page, key = self._page, opened.row.key
        if page is None:
            return
        if self._chased is not None:
            self.house.open_item(key)
        elif key:
            self.house.open_sum(KINDS[self._painted], key, not page.revision, self.saw)
        else:
            self.house.open_sum(SumKind.WHOLE, page.whole.name, not page.revision, self.saw)

    def saw(self, name: str) -> None:
        """Put the cursor on the sum that was looked at last."""
        rows = [row.key for row in sum_rows(self._page, self._painted, self.room)] if self._page else []
        if name in rows:
            self.table.go_to(rows.index(name))
