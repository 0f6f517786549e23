"""Weights: can they be read, do they agree with each other and with the size, and has nearly every item one."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from specreg.core.counts import grouped, so_many
from specreg.core.faults import Fault, Severity
from specreg.core.model import Item
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.reckoning_standards import Reckoning
from specreg.core.stock.records import Disagreement, MassOfOne, NotReckoned
from specreg.core.take_off import lines_taken_off
from specreg.core.take_off_words import mass_of_one_words
from specreg.core.weighing import Standing

_GRAVE = 5
"""A stated weight so many times the one by size, or as small a part of it, is no matter of allowances."""

_MOST_WITHOUT = Fraction(1, 10)
"""The share of the items that may want a weight before the sums of an order are worth little."""


def weights_read(picture: Picture) -> Iterator[Fault]:
    """A Weight or Rough weight that says something is a weight; one without any figure is no more than a gap."""
    for item, one in reckoned(picture):
        if isinstance(one, MassOfOne):
            continue
        refused = {refusal.written: refusal for refusal in one.refusals}
        for label, said in (("Weight", item.weight), ("Rough weight", item.rough_weight)):
            if said and said in refused:
                has_figures = any(sign.isnumeric() for sign in said)
                yield Fault(
                    "weight not read",
                    Severity.ERROR if has_figures else Severity.WARNING,
                    item.number,
                    f"{item.number}, {label}: {refused[said]}",
                )


def finished_under_rough(picture: Picture) -> Iterator[Fault]:
    """Nothing weighs more when it is finished than what it was made from."""
    for item, one in _weighed(picture):
        finished, rough = one.finished, one.rough
        if finished is not None and rough is not None and finished.value > rough.value:
            yield Fault(
                "weight over rough weight",
                Severity.ERROR,
                item.number,
                f"{item.number}: the Weight {finished.written} is more than the Rough weight {rough.written}, from "
                "which it is made; look which of the two is right.",
            )


def stated_agrees_with_size(picture: Picture) -> Iterator[Fault]:
    """A stated weight is near the one that size and material give; the house says how near."""
    for item, one in _weighed(picture):
        apart, by_size = one.disagreement, one.by_size
        stated, label = (one.finished, "Weight") if one.finished is not None else (one.rough, "Rough weight")
        if apart is None or by_size is None or stated is None:
            continue
        other = mass_of_one_words(by_size.mass, picture.order.units)
        text = f"{item.number}, {label} {stated.written}, by size {other}: {apart.text}"
        yield Fault(
            "weight against size",
            Severity.ERROR if _is_a_slip(apart) else Severity.WARNING,
            item.number,
            f"{text}{'' if text.endswith('?') else '.'} Look at the weight, the size and the material.",
        )


def few_without_weight(picture: Picture) -> Iterator[Fault]:
    """Of the items that should have a weight, few have none; a works without rules for masses is not asked."""
    # A take-off costs more than all these checks together, and most orders show without it that few can be wanting.
    if picture.standards.reckoning == Reckoning() or not _many_may_want_a_weight(picture):
        return
    standings = [line.standing for line in lines_taken_off(picture)]
    without = standings.count(Standing.NO_WEIGHT)
    if without > len(standings) * _MOST_WITHOUT:
        share = round(Fraction(100 * without, len(standings)))
        yield Fault(
            "items without weight",
            Severity.WARNING,
            "",
            f"{so_many(without, 'item')} of {grouped(len(standings))} ({share} %) should have a weight and have none: "
            "state it, or write sizes that can be reckoned. `specreg take-off --items` names them.",
        )


def reckoned(picture: Picture) -> Iterator[tuple[Item, MassOfOne | NotReckoned]]:
    """Every line with the mass of one piece; of a number used twice the first, of which that mass is."""
    told: set[str] = set()
    for item in picture.lines:
        key = number_key(item.number)
        if key not in told:
            told.add(key)
            yield item, picture.masses[key]


def _weighed(picture: Picture) -> Iterator[tuple[Item, MassOfOne]]:
    return ((item, one) for item, one in reckoned(picture) if isinstance(one, MassOfOne))


def _many_may_want_a_weight(picture: Picture) -> bool:
    """Whether more than few could: every counted line without a mass, but what others are seen to be counted per."""
    counted = {key for key, total in picture.totals.items() if total.off is not None}
    parents = {number_key(item.per) for item in picture.lines if item.per and number_key(item.number) in counted}
    lines = may_want = 0
    for item, one in reckoned(picture):
        key = number_key(item.number)
        is_head = key in parents and not item.material and not item.size
        may_want += isinstance(one, NotReckoned) and not is_head and key in counted
        lines += 1
    return may_want > lines * _MOST_WITHOUT


def _is_a_slip(apart: Disagreement) -> bool:
    return apart.near_units or apart.ratio is None or apart.ratio >= _GRAVE


WEIGHTS = (weights_read, finished_under_rough, stated_agrees_with_size, few_without_weight)
