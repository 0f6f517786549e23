"""Words by which offices say, in a drawing list, what is no drawing and what state a number is in."""

from __future__ import annotations

import re
from dataclasses import dataclass

from specreg.core.model import Stage

# -- totals and page lines -------------------------------------------------------------------------------------------

_SHEETS = r"(?:sheets?|shts?\.?|bl[aä]tter)"
_DRAWINGS = r"(?:drawings?|drgs?\.?|dwgs?\.?|zeichnungen|documents?)"
_COUNTED = rf"(?:{_SHEETS}|{_DRAWINGS})"
_PLAIN_TOTAL = re.compile(
    r"(?:grand\s+)?(?:sub-?\s*)?totals?\b.*|(?:no\.?|number)\s+of\s+(?:sheets|drawings)\b.*|sum", re.IGNORECASE
)
_TOTAL = re.compile(
    r"(?:grand\s+|overall\s+|page\s+|running\s+)?(?:sub-?\s*)?totals?\b.*|sum\b.{0,30}|summe\b.*|gesamt\w*\b.*|count"
    rf"|(?:nos?\.?|numbers?|qty\.?|quantity|count|anzahl)\s+(?:(?:off?|der)\.?\s+)?{_COUNTED}(?!\w).*"
    rf"|{_COUNTED}\s*(?:,\s*)?(?:(?:in\s+)?(?:total|all|use)|issued)\b.*|{_COUNTED}\s*[:=]\s*\d+\.?|\d+\s*(?:off\s+)?{_COUNTED}"
    r"|(?:carried|brought)\s+(?:forward|over)\b.*|[cb]/f(?:wd)?\.?",
    re.IGNORECASE,
)
_STATED = re.compile(rf"(?P<stated>\d+)\s*(?:off\s+)?(?P<what>{_COUNTED})(?!\w)", re.IGNORECASE)
_PLAIN_PAGE = re.compile(r"(?:page|seite)\s+\d+.*", re.IGNORECASE)
_PAGE = re.compile(
    r"(?:(?:page|seite|pg|p|sheet|sht|blatt|list)\b\.?\s*(?:no\.?\s*)?\d+|\d+)\s*(?:of|von)\s*\d+"
    r"|(?:page|seite|pg|p)\b\.?\s*(?:no\.?\s*)?\d+(?:\s*/\s*\d+)?|(?:page|seite)\s+\d+.*|[-–—]\s*\d+\s*[-–—]",
    re.IGNORECASE,
)
_PRINTED = re.compile(
    r"(?:(?:date\s+)?(?:printed|plotted|run)|print(?:ed)?\s+(?:date|on)|continued|cont'?d\.?|end\s+of\s+(?:list|page|register)"
    r"|\W*end\s+of\s+(?:list|page|register)\W*)\b.*",
    re.IGNORECASE,
)
_REMARK = re.compile(
    r"(?:notes?|n\.?b\.?|remarks?|see|refer)\b.*|(?=(?:\S+\s+){3,}).*[a-z].*\.", re.IGNORECASE | re.DOTALL
)
_RULE = re.compile(r"[-=_*~.:+|\s]+")
_NUMERIC = re.compile(r"\d+")


def is_total(words: str, plain: bool) -> bool:
    """Whether a cell opens a row that gives a total; `plain` knows only the words that our own lists set apart."""
    return (_PLAIN_TOTAL if plain else _TOTAL).fullmatch(words) is not None


def is_page_line(words: str, plain: bool) -> bool:
    """Whether a cell says which page this is, or when it was printed."""
    if plain:
        return _PLAIN_PAGE.fullmatch(words) is not None
    return _PAGE.fullmatch(words) is not None or _PRINTED.fullmatch(words) is not None


def is_rule(cells: list[str]) -> bool:
    """Whether the cells only draw a line: `-----`, `====`."""
    return all(_RULE.fullmatch(cell) for cell in cells) and any(len(cell) > 2 for cell in cells)


def is_remark(words: str) -> bool:
    """Whether words that stand alone in a row are a remark and head no group: a note, a whole sentence."""
    return _REMARK.fullmatch(words) is not None


@dataclass(frozen=True, slots=True)
class Total:
    """A stated total: how many, and of what: `drawings`, `sheets`, or empty where that is not said."""

    stated: int
    what: str


def totals_in(cells: list[str], words: str) -> list[Total]:
    """The totals that a row states; `words` is the cell that says it is one."""
    found = [Total(int(one["stated"]), _what(one["what"])) for cell in cells for one in _STATED.finditer(cell)]
    if found:
        return found
    stated = next((cell for cell in cells if _NUMERIC.fullmatch(cell)), "")
    stated = stated or next(iter(_NUMERIC.findall(words)), "")
    return [Total(int(stated), _what(words))] if stated else []


def _what(words: str) -> str:
    if re.search(_DRAWINGS, words, re.IGNORECASE):
        return "drawings"
    return "sheets" if re.search(_SHEETS, words, re.IGNORECASE) else ""


# -- states ----------------------------------------------------------------------------------------------------------

