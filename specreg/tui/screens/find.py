"""Find: a line that is typed in, and under it what was found, painted while one types.

The page itself takes every key, in the order typed and from the first moment, so that none is lost. A search starts at
once when the last key is a while ago, else a moment after the last of several; a newer one stops the older.
"""

from __future__ import annotations

from collections.abc import Iterable
from time import monotonic
from typing import ClassVar

from textual.binding import BindingType
from textual.timer import Timer
from textual.widget import Widget

from specreg.core.counts import grouped
from specreg.services.readings import Found, Hit
from specreg.tui.commands import bindings_on
from specreg.tui.hit_rows import COLUMNS, PLACE_COLUMNS, hit_key, hit_rows, place_rows, said_of
from specreg.tui.loading import stopped
from specreg.tui.pieces import Line, Piece, cut_line, wrapped_line
from specreg.tui.places import Place
from specreg.tui.screens.table_screen import TableScreen, place_line
from specreg.tui.sources import HeldRows
from specreg.tui.typing_keys import TypingKeys
from specreg.tui.typing_line import Typing, typing_pieces
from specreg.tui.widgets.painted import MARGIN, Painted, PaintedLine, framed
from specreg.tui.widgets.register_table import RegisterTable

PAUSE = 0.06
"""Seconds without a key after which a burst of typing is searched for."""

LEAST_ROWS = 10
"""Rows of the screen that a long notice leaves free: the frame, what is typed, and a few of what was found."""

FIRST_HITS = 100
MORE_TIMES = 5
"""Hits asked for at first, and how many times more when the cursor comes to the last of them."""


class FindLine(PaintedLine):
    """The line that is typed in."""

    def __init__(self, typing: Typing) -> None:
        self._typing = typing
        super().__init__()

    def say(self, typing: Typing) -> None:
        """Paint what is typed now."""
        self._typing = typing
        self.refresh()

    def the_line(self) -> Line:
        """What it says."""
        room = self.size.width - 2 * MARGIN - 7
        return framed((Piece("Find ▸ ", "strong"), *typing_pieces(self._typing, room)), self.size.width)


class Notice(Painted):
    """What stands between what is typed and what was found: how many, how they were found, what a row is.

    One line, or as many as the words need while the table keeps `LEAST_ROWS`.
    """

    def __init__(self) -> None:
        self.said: Line = ()
        self._lines: tuple[Line, ...] = ((),)
        super().__init__()

    def say(self, said: Line) -> None:
        """Paint other words."""
        self.said = said
        self._lay_out()

    def _lay_out(self) -> None:
        screen = self.app.size
        room = max(1, screen.width - 2 * MARGIN)
        lines = wrapped_line(self.said, room)
        most = max(1, screen.height - LEAST_ROWS)
        if len(lines) > most:
            lines = (*lines[: most - 1], cut_line((*lines[most - 1], Piece(" " * room)), room))
        self._lines = lines
        self.styles.height = len(lines)
        self.refresh()

    def on_resize(self) -> None:
        """Wrap anew."""
        self.call_after_refresh(self._lay_out)

    def line_at(self, y: int) -> Line:
        """One of the lines."""
        return framed(self._lines[y] if y < len(self._lines) else (), self.size.width)


