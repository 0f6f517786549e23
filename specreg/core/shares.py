"""Shares: every live step of every live item, given to its department, and the proof that nothing was lost.

A line is one (live item, step). A department may come twice on a route and then has two lines, told apart by the
visit. The proof counts the steps from the routes and the lines from the shares, each by itself.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from specreg.core.extracts import Reconciliation
from specreg.core.faults import Fault, Severity
from specreg.core.model import Item, Route, Step
from specreg.core.numbering import number_key
from specreg.core.quantities import Reckoned

Routed = Iterable[tuple[Item, Route]]
"""Items with their routes; headings, clauses and items not live are passed over."""

LineKey = tuple[str, str, int]
"""What makes a line the same one at another revision: the item's `number_key`, the department, its nth visit."""


@dataclass(frozen=True, slots=True)
class Line:
    """One step of one live item in its department's share.

    `visit` counts the department's steps on this route from 1; `came_from` and `goes_to` are the departments of the
    places before and after, empty at the ends.
    """

    item: Item
    step: Step
    key: str
    visit: int
    came_from: tuple[str, ...] = ()
    goes_to: tuple[str, ...] = ()

    @property
    def department(self) -> str:
        """The department's code."""
        return self.step.department

    @property
    def identity(self) -> LineKey:
        """What makes it the same line at another revision."""
        return self.key, self.step.department, self.visit

    @property
    def said(self) -> tuple[object, ...]:
        """All that the department reads in this line: a line that says the same is not altered for it.

        How the number off was reckoned and where the item goes elsewhere are not in it, unless the item has no count.
        """
        item, step = self.item, self.step
        uncounted = (item.off, item.per, item.spares) if step.off is None else ()
        return (
            *(item.number, item.title, item.text, item.machines, item.hand, item.part, item.material, item.size),
            *(item.rough_weight, item.weight, item.drawing, item.pattern, item.supply, item.clearance, item.safety),
            *(item.wanted, item.remarks, item.other),
            *(step.operation, step.off, step.extra, self.came_from, self.goes_to, uncounted),
        )


@dataclass(frozen=True, slots=True)
class ShareChanges:
    """What changed between two shares: `altered` holds (line before, line now).

    Lines before + added − withdrawn = lines now; the lines now are the added, the altered and the standing.
    """

    added: tuple[Line, ...] = ()
    altered: tuple[tuple[Line, Line], ...] = ()
    withdrawn: tuple[Line, ...] = ()
    standing: tuple[Line, ...] = ()

    @property
    def any(self) -> bool:
        """Whether anything changed for the department."""
        return bool(self.added or self.altered or self.withdrawn)


def lines_of(item: Item, route: Route) -> tuple[Line, ...]:
    """The lines of one item in the order of its route; none for what is no live item."""
    if not item.is_line:
        return ()
    key = number_key(item.number)
    at: dict[int, tuple[str, ...]] = {}
    for step in route.steps:
        at[step.place] = (*at.get(step.place, ()), step.department)
    visits: Counter[str] = Counter()
    lines: list[Line] = []
    for step in route.steps:
        visits[step.department] += 1
        before, after = at.get(step.place - 1, ()), at.get(step.place + 1, ())
        lines.append(Line(item, step, key, visits[step.department], before, after))
    return tuple(lines)


def shares(routed: Routed) -> dict[str, tuple[Line, ...]]:
    """Each department's lines, in the order of the items and within an item of its route.

    A department without lines has no entry: its nil share is made from the works' list of departments.
    """
    split: dict[str, list[Line]] = {}
    for item, route in routed:
        for line in lines_of(item, route):
            split.setdefault(line.department, []).append(line)
    return {department: tuple(lines) for department, lines in split.items()}


def reconcile(
    routed: Routed, totals: Mapping[str, Reckoned], split: Mapping[str, Sequence[Line]] | None = None
) -> Reconciliation:
    """Hold the shares against the whole: steps counted from the routes, lines from the shares `split` holds.

    `totals` by `number_key`. Without `split` the order is split here. Pieces are added up over items that are counted
    and have no reason for no action: what the order wants, and what their final steps deliver without the extra.
    """
    pairs = [(item, route) for item, route in routed if item.is_line]
    held = shares(pairs) if split is None else split
    steps = allocated = no_action = final_off = order_off = 0
    for item, route in pairs:
        steps += len(route.steps)
        allocated += bool(route.steps)
        no_action += not route.steps and bool(route.no_action)
        total = totals.get(number_key(item.number))
        if total is not None and total.off is not None and (route.steps or not route.no_action):
            order_off += total.off
            final_off += sum(step.off or 0 for step in final_steps(route))
    return Reconciliation(
        items=len(pairs),
        allocated=allocated,
        no_action=no_action,
        unallocated=len(pairs) - allocated - no_action,
        steps=steps,
        in_shares=sum(len(lines) for lines in held.values()),
        final_off=final_off,
        order_off=order_off,
    )


