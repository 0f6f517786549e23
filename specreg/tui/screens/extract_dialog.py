"""The sheet that makes extracts: asks for departments, forms and folder, makes them, says what was made."""

from __future__ import annotations

from threading import Event
from typing import TYPE_CHECKING

from rich.cells import cell_len
from textual import events
from textual.message import Message

from specreg.core.errors import Refused, SpecregError
from specreg.services.department_readings import DepartmentsPage
from specreg.services.doings import Doer, ExtractsMade, Progress
from specreg.tui.extract_paper import DEPARTMENTS, FOLDER, FORM, Asked, Wanted, asked, outcome, title_of, under_way
from specreg.tui.loading import stopped
from specreg.tui.screens.dialogs import FOOT_GAP, Dialog, Panel
from specreg.tui.typing_keys import TypingKeys
from specreg.tui.typing_line import Typing

if TYPE_CHECKING:
    from specreg.tui.app import SpecregApp


class Told(Message, bubble=False):
    """How far the thread that makes the extracts has come."""

    def __init__(self, progress: Progress) -> None:
        self.progress = progress
        super().__init__()


def offer_extract(house: SpecregApp, page: DepartmentsPage, code: str) -> None:
    """Open the sheet for a department, or say why no extract of it can be made from here."""
    letter = house.title_line.revision if house.title_line else page.revision
    refusal = why_not(page, code, letter, house.doer is not None)
    if refusal or house.doer is None:
        house.tell(refusal)
    else:
        house.push_screen(ExtractDialog(house, house.doer, page, code, letter))


def why_not(page: DepartmentsPage, code: str, letter: str, has_doer: bool) -> str:
    """Why no extract of a department can be made, in a sentence; empty when it can. `letter` is the revision last
    issued."""
    names = {one.code: f"{one.code} {one.name}" for one in page.departments}
    name = names.get(code, code)
    if not (letter or page.may_extract):
        return f"No extract of {name} can be made: nothing is issued yet, and an extract is numbered for a revision."
    if not page.may_extract:
        return f"The extract of {name} is not yours to make. Ask the head of the department or the chief draughtsman."
    if code not in page.may_extract:
        yours = ", ".join(names[one.code] for one in page.departments if one.code in page.may_extract)
        return f"The extract of {name} is not yours to make; yours is {yours}."
    if not has_doer:
        return f"These screens were opened to read only. In the terminal, `specreg extract {code}` makes the extract."
    return ""


