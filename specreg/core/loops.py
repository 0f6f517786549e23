"""Items that are counted per one another in a ring: which stand on one, and the shortest way round.

Only places and the parents of each place are known here, so that the search can be checked by itself.
"""

from __future__ import annotations

from collections.abc import Sequence

Parents = Sequence[Sequence[int]]
"""For each place the places that it is counted per."""

SEARCHED_LOOP = 100
"""In a ring of more items than this, one loop is found for all: one for each would cost the square of the ring."""


def find_loops(left: Sequence[int], parents: Parents) -> tuple[list[list[int]], dict[int, int]]:
    """The loops among the places `left`, and for each place that stands on a loop which of them to name for it.

    A loop runs from a place to the one it is counted per and so on; its first place is not repeated at the end.
    """
    loops: list[list[int]] = []
    named: dict[int, int] = {}
    for ring in _rings(left, parents):
        members = set(ring)
        found: dict[int, int] = {}
        for place in ring:
            if place in found:
                continue
            if found and len(ring) > SEARCHED_LOOP:
                found[place] = len(loops) - 1
                continue
            loop = _loop_through(place, members, parents)
            found.update({stands: len(loops) for stands in loop if stands not in found})
            loops.append(loop)
        named.update({place: found[place] for place in ring})
    return loops, named


def _rings(left: Sequence[int], parents: Parents) -> list[list[int]]:
    """The sets of items that can all be reached from one another: strongly connected components that hold a loop.

    Tarjan's algorithm (R. Tarjan, SIAM J. Comput. 1, 1972, from memory), with a stack of its own for any depth.
    """
    within = set(left)
    order: dict[int, int] = {}
    lowest: dict[int, int] = {}
    open_places: list[int] = []
    is_open: set[int] = set()
    rings: list[list[int]] = []
    for start in left:
        if start in order:
            continue
        order[start] = lowest[start] = len(order)
        open_places.append(start)
        is_open.add(start)
        climb = [(start, iter(parents[start]))]
        while climb:
            place, above = climb[-1]
            for parent in above:
                if parent not in within:
                    continue
                if parent not in order:
                    order[parent] = lowest[parent] = len(order)
                    open_places.append(parent)
                    is_open.add(parent)
                    climb.append((parent, iter(parents[parent])))
                    break
                if parent in is_open:
                    lowest[place] = min(lowest[place], order[parent])
            else:
                climb.pop()
                if climb:
                    lowest[climb[-1][0]] = min(lowest[climb[-1][0]], lowest[place])
                if lowest[place] == order[place]:
                    cut = _last_place(open_places, place)
                    ring = open_places[cut:]
                    del open_places[cut:]
                    is_open.difference_update(ring)
                    if len(ring) > 1 or place in parents[place]:
                        rings.append(sorted(ring))
    return rings


def _last_place(places: list[int], wanted: int) -> int:
    cut = len(places) - 1
    while places[cut] != wanted:
        cut -= 1
    return cut


def _loop_through(place: int, members: set[int], parents: Parents) -> list[int]:
    """A shortest loop through an item, from it to the item it is counted per and so on, within its ring."""
    came_from: dict[int, int] = {}
    front = [place]
    while front:
        following: list[int] = []
        for here in front:
            for parent in parents[here]:
                if parent == place:
                    loop = [here]
                    while loop[-1] != place:
                        loop.append(came_from[loop[-1]])
                    return loop[::-1]
                if parent in members and parent not in came_from:
                    came_from[parent] = here
                    following.append(parent)
        front = following
    return [place]
