"""extract."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, not_blank, say
from specreg.core.counts import grouped, so_many
from specreg.core.errors import WrongUse

if TYPE_CHECKING:
    from specreg.core.extracts import Extract, Reconciliation
    from specreg.services.extracting import ToMake, Written


@click.command()
@click.argument("departments", nargs=-1, metavar="[DEPARTMENT...]")
@click.option("--all", "all_", is_flag=True, help="Every department of the works.")
@click.option("--at", default="", metavar="REVISION", help="At this revision; else the last issued.")
@click.option("--section", callback=not_blank, help="Only this section: the extract says that it is a part.")
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
    from specreg.services.extracting import ToMake, Written, folder_for

    if bool(departments) == all_:
        raise WrongUse("Make extracts", "name departments or give --all", "For example `specreg extract FDY`")
    wanted = tuple(dict.fromkeys(name.strip().lower() for name in formats)) or ("txt",)
    for name in wanted:
        form = format_named(name)
        if out is None and not form.text:
            raise WrongUse(f"Print {name} here", "it is not text", "Give --out FOLDER")
    office = run.open()
    asked = ToMake(office, departments, at, section)
    if out is not None:
        made = _written(asked, wanted, folder_for(out), quietly=json_)
    else:
        each = map(asked.make, asked.departments)
        made = [Written(one, (), new) for one, new in each]
    if json_:
        as_json(_record(office.order_no, made, asked.reconciliation))
    elif out is None:
        for one in made:
            for name in wanted:
                data(written(one.extract, name).decode("utf-8"))
    return ExitCode.DONE


def _written(asked: ToMake, forms: Sequence[str], folder: Path, quietly: bool) -> list[Written]:
    """Department by department, so that what is broken off leaves those before it whole."""
    from specreg.services.extracting import in_words

    done = []
    for one in asked.write_each(forms, folder):
        done.append(one)
        if not quietly:
            say(in_words(one.extract, one.new))
    proof = asked.reconciliation
    if not quietly:
        say(
            f"{so_many(proof.steps, 'step')} = {grouped(proof.in_shares)} in shares, difference {proof.difference}. "
            f"Written to {folder}."
        )
    return done


def _record(order: str, made: Sequence[Written], proof: Reconciliation) -> dict[str, object]:
    from specreg.core.measures.figures import decimal

    def weight(extract: Extract) -> dict[str, object]:
        found = extract.weight
        if found is None:
            return {"mass_kg": None, "to_order_kg": None, "without_weight": None}
        return {"mass_kg": decimal(found.mass, 3), "to_order_kg": decimal(found.to_order, 3),
                "without_weight": found.without}  # fmt: skip

    return {
        "order": order,
        "extracts": [
            {"department": one.extract.department, "number": one.extract.number,
             "revision": one.extract.title_block.revision, "seal": one.extract.seal, "lines": len(one.extract.lines),
             "withdrawn": len(one.extract.withdrawn), "pieces": one.extract.pieces, **weight(one.extract),
             "new": one.new, "files": [str(path) for path in one.files]}
            for one in made
        ],
        "reconciliation": {"steps": proof.steps, "in_shares": proof.in_shares, "difference": proof.difference},
    }  # fmt: skip


COMMANDS = {"extract": extract}
