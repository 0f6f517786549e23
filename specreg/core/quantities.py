"""Numbers off: what an item's Off, Per and Spares fields say, and how many pieces the whole order needs of it.

The order quantity of an item is (number off × number of the parent on each machine, down every chain of parents) over
the machines the item is for, plus what is wanted once for the order, plus the spares; spares of a parent do not bring
its children. The parts of the sum stay visible in `Total.working`. Pairs, sets, lots, `as required` and `to suit` are
no counts: they are kept in their own words and never multiplied. Nothing is guessed: what cannot be reckoned has no
number and one sentence that says what to write.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple, Protocol

from specreg.core.machines import machines_of, spoken
from specreg.core.model import Item, State
from specreg.core.numbering import number_key

MACHINE = "machine"
ORDER = "order"
NOT_KNOWN = "not known"
"""What is written for a number off that cannot be reckoned."""
SPARES_SAID = ", spares "
"""What stands between a quantity that has no count and its spares, in words."""
MOST_PIECES = 10**12
"""A number off beyond this is a slip, and may not grow down a long chain until nothing can print it."""
MOST_PATHS = 6
"""A working with more terms than this writes subtotals of the parents instead of every path."""
MOST_FACTORS = 8
"""A chain with more multiplicands than this is written with the parent's number as one of them."""
MOST_NAMED = 12
"""So many items of a loop are named; a longer loop is written with a gap."""
_SEARCHED_LOOP = 100


class OffKind(StrEnum):
    """What kind of quantity an Off field gives. Only a count is multiplied; reference only counts as nought."""

    COUNT = "count"
    PAIR = "pair"
    SET = "set"
    LOT = "lot"
    AS_REQUIRED = "as required"
    TO_SUIT = "to suit"
    REFERENCE = "reference only"
    NOT_GIVEN = "not given"


@dataclass(frozen=True, slots=True)
class Link:
    """So many per one thing: `per` is `machine`, `order` or the number of the parent item as written."""

    number: int
    per: str

    @property
    def parent(self) -> str:
        """The number of the parent item, empty when it is per machine or per order."""
        return "" if self.per in (MACHINE, ORDER) else self.per


@dataclass(frozen=True, slots=True)
class Off:
    """What an Off field with its Per field says: `links` one a parent, `written` in words (`1 pair per machine`).

    With a `problem` there are no links.
    """

    kind: OffKind
    links: tuple[Link, ...]
    written: str
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Spares:
    """What a Spares field says, in pieces; spare pairs, sets and lots are kept apart by `kind`, in words only."""

    per_machine: int = 0
    per_order: int = 0
    kind: OffKind = OffKind.COUNT
    written: str = ""
    problem: str = ""


class Reckoned(Protocol):
    """A number off as reckoned, fresh or out of the record: order quantity, spares among it, and both in words."""

    @property
    def off(self) -> int | None:
        """Pieces for the whole order with spares; None when not counted."""

    @property
    def spares(self) -> int | None:
        """Spare pieces; None or 0 when not counted."""

    @property
    def written(self) -> str:
        """The quantity in words."""


def has_spares(total: Reckoned) -> bool:
    """Whether spares are wanted; taken as wanted while the number off cannot be reckoned."""
    if total.off is not None:
        return bool(total.spares)
    return total.written == NOT_KNOWN or SPARES_SAID in total.written


@dataclass(frozen=True, slots=True)
class Total:
    """How many of one item the whole order needs.

    `off` is the order quantity with spares, None when it has no count (`kind` says why) or cannot be reckoned
    (`problem` says why). `for_machines` are positions in the order's list of machines, `by_machine` the pieces that
    go into each of the order's machines, `once` the pieces wanted once for the order, `spares` the spares;
    `off == sum(by_machine) + once + spares`. `written` is the quantity in words, `working` the sum in full,
    `waits_for` the number of the item above whose problem must be put right first.
    """

    number: str
    kind: OffKind
    off: int | None
    for_machines: tuple[int, ...]
    spares: int
    by_machine: tuple[int, ...]
    once: int
    written: str
    working: str
    problem: str = ""
    waits_for: str = ""