class FindScreen(TypingKeys, TableScreen):
    """The find page."""

    PAGE = "find"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("find")

    def __init__(self, typed: str) -> None:
        self.typing = Typing(typed).left_alone()
        self.found = Found("", 0, ())
        self._limit = FIRST_HITS
        self._timer: Timer | None = None
        self._last_key = 0.0
        self._answered = ""
        self._open_when_found = False
        super().__init__(RegisterTable(PLACE_COLUMNS, HeldRows(), empty="Nothing was opened yet."))

    def body(self) -> Iterable[Widget]:
        """The line, what is said of it, the hits."""
        yield FindLine(self.typing)
        yield Notice()
        yield self.table

    def page_title(self) -> str:
        """The page's name."""
        return "Find"

    def load(self) -> None:
        """Search for what was typed at the last visit, or offer the places lately opened."""
        self.headed("Find")
        self.table.loaded = True
        self._search()

    def reload(self) -> None:
        """Search again; the cursor stays on its hit."""
        self._search(keep_cursor=True)

    # Typing

    def take(self, typing: Typing) -> None:
        """Paint what is typed, and search when the text is another."""
        asks = typing.text != self.typing.text
        self.typing = typing
        self.house.memory.typed = typing.text
        self.query_one(FindLine).say(typing)
        if not asks:
            return
        self._limit = FIRST_HITS
        self._open_when_found = False
        now = monotonic()
        rested, self._last_key = now - self._last_key >= PAUSE, now
        # In a burst the timer is left running, so that something is painted while a key is held down.
        if rested and not self._timer:
            self._search()
        elif not self._timer:
            self._timer = self.set_timer(PAUSE, self._search)

    # Searching

    @property
    def searching(self) -> bool:
        """Whether what is typed has not been answered yet."""
        return self.typing.text.strip() != self._answered

    def _search(self, keep_cursor: bool = False) -> None:
        if self._timer:
            self._timer.stop()
            self._timer = None
        text, limit = self.typing.text.strip(), self._limit
        if not text:
            self.forget("find")
            self._offer_places()
            return
        self.ask(
            "find",
            lambda: self.readers.mine().find(text, limit, stopped),
            lambda found: self._show(text, found, keep_cursor),
            lambda sentence: self._miss(text, sentence),
        )

    def _show(self, text: str, found: Found, keep_cursor: bool) -> None:
        self._answered = text
        row = self.table.row_at_cursor() if keep_cursor else None
        self.found = found
        self.table.columns = COLUMNS
        self.table.empty = "Nothing found. Try less of the word, or another."
        self.table.put(HeldRows(hit_rows(found)), row.key if row else "")
        self._notice(self._how_found())
        if self._open_when_found and not self.searching:
            self._open_when_found = False
            self.table.open()

    def _miss(self, text: str, sentence: str) -> None:
        self._answered = text
        self._open_when_found = False
        self.say_trouble(sentence)

    def _how_found(self) -> Line:
        found, near = self.found, sum(1 for hit in self.found.hits if hit.near)
        if not found.hits:
            return ()
        if near == len(found.hits):
            return (Piece("≈ nothing is exactly this; these come near it", "near"),)
        more = found.count - len(found.hits)
        if more > 0:
            return (Piece(f"the first {grouped(len(found.hits))}; more come at the end of the list", "quiet"),)
        return ()

    def _offer_places(self) -> None:
        self._answered = ""
        self.found = Found("", 0, ())
        self.table.columns = PLACE_COLUMNS
        self.table.empty = "Nothing was opened yet."
        self.table.put(HeldRows(place_rows(self.house.memory.places)))
        self._notice((Piece("a number, half a number, or words; half words and misspelt ones do", "quiet"),))

    def _notice(self, said: Line) -> None:
        self.query_one(Notice).say(said)

    def say_place(self, row: int, count: int) -> None:
        """Write `n of m` into the head, m being all there are; ask for more at the end of those shown."""
        total = self.found.count if self.found.hits else count
        self.headed("Find", place_line(row, total) if total else ())
        if self.found.hits and row == count - 1 and self._limit <= count < self.found.count:
            self._limit = count * MORE_TIMES
            self._search(keep_cursor=True)

    # Opening

    def action_open(self) -> None:
        """Open the hit under the cursor, or the first one as soon as what was typed has been searched for."""
        if self.searching:
            self._open_when_found = True
        else:
            self.table.open()

    def on_register_table_opened(self, opened: RegisterTable.Opened) -> None:
        """Open an item's sheet or a drawing; say of a note what it is."""
        if not self.found.hits:
            self._open_place(self.house.memory.places[opened.at])
            return
        hit = next((one for one in self.found.hits if hit_key(one) == opened.row.key), None)
        if hit is not None:
            self._open_hit(hit)

    def _open_hit(self, hit: Hit) -> None:
        self.house.memory.opened(Place("find", self.typing.text.strip(), "typed before"))
        if hit.kind == "item":
            self.house.open_item(hit.number)
        elif hit.kind == "drawing":
            self.house.open_drawing(hit.number)
        else:
            self.house.memory.opened(Place(hit.kind, hit.number, hit.title))
            self._notice((Piece(said_of(hit)),))

    def _open_place(self, place: Place) -> None:
        if place.kind == "item":
            self.house.open_item(place.number)
        elif place.kind == "drawing":
            self.house.open_drawing(place.number)
        elif place.kind == "section":
            self.house.open_list(place.number, place.title)
        else:
            self.take(Typing(place.number, len(place.number)))

    def on_screen_resume(self) -> None:
        """Offer the places as they are now."""
        if self.is_mounted and not self.typing.text.strip():
            self._offer_places()
