"""A whole order at one moment, as the checker, the reckoner and the splitter look at it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from specreg.core.faults import Place
from specreg.core.machines import order_machines
from specreg.core.model import Item, Kind, NumberOff, Order, Route, Sheet
from specreg.core.numbering import number_key
from specreg.core.roll_up import RollUp, Total, roll_up
from specreg.core.route_notation import numbered
from specreg.core.standards import Standards

if TYPE_CHECKING:
    from specreg.core.stock.records import MassOfOne, NotReckoned


@dataclass(frozen=True, slots=True)
class Called:
    """A drawing called up by an item: as written, and the current sheets it means (empty: not in the register)."""

    written: str
    sheets: tuple[Sheet, ...]

    @property
    def with_revision(self) -> str:
        """The drawing as paper names it, with the marks of its sheets: `SL-1003 rev B`."""
        marks = list(dict.fromkeys(sheet.revision or "(none)" for sheet in self.sheets))
        return f"{self.written} rev {'/'.join(marks)}" if marks else self.written


@dataclass(frozen=True, slots=True)
class RowSetAside:
    """A row of a source that could not be taken in."""

    place: Place
    text: str
    reason: str


@dataclass(frozen=True)
class Picture:
    """One order at one moment.

    `items` in specification order; `routes` and `calls` by `number_key`; `sheets` the drawing list.
    """

    order: Order
    standards: Standards
    items: tuple[Item, ...]
    routes: Mapping[str, Route]
    calls: Mapping[str, tuple[Called, ...]] = field(default_factory=dict)
    sheets: tuple[Sheet, ...] = ()
    set_aside: tuple[RowSetAside, ...] = ()

    @cached_property
    def machines(self) -> tuple[str, ...]:
        """The order's machines by name."""
        return order_machines(self.order.machines)[0]

    @cached_property
    def roll_up(self) -> RollUp:
        """Every item's number off."""
        brings = self.standards.reckoning.spare_assemblies_bring_parts is True
        return roll_up(self.items, self.machines, brings)

    @cached_property
    def lines(self) -> tuple[Item, ...]:
        """The live items: those that departments must have."""
        return tuple(item for item in self.items if item.is_line)

    @cached_property
    def totals(self) -> dict[str, NumberOff]:
        """Every item's number off in the form that is recorded at an issue, by `number_key`."""
        return {key: number_off(total) for key, total in self.roll_up.totals.items()}

    @cached_property
    def masses(self) -> Mapping[str, MassOfOne | NotReckoned]:
        """The mass of one piece of every line, by `number_key`, or why it has none."""
        # Reading quantities is dear to load, and most commands reckon no mass.
        from specreg.core.stock.masses import masses_of

        return masses_of(self.lines, self.standards)

    @cached_property
    def routed(self) -> tuple[tuple[Item, Route], ...]:
        """Every line with its route, the numbers off worked out; an empty route where it was never allocated."""
        found = []
        for item in self.lines:
            key = number_key(item.number)
            route, total = self.routes.get(key), self.totals.get(key)
            found.append((item, numbered(route, total) if route is not None and total is not None else Route()))
        return tuple(found)

    def section_name(self, item: Item) -> str:
        """The section an item stands in by number and title: `4 Slewing gear`."""
        return f"{item.section} {self.section_titles.get(item.section, '')}".strip()

    @cached_property
    def section_titles(self) -> dict[str, str]:
        """Titles of the sections by number, in order."""
        return {item.number: item.title for item in self.items if item.kind is Kind.SECTION}


def number_off(total: Total) -> NumberOff:
    """A total in the form that is recorded at an issue."""
    if total.off is None:
        return NumberOff(None, None, None, total.written, total.working)
    return NumberOff(total.off, total.off - total.spares, total.spares, total.written, total.working)
