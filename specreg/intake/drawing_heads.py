"""The head of a drawing list: which column is which, under the names offices give them, and which are issue dates."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from specreg.core.model import SHEET_COLUMNS
from specreg.intake.issue_dates import IssueColumn, issue_column, with_one_order

_SPELLINGS: dict[str, str] = {
    "number": "number|drawing|drawing no|drawing nr|drawing number|drg|drg no|drg number|drg nr|drgno"
    "|drawings|drgs|document|dwg|dwg no|dwg number|plan no|document no|doc no|zeichnung|zeichnungs nr"
    "|zeichnungsnummer|zeichn nr",
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

# Besides: one of these words, a word before it and a word after it.
_WORDS: dict[str, tuple[str, str, str]] = {
    "number": (
        "(?:(?:our|works|maker s|contractor s|client s) )?",
        "(?:drawing|drg|dwg|document|doc|plan|print|blueprint|tracing|zeichnungs?|zeichn|zng)s?",
        "(?: (?:nos?|nrs?|numbers?|num|refs?|references?|ref nos?|ids?|#|no #|code))",
    ),
    "title": (
        "(?:(?:drawing|drg|dwg|document|sheet) )?",
        "(?:titles?|description|descr|desc|descriptive title|name|subject|designation|details|titel"
        "|benennung|bezeichnung)",
        "(?: of (?:the )?(?:drawing|drg|sheet|document))?",
    ),
    "revision": (
        "(?:(?:current|latest|last|present|drg|dwg|drawing|sheet) )?",
        "(?:revision|revn|rev n|rev|issue|iss|mod|modification|amendment|amend|amdt|alteration|altn|alt|version|vers"
        "|ver|edition|edn|ed|index|ind|änd|änderung|änderungsindex|rev issue|issue rev|revision issue|rev iss|iss rev)",
        "(?: (?:nos?|nr|number|mark|letter|ltr|let|index|ind|level|sym|symbol|#))?",
    ),
    "sheet": ("", "(?:sheet|sht|sh|blatt|folio)s?", "(?: (?:nos?|nr|number|#))"),
}
_COLUMN_BY_WORDS = {name: re.compile("".join(parts)) for name, parts in _WORDS.items()}
_PERHAPS_NUMBER = frozenset({"no", "nr", "ref", "ref no", "reference", "number"})


@dataclass(frozen=True, slots=True)
class Head:
    """A head line: `columns` gives the place of each known column, `running` columns that only count the lines,
    `unknown` the others, by place; `issues` the columns of issue dates, `dates_read_as` the one that tells whether the
    day or the month comes first."""

    cells: tuple[str, ...]
    columns: dict[str, int]
    running: tuple[int, ...]
    unknown: tuple[int, ...]
    issues: tuple[IssueColumn, ...]
    dates_read_as: str = ""

    @property
    def ours(self) -> bool:
        """Whether it is the head under which we write a list ourselves: nothing but what we mark is read into it."""
        return self.cells in (SHEET_COLUMNS, (*SHEET_COLUMNS, "group"))

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
        words = spelling(cell)
        name = _column(words)
        issue = None if name else issue_column(place, cell)
        if name and name not in columns:
            columns[name] = place
        elif issue:
            issues.append(issue)
        elif words in _RUNNING:
            running.append(place)
        elif cell.strip():
            unknown.append(place)
    if "number" not in columns and running and "title" in columns:
        # `No.` alone, beside a title, is the number of the drawing; beside `Drg No` it only counts the lines.
        own = next((place for place in running if spelling(cells[place]) in ("no", "nr")), None)
        if own is not None:
            columns["number"] = own
            running.remove(own)
    if "number" not in columns and "title" in columns:
        own = next((place for place in unknown if spelling(cells[place]) in _PERHAPS_NUMBER), None)
        if own is not None:
            columns["number"] = own
            unknown.remove(own)
    dated, read_as = with_one_order(issues)
    return Head(tuple(cells), columns, tuple(running), tuple(unknown), dated, read_as)


def spelling(cell: str) -> str:
    """A head cell in small letters, its words with one space between, without other signs."""
    bare = re.sub(r"[^\w#]+", " ", cell.casefold().replace("ß", "ss").replace("#", " # "))
    return bare.strip()


def _column(words: str) -> str:
    """The column that a head cell names; empty for none that is known."""
    known = _COLUMN_BY_SPELLING.get(words, "")
    if known or words in _RUNNING:
        return known
    return next((name for name, pattern in _COLUMN_BY_WORDS.items() if pattern.fullmatch(words)), "")


def joined(upper: Sequence[str], lower: Sequence[str]) -> list[str]:
    """The cells of a head that takes two lines; a cell that stands over several columns is that of the first."""
    width = max(len(upper), len(lower))
    both = zip([*upper, *[""] * (width - len(upper))], [*lower, *[""] * (width - len(lower))], strict=True)
    return [f"{one} {other}".strip() for one, other in both]
