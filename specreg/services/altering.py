"""Edits under notes: alter, insert, delete, restore, undo, redo.

After the first issue every edit belongs to exactly one open note; before it, to the first compilation. An item open
under one note is refused to another. What was written is never lost: an edit is kept at once, and undone by the person
who made it until somebody alters the item again or the note is issued.
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from specreg.core.counts import so_many
from specreg.core.errors import AlteredMeanwhile, NotFound, Refused, WrongUse
from specreg.core.model import FIELDS, RESERVED_LABELS, Item, Kind, Layout, Note, State
from specreg.core.numbering import INSERTION_LETTERS, depth, is_house_form, is_under, levels, next_insertion, number_key
from specreg.core.word_changes import was_and_now
from specreg.services.office import Office
from specreg.store import drawings, edits, items, notes
from specreg.store.edits import Change
from specreg.store.items import Standing
from specreg.store.notes import NoteStanding


@dataclass(frozen=True, slots=True)
class Edited:
    """An item after an edit, the note it stands under, and who had signed that note: these signatures have lapsed."""

    item: Item
    note: Note
    lapsed: tuple[str, ...] = ()


def find_item(office: Office, number: str) -> Standing:
    """Where the item of a number stands. Raises NotFound, naming the nearest numbers."""
    found = items.by_number(office.book, office.order_id, number)
    if found is None:
        near = _near_numbers(office, number)
        raise NotFound(
            f"Item {number} of order {office.order_no}",
            "there is none",
            f"Near it are {near}" if near else "Look it up with `specreg find`",
        )
    return found


def _near_numbers(office: Office, number: str) -> str:
    """The numbers beside it under the same heading, then those that look alike."""
    there = [one.item.number for one in items.all_now(office.book, office.order_id)]
    typed, above = number_key(number), levels(number)[:-1]
    under = sorted((one for one in there if above and levels(one)[:-1] == above), key=number_key)
    place = sum(number_key(one) < typed for one in under)
    alike = difflib.get_close_matches(number.upper(), there, n=2, cutoff=0.8)
    return ", ".join(dict.fromkeys([*under[max(place - 1, 0) : place + 1], *alike]))


def alter(office: Office, number: str, said: Mapping[str, str], note: str = "", as_read: bytes | None = None) -> Edited:
    """Alter fields of an item. With `as_read`, the digest of the item as the person saw it, a change made meanwhile
    by somebody else refuses the edit, and nothing is lost."""
    office.require("alter items")
    with office.book.act(office.person.code, "alter", office.now, office.order_id) as act:
        standing = find_item(office, number)
        if as_read is not None and standing.digest != as_read:
            raise AlteredMeanwhile(
                f"Alter {standing.item.number}", "somebody has altered it since you read it", "Look at it again first"
            )
        altered = as_altered(standing.item, said)
        target = _note_for(office, standing, note)
        lapsed = _signed(office, target)
        act.words = f"{standing.item.number}: {_in_words(standing.item, altered)}"
        _write(office, target, [(standing.item_id, altered)], act.words)
    return Edited(altered, target.note, lapsed)


def as_altered(item: Item, said: Mapping[str, str]) -> Item:
    """The item with fields altered. Raises WrongUse for a field that there is not, Refused for an item that is not live
    or says so already."""
    _check_labels(item, said)
    altered = _with_fields(item, said)
    if item.state is not State.LIVE:
        raise Refused(
            f"Alter {item.number}", f"it is {item.state.value}", f"Bring it back with `specreg restore {item.number}`"
        )
    if altered == item:
        raise Refused(f"Alter {item.number}", "it says so already", "Nothing was written")
    return altered


def insert(office: Office, number: str, said: Mapping[str, str], note: str = "", after: str = "") -> Edited:
    """Put a new item in: at the number given, or at the next letter after an item (4.1.2 -> 4.1.2A)."""
    office.require("alter items")
    with office.book.act(office.person.code, "insert", office.now, office.order_id) as act:
        taken = items.taken_numbers(office.book, office.order_id)
        beside = find_item(office, after).item if after else None
        number = _next_number(beside, taken) if beside is not None else number.strip()
        if number_key(number) in taken:
            there = items.by_number(office.book, office.order_id, number)
            what = f"{there.item.title} ({there.item.state.value})" if there else "an item that is no more"
            raise Refused(f"Insert {number}", f"the number is taken by {what}", "Numbers are never used twice")
        check_form(office, number)
        item = _new_item(office, number, said, beside)
        target = _note_for(office, None, note)
        lapsed = _signed(office, target)
        act.words = f"{number} inserted: {item.title}"
        item_id = items.new_identity(office.book, office.order_id)
        _write(office, target, [(item_id, item)], act.words, new=True)
    return Edited(item, target.note, lapsed)


def _next_number(beside: Item, taken: set[str]) -> str:
    try:
        return next_insertion(beside.number, taken)
    except ValueError as error:
        raise Refused(f"Insert after {beside.number}", str(error), "Give a number of its own") from error


def check_form(office: Office, number: str) -> None:
    """Raise WrongUse for a number that the house does not give; an outsider numbers as he likes."""
    if office.order.numbering != "ours":
        return
    if not is_house_form(number):
        raise WrongUse(f"Insert {number}", "it is not a number of the form 4.1.2 or 4.1.2A", "Give such a number")
    misread = sorted(set(number.upper()) & set("IOQSXZ"))
    if misread:
        raise WrongUse(
            f"Insert {number}",
            f"{' and '.join(misread)} would be taken for a figure on a print",
            f"Letters for numbers put in between are {', '.join(INSERTION_LETTERS)}",
        )


def _signed(office: Office, target: NoteStanding) -> tuple[str, ...]:
    """Who has signed a note, as it stands, and in what capacity: what lapses with the next edit under it."""
    today = notes.digest_of_edits(office.book, target.note_id)
    return tuple(
        f"{one.name} ({one.signed_as})" for one in notes.signatures(office.book, target.note_id) if one.signed == today
    )


def _new_item(office: Office, number: str, said: Mapping[str, str], beside: Item | None) -> Item:
    """`beside` is the item it is put after: where an outsider's numbers have one level, only this tells its section."""
    if depth(number) == 1 and (beside is None or beside.kind is Kind.SECTION):
        section, kind, layout = number, Kind.SECTION, Layout.HEADING
    else:
        section = beside.section if beside is not None else _section_of(office, number)
        kind, layout = Kind.ITEM, Layout.ROW
        _refuse_deleted_section(office, f"Insert {number}", section)
    item = Item(number=number, kind=kind, layout=layout, section=section)
    _check_labels(item, said)
    item = _with_fields(item, said)
    if not item.title:
        raise WrongUse(f"Insert {number}", "it has no description", "Give one as Description=TEXT")
    if kind is Kind.ITEM and item.text and not any(getattr(item, field.name) for field in FIELDS):
        item = replace(item, kind=Kind.CLAUSE, layout=Layout.HEADING)
    return item


