"""What the checker would say of an order as read, before anything of it is written: told with file and line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from specreg.core.checks import faults_before_allocation
from specreg.core.faults import Fault, Severity
from specreg.core.model import Item, Order, Sheet
from specreg.core.numbering import number_key
from specreg.core.picture import Called, Picture
from specreg.core.route_notation import route_problems
from specreg.core.standards import Standards
from specreg.services.import_plan import ReadItem
from specreg.services.office import Office
from specreg.store import drawings


def doubts(
    office: Office, order: Order, read: Sequence[ReadItem], sheets: Sequence[Sheet], standards: Standards
) -> tuple[Fault, ...]:
    """Every fault of the items and sheets read, the gravest first, each at the line of its item."""
    register = _Register(office, sheets)
    said = sorted((one.item for one in read), key=lambda item: item.place_key)
    places = {number_key(one.item.number): one.place for one in read}
    picture = Picture(
        order=order,
        standards=standards,
        items=tuple(said),
        routes={},
        calls={number_key(item.number): register.called(item) for item in said if item.is_line and item.drawings},
        sheets=tuple(sheets),
    )
    found = [*faults_before_allocation(picture), *_routes(said, standards)]
    return tuple(replace(fault, place=places.get(number_key(fault.subject), fault.place)) for fault in found)


def _routes(items: Sequence[Item], standards: Standards) -> list[Fault]:
    """What is wrong with the items' own Route fields."""
    return [
        Fault("route not read", Severity.STOP, item.number, f"{item.number}, Route: {problem}")
        for item in items
        if item.is_line and item.route
        for problem in route_problems(item, standards)
    ]


class _Register:
    """The drawing register as it would be with the sheets read."""

    def __init__(self, office: Office, sheets: Sequence[Sheet]) -> None:
        by_sheet = {(sheet.number, sheet.sheet): sheet for _, sheet in drawings.every_drawing(office.book)}
        by_sheet.update({(sheet.number, sheet.sheet): sheet for sheet in sheets})
        self._named: dict[str, list[Sheet]] = {}
        for sheet in by_sheet.values():
            for name in {sheet.number, sheet.name}:
                self._named.setdefault(number_key(name), []).append(sheet)

    def called(self, item: Item) -> tuple[Called, ...]:
        return tuple(Called(written, tuple(self._named.get(number_key(written), ()))) for written in item.drawings)
