"""What differs between two revisions: field by field in an item, item by item in a whole.

In the works' own orders the number says which item is which, for numbers are never used again. An outsider's re-issued
specification may renumber: there the text is asked first, then likeness where it leaves no doubt, then the number.
"Renumbered only" and "spacing only" stand apart from real changes.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from specreg.core.model import FIELDS, Item, Kind, Layout, State
from specreg.core.numbering import number_key
from specreg.core.word_changes import one_spaced, spacing_only, tokens


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One field that says something else; `spacing_only` when only its spaces differ."""

    label: str
    old: str
    new: str
    spacing_only: bool


def field_changes(old: Item, new: Item) -> tuple[FieldChange, ...]:
    """The fields that differ, in the paper's order, then fields of the source's own, state, reason and kind.

    How an item is laid out (heading or row) is no change; its section is one only under the same number.
    """
    if old is new or old == new:
        return ()
    own, its = dict(old.other), dict(new.other)
    laid_out = [
        ("Description", old.title, new.title),
        ("Text", old.text, new.text),
        *((field.label, getattr(old, field.name), getattr(new, field.name)) for field in FIELDS),
        *((label, own.get(label, ""), its.get(label, "")) for label in sorted({*own, *its})),
        ("State", old.state.value, new.state.value),
        ("Reason", old.reason, new.reason),
        ("Kind", old.kind.value, new.kind.value),
    ]
    if old.section != new.section and number_key(old.number) == number_key(new.number):
        laid_out.append(("Section", old.section, new.section))
    return tuple(FieldChange(label, was, now, spacing_only(was, now)) for label, was, now in laid_out if was != now)


@dataclass(frozen=True, slots=True)
class Pair:
    """An item of the old revision and the item it has become; `fields` is what differs besides the number."""

    old: Item
    new: Item
    fields: tuple[FieldChange, ...]

    @property
    def renumbered(self) -> bool:
        """Whether it has another number now."""
        return number_key(self.old.number) != number_key(self.new.number)

    @property
    def really_changed(self) -> bool:
        """Whether more than its number and its spaces differ."""
        return any(not field.spacing_only for field in self.fields)

    @property
    def spacing_only(self) -> bool:
        """Whether its words are the same but for their spaces."""
        return bool(self.fields) and not self.really_changed


@dataclass(frozen=True, slots=True)
class Passage:
    """An item that was added or deleted: the record that is, or was, wanted.

    A number entered and deleted again, or reserved, before it was ever issued stands among the added too (among the
    deleted, when the later revision is laid beside the earlier), and is not counted.

    `listed` is the record on the other side, where the number stands as deleted or reserved; None where it does not
    stand at all.
    """

    item: Item
    listed: Item | None


