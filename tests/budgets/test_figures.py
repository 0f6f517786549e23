"""Figures of the budgets: medians, the 95th of a hundred, ratios, the table; and that a small order can be measured."""

from __future__ import annotations

import json

import pytest

from tests.budgets.figures import Figure, nearest_rank, table
from tests.budgets.measure import main


def test_median_p95_and_ratio() -> None:
    figure = Figure("a work", tuple(float(one) for one in range(1, 101)), "a peer", (10.0, 30.0, 20.0))
    assert (figure.median, figure.p95, figure.peer_median, figure.ratio) == (50.5, 95.0, 20.0, 2.525)


def test_few_runs_have_no_p95_and_no_peer_gives_no_ratio() -> None:
    figure = Figure("a work", (1.0, 2.0, 3.0))
    assert (figure.median, figure.p95, figure.ratio) == (2.0, None, None)


@pytest.mark.parametrize(("share", "value"), [(0.0, 1.0), (0.5, 2.0), (0.95, 4.0), (1.0, 4.0)])
def test_nearest_rank(share: float, value: float) -> None:
    assert nearest_rank((4.0, 1.0, 3.0, 2.0), share) == value


def test_a_table_says_what_was_left_out_and_why() -> None:
    said = table([Figure("one", (0.02,), must="1 s"), Figure("two", (), left_out="too great an order")])
    assert said.splitlines()[1].split() == ["one", "20.00", "ms", "1", "s"]
    assert "too great an order" in said.splitlines()[2]


@pytest.mark.slow
def test_all_budgets_of_a_small_order_are_measured(capsys: pytest.CaptureFixture[str]) -> None:
    main(["--items", "120", "--json"])
    said = json.loads(capsys.readouterr().out)
    assert said["items"] >= 120
    for figure in said["figures"]:
        assert figure["left_out"] or figure["median"] > 0, figure["work"]
