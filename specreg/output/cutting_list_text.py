"""A cutting list as text for the shop: stock by stock the pieces and the bars, then the bars of all, 80 signs wide.

A length is never rounded into another one: what feet and inches cannot hold exactly is written in decimals.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from specreg.core.counts import grouped, so_many
from specreg.core.cutting import CuttingPlan, CuttingRules, Pattern
from specreg.core.cutting_list import CutGroup, CuttingList, CuttingWanted, LeftOut, PiecesOfLength, Reason
from specreg.core.exact_sums import sum_of
from specreg.core.model import Order
from specreg.core.take_off_words import (
    COLUMN_UNITS,
    IMPERIAL,
    length_words,
    mass_in_column,
    mass_words,
    stock_length,
)
from specreg.output.fixed_pitch import beside, hung, wrapped
from specreg.output.headings import heading

NOTHING = "–"
_COLUMNS = (31, 22, 8, 16)
"""Stock, bars, pieces, weight: with three gaps the width of the paper."""
_TOLD_ONE_BY_ONE = (Reason.NOT_READ, Reason.NO_COUNT)
"""What is left out for a reason that somebody can put right."""
_GLUE = "\N{NO-BREAK SPACE}"


def cutting_list_text(
    found: CuttingList, order: Order, state: str, today: str, cautions: Sequence[str], like: str = ""
) -> str:
    """The whole list: every stock by itself, the bars of all stock, what is left out, the cautions of the works.

    `state` is a revision's letter, or `open` for the order as it stands; `like` the words the stock was asked by.
    """
    parts = [
        _head(found, order, state, today, like),
        *(_group(one, order.units) for one in found.groups),
        _every_bar(found.groups, order.units),
        _left_out(found, like),
        [line for caution in cautions for line in hung("Caution: ", caution)],
    ]
    return "\n\n".join("\n".join(part) for part in parts if part).replace(_GLUE, " ")


def _whole(text: str) -> str:
    """The text as one word, so that no line ends within it."""
    return text.replace(" ", _GLUE)


def _head(found: CuttingList, order: Order, state: str, today: str, like: str) -> list[str]:
    lines = hung("", heading("Cutting list", order, state, today))
    if like:
        lines += hung("", f"Only stock like `{like.strip()}`.")
    lines += hung("", "Lengths as the specification gives them: nothing is added for facing.")
    if found.was_stopped:
        behind = sum(isinstance(one.wanted.rules, CuttingRules) for one in found.not_planned)
        lines += hung("", f"STOPPED BEFORE THE END: {so_many(behind, 'stock')} of {len(found.groups)} not planned.")
    return lines


def _group(group: CutGroup, units: str) -> list[str]:
    """One stock: how it is cut, its pieces, its bars, and how far they are proved the fewest."""
    wanted = group.wanted
    lines = [*hung("", wanted.name), *_rule(wanted, units), *_pieces(wanted.pieces, units)]
    if wanted.too_long:
        lines += ["  Longer than any bar gives, NOT in the plan:", *_pieces(wanted.too_long, units)]
    lines += [line for doubt in wanted.doubts for line in hung("  ~ ", doubt)]
    if group.plan is None:
        return [*lines, *hung("  No plan: ", group.why_no_plan)]
    if not group.plan.patterns:
        return lines
    lines += [line for pattern in group.plan.patterns for line in _pattern(pattern, units)]
    weight = "" if group.mass is None else f"; weight {mass_words(group.mass, units)}"
    lines += hung("  = ", f"{_proof(group, group.plan, units)}{weight}")
    by_length = group.bars_by_length
    if by_length is not None and by_length < group.plan.bars:
        said = f"The plain sum of the lengths says {grouped(by_length)}; cutting says {grouped(group.plan.bars)}."
        lines += hung("    ", said)
    return lines


def _rule(wanted: CuttingWanted, units: str) -> Iterator[str]:
    """How the stock is cut: bars, kerf, end trim, chuck grip, what is kept, and what the rule rests on."""
    rules = wanted.rules
    if not isinstance(rules, CuttingRules):
        return
    said = [_whole(f"bars of {' or '.join(stock_length(one, units) for one in sorted(set(rules.stock)))}")]
    for name, length in (("kerf", rules.kerf), ("end trim", rules.end_trim), ("chuck grip", rules.chuck_grip)):
        said.append(_whole(f"{name} {length_words(length, units)}" if length else f"no {name}"))
    kept = f"from {stock_length(rules.keep_offcut, units)}" if rules.keep_offcut else "all"
    yield from hung("  ", ", ".join([*said, _whole(f"offcuts kept {kept}")]))
    if wanted.rule is not None and wanted.rule.basis:
        yield from hung("  rule: ", wanted.rule.basis)


def _pieces(pieces: Sequence[PiecesOfLength], units: str) -> Iterator[str]:
    """A line a length: how many, how long, and which items want how many of them."""
    numbers = [grouped(one.number) for one in pieces]
    lengths = [length_words(one.length, units) for one in pieces]
    wide, long = max(map(len, numbers), default=0), max(map(len, lengths), default=0)
    for one, number, length in zip(pieces, numbers, lengths, strict=True):
        alone = len(one.items) == 1
        items = (_whole(i.item.number if alone else f"{i.item.number} ({grouped(i.number)})") for i in one.items)
        yield from hung(f"  {number.rjust(wide)} off  {length.rjust(long)}  for ", ", ".join(items))


def _pattern(pattern: Pattern, units: str) -> list[str]:
    cut = [_whole(f"{grouped(number)} × {length_words(length, units)}") for _, length, number in pattern.pieces]
    end = "no offcut"
    if pattern.offcut:
        kept = "kept" if pattern.is_kept else "scrap"
        end = _whole(f"offcut {length_words(pattern.offcut, units)} ({kept})")
    return hung(f"  {grouped(pattern.times)} × {stock_length(pattern.stock, units)}: ", f"{' + '.join(cut)}; {end}")


def _proof(group: CutGroup, plan: CuttingPlan, units: str) -> str:
    """How many bars, and how far no plan can do with fewer; with several stock lengths, with less stock."""
    bars = so_many(plan.bars, "bar")
    stopped = "; stopped before more was tried" if group.was_stopped else ""
    if plan.least_bars is not None:
        if plan.is_proved:
            return f"{bars}; no plan can do with fewer"
        least = grouped(plan.least_bars)
        return f"{bars}; at least {least}: gap {grouped(plan.bars - plan.least_bars)}{stopped}"
    bought, least, gap = (stock_length(one, units) for one in (plan.bought, plan.least, plan.gap))
    if plan.is_proved:
        return f"{bars}, {bought} of stock; no plan can do with less"
    return f"{bars}, {bought} of stock; at least {least}: gap {gap}{stopped}"


def _every_bar(groups: Sequence[CutGroup], units: str) -> list[str]:
    """The bars of all stock, a row each, and their sum; what has no plan stands there too."""
    if not groups:
        return []
    weight = f"Weight {COLUMN_UNITS}" if units == IMPERIAL else "Weight"
    heads = _row("Bars by like stock", "Bars", "Pieces", weight)
    rows = [line for one in groups for line in _bars_of(one, units)]
    plans = [one.plan for one in groups if one.plan is not None]
    masses = [one.mass for one in groups if one.mass is not None]
    pieces = sum(piece.number for one in groups if one.plan for piece in one.wanted.pieces)
    total = _row(
        "All bars", grouped(sum(plan.bars for plan in plans)), grouped(pieces),
        mass_in_column(sum_of((mass, 1) for mass in masses), units) if masses else NOTHING,
    )  # fmt: skip
    return [*heads, *rows, *total, *_short_of(groups), "", *_weights_by(groups)]


def _bars_of(group: CutGroup, units: str) -> list[str]:
    plan, pieces = group.plan, sum(one.number for one in group.wanted.pieces)
    mass = mass_in_column(group.mass, units) if group.mass is not None else NOTHING
    if plan is None:
        return _row(group.wanted.name, "no plan", grouped(group.wanted.number), NOTHING)
    bars = " + ".join(_whole(f"{grouped(number)} × {stock_length(one, units)}") for one, number in plan.bars_by_stock)
    return _row(group.wanted.name, bars or NOTHING, grouped(pieces), mass if plan.patterns else NOTHING)


def _row(name: str, bars: str, pieces: str, mass: str) -> list[str]:
    wide = _COLUMNS
    cells = [wrapped(name, wide[0]), [line.rjust(wide[1]) for line in wrapped(bars, wide[1])]]
    cells += [
        [line.rjust(width) for line in wrapped(text, width)] for text, width in ((pieces, wide[2]), (mass, wide[3]))
    ]
    return [line.rstrip() for line in beside(cells, wide, " ")]


def _short_of(groups: Sequence[CutGroup]) -> Iterator[str]:
    """What the sum of the bars is short of."""
    without = sum(one.plan is None for one in groups)
    if without:
        yield from hung("", f"{so_many(without, 'stock')} of {len(groups)} without a plan: not in these sums.")
    too_long = sum(one.number for group in groups for one in group.wanted.too_long)
    if too_long:
        yield from hung("", f"{so_many(too_long, 'piece')} longer than their stock: not in these sums.")
    no_weight = sum(one.plan is not None and bool(one.plan.patterns) and one.mass is None for one in groups)
    if no_weight:
        yield from hung("", f"{so_many(no_weight, 'stock')} without a weight: the weight is that much short.")


def _weights_by(groups: Sequence[CutGroup]) -> Iterator[str]:
    """What the weights rest on, or why there are none, once for all stock of which the same is said."""
    planned = [one for one in groups if one.plan is not None and one.plan.patterns]
    for basis in dict.fromkeys(one.wanted.basis for one in planned if one.mass is not None):
        yield from hung("Weight by: ", basis)
    for one in planned:
        if one.mass is None:
            yield from hung("No weight: ", f"{one.wanted.name}: {one.wanted.basis}")


def _left_out(found: CuttingList, like: str) -> list[str]:
    """How many items are left out for each reason; those that somebody can put right by their numbers."""
    if not found.left_out:
        return []
    of = "of such stock" if like else "of the order"
    lines = [f"Left out: {grouped(len(found.left_out))} of the {so_many(found.items, 'item')} {of}"]
    by_reason: dict[Reason, list[LeftOut]] = {reason: [] for reason in Reason}
    for one in found.left_out:
        by_reason[one.reason].append(one)
    for reason, some in by_reason.items():
        if not some:
            continue
        lead = f"  {grouped(len(some)).rjust(6)}  "
        if reason in _TOLD_ONE_BY_ONE or like:
            lines += [f"{lead}{reason}:", *_one_by_one(some)]
        else:
            forms = Counter(one.why for one in some) if reason is Reason.NOT_CUT else {}
            said = ", ".join(f"{form} {grouped(number)}" for form, number in forms.items())
            lines += hung(lead, f"{reason}: {said}" if said else str(reason))
    return lines


def _one_by_one(some: Iterable[LeftOut]) -> Iterator[str]:
    """The numbers of the items by what is said of them."""
    alike: dict[str, list[str]] = {}
    for one in some:
        alike.setdefault(": ".join(filter(None, (one.name, one.why))), []).append(one.item.number)
    for said, numbers in alike.items():
        items = ", ".join(map(_whole, numbers))
        yield from hung(" " * 10, f"{items}: {said}" if said else items)
