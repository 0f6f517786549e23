"""Dates of issue as heads of columns: `12.01.26`, `12-Jan-26`, `2026-01-12`, `12/01/2026`, `Jan 2026`.

Figures with full stops stand day, month, year. With strokes or dashes the day or the month may come first: that is only
known when a date of the same head leaves no choice (`23/03/2026`). A month and its year are a date to the month.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

_BEFORE = (
    r"(?:(?:issued?|iss|rev(?:ision)?|date|dated)\b\.?\s*(?:(?:no\.?\s*)?[A-Z0-9]{1,3}(?=[\s:,(-]))??\s*[:,(-]?\s*)?"
)
_DAY_NAME = r"(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+)?"
_ORDINAL = r"(?:st|nd|rd|th)?"
_NAME = r"[A-Za-zä]{3,9}"
_YEAR = r"(?:\d{4}|['’]?\d{2})"
_DATE = re.compile(
    rf"{_BEFORE}{_DAY_NAME}(?:"
    r"(?P<y1>\d{4})(?P<same>[-/.])(?P<m1>\d{1,2})(?P=same)(?P<d1>\d{1,2})"
    r"|(?P<y5>(?:19|20)\d{2})(?P<m5>\d{2})(?P<d5>\d{2})"
    r"|(?P<d2>\d{1,2})\.\s?(?P<m2>\d{1,2})\.\s?(?P<y2>\d{4}|\d{2})"
    r"|(?P<d3>\d{1,2})(?P<stroke>\s?[-/]\s?)(?P<m3>\d{1,2})(?P=stroke)(?P<y3>\d{4}|\d{2})"
    rf"|(?P<d4>\d{{1,2}}){_ORDINAL}[ ./-]*(?P<n4>{_NAME})\.?[ ,./-]*(?P<y4>{_YEAR})"
    rf"|(?P<n6>{_NAME})\.?[ -]+(?P<d6>\d{{1,2}}){_ORDINAL}(?:,\s*|\s+)(?P<y6>{_YEAR})"
    rf"|(?P<n7>{_NAME})\.?[ ./-]*(?P<y7>{_YEAR})"
    r"|(?P<m8>\d{1,2})[/-](?P<y8>\d{4})"
    rf"|(?P<yearless>\d{{1,2}}{_ORDINAL}[ ./-]+(?P<n9>{_NAME})\.?|(?P<n0>{_NAME})\.?[ -]+\d{{1,2}}{_ORDINAL}"
    r"|\d{1,2}\.\d{1,2}\.)"
    r")\s*\)?",
    re.IGNORECASE,
)
_MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "jan january januar", "feb february februar", "mar march mär märz mrz", "apr april", "may mai",
            "jun june juni", "jul july juli", "aug august", "sep sept september", "oct october okt oktober",
            "nov november", "dec december dez dezember",
        ),
        1,
    )
    for name in names.split()
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class IssueColumn:
    """A column headed by a date of issue.

    `day` is None when the date can be read in two ways, gives a month only, or has no year; `month` is (year, month)
    where only these are known. `day_first` and `month_first` are the readings of a date in figures
    with strokes or dashes, None where there is no such day.
    """

    place: int
    written: str
    day: date | None
    short_year: bool
    month: tuple[int, int] | None = None
    day_first: date | None = None
    month_first: date | None = None

    @property
    def said(self) -> str:
        """The date as yyyy-mm-dd or yyyy-mm; as written when it is not sure."""
        if self.day:
            return self.day.isoformat()
        return f"{self.month[0]:04d}-{self.month[1]:02d}" if self.month else self.written

    @property
    def order(self) -> tuple[int, int, int] | None:
        """By what columns are put in order; None when the date is not sure."""
        if self.day:
            return self.day.year, self.day.month, self.day.day
        return (*self.month, 0) if self.month else None


def issue_column(place: int, cell: str) -> IssueColumn | None:
    """What a head cell says as a date of issue; None when it is none."""
    written = " ".join(cell.split())
    found = _DATE.fullmatch(written)
    if not found:
        return None
    part = found.groupdict()
    name = next((part[key] for key in ("n4", "n6", "n7", "n9", "n0") if part[key]), "")
    if name and name.lower() not in _MONTHS:
        return None
    if part["yearless"]:
        return IssueColumn(place, written, None, False)
    year = next(part[key] for key in ("y1", "y2", "y3", "y4", "y5", "y6", "y7", "y8") if part[key]).lstrip("'’")
    whole_year = int(year) if len(year) == 4 else (2000 if int(year) < 70 else 1900) + int(year)
    short = len(year) == 2
    month = _MONTHS[name.lower()] if name else int(next(part[f"m{n}"] for n in (1, 2, 3, 5, 8) if part[f"m{n}"]))
    if part["n7"] or part["m8"]:
        return IssueColumn(place, written, None, short, (whole_year, month)) if 1 <= month <= 12 else None
    day = int(next(part[f"d{n}"] for n in (1, 2, 3, 4, 5, 6) if part[f"d{n}"]))
    read = _date(whole_year, month, day)
    if part["d3"]:
        other = _date(whole_year, day, month)
        if read and other and read != other:
            return IssueColumn(place, written, None, short, None, read, other)
        if read and not other:
            return IssueColumn(place, written, read, short, None, read, None)
        return IssueColumn(place, written, other, short, None, read, other) if other else None
    return IssueColumn(place, written, read, short) if read else None


def with_one_order(columns: Sequence[IssueColumn]) -> tuple[tuple[IssueColumn, ...], str]:
    """The columns, dates in two ways read as one of the same head that leaves no choice; and that one, or empty."""
    day_first = [one for one in columns if one.day_first and not one.month_first]
    month_first = [one for one in columns if one.month_first and not one.day_first]
    doubtful = any(one.day is None and one.day_first for one in columns)
    if not doubtful or bool(day_first) == bool(month_first):
        return tuple(columns), ""
    read = [
        replace(one, day=one.day_first if day_first else one.month_first) if one.day is None and one.day_first else one
        for one in columns
    ]
    return tuple(read), (day_first or month_first)[0].written


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
