"""new, import, export, orders, set-aside."""

from __future__ import annotations

from pathlib import Path

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, progress, say, table, tell_faults
from specreg.core.counts import so_many
from specreg.core.errors import WrongUse
from specreg.services.taking_in import TakenIn


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--name", default="", help="Your name, as it shall stand in title blocks.")
def new(file: Path, name: str) -> None:
    """Make a works book; whoever makes it is its chief."""
    from specreg.bootstrap import make_book

    office = make_book(file, name)
    office.book.close()
    say(f"Made {file}. Its chief is {office.person.name} ({office.person.code}).")


@click.command(name="import")
@click.argument("sources", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FOLDER|FILE...")
@click.option("--preview", is_flag=True, help="Show what would be done; write nothing.")
@click.option("--note", default="", metavar="NO", help="The open note that edits go under.")
@click.option(
    "--standards", type=click.Path(path_type=Path), help="Works standards, instead of those order.toml names."
)
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def import_(run: Run, sources: tuple[Path, ...], preview: bool, note: str, standards: Path | None, json_: bool) -> int:
    """Take in order folders, or drawing lists (.csv). Faulty rows are set aside, listed and kept."""
    from specreg.services.taking_in import take_in, take_in_drawing_list

    office = run.open(read_only=preview)
    results: list[TakenIn] = []
    for source in sources:
        if source.is_dir():
            results.append(take_in(office, source, note, preview, standards, progress()))
        elif source.suffix.lower() == ".csv" and source.is_file():
            results.append(take_in_drawing_list(office, source, preview))
        else:
            why = "it is neither an order folder nor a drawing list" if source.exists() else "there is no such thing"
            raise WrongUse(f"Take in {source}", why, "Give a folder with order.toml, or a .csv file")
    if json_:
        records = [_record(result) for result in results]
        as_json(records[0] if len(records) == 1 else records)
    else:
        for result in results:
            _tell(result)
    return ExitCode.DONE


def _record(result: TakenIn) -> dict[str, object]:
    return {
        "source": result.source,
        "order": result.order.number,
        "records": result.records,
        "added": list(result.numbers("add")),
        "altered": list(result.numbers("alter")),
        "deleted": list(result.numbers("delete")),
        "renumbered": [{"old": old, "new": new} for old, new in result.renumbered],
        "kept": list(result.kept),
        "sheets": result.sheets,
        "flags": [
            {"line": str(one.place or one.subject), "reason": one.text} for one in (*result.flags, *result.doubts)
        ],
        "set_aside": [{"line": str(place), "text": text, "reason": reason} for place, text, reason in result.set_aside],
        "written": result.written,
    }


def _tell(result: TakenIn) -> None:
    done = "Taken in" if result.written else "Would be taken in"
    data(f"{done} from {result.source}: order {result.order.number} {result.order.title}")
    counts = [f"{len(result.numbers(act))} {words}" for act, words in _ACTS.items() if result.numbers(act)]
    sheets = f"sheets {'entered' if result.written else 'read'}: {result.sheets}"
    data(f"  items: {', '.join(counts) or 'nothing new'}; {sheets}")
    if not result.new_order:
        for plan in result.plans:
            data(f"  {_SIGNS[plan.act]} {plan.item.number}  {plan.words}")
    for number in result.kept:
        data(f"  · {number}  altered in the book since this folder was written; the book's words stand")
    for place, text, reason in result.set_aside:
        say(f"  ! set aside  {place}: {reason}\n      {text}")
    # What was set aside has been told already.
    tell_faults(fault for fault in result.flags if fault.severity.value != "stop")
    if result.doubts:
        say("  The checker says of it:")
        tell_faults(result.doubts)
    if result.set_aside:
        aside = len(result.set_aside)
        say(f"  {so_many(aside, 'row')} set aside bar{'s' if aside == 1 else ''} the issue; see `specreg set-aside`.")


_ACTS = {"add": "added", "alter": "altered", "renumber": "renumbered only", "delete": "deleted"}
_SIGNS = {"add": "+", "alter": "»", "renumber": "=", "delete": "-"}


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--at", default="", metavar="REVISION", help="As this revision said it, instead of as it stands.")
@click.pass_obj
def export(run: Run, folder: Path, at: str) -> None:
    """Write the order out as a folder of text, from which it can be taken in again unchanged."""
    from specreg.services.giving_out import export as give_out

    office = run.open(read_only=True)
    counts = give_out(office, folder, office.revision(at) if at else None)
    say(
        f"Written to {folder}: {so_many(counts['items'], 'item')} and {so_many(counts['sheets'], 'sheet')} "
        f"in {so_many(counts['files'], 'file')}."
    )


@click.command()
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def orders(run: Run, json_: bool) -> None:
    """List the orders in the book."""
    from specreg.services.listing import orders_held

    held = orders_held(run.open(read_only=True))
    if json_:
        as_json({"orders": [{"order": one.number, "title": one.title, "revision": one.revision} for one in held]})
    else:
        table([(one.number, one.revision or "-", one.title) for one in held], ("Order", "Rev", "Title"))


@click.command(name="set-aside")
@click.option("--strike", type=int, metavar="ROW", help="Take a row off the list: it has been put right by hand.")
@click.option("--reason", default="", help="Why it is struck.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def set_aside(run: Run, strike: int | None, reason: str, json_: bool) -> None:
    """List rows that could not be taken in, with file, line and reason."""
    from specreg.services.listing import rows_set_aside, strike_row

    if strike is not None:
        strike_row(run.open(), strike, reason)
        say(f"Row {strike} is struck.")
        return
    office = run.open(read_only=True)
    rows = rows_set_aside(office)
    if json_:
        as_json(
            {
                "order": office.order_no,
                "set_aside": [
                    {"row": row.row_id, "file": row.file, "line": row.line, "text": row.text, "reason": row.reason}
                    for row in rows
                ],
            }
        )
        return
    for row in rows:
        data(f"{row.row_id:>4}  {row.file}, line {row.line}: {row.reason}\n      {row.text}")


COMMANDS = {"new": new, "import": import_, "export": export, "orders": orders, "set-aside": set_aside}
