"""note, sign, issue."""

from __future__ import annotations

from pathlib import Path

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, doing, say, table
from specreg.core.counts import so_many
from specreg.core.errors import WrongUse
from specreg.core.model import Note


@click.group()
def note() -> None:
    """Alteration notes: after the first issue every edit belongs to one."""


@note.command(name="open")
@click.argument("words", nargs=-1)
@click.option("--number", default="", help="Its number; else the next.")
@click.option("--reason", default="", help="design error, customer, shop request, inspector, buying, cost, ...")
@click.option("--urgency", default="", help="at once, next batch, next machine, when convenient, record only.")
@click.option("--authority", default="", help="Who said so, with date; for safety items the authority's reference.")
@click.option("--machines", default="", help="For which machines: 1471-1473, 1473-, all.")
@click.option("--file", type=click.Path(path_type=Path), help="Take the note with its edits from a TOML file.")
@click.pass_obj
def open_(
    run: Run, words: tuple[str, ...], number: str, reason: str, urgency: str, authority: str, machines: str,
    file: Path | None,
) -> None:  # fmt: skip
    """Open a note: what is altered and why, in a few words."""
    from specreg.services.noting import note_faults, open_note
    from specreg.services.taking_notes import take_note

    office = run.open()
    if file is not None:
        taken = take_note(office, file)
        counts = f"{so_many(taken.edits, 'edit')} and {so_many(taken.sheets, 'sheet')}"
        say(f"Note {taken.note.note.number} is open, with {counts} from {file}.")
        return
    if not words:
        raise WrongUse("Open a note", "it says nothing", "Give a few words: what is altered and why")
    said = Note(number, reason, urgency, authority, machines, " ".join(words))
    made = open_note(office, said)
    say(f"Note {made.note.number} is open.")
    for fault in note_faults(office, made):
        say(f"  ^ before it is signed: {fault.text}")


@note.command(name="say")
@click.argument("number")
@click.option("--reason", help="Why it is altered.")
@click.option("--urgency", help="at once, next batch, next machine, when convenient, record only.")
@click.option("--authority", help="Who said so, with date.")
@click.option("--machines", help="For which machines.")
@click.option("--words", help="What is altered, in a few words.")
@click.pass_obj
def say_(run: Run, /, number: str, **said: str | None) -> None:
    """Alter what an open note says; signatures under it lapse."""
    from specreg.services.noting import say_note

    told = {name: text for name, text in said.items() if text is not None}
    if not told:
        raise WrongUse(
            f"Alter note {number}", "nothing is given to alter", "Give --reason, --authority, --machines ..."
        )
    say_note(run.open(), number, **told)
    say(f"Note {number} says so now.")


@note.command()
@click.argument("number")
@click.pass_obj
def abandon(run: Run, number: str) -> None:
    """Give up an open note that has no edits under it."""
    from specreg.services.noting import abandon_note

    abandon_note(run.open(), number)
    say(f"Note {number} is abandoned; its number stays taken.")


@note.command(name="list")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def list_(run: Run, json_: bool) -> None:
    """All notes of the order, with their signatures."""
    from specreg.services.note_list import notes_of_order

    office = run.open(read_only=True)
    told = notes_of_order(office)
    if json_:
        as_json({"order": office.order_no, "notes": [one.record for one in told]})
        return
    table(
        [(one.number, one.state, str(one.edits), ", ".join(one.signed) or "-", _short(one.words)) for one in told],
        ("Note", "State", "Edits", "Signed", "Words"),
        right=(2,),
    )


@note.command()
@click.argument("number")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def show(run: Run, number: str, json_: bool) -> None:
    """One note whole: why, by whose authority, for which machines, and every edit under it."""
    from specreg.services.note_list import note_whole

    whole = note_whole(run.open(read_only=True), number)
    if json_:
        edits = [{"number": item, "title": title, "change": change} for item, title, change in whole.edits]
        as_json({**whole.told.record, "edits": edits})
        return
    told = whole.told
    data(f"Note {told.number}, {told.state}: {told.words}")
    for label, text in (
        ("reason", told.reason), ("urgency", told.urgency), ("authority", told.authority),
        ("machines", told.machines), ("signed", ", ".join(told.signed)), ("wanting", ", ".join(told.wanting)),
    ):  # fmt: skip
        data(f"  {label + ':':<11}{text or '-'}")
    for item, title, change in whole.edits:
        data(f"  {item}  {title}: {change}")


@click.command()
@click.argument("number", metavar="NOTE|REVISION")
@click.option(
    "--for", "capacity", default="", help="drawn, checked, 'second check' or approved; else the next wanting."
)
@click.pass_obj
def sign(run: Run, number: str, capacity: str) -> None:
    """Set your own signature under a note; A names the first compilation before it is issued."""
    from specreg.services.signing import sign as set_signature
    from specreg.services.signing import signatures

    office = run.open()
    standing, signed_as = set_signature(office, number, capacity)
    wanting = signatures(office, standing).wanting
    say(
        f"{office.person.name} has signed {standing.note.name}: {signed_as}. "
        + (f"Still wanting: {', '.join(wanting)}." if wanting else "Nothing is wanting.")
    )


@click.command()
@click.option("--notes", default="", metavar="NO,NO", help="The notes to issue; else the only open one.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def issue(run: Run, notes: str, json_: bool) -> int:
    """Issue the next revision: the notes' edits go into the record and are sealed. Exit code 1 lists what bars it."""
    from specreg.core.seals import short_code
    from specreg.services.issuing import issue as issue_revision

    office = run.open()
    with doing("checking and issuing"):
        done = issue_revision(office, [one.strip() for one in notes.split(",") if one.strip()])
    code = short_code(done.revision.seal)
    if json_:
        as_json(
            {
                "order": office.order_no, "revision": done.revision.letter, "seal": code, "notes": list(done.notes),
                "rows": done.revision.rows, "written": done.written, "numbers_off": done.totals,
            }
        )  # fmt: skip
    else:
        data(f"Order {office.order_no} revision {done.revision.letter} is issued, seal {code}.")
        say(f"{so_many(done.revision.rows, 'row')} sealed; drawn {done.revision.drawn}, "
            f"checked {done.revision.checked}, approved {done.revision.approved}.")  # fmt: skip
    return ExitCode.DONE


def _short(words: str, most: int = 60) -> str:
    return words if len(words) <= most else f"{words[: most - 1].rstrip()}…"


COMMANDS = {"note": note, "sign": sign, "issue": issue}
