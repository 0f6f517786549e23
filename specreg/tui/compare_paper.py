"""Two states of an order beside each other on paper: the counts, then every change, old over or beside new."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import zip_longest

from rich.cells import cell_len

from specreg.core.counts import grouped, so_many
from specreg.core.word_changes import RunKind
from specreg.services.comparison_readings import ChangeLaid, ComparisonPage, FieldLaid, StateLine
from specreg.tui.changed_words import flowed, new_side, old_side
from specreg.tui.item_rows import note_name
from specreg.tui.labelled import in_rows
from specreg.tui.passages import Part, Passage
from specreg.tui.pieces import Line, Piece, cut, cut_line, fitted, line, width_of
from specreg.tui.signs import role_of

SIDE_BY_SIDE = 116
"""Cells of paper from which on old and new stand beside each other: a screen of 120."""

WIDEST = 176
"""Cells beyond which the two columns would drift too far apart."""

INSET, LABEL = 4, 13
LEAST_TEXT = 24
"""Cells of text below which a field's label stands in a line of its own."""

BLANK = "(blank)"

ALL, MINE, SAFETY, REAL = 1, 2, 3, 4
VIEWS: Mapping[int, str] = {ALL: "all", MINE: "mine", SAFETY: "safety", REAL: "real only"}
"""What each view is called."""


@dataclass(frozen=True, slots=True)
class Shown:
    """The changes of one view, each under a key of its own."""

    page: ComparisonPage
    view: int
    changes: Mapping[str, ChangeLaid]

    @property
    def head(self) -> str:
        """What the head of the page says."""
        mine = f" ({self.page.department})" if self.page.department else ""
        return f"Compare {self.page.old} with {self.page.new} · {VIEWS[self.view]}{mine}"


def shown(page: ComparisonPage, view: int) -> Shown:
    """The changes that belong in a view."""
    wanted = {SAFETY: lambda change: change.safety, REAL: lambda change: change.real}.get(view, lambda _: True)
    keyed: dict[str, ChangeLaid] = {}
    for change in filter(wanted, page.changes):
        key = f"{change.kind} {change.sign} {change.number} {change.former}"
        # A department may have an item in several steps.
        while key in keyed:
            key += "'"
        keyed[key] = change
    return Shown(page, view, keyed)


def compare_parts(what: Shown, width: int) -> tuple[Part, ...]:
    """The counts, then a passage for each change, each line at most `width` cells."""
    room = min(width, WIDEST)
    page = what.page
    parts: list[Part] = [*_sums(page, room)]
    if what.view in (SAFETY, REAL) and page.changes:
        said = f"{VIEWS[what.view]}: {grouped(len(what.changes))} of {so_many(len(page.changes), 'change')}"
        parts.append(line(Piece(said, "quiet")))
    parts.append(())
    if not what.changes:
        return (*parts, *flowed((Piece(_nothing(what)),), room))
    names = page.old, page.new
    return (
        *parts,
        *(Passage(key, partial(change_lines, change, *names, room)) for key, change in what.changes.items()),
    )


def _sums(page: ComparisonPage, width: int) -> Iterable[Line]:
    """How many of each; the sum of a department's lines; sheets are counted apart, for the counts are of items."""
    if page.department:
        return flowed((Piece(f"{page.department}: ", "text"), Piece(page.lines)), width)
    counts = page.counts
    sheets = sum(change.kind == "drawing" for change in page.changes)
    said = [
        f"{grouped(counts.added)} added", f"{grouped(counts.deleted)} deleted", f"{grouped(counts.changed)} altered",
        f"{grouped(counts.renumbered_only)} renumbered only", f"{grouped(counts.spacing_only)} spacing only",
        *([so_many(sheets, "drawing sheet")] if sheets else []),
    ]  # fmt: skip
    return (cut_line((Piece(row, "text"),), width) for row in in_rows(said, width))


def _nothing(what: Shown) -> str:
    old, new = what.page.old, what.page.new
    if what.view == MINE:
        return f"Nothing changed for {what.page.department} between {old} and {new}."
    if not what.page.changes:
        return f"Nothing differs between {old} and {new}."
    if what.view == SAFETY:
        return f"No safety item differs between {old} and {new}."
    return f"Nothing differs between {old} and {new} but numbers and spaces."


# One change ---------------------------------------------------------------------------------------------------------


def change_lines(change: ChangeLaid, old: str, new: str, width: int) -> tuple[Line, ...]:
    """One change: sign, number and title, then field by field what stood in the old state and stands in the new."""
    lines = list(_head(change, width))
    margin = max(cell_len(old), cell_len(new)) + 2
    for field in change.fields if change.real else ():
        lines += _field(change, field, (f"{old:<{margin}}", f"{new:<{margin}}"), width)
    return tuple(lines)


