"""The base of pages that say something in painted lines over their table."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterable, Sequence

from textual import events
from textual.widget import Widget

from specreg.tui.pieces import Line
from specreg.tui.screens.sheet_screen import TALL
from specreg.tui.screens.table_screen import TableScreen
from specreg.tui.widgets.key_line import KeyLine
from specreg.tui.widgets.painted import MARGIN, Painted, framed

LEAST_ROWS = 17
"""Rows that the table keeps on a screen of 24 lines and more, whatever is said over it."""

LOW = 24


class Preface(Painted):
    """The lines over a table."""

    def __init__(self) -> None:
        self._lines: Sequence[Line] = ((),)
        super().__init__()

    def say(self, lines: Sequence[Line]) -> None:
        """Paint other lines; there is always one, so that the table does not jump when they come."""
        self._lines = lines or ((),)
        self.styles.height = len(self._lines)
        self.refresh()

    def line_at(self, y: int) -> Line:
        """One of the lines."""
        return framed(self._lines[y] if y < len(self._lines) else (), self.size.width)


class PrefacedScreen(TableScreen):
    """A table with lines over it, both laid out anew when the screen takes another size."""

    def body(self) -> Iterable[Widget]:
        """The lines, the table."""
        yield Preface()
        yield self.table

    @abstractmethod
    def lay_out(self) -> None:
        """Paint what is held for the size of the screen; nothing while nothing is held."""

    def say_over(self, lines: Sequence[Line]) -> None:
        """Paint the lines over the table."""
        self.query_one(Preface).say(lines)

    def offer(self, name: str, offered: bool) -> None:
        """Print a command in the key line or leave it out."""
        line = self.query_one(KeyLine)
        line.without = line.without - {name} if offered else line.without | {name}

    @property
    def room(self) -> int:
        """Cells between the sides of the frame."""
        return max(1, self.app.size.width - 2 * MARGIN)

    @property
    def most_lines(self) -> int:
        """Lines that may stand over the table."""
        height = self.app.size.height
        # Head, column heads and key line, and the title block with its rule.
        taken = 3 + (4 if height >= TALL else 2)
        return max(2 if height >= LOW else 3, height - taken - LEAST_ROWS)

    def on_resize(self, event: events.Resize) -> None:
        """Lay out anew; the base class takes the height."""
        super().on_resize(event)
        self.lay_out()
