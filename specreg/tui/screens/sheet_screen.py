"""The base of every page: frame, title block, key line; asks the book, shows trouble, follows what others write."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterable
from typing import TYPE_CHECKING, ClassVar, cast

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widget import Widget

from specreg.services.readings import TitleLine
from specreg.tui.loading import Asking, Readers, Trouble
from specreg.tui.pieces import Line
from specreg.tui.widgets.head import Head
from specreg.tui.widgets.key_line import KeyLine
from specreg.tui.widgets.title_block import TitleBlock

if TYPE_CHECKING:
    from specreg.tui.app import SpecregApp

TALL = 34
"""Screen rows from which on the title block has three lines."""


class SheetScreen(Asking, Screen[None]):
    """A page. A subclass gives `PAGE`, its body, `load` (what to ask at first) and `reload` (when the book changed)."""

    PAGE: ClassVar[str] = ""

    def __init__(self) -> None:
        self._version_shown = -1
        super().__init__()

    # What a page is made of

    @property
    def house(self) -> SpecregApp:
        """The program this page belongs to."""
        return cast("SpecregApp", self.app)

    @property
    def readers(self) -> Readers:
        """Where questions are asked."""
        return self.house.readers

    def compose(self) -> ComposeResult:
        """Head, body, title block, key line."""
        yield Head()
        yield from self.body()
        yield TitleBlock(self.house.title_line)
        yield KeyLine(self.PAGE)

    @abstractmethod
    def body(self) -> Iterable[Widget]:
        """The widgets between head and title block."""

    @abstractmethod
    def load(self) -> None:
        """Ask for what the page shows, the first time."""

    def reload(self) -> None:
        """Ask for it again because the book has changed; what one looks at stays where it is."""
        self.load()

    def headed(self, title: str, right: Line = ()) -> None:
        """Write the head of the frame."""
        head = self.query_one(Head)
        head.title = title
        head.right = right

    # Following the book

    def on_mount(self) -> None:
        """Ask at once."""
        self._version_shown = self.house.book_version
        self.load()

    def on_resize(self, event: events.Resize) -> None:
        """Draw the title block in three lines where there is room."""
        self.set_class(event.size.height >= TALL, "-tall")

    def follow(self, title: TitleLine | None) -> None:
        """Take over the title block, and read again when the book was written to since this page was painted."""
        for block in self.query(TitleBlock):
            block.say(title)
        if self.is_mounted and self._version_shown != self.house.book_version:
            self._version_shown = self.house.book_version
            self.reload()

    def on_screen_resume(self) -> None:
        """Catch up with what happened while another page stood over this one."""
        self.follow(self.house.title_line)

    def on_trouble(self, trouble: Trouble) -> None:
        """Show a sentence in a dialog; the page stays as it is."""
        trouble.stop()
        self.house.tell(trouble.sentence)

    # Commands that every page has

    def action_back(self) -> None:
        """Go back to the page before."""
        self.house.back()

    def action_desk(self) -> None:
        """Go to the desk."""
        self.house.to_desk()

    def action_specification(self) -> None:
        """Go to the index of sections."""
        self.house.to_specification()

    def action_departments(self) -> None:
        """Go to the departments."""
        self.house.to_departments()

    def action_drawings(self) -> None:
        """Go to the drawing list."""
        self.house.to_drawings()

    def action_compare(self) -> None:
        """Go to two revisions beside each other."""
        self.house.to_comparison()

    def action_take_off(self) -> None:
        """Go to the take-off."""
        self.house.to_take_off()

    def action_find(self) -> None:
        """Go to the find page."""
        self.house.to_find()

    def action_go(self) -> None:
        """Ask for a number."""
        self.house.to_number()

    def action_help(self) -> None:
        """Explain this page."""
        self.house.to_help(self.PAGE)

    def action_look(self) -> None:
        """Change the look."""
        self.house.next_look()

    def action_leave(self) -> None:
        """Leave the program."""
        self.app.exit()
