"""find."""

from __future__ import annotations

import re

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, say
from specreg.core.errors import WrongUse
from specreg.services.readings import Found


@click.command(context_settings={"ignore_unknown_options": True})
@click.argument("text", nargs=-1, required=True, type=click.UNPROCESSED)
@click.option("--limit", type=click.IntRange(min=1), default=50, show_default=True, help="So many at most.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def find(run: Run, text: tuple[str, ...], limit: int, json_: bool) -> int:
    """Find items, drawings and notes: half a word, half a number, words in any order, a small misspelling."""
    from specreg.services.finding import Finder

    mistaken = next((word for word in text if re.fullmatch(r"--[a-z][a-z-]+", word)), "")
    if mistaken:
        raise WrongUse(
            f"Option {mistaken} of find", "there is none", "To look for these very signs put them in quotes with a word"
        )
    office = run.open(read_only=True)
    found = Finder(office).find(" ".join(text), limit)
    order = office.standing.order.number if office.standing else ""
    if json_:
        as_json(
            {
                "order": order,
                "query": found.query,
                "count": found.count,
                "results": [
                    {
                        "order": hit.order, "kind": hit.kind, "number": hit.number, "title": hit.title,
                        "revision": hit.revision, "why": hit.why, "near": hit.near, "sign": hit.sign,
                        "where": hit.where,
                    }
                    for hit in found.hits
                ],
            }
        )  # fmt: skip
    else:
        _tell(found, order)
    return ExitCode.DONE


def _tell(found: Found, order: str) -> None:
    width = max((len(hit.number) for hit in found.hits), default=0)
    for hit in found.hits:
        sign = "≈" if hit.near else hit.sign or " "
        said = [hit.kind, hit.why, hit.revision or "no revision"]
        if hit.sign == "-":
            said.insert(1, "deleted")
        if hit.order and not order:
            said.insert(0, hit.order)
        where = f"  {hit.where}" if hit.where else ""
        data(f"{sign} {hit.number:<{width}}  {hit.title}{where}  [{', '.join(said)}]")
    more = f", the first {len(found.hits)} shown" if found.count > len(found.hits) else ""
    say(f"{found.count} found{more}." if found.count else "Nothing found, nor anything near it.")


COMMANDS = {"find": find}