@dataclass(frozen=True, slots=True)
class RollUp:
    """The totals of an order by `number_key`, in the order of its items, and its loops in words."""

    totals: Mapping[str, Total]
    loops: tuple[str, ...] = ()

    def of(self, number: str) -> Total | None:
        """The total of the item with this number; None when no live item has it."""
        return self.totals.get(number_key(number))

    @property
    def problems(self) -> tuple[Total, ...]:
        """The totals that have a problem of their own, not one they wait for."""
        return tuple(total for total in self.totals.values() if total.problem and not total.waits_for)


# --- reading the fields ---------------------------------------------------------------------------------------------

_LIST = re.compile(r"[,;&+]|\band\b", re.IGNORECASE)
_PER = re.compile(r"(?P<what>.*?)(?:(?:^|\s+)per\s+(?P<per>.+))?", re.IGNORECASE)
_PLAINLY = re.compile(r"(?P<number>[1-9][0-9]{0,8})(?: per (?P<per>[^,;&+]+))?")
_PIECES = re.compile(r"([0-9]{1,9})(?: ?(?:off|nos?\.?))?", re.IGNORECASE)
_FRACTION = re.compile(r"(?:[0-9]+[ -]?)?(?:[0-9]+[/⁄][0-9]+|[¼-¾⅐-⅞])|[0-9]*\.[0-9]+|[0-9]+\.[0-9]*")
_NEGATIVE = re.compile(r"[-−–] ?[0-9].*")
_KINDS: tuple[tuple[re.Pattern[str], OffKind], ...] = (
    (re.compile(r"([0-9]{1,9}) ?(?:pairs?|prs?\.?)", re.IGNORECASE), OffKind.PAIR),
    (re.compile(r"([0-9]{1,9}) ?sets?", re.IGNORECASE), OffKind.SET),
    (re.compile(r"(?:([0-9]{1,9}) ?)?(?:lots?|job lot)", re.IGNORECASE), OffKind.LOT),
    (re.compile(r"as (?:required|req'?d\.?|req\.?|necessary)|a/?r|a\.r\.", re.IGNORECASE), OffKind.AS_REQUIRED),
    (re.compile(r"to suit", re.IGNORECASE), OffKind.TO_SUIT),
    (re.compile(r"(?:for )?reference(?: only)?|ref\.?(?: only)?", re.IGNORECASE), OffKind.REFERENCE),
)
_NEEDS_PER = frozenset({OffKind.COUNT, OffKind.PAIR, OffKind.SET})
_LEADING = re.compile(r"(?:per )?(?:item |the )?", re.IGNORECASE)
_WORDS_FOR_MACHINE = frozenset({"machine", "m/c"})
_WORDS_FOR_ORDER = frozenset({"order", "whole order"})
_NO_SPARES = frozenset({"", "none", "nil", "-"})


class _Piece(NamedTuple):
    """One piece of an Off or Spares field: so many of a kind, per what (empty when it does not say)."""

    kind: OffKind
    number: int
    per: str
    said: str


def parse_off(off: str, per: str) -> Off:
    """Read an Off field and its Per field: `12` per `4.1`; `2 per 4.1, 1 per 6.3`; `1 pair per machine`; `A/R`."""
    said, column = _plain(off), _per(_plain(per))
    plainly = _PLAINLY.fullmatch(said)
    if plainly and " and " not in said and bool(column) != bool(plainly["per"]) and not _several(column):
        # What nearly every item says; read without going through the other forms.
        link = Link(int(plainly["number"]), column or _per(plainly["per"]))
        return Off(OffKind.COUNT, (link,), f"{link.number} per {link.per}")
    if not said:
        written = "12" if column else "12 per machine"
        return Off(OffKind.NOT_GIVEN, (), "", f"no number off is given: write `{written}`, `as required` or the like")
    pieces: list[_Piece] = []
    for text in _LIST.split(said):
        piece = _piece(text.strip())
        if isinstance(piece, str):
            return _not_read(piece)
        pieces.append(piece)
    kinds = {piece.kind for piece in pieces}
    if len(kinds) > 1:
        return _not_read(f"`{said}` mixes {_joined(sorted(kinds))}: give the other kind an item of its own")
    kind = pieces[0].kind
    links: dict[str, Link] = {}
    for piece in pieces:
        named = piece.per or (column if len(pieces) == 1 else "")
        if column and piece.per and number_key(column) != number_key(piece.per):
            return _not_read(f"Off says `{said}` and Per says `{per.strip()}`: leave one of them empty")
        if not named and kind in _NEEDS_PER:
            return _not_read(
                f"`{piece.said}` does not say per what: write `{piece.said} per machine`, `per order` or per an item"
            )
        if several := _several(named):
            hint = ", ".join(f"{piece.said} per {one}" for one in several)
            return _not_read(f"`{piece.said}` is per several things: write each with its own number, as in `{hint}`")
        key = number_key(named) if len(pieces) > 1 else named
        if key in links:
            return _not_read(f"`{said}` names {named or 'no parent'} twice: write one number for it")
        links[key] = Link(piece.number, named)
    written = ", ".join(
        f"{piece.said} per {link.per}" if link.per else piece.said
        for piece, link in zip(pieces, links.values(), strict=True)
    )
    return Off(kind, tuple(link for link in links.values() if link.per), written)


