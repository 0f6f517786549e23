"""A take-off as text: sums by section, material and department, or every item with how it was reckoned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from specreg.core.counts import grouped, so_many
from specreg.core.stock.records import MassOfOne
from specreg.core.take_off import Sum, TakenOff, TakeOff
from specreg.core.take_off_words import (
    COLUMN_UNITS,
    IMPERIAL,
    length_words,
    mass_in_column,
    mass_of_one_words,
    mass_words,
    without_words,
)
from specreg.core.weighing import Standing
from specreg.output.fixed_pitch import WIDTH, hung, padded, shortened

NOTHING = "–"
_GAPS = (2, 2, 2, 2, 1)
"""Before each column of figures; the last, broad for its head alone, needs less, and all keep within 80 cells."""


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
    yield from hung("", without_words(found.whole))
    if uncounted := sum(one.standing is Standing.NO_COUNT for one in found.lines):
        yield from hung("", f"{so_many(uncounted, 'item')} without a count: not in the sums either.")
    lacking = sum(
        one.standing is Standing.WEIGHED and isinstance(one.one, MassOfOne) and one.one.lacks_rough
        for one in found.lines
    )
    if lacking:
        said = f"{so_many(lacking, 'item')} cast or forged, of which no rough weight is known"
        yield from hung("", f"{said}: to order, the finished one is taken.")
    for caution in cautions:
        yield from hung("Caution: ", caution)


def lines_text(found: TakeOff, units: str, cautions: Sequence[str]) -> str:
    """Every item: number off and its sum, weight of one and of all, and what the weight rests on."""
    lines = [line for one in found.lines for lead, text in _line(one, units) for line in hung(lead, text)]
    return "\n".join([*lines, "", *_closing(found, cautions)])


def _table(head: str, sums: Iterable[Sum], units: str) -> list[str]:
    rows = [_row(one, units) for one in sums]
    heads = (head, "Items", "Pieces", "Finished", "To order", "No weight")
    widths = [max(len(row[place]) for row in (heads, *rows)) for place in range(len(heads))]
    widths[0] = min(widths[0], WIDTH - sum(widths[1:]) - sum(_GAPS))
    return [
        padded(shortened(row[0], widths[0]), widths[0]) + "".join(text.rjust(width + gap) for text, width, gap in
                                          zip(row[1:], widths[1:], _GAPS, strict=True))
        for row in (heads, *rows)
    ]  # fmt: skip


def _row(one: Sum, units: str) -> tuple[str, ...]:
    masses = (mass_in_column(mass, units) if mass else NOTHING for mass in (one.mass, one.to_order))
    return one.name, grouped(one.items), grouped(one.pieces), *masses, grouped(one.without) if one.without else NOTHING


def _line(one: TakenOff, units: str) -> Iterator[tuple[str, str]]:
    """Each line as what stands before and the text behind it."""
    yield f"{one.item.number}  ", one.item.title
    yield "    off       ", f"{one.total.working or one.total.written}"
    if one.length is not None:
        yield "    length    ", f"{length_words(one.length, units)}"
    if one.standing is Standing.WEIGHED and isinstance(one.one, MassOfOne) and one.mass is not None:
        about = "about " if one.one.approximate else ""
        yield (
            "    each      ",
            f"{about}{mass_of_one_words(one.one.mass, units)}; all {mass_of_one_words(one.mass, units)}",
        )
    elif one.standing is Standing.BY_PARTS and one.parts:
        short = f"; {so_many(one.parts_without, 'item')} in it without weight or count" if one.parts_without else ""
        of_all = f"; all {mass_words(one.parts * one.total.off, units)}" if one.total.off is not None else ""
        yield "    each      ", f"{mass_of_one_words(one.parts, units)}{of_all}{short}"
    else:
        yield "    weight    ", f"{one.standing.value}"
    yield "    because   ", f"{one.basis}"
    if isinstance(one.one, MassOfOne):
        yield from (("    ~         ", doubt) for doubt in one.one.doubts)
