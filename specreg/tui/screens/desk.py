"""The desk: the opening page, with what waits for somebody and what is out of order."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual import events
from textual.binding import BindingType
from textual.widget import Widget

from specreg.services.readings import Desk
from specreg.tui.commands import bindings_on
from specreg.tui.desk_paper import desk_lines
from specreg.tui.pieces import Line, Piece
from specreg.tui.screens.paper_screen import PaperScreen
from specreg.tui.widgets.painted import PaintedLine, framed
from specreg.tui.widgets.paper import Paper


class Invitation(PaintedLine):
    """The find line of the desk: it waits, and a click or `/` opens it."""

    def the_line(self) -> Line:
        """What it says."""
        said = (Piece("Find ▸ ", "strong"), Piece("press "), Piece("/", "key"),
                Piece(" and type a number, half a number or words", "quiet"))  # fmt: skip
        return framed(said, self.size.width)

    async def on_click(self, event: events.Click) -> None:
        """Open the find page."""
        event.stop()
        await self.run_action("screen.find")


class DeskScreen(PaperScreen):
    """The desk."""

    PAGE = "desk"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("desk")

    def body(self) -> Iterable[Widget]:
        """The find line and the sheet."""
        yield Invitation()
        yield Paper()

    def load(self) -> None:
        """Ask for the desk."""
        self.headed("Desk")
        self.ask("desk", lambda: self.readers.mine().desk(), self._show)

    def _show(self, desk: Desk) -> None:
        self.headed("Desk", (Piece(desk.day),) if desk.day else ())
        self.paper.write(lambda width: desk_lines(desk, width), from_the_top=False)
