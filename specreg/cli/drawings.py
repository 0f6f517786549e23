"""drawings and drawing."""

from __future__ import annotations

import click

from specreg.cli.main import Run
from specreg.cli.output import as_json, say, table
from specreg.core.errors import WrongUse
from specreg.core.model import SHEET_COLUMNS, Stage


@click.command()
@click.option("--stage", default="", help="Only sheets at this stage.")
@click.option("--at", default="", metavar="REVISION", help="As the register stood when this revision was issued.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def drawings(run: Run, stage: str, at: str, json_: bool) -> None:
    """The drawing list of the order: current sheets with revision and stage."""
    from specreg.services.entering import listed_sheets

    wanted = stage.strip().lower()
    if wanted and wanted not in set(Stage):
        raise WrongUse(f"Sheets at stage '{stage}'", "there is no such stage", f"Stages are {', '.join(Stage)}")
    office = run.open(read_only=True)
    listed = listed_sheets(office, office.revision(at) if at else None)
    sheets = [one for one in listed if not wanted or one.stage == wanted]
    if json_:
        as_json(
            {
                "order": office.order_no,
                "drawings": [
                    {"number": one.number, "sheet": one.sheet, "title": one.title, "revision": one.revision,
                     "stage": one.stage}
                    for one in sheets
                ],
            }
        )  # fmt: skip
        return
    table(
        [(one.number, one.sheet, one.revision or "(none)", one.stage, one.date, one.title) for one in sheets],
        ("Drawing", "Sheet", "Rev", "Stage", "Date", "Title"),
    )


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
