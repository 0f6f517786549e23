"""The order list and what is placed, as text: line by line what is to be had, what it is for, what is placed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta

from specreg.core.counts import grouped, so_many
from specreg.core.lead_times import OrderBy
from specreg.core.order_list import How, OrderLine, OrderList, OrderPiece
from specreg.core.purchases import Purchase, in_words, standing_purchases
from specreg.core.take_off_words import length_words, mass_of_one_words, mass_words, stock_length
from specreg.output.fixed_pitch import WIDTH, cell_length, hung

SOON = timedelta(days=14)
"""So long before the latest day to order a warning is given."""


def order_list_text(found: OrderList, units: str, today: date, cautions: Sequence[str], only_open: bool) -> str:
    """The whole list; `only_open` leaves out the lines of which all is placed."""
    parts: list[list[str]] = []
    for how in How:
        lines = [one for one in found.lines if one.how is how and not (only_open and one.is_placed)]
        if lines:
            parts.append([how.value.upper(), *(text for line in lines for text in _line(line, units, today))])
    if found.unwanted:
        told = (f"    {number}{text.lstrip()[6:]}" for number, some in found.unwanted.items() for text in _placed(some))
        parts.append(["PLACED, AND NO LONGER ON THE LIST", *told])
    if only_open and not parts:
        parts.append(["Nothing is left to place."])
    if found.left_out and not only_open:
        parts.append(["NOT ORDERED", *_left_out(found)])
    parts.append([*_proof(found, today), *(f"Caution: {caution}" for caution in cautions)])
    return "\n\n".join("\n".join(line for text in part for line in _set_out(text)) for part in parts)


def purchases_text(placed: Iterable[Purchase]) -> str:
    """What is placed, purchase by purchase; a minus is taken back."""
    by_purchase: dict[str, list[Purchase]] = {}
    for one in placed:
        by_purchase.setdefault(one.purchase, []).append(one)
    if not by_purchase:
        return "Nothing is placed yet."
    return "\n\n".join(
        "\n".join(line for text in _of_purchase(name, some) for line in _set_out(text))
        for name, some in by_purchase.items()
    )


def _set_out(text: str) -> list[str]:
    """A line of the list within the width of the paper; what goes on stands under the last column, or further in."""
    lead = text[: text.rfind("  ") + 2] if "  " in text else ""
    if cell_length(lead) > WIDTH // 2:
        lead = " " * (len(text) - len(text.lstrip()))
    return hung(lead, text[len(lead) :], 0 if lead.strip() else 4)


def _of_purchase(name: str, some: Sequence[Purchase]) -> Iterator[str]:
    yield f"{name} with {some[0].supplier}"
    for one in some:
        due = f", due {one.due}" if one.due else ""
        said = ", ".join(filter(None, (one.material, one.size, one.drawing)))
        revision = f"revision {one.revision}" if one.revision else "before the first issue"
        remarks = f"; {one.remarks}" if one.remarks else ""
        yield f"    {one.number:<10}  {_pieces_of(one):>14}  {one.placed_on}{due}, {revision}: {said}{remarks}"


def _pieces_of(one: Purchase) -> str:
    if one.pieces is None:
        return "as required"
    if one.pieces <= 0:
        return f"taken back {-one.pieces}" if one.pieces else "taken back"
    return str(one.pieces)


def _line(line: OrderLine, units: str, today: date) -> Iterator[str]:
    yield line.name
    yield f"    {', '.join(_figures(line))}"
    if still := ", ".join(_still(line, units)):
        yield f"    still to place: {still}"
    if line.bars is not None and line.bars.pieces_too_long:
        numbers = ", ".join(dict.fromkeys(one.label for one in line.bars.pieces_too_long))
        yield f"    x longer than any bar gives, and in no bar: {numbers}"
    if line.by is not None:
        yield f"    order by {line.by.day.isoformat()}{_how_soon(line.by, today)}: {line.by.basis}"
    rows = [(one.item.number, one.written, one.rough, one.item.title, one.quoted.drawing) for one in line.pieces]
    widths = [max(len(row[place]) for row in rows) for place in range(3)]
    for one, (number, pieces, rough, title, drawing) in zip(line.pieces, rows, strict=True):
        cells = (number.ljust(widths[0]), pieces.rjust(widths[1]), rough.ljust(widths[2]), title)
        yield "    " + "  ".join(cell for cell in cells if cell.strip()) + (f" [{drawing}]" if drawing else "")
        yield from _of_piece(one)


def _figures(line: OrderLine) -> Iterator[str]:
    if line.wanted or line.placed or not line.not_counted:
        figures = (line.wanted, line.placed, line.still)
        yield "wanted {}, placed {}, difference {}".format(*map(grouped, figures))
        if line.over:
            yield f"{grouped(line.over)} too many"
    if line.not_counted:
        placed = sum(one.is_placed for one in line.pieces if one.pieces is None)
        yield f"{so_many(line.not_counted, 'item')} without a count, {placed} of them placed"


def _still(line: OrderLine, units: str) -> Iterator[str]:
    """What is still to be placed: its length, the bars for it, its weight; and what is not known of it."""
    if line.is_placed:
        return
    if line.length:
        yield f"{length_words(line.length, units)} of pieces"
    if line.bars is not None and line.per_mm is not None:
        bars = " and ".join(f"{bars} of {stock_length(stock, units)}" for stock, bars in line.bars.bars_by_stock)
        if bars:
            known = "" if line.bars.is_proved else "at most "
            yield f"out of {known}{bars}, which weigh {mass_words(line.per_mm * line.bars.bought, units)}"
    if line.mass and line.bars is None:
        yield f"to order {mass_of_one_words(line.mass, units)}"
    if line.without_mass:
        yield f"weight not known of {so_many(line.without_mass, 'item')}"


def _how_soon(by: OrderBy, today: date) -> str:
    if by.day < today:
        return f" x {so_many((today - by.day).days, 'day')} past"
    if by.day <= today + SOON:
        return f" ~ in {so_many((by.day - today).days, 'day')}" if by.day > today else " ~ today"
    return ""


def _of_piece(one: OrderPiece) -> Iterator[str]:
    if one.by is not None and not isinstance(one.by, OrderBy):
        yield f"        ~ no latest day: {one.by}"
    yield from _placed(one.placed)
    for purchase, differences in one.outdated:
        yield f"        x {purchase.purchase} quotes {_revision(purchase)}: {'; '.join(differences)}"
    if one.spared:
        yield f"        {one.spared} fewer: what they belong to is placed complete"
    if one.is_finished and not one.is_placed:
        yield "        ^ no rough weight is known: the finished one is taken"
    for purchase in one.due_too_late:
        yield f"        x {purchase.purchase} is due {purchase.due}, and the item wanted {one.item.wanted}"
    if one.pieces is not None and one.difference < 0:
        yield f"        ~ {-one.difference} more placed than are wanted"


def _placed(some: Sequence[Purchase]) -> Iterator[str]:
    yield from (f"        placed {in_words(one)}" for one in standing_purchases(some))


def _revision(one: Purchase) -> str:
    return f"revision {one.revision}" if one.revision else "what stood before the first issue"


def _left_out(found: OrderList) -> Iterator[str]:
    for one in found.left_out:
        yield f"    {one.item.number}  {one.item.title}: {one.why}"


def _proof(found: OrderList, today: date) -> Iterator[str]:
    listed = sum(len(line.pieces) for line in found.lines)
    if found.left_out:
        whole = listed + len(found.left_out)
        yield f"{so_many(listed, 'item')} on the list + {len(found.left_out)} not ordered = {so_many(whole, 'line')}."
    if late := found.late(today):
        yield f"x {so_many(late, 'item')} past the latest day to order and not placed."
    if outdated := found.outdated:
        yield f"x {so_many(outdated, 'item')} placed at an older revision that says otherwise."
    pieces = [one for line in found.lines for one in line.pieces]
    over = sum(one.pieces is not None and one.difference < 0 for one in pieces)
    if over:
        yield f"~ {so_many(over, 'item')} of which more is placed than is wanted."
    if due := sum(bool(one.due_too_late) for one in pieces):
        yield f"x {so_many(due, 'item')} due after they are wanted."
    no_day = sum(one.by is None and not one.is_placed for one in pieces)
    if no_day:
        said = f"{so_many(no_day, 'item')} still to place without a latest day"
        yield f"{said}: no day wanted, or no lead time, is given."
    if found.unwanted:
        yield f"x {so_many(len(found.unwanted), 'item')} placed and no longer on the list."
