"""The order list and what is placed, by command: in words, and for a program."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import Round
from tests.cli.shell import Shell

WRONG_USE, REFUSED = 2, 3
ON = ("--supplier", "A rope works", "--purchase", "P 17")


@pytest.fixture
def sample(round_trip: Round, tmp_path: Path) -> Shell:
    """A shell on a copy of the sample order at revision B."""
    return Shell(Path(shutil.copy(round_trip.shell.book, tmp_path)))


def test_every_line_of_the_sample_is_on_the_list_or_left_out(sample):
    found = sample.ok("order-list", "--json").json
    assert (found["order"], found["revision"]) == ("C 1187", "B")
    numbers = [one["number"] for line in found["lines"] for one in line["items"]]
    numbers += [one["number"] for one in found["left_out"]]
    taken_off = [line["number"] for line in sample.ok("take-off", "--json").json["lines"]]
    assert sorted(numbers) == sorted(taken_off) and len(set(numbers)) == len(numbers)
    assert {line["how"] for line in found["lines"]} == {"to buy complete", "material to work up", "from stores"}
    for line in found["lines"]:
        assert line["wanted"] == sum(one["pieces"] or 0 for one in line["items"])
        assert line["difference"] == line["wanted"] - line["placed"]


def test_like_material_of_the_sample_is_gathered(sample):
    lines = sample.ok("order-list", "--like", 'mild steel round 1"', "--json").json["lines"]
    (line,) = (one for one in lines if (one["material"], one["what"]) == ("mild steel", 'round 1"'))
    assert line["form"] == "round"
    assert len(line["items"]) > 2 and all(one["size"].startswith('1" dia') for one in line["items"])
    length = sum(float(one["length_mm"]) * one["pieces"] for one in line["items"])
    assert float(line["length_mm"]) == pytest.approx(length, abs=0.01)
    assert line["bars"] and float(line["bars"][0]["stock_mm"]) == 240 * 25.4
    said = sample.ok("order-list", "--like", 'mild steel round 1"').out
    assert 'mild steel, round 1"\n    wanted ' in said and " of 20 ft" in said and "Caution: " in said


def test_what_is_placed_stands_beside_what_is_wanted(sample):
    sample.ok("placed", "2.2.3=8", *ON, "--on", "2026-11-20", "--due", "2027-01-29", "--remarks", "by rail")
    said = sample.ok("order-list", "--like", "saddle casting").out
    assert "cast steel, Saddle casting\n    wanted 12, placed 8, difference 4\n    still to place: to order " in said
    told = " ".join(said.split())
    assert "placed 8 on P 17 with A rope works, 2026-11-20, due 2027-01-29, revision B" in told
    assert "Saddle casting" in sample.ok("order-list", "--to-place").out
    assert "Placed:       8 on P 17 with A rope works" in sample.ok("show", "2.2.3").out
    sample.ok("placed", "2.2.3", *ON)
    assert "Saddle casting" not in sample.ok("order-list", "--to-place").out
    listed = sample.ok("placed").out
    assert "P 17 with A rope works" in listed and "; by rail" in listed
    (first, second) = sample.ok("placed", "--json").json["placed"]
    assert (first["pieces"], second["pieces"], first["revision"], first["drawing"]) == (8, 4, "B", "UC-204/2 rev -")
    assert sample.ok("placed", "--back", "--purchase", "P 17").err.startswith("2.2.3: 12 taken back from P 17")
    assert "taken back 12" in sample.ok("placed").out
    assert sample.entries()[0]["act"] == "placed"
    assert sample.ok("verify").code == 0


def test_a_change_after_the_purchase_is_told_on_the_list(sample):
    sample.ok("placed", "2.2.3", *ON, "--revision", "A")
    note = ("--number", "9", "--reason", "buying", "--authority", "chief", "--machines", "all")
    sample.ok("note", "open", "another steel", *note)
    sample.ok("alter", "2.2.3", "Material=forged steel", "--note", "9")
    said = sample.ok("order-list", "--at", "open", "--like", "saddle casting").out
    assert "x P 17 quotes revision A: material was cast steel, now forged steel" in said
    assert "1 item placed at an older revision that says otherwise" in sample.ok("order-list", "--at", "open").out
    outdated = sample.ok("order-list", "--at", "open", "--like", "saddle casting", "--json").json["lines"][0]["items"]
    assert outdated[0]["outdated"] == [
        {"purchase": "P 17", "revision": "A", "says": ["material was cast steel, now forged steel"]}
    ]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("placed", "2.2.3=two", *ON), "it is not of the form ITEM or ITEM=PIECES"),
        (("placed", "2.2.3", "2.2.3=4", *ON), "it is named twice"),
        (("placed", *ON), "no items are named"),
        (("placed", "2.2.3"), "its purchase number and its supplier are needed"),
        (("placed", "2.2.3", "--back", *ON), "only --purchase, items and --remarks go with it"),
        (("placed", "99.9", *ON), "there is none"),
        (("order-list", "--like", "unobtainium"), "nothing is called so"),
        (("order-list", "--at", "Q"), "issued are: A, B"),
    ],
)
def test_what_cannot_be_understood_is_refused_with_what_to_do(sample, words, says):
    said = sample.run(*words)
    assert said.code in (WRONG_USE, REFUSED) and says in said.err
    assert sample.ok("placed").out == "Nothing is placed yet.\n"


def test_a_reader_lists_but_does_not_place(sample):
    assert sample.ok("order-list", login="stranger").out
    assert "only reads here" in sample.no(REFUSED, "placed", "2.2.3", *ON, login="stranger")


def test_the_list_of_an_order_not_yet_issued_is_that_of_the_order_as_it_stands(tiny):
    found = tiny.ok("order-list", "--json").json
    assert found["revision"] == "open" and found["lines"]
    assert "before the first issue" in tiny.ok("placed", "4.1.2", *ON).err
    assert "what stood before the first issue" in " ".join(tiny.ok("order-list").out.split())


def test_no_line_of_any_list_is_wider_than_the_paper(sample):
    for words in (("order-list",), ("order-list", "--at", "A"), ("placed",), ("take-off",), ("take-off", "--items")):
        lines = sample.ok(*words).out.splitlines()
        assert lines and max(map(len, lines)) <= 80, words
