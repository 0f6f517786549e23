"""The head of a drawing list: which column is which, under the names offices give them, and which are issue dates."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

_SPELLINGS: dict[str, str] = {
    "number": "number|drawing|drawing no|drawing nr|drawing number|drg|drg no|drg number|drg nr|drgno|dwg|dwg no"
    "|dwg number|plan no|document no|doc no|zeichnung|zeichnungs nr|zeichnungsnummer|zeichn nr",
    "sheet": "sheet|sheet no|sheet number|sht|sht no|sh|sh no|blatt",
    "of": "of|sheets|no of sheets|number of sheets|total sheets|shts",
    "title": "title|drawing title|drg title|description|name|subject|benennung|titel|bezeichnung",
    "size": "size|sheet size|format|paper size",
    "scale": "scale|massstab|maßstab",
    "hand": "hand|handed",
    "revision": "revision|rev|rev no|rev mark|revision mark|issue|iss|issue no|issue mark|alteration|alt|mark|index|"
    "current revision|current issue|latest revision|latest issue",
    "date": "date|rev date|revision date|issue date|date of issue|date of revision|datum|dated",
    "stage": "stage|status|state|condition",
    "drawn": "drawn|drawn by|drn|drawn by and date",
    "checked": "checked|checked by|chkd|chk|ckd",
    "approved": "approved|approved by|appd|app",
    "planned": "planned|planned date|planned issue|due|due date|wanted",
    "replaces": "replaces|supersedes|replacing|in place of",
    "machines": "machines|machine|machine no|machine nos|works nos|works no",
    "remarks": "remarks|remark|notes|note|comments|bemerkung|bemerkungen",
    "group": "group|assembly group|sub assembly",
}
_COLUMN_BY_SPELLING = {spelling: name for name, all_of in _SPELLINGS.items() for spelling in all_of.split("|")}
_RUNNING_SPELLINGS = "no|nr|item|item no|pos|ser|ser no|serial|serial no|s no|sl no|line|find|find no|lfd nr|#"
_RUNNING = frozenset(_RUNNING_SPELLINGS.split("|"))

_DATE = re.compile(
    r"(?:(?:issue|issued|iss|rev|date)\.?\s*:?\s*)?(?:"
    r"(?P<y1>\d{4})-(?P<m1>\d{1,2})-(?P<d1>\d{1,2})"
    r"|(?P<d2>\d{1,2})\.\s?(?P<m2>\d{1,2})\.\s?(?P<y2>\d{4}|\d{2})"
    r"|(?P<d3>\d{1,2})/(?P<m3>\d{1,2})/(?P<y3>\d{4}|\d{2})"
    r"|(?P<d4>\d{1,2})[ .-]+(?P<name>[A-Za-z]{3,9})\.?[ ,.-]+(?P<y4>\d{4}|\d{2})"
    r")",
    re.IGNORECASE,
)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


@dataclass(frozen=True, slots=True)
class IssueColumn:
    """A column headed by a date of issue. `day` is None when the date can be read in two ways."""

    place: int
    written: str
    day: date | None
    short_year: bool


@dataclass(frozen=True, slots=True)
class Head:
    """A head line: `columns` gives the place of each known column, `running` columns that only count the lines,
    `unknown` the others, by place; `issues` the columns of issue dates."""

    cells: tuple[str, ...]
    columns: dict[str, int]
    running: tuple[int, ...]
    unknown: tuple[int, ...]
    issues: tuple[IssueColumn, ...]

    @property
    def missing(self) -> tuple[str, ...]:
        """Columns without which no list can be read."""
        return tuple(name for name in ("number", "title") if name not in self.columns)

    @property
    def score(self) -> int:
        """How much it looks like a head."""
        return len(self.columns) * 2 + len(self.issues) + len(self.running)


def head_of(cells: Sequence[str]) -> Head:
    """What a line would mean as the head of a drawing list."""
    columns: dict[str, int] = {}
    running: list[int] = []
    unknown: list[int] = []
    issues: list[IssueColumn] = []
    for place, cell in enumerate(cells):
        spelling = _spelling(cell)
        name = _COLUMN_BY_SPELLING.get(spelling)
        issue = None if name else _issue(place, cell)
        if name and name not in columns:
            columns[name] = place
        elif issue:
            issues.append(issue)
        elif spelling in _RUNNING:
            running.append(place)
        elif cell.strip():
            unknown.append(place)
    if "number" not in columns and running and "title" in columns:
        # `No.` alone, beside a title, is the number of the drawing; beside `Drg No` it only counts the lines.
        own = next((place for place in running if _spelling(cells[place]) in ("no", "nr")), None)
        if own is not None:
            columns["number"] = own
            running.remove(own)
    return Head(tuple(cells), columns, tuple(running), tuple(unknown), tuple(issues))


def _spelling(cell: str) -> str:
    bare = re.sub(r"[^\w#]+", " ", cell.casefold().replace("ß", "ss"))
    return bare.strip()


def _issue(place: int, cell: str) -> IssueColumn | None:
    found = _DATE.fullmatch(cell.strip())
    if not found:
        return None
    year = next(part for part in (found["y1"], found["y2"], found["y3"], found["y4"]) if part)
    whole_year = int(year) if len(year) == 4 else (2000 if int(year) < 70 else 1900) + int(year)
    day = int(next(part for part in (found["d1"], found["d2"], found["d3"], found["d4"]) if part))
    if found["name"]:
        name = found["name"][:3].lower()
        if name not in _MONTHS:
            return None
        month = _MONTHS.index(name) + 1
    else:
        month = int(next(part for part in (found["m1"], found["m2"], found["m3"]) if part))
    either_way = bool(found["d3"]) and day <= 12 and month <= 12 and day != month
    if found["d3"] and month > 12:
        day, month = month, day
    try:
        read = date(whole_year, month, day)
    except ValueError:
        return None
    return IssueColumn(place, cell.strip(), None if either_way else read, len(year) == 2)
