"""An item as a sheet of its own; `n` and `b` go to its neighbours in the list it was opened from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType

from specreg.core.counts import grouped
from specreg.core.model import Kind
from specreg.services.readings import ItemSheet, Reader
from specreg.tui.commands import bindings_on
from specreg.tui.item_paper import item_lines, standing_of
from specreg.tui.pieces import Line, Piece, clean
from specreg.tui.places import Place
from specreg.tui.screens.paper_screen import PaperScreen
from specreg.tui.stepping import Stepping
from specreg.tui.widgets.paper import Paper

FAR = 64
"""How many rows are looked through for the next item, past headings of sections."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A sheet and where the item stands in its list: row from 0 (-1: not in it) of so many."""

    sheet: ItemSheet
    row: int
    count: int


def seen(reader: Reader, number: str, section: str) -> Seen:
    """Read an item's sheet and its place in a list."""
    return Seen(reader.item(number), reader.row_of(section, number), reader.count(section))


def neighbour(reader: Reader, number: str, section: str, steps: int) -> Seen | None:
    """The item so many steps further in a list (back when negative), or the last one there is that way.

    Headings of sections are passed over. None when the item does not stand in the list, or at its end.
    """
    row = reader.row_of(section, number)
    if row < 0:
        return None
    far = FAR + abs(steps)
    first = row + 1 if steps > 0 else max(0, row - far)
    lines = reader.lines(section, first, far if steps > 0 else row - first)
    on_the_way = [one for one in (lines if steps > 0 else reversed(lines)) if one.kind != Kind.SECTION]
    if not on_the_way:
        return None
    return seen(reader, on_the_way[min(abs(steps), len(on_the_way)) - 1].number, section)


def head_right(found: Seen) -> Line:
    """How the item stands since the last issue, and its place in the list."""
    standing = standing_of(found.sheet)
    if found.row < 0:
        return standing
    place = Piece(f"{grouped(found.row + 1)} of {grouped(found.count)}")
    return (*standing, Piece("  ·  ", "frame"), place) if standing else (place,)


class ItemScreen(Stepping, PaperScreen):
    """One item. `section` is the list it was opened from (empty: the whole order); `saw` is told each item shown."""

    PAGE = "item"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("item")

    def __init__(self, number: str, section: str, saw: Callable[[str], None] | None = None) -> None:
        self.number = number
        self._section = section
        self._saw = saw
        self._shown = False
        super().__init__()

    def load(self) -> None:
        """Ask for the sheet."""
        self.headed(self.number)
        self.reload()

    def reload(self) -> None:
        """Ask for it again."""
        number, section = self.number, self._section
        self._ask(lambda reader: seen(reader, number, section))

    def _ask(self, question: Callable[[Reader], Seen | None]) -> None:
        self.ask("item", lambda: question(self.readers.mine()), self._show, self._miss)

    def _show(self, found: Seen | None) -> None:
        self.steps = 0
        if found is None:
            return
        sheet = found.sheet
        same = self.number == sheet.number
        self.number, self._shown = sheet.number, True
        self.headed(clean(f"{sheet.number} {sheet.title}"), head_right(found))
        self.paper.write(lambda width: item_lines(sheet, width), from_the_top=not same)
        self.house.memory.opened(Place("item", sheet.number, sheet.title))
        if self._saw:
            self._saw(sheet.number)

    def _miss(self, sentence: str) -> None:
        self.steps = 0
        if self._shown:
            self.say_trouble(sentence)
        else:
            # An empty sheet would say nothing; the page before says where one is.
            self.house.leave_with(self, sentence)

    def on_paper_opened(self, opened: Paper.Opened) -> None:
        """Open a drawing that the item calls up."""
        self.house.open_drawing(opened.key)

    def step(self, steps: int) -> None:
        """Ask for the item so many further in the same list."""
        number, section = self.number, self._section
        if steps:
            self._ask(lambda reader: neighbour(reader, number, section, steps))
        else:
            self.reload()