def _with_fields(item: Item, said: Mapping[str, str]) -> Item:
    """The item with what is said, in the form in which it would come back from the order's folder.

    Under a heading of its own it is an item as soon as something calls for it to be made, and a clause without.
    """
    from specreg.intake.markdown_order import kind_under_heading
    from specreg.intake.plain_text import plain_item

    for label, text in said.items():
        item = item.with_field(label, text)
    item = plain_item(item)
    if item.layout is Layout.HEADING and item.kind is not Kind.SECTION:
        item = replace(item, kind=kind_under_heading(item))
    return item


def _section_of(office: Office, number: str) -> str:
    sections = [row[0] for row in items.section_counts(office.book, office.order_id, 0)]
    for section in sections:
        if is_under(number, section):
            return section
    there = ", ".join(sections) or "none"
    raise WrongUse(f"Insert {number}", f"there is no section for it; sections are {there}", "Insert the section first")


def _refuse_deleted_section(office: Office, asked: str, section: str) -> None:
    standing = items.by_number(office.book, office.order_id, section)
    if standing is not None and standing.item.state is State.DELETED:
        raise Refused(asked, f"section {section} is deleted", f"Bring it back first with `specreg restore {section}`")


def delete(office: Office, number: str, reason: str, note: str = "") -> Edited:
    """Delete an item: it stays listed with the reason, and its number stays taken."""
    office.require("alter items")
    if not reason.strip():
        raise WrongUse(f"Delete {number}", "no reason is given", "Say why with --reason")
    with office.book.act(office.person.code, "delete", office.now, office.order_id) as act:
        standing = find_item(office, number)
        if standing.item.state is State.DELETED:
            raise Refused(f"Delete {number}", f"it is deleted already ({standing.item.reason})", "Nothing was written")
        if standing.item.kind is Kind.SECTION:
            alive = [
                one.item.number
                for one in items.page(office.book, office.order_id, standing.item.section, 0, 10_000)
                if one.item.is_line
            ]
            if alive:
                stand = f"{so_many(len(alive), 'live item')} stand{'s' if len(alive) == 1 else ''} in it"
                raise Refused(f"Delete section {number}", stand, "Delete these first")
        target = _note_for(office, standing, note)
        lapsed = _signed(office, target)
        gone = replace(standing.item, state=State.DELETED, reason=reason.strip())
        act.words = f"{standing.item.number} deleted: {reason.strip()}"
        _write(office, target, [(standing.item_id, gone)], act.words)
    return Edited(gone, target.note, lapsed)


