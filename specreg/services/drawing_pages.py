"""The pages of drawings: the drawing list of the order, and a drawing with its history and those who call it up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import groupby

from specreg.core.errors import NotFound
from specreg.core.model import Route, State
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.services.drawing_readings import CalledBy, DrawingLine, DrawingPage, SheetSaid
from specreg.services.office import Office
from specreg.store import drawings


def drawing_lines(picture: Picture) -> tuple[DrawingLine, ...]:
    """The drawing list of the order as it stands, in the order of the numbers."""
    called: Counter[str] = Counter()
    for calls in picture.calls.values():
        called.update({sheet.name for call in calls for sheet in call.sheets})
    return tuple(DrawingLine(sheet, called[sheet.name]) for sheet in picture.sheets)


def drawing_page(office: Office, number: str, picture: Picture | None) -> DrawingPage:
    """A drawing, by its number or by that of a sheet as an item would write it; `picture` is the order on the desk as
    it stands, None where there is none. Raises NotFound."""
    book = office.book
    with book.reading():
        drawing_id = drawings.match(book, number.strip()).drawing_id
        if drawing_id is None:
            raise NotFound(
                f"Drawing {number.strip()}" if number.strip() else "A drawing without a number",
                "it is not in the register",
                "Give its whole number, or find it by a part of it",
            )
        sheets = tuple(drawings.current_sheets(book, drawing_id))
        return DrawingPage(
            number=sheets[0].number,
            sheets=sheets,
            said=tuple(SheetSaid(sheet, at[:10]) for sheet, at in drawings.everything_said(book, drawing_id)),
            called_by=tuple(_called_by(picture, sheets[0].number)) if picture is not None else (),
            other_orders=tuple(
                order for order in drawings.orders_listing(book, drawing_id) if not picture or order != office.order_no
            ),
        )


def _called_by(picture: Picture, number: str) -> Iterator[CalledBy]:
    routes = {number_key(item.number): route for item, route in picture.routed}
    for item in picture.items:
        if item.state is not State.LIVE:
            continue
        key = number_key(item.number)
        for call in picture.calls.get(key, ()):
            if any(sheet.number == number for sheet in call.sheets):
                yield CalledBy(
                    item.number,
                    item.title or item.text.partition("\n")[0],
                    call.written,
                    bool(item.safety),
                    _departments(routes.get(key, Route())),
                )


def _departments(route: Route) -> tuple[str, ...]:
    """The departments in the order of the steps; steps of one department that follow each other count as one visit."""
    return tuple(code for code, _ in groupby(step.department for step in route.steps))
