"""order-list, placed."""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, doing, not_blank, say, to_thousandths
from specreg.core.counts import so_many
from specreg.core.errors import WrongUse
from specreg.core.numbering import number_key

if TYPE_CHECKING:
    from specreg.core.order_list import OrderLine, OrderPiece
    from specreg.core.purchases import Purchase
    from specreg.services.ordering import Ordered

_PIECES = re.compile("[0-9]{1,12}")
_like = click.option("--like", callback=not_blank, metavar="WORDS", help="Only lines that hold these words.")


@click.command("order-list")
@click.option("--at", default="", metavar="REVISION", help="At this revision, or `open`; else the last issued.")
@_like
@click.option("--to-place", is_flag=True, help="Only what is not wholly placed.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def show(run: Run, at: str, like: str, to_place: bool, json_: bool) -> int:
    """What is to be ordered: like material together, what it is for, by when, what is placed and at which revision."""
    from specreg.output.headings import heading
    from specreg.output.order_list_text import order_list_text
    from specreg.services.ordering import order_list_at

    with doing("gathering what is to be ordered"):
        ordered = order_list_at(run.open(read_only=True), at, like)
    if json_:
        as_json(_record(ordered, to_place))
        return ExitCode.DONE
    picture = ordered.picture
    data(heading("Order list", picture.order, ordered.state, ordered.today) + "\n")
    today = date.fromisoformat(ordered.today)
    data(order_list_text(ordered.found, picture.order.units, today, picture.standards.house.cautions, to_place))
    return ExitCode.DONE


@click.command()
@click.argument("items", nargs=-1, metavar="[ITEM|ITEM=PIECES...]")
@click.option("--purchase", default="", metavar="NO", help="The purchase number, as the buyer writes it.")
@click.option("--supplier", default="", metavar="NAME", help="With whom it is placed.")
@click.option("--on", default="", metavar="DAY", help="When it was placed; else today.")
@click.option("--due", default="", metavar="DAY", help="When it is to come.")
@click.option("--revision", default="", metavar="LETTER", help="The revision quoted; else the last issued.")
@_like
@click.option("--remarks", default="", metavar="WORDS", help="Anything more.")
@click.option("--back", is_flag=True, help="These, or the whole purchase, are taken back.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def placed(
    run: Run, items: tuple[str, ...], purchase: str, supplier: str, on: str, due: str, revision: str, like: str,
    remarks: str, back: bool, json_: bool,
) -> int:  # fmt: skip
    """Record what is placed with a supplier, all that is still wanted or so many pieces; without items, list it."""
    from specreg.output.order_list_text import purchases_text
    from specreg.services.ordering import Placing, doubts_of, place, placed_so_far, take_back

    pieces = _pieces(items)
    office = run.open(read_only=not (items or like or back))
    if back:
        if supplier or on or due or revision or like:
            raise WrongUse("Take back", "only --purchase, items and --remarks go with it", "Leave the rest out")
        done = take_back(office, purchase, pieces, remarks)
    elif pieces or like:
        done = place(office, Placing(purchase, supplier, on, due, revision, remarks), pieces, like)
    elif purchase or supplier or on or due or revision or remarks:
        raise WrongUse("Record what is placed", "no items are named", "Name items, or --like WORDS")
    else:
        done = placed_so_far(office)
    if json_:
        as_json({"order": office.order_no, "placed": [_purchase(one) for one in done]})
    elif pieces or like or back:
        _tell(done, [] if back else doubts_of(office, done))
    else:
        data(purchases_text(done))
    return ExitCode.DONE


def _tell(done: list[Purchase], doubts: list[str]) -> None:
    for one in done:
        say(f"{one.number}: {_in_words(one)}")
    for doubt in doubts:
        say(f"~ {doubt}.")
    say(f"{so_many(len(done), 'item')} recorded.")


def _pieces(words: tuple[str, ...]) -> dict[str, int | None]:
    """ITEM and ITEM=PIECES words as pieces by item. Raises WrongUse for what is no number, and an item named twice."""
    found: dict[str, int | None] = {}
    for word in words:
        number, given, pieces = word.partition("=")
        if not number.strip() or (given and not _PIECES.fullmatch(pieces.strip())):
            raise WrongUse(f"Item '{word}'", "it is not of the form ITEM or ITEM=PIECES", "Write 4.1.2 or 4.1.2=24")
        if number_key(number) in map(number_key, found):
            raise WrongUse(f"Item {number}", "it is named twice", "Name it once, with all its pieces")
        found[number.strip()] = int(pieces) if given else None
    return found


def _in_words(one: Purchase) -> str:
    quoted = f"revision {one.revision}" if one.revision else "as it stands before the first issue"
    if one.pieces is not None and one.pieces <= 0:
        return f"{-one.pieces or 'all'} taken back from {one.purchase}"
    return f"{one.pieces or one.size or 'as required'} on {one.purchase} with {one.supplier}, {quoted}"


def _record(ordered: Ordered, only_open: bool) -> dict[str, object]:
    found = ordered.found
    return {
        "order": ordered.picture.order.number,
        "revision": ordered.state,
        "lines": [_line(line) for line in found.lines if not (only_open and line.is_placed)],
        "no_longer": [[_purchase(one) for one in some] for some in found.unwanted.values()],
        "left_out": [{"number": one.item.number, "why": one.why} for one in found.left_out],
    }


def _line(line: OrderLine) -> dict[str, object]:
    return {
        "how": line.how.value, "name": line.name, "material": line.material, "what": line.what,
        "form": line.form.value if line.form else "", "wanted": line.wanted, "placed": line.placed,
        "difference": line.still, "over": line.over, "not_counted": line.not_counted,
        "length_mm": to_thousandths(line.length), "to_order_kg": to_thousandths(line.mass),
        "without_weight": line.without_mass,
        "bars": [
            {"stock_mm": to_thousandths(length), "bars": bars}
            for length, bars in (line.bars.bars_by_stock if line.bars else ())
        ],
        "order_by": line.by.day.isoformat() if line.by else "", "items": [_piece(one) for one in line.pieces],
    }  # fmt: skip


def _piece(one: OrderPiece) -> dict[str, object]:
    from specreg.core.lead_times import OrderBy

    return {
        "number": one.item.number, "title": one.item.title, "pieces": one.pieces, "off": one.written,
        "rough": one.rough, "spared": one.spared, "length_mm": to_thousandths(one.length),
        "to_order_kg": to_thousandths(one.one),
        "material": one.quoted.material, "size": one.quoted.size, "drawing": one.quoted.drawing,
        "part": one.quoted.part, "order_by": one.by.day.isoformat() if isinstance(one.by, OrderBy) else "",
        "placed": [_purchase(purchase) for purchase in one.placed],
        "outdated": [
            {"purchase": purchase.purchase, "revision": purchase.revision, "says": list(said)}
            for purchase, said in one.outdated
        ],
    }  # fmt: skip


def _purchase(one: Purchase) -> dict[str, object]:
    return {
        "number": one.number, "purchase": one.purchase, "supplier": one.supplier, "placed_on": one.placed_on,
        "due": one.due, "revision": one.revision, "pieces": one.pieces, "title": one.title,
        "part": one.part, "material": one.material, "size": one.size,
        "drawing": one.drawing, "remarks": one.remarks,
    }  # fmt: skip


COMMANDS = {"order-list": show, "placed": placed}
