"""person."""

from __future__ import annotations

import click

from specreg.cli.main import Run
from specreg.cli.output import as_json, say, table


@click.command()
@click.argument("code", required=False, default="")
@click.argument("name", required=False, default="")
@click.option("--login", default="", help="The login under which he works.")
@click.option("--role", "roles", multiple=True, help="chief, draughtsman, checker, clerk or head; may be several.")
@click.option("--department", default="", metavar="CODE", help="Which he heads or belongs to.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def person(run: Run, code: str, name: str, login: str, roles: tuple[str, ...], department: str, json_: bool) -> None:
    """Without words: who is who. With initials: enter a person, or alter what is given (only the chief may)."""
    from specreg.services.people import everybody, say_person
    from specreg.store.people import Person

    if code:
        done = say_person(run.open(), Person(code, name, login, roles, department))
        say(f"{done.code} {done.name}: {', '.join(done.roles) or 'reads only'}.")
        return
    told = everybody(run.open(read_only=True))
    if json_:
        as_json({"persons": [{name: getattr(one, name) for name in one.__dataclass_fields__} for one in told]})
    else:
        table(
            [(one.code, one.name, ", ".join(one.roles), one.department, one.login) for one in told],
            ("Who", "Name", "Roles", "Department", "Login"),
        )


COMMANDS = {"person": person}
