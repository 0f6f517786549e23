"""A drawing list as text table: title lines, head, group rows, totals in; one record a revision of a sheet out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from pathlib import Path

from specreg.core.errors import WrongUse
from specreg.core.faults import Fault, Place, Severity
from specreg.core.model import SHEET_COLUMNS, Sheet, Stage
from specreg.core.numbering import folded
from specreg.intake.drawing_heads import Head, IssueColumn, head_of
from specreg.intake.markdown_cells import value_of
from specreg.intake.order_checks import is_ditto
from specreg.intake.source_text import read_bytes, table_text
from specreg.intake.table_lines import DELIMITERS, TableRow, loose_cells, table_rows
from specreg.intake.taken import SetAside, TakenSheet

_LINES_SEARCHED_FOR_HEAD = 60
_SHEET_OF = re.compile(r"(?:sh(?:ee)?t\.?\s*)?(?P<sheet>\w+)\s*(?:of|/|von)\s*(?P<of>\d+)", re.IGNORECASE)
_NOT_USED = re.compile(r"\(?(?:not used|number not used|unused|not allocated)\)?\.?", re.IGNORECASE)
_TOTAL = re.compile(
    r"(?:grand\s+)?(?:sub-?\s*)?totals?\b.*|(?:no\.?|number)\s+of\s+(?:sheets|drawings)\b.*|sum", re.IGNORECASE
)
_PAGE = re.compile(r"(?:page|seite)\s+\d+.*", re.IGNORECASE)
_INTEGER = re.compile(r"\d+")
_MARK_WORD = re.compile(r"(?:revision|rev|issue|iss)\b\.?\s*", re.IGNORECASE)
_STAGES = {stage.value: stage for stage in Stage}
_WITHOUT_SHEETS = (Stage.NOT_USED, Stage.CANCELLED)
_LETTERS_OFTEN_OMITTED = "IOQSXZ"


@dataclass(frozen=True, slots=True)
class TakenDrawings:
    """A drawing list as read."""

    sheets: tuple[TakenSheet, ...] = ()
    flags: tuple[Fault, ...] = ()
    set_aside: tuple[SetAside, ...] = ()


def read_drawing_list(path: Path, file: str = "drawings.csv") -> TakenDrawings:
    """The sheets of a drawing list, `file` being its name in faults. Raises WrongUse as `drawings_of` does."""
    return drawings_of(read_bytes(path), file)


def drawings_of(data: bytes, file: str) -> TakenDrawings:
    """The sheets of a drawing list from its bytes.

    Raises WrongUse when the bytes are no text, or no line heads a column of numbers and one of titles: the sentence
    names the line that is nearest to a head, the columns it has and those it lacks.
    """
    source = table_text(data, file)
    lines = source.text.split("\n")
    if not any(line.strip() for line in lines):
        return TakenDrawings((), source.flags)
    delimiter, at, head = _find_head(lines, file)
    reading = _Reading(file, head, list(source.flags))
    reading.note_head(at)
    for row in table_rows(lines, at + 1, delimiter, len(head.cells)):
        reading.take(row)
    reading.end()
    return TakenDrawings(tuple(reading.sheets), tuple(reading.flags), tuple(reading.set_aside))


def _find_head(lines: Sequence[str], file: str) -> tuple[str, int, Head]:
    """The delimiter, the index of the head line, and the head."""
    best: tuple[int, str, int, Head] | None = None
    for at, line in enumerate(lines[:_LINES_SEARCHED_FOR_HEAD]):
        for delimiter in DELIMITERS:
            head = head_of([cell.strip() for cell in loose_cells(line, delimiter)])
            if not head.missing:
                return delimiter, at, head
            if line.strip() and (best is None or head.score > best[0]):
                best = (head.score, delimiter, at, head)
    if best is None:
        raise WrongUse(f"{file} cannot be read as a drawing list", "it has no line of text")
    _, _, at, head = best
    found = ", ".join(cell for cell in head.cells if cell) or "none"
    raise WrongUse(
        f"{Place(file, at + 1)} cannot be read as the head of a drawing list",
        f"it has the columns {found}, and lacks {' and '.join(head.missing)}",
        f"Head the columns with {', '.join(SHEET_COLUMNS)}; number and title are needed, the others may be missing",
    )


@dataclass(slots=True)
class _Reading:
    """The state of reading one list from top to bottom."""

    file: str
    head: Head
    flags: list[Fault]
    sheets: list[TakenSheet] = field(default_factory=list)
    set_aside: list[SetAside] = field(default_factory=list)
    group: str = ""
    group_row: TableRow | None = None
    total_from: int = 0
    first_by_key: dict[tuple[str, str, str], Place] = field(default_factory=dict)

    # -- the head ----------------------------------------------------------------------------------------------------

    def note_head(self, at: int) -> None:
        place = Place(self.file, at + 1)
        if self.head.unknown:
            named = ", ".join(self.head.cells[one] for one in self.head.unknown)
            text = f"No known column: {named}. What stands in it is kept in the remarks."
            self.flags.append(Fault("unknown column", Severity.NOTE, "", text, place))
        if not self.head.issues:
            return
        if "revision" in self.head.columns:
            named = ", ".join(issue.written for issue in self.head.issues)
            text = f"A column of revisions and columns of issue dates ({named}): the dates are kept in the remarks."
            self.flags.append(Fault("two kinds of revision", Severity.WARNING, "", text, place))
            return
        if any(issue.short_year for issue in self.head.issues):
            years = ", ".join(f"{one.written} as {one.day.isoformat()}" for one in self.head.issues if one.day)
            text = f"Years of two figures: read {years or 'none'}."
            self.flags.append(Fault("year of two figures", Severity.NOTE, "", text, place))
        unsure = [issue.written for issue in self.head.issues if issue.day is None]
        if unsure:
            text = f"Day or month first? {', '.join(unsure)}: the columns are taken in the order in which they stand."
            self.flags.append(Fault("date in two ways", Severity.WARNING, "", text, place))

    @property
    def issues(self) -> list[IssueColumn]:
        """The columns of issue dates in the order of issue; none when the list has a column of revisions."""
        if "revision" in self.head.columns:
            return []
        columns = list(self.head.issues)
        days = [issue.day for issue in columns]
        if any(day is None for day in days):
            return columns
        return sorted(columns, key=lambda issue: issue.day.toordinal() if issue.day else 0)

    @property
    def remarked(self) -> list[int]:
        """Columns whose text goes to the remarks."""
        dated = [issue.place for issue in self.head.issues] if "revision" in self.head.columns else []
        return sorted((*self.head.unknown, *dated))

    # -- rows --------------------------------------------------------------------------------------------------------

    def take(self, row: TableRow) -> None:
        if row.unreadable:
            self.put_aside("bad quoting", row, "its quotation marks can be read in no way, or in several")
            return
        said = [place for place, cell in enumerate(row.cells) if cell]
        if not said or [cell.casefold() for cell in row.cells] == [cell.casefold() for cell in self.head.cells]:
            return
        if self.is_furniture(row, said):
            return
        width = len(self.head.cells)
        if len(row.cells) < width or any(row.cells[width:]):
            self.put_aside("cell count", row, f"the row has {len(row.cells)} cells, the head {width}")
            return
        if not row.cells[self.head.columns["number"]]:
            self.put_aside("no number", row, "the row has no number")
            return
        if row.repaired:
            shown = " | ".join(row.cells)
            text = f"Bad quoting, probably of inch marks; read as {shown}."
            self.flags.append(Fault("bad quoting", Severity.WARNING, self.cell(row, "number"), text, self.place(row)))
        self.group_row = None
        for name in self.head.columns:
            if is_ditto(self.cell(row, name)):
                number, mark = self.cell(row, "number"), self.cell(row, name)
                text = f"{number}: {name} says {mark}; write out what is meant."
                self.flags.append(Fault("ditto mark", Severity.WARNING, number, text, self.place(row)))
        self.take_sheet(row)

    def is_furniture(self, row: TableRow, said: Sequence[int]) -> bool:
        """Whether the row is a group head, a total or a page line, which are no records."""
        number_at = self.head.columns["number"]
        number = row.cells[number_at] if number_at < len(row.cells) else ""
        meant = number.startswith("\\")
        has_number = meant or (any(sign.isdecimal() for sign in number) and not _TOTAL.fullmatch(number))
        total = next((row.cells[at] for at in said if _TOTAL.fullmatch(row.cells[at])), "")
        if total and not has_number:
            self.take_total(row, total)
            return True
        if len(said) > 1:
            return False
        words = row.cells[said[0]]
        if _PAGE.fullmatch(words) and "group" not in self.head.columns:
            return True
        if said[0] == number_at and ("group" in self.head.columns or (has_number and " " not in words)):
            return False
        if meant or not any(sign.isalpha() for sign in words):
            if said[0] not in self.head.running:
                return False
            text = f"Line {words} of the list names no drawing."
            self.flags.append(Fault("line without a drawing", Severity.NOTE, "", text, self.place(row)))
            return True
        self.drop_group_row()
        self.group, self.group_row = value_of(words), row
        return True

    def take_total(self, row: TableRow, words: str) -> None:
        stated = next((cell for cell in row.cells if _INTEGER.fullmatch(cell)), "")
        stated = stated or next(iter(re.findall(r"\d+", words)), "")
        if not stated:
            return
        counts = {self.count(self.sheets, words), self.count(self.sheets[self.total_from :], words)}
        self.total_from = len(self.sheets)
        if int(stated) not in counts:
            what = "drawings" if "drawing" in words.casefold() else "sheets"
            text = f"{words} says {stated}; the list has {self.count(self.sheets, words)} {what} in use up to here."
            self.flags.append(Fault("total differs", Severity.WARNING, "", text, self.place(row)))

    def count(self, taken: Sequence[TakenSheet], words: str) -> int:
        in_use = [one.sheet for one in taken if one.sheet.stage not in _WITHOUT_SHEETS]
        if "drawing" in words.casefold():
            return len({folded(sheet.number) for sheet in in_use})
        return len({(folded(sheet.number), sheet.sheet) for sheet in in_use})

    def take_sheet(self, row: TableRow) -> None:
        sheet = Sheet(**{name: self.cell(row, name) for name in self.head.columns})
        remarks = [f"{self.head.cells[at]}: {value_of(row.cells[at])}" for at in self.remarked if row.cells[at]]
        sheet = replace(sheet, remarks="; ".join(part for part in (sheet.remarks, *remarks) if part))
        if "group" not in self.head.columns:
            sheet = replace(sheet, group=self.group)
        sheet = self.with_stage(self.with_sheet_of(sheet, row), row)
        if self.issues:
            for taken in self.history(sheet, row):
                self.keep(taken, row)
        else:
            self.keep(TakenSheet(sheet, self.place(row), sheet.stage != Stage.SUPERSEDED), row)

    def with_sheet_of(self, sheet: Sheet, row: TableRow) -> Sheet:
        """`1 of 2` and `1/2` in the sheet column are a sheet and how many there are."""
        written = row.cells[self.head.columns["sheet"]] if "sheet" in self.head.columns else ""
        found = _SHEET_OF.fullmatch(written)
        if not found:
            return sheet
        if sheet.of and sheet.of != found["of"]:
            text = f"{sheet.number}: sheet {written}, but of {sheet.of}; kept as written."
            self.flags.append(Fault("sheets differ", Severity.WARNING, sheet.number, text, self.place(row)))
            return sheet
        return replace(sheet, sheet=found["sheet"], of=found["of"])

    def with_stage(self, sheet: Sheet, row: TableRow) -> Sheet:
        title = row.cells[self.head.columns["title"]]
        if _NOT_USED.fullmatch(title) and sheet.stage.casefold() in ("", Stage.NOT_USED):
            return replace(sheet, title="", stage=Stage.NOT_USED.value)
        known = _STAGES.get(sheet.stage.casefold())
        if known:
            return replace(sheet, stage=known.value)
        if sheet.stage:
            text = f"{sheet.name}: the stage {sheet.stage} is not known; known are {', '.join(_STAGES)}."
            self.flags.append(Fault("unknown stage", Severity.WARNING, sheet.number, text, self.place(row)))
        return sheet

    def history(self, sheet: Sheet, row: TableRow) -> Iterator[TakenSheet]:
        """One record a revision, in the order of issue; a blank cell only says that it was not in that issue."""
        runs: list[tuple[str, list[IssueColumn]]] = []
        for issue in self.issues:
            mark = value_of(row.cells[issue.place])
            if not mark:
                continue
            if runs and _mark(runs[-1][0]) == _mark(mark):
                runs[-1][1].append(issue)
            else:
                runs.append((mark, [issue]))
        if not runs:
            yield TakenSheet(sheet, self.place(row), sheet.stage != Stage.SUPERSEDED)
        for (before, _), (after, _) in pairwise(runs):
            missed = _letters_between(_mark(before), _mark(after))
            if missed:
                text = f"{sheet.name}: {missed} between {before} and {after} was never issued here."
                self.flags.append(Fault("revision not seen", Severity.WARNING, sheet.number, text, self.place(row)))
        for number, (mark, issues) in enumerate(runs, 1):
            own = replace(sheet, revision=mark, date=issues[0].written)
            days = tuple(issue.day.isoformat() if issue.day else issue.written for issue in issues)
            yield TakenSheet(own, self.place(row), number == len(runs) and sheet.stage != Stage.SUPERSEDED, days)

    def keep(self, taken: TakenSheet, row: TableRow) -> None:
        sheet = taken.sheet
        key = (folded(sheet.number), folded(sheet.sheet), _mark(sheet.revision))
        first = self.first_by_key.setdefault(key, taken.place)
        if first is not taken.place:
            said = f" revision {sheet.revision}" if sheet.revision else ""
            self.put_aside("sheet given twice", row, f"{sheet.name}{said} stands already at {first}", sheet.number)
            return
        self.sheets.append(taken)

    def end(self) -> None:
        self.drop_group_row()
        self.flags.sort(key=lambda fault: fault.place.line if fault.place else 0)

    def drop_group_row(self) -> None:
        """A group head under which nothing stands was a remark on the list: it is kept as one."""
        if self.group_row:
            text = f"A remark on the list, no drawing: {self.group}"
            self.flags.append(Fault("remark on the list", Severity.NOTE, "", text, self.place(self.group_row)))
            self.group_row = None

    # -- cells and faults --------------------------------------------------------------------------------------------

    def cell(self, row: TableRow, name: str) -> str:
        """The value of a known column; a backslash at its start only says that it is to be taken as it stands."""
        return value_of(row.cells[self.head.columns[name]]).removeprefix("\\")

    def place(self, row: TableRow) -> Place:
        return Place(self.file, row.line)

    def put_aside(self, name: str, row: TableRow, reason: str, subject: str = "") -> None:
        aside = SetAside(self.place(row), row.text, reason)
        self.set_aside.append(aside)
        self.flags.append(aside.fault(name, subject))


def _mark(revision: str) -> str:
    """A revision mark for comparing: `Rev. B`, `rev B` and `B` are one."""
    return _MARK_WORD.sub("", folded(revision), count=1) or folded(revision)


def _letters_between(before: str, after: str) -> str:
    """Single letters that lie between two marks, without those that offices omit."""
    if not (len(before) == len(after) == 1 and "A" <= before < after <= "Z"):
        return ""
    letters = [chr(code) for code in range(ord(before) + 1, ord(after))]
    return ", ".join(letter for letter in letters if letter not in _LETTERS_OFTEN_OMITTED)
