"""A book with several orders: one is named, or the program asks which."""

from __future__ import annotations

import pytest

from tests.cli.shell import Shell
from tests.services.office_for_tests import tiny_order_folder


@pytest.fixture
def two(tiny: Shell) -> Shell:
    """The practice order W 611 and its sister W 612 in one book."""
    folder = tiny_order_folder(tiny.book.parent, into="sister", number="W 612", title="Sister cranes")
    tiny.ok("import", str(folder))
    return tiny


@pytest.mark.parametrize(
    "line",
    ["show 4.1.2", "check", "allocate", "alter 4.1.2 Off=3", "note list", "sign A", "issue", "extract FDY", "drawings",
     "history 4.1", "compare A", "undo", "set-aside", "export out"],
)  # fmt: skip
def test_a_command_that_needs_one_order_asks_which(two: Shell, line: str) -> None:
    words = two.no(2, *line.split())
    assert "Which order: the book holds 2: W 611, W 612" in words
    assert "--order" in words


def test_the_order_named_is_the_one_worked_on(two: Shell) -> None:
    two.ok("--order", "W 612", "alter", "4.1.2", "Off=30")
    shown = [two.ok("--order", order, "show", "4.1.2", "--json").json for order in ("W 611", "W 612")]
    assert [one["fields"]["Off"] for one in shown] == ["24", "30"]


def test_the_order_may_be_named_in_any_case_and_by_the_environment(two: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    assert two.ok("--order", "w 612", "show", "4.1", "--json").json["order"] == "W 612"
    from specreg.settings import settings_of

    assert settings_of(None, None, None, {"SPECREG_BOOK": "b", "SPECREG_ORDER": "W 612"}).order == "W 612"
    assert settings_of("c", "W 611", None, {"SPECREG_BOOK": "b", "SPECREG_ORDER": "W 612"}).order == "W 611"


def test_an_order_that_the_book_does_not_hold_is_refused_with_those_it_holds(two: Shell) -> None:
    assert "the book holds W 611, W 612" in two.no(2, "--order", "W 613", "check")


def test_finding_looks_in_every_order_and_says_in_which(two: Shell) -> None:
    hits = two.ok("find", "rack", "bolt", "--json").json["results"]
    found = {(one["order"], one["number"]) for one in hits if one["kind"] == "item"}
    assert {("W 611", "4.1.2"), ("W 612", "4.1.2")} <= found


def test_the_list_of_orders_needs_none(two: Shell) -> None:
    assert [one["order"] for one in two.ok("orders", "--json").json["orders"]] == ["W 611", "W 612"]
    assert two.ok("verify", "--json").json["differences"] == []


def test_a_shared_drawing_is_one_entry_of_the_register(two: Shell) -> None:
    called = two.ok("--order", "W 611", "show", "SL-1003", "--json").json["called_up_by"]
    assert {(one["order"], one["number"]) for one in called} == {("W 611", "4.1.2"), ("W 612", "4.1.2")}


def test_what_is_found_in_several_orders_says_in_which_and_in_one_order_it_need_not(two: Shell) -> None:
    assert "Rack bolt  [W 612, item, title, open]" in two.ok("find", "rack bolt").out
    assert "Rack bolt  [item, title, open]" in two.ok("--order", "W 612", "find", "rack bolt").out