class ExtractDialog(TypingKeys, Dialog):
    """Asks, makes the extracts in a thread, and says what was made.

    What was chosen and typed is kept for the next time; after a refusal it stands there as it was.
    """

    def __init__(self, house: SpecregApp, doer: Doer, page: DepartmentsPage, code: str, letter: str) -> None:
        self._house = house
        self._doer = doer
        self._code = code
        self._letter = letter
        self._aside = "" if page.revision else f"They say what revision {letter} says; open edits are not in it."
        self._may = tuple(one.code for one in page.departments if one.code in page.may_extract)
        self._is_every = len(self._may) == len(page.departments)
        name = next(f"{one.code} {one.name}" for one in page.departments if one.code == code)
        row = DEPARTMENTS if len(self._may) > 1 else FORM
        self.wanted = Wanted(name, len(self._may), house.memory.forms, row=row)
        self.typing = Typing(house.memory.folder).left_alone()
        self.said = ""
        self.is_making = False
        self.progress: Progress | None = None
        self.made: ExtractsMade | None = None
        self._stop = Event()
        self._sheet = Asked((), ())
        self._first = 0
        super().__init__()

    # Painting

    @property
    def most(self) -> int:
        """Lines of the panel that the screen has room for."""
        return max(1, self.app.size.height - 2)

    def write(self) -> None:
        """What is asked, how far it is, or what was made."""
        if self.made is not None:
            self._write_made(self.made)
        elif self.is_making:
            self._entitle("Making extracts", "Esc: stop after those begun", "Esc: stop")
            lines = under_way(self.progress, self._stop.is_set(), self.room)
            self.query_one(Panel).say(((), *lines, ()))
        else:
            self._entitle(f"Extracts of revision {self._letter}", *self._keys())
            self._sheet = asked(self.wanted, self.typing, self._aside, self.said, self.room, self.most)
            self.query_one(Panel).say(self._sheet.lines)

    def _keys(self) -> tuple[str, ...]:
        choose = () if self.wanted.row == FOLDER else ("← → Space: choose",)
        keys = ("Enter: make", "Tab: next", *choose, "Esc: back")
        return (FOOT_GAP.join(keys), FOOT_GAP.join((keys[0], keys[1], keys[-1])), FOOT_GAP.join((keys[0], keys[-1])))

    def _entitle(self, title: str, *feet: str) -> None:
        """Title and keys of the panel; of several wordings the first that finds room."""
        foot = next((one for one in feet if cell_len(one) < self.room), feet[-1])
        self.query_one(Panel).entitle(title, foot)

    def _write_made(self, made: ExtractsMade) -> None:
        lines = outcome(made, self.room)
        last = max(0, len(lines) - self.most)
        self._first = min(max(0, self._first), last)
        more = (FOOT_GAP.join(("Enter: back", "↑ ↓: more")),) if last else ()
        self._entitle(title_of(made), *more, "Enter: back")
        self.query_one(Panel).say(lines[self._first : self._first + self.most])

    # Choosing and typing

    def on_key(self, event: events.Key) -> None:
        """Move and choose; in the folder's row every other key goes into the text."""
        if event.key in ("enter", "escape"):
            return
        typed = not (self.is_making or self.made) and self.wanted.row == FOLDER
        if typed and event.key not in ("up", "down", "tab", "shift+tab"):
            return
        event.stop()
        event.prevent_default()
        if self.made is not None:
            self._scroll(event.key)
        elif not self.is_making:
            self._choose(event.key)

    def _choose(self, key: str) -> None:
        wanted = self.wanted
        if key in ("up", "shift+tab"):
            wanted = wanted.to_row(-1)
        elif key in ("down", "tab"):
            wanted = wanted.to_row(1)
        elif key in ("left", "right"):
            wanted = wanted.to_choice(1 if key == "right" else -1)
        elif key == "space":
            wanted = wanted.chosen()
        self._want(wanted)

    def _want(self, wanted: Wanted) -> None:
        if wanted != self.wanted:
            self.wanted, self.said = wanted, ""
            self.write()

    def _scroll(self, key: str) -> None:
        steps = {"up": -1, "down": 1, "pageup": 1 - self.most, "pagedown": self.most - 1}
        self._first += steps.get(key, 0)
        self.write()

    def take(self, typing: Typing) -> None:
        """Paint the folder as typed, or pasted."""
        if self.is_making or self.made:
            return
        self.typing, self.said = typing, ""
        self.wanted = self.wanted.pointed_at(FOLDER, -1)
        self.write()

    def on_click(self, event: events.Click) -> None:
        """Choose what the mouse points at."""
        panel = self.query_one(Panel).region
        found = self._sheet.spot(event.screen_y - panel.y - 1, event.screen_x - panel.x - 2)
        if found and not (self.is_making or self.made):
            self._want(self.wanted.pointed_at(found.row, found.at))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Show what stands below."""
        event.stop()
        if self.made is not None:
            self._scroll("down")

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Show what stands above."""
        event.stop()
        if self.made is not None:
            self._scroll("up")

    # Making

    def action_accept(self) -> None:
        """Make the extracts; once they are made, put the sheet away."""
        if self.made is not None:
            self.dismiss()
        elif not self.is_making:
            self._make()

    def action_away(self) -> None:
        """Put the sheet away; while extracts are made, stop after those begun."""
        if self.is_making:
            self._stop.set()
            self.write()
            return
        self._keep()
        self.dismiss()

    def _keep(self) -> None:
        memory = self._house.memory
        memory.forms, memory.folder = self.wanted.forms, self.typing.text

    def _make(self) -> None:
        self._keep()
        folder, forms = self.typing.text.strip(), self.wanted.forms
        if not forms or not folder:
            self._refuse("Choose at least one form." if not forms else "Say in which folder the extracts are wanted.")
            return
        # All the works' departments are asked for unnamed: then one given up is told what is withdrawn from it.
        every = () if self._is_every else self._may
        codes = every if self.wanted.whole else (self._code,)
        self.is_making, self.progress, self.said = True, None, ""
        self._stop.clear()
        self.write()
        self.ask("extract", lambda: self._done(codes, forms, folder), self._show_made, self._refuse)

    def _done(self, codes: tuple[str, ...], forms: tuple[str, ...], folder: str) -> ExtractsMade:
        """Have them made; runs in a thread."""
        try:
            return self._doer.extract(codes, forms, folder, self._tell, lambda: self._stop.is_set() or stopped())
        except SpecregError:
            raise
        except Exception as error:
            # A mistake of the program: the sentence for one while reading would say that nothing was changed.
            raise Refused(
                "The extracts were not all made",
                f"{type(error).__name__}: {error}",
                "What was numbered before stays made; ask again for the rest",
            ) from error

    def _tell(self, progress: Progress) -> None:
        self.post_message(Told(progress))

    def on_told(self, told: Told) -> None:
        """Paint how far it is."""
        self.progress = told.progress
        if self.is_making:
            self.write()

    def _show_made(self, made: ExtractsMade) -> None:
        self.is_making, self.made = False, made
        self.write()
        self._house.look()

    def _refuse(self, sentence: str) -> None:
        self.is_making, self.said = False, f"~ {sentence}"
        self.write()
        self._house.look()