def parse_spares(text: str) -> Spares:
    """Read a Spares field: `1 per machine, 2 per order`; blank, `none` and `nil` mean no spares."""
    said = _plain(text)
    if said.lower() in _NO_SPARES:
        return Spares()
    numbers: dict[str, int] = {}
    kinds: set[OffKind] = set()
    for part in _LIST.split(said):
        piece = _piece(part.strip())
        if isinstance(piece, str):
            return Spares(problem=f"spares: {piece}")
        kinds.add(piece.kind)
        if piece.per not in (MACHINE, ORDER) or piece.kind not in (_NEEDS_PER | {OffKind.LOT}):
            return Spares(
                problem=f"spares `{part.strip()}` cannot be reckoned: write `1 per machine`, `2 per order` or both"
            )
        if piece.per in numbers:
            return Spares(problem=f"spares `{said}` name {piece.per} twice: write one number for it")
        numbers[piece.per] = piece.number
    if len(kinds) > 1:
        return Spares(problem=f"spares `{said}` mix {_joined(sorted(kinds))}: write one kind")
    kind = kinds.pop()
    if kind is not OffKind.COUNT:
        return Spares(kind=kind, written=said)
    return Spares(numbers.get(MACHINE, 0), numbers.get(ORDER, 0), kind, said)


def _plain(text: str) -> str:
    return " ".join(text.split())


def _joined(words: Iterable[str]) -> str:
    return " and ".join(words)


def _not_read(problem: str) -> Off:
    return Off(OffKind.NOT_GIVEN, (), "", problem)


def _per(named: str) -> str:
    if named[:1].isdecimal():
        return named
    bare = _LEADING.sub("", named, count=1)
    if bare.lower() in _WORDS_FOR_MACHINE:
        return MACHINE
    if bare.lower() in _WORDS_FOR_ORDER:
        return ORDER
    return bare


def _several(named: str) -> tuple[str, ...]:
    """The things a Per field names when it names more than one."""
    things = _LIST.split(named)
    return tuple(thing.strip() for thing in things) if len(things) > 1 else ()


def _piece(text: str) -> _Piece | str:
    """One piece of a field, or the sentence that says why it cannot be read."""
    if plainly := _PLAINLY.fullmatch(text):
        return _Piece(OffKind.COUNT, int(plainly["number"]), _per(plainly["per"] or ""), plainly["number"])
    match = _PER.fullmatch(text)
    what = (match["what"] if match else text).strip()
    per = _per((match["per"] or "").strip()) if match else ""
    if counted := _PIECES.fullmatch(what):
        number = int(counted[1])
        if number == 0:
            return f"`{text}` is a number off of nought: delete the item, or write `reference only`"
        return _Piece(OffKind.COUNT, number, per, counted[1])
    for pattern, kind in _KINDS:
        if other := pattern.fullmatch(what):
            number = int(other[1]) if other.lastindex else 1
            if number == 0:
                return f"`{text}` is nought: delete the item, or write `reference only`"
            return _Piece(kind, number, per, what if other.lastindex else str(kind))
    if _NEGATIVE.fullmatch(what):
        return f"`{text}` is below nought: write how many are wanted"
    if _FRACTION.fullmatch(what):
        return f"`{text}` is no whole number: write whole pieces, and a length or weight under Size"
    return (
        f"`{text}` cannot be read as a number off: write `2 per 4.1`, `1 per machine`, `6 per order` or `as required`"
    )


