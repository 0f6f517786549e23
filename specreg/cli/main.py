"""The command line: global options, commands found by name and loaded on use, refusals turned into exit codes."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from specreg.cli.output import ExitCode, exit_code_of, say, tell_refusal
from specreg.core.errors import Refused, SpecregError
from specreg.settings import Settings, settings_of

if TYPE_CHECKING:
    from specreg.services.office import Office

COMMANDS: dict[str, tuple[str, str]] = {
    "demo": ("demo", "Build the sample order end to end and open the desk."),
    "practice": ("demo", "Make a practice book of the sample for a new clerk to learn on."),
    "new": ("orders", "Make a works book; whoever makes it is its chief."),
    "import": ("orders", "Take in an order folder or a drawing list."),
    "export": ("orders", "Write the order out as a folder of text."),
    "orders": ("orders", "List the orders in the book."),
    "set-aside": ("orders", "List rows that could not be taken in, or strike one."),
    "person": ("people", "Say who is who, and who may do what."),
    "check": ("checking", "The checker's faults."),
    "pass": ("checking", "Let one error pass, with a reason."),
    "allocate": ("allocating", "Give every item its route; show gaps; explain one."),
    "note": ("notes", "Open, alter, list and abandon alteration notes."),
    "sign": ("notes", "Set your own signature under a note."),
    "issue": ("notes", "Issue and seal the next revision."),
    "alter": ("editing", "Alter fields of an item."),
    "insert": ("editing", "Put a new item in."),
    "delete": ("editing", "Delete an item; it stays listed."),
    "restore": ("editing", "Bring a deleted item back."),
    "undo": ("editing", "Take back your last edit."),
    "redo": ("editing", "Make your last undone edit again."),
    "compare": ("comparing", "What changed between two revisions."),
    "history": ("looking", "What every revision said of an item."),
    "extract": ("extracting", "Departments' shares, numbered and reconciled."),
    "print": ("printing", "The whole specification on paper."),
    "take-off": ("taking_off", "Numbers off, lengths and weights, with their sums."),
    "cutting-list": ("cutting_list", "Bars to cut, and the pieces cut from each."),
    "order-list": ("ordering", "What is to be ordered, what is placed, and by when."),
    "placed": ("ordering", "Record what is placed with a supplier, or list it."),
    "find": ("finding", "Find from half a word or half a number."),
    "show": ("looking", "Everything said of an item or a drawing."),
    "drawings": ("drawings", "The drawing list."),
    "drawing": ("drawings", "Enter a sheet in the drawing register."),
    "verify": ("upkeep", "Prove every seal and digest of the book."),
    "day-book": ("upkeep", "Who did what, and when."),
    "desk": ("desk", "The terminal screens."),
}
"""Every command: the module it lives in, and its line of help, so that `--help` loads none of them."""


@dataclass(slots=True)
class Run:
    """One run of the program: what it was told; opens the office when a command asks."""

    settings: Settings
    office: Office | None = None

    def open(self, read_only: bool = False) -> Office:
        """The office of this run."""
        from specreg.bootstrap import open_office

        self.office = open_office(self.settings, read_only=read_only)
        return self.office

    def close(self) -> None:
        """Let go of the book."""
        if self.office is not None:
            self.office.book.close()
            self.office = None


class Commands(click.Group):
    """Commands by name from `COMMANDS`, each module loaded when one of its commands is used."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """All commands, in the order of the work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name."""
        if cmd_name not in COMMANDS:
            return None
        module = import_module(f"specreg.cli.{COMMANDS[cmd_name][0]}")
        command: click.Command = module.COMMANDS[cmd_name]
        return command

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; what SQLite says on the way is told in plain words, be it a damaged page met in reading."""
        from specreg.store.database import translated

        try:
            with translated(Path(settings_of(ctx.params.get("book"), None, None, os.environ).book or "the works book")):
                done = super().invoke(ctx)
            sys.stdout.flush()
        except BrokenPipeError:
            # The reader of a pipe has seen enough. Caught here, for click would make an exit code of its own of it.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            return ExitCode.DONE
        return done

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands, without loading them."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, words) for name, (_, words) in COMMANDS.items()])


@click.group(cls=Commands, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.option("--book", metavar="FILE", help="The works book; else SPECREG_BOOK, or the only one in this folder.")
@click.option("--order", metavar="NO", help="The works order; else SPECREG_ORDER, or the only one in the book.")
@click.option("--as", "person", metavar="PERSON", help="Initials; for reading and entry, never for a signature.")
@click.version_option(package_name="specreg", prog_name="specreg", message="%(prog)s %(version)s")
@click.pass_context
def specreg(ctx: click.Context, book: str | None, order: str | None, person: str | None) -> None:
    """Specification and drawing register of a works that builds heavy machines to order."""
    run_of = Run(settings_of(book, order, person, os.environ))
    ctx.obj = run_of
    ctx.call_on_close(run_of.close)
    if ctx.invoked_subcommand is None:
        if sys.stdin.isatty() and sys.stdout.isatty():
            desk = specreg.get_command(ctx, "desk")
            assert desk is not None
            ctx.invoke(desk)
        else:
            click.echo(ctx.get_help())


def run(arguments: Sequence[str] | None = None) -> int:
    """Run one command line; returns its exit code."""
    try:
        done = specreg.main(args=list(arguments) if arguments is not None else None, standalone_mode=False)
    except SpecregError as error:
        tell_refusal(error)
        return exit_code_of(error)
    except click.exceptions.NoArgsIsHelpError as error:
        say(error.format_message())
        return ExitCode.WRONG_USE
    except click.ClickException as error:
        error.show()
        return ExitCode.WRONG_USE
    except OSError as error:
        cause = error.strerror or str(error)
        tell_refusal(
            Refused(str(error.filename or "A file"), cause, "Look at the folder, and whether you may write there")
        )
        return ExitCode.REFUSED
    except (click.Abort, KeyboardInterrupt):
        say("specreg: broken off; nothing half-done was written.")
        return ExitCode.REFUSED
    return done if isinstance(done, int) else ExitCode.DONE
