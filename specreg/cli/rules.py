"""allocate --rules and --try: what the routing rules do for the order, and what another rule file would move."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from specreg.cli.output import ExitCode, as_json, data, doing, say, table
from specreg.core.counts import grouped, so_many
from specreg.core.whole_specification import route_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from specreg.core.routing import RuleUse
    from specreg.services.allocating import Tried
    from specreg.services.office import Office

_BEATEN_BY = 2
"""So many of the rules that come before an idle one are named."""


def tell_rules(office: Office, json_: bool) -> int:
    """Every rule with the items it fits and serves; those that do nothing are named."""
    from specreg.services.allocating import rules_used

    with doing("asking every rule about every item"):
        used = rules_used(office)
    if json_:
        as_json({"order": office.order_no, "rules": [_use(one) for one in used]})
        return ExitCode.DONE
    table(
        [(str(place), one.rule.name, "adds" if one.rule.add else "", grouped(one.fits), grouped(one.serves))
         for place, one in enumerate(used, start=1)],
        ("No", "Rule", "", "Fits", "Serves"),
        right=(0, 3, 4),
    )  # fmt: skip
    _say_idle(used)
    return ExitCode.DONE


def tell_tried(office: Office, file: Path, json_: bool) -> int:
    """What a rule file would move; exit code 1 when it would leave gaps."""
    from specreg.services.allocating import try_rules

    with doing(f"trying {file.name}"):
        tried = try_rules(office, file)
    if json_:
        as_json({"order": office.order_no, **_record(tried)})
        return ExitCode.FAULTS if tried.gaps else ExitCode.DONE
    for one in tried.moved:
        data(f"» {one.item.number} {one.item.title}")
        data(f"    was {route_words(one.old) or 'without a route'}")
        data(f"    now {route_words(one.new) or 'without a route'}")
    if tried.moved:
        data("")
        table(
            [(code, name, str(had), str(has), f"{has - had:+}" if has != had else "")
             for code, name, had, has in tried.departments],
            ("Dept", "Name", "Steps", "Then", ""),
            right=(2, 3, 4),
        )  # fmt: skip
    say(f"{so_many(tried.items, 'item')}: {file} would move {grouped(len(tried.moved))}; nothing was written.")
    for item, reason in tried.gaps:
        say(f"  ! {item.number} {item.title}: {reason}")
    _say_idle(tried.used)
    return ExitCode.FAULTS if tried.gaps else ExitCode.DONE


def _say_idle(used: Sequence[RuleUse]) -> None:
    """The rules without which this order would be allocated alike, and why."""
    for one in used:
        if one.is_idle:
            why = "fits no item" if not one.fits else "is always beaten"
            by = f" by {' and '.join(f'`{name}`' for name in one.beaten_by[:_BEATEN_BY])}" if one.beaten_by else ""
            say(f"  ~ `{one.rule.name}` {why}{by}.")


def _use(one: RuleUse) -> dict[str, object]:
    return {
        "rule": one.rule.name, "adds": bool(one.rule.add), "fits": one.fits, "serves": one.serves,
        "beaten_by": list(one.beaten_by),
    }  # fmt: skip


def _record(tried: Tried) -> dict[str, object]:
    return {
        "items": tried.items,
        "moved": [
            {"number": one.item.number, "title": one.item.title, "old": route_words(one.old),
             "new": route_words(one.new)}
            for one in tried.moved
        ],
        "gaps": [{"number": item.number, "title": item.title, "reason": reason} for item, reason in tried.gaps],
        "departments": [
            {"code": code, "steps": had, "steps_then": has} for code, _, had, has in tried.departments
        ],
        "rules": [_use(one) for one in tried.used],
    }  # fmt: skip
