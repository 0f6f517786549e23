"""The sheet that makes extracts, as painted lines: what is asked, how far it is, what was made."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rich.cells import cell_len

from specreg.core.counts import so_many
from specreg.services.doings import ExtractsMade, Progress
from specreg.tui.pieces import Line, Piece, cut, cut_line, line, wrapped
from specreg.tui.typing_line import Typing, typing_pieces

FORMS = ("pdf", "txt", "xlsx", "csv", "md")
"""The forms an extract may be written in."""

DEPARTMENTS, FORM, FOLDER = range(3)
"""The rows of the sheet: departments and forms are chosen, the folder is typed."""

LABELS = ("Departments", "Forms", "Folder")
LABEL = 14
"""Cells of a label with the mark of the row one is in."""

WIDEST_BAR = 40
STOPPED = "What is listed was made and stays made; the others were not begun."
NONE_BEGUN = "None was begun."


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is chosen on the sheet, and where one stands on it.

    `name` is the department the sheet was opened for, `count` how many the person may make extracts of; `whole` says
    that all of these are wanted. `form` is the form under the cursor, `row` the row one is in.
    """

    name: str
    count: int
    forms: tuple[str, ...]
    whole: bool = False
    form: int = 0
    row: int = FORM

    @property
    def rows(self) -> tuple[int, ...]:
        """The rows one can go to; with one department there is nothing to choose."""
        return (DEPARTMENTS, FORM, FOLDER) if self.count > 1 else (FORM, FOLDER)

    def choices(self, row: int) -> tuple[str, ...]:
        """What can be chosen in a row, each with its box: round for one of several, square for any of several."""
        if row == FORM:
            return tuple(f"[{'x' if form in self.forms else ' '}] {form}" for form in FORMS)
        this = f"({' ' if self.whole else '•'}) {self.name}"
        return (this, f"({'•' if self.whole else ' '}) all {self.count}") if self.count > 1 else (self.name,)

    def at(self, row: int) -> int:
        """The choice of a row under the cursor."""
        return self.form if row == FORM else int(self.whole)

    def to_row(self, step: int) -> Wanted:
        """One row further; from the last one comes to the first."""
        return replace(self, row=self.rows[(self.rows.index(self.row) + step) % len(self.rows)])

    def to_choice(self, step: int) -> Wanted:
        """One choice further in the row, which of two departments' choices takes it."""
        if self.row == DEPARTMENTS:
            return replace(self, whole=step > 0)
        return replace(self, form=min(max(self.form + step, 0), len(FORMS) - 1))

    def chosen(self) -> Wanted:
        """The choice under the cursor turned over."""
        if self.row == DEPARTMENTS:
            return replace(self, whole=not self.whole)
        taken = {*self.forms} ^ {FORMS[self.form]}
        return replace(self, forms=tuple(form for form in FORMS if form in taken))

    def pointed_at(self, row: int, at: int) -> Wanted:
        """What a click on a choice makes of it; `at` is -1 for a row that is typed in."""
        there = replace(self, row=row) if row in self.rows else self
        if at < 0 or there.row != row:
            return there
        return replace(there, whole=bool(at)) if row == DEPARTMENTS else replace(there, form=at).chosen()


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a choice stands: a line of the sheet, from one cell to another; the row it is in, and which it is there."""

    line: int
    left: int
    right: int
    row: int
    at: int


@dataclass(frozen=True, slots=True)
class Asked:
    """The sheet that asks, and where its choices stand."""

    lines: tuple[Line, ...]
    spots: tuple[Spot, ...]

    def spot(self, at_line: int, cell: int) -> Spot | None:
        """The choice in a place."""
        return next((one for one in self.spots if one.line == at_line and one.left <= cell < one.right), None)


def asked(wanted: Wanted, folder: Typing, aside: str, said: str, width: int, most: int) -> Asked:
    """The sheet in at most `most` lines of `width` cells; `aside` is left out where there is no room, `said` is cut.

    `most` holds the rows and at least one line of what is said.
    """
    rows: list[Line] = []
    spots: list[Spot] = []
    for row in (DEPARTMENTS, FORM):
        laid, found = _choices(wanted, row, width)
        spots += [replace(one, line=one.line + len(rows)) for one in found]
        rows += laid
    spots.append(Spot(len(rows), 0, width, FOLDER, -1))
    typed = typing_pieces(folder, width - LABEL) if wanted.row == FOLDER else (Piece(folder.text, "text"),)
    rows.append((_label(wanted, FOLDER), *typed))
    told = [line(Piece(text, "warning")) for text in wrapped(said, width)] if said else []
    beside = [line(Piece(text, "quiet")) for text in wrapped(aside, width)] if aside else []
    blanks = min(2, max(0, most - len(rows) - len(told)))
    left = most - len(rows) - blanks
    if len(told) > left:
        told = [*told[: left - 1], cut_line((*told[left - 1], Piece(" " * width)), width)] if left > 0 else []
    if len(beside) > left - len(told):
        beside = []
    above = [()] if blanks == 2 else []
    below = [()] if blanks else []
    lines: tuple[Line, ...] = (*above, *rows, *beside, *told, *below)
    return Asked(lines, tuple(replace(one, line=one.line + len(above)) for one in spots))


def _label(wanted: Wanted, row: int) -> Piece:
    return Piece(f"{LABELS[row]:<{LABEL - 2}}{'▸' if row == wanted.row else ' '} ", "strong")


def _choices(wanted: Wanted, row: int, width: int) -> tuple[list[Line], list[Spot]]:
    """The choices of a row beside its label, in as many lines as they need."""
    room = max(8, width - LABEL)
    laid: list[Line] = [(_label(wanted, row),)]
    spots: list[Spot] = []
    used = 0
    for at, choice in enumerate(wanted.choices(row)):
        text = cut(choice, room)
        if used and used + 2 + cell_len(text) > room:
            laid.append((Piece(" " * LABEL),))
            used = 0
        gap = 2 if used else 0
        here = row == wanted.row and at == wanted.at(row)
        laid[-1] = (*laid[-1], Piece(" " * gap), Piece(text, "caret" if here else "text"))
        left = LABEL + used + gap
        used += gap + cell_len(text)
        spots.append(Spot(len(laid) - 1, left, LABEL + used, row, at))
    return laid, spots


def under_way(progress: Progress | None, is_stopping: bool, width: int) -> tuple[Line, ...]:
    """How far the extracts are: `3 of 13  Foundry`, and a bar of blocks."""
    if progress is None:
        lines = [line("Opening the book …"), ()]
    else:
        bar = min(WIDEST_BAR, width)
        done = bar * progress.done // max(1, progress.of)
        now = min(progress.done + 1, progress.of)
        lines = [
            cut_line(line(Piece(f"{now} of {progress.of}  ", "text"), progress.words), width),
            line(Piece("█" * done, "done"), Piece("░" * (bar - done), "quiet")),
        ]
    said = "Stopping: what is begun is finished first." if is_stopping else ""
    return (*lines, *(line(Piece(text, "warning")) for text in wrapped(said, width)))


def title_of(made: ExtractsMade) -> str:
    """What stands over what was made."""
    count = so_many(len(made.sentences), "extract") if made.sentences else "no extract"
    return f"Stopped: {count} written" if made.stopped else f"{count[:1].upper()}{count[1:]} written"


def outcome(made: ExtractsMade, width: int) -> tuple[Line, ...]:
    """That it was stopped, the folder, then a sentence for each extract, each line at most `width` cells."""
    lines: list[Line] = []
    if made.stopped:
        said = STOPPED if made.sentences else NONE_BEGUN
        lines += [line(Piece(text, "warning")) for text in wrapped(said, width)]
    if made.sentences:
        lines += [line(Piece("Written to", "quiet")), *(line(Piece(text, "text")) for text in
                                                      wrapped(made.folder, width)), ()]  # fmt: skip
    for sentence in made.sentences:
        first, *others = wrapped(sentence, width - 2) or [""]
        lines += [line("· ", first), *(line("  ", other) for other in others)]
    return tuple(lines)
