"""The one table of the program: any number of rows, of which only those on the screen are read.

Rows come in pages from a `RowSource` into a small store of the pages last shown. A page is read at once while the
source is quick, and in a thread when it was found slow; until then its rows say `…`. When the book changes, the table
reads what it shows again in a thread, keeps painting the old rows meanwhile, and keeps the cursor on its key.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from time import perf_counter

from textual import events
from textual.cache import LRUCache
from textual.geometry import Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from specreg.tui.columns import Column, Row, fit, heads_line, row_line
from specreg.tui.loading import Asking, plain_sentence, stopped
from specreg.tui.pieces import Piece
from specreg.tui.sources import HeldRows, RowSource
from specreg.tui.widgets.painted import MARGIN, framed, inks_of, strip_of, thumb

PAGE = 32
"""Rows read together: more than a low screen shows, less than two tall ones."""

PAGES_KEPT = 24
SLOW_SECONDS = 0.03
"""A read that took longer sends the next ones to a thread: the eye notices a key held up by 0.05 s."""

WAITING = Row("", ((), (Piece("…", "quiet"),)))
"""What stands in a row that is being read."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What a thread has read for the table: how many rows, where the cursor's key stands, the pages on the screen."""

    source: RowSource
    count: int
    row: int
    pages: dict[int, Sequence[Row]]


