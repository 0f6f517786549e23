"""What commands say: data on standard output, words on standard error, one place for exit codes."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from enum import IntEnum
from fractions import Fraction
from typing import Any

import click

from specreg.core.errors import FaultsStop, Refused, SpecregError, WrongUse
from specreg.core.faults import Fault

_LINE = 78
"""So many signs of a passing line, that it stays one line on the narrowest screen."""


class ExitCode(IntEnum):
    """How a command ended."""

    DONE = 0
    FAULTS = 1
    WRONG_USE = 2
    REFUSED = 3


def exit_code_of(error: SpecregError) -> ExitCode:
    """The exit code that goes with a refusal."""
    if isinstance(error, FaultsStop):
        return ExitCode.FAULTS
    return ExitCode.REFUSED if isinstance(error, Refused) else ExitCode.WRONG_USE


def say(words: str) -> None:
    """Words for a person, on standard error, so that data can be piped."""
    sys.stderr.write(f"{words}\n")


def data(text: str) -> None:
    """Data, on standard output."""
    sys.stdout.write(f"{text}\n")


def not_blank(context: click.Context, parameter: click.Parameter, value: str | None) -> str:
    """An option's text, empty when it is not given. Raises WrongUse for one given blank, as an unset variable of the
    shell leaves it."""
    del context
    if value is not None and not value.strip():
        raise WrongUse(f"--{parameter.name} ''", "nothing stands in it", "Give a value, or leave the option out")
    return value or ""


def as_json(value: Any) -> None:
    """Data for a program: keys stay stable."""
    data(json.dumps(value, ensure_ascii=False, indent=2))


def to_thousandths(value: Fraction | None) -> str | None:
    """A quantity as data for a program: a decimal to a thousandth, rounded once."""
    from specreg.core.measures.figures import decimal

    return None if value is None else decimal(value, 3)


def tell_refusal(error: SpecregError) -> None:
    """A refusal in one sentence, and every cause on a line of its own."""
    say(f"specreg: {error.sentence}")
    if isinstance(error, FaultsStop):
        tell_faults(error.faults)


def tell_faults(faults: Iterable[Fault]) -> None:
    """Faults, a line each: sign, severity, place or subject, sentence."""
    for fault in faults:
        where = f"{fault.where}: " if fault.place is not None else ""
        say(f"  {fault.sign} {fault.severity.value:<8}{where}{fault.text}")


def fault_record(fault: Fault, name: str) -> dict[str, str]:
    """A fault as JSON."""
    return {"id": name, "severity": fault.severity.value, "where": fault.where, "text": fault.text}


def table(rows: Sequence[Sequence[str]], heads: Sequence[str] = (), right: Sequence[int] = ()) -> None:
    """Columns padded to their widest cell; nothing is cut, so that the lines can be searched and piped."""
    every = [list(heads), *map(list, rows)] if heads else [list(row) for row in rows]
    if not every:
        return
    widths = [max(len(row[column]) for row in every) for column in range(len(every[0]))]
    for row in every:
        cells = [
            cell.rjust(widths[place]) if place in right else cell.ljust(widths[place]) for place, cell in enumerate(row)
        ]
        data("  ".join(cells).rstrip())


@contextmanager
def doing(words: str) -> Iterator[None]:
    """Say what is being done while it lasts; on a terminal only, and wiped away at the end."""
    with passing_line() as show:
        show(f"{words} ...")
        yield


@contextmanager
def passing_line() -> Iterator[Callable[[str], None]]:
    """A line of words that each new one takes the place of; on a terminal only, and wiped away at the end."""
    try:
        yield _pass_by
    finally:
        _pass_by("")


def _pass_by(words: str) -> None:
    if sys.stderr.isatty():
        sys.stderr.write(f"\r{words[:_LINE]:<{_LINE}}\r")
        sys.stderr.flush()


def progress() -> Callable[[str, int, int], None] | None:
    """A line that shows how far long work is, wiped away when the last hundred is begun; on a terminal only."""
    if not sys.stderr.isatty():
        return None

    def show(what: str, done: int, of: int) -> None:
        if done % 100 == 0:
            _pass_by(f"{what} {done} of {of}" if done + 100 < of else "")

    return show
