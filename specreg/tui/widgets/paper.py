"""A sheet of painted lines that scrolls: the desk, an item's sheet, the help; passages of it may open something."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import events
from textual.message import Message
from textual.strip import Strip

from specreg.tui.passages import Laid, Part, Place
from specreg.tui.pieces import Line
from specreg.tui.widgets.painted import MARGIN, Painted, framed, strip_of

Writing = Callable[[int], Sequence[Part]]
"""Gives the parts of a sheet for a width in cells: lines, and passages that open something."""

WHEEL_LINES = 3
"""Lines that one notch of the mouse's wheel scrolls."""


def _nothing(width: int) -> Sequence[Part]:
    """An empty sheet."""
    del width
    return ()


class Paper(Painted):
    """Paints what a `Writing` gives for its width; written anew when the width changes.

    Where passages open something there is a cursor on one of them. It is brought along when the sheet is scrolled, so
    that it stands on the screen whenever a passage does.
    """

    class Moved(Message):
        """The cursor stands on another passage, or the sheet was written. `key` is empty where none is on it."""

        def __init__(self, key: str) -> None:
            self.key = key
            super().__init__()

    class Opened(Message):
        """The passage under the cursor was opened."""

        def __init__(self, key: str) -> None:
            self.key = key
            super().__init__()

    def __init__(self) -> None:
        self._writing: Writing = _nothing
        self._laid = Laid()
        self._top: Place = (0, 0)
        self._rows: tuple[Place, ...] = ()
        self._thumb = range(0)
        self._cursor = -1
        self.written = False
        super().__init__()

    # Writing

    def write(self, writing: Writing, from_the_top: bool = True) -> None:
        """Paint another sheet; `from_the_top` is False when the same one is written again: then the cursor keeps its
        key and its row on the screen."""
        self._writing = writing
        self.written = True
        self._write(from_the_top)

    def _write(self, from_the_top: bool = False) -> None:
        key, row = self._laid.key(self._cursor), self._cursor_row
        inner = self._rows[row][1] if row >= 0 else 0
        self._laid = Laid(self._writing(max(0, self.size.width - 2 * MARGIN)))
        top: Place = (0, 0) if from_the_top else self._top
        self._cursor = -1 if from_the_top else self._laid.place_of(key)
        if self._cursor >= 0 and row >= 0:
            size = len(self._laid.lines(self._cursor))
            top = self._laid.moved((self._cursor, min(inner, size - 1)), -row)
        self._stand(top)
        self.post_message(self.Moved(self.key))

    def on_resize(self, event: events.Resize) -> None:
        """Write for the new width."""
        del event
        self._write()

    # Where one stands

    @property
    def key(self) -> str:
        """What the passage under the cursor opens; empty where no passage is on the screen."""
        return self._laid.key(self._cursor) if self._cursor_row >= 0 else ""

    @property
    def _cursor_row(self) -> int:
        """The row of the screen in which the cursor's passage begins, or is first seen; -1 when it is not there."""
        return next((row for row, (at, _) in enumerate(self._rows) if at == self._cursor), -1)

    def _on_screen(self, at: int) -> range:
        """The lines of a part that are on the screen."""
        lines = [inner for one, inner in self._rows if one == at]
        return range(lines[0], lines[-1] + 1) if lines else range(0)

    def _stand(self, top: Place) -> None:
        """Scroll to a place, as far as there is paper, and bring the cursor along."""
        height = self.size.height
        self._top = min(self._laid.moved(top, 0), self._laid.lowest(height))
        self._rows = self._laid.rows(self._top, height)
        self._thumb = self._laid.thumb(self._top, height)
        if self._cursor_row < 0 and (there := self._passages_on_screen()):
            self._cursor = there[-1] if self._cursor > there[-1] else there[0]
        self.refresh()

    def _passages_on_screen(self) -> list[int]:
        return [at for at in dict.fromkeys(at for at, _ in self._rows) if self._laid.key(at)]

    def _go(self, cursor: int, top: Place) -> None:
        before = self.key
        self._cursor = cursor
        self._stand(top)
        if self.key != before:
            self.post_message(self.Moved(self.key))

    # Moving

    def move(self, step: int) -> None:
        """One line down (1) or up (-1): to the next passage where one is near, else the sheet by a line.

        Near is what is on the screen or follows at once. A passage that goes beyond the screen is read to its end, and
        what stands between passages too.
        """
        to = self._laid.passage_from(self._cursor, step)
        if self._cursor >= 0 and to >= 0 and self._read_to_its_end(step):
            if self._on_screen(to):
                self._go(to, self._top_to_show(to, self._top))
                return
            if to == self._cursor + step:
                self._go(to, self._top_to_show(to, self._laid.moved(self._top, step)))
                return
        self._go(self._cursor, self._laid.moved(self._top, step))

    def _read_to_its_end(self, step: int) -> bool:
        """Whether the passage under the cursor does not go beyond the screen that way."""
        seen = self._on_screen(self._cursor)
        return not seen or (seen.stop == len(self._laid.lines(self._cursor)) if step > 0 else seen.start == 0)

    def jump(self, step: int) -> None:
        """To the next passage (1) or the one before (-1), wherever it is."""
        to = self._laid.passage_from(self._cursor, step)
        if to >= 0:
            self._go(to, self._top_to_show(to, (to, 0)))

    def _top_to_show(self, at: int, otherwise: Place) -> Place:
        """The least scrolled top with all of a part on the screen; `otherwise` where it is too high for that."""
        size, height = len(self._laid.lines(at)), self.size.height
        if len(self._on_screen(at)) == size:
            return self._top
        if size > height:
            return otherwise
        return (at, 0) if (at, 0) < self._top else self._laid.moved((at, size - 1), 1 - height)

    def move_page(self, pages: int) -> None:
        """Scroll by so many screens, one line kept for the eye; at an end the cursor goes to the last passage there."""
        top = self._laid.moved(self._top, pages * max(1, self.size.height - 1))
        if min(top, self._laid.lowest(self.size.height)) == self._top:
            self._to_end(pages)
        else:
            self._go(self._cursor, top)

    def to_top(self) -> None:
        """To the first line."""
        self._go(self._cursor, (0, 0))
        self._to_end(-1)

    def to_bottom(self) -> None:
        """To the last line."""
        self._go(self._cursor, self._laid.lowest(self.size.height))
        self._to_end(1)

    def _to_end(self, way: int) -> None:
        """The cursor to the last passage on the screen, or the first."""
        if there := self._passages_on_screen():
            self._go(there[-1] if way > 0 else there[0], self._top)

    def open(self) -> None:
        """Open the passage under the cursor."""
        if self.key:
            self.post_message(self.Opened(self.key))

    # Painting and the mouse

    def line_at(self, y: int) -> Line:
        """One line in its frame."""
        content = self._laid.line(self._rows[y]) if y < len(self._rows) else ()
        return framed(content, self.size.width, y in self._thumb)

    def render_line(self, y: int) -> Strip:
        """Paint one line; the first line seen of the passage under the cursor as in the tables."""
        if y != self._cursor_row:
            return super().render_line(y)
        left, *inner, right = self.line_at(y)
        inks = self.inks
        return Strip.join([strip_of((left,), inks), strip_of(tuple(inner), inks, on_cursor=True),
                           strip_of((right,), inks)])  # fmt: skip

    def on_click(self, event: events.Click) -> None:
        """Open a passage that is clicked on its first line; on another of its lines put the cursor there."""
        at, inner = self._rows[event.y] if 0 <= event.y < len(self._rows) else (-1, 0)
        if not self._laid.key(at):
            return
        event.stop()
        self._go(at, self._top)
        if inner == 0:
            self.open()

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Scroll on."""
        event.stop()
        self._go(self._cursor, self._laid.moved(self._top, WHEEL_LINES))

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Scroll back."""
        event.stop()
        self._go(self._cursor, self._laid.moved(self._top, -WHEEL_LINES))
