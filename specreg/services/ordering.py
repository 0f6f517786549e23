"""The order list of the order on the desk, and what is placed with suppliers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from specreg.core.counts import so_many
from specreg.core.days import day_of
from specreg.core.errors import NotFound, Refused, WrongUse
from specreg.core.folding import plain_words
from specreg.core.measures.records import NotRead
from specreg.core.model import State
from specreg.core.numbering import number_key
from specreg.core.order_list import OrderLine, OrderList, OrderPiece, fitting, order_list
from specreg.core.picture import Picture
from specreg.core.purchases import Purchase, standing_purchases
from specreg.core.standards import Standards
from specreg.core.stock.alike import is_named
from specreg.services.altering import find_item
from specreg.services.comparing import OPEN, name_of, revision_named
from specreg.services.cutting_list import SECONDS_OF_A_GROUP
from specreg.services.office import Office
from specreg.services.pictures import Pictures
from specreg.store import items, purchases
from specreg.store.database import Act
from specreg.store.revisions import Revision


@dataclass(frozen=True, slots=True)
class Ordered:
    """An order list with the state it is of (`B`, or `open`), the order as that says it, and today."""

    state: str
    picture: Picture
    found: OrderList
    today: str


@dataclass(frozen=True, slots=True)
class Placing:
    """What is to be recorded as placed: on which purchase, with whom, when, due when, and quoting which revision (the
    last issued where none is named). Days as 2026-11-25; `placed_on` empty: today."""

    purchase: str
    supplier: str
    placed_on: str = ""
    due: str = ""
    revision: str = ""
    remarks: str = ""


def order_list_at(office: Office, at: str = "", like: str = "") -> Ordered:
    """The order list at a revision, by letter, or the last issued; `open` means the order as it stands. With `like`
    only the lines whose name or titles hold these words. Raises NotFound."""
    with office.book.reading():
        revision = _state(office, at)
        picture = Pictures(office).of(revision)
        found = order_list(picture, _placed(office, revision))
    if like:
        found = _fitting(found, like)
    lines = tuple(_with_bars(line, picture.standards) for line in found.lines)
    return Ordered(name_of(revision), picture, replace(found, lines=lines), office.today)


def _with_bars(line: OrderLine, standards: Standards) -> OrderLine:
    """A line with the bars that its pieces still to be placed are cut from, as few as can be found in a moment."""
    from specreg.core.stock.house_rules import cutting_rules
    from specreg.solvers.cutting_stock import Limits, cut_stock

    if line.form is None or not line.to_cut:
        return line
    rules = cutting_rules(line.form, line.material, standards)
    if isinstance(rules, NotRead):
        return line
    return replace(line, bars=cut_stock(line.to_cut, rules, Limits(SECONDS_OF_A_GROUP)))


def placed_so_far(office: Office) -> list[Purchase]:
    """Every purchase recorded for the order, oldest first, under the numbers that the items had then."""
    return [one for _, one in purchases.of_order(office.book, office.order_id)]


def placed_now(office: Office) -> list[Purchase]:
    """The same under the numbers that the items have as the order stands."""
    return _placed(office, None)


def placed_of(office: Office, item_id: int) -> tuple[Purchase, ...]:
    """What still stands placed of one item."""
    return standing_purchases(purchases.of_item(office.book, item_id))


def place(office: Office, placing: Placing, pieces: Mapping[str, int | None], like: str = "") -> list[Purchase]:
    """Record items as placed on a purchase: so many pieces each, None: what is still wanted. With `like` all that is
    still wanted of the lines it fits is placed as well.

    Raises WrongUse, NotFound, and Refused for an item that is not ordered, or of which nothing more is wanted.
    """
    office.require("place orders")
    said = _checked(office, placing)
    with office.book.act(office.person.code, "placed", office.now, office.order_id) as act:
        # All read inside the act, so that what is quoted is what stands while it is recorded.
        said = _named_as_before(office, said)
        revision = _quoted(office, said)
        picture = Pictures(office).of(revision)
        listed = order_list(picture, _placed(office, revision))
        there = listed.by_number()
        asked = [_asked(listed, there, number, wanted) for number, wanted in pieces.items()]
        if like:
            named = {number_key(piece.item.number) for piece, _ in asked}
            fits = [
                piece
                for line in _fitting(listed, like).lines
                for piece in line.pieces
                if is_named(line.name, like) or is_named(f"{line.name} {piece.item.title}", like)
            ]
            asked += [
                (piece, None) for piece in fits if not piece.is_placed and number_key(piece.item.number) not in named
            ]
        if not asked:
            raise Refused(f"Place what is like {like}", "all of it is placed already", "Nothing was written")
        done = [_purchase(piece, number, said, revision) for piece, number in asked]
        _record(office, act, revision, done)
        act.words = f"{so_many(len(done), 'item')} on {said.purchase} with {said.supplier}"
    return done


def doubts_of(office: Office, done: Sequence[Purchase]) -> list[str]:
    """What is doubtful of what was just recorded: more than is wanted, due after it is wanted."""
    revision = _state(office, done[0].revision) if done else None
    listed = order_list(Pictures(office).of(revision), _placed(office, revision))
    said, there = [], listed.by_number()
    for one in done:
        piece = there.get(number_key(one.number))
        if piece is not None and piece.pieces is not None and piece.difference < 0:
            said.append(f"{one.number}: {-piece.difference} more are placed than are wanted")
        if piece is not None and any(late.purchase == one.purchase for late in piece.due_too_late):
            said.append(f"{one.number}: due {one.due}, and wanted {piece.item.wanted}")
    return said


def take_back(office: Office, purchase: str, pieces: Mapping[str, int | None], remarks: str = "") -> list[Purchase]:
    """Record that items of a purchase are taken back: so many pieces each, None: all that stands of it. No items: the
    whole purchase. Raises WrongUse, NotFound, and Refused for more than is placed."""
    office.require("place orders")
    if not purchase.strip():
        raise WrongUse("Take back", "no purchase is named", "Give its number with --purchase")
    with office.book.act(office.person.code, "placed", office.now, office.order_id) as act:
        recorded = purchases.of_order(office.book, office.order_id)
        held = [one for one in recorded if plain_words(one[1].purchase) == plain_words(purchase)]
        if not held:
            raise NotFound(f"Purchase {purchase}", "nothing is placed on it", "List them with `specreg placed`")
        by_item: dict[int, list[Purchase]] = {}
        for item_id, one in held:
            by_item.setdefault(item_id, []).append(one)
        named = _identities(office, by_item)
        if not pieces:
            pieces = {some[-1].number: None for some in by_item.values() if standing_purchases(some)}
        done = []
        for number, so_many_back in pieces.items():
            item_id = named.get(number_key(number), 0)
            back = _back(number, so_many_back, by_item.get(item_id, ()), held[0][1].purchase)
            back = replace(back, placed_on=office.today, remarks=remarks.strip())
            purchases.add(office.book, act, office.order_no, office.order_id, item_id, back)
            done.append(back)
        if not done:
            raise Refused(f"Take back purchase {purchase}", "all of it is taken back already", "Nothing was written")
        act.words = f"{so_many(len(done), 'item')} taken back from {held[0][1].purchase}"
    return done


def _back(number: str, pieces: int | None, placed: Sequence[Purchase], purchase: str) -> Purchase:
    """The record that takes pieces back from what is placed of one item on one purchase."""
    standing = standing_purchases(placed)
    if not standing:
        raise Refused(f"Take back {number}", f"nothing of it stands on {purchase}", "Nothing was written")
    there = standing[0].pieces or 0
    if pieces is None:
        return replace(standing[0], pieces=-there)
    if not 0 < pieces <= there:
        raise Refused(f"Take back {pieces} of {number}", f"{there} are placed on {purchase}", "Give no more than these")
    return replace(standing[0], pieces=-pieces)


def _record(office: Office, act: Act, revision: Revision | None, done: Sequence[Purchase]) -> None:
    for one in done:
        if revision is None:
            item_id = find_item(office, one.number).item_id
        else:
            found = items.number_at(office.book, office.order_id, one.number, revision.entry)
            if found is None:
                raise NotFound(f"Item {one.number}", f"revision {revision.letter} has none", "Quote another revision")
            item_id = found[0]
        purchases.add(office.book, act, office.order_no, office.order_id, item_id, one)


def _state(office: Office, at: str) -> Revision | None:
    if not at and not office.revisions():
        # Material is ordered before the first issue.
        return revision_named(office, OPEN)
    return revision_named(office, at)


def _placed(office: Office, revision: Revision | None) -> list[Purchase]:
    """What is placed, each under the number that its item has in a state; an outsider may renumber."""
    found = purchases.of_order(office.book, office.order_id)
    if office.order.numbering == "ours" or not found:
        return [one for _, one in found]
    if revision is None:
        there = [(one.item_id, one.item) for one in items.all_now(office.book, office.order_id)]
    else:
        there = list(items.issued_at(office.book, office.order_id, revision.entry))
    live = {item_id: item.number for item_id, item in there if item.state is State.LIVE}
    # What is placed for an item that is gone must not be taken for another that was given its number since.
    return [replace(one, number=live.get(item_id, f"{one.number} (dropped)")) for item_id, one in found]


def _identities(office: Office, by_item: Mapping[int, Sequence[Purchase]]) -> dict[str, int]:
    """The items of a purchase by the numbers they had on it, and by those they have now, which come first."""
    named = {number_key(one.number): item_id for item_id, some in by_item.items() for one in some}
    for item_id in by_item:
        standing = items.by_id(office.book, item_id)
        if standing is not None and standing.item.state is State.LIVE:
            named[number_key(standing.item.number)] = item_id
    return named


def _fitting(found: OrderList, like: str) -> OrderList:
    fits = fitting(found, like)
    if not fits.lines:
        there = "; ".join(line.name for line in found.lines[:3]) or "nothing"
        raise NotFound(f"On the order list, `{like}`", f"nothing is called so; there is {there} …", "Use other words")
    return fits


def _checked(office: Office, placing: Placing) -> Placing:
    said = replace(
        placing,
        purchase=placing.purchase.strip(),
        supplier=placing.supplier.strip(),
        placed_on=placing.placed_on.strip() or office.today,
        due=placing.due.strip(),
    )
    if not said.purchase or not said.supplier:
        raise WrongUse("Record what is placed", "its purchase number and its supplier are needed", "Give both")
    for word, day in (("placed on", said.placed_on), ("due", said.due)):
        named = day_of(day) if day else None
        if day and (named is None or named.isoformat() != day):
            raise WrongUse(f"{word.capitalize()} {day}", "it is no day", "Write it as 2026-11-25")
    if said.placed_on > office.today:
        raise WrongUse(f"Placed on {said.placed_on}", "that day is still to come", "Give the day it was placed")
    if said.due and said.due < said.placed_on:
        raise WrongUse(f"Due {said.due}", f"that is before {said.placed_on}, when it was placed", "Correct one of them")
    return said


def _named_as_before(office: Office, said: Placing) -> Placing:
    """The purchase by the number it was first recorded under, however it is written; one purchase has one supplier."""
    for one in placed_so_far(office):
        if plain_words(one.purchase) != plain_words(said.purchase):
            continue
        if plain_words(one.supplier) != plain_words(said.supplier):
            raise Refused(f"Place on {said.purchase}", f"that purchase is with {one.supplier}", "Give its own number")
        return replace(said, purchase=one.purchase, supplier=one.supplier)
    return said


def _quoted(office: Office, placing: Placing) -> Revision | None:
    """The revision a purchase quotes; None before the first issue. A supplier is never quoted what is not issued."""
    if placing.revision.strip().lower() == OPEN and office.revisions():
        raise WrongUse("Quote the order as it stands", "its open edits are not issued", "Quote a revision by letter")
    return _state(office, placing.revision)


def _asked(
    listed: OrderList, there: Mapping[str, OrderPiece], number: str, pieces: int | None
) -> tuple[OrderPiece, int | None]:
    """The item of a number with the pieces to place; of an assembly these must be said."""
    found = there.get(number_key(number))
    if found is not None:
        return found, pieces
    out = next((one for one in listed.left_out if number_key(one.item.number) == number_key(number)), None)
    if out is not None and out.complete is not None:
        if pieces is None:
            do = f"Where some are had complete, say how many: {number}=1"
            raise Refused(f"Place {out.item.number} {out.item.title}", "it is put together from its parts", do)
        return out.complete, pieces
    if out is not None:
        raise Refused(
            f"Place {out.item.number} {out.item.title}", f"it is not ordered: {out.why}", "Nothing was written"
        )
    raise NotFound(f"Item {number} on the order list", "there is none", "Look it up with `specreg order-list`")


def _purchase(piece: OrderPiece, pieces: int | None, said: Placing, revision: Revision | None) -> Purchase:
    """The record of one item; of what has no count, as much as is required is placed."""
    asked = f"Place {piece.item.number} {piece.item.title}".strip()
    if pieces is not None and pieces <= 0:
        raise WrongUse(asked, f"{pieces} is no number to place", "Take pieces back with --back")
    if piece.pieces is None and pieces is not None:
        raise WrongUse(asked, f"it has no count: {piece.written}", "Name it without a number")
    if pieces is None and piece.pieces is not None:
        pieces = piece.still
        if not pieces:
            raise Refused(asked, f"all {piece.pieces} are placed", "Give how many more, as ITEM=PIECES")
    quoted = piece.quoted
    return Purchase(
        piece.item.number, said.purchase, said.supplier, said.placed_on, said.due,
        revision.letter if revision else "", pieces, quoted.title, quoted.part, quoted.material, quoted.size,
        quoted.drawing, said.remarks.strip(),
    )  # fmt: skip
