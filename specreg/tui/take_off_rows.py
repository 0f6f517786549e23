"""The take-off as rows: the sums of a view, the items of a sum, what is still to be chased and why."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from itertools import accumulate

from rich.cells import cell_len

from specreg.core.counts import grouped
from specreg.core.measures.units import POUND, TON
from specreg.core.take_off import Sum
from specreg.core.take_off_words import (
    COLUMN_UNITS,
    IMPERIAL,
    mass_in_column,
    mass_of_one_in_column,
    mass_of_one_words,
    mass_words,
)
from specreg.core.weighing import Standing
from specreg.services.take_off_readings import SumKind, SumPage, TakenLine, TakeOffPage
from specreg.tui.columns import Column, Row, fit
from specreg.tui.pieces import Line, Piece, line, wrapped
from specreg.tui.signs import role_of

SECTIONS, MATERIALS, DEPARTMENTS, NO_WEIGHT, DOUBTS = 1, 2, 3, 4, 5
VIEWS: Mapping[int, str] = {
    SECTIONS: "by section", MATERIALS: "by material", DEPARTMENTS: "by department", NO_WEIGHT: "no weight",
    DOUBTS: "doubts",
}  # fmt: skip
"""What each view is called."""

KINDS: Mapping[int, SumKind] = {
    SECTIONS: SumKind.SECTION, MATERIALS: SumKind.MATERIAL, DEPARTMENTS: SumKind.DEPARTMENT,
}  # fmt: skip
"""The views that are sums, and over what."""

NOTHING: Mapping[int, str] = {
    SECTIONS: "No item stands in this order yet.",
    MATERIALS: "No item stands in this order yet.",
    DEPARTMENTS: "No item of this order has a route yet.",
    NO_WEIGHT: "Every item that should have a weight or a count has one.",
    DOUBTS: "No weight of this order is doubted.",
}
"""What a view says when nothing stands in it."""

WIDE = 108
"""Cells from which on weights are written out; below they stand as `23-4-2-11`."""

THE_ORDER = "The whole order"
INDENT = "  "
"""What is said under an item is set in by this."""


def weight_in_column(mass: Fraction, units: str, room: int) -> str:
    """What many pieces weigh, as it finds room in a column of such a table."""
    return mass_words(mass, units) if room >= WIDE else mass_in_column(mass, units)


def weight_of_item(mass: Fraction, units: str, room: int) -> str:
    """What one item weighs, as it finds room there; what is light is not nought."""
    return mass_of_one_words(mass, units) if room >= WIDE else mass_of_one_in_column(mass, units)


def _widest(masses: Iterable[Fraction], units: str, room: int) -> int:
    """Cells that none of these weights needs more than, so that none is cut."""
    heaviest = max(masses, default=Fraction(0))
    if units == IMPERIAL:
        # The ton before the next is the longest to write: 19 cwt 3 qr 27 lb.
        heaviest = (heaviest // TON + 1) * TON - POUND
    return cell_len(weight_in_column(heaviest, units, room))


def units_in_columns(units: str, room: int) -> str:
    """What the figures of these weights are, in order; empty where they stand with their words."""
    return COLUMN_UNITS if units == IMPERIAL and room < WIDE else ""


# Sums ---------------------------------------------------------------------------------------------------------------


def sum_columns(page: TakeOffPage, view: int, room: int) -> tuple[Column, ...]:
    """The columns of the sums; pieces give way first, then items, then what is to be ordered."""
    sums = (page.whole, *page.sums(KINDS[view]))
    weight = max(8, _widest((mass for one in sums for mass in (one.mass, one.to_order)), page.units, room))
    head = {SECTIONS: "Section", MATERIALS: "Material"}.get(view, "Department, its own steps")
    return (
        # All grow, so that on a wide screen the eye goes from the name to its figures without a gap.
        Column(head, 34, 14, grows=3, brief="Department" if view == DEPARTMENTS else ""),
        Column("Items", 7, 5, gives=2, grows=1, right=True),
        Column("Pieces", 9, 7, gives=3, grows=1, right=True),
        Column("Finished", weight, weight, grows=2, right=True),
        Column("To order", weight, weight, gives=1, grows=2, right=True),
        Column("No weight", 9, 9, grows=1, right=True),
    )


def sum_rows(page: TakeOffPage, view: int, room: int) -> tuple[Row, ...]:
    """A row for the whole order, without a key, then one for each sum, known by its name."""
    sums = page.sums(KINDS[view])
    if not sums:
        return ()
    return (
        _sum_row("", THE_ORDER, page.whole, page.units, room, "strong"),
        *(_sum_row(one.name, one.name, one, page.units, room, "ink") for one in sums),
    )


def _sum_row(key: str, name: str, one: Sum, units: str, room: int, role: str) -> Row:
    without = (Piece(f"^ {grouped(one.without)}", role_of("^")),) if one.without else (Piece("–", "quiet"),)
    weights = (
        line(weight_in_column(mass, units, room)) if mass else (Piece("–", "quiet"),)
        for mass in (one.mass, one.to_order)
    )
    return Row(key, (line(name), line(grouped(one.items)), line(grouped(one.pieces)), *weights, without), role)


# Items of a sum -----------------------------------------------------------------------------------------------------


def item_columns(page: SumPage, room: int) -> tuple[Column, ...]:
    """The columns of the items of a sum; how an item stands is said where it has no weight that is added."""
    items, units = page.lines, page.units
    about = 6 if any(item.about for item in items) else 0
    one = about + max(8, _widest((item.one for item in items if item.one is not None), units, room))
    standing = max((cell_len(item.standing.value) for item in items if item.every is None), default=0)
    every = max(standing, 8, _widest((item.every for item in items if item.every is not None), units, room))
    return (
        Column(" ", 1, 1),
        Column("No", 9, 7, whole=True),
        Column("Description", 30, 12, grows=1),
        Column("§", 1, 1),
        Column("Off", 8, 6, gives=2, right=True),
        Column("Weight of one", max(one, 13), one, gives=1, right=True, brief="Of one"),
        Column("Of all", every, every, right=True),
        Column("Rests on", 40, 30, late=True, grows=1),
    )


class ItemsOfSum:
    """The items of a sum as rows, each made when it is asked for: the whole order has thousands.

    A row is known by its place and number, since a department may have an item in several steps.
    """

    def __init__(self, page: SumPage, room: int) -> None:
        self._page = page
        self._room = room
        self._places = {f"{at} {one.number}": at for at, one in enumerate(page.lines)}

    def count(self) -> int:
        """How many items there are."""
        return len(self._page.lines)

    def rows(self, first: int, count: int) -> Sequence[Row]:
        """Some of them."""
        return [self._row(at) for at in range(first, min(first + count, self.count()))]

    def row_of(self, key: str) -> int:
        """In which row an item stands; -1 when it is not there."""
        return self._places.get(key, -1)

    def _row(self, at: int) -> Row:
        one, units, room = self._page.lines[at], self._page.units, self._room
        weights = line(_of_one(one, units, room)), _of_all(one, units, room)
        cells = (*_head(one), _safety(one), line(_off(one)), *weights, (Piece(one.why, "quiet"),))
        return Row(f"{at} {one.number}", cells)


def _head(one: TakenLine) -> tuple[Line, Line, Line]:
    """Sign, number, description."""
    sign = "^" if one.is_wanting else "~" if one.doubts else ""
    return (Piece(sign, role_of(sign)),), (Piece(one.number, "text"),), line(one.title)


def _safety(one: TakenLine) -> Line:
    return (Piece("§", role_of("§")),) if one.safety else ()


def _off(one: TakenLine) -> str:
    return "–" if one.standing is Standing.NO_COUNT else one.off


def _of_one(one: TakenLine, units: str, room: int) -> str:
    if one.one is None:
        return "–"
    return f"{'about ' if one.about else ''}{weight_of_item(one.one, units, room)}"


def _of_all(one: TakenLine, units: str, room: int) -> Line:
    if one.every is not None and (one.every or one.standing is Standing.WEIGHED):
        return line(weight_of_item(one.every, units, room))
    return (Piece(one.standing.value, role_of("^") if one.is_wanting else "quiet"),)


# What is to be chased -----------------------------------------------------------------------------------------------


class ChasedRows:
    """Items without weight or with doubts, each with the reasons under it; every row of an item is known by its number.

    Nothing of a reason is cut: it says what to do.
    """

    def __init__(self, page: TakeOffPage, view: int, room: int) -> None:
        self.columns = _chased_columns(view)
        widths = fit(self.columns, room)
        under = max(8, room - widths[0] - widths[1] - 2 - len(INDENT))
        lines = page.wanting if view == NO_WEIGHT else page.doubtful
        stacks = [_chased(one, view, page.units, room, under) for one in lines]
        self._ends = list(accumulate(len(rows) for rows in stacks))
        self.rows = tuple(row for rows in stacks for row in rows)

    @property
    def items(self) -> int:
        """How many items there are."""
        return len(self._ends)

    def item_at(self, row: int) -> int:
        """Which of the items a row belongs to, from 0."""
        return bisect_right(self._ends, row)


def _chased_columns(view: int) -> tuple[Column, ...]:
    return (
        Column(" ", 1, 1),
        Column("No", 9, 7, whole=True),
        Column("Description", 34, 14, grows=2),
        Column("§", 1, 1),
        Column("Off", 8, 6, right=True),
        Column("Material", 18, 10, gives=1, grows=1),
        Column("Wanting", 9, 9) if view == NO_WEIGHT else Column("Weight of one", 22, 14, right=True),
    )


def _chased(one: TakenLine, view: int, units: str, room: int, under: int) -> list[Row]:
    """An item, and under it why it has no weight or no count, or why its weight is doubted."""
    is_wanting = view == NO_WEIGHT
    sign, reasons = ("^", (one.why,)) if is_wanting else ("~", one.doubts)
    last = line(Piece(one.standing.value, role_of(sign)) if is_wanting else _of_one(one, units, room))
    head = Row(
        one.number,
        ((Piece(sign, role_of(sign)),), *_head(one)[1:], _safety(one), line(_off(one)), line(one.material), last),
    )
    below = (text for reason in reasons for text in wrapped(reason, under))
    return [head, *(Row(one.number, ((), (), line(INDENT, text))) for text in below)]
