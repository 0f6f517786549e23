"""Allocating: every item gets its route by its own Route field or the works' rules; gaps are shown."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from specreg.core.counts import so_many
from specreg.core.faults import Fault
from specreg.core.model import Item, Route
from specreg.core.numbering import number_key
from specreg.core.roll_up import Total
from specreg.core.route_notation import numbered, route_problems
from specreg.core.routing import Allocator, Because, RuleUse, rule_problems
from specreg.core.standards import Standards
from specreg.services.altering import find_item
from specreg.services.office import Office
from specreg.services.standing import as_it_stands
from specreg.store import items, routes


@dataclass(frozen=True, slots=True)
class Share:
    """A department's part in an allocation: how many items and how many steps go to it."""

    code: str
    name: str
    items: int
    steps: int


@dataclass(frozen=True, slots=True)
class Allocated:
    """What allocating found and did: `written` routes are new or altered; `gaps` are items without a route, each with
    the reason where there is one; `rule_faults` say what is wrong with the rules themselves."""

    items: int
    allocated: int
    no_action: int
    written: int
    gaps: tuple[tuple[Item, str], ...]
    departments: tuple[Share, ...]
    rule_faults: tuple[Fault, ...]

    @property
    def unallocated(self) -> int:
        """How many items have no route."""
        return len(self.gaps)


def allocate(office: Office, note: str = "") -> Allocated:
    """Give every live item its route. Writes only routes that differ from those that stand; with none to write it
    writes nothing at all. With a note named, items that stand open under other notes wait for these."""
    with office.book.reading():
        standards = office.standards()
        allocator = Allocator(standards)
        fresh, gaps = _laid_out(office, standards, allocator)
        fresh = _under(office, fresh, note)
    if fresh:
        office.require("allocate")
        with office.book.act(office.person.code, "allocate", office.now, office.order_id) as act:
            # Laid out again: between the reading and the act somebody may have altered items, or the standards.
            office.refresh()
            standards = office.standards()
            allocator = Allocator(standards)
            fresh, gaps = _laid_out(office, standards, allocator)
            fresh = _under(office, fresh, note)
            for item_id, note_id, item, route in fresh:
                target = note_id if note_id is not None else office.note_to_edit_under(note).note_id
                routes.put_open(office.book, office.order_no, office.order_id, item_id, item.number, target, route)
            act.words = f"{so_many(len(fresh), 'route')} written, {so_many(len(gaps), 'item')} without"
    return _account(office, len(fresh), gaps)


Fresh = list[tuple[int, int | None, Item, Route]]


def _laid_out(office: Office, standards: Standards, allocator: Allocator) -> tuple[Fresh, list[tuple[Item, str]]]:
    fresh: Fresh = []
    gaps: list[tuple[Item, str]] = []
    standing_routes = routes.all_now(office.book, office.order_id)
    for one in items.all_now(office.book, office.order_id):
        if not one.item.is_line:
            continue
        route = allocator.unnumbered(one.item)
        problems = route_problems(one.item, standards)
        if problems or not route.allocated:
            gaps.append((one.item, "; ".join(problems) or "no rule fits it"))
            route = Route()
        if route != standing_routes.get(one.item_id, Route()):
            fresh.append((one.item_id, one.note_id, one.item, route))
    return fresh, gaps


def _under(office: Office, fresh: Fresh, named: str) -> Fresh:
    """Fresh routes with the note that each stands open under, or None; with a note named, no other note's."""
    wanted = office.note_to_edit_under(named).note_id if named else None
    found: Fresh = []
    for item_id, item_note, item, route in fresh:
        note_id = item_note or routes.note_of_open(office.book, item_id)
        if note_id is None or wanted is None or note_id == wanted:
            found.append((item_id, note_id, item, route))
    return found


