"""The compare page, from what comparing finds: every change laid out, in the order of the specification."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from difflib import SequenceMatcher

from specreg.core.comparing import Counts, Pair, field_changes
from specreg.core.drawing_up import why_withdrawn
from specreg.core.model import Item, State
from specreg.core.numbering import number_key
from specreg.core.word_changes import Run, word_changes
from specreg.services.comparing import (
    NOT_LISTED,
    OPEN,
    ChangedLine,
    Compared,
    LineChanges,
    SheetChange,
    compare,
    revision_named,
)
from specreg.services.comparison_readings import ChangeLaid, ComparisonPage, FieldLaid, StateLine
from specreg.services.office import Office
from specreg.services.pictures import Pictures
from specreg.store import items, notes, routes
from specreg.store.revisions import Revision

NUMBER_OFF = "Number off"
"""How many are wanted, as reckoned down the chain, apart from what the Off field of the item says."""

_NO_END = 2**62
_Placed = tuple[str, int, ChangeLaid]
"""A change with its place: the item's `place_key`, and the step for a line of a department."""


def states(office: Office) -> tuple[StateLine, ...]:
    """The states that can be compared, first to last. `rows` counts the rows of the whole list: sections, clauses,
    items, and the deleted, which stay listed. `open` is one of them only while something is edited."""
    if office.standing is None:
        return ()
    book, order_id = office.book, office.order_id
    issued = [
        StateLine(one.letter, one.issued_on, items.count_at(book, order_id, one.entry)) for one in office.revisions()
    ]
    edited = any(
        items.count_under(book, one.note_id) or routes.under_note(book, one.note_id) for one in office.open_notes()
    )
    return (*issued, *([StateLine(OPEN, "", items.count(book, order_id))] if edited else ()))


def comparison_page(
    office: Office, old: str, new: str, department: str = "", pictures: Pictures | None = None
) -> ComparisonPage:
    """Two states of the order on the desk beside each other, or one department's paper in them. Raises NotFound."""
    with office.book.reading():
        found = compare(office, old, new, department, pictures)
        under = _Notes(office, revision_named(office, old), revision_named(office, new))
    if found.lines is not None:
        return _of_department(found, found.lines, under)
    return ComparisonPage(
        old=found.old,
        new=found.new,
        changes=(*_in_order(_items_changed(found, under)), *map(_sheet_changed, found.sheets)),
        counts=_counted(found),
    )


class _Notes:
    """Under which note an item came to say what it says at the newer of two states."""

    def __init__(self, office: Office, old: Revision | None, new: Revision | None) -> None:
        book, order_id = office.book, office.order_id
        self._new_is_newer = _entry(new) >= _entry(old)
        first, last = sorted((_entry(old), _entry(new)))
        numbers = {
            one.note_id: "" if one.note.is_compilation else one.note.number for one in notes.of_order(book, order_id)
        }
        said: list[tuple[Item, str]] = []
        for item_id in items.changed_between(book, order_id, first, last):
            within = [(note, item) for entry, note, item in items.versions(book, item_id) if first < entry <= last]
            said.append((within[-1][1], numbers[within[-1][0]]))
        if last == _NO_END and first < last:
            for note_id in (one.note_id for one in office.open_notes()):
                said += [(standing.item, numbers[note_id]) for standing in items.under_note(book, note_id)]
        # Of two items of one number, the one that is wanted.
        said.sort(key=lambda one: one[0].state is State.LIVE)
        self._of = {number_key(item.number): note for item, note in said}

    def of(self, old: Item | None, new: Item | None) -> str:
        """The note's number, from the item in both states; empty for the first compilation, or when the item was not
        altered between them."""
        item = (new or old) if self._new_is_newer else (old or new)
        return self._of.get(number_key(item.number), "") if item else ""


def _entry(revision: Revision | None) -> int:
    return revision.entry if revision else _NO_END


def _in_order(changes: Iterable[_Placed]) -> list[ChangeLaid]:
    return [change for _, _, change in sorted(changes, key=lambda one: one[:2])]


# The whole specification --------------------------------------------------------------------------------------------


def _items_changed(found: Compared, under: _Notes) -> list[_Placed]:
    comparison = found.comparison
    changes = [
        _laid("+", passage.listed, passage.item, under)
        for passage in comparison.added
        if passage.item.state is State.LIVE
    ]
    for passage in (one for one in comparison.deleted if one.item.state is State.LIVE):
        place, step, change = _laid("-", passage.item, passage.listed, under)
        changes.append((place, step, replace(change, why=why_withdrawn(passage.listed))))
    off = {one.item.number: _field(NUMBER_OFF, one.old, one.new) for one in found.numbers_off}
    pairs = {id(pair): pair for pair in (*comparison.changed, *comparison.renumbered, *comparison.spacing)}
    for pair in pairs.values():
        more = (off[pair.new.number],) if pair.new.number in off else ()
        changes.append(_pair_laid(pair, more, under))
    paired = {pair.new.number for pair in pairs.values()}
    changes += [
        _laid("»", None, one.item, under, (off[one.item.number],))
        for one in found.numbers_off
        if one.item.number not in paired
    ]
    return changes


