"""Shared Hypothesis strategies: machines, items whose parents form no loop, departments, routing rules, routes.

Invented data; numbers, departments and words are only as many as make things meet.
"""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import strategies as st

from specreg.core.machines import ordinal, spoken
from specreg.core.model import Item, Kind, Layout, State
from specreg.core.standards import Department, House, Rule, Standards

DEPARTMENTS = (
    Department("PAT", "Pattern shop", "make pattern"),
    Department("FDY", "Foundry", "cast"),
    Department("MCH", "Machine shop", "machine"),
    Department("INS", "Inspection", "inspect"),
    Department("BUY", "Buying", "order"),
    Department("ERE", "Erecting shop", "erect", final=True),
    Department("STO", "Stores", "put by", final=True),
)
CODES = tuple(department.code for department in DEPARTMENTS)
WORDS = ("rack", "bolt", "wheel", "shaft", "cover")
MATERIALS = ("cast iron", "cast steel", "mild steel", "")
SUPPLIES = ("make", "buy", "stock", "free issue", "")


def item(number: str, off: str = "1 per machine", **fields: object) -> Item:
    """One live item as a table row, for tests that name their figures."""
    section = number.split(".", maxsplit=1)[0]
    base: dict[str, object] = {"kind": Kind.ITEM, "layout": Layout.ROW, "section": section, "off": off}
    return Item(number=number, **{**base, **fields})  # type: ignore[arg-type]


@st.composite
def machine_names(draw: st.DrawFn, most: int = 5) -> tuple[str, ...]:
    """The machines of an order: works numbers in two runs, prefixed or not, or places."""
    count = draw(st.integers(1, most))
    if draw(st.booleans()):
        prefix = draw(st.sampled_from(["", "", "C ", "C-", "7/"]))
        first = draw(st.integers(1, 1500))
        gap_after = draw(st.integers(1, most))
        return tuple(f"{prefix}{first + place + (place >= gap_after) * 2}" for place in range(count))
    return tuple(ordinal(place) for place in range(1, count + 1))


@dataclass(frozen=True, slots=True)
class Specified:
    """An order as drawn: its machines and items, parents before or after their children alike."""

    machines: tuple[str, ...]
    items: tuple[Item, ...]


@st.composite
def orders(draw: st.DrawFn, most: int = 9, uncounted: bool = True, limited: bool = True) -> Specified:
    """An order whose items are counted per machine, per order or per one or two items drawn before them."""
    machines = draw(machine_names())
    count = draw(st.integers(1, most))
    found: list[Item] = []
    for place in range(1, count + 1):
        number = f"{1 + place % 3}.{place}"
        pers = ["machine", "order", *(one.number for one in found)]
        chosen = draw(st.lists(st.sampled_from(pers), min_size=1, max_size=2, unique=True))
        off = ", ".join(f"{draw(st.integers(1, 12))} per {per}" for per in chosen)
        if uncounted and draw(st.integers(0, 7)) == 0:
            off = draw(st.sampled_from(["as required", "1 pair per machine", "reference only", "lot", "", "3"]))
        positions = draw(st.sets(st.integers(0, len(machines) - 1), min_size=1))
        one_limit = limited and draw(st.integers(0, 3)) == 0
        found.append(
            item(
                number,
                off,
                title=draw(st.sampled_from(WORDS)),
                machines=spoken(positions, machines) if one_limit else "",
                material=draw(st.sampled_from(MATERIALS)),
                supply=draw(st.sampled_from(SUPPLIES)),
                spares=draw(st.sampled_from(["", "", "1 per machine", "2 per order", "1 per machine, 2 per order"])),
                safety=draw(st.sampled_from(["", "", "lifting"])),
                state=draw(st.sampled_from([State.LIVE] * 9 + [State.DELETED])),
            )
        )
    return Specified(machines, tuple(draw(st.permutations(found))))


@st.composite
def route_texts(draw: st.DrawFn, bases: tuple[str, ...] = ("", " all", " machines", " spares", " 3", " all+1")) -> str:
    """A route in the notation, of one to four places, forks among them."""
    step = st.builds(
        lambda code, operation, basis: f"{code}{operation}{basis}",
        st.sampled_from(CODES),
        st.sampled_from(["", " turn and bore", " paint"]),
        st.sampled_from(bases),
    )
    fork = st.lists(step, min_size=1, max_size=2).map(" & ".join)
    return "; ".join(draw(st.lists(fork, min_size=1, max_size=4)))


@st.composite
def rules(draw: st.DrawFn, name: str = "rule") -> Rule:
    """One sound routing rule: a route, a reason for no action or steps to add, under none to two conditions."""
    does = draw(st.sampled_from(["route", "route", "route", "no_action", "add"]))
    text = "supplied with the machine" if does == "no_action" else draw(route_texts())
    conditions: dict[str, object] = {}
    if draw(st.booleans()):
        conditions["any_words"] = tuple(draw(st.lists(st.sampled_from(WORDS), min_size=1, max_size=2)))
    if draw(st.integers(0, 3)) == 0:
        conditions["no_words"] = (draw(st.sampled_from(WORDS)),)
    if draw(st.booleans()):
        conditions["material"] = (draw(st.sampled_from(["cast", "steel"])),)
    if draw(st.integers(0, 3)) == 0:
        conditions["safety"] = draw(st.booleans())
    if does == "add":
        conditions[draw(st.sampled_from(["before", "after"]))] = draw(st.sampled_from(CODES))
    return Rule(name, **{does: text}, **conditions)  # type: ignore[arg-type]


@st.composite
def standards(draw: st.DrawFn, most: int = 6) -> Standards:
    """A works' standards with sound rules of different names."""
    count = draw(st.integers(0, most))
    return Standards(
        House("Practice works"), DEPARTMENTS, tuple(draw(rules(f"rule {place}")) for place in range(count))
    )