@dataclass(frozen=True, slots=True)
class Counts:
    """How many of each. `renumbered` counts every changed number, `renumbered_only` those not really changed besides;
    `spacing_only` counts items whose words differ in spaces only, renumbered or not."""

    added: int
    deleted: int
    changed: int
    renumbered: int
    renumbered_only: int
    spacing_only: int
    unchanged: int


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two revisions laid side by side.

    `changed` are real changes; `renumbered` holds every pair with another number, also those that are changed as well;
    `spacing` the pairs whose spaces alone differ; `restated` those that say the same and are only written or laid out
    otherwise (`4.1a` for `4.1A`). `unchanged` counts the rest, `restated` among them.
    """

    added: tuple[Passage, ...]
    deleted: tuple[Passage, ...]
    changed: tuple[Pair, ...]
    renumbered: tuple[Pair, ...]
    spacing: tuple[Pair, ...]
    restated: tuple[Pair, ...]
    unchanged: int

    @property
    def counts(self) -> Counts:
        """The line at the foot of the list."""
        return Counts(
            added=sum(passage.item.state is State.LIVE for passage in self.added),
            deleted=sum(passage.item.state is State.LIVE for passage in self.deleted),
            changed=len(self.changed),
            renumbered=len(self.renumbered),
            renumbered_only=sum(not pair.really_changed for pair in self.renumbered),
            spacing_only=len(self.spacing),
            unchanged=self.unchanged,
        )

    def applied(self, old: Iterable[Item]) -> list[Item]:
        """The new revision, from the old one and what changed, in the order of a specification."""
        pairs = {id(pair): pair for pair in (*self.changed, *self.renumbered, *self.spacing, *self.restated)}
        becomes: defaultdict[Item, list[Item | None]] = defaultdict(list)
        for pair in pairs.values():
            becomes[pair.old].append(pair.new)
        for passage in self.deleted:
            becomes[passage.item].append(passage.listed)
        for passage in self.added:
            if passage.listed is not None:
                becomes[passage.listed].append(passage.item)
        made = [becomes[item].pop() if becomes.get(item) else item for item in old]
        come = [passage.item for passage in self.added if passage.listed is None]
        return sorted((item for item in (*made, *come) if item is not None), key=lambda item: item.place_key)


Items = Mapping[str, Item] | Iterable[Item]


def compare_items(old: Items, new: Items, numbering: Literal["ours", "theirs"] = "ours") -> Comparison:
    """Lay two revisions side by side; results stand in the order of the new one, deleted items in that of the old.

    `numbering` is `ours` (a number never means another item) or `theirs` (an outsider's, which may renumber). An item
    that was live and is listed as deleted or reserved is deleted, the other way it is added.
    """
    before, after = _listed(old), _listed(new)
    partners = _by_number(before, after) if numbering == "ours" else _by_text(before, after)
    return _sorted_out(before, after, partners)


def compare_pairs(pairs: Iterable[tuple[Item | None, Item | None]], unchanged: int = 0) -> Comparison:
    """Lay two revisions side by side where it is known which item is which: (what it said, what it says), None where
    it did not stand. `unchanged` counts the items not handed over because they say what they said."""
    before: list[Item] = []
    after: list[Item] = []
    partners: dict[int, int] = {}
    known = [(old, new) for old, new in pairs if old is not None or new is not None]
    for old, new in sorted(known, key=lambda pair: (pair[1] or pair[0] or _NOWHERE).place_key):
        if old is not None and new is not None:
            partners[len(after)] = len(before)
        if old is not None:
            before.append(old)
        if new is not None:
            after.append(new)
    found = _sorted_out(before, after, partners)
    return replace(found, unchanged=found.unchanged + unchanged)


_NOWHERE = Item("", Kind.ITEM, Layout.ROW, "")


def _listed(items: Items) -> list[Item]:
    return list(items.values()) if isinstance(items, Mapping) else list(items)


def _sorted_out(before: Sequence[Item], after: Sequence[Item], partners: Mapping[int, int]) -> Comparison:
    """`partners` gives for places in `after` their place in `before`."""
    added: list[Passage] = []
    deleted: list[tuple[int, Passage]] = []
    changed: list[Pair] = []
    renumbered: list[Pair] = []
    spacing: list[Pair] = []
    restated: list[Pair] = []
    unchanged = 0
    for place, item in enumerate(after):
        if place not in partners:
            added.append(Passage(item, None))
            continue
        was = before[partners[place]]
        if was is item or was == item:
            unchanged += 1
            continue
        was_live, is_live = was.state is State.LIVE, item.state is State.LIVE
        if was_live and not is_live:
            deleted.append((partners[place], Passage(was, item)))
            continue
        if is_live and not was_live:
            added.append(Passage(item, was))
            continue
        pair = Pair(was, item, field_changes(was, item))
        if pair.renumbered:
            renumbered.append(pair)
        if pair.really_changed:
            changed.append(pair)
        elif pair.spacing_only:
            spacing.append(pair)
        elif not pair.renumbered:
            restated.append(pair)
            unchanged += 1
    kept = {*partners.values()}
    deleted += [(place, Passage(item, None)) for place, item in enumerate(before) if place not in kept]
    return Comparison(
        tuple(added),
        tuple(passage for _, passage in sorted(deleted, key=lambda one: one[0])),
        tuple(changed),
        tuple(renumbered),
        tuple(spacing),
        tuple(restated),
        unchanged,
    )


def _places_by(
    items: Sequence[Item], places: Iterable[int], key: Callable[[Item], Hashable]
) -> dict[Hashable, list[int]]:
    found: defaultdict[Hashable, list[int]] = defaultdict(list)
    for place in places:
        found[key(items[place])].append(place)
    return found


class _Partners:
    """Who has found whom so far: places of the new revision with their place in the old, and who is left."""

    def __init__(self, before: Sequence[Item], after: Sequence[Item]) -> None:
        self.before = before
        self.after = after
        self.found: dict[int, int] = {}
        self.left_before: dict[int, None] = dict.fromkeys(range(len(before)))
        self.left_after: dict[int, None] = dict.fromkeys(range(len(after)))

    def join(self, one: int, other: int) -> None:
        self.found[other] = one
        del self.left_before[one]
        del self.left_after[other]

    def join_by(self, key: Callable[[Item], Hashable], *, evenly: bool = False) -> None:
        """Join what has the same key, in turn; `evenly` only where as many stand on either side."""
        mine = _places_by(self.before, self.left_before, key)
        for same, its in _places_by(self.after, self.left_after, key).items():
            pool = mine.get(same, [])
            if same == "" or (evenly and len(pool) != len(its)):
                continue
            for one, other in zip(pool, its, strict=False):
                self.join(one, other)


def _by_number(before: Sequence[Item], after: Sequence[Item]) -> dict[int, int]:
    partners = _Partners(before, after)
    partners.join_by(lambda item: item.number)
    partners.join_by(lambda item: number_key(item.number))
    return partners.found


_LIKE_ENOUGH = 0.6
"""Share of common words below which two clauses are never taken for one."""
_CLEAR_LEAD = 0.03
"""How far the best likeness must lie before the next: one word of a clause of thirty."""
_TOO_COMMON = 1600
_RAREST = 3
_Word = tuple[str, int]


def _by_text(before: Sequence[Item], after: Sequence[Item]) -> dict[int, int]:
    """An outsider's numbers are the last thing to go by.

    First what has kept number and text; then a text that stands once on either side, or as often, in turn; then
    likeness where it leaves no doubt; what is still left under one number is taken for a clause written anew.
    """
    partners = _Partners(before, after)
    partners.join_by(lambda item: (number_key(item.number), _all_words(item)))
    partners.join_by(_all_words, evenly=True)
    _join_alike(partners)
    partners.join_by(lambda item: (item.kind is Kind.SECTION, number_key(item.number)))
    return partners.found


def _all_words(item: Item) -> str:
    """All an item says, by which it is known again, spaces and capitals aside; empty for one that says nothing."""
    said = [item.title, item.text, *(f"{label}: {text}" for label, text in item.said())]
    words = one_spaced(" ".join(said)).casefold()
    return f"section {words}" if words and item.kind is Kind.SECTION else words


def _join_alike(partners: _Partners) -> None:
    """Join pairs that are each other's best by a clear lead, until no more are found."""
    likeness = _likeness(partners)
    of_before: defaultdict[int, set[int]] = defaultdict(set)
    of_after: defaultdict[int, set[int]] = defaultdict(set)
    for one, other in likeness:
        of_before[one].add(other)
        of_after[other].add(one)
    waiting = sorted(likeness, key=lambda pair: -likeness[pair])
    while True:
        joined = [
            (one, other)
            for one, other in waiting
            if all(likeness[one, other] - likeness[one, rival] >= _CLEAR_LEAD for rival in of_before[one] - {other})
            and all(likeness[one, other] - likeness[rival, other] >= _CLEAR_LEAD for rival in of_after[other] - {one})
        ]
        if not joined:
            return
        for one, other in joined:
            partners.join(one, other)
            for rival in of_before.pop(one):
                of_after[rival].discard(one)
            for rival in of_after.pop(other):
                of_before[rival].discard(other)
        waiting = [
            (one, other) for one, other in waiting if one in partners.left_before and other in partners.left_after
        ]


def _likeness(partners: _Partners) -> dict[tuple[int, int], float]:
    """How alike the items left over are, from 0 to 1: twice the words in common by all words; only what may count."""
    bags_before = {place: _bag(partners.before[place]) for place in partners.left_before}
    bags_after = {place: _bag(partners.after[place]) for place in partners.left_after}
    found: dict[tuple[int, int], float] = {}
    for one, other in _couples(bags_before, bags_after):
        bag, its = bags_before[one], bags_after[other]
        same_kind = (partners.before[one].kind is Kind.SECTION) == (partners.after[other].kind is Kind.SECTION)
        score = 2 * len(bag & its) / (len(bag) + len(its))
        if same_kind and score >= _LIKE_ENOUGH:
            found[one, other] = score
    return found


def _couples(
    bags_before: Mapping[int, frozenset[_Word]], bags_after: Mapping[int, frozenset[_Word]]
) -> set[tuple[int, int]]:
    """Who is worth laying beside whom: those who share one of the rarest words of either.

    Not everybody with everybody, so that a long specification stays quick; and the same couples from either side.
    """
    holders_before, holders_after = _holders(bags_before), _holders(bags_after)
    weight = {
        word: len(holders_before[word]) * len(holders_after[word]) for word in holders_before.keys() & holders_after
    }
    rare = {word for word, how_common in weight.items() if how_common <= _TOO_COMMON}

    def rarest(bag: frozenset[_Word]) -> list[_Word]:
        return sorted(rare.intersection(bag), key=lambda word: (weight[word], word))[:_RAREST]

    return {
        (one, other) for one, bag in bags_before.items() for word in rarest(bag) for other in holders_after[word]
    } | {(one, other) for other, bag in bags_after.items() for word in rarest(bag) for one in holders_before[word]}


def _bag(item: Item) -> frozenset[_Word]:
    """The words of an item, each with how many times it stood before, so that repeats count."""
    words = [token for token in tokens(_all_words(item)) if not token.isspace()]
    seen: Counter[str] = Counter()
    bag: set[_Word] = set()
    for word in words:
        bag.add((word, seen[word]))
        seen[word] += 1
    return frozenset(bag)


def _holders(bags: Mapping[int, frozenset[_Word]]) -> dict[_Word, list[int]]:
    found: defaultdict[_Word, list[int]] = defaultdict(list)
    for place, bag in bags.items():
        for word in bag:
            found[word].append(place)
    return found