def final_steps(route: Route) -> tuple[Step, ...]:
    """The steps at the last place of a route: they put the item into the machine or into stores."""
    if not route.steps:
        return ()
    last = max(step.place for step in route.steps)
    return tuple(step for step in route.steps if step.place == last)


def off_faults(routed: Routed, totals: Mapping[str, Reckoned]) -> tuple[Fault, ...]:
    """An error for each counted item whose final steps do not deliver the pieces the order wants of it."""
    return tuple(_off_faults(routed, totals))


def _off_faults(routed: Routed, totals: Mapping[str, Reckoned]) -> Iterator[Fault]:
    for item, route in routed:
        total = totals.get(number_key(item.number)) if item.is_line and route.steps else None
        if total is None or total.off is None:
            continue
        final = final_steps(route)
        delivered = sum(step.off or 0 for step in final)
        if delivered != total.off:
            said = " and ".join(f"{step.department} {step.off}" for step in final)
            text = (
                f"{item.number}: the order wants {total.off}, and its final steps deliver {delivered} ({said}): "
                "correct the numbers of the route or the number off"
            )
            yield Fault("final steps do not add up", Severity.STOP, item.number, text)


def split_faults(routed: Routed, split: Mapping[str, Sequence[Line]]) -> tuple[Fault, ...]:
    """A stop for each line that does not stand in exactly one share: lost, doubled, or in another's share.

    A count alone would be content with one line lost and another doubled.
    """
    wanted = Counter(_whole(item, step) for item, route in routed if item.is_line for step in route.steps)
    held: Counter[_Whole] = Counter()
    faults: list[Fault] = []
    for department, lines in split.items():
        for line in lines:
            held[_whole(line.item, line.step)] += 1
            if line.department != department:
                faults.append(_split_fault(line.item.number, line.step, f"stands in the share of {department}"))
    for (number, step), count in wanted.items():
        if held[(number, step)] < count:
            faults.append(_split_fault(number, step, "stands in no share"))
    for (number, step), count in held.items():
        if count > wanted[(number, step)]:
            said = "stands in a share more than once" if (number, step) in wanted else "stands on no route"
            faults.append(_split_fault(number, step, said))
    return tuple(faults)


_Whole = tuple[str, Step]


def _whole(item: Item, step: Step) -> _Whole:
    return item.number, step


def _split_fault(number: str, step: Step, said: str) -> Fault:
    text = f"{number}: step {step.place}, {step.department} {step.operation}, {said}: split the order again"
    return Fault("line lost or doubled", Severity.STOP, number, text)


def share_changes(old_lines: Iterable[Line], new_lines: Iterable[Line]) -> ShareChanges:
    """What changed between two shares, by (item, department, nth visit of that department).

    A line moved to another department is withdrawn there and added here; one that says something else is altered.
    """
    old, new = _numbered(old_lines), _numbered(new_lines)
    added: list[Line] = []
    altered: list[tuple[Line, Line]] = []
    standing: list[Line] = []
    for identity, line in new.items():
        before = old.get(identity)
        if before is None:
            added.append(line)
        elif before.said != line.said:
            altered.append((before, line))
        else:
            standing.append(line)
    withdrawn = tuple(line for identity, line in old.items() if identity not in new)
    return ShareChanges(tuple(added), tuple(altered), withdrawn, tuple(standing))


def _numbered(lines: Iterable[Line]) -> dict[tuple[LineKey, int], Line]:
    """Lines by identity; lines of one identity (an item number used twice) are told apart by their order."""
    seen: Counter[LineKey] = Counter()
    found: dict[tuple[LineKey, int], Line] = {}
    for line in lines:
        found[(line.identity, seen[line.identity])] = line
        seen[line.identity] += 1
    return found