# --- the whole order ------------------------------------------------------------------------------------------------


class _Path(NamedTuple):
    """One way down the chain: its multiplicands, the item's own first, and the machines it runs over (a bit each).

    `written` are the multiplicands in words, `product` what they come to, `factors` how many there are; `machines` 0
    is a chain that ends in a number per order.
    """

    written: str
    product: int
    factors: int
    machines: int

    @property
    def term(self) -> str:
        """The multiplicands with the number of machines."""
        return f"{self.written} × {self.machines.bit_count()}" if self.machines else self.written


def roll_up(items: Iterable[Item], machines: tuple[str, ...]) -> RollUp:
    """The exact order quantity of every live item, over the order's `machines`.

    Several parents add, by every path; an item counts only for the machines it and its chain of parents are for.
    Time and memory grow with the number of links; a chain may be of any depth.
    """
    return _Reckoning(items, machines).result()


class _Reckoning:
    """One roll-up under way: parallel lists over the live items, filled from the machines downwards.

    Parents come before their children (a queue of items whose parents are all reckoned), so no recursion is needed.
    """

    def __init__(self, items: Iterable[Item], machines: tuple[str, ...]) -> None:
        self.machines = machines
        self.every = (1 << len(machines)) - 1
        self.items: list[Item] = []
        self.index: dict[str, int] = {}
        self.other: dict[str, Item] = {}
        self.keys: dict[str, str] = {}
        self.masks_read: dict[str, tuple[int, str]] = {"": (self.every, "")}
        self.positions: dict[int, tuple[int, ...]] = {}
        self.doubled: set[int] = set()
        self._take(items)
        count = len(self.items)
        self.offs: list[Off] = []
        self.spares: list[Spares] = []
        self.parents: list[tuple[int, ...]] = []
        self.children: list[list[int]] = [[] for _ in range(count)]
        self.problems: list[str] = [""] * count
        self.roots: list[str] = [""] * count
        self.own: list[int] = [0] * count
        self.masks: list[int] = [0] * count
        self.amounts: list[tuple[int, ...]] = [()] * count
        self.once: list[int] = [0] * count
        self.paths: list[tuple[_Path, ...]] = [()] * count
        self.totals: list[Total | None] = [None] * count
        self.loops: list[str] = []
        self._read()

    # reading

    def _key(self, number: str) -> str:
        key = self.keys.get(number)
        if key is None:
            key = self.keys[number] = number_key(number)
        return key

    def _take(self, items: Iterable[Item]) -> None:
        """Number the live items; the rest is kept by key, to say what a parent that cannot be used is."""
        for item in items:
            key = self._key(item.number)
            if not item.is_line:
                self.other.setdefault(key, item)
            elif key in self.index:
                self.doubled.add(self.index[key])
            else:
                self.index[key] = len(self.items)
                self.items.append(item)

    def _read(self) -> None:
        """Read the fields of every item; the items of one order say few different things, so each is read once."""
        offs: dict[tuple[str, str], Off] = {}
        spares: dict[str, Spares] = {}
        for place, item in enumerate(self.items):
            said = (item.off, item.per)
            off = offs.get(said)
            if off is None:
                off = offs[said] = parse_off(*said)
            spare = spares.get(item.spares)
            if spare is None:
                spare = spares[item.spares] = parse_spares(item.spares)
            self.offs.append(off)
            self.spares.append(spare)
            self.own[place], fault = self._mask(item.machines)
            parents: list[int] = []
            for link in off.links:
                if not link.parent:
                    continue
                parent = self.index.get(self._key(link.parent))
                if parent is None:
                    fault = fault or self._missing(link.parent)
                else:
                    parents.append(parent)
                    self.children[parent].append(place)
            self.parents.append(tuple(parents))
            if place in self.doubled:
                fault = f"the number {item.number} stands at more than one live item: give the other one a new number"
            self.problems[place] = fault or off.problem or spare.problem

    def _mask(self, text: str) -> tuple[int, str]:
        read = self.masks_read.get(text)
        if read is None:
            positions, fault = machines_of(text, self.machines)
            read = self.masks_read[text] = (sum(1 << position for position in positions), fault)
        return read

    def _missing(self, number: str) -> str:
        other = self.other.get(self._key(number))
        if other is None:
            return f"{number}, which it is counted per, is not in the specification: correct the number"
        if other.state is not State.LIVE:
            return f"{other.number}, which it is counted per, is {other.state}: say what it is now for"
        return f"{other.number}, which it is counted per, is a {other.kind} and no item: write per item or per machine"

    # reckoning

    def result(self) -> RollUp:
        waiting = [len(parents) for parents in self.parents]
        ready = [place for place, count in enumerate(waiting) if count == 0]
        self._work_down(ready, waiting)
        left = [place for place, count in enumerate(waiting) if count > 0]
        if left:
            ringed = self._name_loops(left)
            for place in ringed:
                waiting[place] = 0
            self._work_down(ringed, waiting)
        totals = {key: total for key, place in self.index.items() if (total := self.totals[place]) is not None}
        return RollUp(totals, tuple(self.loops))

    def _work_down(self, ready: list[int], waiting: list[int]) -> None:
        for place in ready:
            self._reckon(place)
        while ready:
            for child in self.children[ready.pop()]:
                waiting[child] -= 1
                if waiting[child] == 0:
                    self._reckon(child)
                    ready.append(child)

    def _reckon(self, place: int) -> None:
        off = self.offs[place]
        if off.kind is OffKind.COUNT and not self.problems[place]:
            self._look_up(place)
        self._find_machines(place)
        if self.problems[place]:
            self._set_down(place, None)
        elif off.kind is OffKind.COUNT:
            self._count(place)
        else:
            self._keep_apart(place)

    def _look_up(self, place: int) -> None:
        """The problems an item has from the items it is counted per."""
        for parent in self.parents[place]:
            above = self.items[parent].number
            if self.problems[parent]:
                root = self.roots[parent] or above
                self.problems[place] = f"cannot be reckoned before {root} is put right"
                self.roots[place] = root
                return
            kind = self.offs[parent].kind
            if kind is not OffKind.COUNT:
                self.problems[place] = (
                    f"counted per {above}, of which there is no count (`{self.offs[parent].written}`): "
                    "write it per machine or per order"
                )
                return
            if self.once[parent] and self.masks[parent] & ~self.own[place]:
                self.problems[place] = (
                    f"for {self._spoken(self.own[place])} only, but {above} is wanted per order and belongs to no one "
                    "machine: write it per machine or per order"
                )
                return

    def _find_machines(self, place: int) -> None:
        links = self.offs[place].links
        if len(self.parents[place]) < len(links) or not links:
            mask = self.own[place]
        else:
            mask = 0
            for parent in self.parents[place]:
                mask |= self.masks[parent]
            mask &= self.own[place]
            if not mask and self.own[place] and not self.problems[place]:
                above = _joined(self.items[parent].number for parent in self.parents[place])
                self.problems[place] = (
                    f"for {self._spoken(self.own[place])}, but {above} is for none of these: correct the machines"
                )
        self.masks[place] = mask
        if not self.machines and not self.problems[place] and any(link.per == MACHINE for link in links):
            self.problems[place] = "counted per machine, but the order names no machines: write them in the order"

    def _count(self, place: int) -> None:
        """The count of an item whose parents are all counted."""
        own, size = self.own[place], len(self.machines)
        amounts = [0] * size
        once = 0
        parents = iter(self.parents[place])
        inside = range(size) if own == self.every else self._positions(own)
        for link in self.offs[place].links:
            number = link.number
            if link.per == ORDER:
                once += number
            elif link.per == MACHINE:
                for machine in inside:
                    amounts[machine] += number
            else:
                parent = next(parents)
                above = self.amounts[parent]
                for machine in inside:
                    amounts[machine] += number * above[machine]
                once += number * self.once[parent]
        spare = self.spares[place]
        if spare.kind is not OffKind.COUNT:
            self.problems[place] = f"counted in pieces, but its spares are `{spare.written}`: write spares in pieces"
            return self._set_down(place, None)
        spares = spare.per_machine * self.masks[place].bit_count() + spare.per_order
        off = sum(amounts) + once + spares
        if off > MOST_PIECES:
            self.problems[place] = f"comes to more than {MOST_PIECES:,} pieces: correct a number off in its chain"
            return self._set_down(place, None)
        self.amounts[place] = tuple(amounts)
        self.once[place] = once
        terms = self._terms(place)
        if spare.per_machine:
            terms.append(f"{spare.per_machine} × {self.masks[place].bit_count()}")
        if spare.per_order:
            terms.append(str(spare.per_order))
        working = " + ".join(terms)
        if not working.isdecimal():
            working = f"{working} = {off}"
        return self._set_down(place, off, spares, working)

    def _terms(self, place: int) -> list[str]:
        """The terms of the working before the spares; sets down the paths for the children."""
        own = self.own[place]
        links = self.offs[place].links
        parents = self.parents[place]
        above = iter(parents)
        if sum(len(self.paths[parent]) for parent in parents) + len(links) - len(parents) > MOST_PATHS:
            self.paths[place] = self._grouped(place)
            return self._subtotals(place)
        paths: list[_Path] = []
        for link in links:
            if link.per == ORDER:
                paths.append(_single(link.number, 0))
            elif link.per == MACHINE:
                paths.append(_single(link.number, own))
            else:
                number = link.number
                for written, product, factors, machines in self.paths[next(above)]:
                    over = machines & own
                    if machines and not over:
                        continue
                    if factors >= MOST_FACTORS:
                        paths.append(_Path(f"{number} × {product}", number * product, 2, over))
                    else:
                        paths.append(_Path(f"{number} × {written}", number * product, factors + 1, over))
        self.paths[place] = tuple(paths)
        return [path.term for path in paths]

    def _grouped(self, place: int) -> tuple[_Path, ...]:
        """The item's own amounts as paths, machines with equal amounts together."""
        groups: dict[int, int] = {}
        for machine, amount in enumerate(self.amounts[place]):
            if amount:
                groups[amount] = groups.get(amount, 0) | 1 << machine
        paths = [_single(amount, mask) for amount, mask in groups.items()]
        if self.once[place]:
            paths.append(_single(self.once[place], 0))
        return tuple(paths)

    def _subtotals(self, place: int) -> list[str]:
        """One term a link, number × how many of the parent; links beyond the limit are added up in the last term."""
        inside = self._positions(self.own[place])
        parents = iter(self.parents[place])
        terms: list[tuple[str, int]] = []
        for link in self.offs[place].links:
            if link.per == ORDER:
                terms.append((str(link.number), link.number))
                continue
            if link.per == MACHINE:
                subtotal = len(inside)
            else:
                parent = next(parents)
                above = self.amounts[parent]
                subtotal = sum(above[machine] for machine in inside) + self.once[parent]
            if subtotal:
                terms.append((f"{link.number} × {subtotal}", link.number * subtotal))
        if len(terms) > MOST_PATHS:
            rest = sum(value for _, value in terms[MOST_PATHS - 1 :])
            terms = [*terms[: MOST_PATHS - 1], (str(rest), rest)]
        return [text for text, _ in terms]

    def _keep_apart(self, place: int) -> None:
        """An item without a count: its own words, never multiplied; reference only counts as nought."""
        off, spare = self.offs[place], self.spares[place]
        if spare.written and spare.kind is not off.kind:
            self.problems[place] = f"its spares `{spare.written}` are not counted as it is itself (`{off.written}`)"
        self._set_down(place, 0 if off.kind is OffKind.REFERENCE and not self.problems[place] else None)

    def _set_down(self, place: int, off: int | None, spares: int = 0, working: str = "") -> None:
        said = self.offs[place]
        written = str(off) if said.kind is OffKind.COUNT else said.written
        if said.kind is OffKind.COUNT and off is None:
            written = NOT_KNOWN
        elif said.kind is not OffKind.COUNT and (spare := self.spares[place].written) and not self.problems[place]:
            written = f"{written}{SPARES_SAID}{spare}"
        self.totals[place] = Total(
            self.items[place].number,
            said.kind,
            off,
            self._positions(self.masks[place]),
            spares,
            self.amounts[place],
            self.once[place],
            written or NOT_KNOWN,
            working,
            self.problems[place],
            self.roots[place],
        )

    def _positions(self, mask: int) -> tuple[int, ...]:
        positions = self.positions.get(mask)
        if positions is None:
            positions = tuple(place for place in range(len(self.machines)) if mask >> place & 1)
            self.positions[mask] = positions
        return positions

    def _spoken(self, mask: int) -> str:
        return spoken(self._positions(mask), self.machines)

    # loops

    def _name_loops(self, left: list[int]) -> list[int]:
        """Give every item that stands on a loop its problem, and return these items."""
        ringed: list[int] = []
        for ring in _rings(left, self.parents):
            members = set(ring)
            known: dict[int, str] = {}
            for place in ring:
                if place not in known:
                    # Beyond this size a loop of its own for every item would cost the square of the ring.
                    if known and len(ring) > _SEARCHED_LOOP:
                        known[place] = next(iter(known.values()))
                        continue
                    loop = _loop_through(place, members, self.parents)
                    said = self._loop_said(loop)
                    self.loops.append(said)
                    known.update({stands: said for stands in loop if stands not in known})
            for place, said in known.items():
                self.problems[place] = (
                    f"stands on a loop of items each counted per the next: {said}; correct one of them"
                )
            ringed.extend(ring)
        return ringed

    def _loop_said(self, loop: list[int]) -> str:
        """A loop in words, beginning at its first number, so that all its items name it alike."""
        first = min(range(len(loop)), key=lambda place: self._key(self.items[loop[place]].number))
        turned = [*loop[first:], *loop[:first]]
        names = [self.items[place].number for place in [*turned, turned[0]]]
        if len(names) > MOST_NAMED + 1:
            between = len(names) - MOST_NAMED
            names = [*names[: MOST_NAMED - 1], f"({between} more)", names[-1]]
        return " -> ".join(names)


