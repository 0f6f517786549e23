"""What changed between two revisions, or since the last one; for all, or in one department's lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from specreg.core.comparing import Comparison, compare_items
from specreg.core.errors import NotFound
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.shares import Line, ShareChanges, share_changes, shares
from specreg.services.office import Office
from specreg.services.standing import as_issued, as_it_stands

OPEN = "open"
"""Names the order as it stands, open edits and all, where a revision's letter is asked for."""


@dataclass(frozen=True, slots=True)
class Compared:
    """Two states of an order beside each other. `lines` only when a department was asked for; `numbers_off` are items
    whose words may be the same but of which more or fewer are wanted, `sheets` those that came to another revision:
    (number, old, new)."""

    old: str
    new: str
    comparison: Comparison
    numbers_off: tuple[tuple[str, str, str], ...] = ()
    sheets: tuple[tuple[str, str, str], ...] = ()
    department: str = ""
    lines: ShareChanges | None = None
    old_lines: int = 0
    new_lines: int = 0


def compare(office: Office, old: str, new: str, department: str = "") -> Compared:
    """Compare two revisions by letter; `open` means the order as it stands."""
    with office.book.reading():
        before_name, before = _state(office, old)
        after_name, after = _state(office, new)
        if department:
            known = after.standards.department(department) or before.standards.department(department)
            if known is None:
                there = ", ".join(one.code for one in after.standards.departments)
                raise NotFound(f"Department {department}", f"the works has {there}", "Give one of these codes")
            return _for_department(before_name, before, after_name, after, known.code)
        comparison = compare_items(before.items, after.items, _numbering(after))
        return Compared(before_name, after_name, comparison, _numbers_off(before, after), _sheets(before, after))


def _state(office: Office, name: str) -> tuple[str, Picture]:
    if name.strip().lower() == OPEN:
        return OPEN, as_it_stands(office)
    revision = office.revision(name)
    return revision.letter, as_issued(office, revision)


def _numbering(picture: Picture) -> Literal["ours", "theirs"]:
    return "theirs" if picture.order.numbering == "theirs" else "ours"


def _numbers_off(before: Picture, after: Picture) -> tuple[tuple[str, str, str], ...]:
    """An edit of an assembly changes the numbers off of its parts, though nobody touched them."""
    told = []
    for item in after.lines:
        key = number_key(item.number)
        old, new = before.totals.get(key), after.totals.get(key)
        if old is not None and new is not None and old.written != new.written:
            told.append((item.number, old.written, new.written))
    return tuple(told)


def _sheets(before: Picture, after: Picture) -> tuple[tuple[str, str, str], ...]:
    was = {sheet.name: sheet.revision or "(none)" for sheet in before.sheets}
    now = {sheet.name: sheet.revision or "(none)" for sheet in after.sheets}
    return tuple(
        (name, was.get(name, "not listed"), now.get(name, "not listed"))
        for name in dict.fromkeys([*now, *was])
        if was.get(name) != now.get(name)
    )


def _for_department(old: str, before: Picture, new: str, after: Picture, code: str) -> Compared:
    before_lines, after_lines = _share(before, code), _share(after, code)
    mine_before = tuple(dict.fromkeys(line.item for line in before_lines))
    mine_after = tuple(dict.fromkeys(line.item for line in after_lines))
    return Compared(
        old,
        new,
        compare_items(mine_before, mine_after, _numbering(after)),
        (),
        (),
        code,
        share_changes(before_lines, after_lines),
        len(before_lines),
        len(after_lines),
    )


def _share(picture: Picture, code: str) -> tuple[Line, ...]:
    return shares(picture.routed).get(code, ())
