"""print."""

from __future__ import annotations

from pathlib import Path

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, doing, not_blank, say
from specreg.core.counts import so_many


@click.command("print")
@click.option("--at", default="", metavar="REVISION", help="At this revision, or `open`; else the last issued.")
@click.option("--section", callback=not_blank, help="Only this section: the sheets say that it is a part.")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), default=Path(), help="Folder. [default: here]")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def print_(run: Run, at: str, section: str, out: Path, json_: bool) -> int:
    """The whole specification as PDF: contents, every item with its route, what changed, the proof of the split."""
    from specreg.services.printing import write_specification

    office = run.open(read_only=True)
    with doing("laying out the specification"):
        printed = write_specification(office, out, at, section)
    whole = printed.whole
    items = sum(one.items for one in whole.sections)
    if json_:
        revision = whole.title_block.revision if whole.is_issued else "open"
        as_json({"order": whole.order, "revision": revision, "sections": [one.number for one in whole.sections],
                 "items": items, "file": str(printed.file)})  # fmt: skip
    else:
        from specreg.output.specification_booklet import compared, heading

        say(f"{heading(whole)}: {so_many(items, 'item')}; compared with {compared(whole)}. Written to {printed.file}.")
    return ExitCode.DONE


COMMANDS = {"print": print_}
