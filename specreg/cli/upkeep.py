"""verify and day-book."""

from __future__ import annotations

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, doing, say, table
from specreg.core.counts import so_many


@click.command()
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def verify(run: Run, json_: bool) -> int:
    """Prove every digest and seal of the book; exit code 1 names what does not agree."""
    from specreg.services.upkeep import verify as prove

    with doing("proving every digest and seal"):
        found = prove(run.open(read_only=True))
    if json_:
        as_json(
            {
                "seals": [{"order": order, "revision": letter, "seal": seal} for order, letter, seal in found.seals],
                "differences": list(found.differences),
            }
        )
    else:
        table(found.seals, ("Order", "Rev", "Seal"))
        for sentence in found.differences:
            data(f"! {sentence}")
        if found.differences:
            wrong = len(found.differences)
            say(f"{so_many(wrong, 'thing')} do{'es' if wrong == 1 else ''} not agree. Go back to the last good copy.")
        else:
            say("The book agrees with every seal and digest in it.")
    return ExitCode.FAULTS if found.differences else ExitCode.DONE


@click.command(name="day-book")
@click.option("--last", type=click.IntRange(min=1), default=20, show_default=True, help="So many entries.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def day_book(run: Run, last: int, json_: bool) -> None:
    """The last acts, newest first: who did what, and when."""
    from specreg.services.listing import last_acts

    acts = last_acts(run.open(read_only=True), last)
    if json_:
        as_json({"entries": [{name: getattr(one, name) for name in one.__dataclass_fields__} for one in acts]})
    else:
        table(
            [(str(one.entry), one.at[:16].replace("T", " "), one.person, one.act, one.words) for one in acts],
            ("Entry", "When", "Who", "Act", "Words"),
            right=(0,),
        )


COMMANDS = {"verify": verify, "day-book": day_book}
