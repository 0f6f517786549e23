"""A take-off as text: sums by section, material and department, or every item with how it was reckoned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from specreg.core.counts import grouped, so_many
from specreg.core.model import Order
from specreg.core.stock.records import MassOfOne
from specreg.core.take_off import Standing, Sum, TakenOff, TakeOff
from specreg.core.take_off_words import (
    COLUMN_UNITS,
    IMPERIAL,
    length_words,
    mass_in_column,
    mass_of_one_words,
    mass_words,
    without_words,
)
from specreg.output.wrapping import wrapped

NOTHING = "–"


def heading(what: str, order: Order, state: str, today: str) -> str:
    """What a paper is of, over its figures: the order, its revision, the day."""
    said = "as it stands, not issued" if state == "open" else f"revision {state}"
    return f"{what} of order {order.number} {order.title}, {said}, {today}\n"


def sums_text(found: TakeOff, units: str, cautions: Sequence[str]) -> str:
    """The sums, a line each, weights in figures; what has no weight is told with every sum."""
    parts = [
        [f"Weights in {COLUMN_UNITS}."] if units == IMPERIAL else [],
        _table("Section", found.sections, units),
        _table("Material", found.materials, units),
        _table("Department, its own steps", found.departments, units),
        _table("The whole", (found.whole,), units),
        list(_closing(found, cautions)),
    ]
    return "\n\n".join("\n".join(part) for part in parts if part)


def _closing(found: TakeOff, cautions: Sequence[str]) -> Iterator[str]:
    """What the sums are short of, and the cautions."""
    yield wrapped(without_words(found.whole))
    if uncounted := sum(one.standing is Standing.NO_COUNT for one in found.lines):
        yield wrapped(f"{so_many(uncounted, 'item')} without a count: not in the sums either.")
    lacking = sum(
        one.standing is Standing.WEIGHED and isinstance(one.one, MassOfOne) and one.one.lacks_rough
        for one in found.lines
    )
    if lacking:
        said = f"{so_many(lacking, 'item')} cast or forged, of which no rough weight is known"
        yield wrapped(f"{said}: to order, the finished one is taken.")
    yield from (wrapped(f"Caution: {caution}", 4) for caution in cautions)


def lines_text(found: TakeOff, units: str, cautions: Sequence[str]) -> str:
    """Every item: number off and its sum, weight of one and of all, and what the weight rests on."""
    lines = [wrapped(line, 14) for one in found.lines for line in _line(one, units)]
    return "\n".join([*lines, "", *_closing(found, cautions)])


def _table(head: str, sums: Iterable[Sum], units: str) -> list[str]:
    rows = [_row(one, units) for one in sums]
    heads = (head, "Items", "Pieces", "Finished", "To order", "Without")
    widths = [max(len(row[place]) for row in (heads, *rows)) for place in range(len(heads))]
    return [
        "  ".join(text.ljust(width) if place == 0 else text.rjust(width) for place, (text, width) in
                  enumerate(zip(row, widths, strict=True))).rstrip()
        for row in (heads, *rows)
    ]  # fmt: skip


def _row(one: Sum, units: str) -> tuple[str, ...]:
    masses = (mass_in_column(mass, units) if mass else NOTHING for mass in (one.mass, one.to_order))
    return one.name, grouped(one.items), grouped(one.pieces), *masses, grouped(one.without) if one.without else NOTHING


def _line(one: TakenOff, units: str) -> Iterator[str]:
    yield f"{one.item.number}  {one.item.title}"
    yield f"    off       {one.total.working or one.total.written}"
    if one.length is not None:
        yield f"    length    {length_words(one.length, units)}"
    if one.standing is Standing.WEIGHED and isinstance(one.one, MassOfOne) and one.mass is not None:
        about = "about " if one.one.approximate else ""
        yield f"    each      {about}{mass_of_one_words(one.one.mass, units)}; all {mass_of_one_words(one.mass, units)}"
    elif one.standing is Standing.BY_PARTS and one.parts:
        short = f"; {so_many(one.parts_without, 'item')} in it without weight or count" if one.parts_without else ""
        of_all = f"; all {mass_words(one.parts * one.total.off, units)}" if one.total.off is not None else ""
        yield f"    each      {mass_of_one_words(one.parts, units)}{of_all}{short}"
    else:
        yield f"    weight    {one.standing.value}"
    yield f"    because   {one.basis}"
    if isinstance(one.one, MassOfOne):
        yield from (f"    ~         {doubt}" for doubt in one.one.doubts)
