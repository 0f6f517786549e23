"""The cutting list by command: from an order's text to the bars, for a reader and for a program."""

from __future__ import annotations

import signal
from collections import Counter
from collections.abc import Iterable
from fractions import Fraction
from math import pi
from pathlib import Path
from typing import Any

import pytest

from specreg.solvers import cutting_stock
from tests.architecture.fresh import heads, modules_after
from tests.cli.conftest import Round
from tests.cli.shell import Shell, new_book
from tests.services.order_to_cut import TRADE, order_to_cut

WRONG_USE, REFUSED = 2, 3
FORTY = ("4.1", "40", '3" dia x 40"', "")


def shell_with(folder: Path, *rows: tuple[str, str, str, str], **how: Any) -> Shell:
    shell = new_book(folder / "works.specreg")
    shell.ok("import", str(order_to_cut(folder, *rows, **how)))
    return shell


def length(text: str) -> Fraction:
    """A length of the JSON in mm."""
    return Fraction(text)


def check(group: dict[str, Any]) -> None:
    """What a group of the JSON says, reckoned again from its own figures alone."""
    kerf, lost = length(group["kerf_mm"]), length(group["end_trim_mm"]) + length(group["chuck_grip_mm"])
    cut: Counter[str] = Counter()
    for bar in group["bars"]:
        assert bar["stock_mm"] in group["stock_mm"]
        pieces = sum(piece["number"] for piece in bar["pieces"])
        taken = lost + kerf * (pieces - 1) + sum(length(one["length_mm"]) * one["number"] for one in bar["pieces"])
        assert taken <= length(bar["stock_mm"])
        assert length(bar["offcut_mm"]) == max(0, length(bar["stock_mm"]) - taken - kerf)
        assert bar["kept"] == (0 < length(bar["offcut_mm"]) >= length(group["least_offcut_mm"]))
        for one in bar["pieces"]:
            cut[one["length_mm"]] += one["number"] * bar["times"]
    assert cut == {one["length_mm"]: one["number"] for one in group["pieces"]}
    assert group["count"] == sum(bar["times"] for bar in group["bars"])
    bought = sum((length(bar["stock_mm"]) * bar["times"] for bar in group["bars"]), Fraction(0))
    assert bought == length(group["stock_length_mm"]) >= length(group["stock_length_at_least_mm"])
    assert group["proved"] == (group["stock_length_mm"] == group["stock_length_at_least_mm"])
    for one in (*group["pieces"], *group["too_long"]):
        assert one["number"] == sum(item["pieces"] for item in one["items"])


def pieces_by_item(groups: Iterable[dict[str, Any]]) -> dict[str, int]:
    found: Counter[str] = Counter()
    for group in groups:
        for one in (*group["pieces"], *group["too_long"]):
            found.update({item["number"]: item["pieces"] for item in one["items"]})
    return dict(found)


def test_every_bar_of_the_sample_holds_its_pieces_and_every_item_is_told_of(round_trip: Round) -> None:
    shell = round_trip.shell
    found = shell.ok("cutting-list", "--at", "B", "--json").json
    assert (found["order"], found["revision"], found["stopped"]) == ("C 1187", "B", False)
    assert len(found["groups"]) > 50
    planned = [group for group in found["groups"] if not group["not_planned"]]
    for group in planned:
        check(group)
    # Forgings and timber are not cut from bars: no rule of the works names their material.
    not_planned = {group["material"] for group in found["groups"] if group["not_planned"]}
    assert "forged steel" in not_planned
    assert not not_planned & {"mild steel", "key steel", "brass", "phosphor bronze", "copper", "steam tube"}
    assert len(planned) > 50
    taken_off = {line["number"]: line for line in shell.ok("take-off", "--at", "B", "--json").json["lines"]}
    cut, left_out = pieces_by_item(found["groups"]), {one["number"]: one for one in found["left_out"]}
    assert not cut.keys() & left_out.keys()
    assert cut.keys() | left_out.keys() == taken_off.keys()
    assert all(pieces >= int(taken_off[number]["off"]) for number, pieces in cut.items())
    lengths = {i["number"]: one["length_mm"] for g in found["groups"] for one in g["pieces"] for i in one["items"]}
    for number, mm in lengths.items():
        said = taken_off[number]["length_mm"]
        assert said is None or abs(Fraction(said) - Fraction(mm)) <= Fraction(1, 2000), number
    assert {one["reason"] for one in found["left_out"]} >= {"bought", "no size written", "not cut from bars"}
    assert all(one["why"] for one in found["left_out"])
    assert shell.ok("cutting-list", "--json").json == found, "the last issued, and the same plan each time"