def _head(change: ChangeLaid, width: int) -> Iterable[Line]:
    """Sign, number, title and how it stands; on the right the note."""
    number = f"{change.former} → {change.number}" if change.former else change.number
    head: Line = (Piece(f"{change.sign:<2}", role_of(change.sign)), Piece(f"{number}  ", "text"))
    said = [Piece("§ ", "safety")] if change.safety else []
    said.append(Piece(change.title, "strong" if change.real else ""))
    said += [Piece(f" · {text}", "quiet") for text in _asides(change) if text]
    note = note_name(change.note)
    room = width - (cell_len(note) + 2 if note else 0)
    beside = width_of(head)
    if room - beside < LEAST_TEXT:
        yield (*fitted(head, room + 2), Piece(note, "quiet")) if note else head
        head, note, beside, room = (), "", INSET, width
    for at, row in enumerate(flowed(said, max(8, room - beside))):
        if at or not head:
            yield (Piece(" " * min(beside, INSET)), *row)
        elif note:
            yield (*fitted((*head, *row), room + 2), Piece(note, "quiet"))
        else:
            yield (*head, *row)


def _asides(change: ChangeLaid) -> tuple[str, ...]:
    """What stands behind the title: what it is, and how it stands."""
    only = ""
    if not change.real:
        spaces = f"only spaces differ in {', '.join(field.label for field in change.fields)}" if change.fields else ""
        only = f"renumbered, and {spaces}" if change.former and spaces else spaces or "renumbered only"
    return ("drawing" if change.kind == "drawing" else "", change.why, only)


def _field(change: ChangeLaid, field: FieldLaid, margins: tuple[str, str], width: int) -> list[Line]:
    """One field: its label, then old over new, or old beside new where there is room."""
    narrow = width - INSET - LABEL - len(margins[0]) < LEAST_TEXT
    room = max(8, width - INSET - (0 if narrow else LABEL))
    return _labelled(field.label, _rows(change, field, margins, room, width >= SIDE_BY_SIDE), narrow, width)


def _rows(
    change: ChangeLaid, field: FieldLaid, margins: tuple[str, str], room: int, side_by_side: bool
) -> Sequence[Line]:
    if all(run.kind in (RunKind.SAME, RunKind.SPACING) for run in field.runs):
        return [line(Piece("only spaces differ", "quiet"))]
    sides = [
        (margin, said)
        for margin, said, missing in zip(margins, _sides(change, field), "+-", strict=True)
        if change.sign != missing
    ]
    if not side_by_side:
        return [row for margin, said in sides for row in _stated(margin, said, room)]
    half = room // 2 - 1
    columns = [_stated(margin, said, half) for margin, said in sides]
    return [(*fitted(row[0], half), Piece("  "), *row[-1]) if len(row) > 1 else row[0]
            for row in zip_longest(*columns, fillvalue=())]  # fmt: skip


def _sides(change: ChangeLaid, field: FieldLaid) -> tuple[Line, Line]:
    """Old and new text; what is wholly new or gone needs no brackets."""
    if change.sign in ("+", "-"):
        return (Piece(field.old),), (Piece(field.new),)
    blank = (Piece(BLANK, "quiet"),)
    return old_side(field.runs) or blank, new_side(field.runs) or blank


def _stated(margin: str, said: Line, width: int) -> list[Line]:
    """One side: the name of its state in the margin, its text beside."""
    rows = flowed(said, max(4, width - len(margin)))
    return [(Piece(margin if not at else " " * len(margin), "caption"), *row) for at, row in enumerate(rows)]


def _labelled(label: str, rows: Sequence[Line], narrow: bool, width: int) -> list[Line]:
    """Rows with the label before the first; over them where it is long or the paper narrow."""
    inset = " " * (INSET if narrow else INSET + LABEL)
    head = Piece(f"{' ' * INSET}{cut(label, width - INSET)}", "caption")
    if narrow or cell_len(label) >= LABEL:
        return [(head,), *((Piece(inset), *row) for row in rows)]
    return [(*fitted((head,), INSET + LABEL), *rows[0]), *((Piece(inset), *row) for row in rows[1:])]


# What is missing ----------------------------------------------------------------------------------------------------


def too_few(states: Sequence[StateLine]) -> str:
    """Why nothing can be compared yet, and from when on it can."""
    if not states:
        return "Nothing is issued yet and nothing is edited, so there is nothing to compare."
    if len(states) == 1 and not states[0].issued_on:
        return (
            "Nothing is issued yet: there is only the order as it stands. Once its first revision is issued, "
            "what is edited after it can be compared with it."
        )
    return (
        f"Only revision {states[0].name} is issued, and nothing was edited since, so there is nothing to compare it "
        "with. The next edit, or the next revision, can be compared with it."
    )


def usual_pair(states: Sequence[StateLine]) -> tuple[str, str] | None:
    """The two states compared at first: the last two, which are the last issued and the order as it stands where edits
    are open; None where there are not two."""
    return (states[-2].name, states[-1].name) if len(states) > 1 else None
