"""Two states of the order beside each other: what was added, deleted and altered, by field and by word."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType

from specreg.services.comparison_readings import StateLine
from specreg.services.department_readings import DepartmentsPage
from specreg.services.readings import Reader
from specreg.tui.commands import bindings_on
from specreg.tui.compare_paper import ALL, MINE, Shown, compare_parts, shown, too_few, usual_pair
from specreg.tui.pieces import Line, Piece, wrapped
from specreg.tui.screens.paper_screen import PaperScreen
from specreg.tui.screens.table_screen import place_line
from specreg.tui.widgets.paper import Paper

COMPARING: Line = (Piece("comparing …"),)
"""What stands in the head until the answer is there: between two large states it takes a moment."""


@dataclass(frozen=True, slots=True)
class Compared:
    """The states there are, and the changes of one view between two of them; None where there are not two."""

    states: tuple[StateLine, ...]
    what: Shown | None


def compared(reader: Reader, pair: tuple[str, str] | None, view: int, department: str) -> Compared:
    """Compare two states, or the two that are compared at first where none are named or they are there no more."""
    states = reader.states()
    names = [state.name for state in states]
    old_and_new = pair if pair and all(name in names for name in pair) else usual_pair(states)
    if old_and_new is None:
        return Compared(states, None)
    return Compared(states, shown(reader.comparison(*old_and_new, department if view == MINE else ""), view))


class CompareScreen(PaperScreen):
    """The changes, in one of four views; Enter opens the item or drawing under the cursor."""

    PAGE = "compare"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("compare")

    def __init__(self) -> None:
        self._pair: tuple[str, str] | None = None
        self._view = ALL
        self._states: tuple[StateLine, ...] = ()
        self._what: Shown | None = None
        self._places: dict[str, int] = {}
        super().__init__()

    def load(self) -> None:
        """Ask for the comparison."""
        self._head(COMPARING)
        self.reload()

    def reload(self) -> None:
        """Ask again; the cursor stays on its change."""
        pair, view, department = self._pair, self._view, self.house.memory.department
        self.ask("comparison", lambda: compared(self.readers.mine(), pair, view, department), self._show, self._miss)

    def _show(self, found: Compared) -> None:
        before = self._what
        self._states, self._what = found.states, found.what
        if found.what is None:
            self._head()
            sentence = too_few(found.states)
            self.paper.write(lambda width: ((), *((Piece(text),) for text in wrapped(sentence, width))))
            return
        what = found.what
        same = before is not None and (before.page.old, before.page.new) == (what.page.old, what.page.new)
        self._places = {key: at for at, key in enumerate(what.changes)}
        self.paper.write(lambda width: compare_parts(what, width), from_the_top=not same)

    def _miss(self, sentence: str) -> None:
        """Stay in the view that is shown; of a department that cannot be shown, ask for another next time."""
        if self._view == MINE:
            self.house.memory.department = ""
        self._view = self._what.view if self._what else ALL
        self._head(self._place())
        self.say_trouble(sentence)

    def on_paper_moved(self, moved: Paper.Moved) -> None:
        """Say in the head which change one stands on."""
        del moved
        if self._what is not None:
            self._head(self._place())

    def _head(self, right: Line = ()) -> None:
        self.headed(self._what.head if self._what else "Compare", right)

    def _place(self) -> Line:
        return place_line(self._places.get(self.paper.key, -1), len(self._places)) if self._what else ()

    def on_paper_opened(self, opened: Paper.Opened) -> None:
        """Open the item, or the drawing."""
        change = self._what.changes.get(opened.key) if self._what else None
        if change is None:
            return
        if change.kind == "drawing":
            self.house.open_drawing(change.number)
        else:
            self.house.open_item(change.number)

    def action_next(self) -> None:
        """To the next change."""
        self.when_written(lambda: self.paper.jump(1))

    def action_before(self) -> None:
        """To the change before."""
        self.when_written(lambda: self.paper.jump(-1))

    # Views

    def action_view(self, view: int) -> None:
        """Show another view; the cursor stays on its change where that stands in it."""
        if view == MINE and (self._view == MINE or not self.house.memory.department):
            self.ask("departments", lambda: self.readers.mine().departments(False), self._ask_whose)
            return
        self._view = view
        self.reload()

    def _ask_whose(self, page: DepartmentsPage) -> None:
        """Take the department of the person, if he is head of one; else ask for one."""
        if len(page.may_extract) == 1:
            self._of_department(*page.may_extract)
            return
        from specreg.tui.screens.states_dialog import DepartmentDialog

        known = self.house.memory.department
        self.house.push_screen(DepartmentDialog(page.departments, known, self._of_department))

    def _of_department(self, code: str) -> None:
        self.house.memory.department = code
        self._view = MINE
        self.reload()

    def action_other(self) -> None:
        """Ask which two states to compare."""
        if len(self._states) < 2:
            self.house.tell(too_few(self._states))
            return
        from specreg.tui.screens.states_dialog import StatesDialog

        pair = (self._what.page.old, self._what.page.new) if self._what else ("", "")
        self.house.push_screen(StatesDialog(self._states, pair, self._compare))

    def _compare(self, old: str, new: str) -> None:
        self._pair = (old, new)
        self._head(COMPARING)
        self.reload()
