"""The ways from page to page, each page loaded when it is first opened."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.app import App
from textual.screen import Screen

from specreg.tui.loading import Readers
from specreg.tui.places import Memory, Place

if TYPE_CHECKING:
    from specreg.services.take_off_readings import SumKind


class Ways(App[None]):
    """An app that knows its pages. The desk lies under all others; `memory` keeps what was lately opened."""

    readers: Readers
    memory: Memory

    def tell(self, sentence: str) -> None:
        """Show a sentence in a dialog, unless one is being read."""
        from specreg.tui.screens.dialogs import SentenceDialog

        if not isinstance(self.screen, SentenceDialog):
            self.push_screen(SentenceDialog(sentence))

    def leave_with(self, screen: Screen[None], sentence: str) -> None:
        """Put away a page that has nothing to show, and say why."""
        if self.screen is screen:
            self.back()
        self.tell(sentence)

    def back(self) -> None:
        """To the page before."""
        if len(self.screen_stack) > 1:
            self.pop_screen()

    def to_desk(self) -> None:
        """To the desk, all other pages put away."""
        while len(self.screen_stack) > 1:
            self.pop_screen()

    def to_specification(self) -> None:
        """To the index of sections, where it was left."""
        from specreg.tui.screens.index import IndexScreen

        self._to_first(IndexScreen)

    def to_departments(self) -> None:
        """To the departments, where they were left."""
        from specreg.tui.screens.departments import DepartmentsScreen

        self._to_first(DepartmentsScreen)

    def to_drawings(self) -> None:
        """To the drawing list, where it was left."""
        from specreg.tui.screens.drawings import DrawingsScreen

        self._to_first(DrawingsScreen)

    def to_comparison(self) -> None:
        """To two revisions beside each other, where they were left."""
        from specreg.tui.screens.compare import CompareScreen

        self._to_first(CompareScreen)

    def to_take_off(self) -> None:
        """To the take-off, where it was left."""
        from specreg.tui.screens.take_off import TakeOffScreen

        self._to_first(TakeOffScreen)

    def _to_first(self, page: Callable[[], Screen[None]]) -> None:
        """To a page that stands on the desk: back to it where it lies under others, else it alone on the desk."""
        if any(type(screen) is page for screen in self.screen_stack):
            while type(self.screen) is not page:
                self.pop_screen()
        else:
            self.to_desk()
            self.push_screen(page())

    def to_find(self) -> None:
        """To the find page, with what was typed there last."""
        from specreg.tui.screens.find import FindScreen

        self.push_screen(FindScreen(self.memory.typed))

    def to_number(self) -> None:
        """Ask for a number."""
        from specreg.tui.screens.dialogs import NumberDialog

        self.push_screen(NumberDialog(self.readers, self.open_item))

    def to_help(self, page: str) -> None:
        """Explain a page."""
        from specreg.tui.screens.help import HelpScreen

        self.push_screen(HelpScreen(page))

    def open_list(self, section: str, title: str) -> None:
        """Open the list of a section, of the whole order when it is empty."""
        from specreg.tui.screens.item_list import ItemListScreen

        if section:
            self.memory.opened(Place("section", section, title))
        self.push_screen(ItemListScreen(section, title))

    def open_share(self, code: str, open_edits: bool) -> None:
        """Open the share of a department, as issued or as it stands."""
        from specreg.tui.screens.share import ShareScreen

        self.push_screen(ShareScreen(code, open_edits))

    def open_sum(self, kind: SumKind, name: str, open_edits: bool, saw: Callable[[str], None]) -> None:
        """Open one sum of the take-off, as issued or as the order stands. `saw` is told each sum shown on it."""
        from specreg.tui.screens.take_off_sum import SumScreen

        self.push_screen(SumScreen(kind, name, open_edits, saw))

    def open_drawing(self, number: str, saw: Callable[[str], None] | None = None) -> None:
        """Open a drawing. `saw` is told each drawing shown on it."""
        from specreg.tui.screens.drawing import DrawingScreen

        self.push_screen(DrawingScreen(number, saw))

    def open_item(self, number: str, section: str = "", saw: Callable[[str], None] | None = None) -> None:
        """Open an item's sheet. `section` is the list it was opened from, `saw` is told each item shown on it."""
        from specreg.tui.screens.item import ItemScreen

        self.push_screen(ItemScreen(number, section, saw))
