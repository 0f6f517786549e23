"""The foot of the frame: the keys of the page, each with its word, as many as find room; a click does the same."""

from __future__ import annotations

from collections.abc import Collection

from rich.cells import cell_len
from textual import events
from textual.reactive import reactive

from specreg.tui.commands import Command, key_line_of
from specreg.tui.pieces import Line, Piece
from specreg.tui.widgets.painted import PaintedLine

KEPT = frozenset({"back", "help"})
"""Commands for which the others give way: who finds the way back and the help finds everything else."""


def keys_shown(page: str, width: int, without: Collection[str] = ()) -> tuple[tuple[Command, int], ...]:
    """The commands printed on a page at this width, each with the column it starts in; `without` names those that are
    not offered just now."""
    offered = [command for command in key_line_of(page) if command.name not in without]
    to_come = sum(_size(command) + 2 for command in offered if command.name in KEPT)
    placed: list[tuple[Command, int]] = []
    at = 2
    for command in offered:
        size = _size(command)
        if command.name in KEPT:
            to_come -= size + 2
        if at + size + 2 + to_come <= width:
            placed.append((command, at))
            at += size + 2
    return tuple(placed)


def _size(command: Command) -> int:
    """Cells that its key and word take."""
    return cell_len(command.shown) + 1 + cell_len(command.word)


def key_line(page: str, width: int, without: Collection[str] = ()) -> Line:
    """`└ / find  s sections … ───┘`, exactly `width` cells."""
    pieces = [Piece("└ ", "frame")]
    end = 1
    for command, at in keys_shown(page, width, without):
        pieces += [Piece("  ") if at > 2 else Piece(""), Piece(command.shown, "key"), Piece(f" {command.word}")]
        end = at + _size(command)
    rule = max(0, width - end - 2)
    return (*pieces, Piece(" " if rule >= 0 else ""), Piece("─" * rule + "┘", "frame"))


class KeyLine(PaintedLine):
    """The line of keys; `without` names the commands that are not offered just now."""

    without: reactive[frozenset[str]] = reactive(frozenset())

    def __init__(self, page: str) -> None:
        self._page = page
        super().__init__()

    def the_line(self) -> Line:
        """What it says."""
        return key_line(self._page, self.size.width, self.without)

    async def on_click(self, event: events.Click) -> None:
        """Do what the word under the mouse says."""
        for command, at in keys_shown(self._page, self.size.width, self.without):
            if at <= event.x < at + _size(command):
                event.stop()
                await self.run_action(f"screen.{command.name}")
                return