def test_the_sample_is_told_in_words_on_paper_of_eighty_signs(round_trip: Round) -> None:
    said = round_trip.shell.ok("cutting-list")
    for words in (
        "Cutting list of order C 1187 25-ton dockside cranes, revision B, ",
        'mild steel, round 3"', 'kerf 1/8"', "no plan can do with fewer",
        "Bars by like stock", "Weight by: mild steel of 7850 kg/m3", "Left out: ", "size not read",
        "Caution: Weights, lengths and order quantities",
    ):  # fmt: skip
        assert words in said.out
    assert max(map(len, said.out.splitlines())) <= 80
    assert said.err == ""


def test_a_foreman_gets_his_bar_alone(round_trip: Round) -> None:
    shell = round_trip.shell
    groups = shell.ok("cutting-list", "--like", "Mild STEEL round 3", "--json").json["groups"]
    assert [(one["material"], one["form"], one["section"]) for one in groups] == [("mild steel", "round", '3"')]
    assert groups[0] in shell.ok("cutting-list", "--json").json["groups"], "the same plan as in the whole list"
    said = shell.ok("cutting-list", "--like", "mild steel round 3").out
    assert "Only stock like `mild steel round 3`." in said
    assert 'round 3 1/2"' not in said
    words = shell.no(WRONG_USE, "cutting-list", "--like", "round 99")
    assert "Stock like `round 99`: the order wants " in words
    assert 'round 3/8"' in words and " others" in words
    assert "angle" not in words
    assert "nothing stands in it" in shell.no(WRONG_USE, "cutting-list", "--like", " ")


def test_forty_pieces_of_forty_inches_take_eight_bars_and_seven_without_a_kerf(tmp_path: Path) -> None:
    shell = shell_with(tmp_path, FORTY)
    assert "--at open" in shell.no(WRONG_USE, "cutting-list")
    said = shell.ok("cutting-list", "--at", "open").out
    assert "  8 × 20 ft: 5 × 3' 4\"; offcut 3' 3 3/8\" (kept)\n  = 8 bars; no plan can do with fewer" in said
    assert "The plain sum of the lengths says 7; cutting says 8." in said
    assert "Caution: Local codes decide." in said
    (group,) = shell.ok("cutting-list", "--at", "open", "--json").json["groups"]
    check(group)
    assert (group["count"], group["at_least"], group["proved"], group["count_by_length"]) == (8, 8, True, 7)
    # 8 bars of 20 ft, 3 in. round, of 7850 kg/m3.
    assert float(group["mass_kg"]) == pytest.approx(8 * 6.096 * pi / 4 * 0.0762**2 * 7850, abs=0.001)
    assert group["bars"] == [
        {
            "stock_mm": "6096", "times": 8, "pieces": [{"length_mm": "1016", "number": 5}],
            "offcut_mm": "1000.125", "kept": True,
        },
    ]  # fmt: skip
    assert group["pieces"] == [{"length_mm": "1016", "number": 40, "items": [{"number": "4.1", "pieces": 40}]}]

    (tmp_path / "shears").mkdir()
    shears = shell_with(tmp_path / "shears", FORTY, rule={**TRADE, "kerf": "0 in"})
    said = shears.ok("cutting-list", "--at", "open").out
    assert "bars of 20 ft, no kerf, no end trim, no chuck grip, offcuts kept from 1 ft" in said
    assert "= 7 bars; no plan can do with fewer" in said
    assert "plain sum" not in said


def test_a_piece_longer_than_its_stock_is_named_and_the_rest_is_cut(tmp_path: Path) -> None:
    shell = shell_with(tmp_path, FORTY, ("4.2", "2", '3" dia x 21 ft', ""), ("4.3", "1", '2" sq x 30 ft', ""))
    said = shell.ok("cutting-list", "--at", "open")
    assert "NOT in the plan:\n  2 off  21' 0\"  for 4.2\n" in said.out
    assert "3 pieces longer than the stock: not in the plan" in said.err
    groups = shell.ok("cutting-list", "--at", "open", "--json").json["groups"]
    assert [(one["section"], one["count"], [long["length_mm"] for long in one["too_long"]]) for one in groups] == [
        ('3"', 8, ["6400.8"]), ('2"', 0, ["9144"]),
    ]  # fmt: skip
    for group in groups:
        check(group)


