"""The program: holds the readers, follows what is written to the book, keeps the look."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence
from typing import Any, ClassVar

from textual.binding import Binding, BindingType
from textual.filter import LineFilter
from textual.screen import Screen

from specreg.services.doings import Doer
from specreg.services.readings import Reader, TitleLine
from specreg.tui.loading import Asking, Readers, Trouble, plain_sentence
from specreg.tui.places import Memory
from specreg.tui.screens.desk import DeskScreen
from specreg.tui.screens.sheet_screen import SheetScreen
from specreg.tui.themes import THEMES, Colourless, following, textual_theme
from specreg.tui.ways import Ways

LOOK_SECONDS = 2.0
"""How often the book is asked whether anybody has written to it."""


class SpecregApp(Asking, Ways):
    """The screens over a `Reader`. `doer` does what writes; without one nothing that writes is offered.

    `start` is empty for the desk, the name of a page (`specification`, `drawings`, `departments`, `compare`,
    `take-off`, `find`), or an item's number.
    """

    CSS_PATH = "specreg.tcss"
    ENABLE_COMMAND_PALETTE = False
    ALLOW_SELECT = False
    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+q,ctrl+c", "quit", "leave", priority=True, show=False)]

    def __init__(self, open_reader: Callable[[], Reader], start: str = "", doer: Doer | None = None) -> None:
        self.readers = Readers(open_reader)
        self.doer = doer
        self.memory = Memory()
        self.title_line: TitleLine | None = None
        self.book_version = -1
        self._start_page = start
        self._unreadable = False
        self._follows = False
        self._colourless = Colourless()
        super().__init__()
        self.animation_level = "none"
        for name in THEMES:
            self.register_theme(textual_theme(name))
        self.theme = "plain" if self.no_color else THEMES[0]

    def get_default_screen(self) -> Screen[Any]:
        """The desk lies under every other page."""
        return DeskScreen()

    def get_line_filters(self) -> Sequence[LineFilter]:
        """In the plain look, take away every colour."""
        filters = super().get_line_filters()
        return (*filters, self._colourless) if self.theme == "plain" else filters

    # The book

    def on_load(self) -> None:
        """Have questions asked in threads that own a reader, and note the state of the book before anything is read."""
        asyncio.get_running_loop().set_default_executor(self.readers.executor)
        self.look()

    def on_mount(self) -> None:
        """Ask for the title block, follow the book from now on, open the page that was asked for."""
        self._follows = True
        self._ask_title()
        self.set_interval(LOOK_SECONDS, self.look)
        ways = {
            "": None, "desk": None, "specification": self.to_specification, "drawings": self.to_drawings,
            "departments": self.to_departments, "compare": self.to_comparison, "take-off": self.to_take_off,
            "find": self.to_find,
        }  # fmt: skip
        way = ways.get(self._start_page, lambda: self.open_item(self._start_page))
        if way:
            way()

    def on_unmount(self) -> None:
        """Let go of the book."""
        self.workers.cancel_all()
        self.readers.close()

    def on_app_focus(self) -> None:
        """Look at once when somebody comes back to this window."""
        self.look()

    def look(self) -> None:
        """Ask whether anybody has written to the book; if so, read again what is on the screen.

        Asked on the screen's own thread: it is one quick question, and the answers of one reader compare.
        """
        try:
            version = self.readers.mine().version()
        except Exception as error:  # trouble with the book is told once, not every two seconds
            if self._follows and not self._unreadable:
                self.tell(plain_sentence(error))
                self._unreadable = True
            return
        self._unreadable = False
        if version != self.book_version:
            self.book_version = version
            if self._follows:
                self._ask_title()
                self._follow()

    def _ask_title(self) -> None:
        self.ask("title", lambda: self.readers.mine().title_line(), self._entitle)

    def _entitle(self, title: TitleLine) -> None:
        self.title_line = title
        self._follow()

    def _follow(self) -> None:
        for screen in self.screen_stack:
            if isinstance(screen, SheetScreen) and screen.is_current:
                screen.follow(self.title_line)

    def on_trouble(self, trouble: Trouble) -> None:
        """Show trouble that no page has shown."""
        self.tell(trouble.sentence)

    def next_look(self) -> None:
        """Change the look to the one after."""
        self.theme = following(self.theme)
