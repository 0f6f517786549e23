"""What an order wants cut from bars, tubes, flats, sections and wire: pieces of like stock together, and what is left
out of the list with the reason.

Lengths are those of the Size fields, exact, in millimetres; nothing is added for facing. Every live item of the order
is either in a group or left out, so that the two can be counted against the order.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache
from math import ceil
from typing import NamedTuple

from specreg.core.cutting import CuttingPlan, CuttingRules, PieceWanted
from specreg.core.measures.records import NotRead
from specreg.core.model import Item, Route
from specreg.core.numbering import number_key
from specreg.core.order_list import pieces_to_have
from specreg.core.picture import Picture
from specreg.core.quantities import NOT_KNOWN
from specreg.core.reckoning_standards import CuttingRule
from specreg.core.standards import Standards
from specreg.core.stock.alike import Alike, alike, is_named
from specreg.core.stock.house_rules import cutting_rule, cutting_rules
from specreg.core.stock.masses import mass_by_size
from specreg.core.stock.reading import read_stock
from specreg.core.stock.records import Form, Stock


class Reason(StrEnum):
    """Why an item is not on the cutting list."""

    BOUGHT = "bought"
    STORES = "from stores as it is"
    FREE_ISSUE = "free issue"
    NO_ACTION = "no department acts"
    CAST = "cast from a pattern"
    NO_SIZE = "no size written"
    NOT_CUT = "not cut from bars"
    NOT_READ = "size not read"
    NO_COUNT = "no count"
    NONE_WANTED = "none wanted"


_SUPPLIED = {"buy": Reason.BOUGHT, "stock": Reason.STORES, "free issue": Reason.FREE_ISSUE}
"""Supplies of which nothing is cut here."""

_ABOUT = "the size says about: measure before cutting"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """An item left out: `why` says more than the reason where there is more to say. `name` is that of its like stock,
    empty where its size is not read as stock that is cut to length."""

    item: Item
    reason: Reason
    why: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class PiecesOfItem:
    """How many pieces one item wants; `doubts` are sentences for a person about its size."""

    item: Item
    number: int
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PiecesOfLength:
    """The pieces of one length in mm, and the items that want them, in the order of the specification."""

    length: Fraction
    items: tuple[PiecesOfItem, ...]

    @property
    def number(self) -> int:
        """Pieces for all these items."""
        return sum(one.number for one in self.items)


@dataclass(frozen=True, slots=True)
class CuttingWanted:
    """The pieces wanted of like stock, longest first.

    `rule` is how the works cuts it, as written, None where no rule names it; `rules` the same in mm, or why there are
    none. No bar gives the pieces `too_long`, which are not among `pieces`. `per_metre` in kg/m is None where it is not
    known; `basis` says what it rests on.
    """

    alike: Alike
    rule: CuttingRule | None
    rules: CuttingRules | NotRead
    pieces: tuple[PiecesOfLength, ...]
    too_long: tuple[PiecesOfLength, ...] = ()
    per_metre: Fraction | None = None
    basis: str = ""

    @property
    def name(self) -> str:
        """As a man calls the stock: `mild steel, round 3"`."""
        return self.alike.name

    @property
    def number(self) -> int:
        """Pieces wanted, those too long among them."""
        return sum(one.number for one in (*self.pieces, *self.too_long))

    @property
    def doubts(self) -> tuple[str, ...]:
        """What a person should look at, each with the number of the item."""
        wanting = [one for some in (*self.pieces, *self.too_long) for one in some.items]
        return tuple(f"{one.item.number}: {doubt}" for one in wanting for doubt in one.doubts)

    @property
    def to_cut(self) -> tuple[PieceWanted, ...]:
        """The pieces that bars can give, as a plan is asked for them: by length alone, so that like bars stay one."""
        return tuple(PieceWanted("", one.length, one.number) for one in self.pieces)


@dataclass(frozen=True, slots=True)
class CutGroup:
    """A group with its plan; None where it is not cut by any rule, or where the work was stopped before it.

    `was_stopped`: a plan that cuts every piece, but might have been bettered or proved.
    """

    wanted: CuttingWanted
    plan: CuttingPlan | None
    was_stopped: bool = False

    @property
    def why_no_plan(self) -> str:
        """Why there is no plan; empty when there is one."""
        if self.plan is not None:
            return ""
        return str(self.wanted.rules) if isinstance(self.wanted.rules, NotRead) else "stopped before it was planned"

    @property
    def bars_by_length(self) -> int | None:
        """Bars by the plain sum of the lengths, without kerf, trim or grip; None with several stock lengths."""
        rules = self.wanted.rules
        if self.plan is None or isinstance(rules, NotRead) or len(rules.stock) > 1:
            return None
        return ceil(self.plan.used / rules.stock[0])

    @property
    def mass(self) -> Fraction | None:
        """The mass in kg of the bars as they are bought; None where no plan or no mass per metre is known."""
        if self.plan is None or self.wanted.per_metre is None:
            return None
        return self.plan.bought * self.wanted.per_metre / 1000


@dataclass(frozen=True, slots=True)
class CuttingList:
    """The groups by material, form and size, each with its plan, and the items left out."""

    groups: tuple[CutGroup, ...]
    left_out: tuple[LeftOut, ...]

    @property
    def items(self) -> int:
        """The items of the order that were gone through: on the list or left out, of the stock it is for."""
        groups = (one.wanted for one in self.groups)
        listed = sum(len(some.items) for group in groups for some in (*group.pieces, *group.too_long))
        return listed + len(self.left_out)

    @property
    def not_planned(self) -> tuple[CutGroup, ...]:
        """The groups without a plan."""
        return tuple(one for one in self.groups if one.plan is None)

    @property
    def was_stopped(self) -> bool:
        """Whether somebody stopped the work before every group was planned as well as may be."""
        return any(
            one.was_stopped or (one.plan is None and isinstance(one.wanted.rules, CuttingRules)) for one in self.groups
        )


class _Bar(NamedTuple):
    """A size read as stock that is cut to length, and its length in mm."""

    like: Alike
    stock: Stock
    length: Fraction


def cutting_wanted(picture: Picture) -> tuple[tuple[CuttingWanted, ...], tuple[LeftOut, ...]]:
    """The groups of an order by material, form and rising section, and the items left out, in its own order."""

    @cache
    def read(size: str, material: str) -> _Bar | Stock | NotRead:
        stock = read_stock(size, material, picture.standards)
        if isinstance(stock, NotRead) or not stock.form.is_cut_to_length or stock.length is None:
            return stock
        return _Bar(alike(stock, material, picture.standards), stock, stock.length)

    groups: dict[tuple[object, ...], list[tuple[_Bar, PiecesOfItem]]] = {}
    left_out: list[LeftOut] = []
    for item, route in picture.routed:
        found = read(item.size, item.material)
        number = pieces_to_have(picture.totals.get(number_key(item.number)), route)
        reason = _why_left_out(picture, item, route, found, number)
        if isinstance(found, _Bar) and number and reason is None:
            doubts = (*found.stock.doubts, _ABOUT) if found.stock.approximate else found.stock.doubts
            groups.setdefault(found.like.key, []).append((found, PiecesOfItem(item, number, doubts)))
        else:
            name = found.like.name if isinstance(found, _Bar) else ""
            left_out.append(LeftOut(item, *(reason or (Reason.NONE_WANTED, "")), name))
    return tuple(_group(some, picture.standards) for some in sorted(groups.values(), key=_place)), tuple(left_out)


def those_like(
    groups: Sequence[CuttingWanted], left_out: Iterable[LeftOut], words: str
) -> tuple[tuple[CuttingWanted, ...], tuple[LeftOut, ...]]:
    """The groups whose names have these words, and what is left out of such stock; no words: all of both."""
    if not words.strip():
        return tuple(groups), tuple(left_out)
    return (
        tuple(one for one in groups if is_named(one.name, words)),
        tuple(one for one in left_out if one.name and is_named(one.name, words)),
    )


def _why_left_out(
    picture: Picture, item: Item, route: Route, found: _Bar | Stock | NotRead, number: int | None
) -> tuple[Reason, str] | None:
    """The first reason to leave an item out, with what more there is to say; None where there is none."""
    if supplied := _SUPPLIED.get(item.supplied):
        return supplied, ""
    if route.no_action:
        return Reason.NO_ACTION, route.no_action
    if item.pattern.strip():
        return Reason.CAST, f"pattern {item.pattern}"
    if not item.size.strip():
        return Reason.NO_SIZE, ""
    if isinstance(found, NotRead):
        return Reason.NOT_READ, f"{found.written} — {found.why}"
    if isinstance(found, Stock):
        return Reason.NOT_CUT, str(found.form)
    if number is None:
        total = picture.roll_up.of(item.number)
        return Reason.NO_COUNT, total.problem or total.written if total is not None else NOT_KNOWN
    return None


def _group(found: Sequence[tuple[_Bar, PiecesOfItem]], standards: Standards) -> CuttingWanted:
    """The pieces of like stock by length; the stock is named as the first of its items names it."""
    (like, stock, length), first = found[0]
    material = first.item.material
    by_length: dict[Fraction, list[PiecesOfItem]] = {}
    for bar, pieces in found:
        by_length.setdefault(bar.length, []).append(pieces)
    every = [PiecesOfLength(one, tuple(by_length[one])) for one in sorted(by_length, reverse=True)]
    rules = cutting_rules(like.form, material, standards)
    longest = every[0].length if isinstance(rules, NotRead) else max(rules.stock) - rules.lost
    mass = mass_by_size(stock, material, standards)
    return CuttingWanted(
        like,
        cutting_rule(like.form, material, standards),
        rules,
        tuple(one for one in every if one.length <= longest),
        tuple(one for one in every if one.length > longest),
        None if isinstance(mass, NotRead) else mass.mass * 1000 / length,
        str(mass) if isinstance(mass, NotRead) else mass.basis,
    )


def _place(found: Sequence[tuple[_Bar, PiecesOfItem]]) -> tuple[object, ...]:
    like, stock, _ = found[0][0]
    return like.material.casefold(), list(Form).index(like.form), stock.area or stock.per_metre or 0, like.section
