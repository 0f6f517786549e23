"""The drawing programme: which drawings are still wanted, and how late they are against the day planned for them."""

from __future__ import annotations

from datetime import date

from specreg.core.days import day_of
from specreg.core.model import Sheet, Stage

NOT_WANTED = frozenset({Stage.SUPERSEDED, Stage.CANCELLED, Stage.NOT_USED})
"""Stages of sheets that nobody waits for."""


def days_late(sheet: Sheet, today: date) -> int:
    """How many days ago a sheet was planned that is still wanted and may not be made from yet; 0 where none."""
    if sheet.may_be_made_from or sheet.stage in NOT_WANTED:
        return 0
    planned = day_of(sheet.planned)
    return max(0, (today - planned).days) if planned is not None else 0
