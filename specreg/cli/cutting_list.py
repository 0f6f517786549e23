"""cutting-list."""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from typing import TYPE_CHECKING

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, not_blank, passing_line, say

if TYPE_CHECKING:
    from specreg.core.cutting import Pattern
    from specreg.core.cutting_list import CutGroup, CuttingList, CuttingWanted, PiecesOfLength
    from specreg.services.cutting_list import Listed

STOPPED = "specreg: stopped; what was planned so far is shown, and what is not is named."


@click.command("cutting-list")
@click.option("--at", default="", metavar="REVISION", help="At this revision, or `open`; else the last issued.")
@click.option("--like", metavar="WORDS", callback=not_blank, help='Only stock with these words in its name: "round 3".')
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def cutting_list(run: Run, at: str, like: str, json_: bool) -> int:
    """Bars to cut: the pieces of like stock, how each bar is cut, and how far no plan can do with fewer bars.

    Ctrl-C stops the work: what is planned by then is shown, and what is not is named.
    """
    from specreg.output.cutting_list_text import cutting_list_text
    from specreg.services.cutting_list import cutting_list_at

    office = run.open(read_only=True)
    with _until_stopped() as stopped, _progress() as told:
        listed = cutting_list_at(office, at, like, stopped, told)
    found, order = listed.cutting_list, listed.picture.order
    if json_:
        as_json(_record(listed))
    else:
        cautions = listed.picture.standards.house.cautions
        data(cutting_list_text(found, order, listed.state, office.today, cautions, like))
    _tell(found)
    return ExitCode.REFUSED if found.was_stopped else ExitCode.DONE


@contextmanager
def _until_stopped() -> Iterator[Callable[[], bool]]:
    """Whether Ctrl-C was pressed once; a second one breaks off at once, as it does everywhere else. Where it means
    nothing, as for a job in the background, it goes on meaning nothing."""
    pressed = threading.Event()
    before = signal.getsignal(signal.SIGINT)
    if before in (None, signal.SIG_IGN) or threading.current_thread() is not threading.main_thread():
        yield pressed.is_set
        return

    def press(_number: int, _frame: object) -> None:
        pressed.set()
        signal.signal(signal.SIGINT, before)

    signal.signal(signal.SIGINT, press)
    try:
        yield pressed.is_set
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _progress() -> Iterator[Callable[[str, int, int], None]]:
    """A line that tells which stock is planned."""
    with passing_line() as show:
        yield lambda what, done, of: show(f"{done} of {of} {what}")


def _tell(found: CuttingList) -> None:
    """What the list is short of, in words beside the data."""
    from specreg.core.counts import so_many

    too_long = sum(one.number for group in found.groups for one in group.wanted.too_long)
    if too_long:
        say(f"specreg: {so_many(too_long, 'piece')} longer than the stock: not in the plan.")
    if found.was_stopped:
        say(STOPPED)


def _record(listed: Listed) -> dict[str, object]:
    found = listed.cutting_list
    return {
        "order": listed.picture.order.number,
        "revision": listed.state,
        "stopped": found.was_stopped,
        "groups": [_group(one) for one in found.groups],
        "left_out": [
            {"number": one.item.number, "reason": one.reason.value, "why": one.why or one.reason.value}
            for one in found.left_out
        ],
    }


def _group(group: CutGroup) -> dict[str, object]:
    wanted, plan = group.wanted, group.plan
    return {
        "material": wanted.alike.material,
        "form": wanted.alike.form.value,
        "section": wanted.alike.section,
        **_rules(wanted),
        "pieces": _pieces(wanted.pieces),
        "bars": [_bar(one) for one in plan.patterns] if plan is not None else [],
        "not_planned": group.why_no_plan,
        "count": plan.bars if plan is not None else None,
        "at_least": plan.least_bars if plan is not None else None,
        "stock_length_mm": _decimal(plan.bought) if plan is not None else None,
        "stock_length_at_least_mm": _decimal(plan.least) if plan is not None else None,
        "proved": plan is not None and plan.is_proved,
        "count_by_length": group.bars_by_length,
        "mass_kg": _decimal(group.mass, 3),
        "mass_basis": wanted.basis,
        "too_long": _pieces(wanted.too_long),
        "doubts": list(wanted.doubts),
    }


def _rules(wanted: CuttingWanted) -> dict[str, object]:
    from specreg.core.cutting import CuttingRules

    rules = wanted.rules if isinstance(wanted.rules, CuttingRules) else None
    return {
        "stock_mm": [_decimal(one) for one in rules.stock] if rules else [],
        "kerf_mm": _decimal(rules.kerf) if rules else None,
        "end_trim_mm": _decimal(rules.end_trim) if rules else None,
        "chuck_grip_mm": _decimal(rules.chuck_grip) if rules else None,
        "least_offcut_mm": _decimal(rules.keep_offcut) if rules else None,
        "basis": wanted.rule.basis if wanted.rule is not None else "",
    }


def _pieces(pieces: Sequence[PiecesOfLength]) -> list[dict[str, object]]:
    return [
        {
            "length_mm": _decimal(one.length),
            "number": one.number,
            "items": [{"number": item.item.number, "pieces": item.number} for item in one.items],
        }
        for one in pieces
    ]


def _bar(pattern: Pattern) -> dict[str, object]:
    return {
        "stock_mm": _decimal(pattern.stock),
        "times": pattern.times,
        "pieces": [{"length_mm": _decimal(length), "number": number} for _, length, number in pattern.pieces],
        "offcut_mm": _decimal(pattern.offcut),
        "kept": pattern.is_kept,
    }


def _decimal(value: Fraction | None, places: int | None = None) -> str | None:
    """A quantity exactly, one whose decimals never end to a millionth; or rounded once to so many places."""
    from specreg.core.measures.figures import decimal

    return None if value is None else decimal(value, places) or decimal(value, 6)


COMMANDS = {"cutting-list": cutting_list}