def _pair_laid(pair: Pair, more: tuple[FieldLaid, ...], under: _Notes) -> _Placed:
    fields = tuple(_field(one.label, one.old, one.new) for one in pair.fields)
    sign = "»" if pair.really_changed or more else "="
    place, step, change = _laid(sign, pair.old, pair.new, under, (*fields, *more))
    return place, step, replace(change, former=pair.old.number) if pair.renumbered else change


def _laid(sign: str, old: Item | None, new: Item | None, under: _Notes, fields: tuple[FieldLaid, ...] = ()) -> _Placed:
    """A change of an item, from what it said and says; one of the two is there."""
    shown = old if sign == "-" or new is None else new
    assert shown is not None
    change = ChangeLaid(
        kind="item",
        sign=sign,
        number=shown.number,
        former="",
        title=shown.title or shown.text.partition("\n")[0],
        safety=any(item.safety for item in (old, new) if item is not None),
        fields=fields,
        why="",
        note=under.of(old, new),
    )
    return shown.place_key, 0, change


def _field(label: str, old: str, new: str) -> FieldLaid:
    runs = _drawing_changes(old, new) if label == "Drawing" else word_changes(old, new)
    return FieldLaid(label, old, new, runs)


def _drawing_changes(old: str, new: str) -> tuple[Run, ...]:
    """Drawings with their revisions, drawing by drawing, so that the revision of one is never taken for another's."""
    before, after = (re.findall(r".+?(?:, |\Z)", text, re.DOTALL) for text in (old, new))
    was_named, now_named = ([one.split(" ")[0].rstrip(",") for one in drawings] for drawings in (before, after))
    runs: list[Run] = []
    for kind, first, last, to_first, to_last in SequenceMatcher(None, was_named, now_named, False).get_opcodes():
        if kind == "equal":
            for was, now in zip(before[first:last], after[to_first:to_last], strict=True):
                runs += word_changes(was, now)
        else:
            runs += word_changes("".join(before[first:last]), "".join(after[to_first:to_last]))
    return tuple(runs)


def _sheet_changed(change: SheetChange) -> ChangeLaid:
    sign = "+" if change.old == NOT_LISTED else "-" if change.new == NOT_LISTED else "»"
    fields = (_field("Revision", change.old, change.new),)
    return ChangeLaid("drawing", sign, change.sheet.name, "", change.sheet.title, False, fields, "", "")


def _counted(found: Compared) -> Counts:
    """As many of each as the page shows: those of another number off only count as altered."""
    comparison, counts = found.comparison, found.comparison.counts
    only = {one.item.number for one in found.number_off_only}
    renumbered = only & {pair.new.number for pair in comparison.renumbered}
    spacing = only & {pair.new.number for pair in comparison.spacing}
    return replace(
        counts,
        changed=counts.changed + len(only),
        renumbered_only=counts.renumbered_only - len(renumbered),
        spacing_only=counts.spacing_only - len(spacing),
        unchanged=counts.unchanged - len(only - renumbered - spacing),
    )


# One department -----------------------------------------------------------------------------------------------------


def _of_department(found: Compared, lines: LineChanges, under: _Notes) -> ComparisonPage:
    changes = [_line_laid(line, under) for line in (*lines.changed, *lines.withdrawn)]
    return ComparisonPage(
        old=found.old,
        new=found.new,
        changes=tuple(_in_order(changes)),
        counts=Counts(
            added=lines.added,
            deleted=len(lines.withdrawn),
            changed=lines.altered,
            renumbered=0,
            renumbered_only=0,
            spacing_only=0,
            unchanged=lines.now - len(lines.changed),
        ),
        department=lines.department,
        lines=lines.sum_in_words(found.old, found.new),
    )


def _line_laid(line: ChangedLine, under: _Notes) -> _Placed:
    printed = line.printed
    place, _, change = _laid(printed.sign, line.old, line.new, under, _fields_of(line))
    return place, printed.step, replace(change, why=printed.was if printed.sign == "-" else "")


def _fields_of(line: ChangedLine) -> tuple[FieldLaid, ...]:
    """What the item says otherwise, then what only the paper does; where both do, as the paper has it, which gives
    a drawing with its revision."""
    if line.old is None or line.new is None:
        return ()
    # The paper heads a step's number off as the item heads its Off field, which says something else.
    labelled = ((NUMBER_OFF if label == "Off" else label, old, new) for label, old, new in line.differences)
    paper = {label: _field(label, old, new) for label, old, new in labelled}
    own = [
        paper.pop(one.label) if one.label in paper else _field(one.label, one.old, one.new)
        for one in field_changes(line.old, line.new)
    ]
    return (*own, *paper.values())
