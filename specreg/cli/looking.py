"""show and history."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import TYPE_CHECKING

import click

from specreg.cli.main import Run
from specreg.cli.output import as_json, data, to_thousandths
from specreg.core.errors import NotFound
from specreg.core.model import Note, Sheet
from specreg.services.readings import ItemSheet, SaidLine

if TYPE_CHECKING:
    from specreg.core.item_reckoning import ItemReckoned


@click.command()
@click.argument("number")
@click.option("--at", default="", metavar="REVISION", help="As this revision said it.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def show(run: Run, number: str, at: str, json_: bool) -> None:
    """Everything said of an item, or of a drawing, by its number."""
    from specreg.services.entering import called_up_by, sheets_of_drawing
    from specreg.services.reading import OfficeReader

    office = run.open(read_only=True)
    reader = OfficeReader(office)
    revision = office.revision(at) if at else None
    try:
        sheet = reader.item_at(number, revision) if revision else reader.item(number)
    except NotFound as error:
        try:
            sheets = sheets_of_drawing(office, number, revision)
        except NotFound:
            sheets = []
        if not sheets:
            raise NotFound(error.asked.replace("Item", "Item or drawing", 1), error.why, error.do) from error
        _show_drawing(number, sheets, called_up_by(office, number), json_)
        return
    if json_:
        as_json(_item_record(sheet, office.order_no))
    else:
        _tell_item(sheet)


def _item_record(sheet: ItemSheet, order: str) -> dict[str, object]:
    return {
        "order": order,
        "number": sheet.number,
        "title": sheet.title,
        "text": sheet.text,
        "kind": sheet.kind,
        "state": sheet.state,
        "fields": dict(sheet.fields),
        "was": sheet.was,
        "off": sheet.off,
        "working": sheet.working,
        "drawings": [
            {"written": one.written, "number": one.name, "title": one.title, "revision": one.revision,
             "stage": one.stage}
            for one in sheet.sheets
        ],
        "route": [
            {"step": one.step, "department": one.department, "operation": one.operation, "off": one.off,
             "because": one.because}
            for one in sheet.route
        ],
        "no_action": sheet.no_action,
        "note": sheet.note,
        "history": _history(sheet.history),
        "placed": list(sheet.placed),
        **(_reckoned_record(sheet.reckoned) if sheet.reckoned is not None else {}),
    }  # fmt: skip


def _history(told: Iterable[SaidLine]) -> list[dict[str, str]]:
    return [{"revision": one.revision, "date": one.date, "note": one.note, "change": one.change} for one in told]


def _reckoned_record(reckoned: ItemReckoned) -> dict[str, object]:
    """Weights in kg and lengths in mm as the take-off names them; null where there is none, or none that is added."""
    from specreg.core.stock.records import MassOfOne

    taken, kept, allowed = reckoned.taken, reckoned.kept, reckoned.allowances
    one = taken.one if isinstance(taken.one, MassOfOne) else None
    return {
        "length_mm": to_thousandths(taken.length),
        "total_length_mm": to_thousandths(reckoned.length_of_all),
        "mass_kg": to_thousandths(one.mass if one else None),
        "total_kg": to_thousandths(taken.mass),
        "to_order_kg": to_thousandths(taken.to_order),
        "yield": to_thousandths(kept if isinstance(kept, Fraction) else None),
        "parts_kg": to_thousandths(taken.parts or None),
        "parts_without": taken.parts_without,
        "standing": taken.standing.value,
        "basis": taken.basis,
        "doubts": list(one.doubts) if one else [],
        "machining_allowance": allowed.machining if allowed else "",
        "contraction": allowed.contraction if allowed else "",
    }


def _tell_item(sheet: ItemSheet) -> None:
    state = "" if sheet.state == "live" else f"  [{sheet.state}: {sheet.reason}]"
    data(f"{sheet.number}  {sheet.title}{state}")
    data(f"  in section {sheet.section} {sheet.section_title}")
    if sheet.safety:
        data("  § safety item: competent persons, the inspecting authority and local codes decide")
    for line in sheet.text.splitlines():
        data(f"  {line}")
    for label, text in sheet.fields:
        was = f"   was {sheet.was[label] or 'blank'}" if label in sheet.was else ""
        data(f"  {label + ':':<14}{text}{was}")
    if sheet.off:
        data(f"  {'Number off:':<14}{sheet.off}" + (f"   {sheet.working}" if sheet.working else ""))
    _tell_reckoned(sheet)
    for words in sheet.placed:
        data(f"  {'Placed:':<14}{words}")
    for one in sheet.sheets:
        sign = " " if one.registered else "!"
        data(f"  {'Drawing:':<14}{sign} {one.written}  {one.title}  rev {one.revision or '(none)'}  {one.stage}")
    for step in sheet.route:
        data(
            f"  {'Step ' + str(step.step) + ':':<14}{step.name}, {step.operation} {step.off}   because: {step.because}"
        )
    if sheet.no_action:
        data(f"  {'No action:':<14}{sheet.no_action}")
    if sheet.note:
        note = Note(sheet.note)
        data(f"  {'stands in' if note.is_compilation else 'altered under'} {note.name}, not yet issued")
    for said in sheet.history:
        data(f"  {said.revision:<6}{said.date:<12}{('note ' + said.note) if said.note else '':<10}{said.change}")


def _tell_reckoned(sheet: ItemSheet) -> None:
    if sheet.reckoned is None:
        return
    from specreg.core.item_reckoning import told, told_of_basis

    basis = told_of_basis(sheet.reckoned)
    for one in (*told(sheet.reckoned), *((basis,) if basis else ())):
        label = f"{one.label}:" if one.label else ""
        for at, saying in enumerate(one.sayings):
            data(f"  {'' if at else label:<14}{saying}")


def _show_drawing(number: str, sheets: list[Sheet], called: list[tuple[str, str, str, str]], json_: bool) -> None:
    if json_:
        as_json(
            {
                "number": number,
                "sheets": [
                    {"number": one.number, "sheet": one.sheet, "title": one.title, "revision": one.revision,
                     "stage": one.stage}
                    for one in sheets
                ],
                "called_up_by": [
                    {"order": order, "number": item, "title": title, "written": written}
                    for order, item, title, written in called
                ],
            }
        )  # fmt: skip
        return
    for one in sheets:
        data(
            f"{one.name}  {one.title}  rev {one.revision or '(none)'}  {one.stage}  size {one.size}  scale {one.scale}"
        )
        data(f"  drawn {one.drawn or '-'}, checked {one.checked or '-'}, approved {one.approved or '-'}, {one.date}")
    for order, item, title, written in called:
        data(f"  called up by {order} {item} {title} as {written}")
    if not called:
        data("  called up by no item")


@click.command()
@click.argument("item")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def history(run: Run, item: str, json_: bool) -> None:
    """What every revision said of an item, and what is open."""
    from specreg.services.altering import find_item
    from specreg.services.reading import OfficeReader

    office = run.open(read_only=True)
    with office.book.reading():
        standing = find_item(office, item)
        told = OfficeReader(office).history(standing)
    if json_:
        as_json({"order": office.order_no, "number": standing.item.number, "history": _history(told)})
        return
    data(f"{standing.item.number}  {standing.item.title}")
    for said in told:
        data(f"  {said.revision:<6}{said.date:<12}{('note ' + said.note) if said.note else '':<10}{said.change}")


COMMANDS = {"show": show, "history": history}
