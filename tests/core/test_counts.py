"""Numbers with their nouns."""

from __future__ import annotations

import pytest

from specreg.core.counts import so_many


@pytest.mark.parametrize(
    ("number", "said"),
    [(0, "0 rows"), (1, "1 row"), (2, "2 rows"), (1204, "1 204 rows")],
)
def test_one_alone_is_singular(number: int, said: str) -> None:
    assert so_many(number, "row") == said


def test_a_plural_may_be_given() -> None:
    assert [so_many(number, "entry", "entries") for number in (1, 2)] == ["1 entry", "2 entries"]
