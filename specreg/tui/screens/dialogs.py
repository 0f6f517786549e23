"""Small sheets laid over the page: a sentence to be read, a number to be asked for."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Iterable, Mapping
from typing import ClassVar

from rich.cells import cell_len
from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import ModalScreen

from specreg.tui.loading import Asking, Readers
from specreg.tui.pieces import Line, Piece, cut, fitted, wrapped
from specreg.tui.typing_keys import TypingKeys
from specreg.tui.typing_line import Typing, typing_pieces
from specreg.tui.widgets.painted import Painted

FOOT_GAP = "   "
FOOT_ACTIONS: Mapping[str, str] = {"Enter": "accept", "Esc": "away"}
"""What stands between the words of a panel's foot, and what a click on them does, by the key they name first."""


class Panel(Painted):
    """A framed sheet with a title and some lines, as high as they need."""

    def __init__(self, title: str, foot: str) -> None:
        self._title = title
        self._foot = foot
        self._lines: tuple[Line, ...] = ((),)
        super().__init__()

    def say(self, lines: Iterable[Line]) -> None:
        """Paint other lines."""
        self._lines = tuple(lines)
        self.styles.height = len(self._lines) + 2
        self.refresh()

    def entitle(self, title: str, foot: str) -> None:
        """Write another title and other keys into the frame."""
        self._title, self._foot = title, foot
        self.refresh()

    def line_at(self, y: int) -> Line:
        """The frame's top, the lines, the frame's foot with its keys."""
        width = self.size.width
        if y in (0, len(self._lines) + 1):
            left, right = ("┌", "┐") if y == 0 else ("└", "┘")
            said = cut(self._title if y == 0 else self._foot, width - 5)
            role = "strong" if y == 0 else "quiet"
            body = fitted((Piece(f" {said} ", role),), min(width - 2, len(said) + 2))
            return (Piece(left, "frame"), *body, Piece("─" * (width - 4 - len(said)) + right, "frame"))
        if y > len(self._lines):
            # Fewer lines than before, and the sheet not yet made lower.
            return fitted((), width)
        content = fitted(self._lines[y - 1], width - 4)
        return (Piece("│ ", "frame"), *content, Piece(" │", "frame"))

    async def on_click(self, event: events.Click) -> None:
        """Do what the words under the mouse in the foot say: `Enter: …` or `Esc: …`."""
        if event.y != len(self._lines) + 1:
            return
        at = 2
        for words in self._foot.split(FOOT_GAP):
            if at <= event.x < at + cell_len(words):
                event.stop()
                key = words.split(":", maxsplit=1)[0].split()[0]
                if key in FOOT_ACTIONS:
                    await self.run_action(f"screen.{FOOT_ACTIONS[key]}")
                return
            at += cell_len(words) + len(FOOT_GAP)


class Dialog(Asking, ModalScreen[None]):
    """A sheet over the page. The page's keys do nothing until it is put away."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "away", "Puts the sheet away", show=False),
        Binding("enter", "accept", "Does what the sheet asks", show=False),
    ]
    TITLE_OF_PANEL: ClassVar[str] = ""
    FOOT: ClassVar[str] = ""

    def compose(self) -> ComposeResult:
        """The panel."""
        yield Panel(self.TITLE_OF_PANEL, self.FOOT)

    @abstractmethod
    def write(self) -> None:
        """Paint the panel."""

    def on_mount(self) -> None:
        """Paint for the first time."""
        self.write()

    def on_resize(self) -> None:
        """Wrap anew."""
        self.call_after_refresh(self.write)

    @property
    def room(self) -> int:
        """Cells in a line of the panel."""
        return max(16, min(64, self.size.width * 94 // 100) - 4)

    def action_away(self) -> None:
        """Put the sheet away."""
        self.dismiss()

    def action_accept(self) -> None:
        """Put the sheet away."""
        self.dismiss()


class SentenceDialog(Dialog):
    """Says in plain words what could not be done."""

    TITLE_OF_PANEL = "! Could not be done"
    FOOT = "Enter or Esc: back to the page"

    def __init__(self, sentence: str) -> None:
        self.sentence = sentence
        super().__init__()

    def write(self) -> None:
        """The sentence."""
        self.query_one(Panel).say(((), *((Piece(text),) for text in wrapped(self.sentence, self.room)), ()))


class NumberDialog(TypingKeys, Dialog):
    """Asks for an item's number; opens its sheet, or says why not and keeps what was typed."""

    TITLE_OF_PANEL = "Go to number"
    FOOT = "Enter: open the sheet   Esc: back"

    def __init__(self, readers: Readers, open_item: Callable[[str], None]) -> None:
        self.typing = Typing()
        self.said = ""
        self._readers = readers
        self._open = open_item
        super().__init__()

    def write(self) -> None:
        """The line that is typed in, and what is said of it."""
        below = wrapped(self.said, self.room) if self.said else []
        self.query_one(Panel).say((
            (),
            (Piece("Number ▸ ", "strong"), *typing_pieces(self.typing, self.room - 9)),
            *((Piece(text, "warning"),) for text in below),
            (),
        ))  # fmt: skip

    def take(self, typing: Typing) -> None:
        """Paint what is typed; what was said of an older text is no longer said."""
        self.typing, self.said = typing, ""
        self.forget("number")
        self.write()

    def action_accept(self) -> None:
        """Look whether there is such an item, and open it."""
        number = self.typing.text.strip()
        if not number:
            self.dismiss()
            return
        self.ask("number", lambda: self._readers.mine().item(number).number, self._go, self._refuse)

    def _go(self, number: str) -> None:
        self.dismiss()
        self._open(number)

    def _refuse(self, sentence: str) -> None:
        self.said = f"~ {sentence}"
        self.write()
