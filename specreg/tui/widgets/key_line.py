"""The foot of the frame: the keys of the page, each with its word, as many as find room; a click does the same."""

from __future__ import annotations

from rich.cells import cell_len
from textual import events

from specreg.tui.commands import Command, key_line_of
from specreg.tui.pieces import Line, Piece
from specreg.tui.widgets.painted import PaintedLine


def keys_shown(page: str, width: int) -> tuple[tuple[Command, int], ...]:
    """The commands printed on a page at this width, each with the column it starts in."""
    placed: list[tuple[Command, int]] = []
    at = 2
    for command in key_line_of(page):
        size = cell_len(command.shown) + 1 + cell_len(command.word)
        if at + size + 2 > width:
            continue
        placed.append((command, at))
        at += size + 2
    return tuple(placed)


def key_line(page: str, width: int) -> Line:
    """`└ / find  s specification … ───┘`, exactly `width` cells."""
    pieces = [Piece("└ ", "frame")]
    end = 1
    for command, at in keys_shown(page, width):
        pieces += [Piece("  ") if at > 2 else Piece(""), Piece(command.shown, "key"), Piece(f" {command.word}")]
        end = at + cell_len(command.shown) + 1 + cell_len(command.word)
    rule = max(0, width - end - 2)
    return (*pieces, Piece(" " if rule >= 0 else ""), Piece("─" * rule + "┘", "frame"))


class KeyLine(PaintedLine):
    """The line of keys."""

    def __init__(self, page: str) -> None:
        self._page = page
        super().__init__()

    def the_line(self) -> Line:
        """What it says."""
        return key_line(self._page, self.size.width)

    async def on_click(self, event: events.Click) -> None:
        """Do what the word under the mouse says."""
        for command, at in keys_shown(self._page, self.size.width):
            if at <= event.x < at + cell_len(command.shown) + 1 + cell_len(command.word):
                event.stop()
                await self.run_action(f"screen.{command.name}")
                return