class RegisterTable(Asking, ScrollView):
    """A table over a `RowSource`, with a row of column heads at the top and a cursor."""

    can_focus = False

    class Moved(Message):
        """The cursor stands in another row, or the number of rows has changed. `row` counts from 0."""

        def __init__(self, row: int, count: int) -> None:
            self.row = row
            self.count = count
            super().__init__()

        def can_replace(self, message: Message) -> bool:
            """Only the last of several is wanted."""
            return isinstance(message, RegisterTable.Moved)

    class Opened(Message):
        """The row under the cursor was opened."""

        def __init__(self, row: Row, at: int) -> None:
            self.row = row
            self.at = at
            super().__init__()

    def __init__(self, columns: Sequence[Column], source: RowSource | None = None, empty: str = "") -> None:
        self.columns = tuple(columns)
        self._source: RowSource = source or HeldRows()
        self.empty = empty
        self._pages: LRUCache[int, Sequence[Row]] = LRUCache(PAGES_KEPT)
        self._wanted: set[int] = set()
        self._direct = True
        self.loaded = False
        self.count = 0
        self.cursor = 0
        super().__init__()

    # Filling

    def put(self, source: RowSource, key: str = "") -> None:
        """Show rows that are held ready, the cursor on a key or in the first row."""
        self.forget("rows")
        self._accept(Reading(source, source.count(), max(0, source.row_of(key)), {}), keep_place=False)

    def load(self, source: RowSource, key: str = "") -> None:
        """Show another source, read in a thread, with the cursor on a key or in the first row."""
        self._source = source
        self._read(source, key, 0, 0, keep_place=False)

    def reload(self) -> None:
        """Read again what is shown, because the book has changed; the cursor stays on its key."""
        row = self.row_at_cursor()
        self._read(self._source, row.key if row else "", self.cursor, self.cursor - self._top, keep_place=True)

    def _read(self, source: RowSource, key: str, otherwise: int, above: int, keep_place: bool) -> None:
        """Ask for the count, the cursor's row and the rows around it; `above` rows stand over the cursor."""
        shown = max(self._shown, 1)

        def question() -> Reading:
            count = source.count()
            found = source.row_of(key) if key else -1
            row = min(max(found if found >= 0 else otherwise, 0), max(count - 1, 0))
            first = max(0, min(row - above, count - shown))
            wanted = range(first // PAGE, (first + shown - 1) // PAGE + 1)
            pages = {page: source.rows(page * PAGE, PAGE) for page in wanted if not stopped() and page * PAGE < count}
            return Reading(source, count, row, pages)

        self.ask("rows", question, partial(self._accept, keep_place=keep_place))

    def _accept(self, reading: Reading, keep_place: bool) -> None:
        above = self.cursor - self._top
        self._source, self.count = reading.source, reading.count
        self._pages.clear()
        self._wanted.clear()
        self.forget("pages")
        for page, rows in reading.pages.items():
            self._pages[page] = rows
        self.loaded = True
        self.virtual_size = Size(self.size.width, self.count + 1)
        self.cursor = min(reading.row, max(self.count - 1, 0))
        if keep_place:
            self.scroll_to(y=max(0, self.cursor - above), animate=False, force=True)
        self._show_cursor()
        self.refresh()
        self.post_message(self.Moved(self.cursor, self.count))

    # Moving

    @property
    def _shown(self) -> int:
        """How many rows have room."""
        return self.size.height - 1

    @property
    def _top(self) -> int:
        """The first row on the screen."""
        return self.scroll_offset.y

    def move(self, rows: int) -> None:
        """Move the cursor down by so many rows, up when negative."""
        self.go_to(self.cursor + rows)

    def move_page(self, pages: int) -> None:
        """Move the cursor by so many screens."""
        self.move(pages * max(1, self._shown - 1))

    def go_to(self, row: int) -> None:
        """Put the cursor in a row, or the nearest there is, and bring it on the screen."""
        self.cursor = min(max(row, 0), max(self.count - 1, 0))
        self._show_cursor()
        self.refresh()
        self.post_message(self.Moved(self.cursor, self.count))

    def _show_cursor(self) -> None:
        if self._shown <= 0:
            return
        if self.cursor < self._top:
            self.scroll_to(y=self.cursor, animate=False, force=True)
        elif self.cursor >= self._top + self._shown:
            self.scroll_to(y=self.cursor - self._shown + 1, animate=False, force=True)

    def row_at_cursor(self) -> Row | None:
        """The row under the cursor, read if need be; None in an empty table or while it is being read."""
        row = self._row(self.cursor) if self.count else None
        return None if row is WAITING else row

    def open(self) -> None:
        """Open the row under the cursor."""
        if row := self.row_at_cursor():
            self.post_message(self.Opened(row, self.cursor))

    # Reading pages

    def _row(self, at: int) -> Row:
        page, offset = divmod(at, PAGE)
        rows = self._pages.get(page)
        if rows is None:
            rows = self._page_now(page) if self._direct else self._page_later(page)
        return rows[offset] if offset < len(rows) else WAITING

    def _page_now(self, page: int) -> Sequence[Row]:
        started = perf_counter()
        try:
            rows = self._source.rows(page * PAGE, PAGE)
        except Exception as error:  # a reader's trouble must not stop the painting
            self.say_trouble(plain_sentence(error))
            rows = ()
        self._pages[page] = rows
        self._direct = perf_counter() - started < SLOW_SECONDS
        return rows

    def _page_later(self, page: int) -> Sequence[Row]:
        if page not in self._wanted:
            self._wanted.add(page)
            self.call_later(self._ask_for_pages)
        return ()

    def _ask_for_pages(self) -> None:
        """Ask for the pages that are wanted; only those on the screen are read, the rest was scrolled past."""
        on_screen = range(self._top // PAGE, (self._top + self._shown) // PAGE + 1)
        pages = sorted(page for page in self._wanted if page in on_screen)
        source = self._source
        if not pages:
            self._wanted.clear()
            return

        def question() -> dict[int, Sequence[Row]]:
            return {page: source.rows(page * PAGE, PAGE) for page in pages if not stopped()}

        self.ask("pages", question, self._take_pages, partial(self._miss_pages, pages))

    def _take_pages(self, pages: dict[int, Sequence[Row]]) -> None:
        for page, rows in pages.items():
            self._pages[page] = rows
        self._wanted.clear()
        self.refresh()

    def _miss_pages(self, pages: list[int], sentence: str) -> None:
        """Leave the rows empty that could not be read, so that they are not asked for again at every painting."""
        self._take_pages(dict.fromkeys(pages, ()))
        self.say_trouble(sentence)

    # Painting

    @property
    def widths(self) -> tuple[int, ...]:
        """The widths of the columns as painted, 0 for one left out."""
        return fit(self.columns, max(0, self.size.width - 2 * MARGIN))

    def render_line(self, y: int) -> Strip:
        """Paint one line of the widget: the heads, then the rows from where the table is scrolled to."""
        inks, width = inks_of(self.app.theme), self.size.width
        if y == 0:
            return strip_of(framed(heads_line(self.columns, self.widths), width), inks)
        at = self._top + y - 1
        mark = y - 1 in thumb(self._top, self._shown, self.count)
        if at >= self.count:
            said = (Piece(f"  {self.empty}", "quiet"),) if at == 0 and self.loaded and self.empty else ()
            return strip_of(framed(said, width, mark), inks)
        row = self._row(at)
        pieces = framed(row_line(row, self.columns, self.widths), width, mark)
        if at != self.cursor:
            return strip_of(pieces, inks, row.role)
        left, *inner, right = pieces
        return Strip.join([strip_of((left,), inks), strip_of(tuple(inner), inks, row.role, True),
                           strip_of((right,), inks)])  # fmt: skip

    def on_resize(self) -> None:
        """Keep the cursor on the screen and the table exactly as wide as its widget."""
        self.virtual_size = Size(self.size.width, self.count + 1)
        self._show_cursor()
        self.refresh()

    def on_click(self, event: events.Click) -> None:
        """Put the cursor where the mouse is; a click on the cursor's row, or a double click, opens it."""
        at = self._top + event.y - 1
        if event.y < 1 or at >= self.count:
            return
        opens = at == self.cursor or event.chain > 1
        self.go_to(at)
        if opens:
            self.open()
