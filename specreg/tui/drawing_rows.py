"""The drawing list as rows: sheet, title, revision, stage, days and persons, how many items call it up."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from specreg.core.counts import grouped, so_many
from specreg.core.model import Sheet, Stage
from specreg.core.programme import NOT_WANTED, days_late
from specreg.services.drawing_readings import DrawingLine
from specreg.tui.columns import Column, Row
from specreg.tui.pieces import Line, Piece, line
from specreg.tui.signs import role_of

ALL, NOT_TO_MAKE_BY, NOT_CALLED = 1, 2, 3
VIEWS: Mapping[int, str] = {ALL: "all", NOT_TO_MAKE_BY: "not to make by", NOT_CALLED: "not called up"}
"""What each view of the list is called."""


def columns_of(view: int) -> tuple[Column, ...]:
    """The columns of a view. Who drew, checked and approved a sheet stands there only on a wide screen.

    On a narrow one the title needs the room of a day: of what is not to make by the day planned stays, else the day of
    the revision.
    """
    to_come = view == NOT_TO_MAKE_BY
    return (
        Column(" ", 1, 1),
        Column("Drawing", 12, 9, whole=True, fills=2),
        Column("Title", 36, 28, fills=1, grows=1),
        Column("Rev", 4, 3),
        Column("Stage", 10, 8),
        Column("Date", 10, 10, gives=3 if to_come else 2),
        Column("Planned", 10, 10, gives=2 if to_come else 3),
        Column("Called", 6, 6, gives=1, right=True),
        Column("Drawn", 15, 15, late=True),
        Column("Checked", 15, 15, late=True),
        Column("Approved", 15, 15, late=True),
    )


NOTHING: Mapping[int, str] = {
    ALL: "No drawing stands on the list yet.",
    NOT_TO_MAKE_BY: "Every sheet on the list may be made from.",
    NOT_CALLED: "Every sheet on the list is called up by an item.",
}
"""What a view says when no sheet stands in it."""


@dataclass(frozen=True, slots=True)
class DrawingList:
    """The list ready to be shown: the rows of each view, of which drawing each sheet is, what is said of the whole."""

    rows: Mapping[int, tuple[Row, ...]]
    drawing_of: Mapping[str, str]
    summary: Line

    def row_of(self, view: int, number: str) -> int:
        """The first row of a drawing in a view; -1 when it has none."""
        return next((at for at, row in enumerate(self.rows[view]) if self.drawing_of[row.key] == number), -1)


def is_late(sheet: Sheet, today: date) -> bool:
    """Whether the day planned for it has gone by and it is still not to be made from."""
    return days_late(sheet, today) > 0


def is_cancelled_and_called(drawing: DrawingLine) -> bool:
    """Whether its number was given up while items still call it up."""
    return drawing.sheet.stage == Stage.CANCELLED and drawing.called > 0


def drawing_list(drawings: Sequence[DrawingLine], today: date) -> DrawingList:
    """The rows of every view, keyed by the sheet, and the sums of the whole list."""
    rows = [_row(drawing, today) for drawing in drawings]
    both = list(zip(drawings, rows, strict=True))
    return DrawingList(
        {
            ALL: tuple(rows),
            NOT_TO_MAKE_BY: tuple(row for drawing, row in both if not drawing.sheet.may_be_made_from),
            NOT_CALLED: tuple(row for drawing, row in both if not drawing.called),
        },
        {drawing.sheet.name: drawing.sheet.number for drawing in drawings},
        _summary(drawings, today),
    )


def _row(drawing: DrawingLine, today: date) -> Row:
    sheet = drawing.sheet
    sign = "!" if is_cancelled_and_called(drawing) else "~" if is_late(sheet, today) else ""
    said = (sheet.title, sheet.revision, sheet.stage, sheet.date, sheet.planned)
    persons = (sheet.drawn, sheet.checked, sheet.approved)
    called = grouped(drawing.called) if drawing.called else "–"
    return Row(
        sheet.name,
        ((Piece(sign, role_of(sign)),), (Piece(sheet.name, "" if sheet.stage in NOT_WANTED else "text"),),
         *(line(text) for text in (*said, called, *persons))),
        "quiet" if sheet.stage in NOT_WANTED else "ink",
    )  # fmt: skip


def _summary(drawings: Sequence[DrawingLine], today: date) -> Line:
    """How many drawings are approved or issued with all their sheets, as the desk counts them; what is out of order."""
    if not drawings:
        return ()
    whole: dict[str, bool] = {}
    for drawing in drawings:
        whole[drawing.sheet.number] = whole.get(drawing.sheet.number, True) and drawing.sheet.may_be_made_from
    late = sum(is_late(one.sheet, today) for one in drawings)
    cancelled = sum(is_cancelled_and_called(one) for one in drawings)
    done = f"{grouped(sum(whole.values()))} of {so_many(len(whole), 'drawing')} approved or issued"
    return (
        Piece(done, "text"),
        *_counted("~", late, "late"),
        *_counted("!", cancelled, "cancelled, called up"),
    )


def _counted(sign: str, count: int, words: str) -> Line:
    return (
        (Piece(" · ", "frame"), Piece(f"{sign} ", role_of(sign)), Piece(f"{grouped(count)} {words}")) if count else ()
    )


def numbers_of(drawings: Iterable[DrawingLine]) -> tuple[str, ...]:
    """The numbers of the drawings in the order of the list, each once."""
    return tuple(dict.fromkeys(one.sheet.number for one in drawings))