def _single(number: int, machines: int) -> _Path:
    return _Path(str(number), number, 1, machines)


def _rings(left: list[int], parents: list[tuple[int, ...]]) -> list[list[int]]:
    """The sets of items that can all be reached from one another: strongly connected components that hold a loop.

    Tarjan's algorithm (R. Tarjan, SIAM J. Comput. 1, 1972, from memory), with a stack of its own for any depth.
    """
    within = set(left)
    order: dict[int, int] = {}
    lowest: dict[int, int] = {}
    open_places: list[int] = []
    is_open: set[int] = set()
    rings: list[list[int]] = []
    for start in left:
        if start in order:
            continue
        order[start] = lowest[start] = len(order)
        open_places.append(start)
        is_open.add(start)
        climb = [(start, iter(parents[start]))]
        while climb:
            place, above = climb[-1]
            for parent in above:
                if parent not in within:
                    continue
                if parent not in order:
                    order[parent] = lowest[parent] = len(order)
                    open_places.append(parent)
                    is_open.add(parent)
                    climb.append((parent, iter(parents[parent])))
                    break
                if parent in is_open:
                    lowest[place] = min(lowest[place], order[parent])
            else:
                climb.pop()
                if climb:
                    lowest[climb[-1][0]] = min(lowest[climb[-1][0]], lowest[place])
                if lowest[place] == order[place]:
                    cut = _last_place(open_places, place)
                    ring = open_places[cut:]
                    del open_places[cut:]
                    is_open.difference_update(ring)
                    if len(ring) > 1 or place in parents[place]:
                        rings.append(sorted(ring))
    return rings


def _last_place(places: list[int], wanted: int) -> int:
    cut = len(places) - 1
    while places[cut] != wanted:
        cut -= 1
    return cut


def _loop_through(place: int, members: set[int], parents: list[tuple[int, ...]]) -> list[int]:
    """A shortest loop through an item, from it to the item it is counted per and so on, within its ring."""
    came_from: dict[int, int] = {}
    front = [place]
    while front:
        following: list[int] = []
        for here in front:
            for parent in parents[here]:
                if parent == place:
                    loop = [here]
                    while loop[-1] != place:
                        loop.append(came_from[loop[-1]])
                    return loop[::-1]
                if parent in members and parent not in came_from:
                    came_from[parent] = here
                    following.append(parent)
        front = following
    return [place]
