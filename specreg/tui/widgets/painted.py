"""The base of all that is painted: turns lines of pieces into strips in the colours of the theme, and draws the frame.

A painted widget fills the width of the screen and draws its own share of the frame: a line down the left, a line down
the right which thickens where one stands in a long list.
"""

from __future__ import annotations

from abc import abstractmethod
from functools import lru_cache

from rich.segment import Segment
from textual.strip import Strip
from textual.widget import Widget

from specreg.tui.pieces import Line, Piece, clean, fitted
from specreg.tui.themes import LOOKS, Inks

SIDE, THICK = "│", "┃"
MARGIN = 2
"""Cells on each side of the content: the frame and a space."""


@lru_cache(maxsize=4)
def inks_of(theme: str) -> Inks:
    """The styles of a theme by name; an unknown theme is painted plain."""
    return Inks(LOOKS.get(theme) or LOOKS["plain"])


def strip_of(pieces: Line, inks: Inks, role: str = "ink", on_cursor: bool = False) -> Strip:
    """A strip of pieces, those without role in the role given."""
    return Strip([Segment(clean(text), inks(own or role, on_cursor)) for text, own in pieces if text])


def framed(content: Line, width: int, mark: bool = False) -> Line:
    """A line inside the frame, exactly `width` cells wide; `mark` thickens the right side."""
    inner = fitted(content, max(0, width - 2 * MARGIN))
    side = Piece(THICK if mark else SIDE, "frame")
    return (Piece(SIDE, "frame"), Piece(" "), *inner, Piece(" "), side)


def thumb(first: int, shown: int, count: int) -> range:
    """Which lines of the right side are thick: empty when everything is on the screen."""
    if count <= shown or shown <= 0:
        return range(0)
    size = max(1, shown * shown // count)
    top = (shown - size) * first // max(1, count - shown)
    return range(top, top + size)


class Painted(Widget):
    """A widget that paints lines of pieces; a subclass says which line stands in row y."""

    can_focus = False

    @property
    def inks(self) -> Inks:
        """The styles of the theme that is on."""
        return inks_of(self.app.theme)

    @abstractmethod
    def line_at(self, y: int) -> Line:
        """The line in row y of the widget, exactly as wide as the widget."""

    def render_line(self, y: int) -> Strip:
        """Paint one row."""
        return strip_of(self.line_at(y), self.inks).adjust_cell_length(self.size.width, self.inks("ink"))


class PaintedLine(Painted):
    """A painted widget of a single line."""

    @abstractmethod
    def the_line(self) -> Line:
        """The line, exactly as wide as the widget."""

    def line_at(self, y: int) -> Line:
        """The line in the first row, nothing under it."""
        return () if y else self.the_line()
