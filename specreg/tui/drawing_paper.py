"""A drawing as a sheet of its own: what it is, its sheets, who calls it up, all that the register said of it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from specreg.core.counts import so_many
from specreg.core.model import Sheet, Stage
from specreg.core.programme import NOT_WANTED
from specreg.services.drawing_readings import CalledBy, DrawingPage, SheetSaid
from specreg.tui.columns import Column, Row, fit
from specreg.tui.drawing_rows import is_late
from specreg.tui.labelled import WIDEST, in_rows, inset_of, labelled, spaced, table
from specreg.tui.passages import Part
from specreg.tui.pieces import Line, Piece, line, wrapped

WIDE = 130
"""Cells from which on the persons stand in the line of their sheet, and not under it."""

NOT_CALLED = "no item calls it up"

_FIELDS = (("Size", "size"), ("Scale", "scale"), ("Hand", "hand"), ("Replaces", "replaces"), ("Group", "group"),
           ("Remarks", "remarks"))  # fmt: skip
_PERSONS = (("drawn", "drawn"), ("checked", "checked"), ("approved", "approved"))
_SAID = (("Revision", "revision"), ("Stage", "stage"), ("Date", "date"), ("Title", "title"), ("Drawn", "drawn"),
         ("Checked", "checked"), ("Approved", "approved"), ("Planned", "planned"), ("Machines", "machines"),
         ("Of", "of"), *_FIELDS)  # fmt: skip


def title_of(page: DrawingPage) -> str:
    """The title of the whole drawing: that of its one sheet, or the words in which the titles of all begin."""
    titles = list(dict.fromkeys(sheet.title for sheet in page.sheets))
    if len(titles) < 2:
        return "".join(titles)
    words = [title.split() for title in titles]
    same = 0
    while all(len(one) > same and one[same].rstrip(",;:") == words[0][same].rstrip(",;:") for one in words):
        same += 1
    return " ".join(words[0][:same]).rstrip(" ,;:-–") or titles[0]


def drawing_parts(page: DrawingPage, today: date, width: int) -> tuple[Part, ...]:
    """The whole sheet, each line at most `width` cells; an item that calls it up is a passage by its number."""
    room = min(width, WIDEST)
    return spaced((
        _warnings(page, today, room),
        _fields(page.sheets, room),
        _sheets(page, room),
        _called_by(page.called_by, room),
        _register(page, room),
        labelled("Other orders", (Piece(", ".join(page.other_orders)),), room) if page.other_orders else [],
    ))  # fmt: skip


def _warnings(page: DrawingPage, today: date, width: int) -> list[Line]:
    """Sheets that may not be made from, with their stage; those still called up though cancelled; those late."""
    by_stage: dict[str, list[str]] = {}
    for sheet in page.sheets:
        if not sheet.may_be_made_from:
            by_stage.setdefault(sheet.stage or "stage not known", []).append(sheet.name)
    said: list[Piece] = []
    if by_stage:
        which = "; ".join(f"{', '.join(names)} ({stage})" for stage, names in by_stage.items())
        said.append(Piece(f"~ Not to be made from: {which}.", "warning"))
    cancelled = [sheet.name for sheet in page.sheets if sheet.stage == Stage.CANCELLED]
    if cancelled and page.called_by:
        still = f"{so_many(len(page.called_by), 'item')} still {'calls' if len(page.called_by) == 1 else 'call'} it up"
        said.insert(0, Piece(f"! Cancelled: {', '.join(cancelled)}; {still}.", "stop"))
    said += [
        Piece(f"~ Late: {sheet.name} was planned for {sheet.planned}.", "warning")
        for sheet in page.sheets
        if is_late(sheet, today)
    ]
    return [line(Piece(text, one.role)) for one in said for text in wrapped(one.text, width)]


def _fields(sheets: Sequence[Sheet], width: int) -> list[Line]:
    """What the drawing is; where its sheets differ, which says what."""
    lines: list[Line] = []
    for label, name in _FIELDS:
        by_text: dict[str, list[str]] = {}
        for sheet in sheets:
            by_text.setdefault(getattr(sheet, name), []).append(sheet.sheet or sheet.name)
        if len(by_text) > 1:
            said = [f"{text} (sheet{'s' * (len(those) > 1)} {', '.join(those)})"
                    for text, those in by_text.items() if text]  # fmt: skip
        else:
            said = [text for text in by_text if text]
        if said:
            lines += labelled(label, (Piece("; ".join(said)),), width)
    return lines


_SHEET_COLUMNS = (
    Column("", 10, 9, whole=True),
    Column("", 24, 12, grows=1),
    Column("", 7, 6),
    Column("", 10, 10),
    Column("", 10, 10, gives=1),
)
_WIDE_SHEET_COLUMNS = (*_SHEET_COLUMNS, Column("", 76, 40, grows=1))


def _sheets(page: DrawingPage, width: int) -> list[Part]:
    """A line a sheet: revision, stage, day; beside it or under it the persons by stage, the plan, the machines."""
    title = title_of(page)
    if width >= WIDE:
        room = fit(_WIDE_SHEET_COLUMNS, width - inset_of(width))[-1]
        rows = [
            Row("", (*_sheet(sheet, title), (Piece("\n".join(in_rows(_persons(sheet), room)), "quiet"),)))
            for sheet in page.sheets
        ]
        return table("Sheets", rows, _WIDE_SHEET_COLUMNS, width)
    inset = inset_of(width) + 2
    parts: list[Part] = []
    for sheet in page.sheets:
        parts += table("" if parts else "Sheets", [Row("", _sheet(sheet, title))], _SHEET_COLUMNS, width)
        for row in in_rows(_persons(sheet), width - inset):
            parts += [line(" " * inset, Piece(text, "quiet")) for text in wrapped(row, width - inset)]
    return parts


def _sheet(sheet: Sheet, title: str) -> tuple[Line, ...]:
    """Name, its own part of the title, revision, stage, day."""
    own = sheet.title.removeprefix(title).lstrip(" ,;:-–") or sheet.title
    revision = f"rev {sheet.revision}" if sheet.revision else "no rev"
    stage = sheet.stage or "not known"
    fit = sheet.may_be_made_from or sheet.stage in NOT_WANTED
    return (
        (Piece(sheet.name, "text"),),
        line(own),
        line(revision),
        (Piece(stage),) if fit else (Piece("~ ", "warning"), Piece(stage)),
        line(sheet.date),
    )


def _persons(sheet: Sheet) -> list[str]:
    said = [f"{label} {text}" for label, name in _PERSONS if (text := getattr(sheet, name))]
    said += [f"planned {sheet.planned}"] if sheet.planned else []
    said += [f"machines {sheet.machines}"] if sheet.machines else []
    return said


_CALLED_COLUMNS = (
    Column("", 10, 9, whole=True),
    Column("", 1, 1),
    Column("", 34, 16, grows=2),
    Column("", 14, 9, gives=2, fills=1),
    Column("", 20, 15, gives=1, grows=1),
)


def _called_by(called_by: Sequence[CalledBy], width: int) -> Sequence[Part]:
    if not called_by:
        return labelled("Called up by", (Piece(NOT_CALLED, "quiet"),), width)
    return table("Called up by", (_caller(one) for one in called_by), _CALLED_COLUMNS, width)


def _caller(item: CalledBy) -> Row:
    safety = (Piece("§", "safety"),) if item.safety else ()
    return Row(item.number, ((Piece(item.number, "text"),), safety, line(item.title), line(item.written),
                             (Piece(" ".join(item.departments), "quiet"),)))  # fmt: skip


_REGISTER_COLUMNS = (
    Column("", 10, 10),
    Column("", 12, 9, whole=True),
    Column("", 7, 6, gives=1),
    Column("", 40, 20, grows=1),
)


def _register(page: DrawingPage, width: int) -> list[Part]:
    """Everything the register said, the last first, and what changed from the entry before about the same sheet."""
    rows: list[Row] = []
    for at, said in enumerate(page.said):
        before = next((one for one in page.said[at + 1 :] if one.sheet.name == said.sheet.name), None)
        revision = f"rev {said.sheet.revision}" if said.sheet.revision else "no rev"
        rows.append(Row("", (line(said.entered_on), line(said.sheet.name), line(revision),
                             line(changes_in_words(before, said)))))  # fmt: skip
    return table("Register", rows, _REGISTER_COLUMNS, width)


def changes_in_words(before: SheetSaid | None, said: SheetSaid) -> str:
    """What an entry changed: `Revision - → A; Stage drawn → issued`; of a first entry its stage."""
    if before is None:
        return f"first entered, {said.sheet.stage}" if said.sheet.stage else "first entered"
    told = []
    for label, name in _SAID:
        old, new = getattr(before.sheet, name), getattr(said.sheet, name)
        if old != new:
            told.append(f"{label} {old} → {new}" if old and new else f"{label} {new or f'no longer said, was {old}'}")
    return "; ".join(told) or "entered again, nothing changed"
