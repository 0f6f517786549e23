"""drawings and drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from specreg.cli.main import Run
from specreg.cli.output import as_json, say, table
from specreg.core.counts import so_many
from specreg.core.errors import WrongUse
from specreg.core.model import SHEET_COLUMNS, Sheet, Stage

if TYPE_CHECKING:
    from specreg.services.office import Office


@click.command()
@click.option("--stage", default="", help="Only sheets at this stage.")
@click.option("--late", is_flag=True, help="Only sheets late against the programme, the latest first.")
@click.option("--at", default="", metavar="REVISION", help="As the register stood when this revision was issued.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def drawings(run: Run, stage: str, late: bool, at: str, json_: bool) -> None:
    """The drawing list of the order: current sheets with revision and stage; or the programme, what is late in it."""
    from specreg.services.entering import listed_sheets

    wanted = stage.strip().lower()
    if wanted and wanted not in set(Stage):
        raise WrongUse(f"Sheets at stage '{stage}'", "there is no such stage", f"Stages are {', '.join(Stage)}")
    if late and at:
        raise WrongUse("What is late at a revision", "the programme is told as it stands today", "Leave --at out")
    office = run.open(read_only=True)
    if late:
        _tell_late(office, wanted, json_)
        return
    listed = listed_sheets(office, office.revision(at) if at else None)
    sheets = [one for one in listed if not wanted or one.stage == wanted]
    if json_:
        as_json({"order": office.order_no, "drawings": [_record(one) for one in sheets]})
        return
    table(
        [(one.number, one.sheet, one.revision or "(none)", one.stage, one.date, one.title) for one in sheets],
        ("Drawing", "Sheet", "Rev", "Stage", "Date", "Title"),
    )


def _tell_late(office: Office, stage: str, json_: bool) -> None:
    """The sheets that are late, each with its days and how many items wait for it."""
    from specreg.services.programme import late_sheets

    late = [one for one in late_sheets(office) if not stage or one.sheet.stage == stage]
    if json_:
        records = [{**_record(one.sheet), "days_late": one.days, "waiting": one.waiting} for one in late]
        as_json({"order": office.order_no, "drawings": records})
        return
    table(
        [
            (one.sheet.number, one.sheet.sheet, one.sheet.stage, one.sheet.planned, str(one.days), str(one.waiting),
             one.sheet.title)
            for one in late
        ],
        ("Drawing", "Sheet", "Stage", "Planned", "Days late", "Items", "Title"),
        right=(4, 5),
    )  # fmt: skip
    say(f"{so_many(len(late), 'sheet')} late against the programme on {office.today}.")


def _record(sheet: Sheet) -> dict[str, object]:
    return {
        "number": sheet.number, "sheet": sheet.sheet, "title": sheet.title, "revision": sheet.revision,
        "stage": sheet.stage, "planned": sheet.planned,
    }  # fmt: skip


@click.group()
def drawing() -> None:
    """The drawing register."""


@drawing.command()
@click.argument("number")
@click.argument("fields", nargs=-1, metavar="FIELD=VALUE...")
@click.pass_obj
def enter(run: Run, number: str, fields: tuple[str, ...]) -> None:
    """Enter a sheet, or a new revision or stage of one: sheet=1 title=... revision=B stage=approved drawn=..."""
    from specreg.cli.editing import fields_of
    from specreg.services.entering import enter_by_hand, overtaken

    said = {label.lower(): text for label, text in fields_of(fields).items()}
    unknown = sorted(set(said) - set(SHEET_COLUMNS))
    if unknown:
        raise WrongUse(
            f"Field '{unknown[0]}' of a sheet", "there is no such field", f"Fields are {', '.join(SHEET_COLUMNS)}"
        )
    office = run.open()
    sheet, new = enter_by_hand(office, number, said)
    say(
        f"{sheet.name} rev {sheet.revision or '(none)'}: "
        + (f"entered at '{sheet.stage}'." if new else "stands so already.")
    )
    for fault in overtaken(office, [sheet]):
        say(f"  {fault.sign} {fault.text}")


COMMANDS = {"drawings": drawings, "drawing": drawing}
