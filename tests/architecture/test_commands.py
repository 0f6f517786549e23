"""Every command that is listed exists, says what it does, and is told of in the README."""

from __future__ import annotations

import re
from importlib import import_module

import click
import pytest

from specreg.cli.main import COMMANDS, specreg
from specreg.tui.commands import COMMANDS as SCREEN_COMMANDS
from specreg.tui.commands import READING
from tests.architecture.fresh import ROOT

README = ROOT / "README.md"


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_exists_and_helps(name: str) -> None:
    with click.Context(specreg) as context:
        command = specreg.get_command(context, name)
    assert command is not None
    assert command.name == name
    assert (command.help or "").strip().endswith((".", "!"))
    commands = command.commands.values() if isinstance(command, click.Group) else [command]
    for one in commands:
        assert (one.help or "").strip(), one.name
        assert not (one.name or "").endswith("-"), one.name
        for parameter in one.params:
            if isinstance(parameter, click.Option) and name != "note":
                assert parameter.help, f"{name} {parameter.name}"


def test_the_line_of_help_fits_a_terminal_and_names_every_command() -> None:
    for name, (module, words) in COMMANDS.items():
        assert words.endswith("."), name
        assert len(name) + len(words) <= 76, name
        assert name in import_module(f"specreg.cli.{module}").COMMANDS


def test_no_command_is_hidden() -> None:
    for module in {module for module, _ in COMMANDS.values()}:
        offered = set(import_module(f"specreg.cli.{module}").COMMANDS)
        assert offered == {name for name, (where, _) in COMMANDS.items() if where == module}


@pytest.mark.parametrize("name", COMMANDS)
def test_the_readme_tells_of_every_command(name: str) -> None:
    assert re.search(rf"`{re.escape(name)}`", README.read_text(encoding="utf-8")), name


def test_the_readme_names_no_command_that_is_not() -> None:
    named = set(re.findall(r"(?m)^specreg ([a-z-]+)", README.read_text(encoding="utf-8")))
    named |= set(re.findall(r"[;&`] ?specreg ([a-z-]+)", README.read_text(encoding="utf-8")))
    assert named
    assert named <= set(COMMANDS)


def test_the_readme_names_the_keys_that_work_from_every_screen() -> None:
    keys = README.read_text(encoding="utf-8").partition("Keys, from every screen:")[2].partition("Signs stand")[0]
    everywhere = [one for one in SCREEN_COMMANDS if one.pages >= READING - {"desk", "help"} and one.rank]
    assert {one.name for one in everywhere} >= {"find", "specification", "drawings", "departments", "compare", "desk"}
    for command in everywhere:
        key = command.shown if command.name == "back" else f"`{command.shown}`"
        said = "another look" if command.name == "look" else command.word
        assert f"{key} {said}" in " ".join(keys.split()), command.name
