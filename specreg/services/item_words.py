"""An item in words for reading: its sheet, its number off as a list shows it, what changed in it."""

from __future__ import annotations

from specreg.core.comparing import field_changes
from specreg.core.model import FIELDS, Item, NumberOff, Route, Sheet, State
from specreg.core.quantities import ORDER, OffKind, parse_off
from specreg.core.route_notation import numbered
from specreg.core.standards import Standards
from specreg.core.word_changes import was_and_now
from specreg.services.readings import ItemSheet, SheetLine, StepLine


def item_sheet(
    item: Item,
    route: Route,
    total: NumberOff | None,
    sheets: dict[str, tuple[Sheet, ...]],
    standards: Standards,
    section_title: str,
) -> ItemSheet:
    """An item with its route, its number off and its drawings, laid out for reading."""
    shown = numbered(route, total) if total is not None else route
    return ItemSheet(
        number=item.number,
        title=item.title,
        text=item.text,
        kind=item.kind.value,
        state=item.state.value,
        reason=item.reason,
        section=item.section,
        section_title=section_title,
        fields=tuple(item.said()),
        was={},
        off=_total_in_words(total),
        working=total.working if total else "",
        sheets=tuple(_sheet_lines(item, sheets)),
        route=tuple(
            StepLine(
                step.place,
                step.department,
                _department_name(standards, step.department),
                step.operation,
                "as required" if step.off is None else f"{step.off}+{step.extra}" if step.extra else str(step.off),
                step.because,
            )
            for step in shown.steps
        ),
        no_action=route.no_action,
        history=(),
        note="",
        sign="",
        safety=bool(item.safety),
    )


def _sheet_lines(item: Item, sheets: dict[str, tuple[Sheet, ...]]) -> list[SheetLine]:
    told: list[SheetLine] = []
    for written in item.drawings:
        meant = sheets.get(written, ())
        if not meant:
            told.append(SheetLine(written, "", "", "", "not in the register", False))
        told += [SheetLine(written, one.name, one.title, one.revision, one.stage, True) for one in meant]
    return told


def _department_name(standards: Standards, code: str) -> str:
    found = standards.department(code)
    return found.name if found else code


def _total_in_words(total: NumberOff | None) -> str:
    if total is None:
        return ""
    return str(total.off) if total.off is not None else total.written


def off_as_listed(item: Item) -> str:
    """As a parts list shows it: the number by itself where the item has one parent or is per machine, else in words."""
    if not item.off:
        return ""
    said = parse_off(item.off, item.per)
    if said.problem or said.kind is not OffKind.COUNT or len(said.links) != 1:
        return item.off
    (link,) = said.links
    return f"{link.number} an order" if link.per == ORDER else str(link.number)


def sign_of(before: Item | None, after: Item) -> str:
    """`+` new or live again, `-` deleted, `»` altered, empty where it says what it said."""
    if before is None or (before.state is not State.LIVE and after.state is State.LIVE):
        return "+"
    if after.state is State.DELETED and before.state is not State.DELETED:
        return "-"
    return "»" if before != after else ""


def change_in_words(before: Item | None, after: Item) -> str:
    """What an item says anew, in one line."""
    if before is None:
        return (
            "as first issued"
            if after.state is State.LIVE
            else f"entered and {after.state.value} before its first issue"
        )
    if before.state is not after.state:
        if after.state is State.LIVE:
            return "live again"
        return f"{after.state.value}: {after.reason}"
    labels = {field.label for field in FIELDS}
    told = [
        was_and_now(one.label, one.old, one.new) if one.label in labels else f"{one.label} altered"
        for one in field_changes(before, after)
    ]
    return "; ".join(told) or "written otherwise"