_ABOUT = r"(?:(?:this\s+)?(?:number|no\.?|drawing|drg\.?|dwg\.?|sheet)\s+)?(?:is\s+)?"
_PLAIN_NOT_USED = re.compile(r"\(?(?:not used|number not used|unused|not allocated)\)?\.?", re.IGNORECASE)
_NOT_USED = re.compile(
    rf"{_ABOUT}(?:(?:not|never|un-?)\s*(?:used|allocated|issued\s+as\s+a\s+drawing)|n/u|nicht\s+(?:vergeben|belegt|benutzt))",
    re.IGNORECASE,
)
_PERHAPS_NOT_USED = re.compile(
    rf"{_ABOUT}(?:spare|reserved|vacant|blank|left\s+blank|intentionally\s+(?:left\s+)?blank|free|frei|reserve)"
    r"(?:\s+(?:number|no\.?|drawing))?",
    re.IGNORECASE,
)
_CANCELLED = re.compile(
    rf"{_ABOUT}(?:cancell?ed|canc\.?|void(?:ed)?|deleted|withdrawn|w/d|scrapped|entf[aä]llt|entfallen|storniert|annull?ed)"
    r"(?P<more>(?:\s*[-–—:,;(.]|\s+(?:by|see|use|in|on|at|from|at|with|vide|per|as)\b|\s+\d).*)?",
    re.IGNORECASE,
)
_DOUBTFUL = re.compile(
    rf"{_ABOUT}(?:not\s+(?:yet\s+)?(?:issued|drawn|made|required|req'?d|available)|to\s+(?:be|follow)\b.{{0,20}}"
    r"|superseded\b.{0,60}|replaced\s+by\b.{0,60}|obsolete|(?:on\s+)?hold|t\.?b\.?[ac]\.?|missing|lost)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class StateWords:
    """What a cell says instead of a title or a mark: the stage, None where that is not sure; and any words besides."""

    stage: Stage | None
    more: bool = False


def state_words(cell: str, nothing_else: bool, plain: bool) -> StateWords | None:
    """The state a cell gives; None when it gives none.

    `nothing_else` says that the row has neither sheet nor mark, without which `spare` may well be a title. `plain`
    knows only the words that our own lists set apart.
    """
    if plain:
        return StateWords(Stage.NOT_USED) if _PLAIN_NOT_USED.fullmatch(cell) else None
    bare = cell.strip(" \t\n*()[]<>-–—_.!")
    if _NOT_USED.fullmatch(bare):
        return StateWords(Stage.NOT_USED)
    found = _CANCELLED.fullmatch(bare)
    if found:
        return StateWords(Stage.CANCELLED, bool(found["more"]))
    if _PERHAPS_NOT_USED.fullmatch(bare):
        return StateWords(Stage.NOT_USED if nothing_else else None)
    return StateWords(None) if _DOUBTFUL.fullmatch(bare) else None


# -- sheets ----------------------------------------------------------------------------------------------------------

_SHEET_OF = re.compile(
    r"(?:(?:sheets?|shts?|sh|blatt|bl|folio|fol)\b\.?\s*(?:no\.?\s*)?)?"
    r"(?P<sheet>\w+?)\s*(?:\(\s*)?(?:(?:out\s+)?of|/|\\|von|aus)\s*(?P<of>\d+)\s*\)?\s*"
    r"(?:sheets?|shts?\.?|blatt)?\.?",
    re.IGNORECASE,
)
_SHEET_NAMED = re.compile(r"(?:sheet|sht|sh|blatt|bl)\b\.?\s*(?:no\.?\s*)?(?P<sheet>\d+\w*)\.?", re.IGNORECASE)
_SEVERAL_SHEETS = re.compile(r"\D*\d+\s*(?:-|–|to|bis|&|\+|and|,)\s*\d+\b.*", re.IGNORECASE)


def sheet_of(written: str) -> tuple[str, str] | None:
    """Sheet and how many there are out of `1 of 2`, `1/2`, `Sheet 1 of 3`, `1 (of 3)`; None when it is no such text."""
    found = _SHEET_OF.fullmatch(written)
    return (found["sheet"], found["of"]) if found else None


def sheet_named(written: str) -> str:
    """The sheet out of `Sheet 3`; empty when it is no such text."""
    found = _SHEET_NAMED.fullmatch(written)
    return found["sheet"] if found else ""


def several_sheets(written: str) -> bool:
    """Whether one cell names several sheets: `1-3`, `1 to 4 of 4`."""
    return _SEVERAL_SHEETS.fullmatch(written) is not None


# -- what a spreadsheet makes of a text --------------------------------------------------------------------------------

_TEXT_FORMULA = re.compile(r'="((?:[^"]|"")*)"')
_CHANGED = re.compile(
    r"\d{1,2}-(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)(?:-\d{2,4})?"
    r"|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)-\d{2}|\d(?:[.,]\d+)?E\+\d+|#+",
    re.IGNORECASE,
)


def text_formula(cell: str) -> str | None:
    """The text that `="0012"` shows; None when it is no formula of that kind."""
    found = _TEXT_FORMULA.fullmatch(cell)
    return found[1].replace('""', '"').strip() if found else None


def may_be_changed(cell: str) -> bool:
    """Whether a number looks as a spreadsheet shows what it took for a date or a large figure: `1-Feb`, `1.00E+05`."""
    return _CHANGED.fullmatch(cell) is not None
