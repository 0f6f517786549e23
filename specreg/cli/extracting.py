"""extract."""

from __future__ import annotations

from pathlib import Path

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, say
from specreg.core.counts import grouped, so_many
from specreg.core.errors import WrongUse
from specreg.core.extracts import Extract


@click.command()
@click.argument("departments", nargs=-1, metavar="[DEPARTMENT...]")
@click.option("--all", "all_", is_flag=True, help="Every department of the works.")
@click.option("--at", default="", metavar="REVISION", help="At this revision; else the last issued.")
@click.option("--section", default="", help="Only this section: the extract says that it is a part.")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder; else the text is printed here.")
@click.option(
    "--format",
    "formats",
    multiple=True,
    help="txt, csv, md, pdf or xlsx; may be given several times; pdf and xlsx want --out. [default: txt]",
)
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def extract(
    run: Run, departments: tuple[str, ...], all_: bool, at: str, section: str, out: Path | None,
    formats: tuple[str, ...], json_: bool,
) -> int:  # fmt: skip
    """The shares of departments as issued: numbered, reconciled, with what changed since their last extract."""
    from specreg.output.files import format_named, written
    from specreg.services.extracting import make_extracts, write_extracts

    if bool(departments) == all_:
        raise WrongUse("Make extracts", "name departments or give --all", "For example `specreg extract FDY`")
    wanted = formats or ("txt",)
    for name in wanted:
        form = format_named(name)
        if out is None and not form.text:
            raise WrongUse(f"Print {name} here", "it is not text", "Give --out FOLDER")
    office = run.open()
    made = make_extracts(office, departments, at, section)
    files: dict[str, list[str]] = {}
    if out is not None:
        for done in write_extracts(made, wanted, out):
            files[done.extract.department] = [str(path) for path in done.files]
    if json_:
        first = made[0][0].reconciliation
        as_json(
            {
                "order": office.order_no,
                "extracts": [
                    {"department": one.department, "number": one.number, "revision": one.title_block.revision,
                     "seal": one.seal, "lines": len(one.lines), "withdrawn": len(one.withdrawn), "pieces": one.pieces,
                     "mass_kg": None, "new": new, "files": files.get(one.department, [])}
                    for one, new in made
                ],
                "reconciliation": {"steps": first.steps, "in_shares": first.in_shares, "difference": first.difference},
            }
        )  # fmt: skip
        return ExitCode.DONE
    if out is None:
        for one, _ in made:
            for name in wanted:
                data(written(one, name).decode("utf-8"))
        return ExitCode.DONE
    _tell_written(made, out)
    return ExitCode.DONE


def _tell_written(made: list[tuple[Extract, bool]], out: Path) -> None:
    for one, new in made:
        counts = f"{so_many(len(one.lines), 'line')}, {so_many(one.pieces, 'piece')}"
        say(
            f"{one.department} extract {one.number} of revision {one.title_block.revision}: {counts}, "
            f"{grouped(len(one.withdrawn))} withdrawn, seal {one.seal} ({'new' if new else 'printed again'})"
        )
    proof = made[0][0].reconciliation
    say(
        f"{so_many(proof.steps, 'step')} = {grouped(proof.in_shares)} in shares, difference {proof.difference}. "
        f"Written to {out}."
    )


COMMANDS = {"extract": extract}
