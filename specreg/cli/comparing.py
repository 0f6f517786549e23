"""compare."""

from __future__ import annotations

import click

from specreg.cli.main import Run
from specreg.cli.output import as_json, data, say
from specreg.core.comparing import FieldChange, Pair
from specreg.core.model import State
from specreg.core.word_changes import RunKind, word_changes
from specreg.services.comparing import Compared, LineChanges


@click.command()
@click.argument("old")
@click.argument("new", required=False, default="open")
@click.option("--department", default="", metavar="CODE", help="Only what changed for one department.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def compare(run: Run, old: str, new: str, department: str, json_: bool) -> None:
    """What changed between two revisions, by item and by word; `open` is the order as it stands."""
    from specreg.services.comparing import compare as lay_beside

    office = run.open(read_only=True)
    found = lay_beside(office, old, new, department)
    if json_:
        as_json(_record(found, office.order_no))
    else:
        _tell(found)


def _record(found: Compared, order: str) -> dict[str, object]:
    comparison = found.comparison
    record: dict[str, object] = {
        "order": order,
        "old": found.old,
        "new": found.new,
        "added": [one.item.number for one in comparison.added if one.item.state is State.LIVE],
        "deleted": [one.item.number for one in comparison.deleted if one.item.state is State.LIVE],
        "changed": [_pair(one) for one in comparison.changed],
        "renumbered": [{"old": one.old.number, "new": one.new.number} for one in comparison.renumbered],
        "spacing": [one.new.number for one in comparison.spacing],
        "numbers_off": [{"number": one.item.number, "old": one.old, "new": one.new} for one in found.numbers_off],
        "drawings": [{"number": one.sheet.name, "old": one.old, "new": one.new} for one in found.sheets],
        "counts": {name: getattr(comparison.counts, name) for name in comparison.counts.__dataclass_fields__},
    }
    if found.lines is not None:
        lines = found.lines
        record["department"] = lines.department
        record["lines"] = {
            "old": lines.before,
            "added": lines.added,
            "withdrawn": len(lines.withdrawn),
            "altered": lines.altered,
            "new": lines.now,
        }
    return record


def _pair(pair: Pair) -> dict[str, object]:
    return {
        "number": pair.new.number,
        "former_number": pair.old.number if pair.renumbered else "",
        "fields": [{"field": one.label, "old": one.old, "new": one.new} for one in pair.fields],
    }


def _tell(found: Compared) -> None:
    if found.lines is not None:
        _tell_lines(found.old, found.new, found.lines)
        return
    comparison = found.comparison
    for passage in comparison.added:
        if passage.item.state is not State.LIVE:
            continue
        data(f"+ {passage.item.number}  {passage.item.title}")
    for passage in comparison.deleted:
        if passage.item.state is not State.LIVE:
            continue
        reason = f"  ({passage.listed.reason})" if passage.listed else ""
        data(f"- {passage.item.number}  {passage.item.title}{reason}")
    for pair in comparison.changed:
        was = f" (was {pair.old.number})" if pair.renumbered else ""
        data(f"» {pair.new.number}{was}  {pair.new.title}")
        for change in pair.fields:
            data(f"    {change.label}: {_marked(change)}")
    for pair in comparison.renumbered:
        if not pair.really_changed:
            data(f"= {pair.old.number} -> {pair.new.number}  {pair.new.title}  renumbered only")
    for off in found.numbers_off:
        data(f"  {off.item.number}  number off {off.old} -> {off.new}")
    for sheet in found.sheets:
        data(f"  {sheet.sheet.name}  drawing rev {sheet.old} -> {sheet.new}")
    counts, only = comparison.counts, len(found.number_off_only)
    say(
        f"{counts.added} added, {counts.deleted} deleted, {counts.changed} altered, "
        f"{f'{only} of another number off only, ' if only else ''}"
        f"{counts.renumbered_only} renumbered only, {counts.spacing_only} spacing only, {counts.unchanged} as before."
    )


def _tell_lines(old: str, new: str, lines: LineChanges) -> None:
    for line in (one.printed for one in (*lines.changed, *lines.withdrawn)):
        data(f"{line.sign} {line.number}  {line.title}  {line.operation} {line.off}")
        if line.was:
            data(f"    {line.was}")
    say(f"{lines.department}: {lines.sum_in_words(old, new)}.")


def _marked(change: FieldChange) -> str:
    """Old and new in one line: [taken out] and {put in}."""
    if not change.old or not change.new:
        return f"{change.old or 'blank'} -> {change.new or 'blank'}"
    told = []
    for run in word_changes(change.old, change.new):
        if run.kind in (RunKind.SAME, RunKind.SPACING):
            told.append(run.new)
        else:
            told.append((f"[{run.old}]" if run.old else "") + (f"{{{run.new}}}" if run.new else ""))
    return "".join(told)


COMMANDS = {"compare": compare}
