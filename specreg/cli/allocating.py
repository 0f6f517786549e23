"""allocate."""

from __future__ import annotations

from pathlib import Path

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, doing, say, table, tell_faults
from specreg.core.counts import grouped, so_many
from specreg.core.errors import WrongUse
from specreg.core.model import State
from specreg.services.allocating import Allocated, Why


@click.command()
@click.option("--why", "item", metavar="ITEM", help="Explain one item's route, step by step; write nothing.")
@click.option("--rules", is_flag=True, help="Tell what each rule does for the order; write nothing.")
@click.option("--try", "tried", type=click.Path(path_type=Path, dir_okay=False), metavar="FILE",
              help="Show what another rule file would move; write nothing.")  # fmt: skip
@click.option("--note", default="", metavar="NO", help="The open note that altered routes go under.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def allocate(run: Run, item: str | None, rules: bool, tried: Path | None, note: str, json_: bool) -> int:
    """Give every item its route, by its own Route field or the works' rules; exit code 1 when gaps are left."""
    from specreg.services import allocating

    if sum(map(bool, (item, rules, tried))) > 1:
        raise WrongUse("Allocate", "--why, --rules and --try ask different things", "Ask one of them at a time")
    if item:
        _tell_why(allocating.why(run.open(read_only=True), item), json_)
        return ExitCode.DONE
    if rules:
        from specreg.cli.rules import tell_rules

        return tell_rules(run.open(read_only=True), json_)
    if tried:
        from specreg.cli.rules import tell_tried

        return tell_tried(run.open(read_only=True), tried, json_)
    office = run.open()
    with doing("allocating"):
        done = allocating.allocate(office, note)
    if json_:
        as_json({"order": office.order_no, **_record(done)})
    else:
        _tell(done)
    return ExitCode.FAULTS if done.gaps else ExitCode.DONE


def _record(done: Allocated) -> dict[str, object]:
    return {
        "items": done.items,
        "allocated": done.allocated,
        "no_action": done.no_action,
        "unallocated": done.unallocated,
        "written": done.written,
        "gaps": [{"number": item.number, "title": item.title, "reason": reason} for item, reason in done.gaps],
        "departments": [{"code": one.code, "items": one.items, "steps": one.steps} for one in done.departments],
    }


def _tell(done: Allocated) -> None:
    table(
        [(one.code, one.name, str(one.items), str(one.steps)) for one in done.departments],
        ("Dept", "Name", "Items", "Steps"),
        right=(2, 3),
    )
    say(
        f"{so_many(done.items, 'item')}: {grouped(done.allocated)} allocated, {grouped(done.no_action)} no action, "
        f"{grouped(done.unallocated)} without a route; {so_many(done.written, 'route')} written."
    )
    tell_faults(done.rule_faults)
    for item, reason in done.gaps:
        say(f"  ! {item.number} {item.title}: {reason}")


def _tell_why(why: Why, json_: bool) -> None:
    steps = [
        {
            "step": step.place, "department": step.department, "operation": step.operation,
            "off": "" if step.off is None else str(step.off), "extra": step.extra, "because": step.because,
        }
        for step in why.route.steps
    ]  # fmt: skip
    if json_:
        as_json(
            {
                "number": why.item.number,
                "route": steps,
                "no_action": why.route.no_action,
                "rules": [{"rule": one.rule, "matched": one.matched, "text": one.text} for one in why.tried],
                "stands": why.stands,
            }
        )
        return
    data(f"{why.item.number} {why.item.title}")
    if why.total is not None and why.total.working:
        data(f"  number off: {why.total.working}")
    if why.route.no_action:
        data(f"  no action: {why.route.no_action}  because: {why.route.because}")
    for step in why.route.steps:
        off = "as required" if step.off is None else f"{step.off}+{step.extra}" if step.extra else str(step.off)
        data(f"  {step.place}  {step.department}  {step.operation}  {off}  because: {step.because}")
    if not why.item.is_line:
        said = why.item.kind.value if why.item.state is State.LIVE else why.item.state.value
        data(f"  {said}: it needs no department")
        return
    data("Rules, in order:")
    for one in why.tried:
        if one.rule:
            data(f"  {'+' if one.matched else ' '} {one.rule}: {one.text}")
    for problem in why.problems:
        say(f"  ! {problem}")
    if not why.stands:
        say("This is what the rules give today; run `specreg allocate` to write it.")


COMMANDS = {"allocate": allocate}
