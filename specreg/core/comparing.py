"""What differs between two revisions: word by word in a text, field by field in an item, item by item in a whole.

In the works' own orders the number says which item is which, for numbers are never used again. An outsider's re-issued
specification may renumber: there the text is asked first, then likeness where it leaves no doubt, then the number.
"Renumbered only" and "spacing only" stand apart from real changes. A difference of spaces means one kind or number of
spaces for another, never a space where there was none.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from enum import StrEnum
from typing import Literal

from specreg.core.model import FIELDS, Item, Kind, State
from specreg.core.numbering import number_key

_BUILT = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_FRACTION = r"(?<![0-9/])[0-9]{1,2}[/⁄][0-9]{1,3}(?![0-9/])"
_VALUE = rf"(?:[0-9]+[\s.\-]?(?:{_FRACTION}|[{_BUILT}])|{_FRACTION}|[{_BUILT}]|[0-9]+(?:[.,][0-9]+)*)"
_END = r"(?![^\W_])"
_FOOT = rf"(?:['′’](?!['′’])|ft{_END}|feet{_END}|foot{_END})"
_INCH = rf"(?:[\"″”]|''|′′|’’|in(?:s|ch|ches)?{_END})"
_HEAVY = rf"(?:tons?|cwts?|qrs?|lbs?|ozs?|[cq]){_END}"
_UNIT = (
    rf"(?:{_INCH}|{_FOOT}|%|°[CF]?{_END}|(?:mm|cm|km|m|thou|yds?|kg|g|t|tons?|tonnes?|cwts?|qrs?|lbs?|ozs?|psi|bar|"
    rf"[kM]?Pa|[kM]?N|k?Nm|k?W|h\.?p|rpm|k?V|A|Hz|gals?|litres?|swg|SWG|BG|lbf?/in[2²]?|lb/ft[2²3³]?|kg/m[2²3³]?|"
    rf"N/mm[2²]|rev/min|mm[2²3³]|m[2²3³]){_END})"
)
_TOKEN = re.compile(
    # a length in feet and inches, a weight of several parts, a quantity with its unit
    rf"{_VALUE}\s?{_FOOT}\.?(?:[\s\-]{{0,2}}{_VALUE}\s?{_INCH}|-{_VALUE}{_END})"
    rf"|{_VALUE}\s?{_HEAVY}(?:,?\s?{_VALUE}\s?{_HEAVY})+"
    rf"|{_VALUE}\s?{_UNIT}"
    # a whole number with its fraction, a number or mark whole, a word, spaces, any other sign
    rf"|[0-9]+[\s.\-](?:{_FRACTION}|[{_BUILT}])|[0-9]+[{_BUILT}]|{_FRACTION}{_END}"
    r"|(?=[^\W_]*(?:[\-./,][^\W_]+)*[0-9])[^\W_]+(?:[\-./][^\W_]+|(?<=[0-9]),[0-9]+)*"
    r"|[^\W\d_]+(?:['’][^\W\d_]+)*|\s+|.",
    re.DOTALL,
)


def tokens(text: str) -> list[str]:
    """The text in pieces that are compared whole; joined they give it back exactly.

    A quantity with its unit is one (`1 1/4"`, `19'-6½"`, `3 cwt 1 qr 17 lb`, `12,5 kg`), so is a number or a mark with
    its dashes and strokes (`SL-1002/1`, `4.1.3A`, `1.25`); else a word, a run of spaces, or one sign.
    """
    return _TOKEN.findall(text)


def _one_spaced(text: str) -> str:
    return " ".join(text.split())


def spacing_only(old: str, new: str) -> bool:
    """Whether two texts are different and yet the same but for the kind and number of spaces."""
    return old != new and _one_spaced(old) == _one_spaced(new)


class RunKind(StrEnum):
    """What happened to a run of text."""

    SAME = "same"
    SPACING = "spacing"
    TAKEN_OUT = "taken out"
    PUT_IN = "put in"
    CHANGED = "changed"


@dataclass(frozen=True, slots=True)
class Run:
    """A run of text: what stood in the old text and what stands in the new; one of them is empty where it was taken
    out or put in."""

    kind: RunKind
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class _Unit:
    """A token with the spaces after it. Spaces by themselves are too common to find anything by."""

    word: str
    space: str

    @property
    def text(self) -> str:
        return self.word + self.space


def _units(text: str) -> list[_Unit]:
    units: list[_Unit] = []
    for token in tokens(text):
        if token.isspace() and units and not units[-1].space:
            units[-1] = _Unit(units[-1].word, token)
        elif token.isspace():
            units.append(_Unit("", token))
        else:
            units.append(_Unit(token, ""))
    return units


def word_changes(old: str, new: str) -> tuple[Run, ...]:
    """How the new text comes out of the old, run by run, as few words altered as can be."""
    if old == new:
        return (Run(RunKind.SAME, old, new),) if old else ()
    before, after = _units(old), _units(new)
    matched = _common([_one_spaced(one.word) for one in before], [_one_spaced(one.word) for one in after])
    runs: list[tuple[str, str]] = []
    at_old = at_new = 0
    for place_old, place_new in [*matched, (len(before), len(after))]:
        gone = "".join(unit.text for unit in before[at_old:place_old])
        come = "".join(unit.text for unit in after[at_new:place_new])
        runs.append((gone, come))
        if place_old < len(before):
            runs.append((before[place_old].word, after[place_new].word))
            runs.append((before[place_old].space, after[place_new].space))
        at_old, at_new = place_old + 1, place_new + 1
    return _joined(piece for gone, come in runs for piece in _parted(gone, come))


def _parted(gone: str, come: str) -> Iterator[Run]:
    """One difference, with the spaces that both sides end in set apart as the same."""
    if gone == come:
        if gone:
            yield Run(RunKind.SAME, gone, come)
        return
    if _one_spaced(gone) == _one_spaced(come) and gone and come:
        yield Run(RunKind.SPACING, gone, come)
        return
    old_word, new_word = gone.rstrip(), come.rstrip()
    old_end, new_end = gone[len(old_word) :], come[len(new_word) :]
    if not (old_word and new_word and old_end and new_end):
        kind = RunKind.CHANGED if gone and come else RunKind.TAKEN_OUT if gone else RunKind.PUT_IN
        yield Run(kind, gone, come)
        return
    yield Run(RunKind.CHANGED, old_word, new_word)
    yield Run(RunKind.SAME if old_end == new_end else RunKind.SPACING, old_end, new_end)


def _joined(runs: Iterable[Run]) -> tuple[Run, ...]:
    """Runs of one kind that touch, as one."""
    joined: list[Run] = []
    for run in runs:
        if joined and joined[-1].kind is run.kind and run.kind in (RunKind.SAME, RunKind.SPACING):
            joined[-1] = Run(run.kind, joined[-1].old + run.old, joined[-1].new + run.new)
        else:
            joined.append(run)
    return tuple(joined)


def applied(old: str, runs: Sequence[Run]) -> str:
    """The new text, from the old one and the runs between them; ValueError when the runs are of another text."""
    if "".join(run.old for run in runs) != old:
        raise ValueError("these changes were taken from another text")
    return "".join(run.new for run in runs)


_MOST_DIFFERENCES = 250


def _common(old: Sequence[str], new: Sequence[str]) -> list[tuple[int, int]]:
    """Places of the words that stay, as pairs in order: a longest common subsequence where the texts are alike.

    Common head and tail are set aside first. The middle goes by the greedy method of E. W. Myers, "An O(ND) Difference
    Algorithm and Its Variations" (1986), whose cost follows the differences; beyond 250 of them a block matcher, which
    is not held to the longest, takes over.
    """
    shorter = min(len(old), len(new))
    head = 0
    while head < shorter and old[head] == new[head]:
        head += 1
    tail = 0
    while tail < shorter - head and old[-1 - tail] == new[-1 - tail]:
        tail += 1
    middle_old, middle_new = old[head : len(old) - tail], new[head : len(new) - tail]
    middle = _by_differences(middle_old, middle_new)
    if middle is None:
        blocks = SequenceMatcher(None, middle_old, middle_new).get_matching_blocks()
        middle = [(block.a + step, block.b + step) for block in blocks for step in range(block.size)]
    return [
        *((place, place) for place in range(head)),
        *((head + one, head + other) for one, other in middle),
        *((len(old) - step, len(new) - step) for step in range(tail, 0, -1)),
    ]


def _by_differences(old: Sequence[str], new: Sequence[str]) -> list[tuple[int, int]] | None:
    """A longest common subsequence as pairs of places; None when the two differ in too many words."""
    if not old or not new:
        return []
    furthest = {1: 0}
    trail: list[dict[int, int]] = []
    for differences in range(min(len(old) + len(new), _MOST_DIFFERENCES) + 1):
        trail.append(dict(furthest))
        for diagonal in range(-differences, differences + 1, 2):
            down = diagonal == -differences or (
                diagonal != differences and furthest[diagonal - 1] < furthest[diagonal + 1]
            )
            place = furthest[diagonal + 1] if down else furthest[diagonal - 1] + 1
            other = place - diagonal
            while place < len(old) and other < len(new) and old[place] == new[other]:
                place += 1
                other += 1
            furthest[diagonal] = place
            if place >= len(old) and other >= len(new):
                return _walked_back(trail, len(old), len(new))
    return None


def _walked_back(trail: Sequence[Mapping[int, int]], place: int, other: int) -> list[tuple[int, int]]:
    pairs: list[tuple[int, int]] = []
    for differences in range(len(trail) - 1, -1, -1):
        furthest = trail[differences]
        diagonal = place - other
        down = diagonal == -differences or (diagonal != differences and furthest[diagonal - 1] < furthest[diagonal + 1])
        from_diagonal = diagonal + 1 if down else diagonal - 1
        from_place = furthest[from_diagonal] if differences else 0
        from_other = from_place - from_diagonal if differences else 0
        while place > from_place and other > from_other:
            place -= 1
            other -= 1
            pairs.append((place, other))
        place, other = from_place, from_other
    pairs.reverse()
    return pairs


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
            added=len(self.added),
            deleted=len(self.deleted),
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
    words = _one_spaced(" ".join(said)).casefold()
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
    words = [unit.word for unit in _units(_all_words(item)) if unit.word]
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
