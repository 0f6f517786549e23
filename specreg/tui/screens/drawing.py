"""A drawing as a sheet of its own; `n` and `b` go to its neighbours on the drawing list."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from textual.binding import BindingType

from specreg.core.counts import grouped
from specreg.services.drawing_readings import DrawingPage
from specreg.services.readings import Reader
from specreg.tui.commands import bindings_on
from specreg.tui.drawing_paper import drawing_parts, title_of
from specreg.tui.drawing_rows import numbers_of
from specreg.tui.pieces import Piece, clean
from specreg.tui.places import Place
from specreg.tui.screens.paper_screen import PaperScreen
from specreg.tui.stepping import Stepping
from specreg.tui.widgets.paper import Paper


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing and where it stands on the list: place from 0 (-1: not on this order's list) of so many."""

    page: DrawingPage
    place: int
    count: int


def drawn(reader: Reader, number: str, steps: int = 0) -> Drawn:
    """Read a drawing, or the one so many places further on the list (back when negative), as far as the list goes."""
    page = reader.drawing(number)
    numbers = numbers_of(reader.drawings())
    place = numbers.index(page.number) if page.number in numbers else -1
    if place >= 0 and steps:
        place = min(max(place + steps, 0), len(numbers) - 1)
        page = reader.drawing(numbers[place])
    return Drawn(page, place, len(numbers))


class DrawingScreen(Stepping, PaperScreen):
    """One drawing, by its number or that of one of its sheets; Enter opens an item that calls it up. `saw` is told each
    drawing shown."""

    PAGE = "drawing"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("drawing")

    def __init__(self, number: str, saw: Callable[[str], None] | None = None) -> None:
        self.number = number
        self._saw = saw
        self._shown = False
        super().__init__()

    def load(self) -> None:
        """Ask for the drawing."""
        self.headed(clean(self.number))
        self.reload()

    def reload(self) -> None:
        """Ask for it again."""
        number = self.number
        self._ask(lambda reader: drawn(reader, number))

    def _ask(self, question: Callable[[Reader], Drawn]) -> None:
        self.ask("drawing", lambda: question(self.readers.mine()), self._show, self._miss)

    def _show(self, found: Drawn) -> None:
        self.steps = 0
        page, today = found.page, date.today()
        same = self._shown and self.number == page.number
        self.number, self._shown = page.number, True
        title = title_of(page)
        place = f"{grouped(found.place + 1)} of {grouped(found.count)}" if found.place >= 0 else "not on the list"
        self.headed(clean(f"{page.number} {title}"), (Piece(place),))
        self.paper.write(lambda width: drawing_parts(page, today, width), from_the_top=not same)
        self.house.memory.opened(Place("drawing", page.number, title))
        if self._saw:
            self._saw(page.number)

    def _miss(self, sentence: str) -> None:
        self.steps = 0
        if self._shown:
            self.say_trouble(sentence)
        else:
            # An empty sheet would say nothing; the page before says where one is.
            self.house.leave_with(self, sentence)

    def on_paper_opened(self, opened: Paper.Opened) -> None:
        """Open an item that calls the drawing up."""
        self.house.open_item(opened.key)

    def step(self, steps: int) -> None:
        """Ask for the drawing so many further on the list."""
        number = self.number
        self._ask(lambda reader: drawn(reader, number, steps))
