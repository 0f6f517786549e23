"""Loops among items counted per one another, held against walking from every place by itself."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.core.loops import SEARCHED_LOOP, find_loops

PARENTS = st.integers(1, 8).flatmap(
    lambda count: st.lists(st.lists(st.integers(0, count - 1), max_size=3).map(tuple), min_size=count, max_size=count)
)


def above(place: int, parents: list[tuple[int, ...]]) -> set[int]:
    """Every place that can be reached from this one by going up at least once."""
    reached: set[int] = set()
    front = {*parents[place]}
    while front:
        reached |= front
        front = {parent for one in front for parent in parents[one]} - reached
    return reached


@settings(deadline=None)
@given(PARENTS)
def test_a_place_that_can_be_reached_from_itself_names_a_loop_it_stands_on_and_no_other_does(
    parents: list[tuple[int, ...]],
) -> None:
    loops, named = find_loops(range(len(parents)), parents)
    assert set(named) == {place for place in range(len(parents)) if place in above(place, parents)}
    assert all(place in loops[which] for place, which in named.items())
    for loop in loops:
        assert len(set(loop)) == len(loop)
        assert all(parent in parents[place] for place, parent in zip(loop, [*loop[1:], loop[0]], strict=True))


def test_the_shortest_way_round_is_named() -> None:
    assert find_loops(range(4), [(1,), (2, 0), (3,), (0,)]) == ([[0, 1], [2, 3, 0, 1]], {0: 0, 1: 0, 2: 1, 3: 1})


def test_a_ring_of_very_many_names_one_loop_for_all() -> None:
    count = SEARCHED_LOOP + 1
    parents = [((place + 1) % count, place) for place in range(count)]
    loops, named = find_loops(range(count), parents)
    assert loops == [[0]]
    assert set(named.values()) == {0}