def restore(office: Office, number: str, note: str = "") -> Edited:
    """Bring a deleted or reserved item back to life."""
    office.require("alter items")
    with office.book.act(office.person.code, "restore", office.now, office.order_id) as act:
        standing = find_item(office, number)
        if standing.item.state is State.LIVE:
            raise Refused(f"Restore {number}", "it is live", "Nothing was written")
        if standing.item.kind is not Kind.SECTION:
            _refuse_deleted_section(office, f"Restore {number}", standing.item.section)
        target = _note_for(office, standing, note)
        lapsed = _signed(office, target)
        back = replace(standing.item, state=State.LIVE, reason="")
        act.words = f"{standing.item.number} live again"
        _write(office, target, [(standing.item_id, back)], act.words)
    return Edited(back, target.note, lapsed)


def _check_labels(item: Item, said: Mapping[str, str]) -> None:
    own = {label.lower() for label, _ in item.other}
    for label in said:
        name = label.strip().lower()
        if name in ("item", "number"):
            raise Refused(f"Renumber {item.number}", "numbers of our orders are stable", "Delete it and insert another")
        if item.kind is Kind.SECTION and name not in ("description", "title", "text"):
            raise WrongUse(
                f"{label} of section {item.number}", "a section has a description and a text only", "Name an item"
            )
        if name in ("deleted", "reserved"):
            raise WrongUse(f"{label} of {item.number}", "that is an act, not a field", "Use `specreg delete`")
        if name not in RESERVED_LABELS and name not in own and name != "title":
            known = ["Description", "Text", *(field.label for field in FIELDS)]
            near = difflib.get_close_matches(label.strip().capitalize(), known, n=1, cutoff=0.5)
            raise WrongUse(
                f"Field '{label}' of {item.number}",
                "there is no such field",
                f"Did you mean {near[0]}?" if near else f"Fields are {', '.join(known)}",
            )


def _in_words(before: Item, after: Item) -> str:
    labels = ["Description", "Text", *(field.label for field in FIELDS), *(label for label, _ in after.other)]
    told = [
        was_and_now(label, before.get(label), after.get(label))
        for label in labels
        if before.get(label) != after.get(label)
    ]
    return "; ".join(told) or "nothing altered"


