"""What changed between two revisions, or since the last one; for all, or in one department's lines."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from specreg.core.comparing import Comparison, compare_items, compare_pairs
from specreg.core.drawing_up import Issue, Since, draw_up
from specreg.core.errors import NotFound
from specreg.core.extracts import ExtractLine
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.shares import reconcile, shares
from specreg.core.standards import Department
from specreg.services.office import Office
from specreg.services.standing import as_issued, as_it_stands
from specreg.store import drawings, items, revisions
from specreg.store.revisions import Revision

OPEN = "open"
"""Names the order as it stands, open edits and all, where a revision's letter is asked for."""


@dataclass(frozen=True, slots=True)
class LineChanges:
    """A department's lines: how many before and now, those added or altered as its paper would show them, those
    withdrawn. Lines before + added - withdrawn = lines now."""

    department: str
    before: int
    now: int
    changed: tuple[ExtractLine, ...]
    withdrawn: tuple[ExtractLine, ...]

    @property
    def added(self) -> int:
        """How many lines are new."""
        return sum(line.sign == "+" for line in self.changed)

    @property
    def altered(self) -> int:
        """How many say something else."""
        return len(self.changed) - self.added


@dataclass(frozen=True, slots=True)
class Compared:
    """Two states of an order beside each other.

    `numbers_off` are items whose words may be the same but of which more or fewer are wanted, `sheets` those that came
    to another revision: (number, old, new). `lines` only when a department was asked for, and then the comparison is
    of its items only.
    """

    old: str
    new: str
    comparison: Comparison
    numbers_off: tuple[tuple[str, str, str], ...] = ()
    sheets: tuple[tuple[str, str, str], ...] = ()
    lines: LineChanges | None = None


def compare(office: Office, old: str, new: str, department: str = "") -> Compared:
    """Compare two revisions by letter; `open` means the order as it stands."""
    with office.book.reading():
        if OPEN not in (old.strip().lower(), new.strip().lower()) and not department:
            return _by_record(office, office.revision(old), office.revision(new))
        before_name, before = _state(office, old)
        after_name, after = _state(office, new)
        if department:
            known = after.standards.department(department) or before.standards.department(department)
            if known is None:
                there = ", ".join(one.code for one in after.standards.departments)
                raise NotFound(f"Department {department}", f"the works has {there}", "Give one of these codes")
            return _for_department(before_name, before, after_name, after, known)
        comparison = compare_items(before.items, after.items, _numbering(after))
        return Compared(
            before_name, after_name, comparison, _numbers_off(before, after, comparison), _sheets(before, after)
        )


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
            numbers_off.append((item, was.written, now.written))
    return Compared(
        old.letter,
        new.letter,
        compare_pairs(pairs, unchanged),
        tuple((item.number, was, now) for item, was, now in sorted(numbers_off, key=lambda one: one[0].place_key)),
        _sheets_between(office, old, new),
    )


def _sheets_between(office: Office, old: Revision, new: Revision) -> tuple[tuple[str, str, str], ...]:
    book, order_id = office.book, office.order_id
    first, last = sorted((old.entry, new.entry))
    changed = drawings.changed_between(book, order_id, first, last)
    was, now = (
        {sheet.name: sheet.revision for sheet in drawings.list_of_order(book, order_id, entry, changed)}
        for entry in (old.entry, new.entry)
    )
    return _changed_sheets(was, now)


def _state(office: Office, name: str) -> tuple[str, Picture]:
    if name.strip().lower() == OPEN:
        return OPEN, as_it_stands(office)
    revision = office.revision(name)
    return revision.letter, as_issued(office, revision)


def _numbering(picture: Picture) -> Literal["ours", "theirs"]:
    return "theirs" if picture.order.numbering == "theirs" else "ours"


def _numbers_off(before: Picture, after: Picture, found: Comparison) -> tuple[tuple[str, str, str], ...]:
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
            told.append((item.number, old.written, new.written))
    return tuple(told)


def _sheets(before: Picture, after: Picture) -> tuple[tuple[str, str, str], ...]:
    was, now = ({sheet.name: sheet.revision for sheet in picture.sheets} for picture in (before, after))
    return _changed_sheets(was, now)


def _changed_sheets(was: Mapping[str, str], now: Mapping[str, str]) -> tuple[tuple[str, str, str], ...]:
    return tuple(
        (name, _mark(was.get(name)), _mark(now.get(name)))
        for name in sorted({*now, *was}, key=number_key)
        if was.get(name) != now.get(name)
    )


def _mark(mark: str | None) -> str:
    return "not listed" if mark is None else mark or "(none)"


def _for_department(old: str, before: Picture, new: str, after: Picture, department: Department) -> Compared:
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
            tuple(line for line in paper.lines if line.sign),
            paper.withdrawn,
        ),
    )
