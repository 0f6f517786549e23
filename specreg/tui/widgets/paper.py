"""A sheet of painted lines that scrolls: the desk, an item's sheet, the help."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import events
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from specreg.tui.pieces import Line
from specreg.tui.widgets.painted import MARGIN, framed, inks_of, strip_of, thumb

Writing = Callable[[int], Sequence[Line]]
"""Gives the lines of a sheet for a width in cells."""


def _nothing(width: int) -> Sequence[Line]:
    """An empty sheet."""
    del width
    return ()


class Paper(ScrollView):
    """Paints what a `Writing` gives for its width; written anew when the width changes."""

    can_focus = False

    def __init__(self) -> None:
        self._writing: Writing = _nothing
        self._lines: Sequence[Line] = ()
        super().__init__()

    def write(self, writing: Writing, from_the_top: bool = True) -> None:
        """Paint another sheet; `from_the_top` is False when the same one is written again."""
        self._writing = writing
        self._write()
        if from_the_top:
            self.scroll_to(y=0, animate=False, force=True)

    def _write(self) -> None:
        self._lines = self._writing(max(0, self.size.width - 2 * MARGIN))
        self.virtual_size = Size(self.size.width, len(self._lines))
        self.refresh()

    @property
    def lines_written(self) -> Sequence[Line]:
        """The lines as they stand."""
        return self._lines

    def move(self, lines: int) -> None:
        """Scroll by so many lines."""
        self.scroll_to(y=self.scroll_offset.y + lines, animate=False, force=True)

    def move_page(self, pages: int) -> None:
        """Scroll by so many screens, one line kept for the eye."""
        self.move(pages * max(1, self.size.height - 1))

    def go_to(self, line: int) -> None:
        """Scroll to a line, as far as there is paper."""
        self.scroll_to(y=line, animate=False, force=True)

    def render_line(self, y: int) -> Strip:
        """Paint one line."""
        top, width = self.scroll_offset.y, self.size.width
        at = top + y
        content = self._lines[at] if at < len(self._lines) else ()
        mark = y in thumb(top, self.size.height, len(self._lines))
        return strip_of(framed(content, width, mark), inks_of(self.app.theme))

    def on_resize(self, event: events.Resize) -> None:
        """Write for the new width."""
        del event
        self._write()
