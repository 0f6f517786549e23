"""The cutting list of the order on the desk: at a revision, or as it stands; planned group by group."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from specreg.core.counts import so_many
from specreg.core.cutting_list import (
    CutGroup,
    CuttingList,
    CuttingWanted,
    LeftOut,
    cutting_wanted,
    those_like,
)
from specreg.core.errors import NotFound
from specreg.core.measures.records import NotRead
from specreg.core.picture import Picture
from specreg.core.stock.alike import is_named
from specreg.services.comparing import name_of, revision_named
from specreg.services.office import Office
from specreg.services.pictures import Pictures

SECONDS_OF_A_GROUP = 4.0
"""So long one group is bettered at most; then the best plan found stands, and says how far it is proved."""
MOST_NAMED = 30
"""So many names of stock are told where none fits."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be cut, not yet planned, with the state it is of (`B`, or `open`) and the order as that says it."""

    state: str
    picture: Picture
    groups: tuple[CuttingWanted, ...]
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True, slots=True)
class Listed:
    """A cutting list with the state it is of (`B`, or `open`) and the order as that says it."""

    state: str
    picture: Picture
    cutting_list: CuttingList


def cutting_list_at(
    office: Office,
    at: str = "",
    like: str = "",
    stopped: Callable[[], bool] = lambda: False,
    told: Callable[[str, int, int], None] = lambda _what, _done, _of: None,
) -> Listed:
    """The cutting list at a revision, by letter, or the last issued; `open` means the order as it stands.

    `like` are words of the stock it is wanted for, empty for all. `told` gets the stock being planned, the groups done
    and their number. `stopped` is asked often: once it says yes, the group in work keeps the best plan found, and those
    behind it have none. Raises NotFound for a revision, and for words that fit no stock.
    """
    wanted = wanted_at(office, at, like)
    groups = tuple(planned(wanted.groups, stopped, told))
    return Listed(wanted.state, wanted.picture, CuttingList(groups, wanted.left_out))


def wanted_at(office: Office, at: str = "", like: str = "") -> Wanted:
    """What is to be cut, as `cutting_list_at` plans it."""
    with office.book.reading():
        if not at and not office.revisions():
            raise NotFound(
                f"The cutting list of order {office.order_no}",
                "no revision of it is issued yet",
                "List it as it stands, with `--at open`",
            )
        revision = revision_named(office, at)
        picture = Pictures(office).of(revision)
    every, left_out = cutting_wanted(picture)
    groups, beside = those_like(every, left_out, like)
    if like.strip() and not groups and not beside:
        raise _nothing_like(like, every)
    return Wanted(name_of(revision), picture, groups, beside)


def planned(
    groups: Sequence[CuttingWanted],
    stopped: Callable[[], bool] = lambda: False,
    told: Callable[[str, int, int], None] = lambda _what, _done, _of: None,
    seconds: float = SECONDS_OF_A_GROUP,
) -> Iterator[CutGroup]:
    """Each group with its plan, as it is done; never half a plan: a group without a whole one has none."""
    from specreg.solvers.cutting_stock import Limits, cut_stock

    for done, group in enumerate(groups):
        if isinstance(group.rules, NotRead) or stopped():
            yield CutGroup(group, None)
            continue
        told(group.name, done, len(groups))
        plan = cut_stock(group.to_cut, group.rules, Limits(seconds), stopped)
        yield CutGroup(group, plan, was_stopped=not plan.is_proved and stopped())
    told("", len(groups), len(groups))


def _nothing_like(like: str, every: Sequence[CuttingWanted]) -> NotFound:
    form = " ".join(word for word in like.split() if word.isalpha())
    close = [one.name for one in every if is_named(one.name, form)]
    names = close or [one.name for one in every]
    there = "; ".join(names[:MOST_NAMED]) or "nothing that is cut to length"
    more = len(names) - MOST_NAMED
    beyond = f", and {so_many(more, 'other')}" if more > 0 else ""
    return NotFound(f"Stock like `{like}`", f"the order wants {there}{beyond}", "Give words of one of these names")
