"""The notation of routes: what is read, and what is told of what cannot be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.route_notation import parse_route
from specreg.core.standards import House, Standards
from tests.strategies import CODES, DEPARTMENTS, route_texts

WORKS = Standards(House("Practice works"), DEPARTMENTS)


def test_a_route_of_figures() -> None:
    steps, problems = parse_route("PAT 1; FDY 17+1; MCH 17; ERE 12 & STO 5", WORKS)
    assert problems == ()
    assert [(s.place, s.department, s.operation, s.basis, s.extra) for s in steps] == [
        (1, "PAT", "make pattern", "1", 0),
        (2, "FDY", "cast", "17", 1),
        (3, "MCH", "machine", "17", 0),
        (4, "ERE", "erect", "12", 0),
        (4, "STO", "put by", "5", 0),
    ]


def test_a_route_with_operations_and_words_for_numbers() -> None:
    text = "PAT make loose pieces 1; fdy all + 1; MCH drill 4 holes; MCH bore +2; ERE machines & STO put away spares"
    steps, problems = parse_route(text, WORKS)
    assert problems == ()
    assert [(s.place, s.department, s.operation, s.basis, s.extra) for s in steps] == [
        (1, "PAT", "make loose pieces", "1", 0),
        (2, "FDY", "cast", "all", 1),
        (3, "MCH", "drill 4 holes", "all", 0),
        (4, "MCH", "bore", "all", 2),
        (5, "ERE", "erect", "machines", 0),
        (5, "STO", "put away", "spares", 0),
    ]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("PAT 1; FOU 17", "step 2 of the route: there is no department `FOU`; the works has PAT, FDY"),
        ("PAT 1;", "step 2 of the route: nothing stands there"),
        ("PAT & ; FDY", "step 1 of the route: nothing stands there"),
        ("FDY cast 1.5", "no number that can be read"),
        ("FDY -3", "no number that can be read"),
        ("FDY 17+", "no number that can be read"),
        ("FDY 17+x", "no number that can be read"),
        ("FDY all+x", "no number that can be read"),
        ("FDY 17 cast", "no number that can be read"),
        ("FDY machines cast", "no number that can be read"),
        ("FDY cast 3 4", "no number that can be read"),
        ("FDY 0", "a step for nought"),
        ("FDY ½", "no number that can be read"),
    ],
)
def test_what_cannot_be_read_names_the_step_and_what_to_write(text: str, fault: str) -> None:
    steps, problems = parse_route(text, WORKS)
    assert len(problems) == 1
    assert fault in problems[0]
    assert len(steps) < len(text.replace("&", ";").split(";"))


def test_every_fault_of_a_route_is_told() -> None:
    assert len(parse_route("XXX; ; FDY 1.5", WORKS)[1]) == 3
    assert parse_route("  ", WORKS) == ((), ())


@given(route_texts())
def test_sound_routes_are_read_whole(text: str) -> None:
    steps, problems = parse_route(text, WORKS)
    assert problems == ()
    assert len(steps) == len(text.replace("&", ";").split(";"))
    assert sorted({step.place for step in steps}) == list(range(1, text.count(";") + 2))


@given(st.text(alphabet="PATFDYall mchines+1234;&. ½-", max_size=30))
def test_any_text_is_steps_or_sentences(text: str) -> None:
    steps, problems = parse_route(text, WORKS)
    assert len(steps) + len(problems) == (len(text.replace("&", ";").split(";")) if text.strip() else 0)
    assert all(step.department in CODES and step.operation for step in steps)
