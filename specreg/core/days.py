"""Days as written in figures: 2026-11-25, which cannot be taken for another day anywhere."""

from __future__ import annotations

import re
from datetime import date

_DAY = re.compile(r"(?<![0-9])([0-9]{4})-([0-9]{2})-([0-9]{2})(?![0-9])")


def day_of(text: str) -> date | None:
    """The day that a text names in figures; None when it names none."""
    written = _DAY.search(text)
    if written is None or is_no_day(text):
        return None
    return date(*(int(part) for part in written.groups()))


def is_no_day(text: str) -> bool:
    """Whether a text names in figures a day that there is not: `2027-02-30`."""
    written = _DAY.search(text)
    if written is None:
        return False
    try:
        date(*(int(part) for part in written.groups()))
    except ValueError:
        return True
    return False
