"""Sheets laid over the page in which names are typed, or chosen by arrows: two states to compare, a department."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Sequence
from typing import ClassVar

from rich.cells import cell_len
from textual.binding import Binding, BindingType

from specreg.core.counts import so_many
from specreg.services.comparison_readings import StateLine
from specreg.services.department_readings import DepartmentLine
from specreg.tui.pieces import Line, Piece, wrapped
from specreg.tui.screens.dialogs import Dialog, Panel
from specreg.tui.typing_keys import TypingKeys
from specreg.tui.typing_line import Typing, typing_pieces

LEAST_SHOWN, AROUND = 3, 9
"""Choices that are shown at least, and rows of the screen that the panel's frame, a sentence and the page around it
need; the fields come to them."""


class ChoosingDialog(TypingKeys, Dialog):
    """Asks for names of those there are, one in each field; a wrong one is refused with those there are.

    `choices` are (name, what is said of it); `typed` what stands in the fields at first.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "choose(-1)", "Takes the choice before", show=False),
        Binding("down", "choose(1)", "Takes the next choice", show=False),
        Binding("tab,shift+tab", "other", "Goes to the other field", show=False),
    ]
    FIELDS: ClassVar[tuple[str, ...]] = ()

    def __init__(self, choices: Sequence[tuple[str, str]], typed: Sequence[str]) -> None:
        self.choices = tuple(choices)
        self.typings = [Typing(text).left_alone() for text in typed]
        self.at = 0
        self.said = ""
        super().__init__()

    @abstractmethod
    def accept(self, names: Sequence[str]) -> None:
        """Do what was asked for, with names that there are."""

    @abstractmethod
    def refusal(self, names: Sequence[str]) -> str:
        """Why these names cannot be taken together; empty when they can."""

    @abstractmethod
    def unknown(self, name: str, there: str) -> str:
        """What is said of a name that there is not; `there` lists those there are."""

    @property
    def typing(self) -> Typing:  # type: ignore[override]
        """The field that is typed in."""
        return self.typings[self.at]

    # Painting

    def write(self) -> None:
        """The fields, what is said of them, the choices."""
        label = max(len(name) for name in self.FIELDS)
        lines: list[Line] = [()]
        for at, (name, typing) in enumerate(zip(self.FIELDS, self.typings, strict=True)):
            here = at == self.at
            pieces = typing_pieces(typing, self.room - label - 3) if here else (Piece(typing.text, "text"),)
            lines.append((Piece(f"{name:<{label}} ", "strong"), Piece("▸ " if here else "  ", "strong"), *pieces))
        lines += [(Piece(text, "warning"),) for text in wrapped(self.said, self.room)] if self.said else [()]
        self.query_one(Panel).say((*lines, *self._choices_shown(), ()))

    def _choices_shown(self) -> list[Line]:
        """The choices around the one that stands in the field, each with the fields in which it stands; a row at an end
        says how many more there are that way."""
        shown = max(LEAST_SHOWN, self.size.height - AROUND - len(self.FIELDS))
        here = self._place(self.typing.text)
        first = max(0, min(max(here, 0) - shown // 2, len(self.choices) - shown))
        label = max(len(name) for name in self.FIELDS)
        width = max((cell_len(name) for name, _ in self.choices), default=0)
        lines: list[Line] = []
        for at, (name, said) in list(enumerate(self.choices))[first : first + shown]:
            marks = " ".join(
                mark for mark, typing in zip(self.FIELDS, self.typings, strict=True) if self._place(typing.text) == at
            )
            role = "text" if at == here else ""
            lines.append(
                (Piece(f"{marks:<{label}}   ", "quiet"), Piece(f"{name:<{width}}  ", role), Piece(said, "quiet"))
            )
        after = len(self.choices) - first - shown
        if first > 0:
            lines[0] = (Piece(f"{'':<{label}}   … {first + 1} more", "quiet"),)
        if after > 0:
            lines[-1] = (Piece(f"{'':<{label}}   … {after + 1} more", "quiet"),)
        return lines

    def _place(self, text: str) -> int:
        """Which choice a text names, in any case; -1 when none."""
        wanted = text.strip().casefold()
        return next((at for at, (name, _) in enumerate(self.choices) if name.casefold() == wanted), -1)

    # Typing and choosing

    def take(self, typing: Typing) -> None:
        """Paint what is typed; what was said of an older text is no longer said."""
        self.typings[self.at] = typing
        self.said = ""
        self.write()

    def action_choose(self, step: int) -> None:
        """Put the next choice, or the one before, into the field."""
        if not self.choices:
            return
        here = self._place(self.typing.text)
        to = (len(self.choices) - 1 if step < 0 else 0) if here < 0 else here + step
        self.take(Typing(self.choices[min(max(to, 0), len(self.choices) - 1)][0]).left_alone())

    def action_other(self) -> None:
        """Go to the other field."""
        self.typings[self.at] = self.typing.left_alone()
        self.at = (self.at + 1) % len(self.FIELDS)
        self.write()

    def action_accept(self) -> None:
        """Take the names; say of the first wrong one why not, and keep what was typed."""
        for at, typing in enumerate(self.typings):
            if self._place(typing.text) < 0:
                there = ", ".join(name for name, _ in self.choices)
                self._refuse(at, self.unknown(typing.text.strip(), there))
                return
        names = [self.choices[self._place(typing.text)][0] for typing in self.typings]
        if refusal := self.refusal(names):
            self._refuse(self.at, refusal)
            return
        self.dismiss()
        self.accept(names)

    def _refuse(self, at: int, sentence: str) -> None:
        self.at = at
        self.typings[at] = self.typings[at].left_alone()
        self.said = f"~ {sentence}"
        self.write()


class StatesDialog(ChoosingDialog):
    """Asks which two states to compare."""

    TITLE_OF_PANEL = "Compare which two"
    FOOT = "↑ ↓: choose   Tab: old or new   Enter: compare   Esc: back"
    FIELDS = ("Old", "New")

    def __init__(self, states: Sequence[StateLine], pair: Sequence[str], accept: Callable[[str, str], None]) -> None:
        self._accept = accept
        super().__init__([(one.name, _said_of(one)) for one in states], pair)

    def accept(self, names: Sequence[str]) -> None:
        """Compare them."""
        self._accept(names[0], names[1])

    def refusal(self, names: Sequence[str]) -> str:
        """A state is not compared with itself."""
        return f"Both are {names[0]}: choose another for old or new." if names[0] == names[1] else ""

    def unknown(self, name: str, there: str) -> str:
        """Which states there are."""
        return f"There is no state {name}. There are {there}." if name else f"Name a state. There are {there}."


def _said_of(state: StateLine) -> str:
    """When a state was issued, and how much stands in it."""
    when = f"issued {state.issued_on}" if state.issued_on else "as it stands, open edits and all"
    return f"{when}, {so_many(state.rows, 'row')}"


class DepartmentDialog(ChoosingDialog):
    """Asks whose changes are meant."""

    TITLE_OF_PANEL = "Changes of which department"
    FOOT = "↑ ↓: choose   Enter: show its changes   Esc: back"
    FIELDS = ("Department",)

    def __init__(self, departments: Sequence[DepartmentLine], typed: str, accept: Callable[[str], None]) -> None:
        self._accept = accept
        super().__init__([(one.code, one.name) for one in departments], (typed,))

    def accept(self, names: Sequence[str]) -> None:
        """Show its changes."""
        self._accept(names[0])

    def refusal(self, names: Sequence[str]) -> str:
        """Every department may be looked at."""
        del names
        return ""

    def unknown(self, name: str, there: str) -> str:
        """Which departments there are."""
        return (
            f"There is no department {name}. There are {there}." if name else f"Name a department. There are {there}."
        )
