"""How an order stands: now, as it would be with some notes issued, or as it was at a revision."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from specreg.core.faults import Place
from specreg.core.model import Item, Route, Sheet, State
from specreg.core.numbering import number_key
from specreg.core.picture import Called, Picture, RowSetAside
from specreg.services.office import Office
from specreg.store import drawings, items, routes, set_aside
from specreg.store.drawings import Call
from specreg.store.revisions import Revision


def as_it_stands(office: Office, with_notes: Collection[int] | None = None) -> Picture:
    """The order with the open edits of some notes (by identity), or of all: what an issue of these would say."""
    book, order_id = office.book, office.order_id
    said: list[tuple[int, Item]] = []
    routed: dict[str, Route] = {}
    routes_now = routes.all_now(book, order_id)
    for one in items.all_now(book, order_id):
        item: Item | None = one.item
        if one.note_id is not None and with_notes is not None and one.note_id not in with_notes:
            item = items.one_at(book, one.item_id, 2**62)
        if item is None:
            continue
        said.append((one.item_id, item))
        route = routes_now.get(one.item_id)
        if route is not None and with_notes is not None:
            route_note = routes.note_of_open(book, one.item_id)
            if route_note is not None and route_note not in with_notes:
                route = routes.one_at(book, one.item_id, 2**62)
        if route is not None and item.is_line:
            routed[number_key(item.number)] = route
    said.sort(key=lambda pair: pair[1].place_key)
    sheets = _Sheets(office)
    calls = drawings.calls_of_order(book, order_id)
    return Picture(
        order=office.order,
        standards=office.standards(),
        items=tuple(item for _, item in said),
        routes=routed,
        calls={
            number_key(item.number): sheets.called(item, calls.get(item_id, ()))
            for item_id, item in said
            if item.state is State.LIVE and item.drawings
        },
        sheets=tuple(drawings.list_of_order(book, order_id)),
        set_aside=tuple(
            RowSetAside(Place(row.file, row.line), row.text, row.reason) for row in set_aside.of_order(book, order_id)
        ),
    )


def as_issued(office: Office, revision: Revision) -> Picture:
    """The order as a revision said it, with the drawings as the register said them on that day."""
    from specreg.store import orders

    book, order_id, entry = office.book, office.order_id, revision.entry
    said = list(items.issued_at(book, order_id, entry))
    routed = routes.issued_at(book, order_id, entry)
    sheets = _Sheets(office, entry)
    numbers = {item_id: number_key(item.number) for item_id, item in said if item.is_line}
    return Picture(
        order=orders.by_id(book, order_id, entry).order,
        standards=office.standards(entry),
        items=tuple(item for _, item in said),
        routes={numbers[item_id]: route for item_id, route in routed.items() if item_id in numbers},
        calls={
            number_key(item.number): sheets.called(item, drawings.calls_at(book, item_id, entry))
            for item_id, item in said
            if item.state is State.LIVE and item.drawings
        },
        sheets=tuple(drawings.list_of_order(book, order_id, entry)),
    )


def sheets_called(
    office: Office, item: Item, picture: Picture, entry: int | None = None
) -> dict[str, tuple[Sheet, ...]]:
    """The sheets an item calls up, by what it says; a picture knows only those of live items, the register any."""
    live = item.state is State.LIVE
    called = picture.calls.get(number_key(item.number), ()) if live else _Sheets(office, entry).called(item, ())
    return {call.written: call.sheets for call in called}


class _Sheets:
    """Sheets of the drawings called up, read once each."""

    def __init__(self, office: Office, entry: int | None = None) -> None:
        self._book = office.book
        self._entry = entry
        self._read: dict[int, list[Sheet]] = {}
        if entry is None:
            for drawing_id, sheet in drawings.every_drawing(office.book):
                self._read.setdefault(drawing_id, []).append(sheet)

    def called(self, item: Item, calls: Iterable[Call]) -> tuple[Called, ...]:
        matched = {call.written: call for call in calls}
        found: list[Called] = []
        for written in item.drawings:
            call = matched.get(written) or drawings.match(self._book, written)
            found.append(Called(written, self._meant(call)))
        return tuple(found)

    def _meant(self, call: Call) -> tuple[Sheet, ...]:
        if call.drawing_id is None:
            return ()
        if call.drawing_id not in self._read:
            self._read[call.drawing_id] = drawings.sheets_at(self._book, call.drawing_id, self._entry or 2**62)
        return tuple(sheet for sheet in self._read[call.drawing_id] if not call.sheet or sheet.sheet == call.sheet)
