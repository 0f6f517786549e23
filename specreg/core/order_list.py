"""What is to be ordered for a whole order, gathered: like material together, each article with its own like.

Every line of the specification stands under exactly one heading of the list or is left out with the reason, so that
nothing is missed: the two add to the lines of the order.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple

from specreg.core.cutting import CuttingPlan, PieceWanted
from specreg.core.days import day_of
from specreg.core.exact_sums import sum_of
from specreg.core.folding import plain_words
from specreg.core.lead_times import OrderBy, order_by
from specreg.core.linked_items import linked_items
from specreg.core.measures.records import NotRead
from specreg.core.model import Item, NumberOff, Route
from specreg.core.netting import pieces_spared
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.purchases import Purchase, Quoted, pieces_placed, standing_purchases
from specreg.core.stock.alike import alike, is_named, rough_size
from specreg.core.stock.materials import material_named
from specreg.core.stock.records import Form, MassOfOne, NotReckoned, Stock
from specreg.core.weighing import is_pattern


class How(StrEnum):
    """How a thing comes to the works."""

    BUY = "to buy complete"
    MATERIAL = "material to work up"
    STORES = "from stores"


@dataclass(frozen=True, slots=True)
class OrderPiece:
    """One item on the order list.

    `pieces` are to be had with spares and the extra of its route, None where there is no count; `written` says it in
    words (`52+1`). `spared` are not among them, since what they belong to is had complete. `rough` is the size that
    tells it from its like; `length` in mm that of one piece cut to length; `one` in kg one piece as ordered, None where
    it is not known, and `is_finished` says that it is the finished weight of a casting or forging, for want of a rough
    one. `by` is the latest day to order, or why it cannot
    be told. `quoted` is what a purchase of today says; `placed` what was placed and taken back, oldest first.
    """

    item: Item
    pieces: int | None
    written: str
    rough: str
    length: Fraction | None
    one: Fraction | None
    by: OrderBy | NotRead | None
    quoted: Quoted
    placed: tuple[Purchase, ...] = ()
    spared: int = 0
    is_finished: bool = False

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
    def due_too_late(self) -> tuple[Purchase, ...]:
        """The purchases that still stand and are due after the item is wanted."""
        wanted = day_of(self.item.wanted)
        if wanted is None:
            return ()
        return tuple(one for one in standing_purchases(self.placed) if one.due > wanted.isoformat())

    @property
    def outdated(self) -> tuple[tuple[Purchase, tuple[str, ...]], ...]:
        """The purchases that still stand and were quoted otherwise than the specification says now, and how."""
        found = ((one, Quoted.of(one).differences(self.quoted)) for one in standing_purchases(self.placed))
        return tuple((one, said) for one, said in found if said)


@dataclass(frozen=True, slots=True)
class OrderLine:
    """Like things to be had together.

    `material` and `what` name them (`mild steel`, `round 3"`), `form` is None where the size says none. Lengths and
    weights are of what is still to be placed. `per_mm` is what such a bar weighs in kg to the mm, None for what is not
    cut from bars. `bars` are those to cut what is still to be placed from, as a cutting list has them; None until one
    is made.
    """

    how: How
    material: str
    what: str
    form: Form | None
    pieces: tuple[OrderPiece, ...]
    per_mm: Fraction | None = None
    bars: CuttingPlan | None = None

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
    def over(self) -> int:
        """The pieces placed beyond what is wanted of their item: they make up for no other."""
        return sum(max(0, -one.difference) for one in self.pieces)

    @property
    def is_placed(self) -> bool:
        """Whether nothing of it is still to be placed."""
        return all(one.is_placed for one in self.pieces)

    @property
    def still(self) -> int:
        """The pieces still to be placed."""
        return sum(one.still for one in self.pieces)

    @property
    def length(self) -> Fraction | None:
        """All pieces still to be placed end to end, in mm; None for what is not cut to length."""
        cut = [(one.length, one.still) for one in self.pieces if one.length is not None]
        return sum_of(cut) if cut else None

    @property
    def to_cut(self) -> tuple[PieceWanted, ...]:
        """The pieces still to be placed that are cut from bars."""
        if self.per_mm is None:
            return ()
        return tuple(
            PieceWanted(one.item.number, one.length, one.still)
            for one in self.pieces
            if one.length is not None and one.still
        )

    @property
    def mass(self) -> Fraction:
        """What is still to be placed of the items with a weight, in kg as ordered."""
        return sum_of((one.one, one.still) for one in self.pieces if one.one is not None)

    @property
    def without_mass(self) -> int:
        """The items still to be placed whose weight, or count, is not known."""
        return sum((one.one is None or one.pieces is None) and not one.is_placed for one in self.pieces)

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

    def by_number(self) -> dict[str, OrderPiece]:
        """The items on the list by their `number_key`."""
        return {number_key(one.item.number): one for line in self.lines for one in line.pieces}

    def of(self, number: str) -> OrderPiece | None:
        """The item of a number on the list; None when it is not on it."""
        return self.by_number().get(number_key(number))


def order_list(picture: Picture, purchases: Iterable[Purchase] = ()) -> OrderList:
    """The order list of a picture, with what is placed; `purchases` carry the numbers their items have now."""
    placed = _by_item(purchases)
    gathered: dict[tuple[object, ...], list[OrderPiece]] = {}
    named: dict[tuple[object, ...], tuple[How, str, str, Form | None]] = {}
    left_out = []
    for one in _entries(picture, placed, lambda _item, _key: True):
        if one.why or one.piece is None:
            left_out.append(LeftOut(one.item, one.why, one.piece))
            continue
        like, name = _had_complete(one.item) if one.is_assembly else _like(one.item, one.stock, picture)
        named.setdefault(like, name)
        gathered.setdefault(like, []).append(one.piece)
    order = list(How)
    lines = [
        OrderLine(*named[like], tuple(pieces), _per_mm(named[like], pieces, picture))
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
    for one in _entries(picture, placed, lambda item, key: bool(item.wanted) or key in placed):
        if one.piece is not None and not one.why:
            outdated += bool(one.piece.outdated)
            late += one.piece.is_late(today)
    return OutOfOrder(outdated + sum(bool(standing_purchases(some)) for some in placed.values()), late)


class _Entry(NamedTuple):
    """An item of the order: on the list as `piece`, or left out for `why`; an assembly left out has its piece too."""

    item: Item
    stock: Stock | None
    why: str
    piece: OrderPiece | None = None
    is_assembly: bool = False


def _entries(
    picture: Picture, placed: dict[str, list[Purchase]], is_asked: Callable[[Item, str], bool]
) -> Iterator[_Entry]:
    """The lines of the order that are asked for, in its order; what is placed for them is taken out of `placed`.

    Of a number used twice the first item has what is placed for it, and its weight.
    """
    put_together = _put_together(picture)
    spared = _spared(picture, put_together, placed)
    for item, route in picture.routed:
        key = number_key(item.number)
        if not is_asked(item, key):
            continue
        size = picture.masses[key].size
        stock = size if isinstance(size, Stock) and size.written == item.size else None
        if why := _why_left_out(item, route, picture):
            yield _Entry(item, stock, why)
            continue
        piece = _piece(item, route, picture, stock, tuple(placed.pop(key, ())), spared.get(key, 0))
        if key in put_together and not standing_purchases(piece.placed):
            yield _Entry(item, stock, "put together from its parts", piece)
        else:
            yield _Entry(item, stock, "", piece, key in put_together)


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


def _put_together(picture: Picture) -> frozenset[str]:
    """The assemblies that are put together here from what is counted per them, by `number_key`."""
    linked = linked_items(picture.items, picture.machines)
    return frozenset(
        number_key(item.number)
        for item, below in zip(linked.items, linked.children, strict=True)
        if below and not item.material and not item.size and _how(item) is How.MATERIAL
    )


def _spared(
    picture: Picture, put_together: frozenset[str], placed: Mapping[str, Sequence[Purchase]]
) -> Mapping[str, int]:
    """The pieces that need not be had, since an assembly that they belong to is placed complete. To place the material
    of a wheel spares nothing of its bushes."""
    had = {key: pieces for key in put_together & placed.keys() if (pieces := pieces_placed(placed[key])) > 0}
    if not had:
        return {}
    brings = picture.standards.reckoning.spare_assemblies_bring_parts is True
    return pieces_spared(picture.items, picture.machines, picture.roll_up, had, brings)


def _per_mm(name: tuple[How, str, str, Form | None], pieces: Sequence[OrderPiece], picture: Picture) -> Fraction | None:
    """What a bar weighs in kg to the mm, by the size of the first piece cut from it."""
    how, _, _, form = name
    if how is not How.MATERIAL or form is None or not form.is_cut_to_length:
        return None
    for one in pieces:
        mass = picture.masses[number_key(one.item.number)]
        if one.length and isinstance(mass, MassOfOne) and mass.by_size is not None:
            return mass.by_size.mass / one.length
    return None


def _why_left_out(item: Item, route: Route, picture: Picture) -> str:
    """Why an item needs no ordering; empty when it does, or is put together from what does."""
    if item.supplied == "free issue":
        return "sent by the customer"
    if route.no_action:
        return route.no_action
    total = picture.totals.get(number_key(item.number))
    if total is not None and total.off == 0:
        return "none is wanted"
    return ""


def _had_complete(item: Item) -> tuple[tuple[object, ...], tuple[How, str, str, Form | None]]:
    """The key and head of the line of an assembly that is placed complete."""
    return (How.BUY, "complete", number_key(item.number)), (How.BUY, "", f"{item.title}, complete", None)


def _how(item: Item) -> How:
    return {"buy": How.BUY, "stock": How.STORES}.get(item.supplied, How.MATERIAL)


def _piece(
    item: Item, route: Route, picture: Picture, stock: Stock | None, placed: tuple[Purchase, ...], spared: int
) -> OrderPiece:
    total = picture.totals.get(number_key(item.number))
    pieces = pieces_to_have(total, route)
    written = total.written if total else "as required"
    if pieces is not None and total is not None and total.off is not None:
        extra = pieces - total.off
        written = f"{max(0, total.off - spared)}+{extra}" if extra else str(max(0, total.off - spared))
        pieces = pieces - spared if spared < total.off else 0
    mass = picture.masses[number_key(item.number)]
    weighed = mass if isinstance(mass, MassOfOne) else None
    is_cut = stock is not None and stock.form.is_cut_to_length and not _is_had_rough(item, mass)
    rough = " x ".join(one.written for one in rough_size(stock)) if stock is not None else item.size
    return OrderPiece(
        item,
        pieces,
        written,
        f"rough {weighed.allowed.size}" if weighed is not None and weighed.allowed is not None else rough,
        stock.length if stock is not None and is_cut else None,
        weighed.to_order if weighed is not None else None,
        order_by(item, stock.form if stock is not None else None, picture.standards),
        quoted_now(item, picture),
        placed,
        spared,
        weighed is not None and weighed.lacks_rough,
    )


def _is_had_rough(item: Item, mass: MassOfOne | NotReckoned) -> bool:
    """Whether it comes as a casting or forging, and is not cut from stock of its finished size."""
    if item.pattern:
        return True
    return isinstance(mass, MassOfOne) and (mass.rough is not None or mass.allowed is not None or mass.lacks_rough)


def pieces_to_have(total: NumberOff | None, route: Route) -> int | None:
    """The pieces to order: the order quantity, or what a step asks for with its extra where that is more. A pattern is
    no piece. None where there is no count."""
    if total is None or total.off is None:
        return None
    steps = (step.total for step in route.steps if not is_pattern(step.operation))
    return max(total.off, *(number for number in steps if number is not None), 0)


def quoted_now(item: Item, picture: Picture) -> Quoted:
    """What a purchase quotes of an item as the picture has it."""
    calls = picture.calls.get(number_key(item.number), ())
    return Quoted(
        item.title, item.part, item.material, item.size, ", ".join(call.with_revision for call in calls) or item.drawing
    )


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
    size = " ".join(item.size.split())
    if how is How.BUY:
        named = item.part.strip() or item.title
        key = (how, material.casefold(), plain_words(named), size.casefold())
        return key, (how, material, f"{named} {size}".rstrip(), None)
    mass = picture.masses[number_key(item.number)]
    if how is How.MATERIAL and (stock is None or stock.form is Form.BY_WEIGHT or _is_had_rough(item, mass)):
        # A casting's or forging's size says how it is finished; it is had by its weight.
        weighed = isinstance(mass, MassOfOne)
        what = str(Form.BY_WEIGHT) if weighed and material else f"{item.title} {item.size}".rstrip()
        return (how, material.casefold(), what.casefold()), (how, material, what, None)
    noun = _noun(item.title)
    if stock is None:
        what = f"{noun} {size}".strip()
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
