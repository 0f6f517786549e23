"""A drawing list as text table: title lines, head, group rows, totals in; one record a revision of a sheet out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from pathlib import Path

from specreg.core.faults import Fault, Place, Severity
from specreg.core.model import Sheet, Stage
from specreg.core.numbering import folded, number_key
from specreg.core.revisions import order_marks, plain_mark
from specreg.intake.drawing_head_lines import find_head, words_of
from specreg.intake.drawing_heads import Head
from specreg.intake.drawing_words import (
    is_page_line,
    is_remark,
    is_rule,
    is_total,
    may_be_changed,
    several_sheets,
    sheet_named,
    sheet_of,
    state_words,
    text_formula,
    totals_in,
)
from specreg.intake.issue_dates import IssueColumn
from specreg.intake.markdown_cells import value_of
from specreg.intake.order_checks import begins_with_ditto, is_ditto
from specreg.intake.source_text import read_bytes, table_text
from specreg.intake.table_lines import TableRow, loose_cells, table_rows
from specreg.intake.taken import SetAside, TakenSheet

_STAGES = {stage.value: stage for stage in Stage}
_WITHOUT_SHEETS = (Stage.NOT_USED, Stage.CANCELLED)
_TICK = re.compile(r"[x*•●✓✔√]+|[Yy]es|YES")
_GROUP_AND_FIGURE = re.compile(r"[A-Za-z]{3,}\.?\s+\w{1,3}")
_FIGURES_AND_STROKE = re.compile(r"[\d\s/]+")


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
    found = find_head(lines, file)
    above = {words_of(loose_cells(line, found.delimiter)) for line in lines[: found.end]}
    reading = _Reading(file, found.head, above - {()}, list(source.flags))
    reading.note_head(found.at)
    for row in table_rows(lines, found.end, found.delimiter, len(found.head.cells)):
        reading.take(row)
    reading.end()
    return TakenDrawings(tuple(reading.sheets), tuple(reading.flags), tuple(reading.set_aside))


@dataclass(slots=True)
class _Reading:
    """The state of reading one list from top to bottom."""

    file: str
    head: Head
    above: set[tuple[str, ...]]
    flags: list[Fault]
    sheets: list[TakenSheet] = field(default_factory=list)
    set_aside: list[SetAside] = field(default_factory=list)
    group: str = ""
    group_row: TableRow | None = None
    total_from: int = 0
    title_above: tuple[str, int] = ("", 0)
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
            years = ", ".join(f"{one.written} as {one.said}" for one in self.head.issues if one.order)
            text = f"Years of two figures: read {years or 'none'}."
            self.flags.append(Fault("year of two figures", Severity.NOTE, "", text, place))
        if self.head.dates_read_as:
            text = f"Day or month first? All are read as {self.head.dates_read_as} must be: "
            text += ", ".join(f"{one.written} as {one.said}" for one in self.head.issues if one.day_first) + "."
            self.flags.append(Fault("date in two ways", Severity.NOTE, "", text, place))
        unsure = [issue.written for issue in self.head.issues if issue.order is None]
        if unsure:
            text = f"Day or month first? {', '.join(unsure)}: the columns are taken in the order in which they stand."
            self.flags.append(Fault("date in two ways", Severity.WARNING, "", text, place))
        orders = [one.order for one in self.head.issues if one.order]
        twice = [one.written for one in self.head.issues if one.order and orders.count(one.order) > 1]
        if twice:
            text = f"One date heads several columns ({', '.join(twice)}): taken in the order in which they stand."
            self.flags.append(Fault("date given twice", Severity.WARNING, "", text, place))

    @property
    def issues(self) -> list[IssueColumn]:
        """The columns of issue dates in the order of issue; none when the list has a column of revisions."""
        if "revision" in self.head.columns:
            return []
        columns = list(self.head.issues)
        if any(issue.order is None for issue in columns):
            return columns
        return sorted(columns, key=lambda issue: issue.order or (0, 0, 0))

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
        if not self.head.ours:
            # Each page may repeat the lines above the head, the head, and a rule under it.
            if words_of(row.cells) in self.above or is_rule([row.cells[at] for at in said]):
                return
            row = self.without_text_formulas(row)
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
        number = row.cells[self.head.columns["number"]]
        if number.startswith("=") and not self.head.ours:
            self.put_aside("formula", row, f"its number is a formula, {number}, without what it gives")
            return
        self.group_row = None
        for name in self.head.columns:
            if (self.head.ours or name != "title") and is_ditto(self.cell(row, name)):
                number, mark = self.cell(row, "number"), self.cell(row, name)
                text = f"{number}: {name} says {mark}; write out what is meant."
                self.flags.append(Fault("ditto mark", Severity.WARNING, number, text, self.place(row)))
        self.take_sheet(row)

    def is_furniture(self, row: TableRow, said: Sequence[int]) -> bool:
        """Whether the row is a group head, a total or a page line, which are no records."""
        number_at = self.head.columns["number"]
        number = row.cells[number_at] if number_at < len(row.cells) else ""
        meant = number.startswith("\\")
        has_number = meant or (any(sign.isdecimal() for sign in number) and not is_total(number, self.head.ours))
        total = next((row.cells[at] for at in said if is_total(row.cells[at], self.head.ours)), "")
        if total and not has_number:
            self.take_total(row, total)
            return True
        paged = "group" not in self.head.columns and any(is_page_line(row.cells[at], self.head.ours) for at in said)
        if paged and not has_number and not self.head.ours:
            return True
        if len(said) > 1:
            return False
        words = row.cells[said[0]]
        if paged and not (said[0] == number_at and _FIGURES_AND_STROKE.fullmatch(words)):
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
        if not self.head.ours and is_remark(words):
            text = f"A remark on the list, no drawing: {value_of(words)}"
            self.flags.append(Fault("remark on the list", Severity.NOTE, "", text, self.place(row)))
            return True
        self.group, self.group_row = value_of(words), row
        return True

    def take_total(self, row: TableRow, words: str) -> None:
        for total in totals_in([row.cells[at] for at in range(len(row.cells)) if row.cells[at]], words):
            counts = {*self.counts(self.sheets, total.what), *self.counts(self.sheets[self.total_from :], total.what)}
            if total.stated not in counts:
                what = total.what or "sheets"
                here = self.counts(self.sheets, what)[0]
                text = f"{words} says {total.stated}; the list has {here} {what} in use up to here."
                self.flags.append(Fault("total differs", Severity.WARNING, "", text, self.place(row)))
        self.total_from = len(self.sheets)

    def counts(self, taken: Sequence[TakenSheet], what: str) -> list[int]:
        """How many sheets or drawings are in use, or either where it is not said what is counted."""
        in_use = [one.sheet for one in taken if one.sheet.stage not in _WITHOUT_SHEETS]
        drawings = len({folded(sheet.number) for sheet in in_use})
        if what == "drawings":
            return [drawings]
        sheets = len({(folded(sheet.number), sheet.sheet) for sheet in in_use})
        if "sheet" not in self.head.columns and all(sheet.of.isdecimal() for sheet in in_use):
            # One row a drawing, which says how many sheets it has.
            sheets = sum({folded(sheet.number): int(sheet.of) for sheet in in_use}.values())
        return [sheets] if what else [sheets, drawings]

    def take_sheet(self, row: TableRow) -> None:
        sheet = Sheet(**{name: self.cell(row, name) for name in self.head.columns})
        remarks = [f"{self.head.cells[at]}: {value_of(row.cells[at])}" for at in self.remarked if row.cells[at]]
        sheet = replace(sheet, remarks="; ".join(part for part in (sheet.remarks, *remarks) if part))
        if "group" not in self.head.columns:
            sheet = replace(sheet, group=self.group)
        sheet = self.with_title_above(self.with_stage(self.with_sheet_of(sheet, row), row), row)
        if not self.head.ours:
            self.flag_doubts(sheet, row)
        if self.issues:
            for taken in self.history(sheet, row):
                self.keep(taken, row)
        else:
            self.keep(TakenSheet(sheet, self.place(row), sheet.stage != Stage.SUPERSEDED), row)

    def with_sheet_of(self, sheet: Sheet, row: TableRow) -> Sheet:
        """`1 of 2` and `1/2` in the sheet column are a sheet and how many there are."""
        written = row.cells[self.head.columns["sheet"]] if "sheet" in self.head.columns else ""
        found = sheet_of(written)
        if not found:
            named = "" if self.head.ours else sheet_named(written)
            if several_sheets(written) and not self.head.ours:
                text = f"{sheet.number}: one row for the sheets {written}; kept; give each sheet its own row."
                self.flags.append(Fault("sheets in one row", Severity.WARNING, sheet.number, text, self.place(row)))
            return replace(sheet, sheet=named) if named else sheet
        if sheet.of and number_key(sheet.of) != number_key(found[1]):
            text = f"{sheet.number}: sheet {written}, but of {sheet.of}; kept as written."
            self.flags.append(Fault("sheets differ", Severity.WARNING, sheet.number, text, self.place(row)))
            return sheet
        return replace(sheet, sheet=found[0], of=sheet.of or found[1])

    def with_stage(self, sheet: Sheet, row: TableRow) -> Sheet:
        known = _STAGES.get(sheet.stage.casefold())
        if known:
            sheet = replace(sheet, stage=known.value)
        nothing_else = sheet.revision in ("", "-") and sheet.sheet in ("", "-")
        for name in ("title",) if self.head.ours else ("title", "revision", "sheet"):
            cell = row.cells[self.head.columns[name]] if name in self.head.columns else ""
            said = state_words(cell, nothing_else or name != "title", self.head.ours) if cell else None
            if said and said.stage and sheet.stage in ("", said.stage):
                kept = f"{self.head.cells[self.head.columns[name]]}: {getattr(sheet, name)}"
                remarks = f"{sheet.remarks}; {kept}".removeprefix("; ") if said.more else sheet.remarks
                return replace(sheet, **{name: "", "stage": said.stage.value, "remarks": remarks})
            if said and not sheet.stage:
                text = f"{sheet.number}: {name} says {cell}; kept as written, its stage is to be given."
                self.flags.append(Fault("stage not sure", Severity.WARNING, sheet.number, text, self.place(row)))
        if sheet.stage and not known:
            text = f"{sheet.name}: the stage {sheet.stage} is not known; known are {', '.join(_STAGES)}."
            self.flags.append(Fault("unknown stage", Severity.WARNING, sheet.number, text, self.place(row)))
        return sheet

    def with_title_above(self, sheet: Sheet, row: TableRow) -> Sheet:
        """A title that only says ditto is the one above; what was written is kept in the remarks."""
        if self.head.ours or not begins_with_ditto(sheet.title):
            self.title_above = (sheet.title, row.line) if sheet.title else ("", 0)
            return sheet
        if not is_ditto(sheet.title):
            self.title_above = ("", 0)
        title, line = self.title_above
        written = f"{self.head.cells[self.head.columns['title']]} as written: {sheet.title}"
        text = f"{sheet.number}: title says {sheet.title}; "
        text += f"read as {title}, from line {line}." if title else "write out what is meant."
        self.flags.append(Fault("ditto mark", Severity.WARNING, sheet.number, text, self.place(row)))
        remarks = f"{sheet.remarks}; {written}".removeprefix("; ")
        return replace(sheet, title=title, remarks=remarks) if title else sheet

    def flag_doubts(self, sheet: Sheet, row: TableRow) -> None:
        """What is kept as it stands, and may yet be no number, or another one."""
        number = row.cells[self.head.columns["number"]]
        place = self.place(row)
        if not number.startswith("\\") and not any(sign.isdecimal() for sign in number):
            text = f"{number} has no figure and is taken as a number; a group is to stand alone in its row."
            self.flags.append(Fault("number without a figure", Severity.WARNING, number, text, place))
        elif _GROUP_AND_FIGURE.fullmatch(number) and not (sheet.sheet or sheet.revision or sheet.stage):
            text = f"{number} is taken as a number; a group is to stand alone in its row."
            self.flags.append(Fault("number or group", Severity.WARNING, number, text, place))
        for name in ("number", "sheet", "revision"):
            cell = row.cells[self.head.columns[name]] if name in self.head.columns else ""
            if may_be_changed(cell):
                text = f"{sheet.number}: {name} {cell} may be a text that a spreadsheet changed; kept, look it up."
                self.flags.append(Fault("changed by a spreadsheet", Severity.WARNING, sheet.number, text, place))
        if not sheet.title and not sheet.stage and not sheet.revision:
            text = f"{sheet.number} has neither title nor revision; kept as a number that is taken."
            self.flags.append(Fault("number alone", Severity.NOTE, sheet.number, text, place))

    def without_text_formulas(self, row: TableRow) -> TableRow:
        """`="0012"` is how a text is kept from a spreadsheet: the text is meant. Another formula is no number."""
        cells = tuple(cell if (text := text_formula(cell)) is None else text for cell in row.cells)
        if cells != row.cells:
            shown = ", ".join(f"{one} as {other}" for one, other in zip(row.cells, cells, strict=True) if one != other)
            self.flags.append(Fault("formula", Severity.NOTE, "", f"Read {shown}.", self.place(row)))
        return replace(row, cells=cells)

    def history(self, sheet: Sheet, row: TableRow) -> Iterator[TakenSheet]:
        """One record a revision, in the order of issue; a blank cell only says that it was not in that issue."""
        runs: list[tuple[str, list[IssueColumn]]] = []
        for issue in self.issues:
            mark = value_of(row.cells[issue.place])
            if not mark:
                continue
            again = next((run for run in runs if plain_mark(run[0]) == plain_mark(mark)), None)
            if again and again is not runs[-1]:
                text = f"{sheet.name}: {mark} was issued again after {runs[-1][0]}; taken as current, ask."
                self.flags.append(Fault("revision issued again", Severity.WARNING, sheet.number, text, self.place(row)))
                runs.remove(again)
                runs.append(again)
            if again:
                again[1].append(issue)
            else:
                runs.append((mark, [issue]))
        if not runs:
            yield TakenSheet(sheet, self.place(row), sheet.stage != Stage.SUPERSEDED)
        self.flag_marks(sheet, [mark for mark, _ in runs], row)
        for number, (mark, issues) in enumerate(runs, 1):
            own = replace(sheet, revision=mark, date=issues[0].written)
            days = tuple(issue.said for issue in issues)
            yield TakenSheet(own, self.place(row), number == len(runs) and sheet.stage != Stage.SUPERSEDED, days)

    def flag_marks(self, sheet: Sheet, marks: Sequence[str], row: TableRow) -> None:
        """What is strange in the marks of one sheet, which stand in the order of issue."""
        for mark in marks:
            if _TICK.fullmatch(mark) or state_words(mark, True, self.head.ours):
                text = f"{sheet.name}: {mark} under a date of issue is no mark of a revision; kept as written."
                self.flags.append(Fault("no revision mark", Severity.WARNING, sheet.number, text, self.place(row)))
                return
        for before, after in pairwise(marks):
            for said in order_marks([before, after]).flags:
                missed = said.removesuffix(" not seen")
                if missed != said:
                    text = f"{sheet.name}: {missed} between {before} and {after} was never issued here."
                    self.flags.append(Fault("revision not seen", Severity.WARNING, sheet.number, text, self.place(row)))
        order = order_marks(marks)
        if order.sure and list(order.ordered) != [plain_mark(mark) for mark in marks]:
            text = f"{sheet.name}: by date {', '.join(marks)}, against the marks."
            self.flags.append(Fault("marks against dates", Severity.WARNING, sheet.number, text, self.place(row)))

    def keep(self, taken: TakenSheet, row: TableRow) -> None:
        sheet = taken.sheet
        named = folded(sheet.sheet) if self.head.ours else number_key(sheet.sheet)
        key = (folded(sheet.number), named, plain_mark(sheet.revision))
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
