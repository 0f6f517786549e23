"""What changed between two revisions, or since the last one; for all, or in one department's lines."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from specreg.core.comparing import Comparison, compare_items, compare_pairs
from specreg.core.counts import grouped, so_many
from specreg.core.drawing_up import Issue, Since, draw_up, paper_differences
from specreg.core.errors import NotFound
from specreg.core.extracts import ExtractLine
from specreg.core.model import Item, Sheet
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.shares import reconcile, shares
from specreg.core.standards import Department
from specreg.services.office import Office
from specreg.services.pictures import Pictures
from specreg.store import drawings, items, revisions
from specreg.store.revisions import Revision

OPEN = "open"
"""Names the order as it stands, open edits and all, where a revision's letter is asked for."""

NOT_LISTED = "not listed"
"""Stands for the revision of a sheet that is not on the drawing list."""


@dataclass(frozen=True, slots=True)
class ChangedLine:
    """A line of a department that changed, as its paper prints it.

    `old` and `new` are its item in the two states, None where it has no such line there; `differences` what the paper
    says otherwise on an altered line: (label, before, now).
    """

    printed: ExtractLine
    old: Item | None
    new: Item | None
    differences: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class LineChanges:
    """A department's lines: how many before and now, those added or altered as its paper would show them, those
    withdrawn. Lines before + added - withdrawn = lines now."""

    department: str
    before: int
    now: int
    changed: tuple[ChangedLine, ...]
    withdrawn: tuple[ChangedLine, ...]

    @property
    def added(self) -> int:
        """How many lines are new."""
        return sum(line.printed.sign == "+" for line in self.changed)

    @property
    def altered(self) -> int:
        """How many say something else."""
        return len(self.changed) - self.added

    def sum_in_words(self, old: str, new: str) -> str:
        """`108 lines at A + 3 added - 1 withdrawn = 110 at B; 5 altered`, from the names of the two states."""
        return (
            f"{so_many(self.before, 'line')} at {old} + {grouped(self.added)} added - "
            f"{grouped(len(self.withdrawn))} withdrawn = {grouped(self.now)} at {new}; {grouped(self.altered)} altered"
        )


@dataclass(frozen=True, slots=True)
class NumberOffChange:
    """An item, as the new state has it, of which another number is wanted than in the old."""

    item: Item
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class SheetChange:
    """A sheet that came to another revision; `old` and `new` are marks, or words where it has none."""

    sheet: Sheet
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class Compared:
    """Two states of an order beside each other.

    `numbers_off` are items whose words may be the same but of which more or fewer are wanted, `sheets` those that came
    to another revision. `lines` only when a department was asked for, and then the comparison is of its items only.
    """

    old: str
    new: str
    comparison: Comparison
    numbers_off: tuple[NumberOffChange, ...] = ()
    sheets: tuple[SheetChange, ...] = ()
    lines: LineChanges | None = None

    @property
    def number_off_only(self) -> tuple[NumberOffChange, ...]:
        """Those of `numbers_off` whose words are the same."""
        changed = {pair.new.number for pair in self.comparison.changed}
        return tuple(one for one in self.numbers_off if one.item.number not in changed)


def compare(office: Office, old: str, new: str, department: str = "", pictures: Pictures | None = None) -> Compared:
    """Compare two revisions by letter; `open` means the order as it stands. `pictures` saves drawing them anew."""
    with office.book.reading():
        before, after = revision_named(office, old), revision_named(office, new)
        if before is not None and after is not None and not department:
            return _by_record(office, before, after)
        drawn = pictures or Pictures(office)
        was, now = drawn.of(before), drawn.of(after)
        names = name_of(before), name_of(after)
        if department:
            known = now.standards.department(department) or was.standards.department(department)
            if known is None:
                there = ", ".join(one.code for one in now.standards.departments)
                raise NotFound(f"Department {department}", f"the works has {there}", "Give one of these codes")
            return _for_department(*names, was, now, known)
        comparison = compare_items(was.items, now.items, _numbering(now))
        return Compared(*names, comparison, _numbers_off(was, now, comparison), _sheets(was, now))


def revision_named(office: Office, name: str) -> Revision | None:
    """The revision of a letter; None for `open`, the order as it stands. Raises NotFound."""
    return None if name.strip().lower() == OPEN else office.revision(name)


def name_of(revision: Revision | None) -> str:
    """How a state is named: the inverse of `revision_named`."""
    return OPEN if revision is None else revision.letter


