"""How long before it is wanted a thing must be ordered: the item's own Lead time, else the works' table."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

from specreg.core.days import day_of
from specreg.core.measures.records import NotRead
from specreg.core.model import Item
from specreg.core.standards import Standards
from specreg.core.stock.materials import is_one_of
from specreg.core.stock.records import Form

FIELD = "Lead time"
"""The field of an item that says its own; it stands among its other fields."""

_TIME = re.compile(r"(?P<number>[0-9]{1,3}) ?(?P<unit>days?|weeks?|wks?\.?)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class OrderBy:
    """The latest day to order, and how it was found: `wanted 2027-02-12, less 12 weeks (Lead time of the item)`."""

    day: date
    basis: str


def read_time(text: str) -> timedelta | NotRead:
    """A time in days or weeks, as written: `12 weeks`. Months are no fixed time and are refused."""
    found = _TIME.fullmatch(text.strip())
    if found is None:
        return NotRead(text, "it is no time in days or weeks", "Write it as 12 weeks or 10 days")
    number = int(found["number"])
    return timedelta(days=number) if found["unit"].lower().startswith("d") else timedelta(weeks=number)


def order_by(item: Item, form: Form | None, standards: Standards) -> OrderBy | NotRead | None:
    """The latest day to order an item that has a wanted day and a lead time; None where either is not given.

    NotRead says why a day or a time that is given cannot be read.
    """
    if not item.wanted:
        return None
    lead = _lead(item, form, standards)
    if lead is None:
        return None
    time, basis = lead
    wanted = day_of(item.wanted)
    if wanted is None:
        return NotRead(item.wanted, "it names no day", "Write Wanted as 2027-02-12")
    took = read_time(time)
    if isinstance(took, NotRead):
        return took
    slack = read_time(standards.reckoning.slack) if standards.reckoning.slack else timedelta(0)
    if isinstance(slack, NotRead):
        return slack
    told = f"wanted {wanted.isoformat()}, less {time} ({basis})"
    if slack:
        told += f" and {standards.reckoning.slack} in hand"
    try:
        return OrderBy(wanted - took - slack, told)
    except OverflowError:
        return NotRead(item.wanted, "so early a day has none before it", "Correct Wanted, or the lead time")


def _lead(item: Item, form: Form | None, standards: Standards) -> tuple[str, str] | None:
    """The time as written and what it rests on."""
    if own := item.get(FIELD):
        return own, f"{FIELD} of the item"
    for rule in standards.reckoning.lead_times:
        if rule.supply and item.supplied not in {one.casefold() for one in rule.supply}:
            continue
        if rule.kinds and form not in rule.kinds:
            continue
        if rule.materials and not is_one_of(item.material, rule.materials, standards):
            continue
        return rule.time, rule.basis
    return None
