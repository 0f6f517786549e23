"""The top line of the frame: what the page is called, and on the right where one stands in it."""

from __future__ import annotations

from textual.reactive import reactive

from specreg.tui.pieces import Line, Piece, clean, cut, cut_line, width_of
from specreg.tui.widgets.painted import PaintedLine


def head_line(title: str, right: Line, width: int) -> Line:
    """`┌ Title ───── right ┐`, exactly `width` cells; the title gives way, then the right part."""
    said = cut_line(right, max(0, width - 12))
    tail = width_of(said) + 2 if said else 0
    name = cut(clean(title), max(0, width - 6 - tail))
    rule = "─" * max(0, width - 4 - width_of([Piece(name)]) - tail)
    ending = (Piece(" "), *said, Piece(" ")) if said else ()
    return (Piece("┌ ", "frame"), Piece(name, "strong"), Piece(" "), Piece(rule, "frame"), *ending, Piece("┐", "frame"))


class Head(PaintedLine):
    """The frame's top line."""

    title: reactive[str] = reactive("")
    right: reactive[Line] = reactive(())

    def the_line(self) -> Line:
        """What it says."""
        return head_line(self.title, self.right, self.size.width)
