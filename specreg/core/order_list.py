"""What is to be ordered for a whole order, gathered: like material together, each article with its own like.

Every line of the specification stands under exactly one heading of the list or is left out with the reason, so that
nothing is missed: the two add to the lines of the order.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from fractions import Fraction

from specreg.core.cutting import PieceWanted, first_fit_plan
from specreg.core.exact_sums import sum_of
from specreg.core.lead_times import OrderBy, order_by
from specreg.core.linked_items import linked_items
from specreg.core.measures.records import NotRead
from specreg.core.model import Item, NumberOff, Route
from specreg.core.netting import pieces_spared
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.purchases import Purchase, Quoted, pieces_placed, standing_purchases
from specreg.core.standards import Standards
from specreg.core.stock.alike import alike, is_named, rough_size
from specreg.core.stock.house_rules import cutting_rules
from specreg.core.stock.materials import material_named
from specreg.core.stock.records import Form, MassOfOne, Stock


class How(StrEnum):
    """How a thing comes to the works."""

    BUY = "to buy complete"
    MATERIAL = "material to work up"
    STORES = "from stores"


@dataclass(frozen=True, slots=True)
class OrderPiece:
    """One item on the order list.

    `pieces` are to be had with spares and the extra of its route, None where there is no count; `written` says it in
    words. `spared` are not among them, since what they belong to is had complete. `rough` is the size that tells it
    from its like, as written; `length` in mm that of one piece cut to length; `mass` in kg of all pieces as ordered,
    None where it is not known. `by` is the latest day to order, or why it cannot
    be told. `quoted` is what a purchase of today says; `placed` what was placed and taken back, oldest first.
    """

    item: Item
    pieces: int | None
    written: str
    rough: str
    length: Fraction | None
    mass: Fraction | None
    by: OrderBy | NotRead | None
    quoted: Quoted
    placed: tuple[Purchase, ...] = ()
    spared: int = 0

    @property
    def is_placed(self) -> bool:
        """Whether as much is placed as is wanted; of what has no count, anything at all."""
        if self.pieces is None:
            return bool(standing_purchases(self.placed))
        return self.still == 0

    def is_late(self, today: date) -> bool:
        """Whether its latest day to order is past and it is not placed."""
        return isinstance(self.by, OrderBy) and self.by.day < today and not self.is_placed

    @property
    def still(self) -> int:
        """The pieces still to be placed; none of what has no count."""
        return max(0, self.difference)

    @property
    def difference(self) -> int:
        """Wanted less placed; below nought: more is placed than is wanted."""
        return (self.pieces or 0) - (pieces_placed(self.placed) if self.pieces is not None else 0)

    @property
    def outdated(self) -> tuple[tuple[Purchase, tuple[str, ...]], ...]:
        """The purchases that still stand and were quoted otherwise than the specification says now, and how."""
        found = ((one, Quoted.of(one).differences(self.quoted)) for one in standing_purchases(self.placed))
        return tuple((one, said) for one, said in found if said)


@dataclass(frozen=True, slots=True)
class OrderLine:
    """Like things to be had together.

    `material` and `what` name them (`mild steel`, `round 3"`), `form` is None where the size says none. `bars` are
    enough to cut the pieces from, as (stock length in mm, bars), shortest first; the cutting list may do with fewer.
    Empty where the works do not say how it is cut, or a piece is longer than any bar.
    """

    how: How
    material: str
    what: str
    form: Form | None
    pieces: tuple[OrderPiece, ...]
    bars: tuple[tuple[Fraction, int], ...] = ()

    @property
    def name(self) -> str:
        """As a man calls it: `mild steel, round 3"`."""
        return ", ".join(filter(None, (self.material, self.what)))

    @property
    def wanted(self) -> int:
        """The pieces of what is counted."""
        return sum(one.pieces or 0 for one in self.pieces)

    @property
    def not_counted(self) -> int:
        """The items that have no count."""
        return sum(one.pieces is None for one in self.pieces)

    @property
    def placed(self) -> int:
        """The pieces placed."""
        return sum(pieces_placed(one.placed) for one in self.pieces if one.pieces is not None)

    @property
    def is_placed(self) -> bool:
        """Whether nothing of it is still to be placed."""
        return all(one.is_placed for one in self.pieces)

    @property
    def length(self) -> Fraction | None:
        """All pieces end to end, in mm; None for what is not cut to length."""
        cut = [(one.length, one.pieces) for one in self.pieces if one.length is not None and one.pieces is not None]
        return sum_of(cut) if cut else None

    @property
    def mass(self) -> Fraction:
        """What the items with a weight come to, in kg as ordered."""
        return sum_of((one.mass, 1) for one in self.pieces if one.mass is not None)

    @property
    def without_mass(self) -> int:
        """The items whose weight is not known."""
        return sum(one.mass is None for one in self.pieces)

    @property
    def by(self) -> OrderBy | None:
        """The latest day to order what of it is not yet placed."""
        days = [one.by for one in self.pieces if isinstance(one.by, OrderBy) and not one.is_placed]
        return min(days, key=lambda one: one.day, default=None)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """An item that is not on the list, and why; `complete` is an assembly as it would be had complete."""

    item: Item
    why: str
    complete: OrderPiece | None = None


@dataclass(frozen=True, slots=True)
class OrderList:
    """Everything to be had for an order; `unwanted` are items that something is placed for and that are no longer on
    the list, by their number."""

    lines: tuple[OrderLine, ...]
    left_out: tuple[LeftOut, ...]
    unwanted: Mapping[str, tuple[Purchase, ...]] = field(default_factory=dict)

    @property
    def outdated(self) -> int:
        """Items placed at an older revision than the list is of, as far as it says otherwise."""
        return sum(bool(piece.outdated) for line in self.lines for piece in line.pieces)

    def late(self, today: date) -> int:
        """Items whose latest day to order is past and that are not placed."""
        return sum(one.is_late(today) for line in self.lines for one in line.pieces)

    def of(self, number: str) -> OrderPiece | None:
        """The item of a number on the list; None when it is not on it."""
        wanted = number_key(number)
        return next((one for line in self.lines for one in line.pieces if number_key(one.item.number) == wanted), None)


def order_list(picture: Picture, purchases: Iterable[Purchase] = ()) -> OrderList:
    """The order list of a picture, with what is placed; `purchases` carry the numbers their items have now."""
    placed = _by_item(purchases)
    heads = _assemblies(picture)
    spared = _spared(picture, heads, placed)
    gathered: dict[tuple[object, ...], list[OrderPiece]] = {}
    named: dict[tuple[object, ...], tuple[How, str, str, Form | None]] = {}
    left_out = []
    for item, route in picture.routed:
        key = number_key(item.number)
        size = picture.masses[key].size
        stock = size if isinstance(size, Stock) else None
        if why := _why_left_out(item, route, picture):
            left_out.append(LeftOut(item, why))
            continue
        piece = _piece(item, route, picture, stock, tuple(placed.pop(key, ())), spared.get(key, 0))
        assembly = _is_put_together(item, heads)
        if assembly and not standing_purchases(piece.placed):
            left_out.append(LeftOut(item, "put together from its parts", piece))
            continue
        like, name = _had_complete(item) if assembly else _like(item, stock, picture)
        named.setdefault(like, name)
        gathered.setdefault(like, []).append(piece)
    order = list(How)
    lines = [
        OrderLine(*named[like], tuple(pieces), _bars(named[like], pieces, picture.standards))
        for like, pieces in gathered.items()
    ]
    lines.sort(key=lambda line: order.index(line.how))
    unwanted = {some[0].number: tuple(some) for some in placed.values() if standing_purchases(some)}
    return OrderList(tuple(lines), tuple(left_out), unwanted)


@dataclass(frozen=True, slots=True)
class OutOfOrder:
    """What the chief must hear of: items placed with suppliers that say otherwise now, or are no longer wanted, and
    items whose latest day to order is past and that are not placed."""

    outdated: int
    late: int


def out_of_order(picture: Picture, purchases: Iterable[Purchase], today: date) -> OutOfOrder:
    """What is out of order on the order list, without making it: only what is placed or has a wanted day counts."""
    placed = _by_item(purchases)
    outdated = late = 0
    for item, route in picture.routed:
        key = number_key(item.number)
        if not (item.wanted or key in placed) or _why_left_out(item, route, picture):
            continue
        size = picture.masses[key].size
        piece = _piece(item, route, picture, size if isinstance(size, Stock) else None, tuple(placed.pop(key, ())), 0)
        outdated += bool(piece.outdated)
        late += piece.is_late(today)
    return OutOfOrder(outdated + sum(bool(standing_purchases(some)) for some in placed.values()), late)


def _by_item(purchases: Iterable[Purchase]) -> dict[str, list[Purchase]]:
    placed: dict[str, list[Purchase]] = {}
    for one in purchases:
        placed.setdefault(number_key(one.number), []).append(one)
    return placed


def fitting(found: OrderList, like: str) -> OrderList:
    """The lines that words name, by their own name or with the title of one of their items."""

    def fits(line: OrderLine) -> bool:
        return any(is_named(f"{line.name} {one.item.title}", like) for one in line.pieces)

    return OrderList(tuple(line for line in found.lines if fits(line)), (), {})


def _assemblies(picture: Picture) -> frozenset[str]:
    """The items that others are counted per, by `number_key`."""
    linked = linked_items(picture.items, picture.machines)
    return frozenset(
        number_key(item.number) for item, below in zip(linked.items, linked.children, strict=True) if below
    )


def _spared(picture: Picture, heads: frozenset[str], placed: Mapping[str, Sequence[Purchase]]) -> Mapping[str, int]:
    """The pieces that need not be had, since what they belong to is placed complete."""
    had = {key: pieces for key in heads & placed.keys() if (pieces := pieces_placed(placed[key])) > 0}
    if not had:
        return {}
    brings = picture.standards.reckoning.spare_assemblies_bring_parts is True
    return pieces_spared(picture.items, picture.machines, picture.roll_up, had, brings)


def _bars(
    name: tuple[How, str, str, Form | None], pieces: Sequence[OrderPiece], standards: Standards
) -> tuple[tuple[Fraction, int], ...]:
    how, material, _, form = name
    wanted = [
        PieceWanted(one.item.number, one.length, one.pieces)
        for one in pieces
        if one.length is not None and one.pieces is not None
    ]
    if how is not How.MATERIAL or form is None or not form.is_cut_to_length or not wanted:
        return ()
    rules = cutting_rules(form, material, standards)
    if isinstance(rules, NotRead):
        return ()
    plan = first_fit_plan(wanted, rules)
    return () if plan.pieces_too_long else plan.bars_by_stock


def _why_left_out(item: Item, route: Route, picture: Picture) -> str:
    """Why an item needs no ordering; empty when it does, or is put together from what does."""
    if item.supply.strip().casefold() == "free issue":
        return "sent by the customer"
    if route.no_action:
        return route.no_action
    total = picture.totals.get(number_key(item.number))
    if total is not None and total.off == 0:
        return "none is wanted"
    return ""


def _is_put_together(item: Item, heads: frozenset[str]) -> bool:
    made_of_parts = number_key(item.number) in heads and not item.material and not item.size
    return made_of_parts and _how(item) is How.MATERIAL


def _had_complete(item: Item) -> tuple[tuple[object, ...], tuple[How, str, str, Form | None]]:
    """The key and head of the line of an assembly that is placed complete."""
    return (How.BUY, "complete", number_key(item.number)), (How.BUY, "", f"{item.title}, complete", None)


def _how(item: Item) -> How:
    supply = item.supply.strip().casefold()
    return How.BUY if supply == "buy" else How.STORES if supply == "stock" else How.MATERIAL


def _piece(
    item: Item, route: Route, picture: Picture, stock: Stock | None, placed: tuple[Purchase, ...], spared: int
) -> OrderPiece:
    total = picture.totals.get(number_key(item.number))
    pieces = pieces_to_have(total, route)
    if pieces is not None:
        pieces = max(0, pieces - spared)
    mass = picture.masses[number_key(item.number)]
    weighed = isinstance(mass, MassOfOne) and pieces is not None
    return OrderPiece(
        item,
        pieces,
        str(pieces) if pieces is not None else (total.written if total else "as required"),
        " x ".join(one.written for one in rough_size(stock)) if stock is not None else item.size,
        stock.length if stock is not None and stock.form.is_cut_to_length else None,
        mass.to_order * pieces if weighed and isinstance(mass, MassOfOne) and pieces is not None else None,
        order_by(item, stock.form if stock is not None else None, picture.standards),
        quoted_now(item, picture),
        placed,
        spared,
    )


def pieces_to_have(total: NumberOff | None, route: Route) -> int | None:
    """The pieces to order: the order quantity, or what a step asks for with its extra where that is more. A pattern is
    no piece. None where there is no count."""
    if total is None or total.off is None:
        return None
    steps = (step.total for step in route.steps if "pattern" not in step.operation)
    return max(total.off, *(number for number in steps if number is not None), 0)


def quoted_now(item: Item, picture: Picture) -> Quoted:
    """What a purchase quotes of an item as the picture has it."""
    calls = picture.calls.get(number_key(item.number), ())
    return Quoted(item.material, item.size, ", ".join(call.with_revision for call in calls) or item.drawing)


def _like(
    item: Item, stock: Stock | None, picture: Picture
) -> tuple[tuple[object, ...], tuple[How, str, str, Form | None]]:
    """The key under which an item is gathered, and the head of its line.

    What is made here is gathered by material, form and section; an article, bought or from stores, by what it is
    called too, since a nut and a bolt may say the same size.
    """
    how = _how(item)
    known = material_named(item.material, picture.standards)
    material = known.name if known else " ".join(item.material.split())
    if how is How.BUY:
        noun, named = (item.part.strip(),) * 2 if item.part.strip() else (_folded(item.title), item.title)
        size = " ".join(item.size.split())
        return (how, material.casefold(), noun, size.casefold()), (how, material, f"{named} {size}".rstrip(), None)
    if how is How.MATERIAL and (stock is None or stock.form is Form.BY_WEIGHT):
        # A casting's or forging's size says how it is finished; it is had by its weight.
        weighed = isinstance(picture.masses[number_key(item.number)], MassOfOne)
        what = str(Form.BY_WEIGHT) if weighed and material else f"{item.title} {item.size}".rstrip()
        return (how, material.casefold(), what.casefold()), (how, material, what, None)
    noun = _noun(item.title)
    if stock is None:
        what = " ".join(f"{noun} {item.size}".split())
        return (how, material.casefold(), what.casefold()), (how, material, what, None)
    like = alike(stock, item.material, picture.standards)
    if stock.form is Form.FASTENER:
        return (how, noun, *like.key), (how, like.material, f"{noun} {like.section}", like.form)
    what = f"{like.form} {like.section}".rstrip()
    if how is How.MATERIAL:
        return (how, *like.key), (how, like.material, what, like.form)
    return (how, noun, *like.key), (how, like.material, f"{noun}, {what}", like.form)


_BEFORE_NOUN_ENDS = re.compile(r"[,(:]| (?:for|of|in|to|on|with|and|under|between)\b")


def _noun(title: str) -> str:
    """What an article is: the last word before a comma or a preposition, `nut` of `Nut for saddle bolt, hexagon`."""
    head = _BEFORE_NOUN_ENDS.split(title.strip(), maxsplit=1)[0].split()
    noun = head[-1].casefold() if head else ""
    return noun[:-1] if len(noun) > 3 and noun.endswith("s") and not noun.endswith("ss") else noun


def _folded(title: str) -> str:
    return " ".join(title.casefold().split())
