"""What the pages of drawings are shown: a line a sheet, and a drawing as a sheet of its own."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.core.model import Sheet


@dataclass(frozen=True, slots=True)
class DrawingLine:
    """The current revision of one sheet on the order's drawing list.

    `called` counts the live items that call it up: a call of the whole drawing counts for each of its sheets.
    """

    sheet: Sheet
    called: int


@dataclass(frozen=True, slots=True)
class SheetSaid:
    """One entry of the register about a sheet: what it said, and the day it was entered."""

    sheet: Sheet
    entered_on: str


@dataclass(frozen=True, slots=True)
class CalledBy:
    """An item that calls up a drawing: `written` is how; `departments` the codes on its route, in order."""

    number: str
    title: str
    written: str
    safety: bool
    departments: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DrawingPage:
    """A drawing: its current sheets, everything the register said of them (last first), who calls it up, and the other
    orders on whose list it stands."""

    number: str
    sheets: tuple[Sheet, ...]
    said: tuple[SheetSaid, ...]
    called_by: tuple[CalledBy, ...]
    other_orders: tuple[str, ...]
