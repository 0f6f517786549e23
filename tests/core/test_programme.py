"""Days by which a sheet is late against the programme."""

from __future__ import annotations

from datetime import date

import pytest

from specreg.core.model import Sheet
from specreg.core.programme import days_late

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("planned", "stage", "days"),
    [
        ("2026-11-24", "checked", 1),
        ("2026-10-26", "drawn", 30),
        ("2026-10-26", "planned", 30),
        ("2026-11-25", "drawn", 0),  # planned for today is not late yet
        ("2027-01-15", "planned", 0),
        ("", "planned", 0),
        ("in March", "planned", 0),
        ("2026-10-26", "approved", 0),  # may be made from: nobody waits
        ("2026-10-26", "issued", 0),
        ("2026-10-26", "cancelled", 0),
        ("2026-10-26", "not used", 0),
        ("2026-10-26", "superseded", 0),
    ],
)
def test_a_sheet_is_late_while_it_is_wanted_and_its_day_has_gone_by(planned: str, stage: str, days: int) -> None:
    assert days_late(Sheet("SL-401", planned=planned, stage=stage), TODAY) == days
