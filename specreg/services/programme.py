"""The drawing programme as it stands: what is late, by how much, and how many items wait for it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from specreg.core.model import Sheet
from specreg.core.programme import days_late
from specreg.services.drawing_pages import drawing_lines
from specreg.services.office import Office
from specreg.services.standing import as_it_stands


@dataclass(frozen=True, slots=True)
class LateSheet:
    """A sheet late against the programme: by how many days, and how many live items call it up."""

    sheet: Sheet
    days: int
    waiting: int


def late_sheets(office: Office) -> list[LateSheet]:
    """Every sheet of the order that is late today, the latest first."""
    today = date.fromisoformat(office.today)
    with office.book.reading():
        listed = drawing_lines(as_it_stands(office))
    late = [LateSheet(one.sheet, days_late(one.sheet, today), one.called) for one in listed]
    return sorted((one for one in late if one.days), key=lambda one: -one.days)