def _by_record(office: Office, old: Revision, new: Revision) -> Compared:
    """Two issued revisions: only what was recorded between them is read, so that the cost follows what changed."""
    if old.entry > new.entry:
        first, last = new, old
    else:
        first, last = old, new
    book, order_id = office.book, office.order_id
    pairs = [
        (items.one_at(book, item_id, old.entry), items.one_at(book, item_id, new.entry))
        for item_id in items.changed_between(book, order_id, first.entry, last.entry)
    ]
    unchanged = items.count_at(book, order_id, first.entry) - sum(
        (after if first is new else before) is not None for before, after in pairs
    )
    numbers_off = []
    for item_id in revisions.totals_between(book, order_id, first.entry, last.entry):
        before, item = (items.one_at(book, item_id, one.entry) for one in (old, new))
        if before is None or item is None or not (before.is_line and item.is_line):
            continue
        was, now = (revisions.total_at(book, item_id, one.entry) for one in (old, new))
        if was is not None and now is not None and was.written != now.written:
            numbers_off.append(NumberOffChange(item, was.written, now.written))
    return Compared(
        old.letter,
        new.letter,
        compare_pairs(pairs, unchanged),
        tuple(sorted(numbers_off, key=lambda one: one.item.place_key)),
        _sheets_between(office, old, new),
    )


def _sheets_between(office: Office, old: Revision, new: Revision) -> tuple[SheetChange, ...]:
    book, order_id = office.book, office.order_id
    first, last = sorted((old.entry, new.entry))
    changed = drawings.changed_between(book, order_id, first, last)
    was, now = (
        {sheet.name: sheet for sheet in drawings.list_of_order(book, order_id, entry, changed)}
        for entry in (old.entry, new.entry)
    )
    return _changed_sheets(was, now)


def _numbering(picture: Picture) -> Literal["ours", "theirs"]:
    return "theirs" if picture.order.numbering == "theirs" else "ours"


def _numbers_off(before: Picture, after: Picture, found: Comparison) -> tuple[NumberOffChange, ...]:
    """An edit of an assembly changes the numbers off of its parts, though nobody touched them.

    An item that has another number now is held against what was wanted under its former one.
    """
    former = {number_key(pair.new.number): number_key(pair.old.number) for pair in found.renumbered}
    added = {number_key(passage.item.number) for passage in found.added}
    told = []
    for item in after.lines:
        key = number_key(item.number)
        if key in added:
            continue
        old, new = before.totals.get(former.get(key, key)), after.totals.get(key)
        if old is not None and new is not None and old.written != new.written:
            told.append(NumberOffChange(item, old.written, new.written))
    return tuple(told)


def _sheets(before: Picture, after: Picture) -> tuple[SheetChange, ...]:
    return _changed_sheets(*({sheet.name: sheet for sheet in picture.sheets} for picture in (before, after)))


def _changed_sheets(was: Mapping[str, Sheet], now: Mapping[str, Sheet]) -> tuple[SheetChange, ...]:
    found = []
    for name in sorted({*now, *was}, key=number_key):
        old, new = was.get(name), now.get(name)
        if (old.revision if old else None) != (new.revision if new else None):
            found.append(SheetChange(new or was[name], _mark(old), _mark(new)))
    return tuple(found)


def _mark(sheet: Sheet | None) -> str:
    return NOT_LISTED if sheet is None else sheet.revision or "(none)"


def _for_department(old: str, new: str, before: Picture, after: Picture, department: Department) -> Compared:
    """What changed on this department's paper: the very lines that its extracts would print."""
    before_lines = shares(before.routed).get(department.code, ())
    after_lines = shares(after.routed).get(department.code, ())
    paper = draw_up(
        after,
        department,
        0,
        Issue(new, "", "", "", ""),
        after_lines,
        reconcile(after.routed, after.totals),
        Since(0, "", old, before, before_lines),
    )
    was = {line.identity: line for line in before_lines}
    changed = []
    for line, printed in zip(after_lines, paper.lines, strict=True):
        if printed.sign == "»":
            one = was[line.identity]
            told = paper_differences(one, line, before, after)
            changed.append(ChangedLine(printed, one.item, line.item, told))
        elif printed.sign:
            changed.append(ChangedLine(printed, None, line.item))
    items_were = {line.item.number: line.item for line in before_lines}
    mine_before = tuple(dict.fromkeys(line.item for line in before_lines))
    mine_after = tuple(dict.fromkeys(line.item for line in after_lines))
    return Compared(
        old=old,
        new=new,
        comparison=compare_items(mine_before, mine_after, _numbering(after)),
        lines=LineChanges(
            department.code,
            len(before_lines),
            len(after_lines),
            tuple(changed),
            tuple(ChangedLine(printed, items_were[printed.number], None) for printed in paper.withdrawn),
        ),
    )
