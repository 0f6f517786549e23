"""A department's share: its lines as issued or as they stand, and what changed for it since its last extract."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType

from specreg.services.department_readings import DepartmentsPage
from specreg.services.readings import Reader
from specreg.tui.commands import bindings_on
from specreg.tui.pieces import Line, Piece, clean, width_of
from specreg.tui.screens.prefaced_screen import PrefacedScreen
from specreg.tui.screens.table_screen import place_line
from specreg.tui.share_rows import Share, ShareRows, share_of
from specreg.tui.share_words import closing, extract_words, head_of, preface
from specreg.tui.stepping import Stepping
from specreg.tui.widgets.register_table import RegisterTable

CHANGED_ONLY = 2
"""The view of what changed for the department; the other one is every line."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A share, and the departments it is one of."""

    share: Share
    page: DepartmentsPage


def shown(reader: Reader, page: DepartmentsPage, code: str, open_edits: bool) -> Shown:
    """Read the share of a department. Raises NotFound."""
    return Shown(share_of(reader.share(code, open_edits), {one.name: one.code for one in page.departments}), page)


def neighbour(reader: Reader, page: DepartmentsPage, code: str, open_edits: bool, steps: int) -> Shown:
    """The share so many departments further (back when negative), or the last one there is that way. Raises
    NotFound."""
    codes = [one.code for one in page.departments]
    at = codes.index(code) + steps if code in codes else 0
    return shown(reader, page, codes[min(max(at, 0), len(codes) - 1)] if codes else code, open_edits)


class ShareScreen(Stepping, PrefacedScreen):
    """The share of one department; Enter opens an item's sheet, `n` and `b` go to the next and former department."""

    PAGE = "share"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("share")

    def __init__(self, code: str, open_edits: bool) -> None:
        self.code = code
        self._open = open_edits
        self._changed_only = False
        self._shown: Shown | None = None
        self._rows: ShareRows | None = None
        super().__init__(RegisterTable(()))

    # Reading

    def load(self) -> None:
        """Ask for the share."""
        self.headed(self.code)
        self.offer("extract", offered=False)
        self.reload()

    def reload(self) -> None:
        """Ask for it again; the cursor stays on its line."""
        code, open_edits = self.code, self._open
        self._ask(lambda reader: shown(reader, reader.departments(open_edits), code, open_edits))

    def _ask(self, question: Callable[[Reader], Shown]) -> None:
        self.ask("share", lambda: question(self.readers.mine()), self._show, self._miss)

    def _show(self, found: Shown) -> None:
        self.steps = 0
        extract = found.share.extract
        is_other = self._shown is not None and extract.department != self.code
        self._shown, self.code = found, extract.department
        self.house.memory.share = self.code
        self.offer("extract", offered=self.code in found.page.may_extract and self.house.doer is not None)
        self.lay_out(from_the_top=is_other)

    def _miss(self, sentence: str) -> None:
        self.steps = 0
        if self._shown:
            self.say_trouble(sentence)
        else:
            self.house.leave_with(self, sentence)

    # Painting

    def lay_out(self, from_the_top: bool = False) -> None:
        """Paint what is said over the share and its rows; the cursor stays on its line, or where that stood."""
        if self._shown is None:
            return
        share = self._shown.share
        extract = share.extract
        said, in_full = preface(extract, self.room, self.most_lines)
        self.say_over(said)
        changed = any(one.sign for one in share.lines)
        is_empty = not (changed if self._changed_only else share.lines)
        ending = closing(extract, self._changed_only, is_empty, not in_full)
        rows = ShareRows(share, self._changed_only, self.room, ending)
        row = None if from_the_top else self.table.row_at_cursor()
        number = self._rows.number_at(self.table.cursor) if self._rows else ""
        self._rows = rows
        self.table.columns = rows.columns
        self.table.put(rows)
        if row is not None and number:
            self.table.go_to(rows.row_near(row.key, number))

    def page_title(self) -> str:
        """Department, state and view."""
        return clean(head_of(self._shown.share.extract, self._changed_only)) if self._shown else self.code

    def say_place(self, row: int, count: int) -> None:
        """Say which of the lines one stands on, and the extract where there is room."""
        del count
        if self._shown is None or self._rows is None:
            return
        lines = self._rows.lines
        place = place_line(min(self._rows.line_at(row), lines - 1), lines)
        made = extract_words(self._shown.share.extract)
        right: Line = (*made, Piece("  ·  ", "frame"), *place) if made else place
        title = self.page_title()
        fits = width_of((Piece(title),)) + width_of(right) + 8 <= self.app.size.width
        self.headed(title, right if fits else place)

    # Commands

    def action_view(self, view: int) -> None:
        """Show every line, or only what changed; the cursor stays on its line where that is listed."""
        self._changed_only = view == CHANGED_ONLY
        self.lay_out()

    def on_register_table_opened(self, opened: RegisterTable.Opened) -> None:
        """Open the item's sheet."""
        number = self._rows.number_at(opened.at) if self._rows else ""
        if number:
            self.house.open_item(number)

    def step(self, steps: int) -> None:
        """Ask for the share so many departments further."""
        code, open_edits = self.code, self._open
        page = self._shown.page if self._shown else None
        if steps:
            self._ask(lambda reader: neighbour(reader, page or reader.departments(open_edits), code, open_edits, steps))
        else:
            self.reload()

    def action_extract(self) -> None:
        """Ask how the extract of this department is to be made."""
        self.when_loaded(self._extract)

    def _extract(self) -> None:
        if self._shown is not None:
            from specreg.tui.screens.extract_dialog import offer_extract

            offer_extract(self.house, self._shown.page, self.code)
