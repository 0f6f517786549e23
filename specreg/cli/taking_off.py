"""take-off."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from specreg.cli.main import Run
from specreg.cli.output import ExitCode, as_json, data, doing, to_thousandths

if TYPE_CHECKING:
    from specreg.core.take_off import Sum, TakenOff
    from specreg.services.taking_off import Taken


@click.command("take-off")
@click.option("--at", default="", metavar="REVISION", help="At this revision, or `open`; else the last issued.")
@click.option("--items", "items_", is_flag=True, help="Every item with how it was reckoned, not the sums.")
@click.option("--json", "json_", is_flag=True, help="For a program.")
@click.pass_obj
def take_off(run: Run, at: str, items_: bool, json_: bool) -> int:
    """Numbers off, lengths and weights: sums by section, material and department, and what they rest on."""
    from specreg.output.headings import heading
    from specreg.output.take_off_text import lines_text, sums_text
    from specreg.services.taking_off import take_off_at

    office = run.open(read_only=True)
    with doing("taking off"):
        taken = take_off_at(office, at)
    if json_:
        as_json(_record(taken))
    else:
        write = lines_text if items_ else sums_text
        order = taken.picture.order
        data(heading("Take-off", order, taken.state, office.today) + "\n")
        data(write(taken.take_off, order.units, taken.picture.standards.house.cautions))
    return ExitCode.DONE


def _record(taken: Taken) -> dict[str, object]:
    found = taken.take_off
    return {
        "order": taken.picture.order.number,
        "revision": taken.state,
        "lines": [_line(line) for line in found.lines],
        "totals": {
            "sections": [_sum(one) for one in found.sections],
            "materials": [_sum(one) for one in found.materials],
            "departments": [_sum(one) for one in found.departments],
            "whole": _sum(found.whole),
        },
    }


def _line(line: TakenOff) -> dict[str, object]:
    from specreg.core.stock.records import MassOfOne

    one = line.one
    return {
        "number": line.item.number,
        "off": line.total.written,
        "working": line.total.working,
        "length_mm": to_thousandths(line.length),
        "mass_kg": to_thousandths(one.mass) if isinstance(one, MassOfOne) else None,
        "total_kg": to_thousandths(line.mass),
        "to_order_kg": to_thousandths(line.to_order),
        "standing": line.standing.value,
        "basis": line.basis,
        "doubts": list(one.doubts) if isinstance(one, MassOfOne) else [],
    }


def _sum(one: Sum) -> dict[str, object]:
    return {
        "name": one.name, "items": one.items, "pieces": one.pieces, "mass_kg": to_thousandths(one.mass),
        "to_order_kg": to_thousandths(one.to_order), "without_weight": one.without,
    }  # fmt: skip


COMMANDS = {"take-off": take_off}
