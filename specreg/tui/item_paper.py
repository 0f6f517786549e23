"""An item as a sheet: fields and what they were, number off with working, weight, text, drawings, route, history."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rich.cells import cell_len

from specreg.core.model import STAGES_TO_MAKE_BY
from specreg.services.readings import ItemSheet, SaidLine, SheetLine, StepLine
from specreg.tui.columns import Column, Row
from specreg.tui.item_rows import note_name
from specreg.tui.labelled import LABEL, WIDEST, WIDEST_TEXT, labelled, spaced, table
from specreg.tui.passages import Part
from specreg.tui.pieces import Line, Piece, line, width_of, wrapped, wrapped_line
from specreg.tui.signs import role_of, words_of

if TYPE_CHECKING:
    from specreg.core.item_reckoning import Saying

CAUTION = "Safety item: competent persons, the inspecting authority and local codes decide."

NOT_RECKONED = "not reckoned"
UNREGISTERED = "! not in the register"


def item_lines(sheet: ItemSheet, width: int) -> tuple[Part, ...]:
    """The whole sheet, each line at most `width` cells; a drawing of the register is a passage by its number."""
    room = min(width, WIDEST)
    blocks: list[Sequence[Part]] = [
        _standing(sheet, room),
        # The number off stays with the fields.
        [*_fields(sheet, room), *_number_off(sheet, room)],
        _reckoned(sheet, room),
        labelled("Placed", tuple(map(Piece, sheet.placed)), room) if sheet.placed else [],
        labelled("Text", (Piece(sheet.text),), min(room, WIDEST_TEXT)) if sheet.text else [],
        table("Drawings", (_drawing(one) for one in sheet.sheets), DRAWING_COLUMNS, room),
        _route(sheet, room),
        _basis(sheet, room),
        table("History", (_said(one) for one in sheet.history), HISTORY_COLUMNS, room),
    ]
    return spaced(blocks)


def _standing(sheet: ItemSheet, width: int) -> list[Line]:
    """What must be known before anything else: deleted or reserved, the caution of a safety item."""
    lines: list[Line] = []
    if sheet.state not in ("", "live"):
        why = f"{sheet.state}: {sheet.reason}" if sheet.reason else sheet.state
        by = f" ({note})" if (note := note_name(sheet.note)) else ""
        sign = "- " if sheet.state == "deleted" else "· "
        lines += [line(Piece(one, "deleted")) for one in wrapped(f"{sign}{why[:1].upper()}{why[1:]}{by}", width)]
    if sheet.safety:
        lines += [line(Piece(one, "safety")) for one in wrapped(f"§ {CAUTION}", width)]
    return lines


def _fields(sheet: ItemSheet, width: int) -> list[Line]:
    """The fields in order; a field altered since the last issue says what it was."""
    lines: list[Line] = []
    said = dict(sheet.fields)
    for label, text in sheet.fields:
        lines += _field(label, text, sheet.was.get(label), width)
    for label, was in sheet.was.items():
        if label not in said:
            lines += _field(label, "", was, width)
    return lines


def _field(label: str, text: str, was: str | None, width: int) -> list[Line]:
    if was is None:
        return labelled(label, (Piece(text),), width)
    old = f"was {was}" if was else "new"
    now = text or "no longer said"
    role = role_of("»")
    head, room = Piece(f"{label:<{LABEL - 1}} ", "caption"), width - LABEL
    if cell_len(now) + 5 + cell_len(old) <= room and "\n" not in now + old:
        return [(head, Piece("» ", role), Piece(now, "text"), Piece(f"   {old}", "quiet"))]
    return labelled(label, (Piece(f"» {now}", role), Piece(old, "quiet")), width)


def _number_off(sheet: ItemSheet, width: int) -> list[Line]:
    """The whole number off and how it was reckoned, which ends in it."""
    if sheet.kind != "item" or not (sheet.off or sheet.working):
        return []
    working = sheet.working or sheet.off or NOT_RECKONED
    whole = working.rsplit(" = ", 1)
    if len(whole) == 2 and cell_len(working) + LABEL <= width:
        return [line(Piece(f"{'Number off':<{LABEL - 1}} ", "caption"), f"{whole[0]} = ", Piece(whole[1], "text"))]
    return labelled("Number off", (Piece(working, "text"),), width)


def _reckoned(sheet: ItemSheet, width: int) -> list[Line]:
    """What it weighs and measures, the caution under it."""
    if sheet.reckoned is None:
        return []
    # Dear to load: here it is loaded already by the reader that reckoned, in its thread.
    from specreg.core.item_reckoning import told

    lines: list[Line] = []
    for one in told(sheet.reckoned):
        pieces = tuple(map(_saying, one.sayings))
        lines += labelled(one.label, pieces, width) if one.label else wrapped_line(pieces, width)
    return lines


def _basis(sheet: ItemSheet, width: int) -> list[Line]:
    """What its weight rests on: for him who doubts it, so it stands after what is to be done."""
    if sheet.reckoned is None:
        return []
    from specreg.core.item_reckoning import told_of_basis

    one = told_of_basis(sheet.reckoned)
    return labelled(one.label, tuple(map(_saying, one.sayings)), min(width, WIDEST_TEXT)) if one else []


def _saying(said: Saying) -> Piece:
    return Piece(str(said), role_of(said.sign) if said.sign else "quiet" if said.aside else "")


DRAWING_COLUMNS = (
    Column("", 14, 9, whole=True),
    Column("", 34, 12, gives=1, grows=1),
    Column("", 6, 6),
    Column("", 18, 12, fills=2),
)


def _drawing(sheet: SheetLine) -> Row:
    if not sheet.registered:
        return Row("", (line(sheet.written), (Piece(UNREGISTERED, "stop"),)))
    revision = f"rev {sheet.revision}" if sheet.revision else "rev –"
    fit_to_make = sheet.stage in STAGES_TO_MAKE_BY
    stage = (Piece(sheet.stage),) if fit_to_make else (Piece("~ ", "warning"), Piece(sheet.stage or "no stage known"))
    return Row(sheet.name, (line(sheet.written or sheet.name), line(sheet.title), line(revision), stage))


LONGEST_NAME, LONGEST_OPERATION = 30, 24


def _route_columns(rows: Sequence[Row]) -> tuple[Column, ...]:
    """Step, department, operation, off, rule; names and operations get what they need before the rule does."""
    name, operation, off = (max(width_of(row.cells[at]) for row in rows) for at in (1, 2, 3))
    return (
        Column("", 2, 2, right=True),
        Column("", min(LONGEST_NAME, max(12, name)), 12, grows=1),
        Column("", min(LONGEST_OPERATION, max(9, operation)), 9, grows=1),
        Column("", max(7, off), 7, right=True),
        Column("", 30, 12, grows=3),
    )


def _route(sheet: ItemSheet, width: int) -> Sequence[Part]:
    if sheet.no_action:
        return labelled("Route", (Piece(f"No department acts on it: {sheet.no_action}"),), width)
    if not sheet.route:
        if sheet.kind != "item" or sheet.state not in ("", "live"):
            return []
        return labelled("Route", (Piece("! not allocated: no rule gives it a route", "stop"),), width)
    rows = [_step(one) for one in sheet.route]
    return table("Route", rows, _route_columns(rows), width)


def _step(step: StepLine) -> Row:
    name = step.name or step.department
    off = f"{step.off} off" if step.off else ""
    return Row("", (line(f"{step.step}"), line(name), line(step.operation), line(off),
                    (Piece(step.because, "quiet"),)))  # fmt: skip


HISTORY_COLUMNS = (
    Column("", 4, 4),
    Column("", 11, 10),
    Column("", 9, 8),
    Column("", 40, 20, grows=1),
)


def _said(said: SaidLine) -> Row:
    is_open = said.revision == "open"
    note = f"note {said.note}" if said.note else ""
    return Row("", ((Piece(said.revision, "altered" if is_open else "text"),), line(said.date), line(note),
                    line(said.change)))  # fmt: skip


def standing_of(sheet: ItemSheet) -> Line:
    """What stands at the right of the sheet's head: altered, added or deleted, and by which open note or revision."""
    words = {"+": "added", "»": "altered", "-": "deleted"}.get(sheet.sign)
    if words is None:
        said = words_of(sheet.sign).partition(":")[0]
        return (Piece(f"{sheet.sign} ", role_of(sheet.sign)), Piece(said)) if said else ()
    issued = sheet.history[-1].revision if sheet.history else ""
    by = f" by {note}" if (note := note_name(sheet.note)) else f" in rev {issued}" if issued else ""
    return (Piece(f"{sheet.sign} ", role_of(sheet.sign)), Piece(f"{words}{by}"))
