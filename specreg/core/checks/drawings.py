"""Drawings: called up and registered, approved before anything is made, signed by different people."""

from __future__ import annotations

import re
from collections.abc import Iterator

from specreg.core.faults import Fault, Severity
from specreg.core.model import STAGES_TO_MAKE_BY, Item, Stage
from specreg.core.numbering import number_key
from specreg.core.paper import sheet_size
from specreg.core.picture import Picture

_UNCALLED = ("general arrangement", "arrangement", "diagram", "scheme", "outline", "foundation", "loading", "reference")
_CLEARED_TO_MAKE = "make"


def clearance_of(item: Item, picture: Picture) -> str:
    """What an item may be used for: hold, material only or make; the house says what a blank means."""
    return (item.clearance or picture.standards.house.clearance).strip().lower()


def called_drawings_registered(picture: Picture) -> Iterator[Fault]:
    """A live item calls up only drawings that stand in the register."""
    for item in picture.lines:
        for call in picture.calls.get(number_key(item.number), ()):
            if not call.sheets:
                yield Fault(
                    "drawing not registered",
                    Severity.STOP,
                    item.number,
                    f"{item.number} {item.title} calls up {call.written}, which is not in the drawing register; "
                    "enter the drawing, or put the number right.",
                )


def made_from_approved_drawings(picture: Picture) -> Iterator[Fault]:
    """Nothing cleared to make stands on a sheet that is not approved."""
    for item in picture.lines:
        if clearance_of(item, picture) != _CLEARED_TO_MAKE:
            continue
        for call in picture.calls.get(number_key(item.number), ()):
            for sheet in call.sheets:
                if not sheet.may_be_made_from:
                    yield Fault(
                        "drawing not approved",
                        Severity.STOP,
                        item.number,
                        f"{item.number} {item.title} is cleared to make from {sheet.name} "
                        f"rev {sheet.revision or '(none)'}, which stands at '{sheet.stage or 'no stage'}'; "
                        "get it approved, or clear the item for hold or material only.",
                    )


def made_from_a_drawing(picture: Picture) -> Iterator[Fault]:
    """An item that the works make has a drawing, or says that none is needed."""
    for item in picture.lines:
        made = item.supply.strip().lower() == "make"
        if made and not item.drawing and clearance_of(item, picture) == _CLEARED_TO_MAKE:
            yield Fault(
                "no drawing",
                Severity.ERROR,
                item.number,
                f"{item.number} {item.title} is to be made and names no drawing; name one, or write 'none needed'.",
            )


def listed_drawings_called(picture: Picture) -> Iterator[Fault]:
    """A drawing on the list that no item calls up is a forgotten item or a drawing too many."""
    called = {sheet.number for calls in picture.calls.values() for call in calls for sheet in call.sheets}
    told: set[str] = set()
    for sheet in picture.sheets:
        if sheet.number in called or sheet.number in told or sheet.stage in (Stage.NOT_USED, Stage.CANCELLED):
            continue
        told.add(sheet.number)
        words = f"{sheet.title} {sheet.remarks}".lower()
        if not any(word in words for word in _UNCALLED):
            yield Fault(
                "drawing called up by nothing",
                Severity.WARNING,
                sheet.number,
                f"{sheet.number} {sheet.title} is on the drawing list and no item calls it up.",
            )


def sheets_signed(picture: Picture) -> Iterator[Fault]:
    """An approved sheet was drawn, checked and approved by different people."""
    for sheet in picture.sheets:
        if sheet.stage not in STAGES_TO_MAKE_BY:
            continue
        signed = [_initials(text) for text in (sheet.drawn, sheet.checked, sheet.approved)]
        given = [name for name in signed if name and name != "NOT RECORDED"]
        if "" in signed:
            wanting = ", ".join(
                label for label, name in zip(("drawn", "checked", "approved"), signed, strict=True) if not name
            )
            yield Fault(
                "sheet not signed",
                Severity.WARNING,
                sheet.number,
                f"{sheet.name} stands at '{sheet.stage}' and does not say by whom it was {wanting}; "
                "name them, or write 'not recorded' for legacy work.",
            )
        if len(set(given)) < len(given):
            yield Fault(
                "one person signed twice",
                Severity.ERROR,
                sheet.number,
                f"{sheet.name} was drawn, checked and approved by {', '.join(signed)}; these must be different people.",
            )


def _initials(text: str) -> str:
    """Who signed, from `H.P. 2026-02-25` or `H.P.`: what stands before the first figure."""
    return re.split(r"[0-9]", text, maxsplit=1)[0].strip(" ,").upper()


def sheets_complete(picture: Picture) -> Iterator[Fault]:
    """Of a drawing of so many sheets, so many are listed."""
    by_number: dict[str, list[tuple[str, str]]] = {}
    for sheet in picture.sheets:
        by_number.setdefault(sheet.number, []).append((sheet.sheet, sheet.of))
    for number, sheets in by_number.items():
        stated = {int(of) for _, of in sheets if of.isdecimal()}
        if stated and len(sheets) != max(stated):
            yield Fault(
                "sheets missing",
                Severity.ERROR if len(sheets) > max(stated) else Severity.WARNING,
                number,
                f"{number} is said to have {max(stated)} sheets and {len(sheets)} are listed.",
            )


def sheet_sizes_known(picture: Picture) -> Iterator[Fault]:
    """A stated sheet size is one that is known (ISO 216 and 5457, American and old British sizes)."""
    for sheet in picture.sheets:
        if sheet.size and sheet_size(sheet.size) is None:
            yield Fault(
                "sheet size not known", Severity.NOTE, sheet.number, f"{sheet.name}: size '{sheet.size}' is not known."
            )


DRAWINGS = (
    called_drawings_registered,
    made_from_approved_drawings,
    made_from_a_drawing,
    listed_drawings_called,
    sheets_signed,
    sheets_complete,
    sheet_sizes_known,
)