def _note_for(office: Office, standing: Standing | None, named: str) -> NoteStanding:
    """The note an edit goes under. An item open under one note is refused to another."""
    if standing is not None and standing.note_id is not None:
        open_under = notes.by_id(office.book, standing.note_id)
        if named and office.note(named).note_id != standing.note_id:
            raise Refused(
                f"Alter {standing.item.number} under note {named}",
                f"it stands altered under {open_under.note.name} and not yet issued",
                f"Alter it under {open_under.note.name}, or issue that first",
            )
        return open_under
    return office.note_to_edit_under(named)


def _write(
    office: Office, target: NoteStanding, said: Sequence[tuple[int, Item]], words: str, new: bool = False
) -> None:
    changes: list[Change] = []
    for item_id, item in said:
        before = None if new else edits.open_text(office.book, item_id)
        put_item(office, item_id, target.note_id, item)
        changes.append(Change(item_id, before[1] if before else None, items.item_as_json(item)))
    edits.log(office.book, office.order_id, target.note_id, office.person.code, office.now, words, changes)


def put_item(office: Office, item_id: int, note_id: int, item: Item) -> None:
    """Write what an item says under a note, with the drawings it calls up. Inside an act."""
    items.put_open(office.book, office.order_no, office.order_id, item_id, note_id, item)
    drawings.set_calls(office.book, item_id, [drawings.match(office.book, written) for written in item.drawings])


# Undo and redo ------------------------------------------------------------------------------------------------------


def undo(office: Office) -> str:
    """Take back this person's last edit; returns it in words."""
    return _swap(office, undone=False)


def redo(office: Office) -> str:
    """Make this person's last undone edit again; returns it in words."""
    return _swap(office, undone=True)


def _swap(office: Office, undone: bool) -> str:
    office.require("alter items")
    verb = "redo" if undone else "undo"
    with office.book.act(office.person.code, verb, office.now, office.order_id) as act:
        edit = edits.last(office.book, office.order_id, office.person.code, undone)
        if edit is None:
            why = (
                "you have undone no edit, or have altered something since"
                if undone
                else "no edit of yours waits to be issued"
            )
            raise Refused(f"Nothing to {verb}", why, "Nothing was written")
        for change in edit.changes:
            _refuse_overtaken(office, verb, change, change.before if undone else change.after)
            _refuse_number_taken(office, verb, change, change.after if undone else change.before)
        items.free_numbers(office.book, [change.item_id for change in edit.changes])
        for change in edit.changes:
            _put_back(office, edit.note_id, change.item_id, change.after if undone else change.before)
        edits.mark(office.book, edit.edit_id, not undone)
        act.words = edit.words
    return edit.words


def _refuse_overtaken(office: Office, verb: str, change: Change, expected: str | None) -> None:
    now = edits.open_text(office.book, change.item_id)
    if (now[1] if now else None) == expected:
        return
    standing = items.by_id(office.book, change.item_id)
    name = standing.item.number if standing else "an item"
    raise AlteredMeanwhile(
        f"{verb.capitalize()} the edit of {name}", "it has been altered since", f"See `specreg history {name}`"
    )


def _refuse_number_taken(office: Office, verb: str, change: Change, text: str | None) -> None:
    """An item that stands no longer has let go of its number, and somebody may have given it to another since."""
    if items.by_id(office.book, change.item_id) is not None or text is None:
        return
    number = items.item_from_json(text).number
    holder = items.by_number(office.book, office.order_id, number)
    if holder is not None:
        raise AlteredMeanwhile(
            f"{verb.capitalize()} the edit of {number}",
            f"the number is now that of {holder.item.title} ({holder.item.state.value})",
            "Insert the item anew under another number",
        )


def _put_back(office: Office, note_id: int, item_id: int, text: str | None) -> None:
    if text is None:
        items.take_back_open(office.book, item_id)
        back = items.by_id(office.book, item_id)
        if back is not None:
            written = [drawings.match(office.book, one) for one in back.item.drawings]
            drawings.set_calls(office.book, item_id, written)
    else:
        put_item(office, item_id, note_id, items.item_from_json(text))
