"""alter, insert, delete, restore, undo, redo."""

from __future__ import annotations

import click

from specreg.cli.main import Run
from specreg.cli.output import say
from specreg.core.errors import WrongUse

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


@click.command()
@click.argument("item")
@click.argument("fields", nargs=-1, required=True, metavar="FIELD=VALUE...")
@_note
@click.pass_obj
def alter(run: Run, item: str, fields: tuple[str, ...], note: str) -> None:
    """Alter fields of an item; an empty value takes out what the field says."""
    from specreg.services.altering import alter as alter_item
    from specreg.services.checking import faults_of_item

    office = run.open()
    done = alter_item(office, item, fields_of(fields), note)
    say(f"{done.item.number} {done.item.title} is altered under {done.note.name}.")
    for fault in faults_of_item(office, done.item.number):
        say(f"  {fault.sign} {fault.text}")


@click.command()
@click.argument("item", required=False, default="")
@click.argument("fields", nargs=-1, metavar="FIELD=VALUE...")
@click.option("--after", default="", metavar="ITEM", help="At the next letter after this item: 4.1.2 -> 4.1.2A.")
@_note
@click.pass_obj
def insert(run: Run, item: str, fields: tuple[str, ...], after: str, note: str) -> None:
    """Put a new item in, at its number or after another item."""
    from specreg.services.altering import insert as insert_item
    from specreg.services.checking import faults_of_item

    if after and item:
        # With --after no number is wanted: the first word is a field.
        fields, item = (item, *fields), ""
    if not item and not after:
        raise WrongUse("Insert an item", "no number is given", "Give one, or --after ITEM")
    office = run.open()
    done = insert_item(office, item, fields_of(fields), note, after)
    say(f"{done.item.number} {done.item.title} is inserted under {done.note.name}.")
    for fault in faults_of_item(office, done.item.number):
        say(f"  {fault.sign} {fault.text}")


@click.command()
@click.argument("item")
@click.option("--reason", default="", help="Why it is no longer wanted.")
@_note
@click.pass_obj
def delete(run: Run, item: str, reason: str, note: str) -> None:
    """Delete an item: it stays listed with the reason, and its number stays taken."""
    from specreg.services.altering import delete as delete_item

    done = delete_item(run.open(), item, reason, note)
    say(f"{done.item.number} {done.item.title} is deleted under {done.note.name}; it stays listed.")


@click.command()
@click.argument("item")
@_note
@click.pass_obj
def restore(run: Run, item: str, note: str) -> None:
    """Bring a deleted or reserved item back."""
    from specreg.services.altering import restore as restore_item

    done = restore_item(run.open(), item, note)
    say(f"{done.item.number} {done.item.title} is live again under {done.note.name}.")


@click.command()
@click.pass_obj
def undo(run: Run) -> None:
    """Take back your last edit; refused when somebody altered the item since."""
    from specreg.services.altering import undo as take_back

    say(f"Undone: {take_back(run.open())}")


@click.command()
@click.pass_obj
def redo(run: Run) -> None:
    """Make your last undone edit again."""
    from specreg.services.altering import redo as make_again

    say(f"Made again: {make_again(run.open())}")


COMMANDS = {"alter": alter, "insert": insert, "delete": delete, "restore": restore, "undo": undo, "redo": redo}
