"""alter, insert, delete, restore, undo, redo."""

from __future__ import annotations

import click

from specreg.cli.main import Run
from specreg.cli.output import say
from specreg.core.errors import WrongUse
from specreg.services.altering import Edited
from specreg.services.office import Office

_note = click.option("--note", default="", metavar="NO", help="The open note this belongs to; else the only open one.")


def fields_of(pairs: tuple[str, ...]) -> dict[str, str]:
    """FIELD=VALUE words as fields. Raises WrongUse for one that is not of that form."""
    said: dict[str, str] = {}
    for pair in pairs:
        label, found, text = pair.partition("=")
        if not found or not label.strip():
            raise WrongUse(f"Field '{pair}'", "it is not of the form FIELD=VALUE", "Write Off=4, or 'Size=1 1/4\" dia'")
        said[label.strip()] = text
    return said


def _tell(office: Office, done: Edited, words: str) -> None:
    """What was done, whose signatures it cost, and what is wrong now where this item stands or is counted on."""
    from specreg.services.checking import faults_naming

    say(f"{done.item.number} {done.item.title} {words} under {done.note.name}.")
    if done.lapsed:
        say(f"  ^ signatures under {done.note.name} have lapsed: {', '.join(done.lapsed)}")
    for fault in faults_naming(office, done.item.number):
        say(f"  {fault.sign} {fault.text}")


@click.command()
@click.argument("item")
@click.argument("fields", nargs=-1, required=True, metavar="FIELD=VALUE...")
@_note
@click.pass_obj
def alter(run: Run, item: str, fields: tuple[str, ...], note: str) -> None:
    """Alter fields of an item; an empty value takes out what the field says."""
    from specreg.services.altering import alter as alter_item

    office = run.open()
    _tell(office, alter_item(office, item, fields_of(fields), note), "is altered")


@click.command()
@click.argument("item", required=False, default="")
@click.argument("fields", nargs=-1, metavar="FIELD=VALUE...")
@click.option("--after", default="", metavar="ITEM", help="At the next letter after this item: 4.1.2 -> 4.1.2A.")
@_note
@click.pass_obj
def insert(run: Run, item: str, fields: tuple[str, ...], after: str, note: str) -> None:
    """Put a new item in, at its number or after another item."""
    from specreg.services.altering import insert as insert_item

    if after and item:
        # With --after no number is wanted: the first word is a field.
        fields, item = (item, *fields), ""
    if not item and not after:
        raise WrongUse("Insert an item", "no number is given", "Give one, or --after ITEM")
    office = run.open()
    _tell(office, insert_item(office, item, fields_of(fields), note, after), "is inserted")


@click.command()
@click.argument("item")
@click.option("--reason", default="", help="Why it is no longer wanted.")
@_note
@click.pass_obj
def delete(run: Run, item: str, reason: str, note: str) -> None:
    """Delete an item: it stays listed with the reason, and its number stays taken."""
    from specreg.services.altering import delete as delete_item

    office = run.open()
    _tell(office, delete_item(office, item, reason, note), "is deleted, and stays listed,")


@click.command()
@click.argument("item")
@_note
@click.pass_obj
def restore(run: Run, item: str, note: str) -> None:
    """Bring a deleted or reserved item back."""
    from specreg.services.altering import restore as restore_item

    office = run.open()
    _tell(office, restore_item(office, item, note), "is live again")


@click.command()
@click.pass_obj
def undo(run: Run) -> None:
    """Take back your last edit; refused when somebody altered the item since."""
    from specreg.services.altering import undo as take_back

    say(f"Taken back, as if it had not been done: {take_back(run.open())}")


@click.command()
@click.pass_obj
def redo(run: Run) -> None:
    """Make your last undone edit again."""
    from specreg.services.altering import redo as make_again

    say(f"Done again: {make_again(run.open())}")


COMMANDS = {"alter": alter, "insert": insert, "delete": delete, "restore": restore, "undo": undo, "redo": redo}
