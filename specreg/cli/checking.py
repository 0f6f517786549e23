"""check and pass."""

from __future__ import annotations

from collections import Counter

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, doing, fault_record, say
from specreg.core.counts import so_many
from specreg.core.faults import SIGN_OF_SEVERITY, Severity


@click.command()
@click.option("--notes", default="", metavar="NO,NO", help="As it would be with only these notes issued.")
@click.option("--at", default="", metavar="REVISION", help="As this revision said it.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def check(run: Run, notes: str, at: str, json_: bool) -> int:
    """The checker's faults; exit code 1 when any of them bars the issue."""
    from specreg.services import checking
    from specreg.services.standing import as_issued

    office = run.open(read_only=True)
    with doing("checking"):
        if at:
            checked = checking.check_items(office, as_issued(office, office.revision(at)))
        else:
            chosen = {office.note(one).note_id for one in notes.split(",") if one.strip()} if notes else None
            checked = checking.check(office, chosen)
    counts = Counter(fault.severity.value for fault in checked.faults)
    if json_:
        as_json(
            {
                "order": office.order_no,
                "faults": [fault_record(fault, checked.named(fault)) for fault in checked.faults],
                "passed": [
                    {**fault_record(fault, checked.named(fault)), "person": said.person, "reason": said.reason}
                    for fault, said in checked.passed
                ],
                "counts": {severity.value: counts[severity.value] for severity in Severity},
            }
        )
    else:
        for fault in checked.faults:
            where = f"{fault.where}: " if fault.place is not None else ""
            data(f"{fault.sign} {fault.severity.value:<8} {where}{fault.text}  [{checked.named(fault)}]")
        for fault, said in checked.passed:
            data(f"  passed   {fault.text}  ({said.person}, {said.at[:10]}: {said.reason})")
        told = ", ".join(f"{SIGN_OF_SEVERITY[one]} {so_many(counts[one.value], one.value)}" for one in Severity)
        say(f"{told}; {len(checked.passed)} let pass.")
    return ExitCode.FAULTS if checked.barring else ExitCode.DONE


@click.command(name="pass")
@click.argument("fault", metavar="'FAULT at ITEM'")
@click.option("--reason", default="", help="Why it may pass.")
@click.pass_obj
def pass_(run: Run, fault: str, reason: str) -> None:
    """Let one error pass: it no longer bars the issue. A stop cannot be passed."""
    from specreg.services.checking import let_pass

    name, _, subject = fault.partition(" at ")
    passed = let_pass(run.open(), name.strip(), subject.strip(), reason)
    say(f"Let pass: {passed.text}")


COMMANDS = {"check": check, "pass": pass_}
