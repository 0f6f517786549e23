"""The roll-up against exercises of others and against networkx, which knows nothing of our way of reckoning."""

from __future__ import annotations

from math import prod

import networkx
import pytest
from hypothesis import given

from specreg.core.model import Item
from specreg.core.quantities import OffKind
from specreg.core.roll_up import roll_up
from tests.strategies import Specified, item, orders

ONE_MACHINE = ("1",)


def counts(items: list[Item], machines: tuple[str, ...]) -> dict[str, int | None]:
    return {total.number: total.off for total in roll_up(items, machines).totals.values()}


def test_two_levels_at_once() -> None:
    # Question seen at www.solutioninn.com ("product A consists of two units of subassembly B, three ...") and at
    # quesba.com 605414: A = 2B + 3C + 1D; B = 4E + 3F; C = 2H + 3D; H = 5E + 2G; make 100 A. The answer is computed.
    # D and E stand at two levels: a roll-up that visits a part once, or adds direct parents only, fails.
    found = counts(
        [
            item("A", "100 per order"),
            item("B", "2 per A"),
            item("C", "3 per A"),
            item("D", "1 per A, 3 per C"),
            item("E", "4 per B, 5 per H"),
            item("F", "3 per B"),
            item("G", "2 per H"),
            item("H", "2 per C"),
        ],
        ONE_MACHINE,
    )
    assert found == {"A": 100, "B": 200, "C": 300, "D": 1000, "E": 3800, "F": 600, "G": 1200, "H": 600}


def test_the_exercise_whose_published_solution_is_wrong() -> None:
    # As above but C = 2H + 2D and H = 6E + 2G, seen at study.com/academy/answer/product-a-consists-of-two-units-of-
    # subassembly-b. The solution there takes B as 3 per A, and so comes to B 300 and F 900; the question says 2.
    found = counts(
        [
            item("A", "100 per order"),
            item("B", "2 per A"),
            item("C", "3 per A"),
            item("D", "1 per A, 2 per C"),
            item("E", "4 per B, 6 per H"),
            item("F", "3 per B"),
            item("G", "2 per H"),
            item("H", "2 per C"),
        ],
        ONE_MACHINE,
    )
    assert found == {"A": 100, "B": 200, "C": 300, "D": 700, "E": 4400, "F": 600, "G": 1200, "H": 600}
    assert (found["B"], found["F"]) != (300, 900)


def test_three_routes_to_one_part() -> None:
    # Question seen at www.premiumessaywritingservice.com/operation-planning/: A = 2B + 1C + 3D; B = 2D + 1E + 1F;
    # C = 2E; D = 1E + 1F; make 100 A. The answer is computed.
    found = counts(
        [
            item("A", "100 per order"),
            item("B", "2 per A"),
            item("C", "1 per A"),
            item("D", "3 per A, 2 per B"),
            item("E", "1 per B, 2 per C, 1 per D"),
            item("F", "1 per B, 1 per D"),
        ],
        ONE_MACHINE,
    )
    assert found == {"A": 100, "B": 200, "C": 100, "D": 700, "E": 1100, "F": 900}


def test_the_same_exercise_per_machine_of_a_hundred() -> None:
    # The same question and source, with A one per machine of a hundred machines: the numbers must not differ.
    machines = tuple(str(number) for number in range(1, 101))
    found = counts(
        [
            item("A", "1 per machine"),
            item("B", "2 per A"),
            item("C", "1 per A"),
            item("D", "3 per A, 2 per B"),
            item("E", "1 per B, 2 per C, 1 per D"),
        ],
        machines,
    )
    assert found == {"A": 100, "B": 200, "C": 100, "D": 700, "E": 1100}


def test_spare_studs_per_engine_are_an_item_per_engine() -> None:
    # Constructed example, no published source: 3 machines of 2 engines of 4 covers of 12 studs, and one spare stud an
    # engine: 3 × 2 × (4 × 12 + 1) = 294 studs. A spare for each engine is counted per engine.
    found = counts(
        [
            item("1.1", "2 per machine", title="engine"),
            item("1.2", "4 per 1.1", title="cover"),
            item("1.3", "12 per 1.2, 1 per 1.1", title="stud"),
        ],
        ("1", "2", "3"),
    )
    assert found == {"1.1": 6, "1.2": 24, "1.3": 294}


def test_spare_studs_per_machine_by_the_spares_field() -> None:
    # The same constructed example with the spares given per machine, 2 engines on each.
    found = roll_up(
        [
            item("1.1", "2 per machine"),
            item("1.2", "4 per 1.1"),
            item("1.3", "12 per 1.2", spares="2 per machine"),
        ],
        ("1", "2", "3"),
    ).of("1.3")
    assert found is not None
    assert found.working == "12 × 4 × 2 × 3 + 2 × 3 = 294"


@given(orders(uncounted=False, limited=False))
def test_against_networkx(drawn: Specified) -> None:
    """Every path from the machines or the order down to an item, found and multiplied by networkx."""
    live = {one.number: one for one in drawn.items if one.is_line}
    graph = networkx.DiGraph()
    for one in live.values():
        for part in one.off.split(", "):
            count, per = part.split(" per ")
            graph.add_edge(per, one.number, count=int(count))
    if not networkx.is_directed_acyclic_graph(graph):
        pytest.fail("the drawn order has a loop")
    lost = {one.number for one in drawn.items} - set(live)
    for total in roll_up(drawn.items, drawn.machines).totals.values():
        if lost & networkx.ancestors(graph, total.number):
            assert total.off is None
            continue
        pieces = {"machine": 0, "order": 0}
        for top in pieces.keys() & set(graph):
            for path in networkx.all_simple_paths(graph, top, total.number):
                pieces[top] += prod(graph.edges[edge]["count"] for edge in networkx.utils.pairwise(path))
        assert total.kind is OffKind.COUNT
        assert total.off == pieces["machine"] * len(drawn.machines) + pieces["order"] + total.spares
