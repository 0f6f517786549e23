"""What an item's Off, Per and Spares fields say, and the records that a number off is handed on in.

Pairs, sets, lots, `as required` and `to suit` are no counts: they are kept in their own words. Nothing is guessed:
what cannot be read has no number and one sentence that says what to write.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple, Protocol

from specreg.core.numbering import number_key

MACHINE = "machine"
ORDER = "order"
NOT_KNOWN = "not known"
"""What is written for a number off that cannot be reckoned."""
SPARES_SAID = ", spares "
"""What stands between a quantity that has no count and its spares, in words."""


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
        return _not_read(f"`{said}` mixes {' and '.join(sorted(kinds))}: give the other kind an item of its own")
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
        return Spares(problem=f"spares `{said}` mix {' and '.join(sorted(kinds))}: write one kind")
    kind = kinds.pop()
    if kind is not OffKind.COUNT:
        return Spares(kind=kind, written=said)
    return Spares(numbers.get(MACHINE, 0), numbers.get(ORDER, 0), kind, said)


def _plain(text: str) -> str:
    return " ".join(text.split())


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
