"""What taking in an order would do with each item: an order as read, held against the order as it stands.

In orders of our own the number says which item is which. An outsider's re-issued specification may renumber: there
the text is asked first. An item altered in the book since the folder was written is never overwritten.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from specreg.core.comparing import compare_items, field_changes
from specreg.core.counts import so_many
from specreg.core.faults import Fault, Place, Severity
from specreg.core.model import Item, Order, State
from specreg.core.numbering import number_key
from specreg.core.record_forms import item_form
from specreg.core.word_changes import was_and_now
from specreg.store.items import Standing

_LEFT_OUT = "left out of the folder taken in"
_NOT_REISSUED = "not in the specification as issued anew"


@dataclass(frozen=True, slots=True)
class ReadItem:
    """An item as read, where, and the lines it was read from."""

    item: Item
    place: Place
    source: str


@dataclass(frozen=True, slots=True)
class ItemPlan:
    """What would be done with one item: `act` is add, alter, renumber or delete; `words` says what would be altered,
    `former` the number it had, where it gets another."""

    act: str
    item: Item
    item_id: int | None
    words: str
    former: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """What would be done with all items; rows that clash with the book are `set_aside`, those altered in the book alone
    are `kept`."""

    items: tuple[ItemPlan, ...] = ()
    kept: tuple[str, ...] = ()
    flags: tuple[Fault, ...] = ()
    set_aside: tuple[tuple[Place, str, str], ...] = ()


def plan_items(
    order: Order,
    read: Sequence[ReadItem],
    standing: Sequence[Standing],
    written_from: Mapping[tuple[str, str], str],
    folder: Place,
    note_id: int | None,
) -> Plan:
    """Plan every item. `written_from` gives the digests that an export was written from; `note_id` the note that edits
    would go under, None where that is not known yet."""
    planning = _Planning(order, written_from, folder, note_id)
    partners = _by_text(read, standing) if order.numbering == "theirs" else _by_number(read, standing)
    used: set[int] = set()
    for one in read:
        there = partners.get(number_key(one.item.number))
        if there is not None:
            used.add(there.item_id)
        planning.take(one, there)
    for there in standing:
        if there.item_id not in used and there.item.state is State.LIVE:
            planning.leave_out(there)
    if not written_from and order.numbering == "ours":
        planning.warn_of_older_words()
    return planning.plan()


Partners = Mapping[str, Standing]
"""By `number_key` of an item read: the item of the book that it is."""


def _by_number(read: Sequence[ReadItem], standing: Sequence[Standing]) -> Partners:
    there = {number_key(one.item.number): one for one in standing}
    return {key: there[key] for one in read if (key := number_key(one.item.number)) in there}


def _by_text(read: Sequence[ReadItem], standing: Sequence[Standing]) -> Partners:
    by_identity = {id(one.item): one for one in standing}
    live = [one.item for one in standing if one.item.state is not State.DELETED]
    compared = compare_items(live, [one.item for one in read], "theirs")
    partners = dict(_by_number(read, [by_identity[id(item)] for item in live]))
    for pair in (*compared.changed, *compared.renumbered, *compared.spacing, *compared.restated):
        partners[number_key(pair.new.number)] = by_identity[id(pair.old)]
    for passage in compared.added:
        key = number_key(passage.item.number)
        if passage.listed is not None:
            partners[key] = by_identity[id(passage.listed)]
        else:
            partners.pop(key, None)
    return partners


class _Planning:
    """Gathers the plan item by item."""

    def __init__(
        self, order: Order, written_from: Mapping[tuple[str, str], str], folder: Place, note_id: int | None
    ) -> None:
        self._order = order
        self._written_from = written_from
        self._folder = folder
        self._note_id = note_id
        self._items: list[ItemPlan] = []
        self._kept: list[str] = []
        self._flags: list[Fault] = []
        self._set_aside: list[tuple[Place, str, str]] = []

    def plan(self) -> Plan:
        """What has been gathered."""
        return Plan(tuple(self._items), tuple(self._kept), tuple(self._flags), tuple(self._set_aside))

    def take(self, one: ReadItem, there: Standing | None) -> None:
        """An item that was read, and the item of the book that it is."""
        item = one.item
        if there is None:
            self._items.append(ItemPlan("add", item, None, item.title or item.text.partition("\n")[0]))
            return
        if there.item == item:
            return
        written = self._written_from.get(("item", there.item.number))
        if written == item_form(self._order.number, item)[2].hex():
            self._kept.append(item.number)
        elif written is not None and written != there.digest.hex():
            self._aside(one, f"{item.number} was altered in the book since this folder was written.")
        elif self._is_open_elsewhere(there):
            self._aside(one, f"{item.number} stands open under another note.")
        else:
            self._items.append(_altered(item, there))

    def leave_out(self, there: Standing) -> None:
        """A live item of the book that was not read: deleted where that is clearly meant, else left as it is."""
        number = there.item.number
        # A folder that an export wrote is no re-issue: what it does not know came into the book since.
        reissued = self._order.numbering == "theirs" and not self._written_from
        struck = self._written_from.get(("item", number)) == there.digest.hex()
        if not struck and not reissued:
            said = (
                f"{number} {there.item.title} stands in the book and not in the folder; it was left as it is. "
                "To delete it use `specreg delete`."
            )
            self._flags.append(Fault("not in the folder", Severity.WARNING, number, said, self._folder))
        elif self._is_open_elsewhere(there):
            said = f"{number} is left out here and stands open under another note."
            self._set_aside.append((self._folder, number, said))
        else:
            reason = _LEFT_OUT if struck else _NOT_REISSUED
            gone = replace(there.item, state=State.DELETED, reason=reason)
            self._items.append(ItemPlan("delete", gone, there.item_id, reason))

    def warn_of_older_words(self) -> None:
        """A folder that no export wrote may say what stood before the book was altered."""
        altered = sum(plan.act == "alter" for plan in self._items)
        if altered:
            said = (
                f"This folder was not written by `specreg export`: what it says of {so_many(altered, 'item')} stands "
                "against the book, and may put older words back. Look through it with --preview."
            )
            self._flags.append(Fault("not written by export", Severity.WARNING, "", said, self._folder))

    def _is_open_elsewhere(self, there: Standing) -> bool:
        return self._note_id is not None and there.note_id not in (None, self._note_id)

    def _aside(self, one: ReadItem, reason: str) -> None:
        self._set_aside.append((one.place, one.source or one.item.title, reason))


def _altered(item: Item, there: Standing) -> ItemPlan:
    changes = field_changes(there.item, item)
    words = "; ".join(was_and_now(one.label, one.old, one.new) for one in changes)
    if number_key(item.number) == number_key(there.item.number):
        return ItemPlan("alter", item, there.item_id, words)
    moved = f"was {there.item.number}"
    real = any(not one.spacing_only for one in changes)
    return ItemPlan(
        "alter" if real else "renumber", item, there.item_id, f"{moved}; {words}" if words else moved, there.item.number
    )