def test_two_orders_each_in_their_own_units(tmp_path: Path) -> None:
    shell = shell_with(tmp_path, FORTY)
    metric = {**TRADE, "stock": '"6 m"', "kerf": "3 mm", "least_offcut": "300 mm"}
    rows = (("4.1", "13", "76 mm dia x 900 mm", ""), ("4.2", "2", '76 mm dia x 1 1/16"', ""))
    shell.ok("import", str(order_to_cut(tmp_path, *rows, into="metric", rule=metric, number="W 612", units="metric")))
    (imperial,) = shell.ok("--order", "W 611", "cutting-list", "--at", "open", "--json").json["groups"]
    (group,) = shell.ok("--order", "W 612", "cutting-list", "--at", "open", "--json").json["groups"]
    assert (imperial["stock_mm"], imperial["count"]) == (["6096"], 8)
    check(group)
    assert [(one["length_mm"], one["number"]) for one in group["pieces"]] == [("900", 13), ("26.9875", 2)]
    said = shell.ok("--order", "W 612", "cutting-list", "--at", "open").out
    assert "13 off      900 mm  for 4.1" in said
    assert "bars of 6000 mm, kerf 3 mm" in said
    assert " kg\n" in said
    assert "'" not in said.replace("works'", "")


def test_what_is_bought_or_uncounted_is_left_out_by_number(tmp_path: Path) -> None:
    shell = shell_with(
        tmp_path, FORTY, ("4.2", "3", '3" dia x 1 ft', "buy"), ("4.3", "5", '3" dia x 1 ft', "free issue"),
        ("4.4", "as required", '3" dia x 1 ft', ""), ("4.5", "2", '3" dia x 2 ft', "stock"),
    )  # fmt: skip
    found = shell.ok("cutting-list", "--at", "open", "--json").json
    assert pieces_by_item(found["groups"]) == {"4.1": 40}
    assert [(one["number"], one["reason"]) for one in found["left_out"]] == [
        ("4.2", "bought"), ("4.3", "free issue"), ("4.4", "no count"), ("4.5", "from stores as it is"),
    ]  # fmt: skip


def test_ctrl_c_shows_what_is_planned_and_says_what_is_not(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shell = shell_with(tmp_path, FORTY, ("4.2", "9", '4" dia x 2 ft', ""), ("4.3", "9", '2" sq x 2 ft', ""))
    real, calls = cutting_stock.cut_stock, []

    def pressed(*arguments: Any) -> Any:
        calls.append(arguments)
        if len(calls) == 2:
            signal.raise_signal(signal.SIGINT)
        return real(*arguments)

    before = signal.getsignal(signal.SIGINT)
    monkeypatch.setattr(cutting_stock, "cut_stock", pressed)
    said = shell.run("cutting-list", "--at", "open")
    assert said.code == REFUSED
    assert "stopped; what was planned so far is shown" in said.err
    assert "STOPPED BEFORE THE END: 1 stock of 3 not planned." in said.out
    assert "= 8 bars; no plan can do with fewer" in said.out
    assert said.out.count("No plan: stopped before it was planned") == 1
    calls.clear()
    found = shell.run("cutting-list", "--at", "open", "--json").json
    assert found["stopped"]
    assert [(one["count"], bool(one["bars"]), one["not_planned"]) for one in found["groups"]] == [
        (8, True, ""), (1, True, ""), (None, False, "stopped before it was planned"),
    ]  # fmt: skip
    for group in found["groups"][:2]:
        check(group)
    assert signal.getsignal(signal.SIGINT) is before


def test_a_second_ctrl_c_breaks_off_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shell = shell_with(tmp_path, FORTY)

    def pressed(*arguments: Any) -> Any:
        signal.raise_signal(signal.SIGINT)
        signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr(cutting_stock, "cut_stock", pressed)
    said = shell.run("cutting-list", "--at", "open")
    assert (said.code, said.out) == (REFUSED, "")
    assert "broken off" in said.err


def test_where_ctrl_c_means_nothing_it_goes_on_meaning_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shell = shell_with(tmp_path, FORTY)
    real = cutting_stock.cut_stock

    def pressed(*arguments: Any) -> Any:
        signal.raise_signal(signal.SIGINT)
        return real(*arguments)

    monkeypatch.setattr(cutting_stock, "cut_stock", pressed)
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        assert "= 8 bars; no plan can do with fewer" in shell.ok("cutting-list", "--at", "open").out
        assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGINT, before)


def test_a_list_that_is_proved_by_itself_loads_no_solver(tmp_path: Path) -> None:
    shell = shell_with(tmp_path, FORTY)
    code, modules = modules_after("--book", str(shell.book), "cutting-list", "--at", "open")
    assert code == 0
    assert "specreg.solvers.cutting_stock" in modules
    assert not {"highspy", "numpy", "textual", "rich"} & heads(modules)