def _account(office: Office, written: int, gaps: list[tuple[Item, str]]) -> Allocated:
    with office.book.reading():
        picture = as_it_stands(office)
    item_counts: Counter[str] = Counter()
    step_counts: Counter[str] = Counter()
    no_action = allocated = 0
    for _, route in picture.routed:
        allocated += bool(route.steps)
        no_action += bool(route.no_action)
        step_counts.update(step.department for step in route.steps)
        item_counts.update({step.department for step in route.steps})
    return Allocated(
        items=len(picture.lines),
        allocated=allocated,
        no_action=no_action,
        written=written,
        gaps=tuple(gaps),
        departments=tuple(
            Share(one.code, one.name, item_counts[one.code], step_counts[one.code])
            for one in picture.standards.departments
        ),
        rule_faults=rule_problems(picture.standards),
    )


def rules_used(office: Office) -> tuple[RuleUse, ...]:
    """What each routing rule of the works does for the order as it stands."""
    with office.book.reading():
        return Allocator(office.standards()).use_of_rules(
            one.item for one in items.all_now(office.book, office.order_id)
        )


@dataclass(frozen=True, slots=True)
class Moved:
    """An item whose route another rule file would alter: its route as it stands, and as it would be."""

    item: Item
    old: Route
    new: Route


@dataclass(frozen=True, slots=True)
class Tried:
    """What the order would be by another rule file; nothing is written.

    `moved` are the items whose steps would be others, `gaps` those that would go to no department, with the reason;
    `departments` say for each how many steps it has and would have; `used` is what each rule of the file does.
    """

    items: int
    moved: tuple[Moved, ...]
    gaps: tuple[tuple[Item, str], ...]
    departments: tuple[tuple[str, str, int, int], ...]
    used: tuple[RuleUse, ...]


def try_rules(office: Office, file: Path) -> Tried:
    """Hold the routes as they stand against those that a rule file would give. Raises FaultsStop for a faulty file."""
    from specreg.intake.standards_folder import read_rules

    with office.book.reading():
        standards = read_rules(file, office.standards())
        standing = {one.item_id: one.item for one in items.all_now(office.book, office.order_id) if one.item.is_line}
        routed = routes.all_now(office.book, office.order_id)
    allocator = Allocator(standards)
    moved: list[Moved] = []
    gaps: list[tuple[Item, str]] = []
    had: Counter[str] = Counter()
    has: Counter[str] = Counter()
    for item_id, item in standing.items():
        old, new = routed.get(item_id, Route()), allocator.unnumbered(item)
        problems = route_problems(item, standards)
        if problems or not new.allocated:
            gaps.append((item, "; ".join(problems) or "no rule fits it"))
        had.update(step.department for step in old.steps)
        has.update(step.department for step in new.steps)
        if _said(old) != _said(new):
            moved.append(Moved(item, old, new))
    return Tried(
        items=len(standing),
        moved=tuple(moved),
        gaps=tuple(gaps),
        departments=tuple((one.code, one.name, had[one.code], has[one.code]) for one in standards.departments),
        used=allocator.use_of_rules(standing.values()),
    )


def _said(route: Route) -> object:
    """What a route says to the shops, whichever rule gave it."""
    steps = tuple((step.place, step.department, step.operation, step.basis, step.extra) for step in route.steps)
    return steps, route.no_action


@dataclass(frozen=True, slots=True)
class Why:
    """The route of one item and the rule behind every step; `tried` says of each rule why it did or did not fit."""

    item: Item
    route: Route
    total: Total | None
    tried: tuple[Because, ...]
    problems: tuple[str, ...]
    stands: bool


def why(office: Office, number: str) -> Why:
    """Explain the route of an item, whether it has been written yet or not."""
    with office.book.reading():
        standing = find_item(office, number)
        picture = as_it_stands(office)
        allocator = Allocator(picture.standards)
        route = allocator.unnumbered(standing.item)
        problems = route_problems(standing.item, picture.standards)
        total = picture.roll_up.of(standing.item.number)
        off = picture.totals.get(number_key(standing.item.number))
        stands = not standing.item.is_line or picture.routes.get(number_key(number)) == route
        return Why(
            standing.item,
            numbered(route, off) if off is not None else route,
            total,
            allocator.explain(standing.item, total),
            problems,
            stands,
        )
