"""The take-off by command: sums and items in words, and for a program."""

from __future__ import annotations

from tests.cli.conftest import Round
from tests.cli.shell import Shell

WRONG_USE = 2


def test_the_sample_is_taken_off_at_a_revision_and_as_it_stands(round_trip: Round) -> None:
    shell = round_trip.shell
    found = shell.ok("take-off", "--at", "B", "--json").json
    assert (found["order"], found["revision"]) == ("C 1187", "B")
    whole = found["totals"]["whole"]
    assert whole["items"] == len(found["lines"])
    sections = [float(one["mass_kg"]) for one in found["totals"]["sections"]]
    assert abs(sum(sections) - float(whole["mass_kg"])) < 0.01
    bolt = next(line for line in found["lines"] if line["number"] == "4.1.2")
    assert bolt["off"] == bolt["working"].rsplit("= ", 1)[-1]
    assert bolt["length_mm"] is None and float(bolt["total_kg"]) > 0
    segment = next(line for line in found["lines"] if line["number"] == "4.1.1")
    # 5 cwt 2 qr 26 lb = 642 lb, by the exact pound of 0.45359237 kg.
    assert segment["mass_kg"] == "291.206"
    assert shell.ok("take-off", "--at", "A", "--json").json["totals"]["whole"] != whole
    assert shell.ok("take-off", "--at", "open", "--json").json["revision"] == "open"


def test_sums_and_items_are_told_in_words_with_the_cautions(round_trip: Round) -> None:
    said = round_trip.shell.ok("take-off").out
    for words in ("Section", "Material", "Department, its own steps", "4 Slewing gear", "cast iron", "the order",
                  "should have a weight and have none", "Caution: Weights, lengths and order quantities"):  # fmt: skip
        assert words in said
    items = round_trip.shell.ok("take-off", "--items").out
    assert "4.1.1  Rack segment" in items
    assert "each      5 cwt 2 qr 26 lb; all " in items
    assert "because   Weight as stated, 5 cwt 2 qr 26 lb" in items
    assert "Caution: " in items


def test_before_the_first_issue_one_is_told_how(tiny: Shell) -> None:
    assert "--at open" in tiny.no(WRONG_USE, "take-off")
    assert "4.1.1  Rack segment" in tiny.ok("take-off", "--at", "open", "--items").out


def test_show_tells_what_an_item_weighs_and_by_what(round_trip: Round) -> None:
    shell = round_trip.shell
    said = shell.ok("show", "4.1.1").out
    assert "Weighs:" in said and "5 cwt 2 qr 26 lb" in said and "Estimates for planning" in said
    line = next(one for one in shell.ok("take-off", "--json").json["lines"] if one["number"] == "4.1.2")
    found = shell.ok("show", "4.1.2", "--json").json
    assert {key: found[key] for key in ("mass_kg", "total_kg", "length_mm", "basis")} == {
        key: line[key] for key in ("mass_kg", "total_kg", "length_mm", "basis")
    }
    rack = shell.ok("show", "4.1", "--json").json
    assert rack["mass_kg"] is None and float(rack["parts_kg"]) > 8 * 291
    assert "mass_kg" not in shell.ok("show", "4", "--json").json


def test_show_reckons_by_the_revision_asked_for(round_trip: Round) -> None:
    shell = round_trip.shell
    (old, new) = (shell.ok("show", "4.1.2", "--at", at, "--json").json for at in ("A", "B"))
    lines = (shell.ok("take-off", "--at", at, "--json").json["lines"] for at in ("A", "B"))
    masses = [next(one["total_kg"] for one in some if one["number"] == "4.1.2") for some in lines]
    assert [old["total_kg"], new["total_kg"]] == masses and masses[0] != masses[1]
