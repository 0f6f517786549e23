"""The whole round on the sample order, through the commands alone."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from specreg.settings import shipped_folder
from tests.cli.conftest import Round
from tests.cli.shell import files_of, new_book


def test_a_preview_says_what_taking_in_then_does_and_writes_nothing(round_trip: Round) -> None:
    preview, taken = round_trip.json("preview"), round_trip.json("import")
    assert not preview["written"]
    assert taken["written"]
    assert preview["added"] == taken["added"]
    assert len(taken["added"]) > 2500
    assert taken["set_aside"] == []
    acts = [one["act"] for one in reversed(round_trip.shell.entries())]
    assert acts.count("take in") == 1


def test_before_allocating_every_line_bars_the_issue_and_after_it_none_does(round_trip: Round) -> None:
    assert round_trip.said["gaps"].code == 1
    gaps = round_trip.json("gaps")["faults"]
    assert {one["id"].partition(" at ")[0] for one in gaps if one["severity"] == "stop"} == {"not allocated"}
    assert round_trip.json("check")["counts"]["stop"] == 0


def test_allocating_again_writes_nothing_and_enters_nothing_in_the_day_book(round_trip: Round) -> None:
    first, again = round_trip.json("allocate"), round_trip.json("allocate again")
    assert first["written"] == first["items"] > 2500
    assert again["written"] == 0
    assert again["departments"] == first["departments"]
    assert [one["act"] for one in round_trip.shell.entries()].count(
        "allocate"
    ) == 2  # at revision A and under the notes


def test_four_persons_sign_and_the_revision_names_them(round_trip: Round) -> None:
    notes = {one["number"]: one for one in round_trip.shell.ok("note", "list", "--json").json["notes"]}
    assert notes["0"]["signed"] == ["drawn HP", "checked WG", "second check RC", "approved JD"]
    assert notes["1"]["signed"] == ["drawn HP", "checked WG", "second check RC", "approved JD"]
    assert {one["state"] for one in notes.values()} == {"issued"}
    assert (round_trip.json("issue A")["revision"], round_trip.json("issue B")["revision"]) == ("A", "B")


def test_nothing_is_lost_in_the_splitting(round_trip: Round) -> None:
    for name in ("extract A", "extract B"):
        said = round_trip.json(name)
        assert said["reconciliation"]["difference"] == 0
        assert said["reconciliation"]["steps"] == sum(one["lines"] for one in said["extracts"])
    numbers = [one["number"] for one in round_trip.json("extract B")["extracts"]]
    assert numbers == [2] * 13


def test_every_form_of_every_extract_is_written_and_says_its_seal(round_trip: Round) -> None:
    for one in round_trip.json("extract B")["extracts"]:
        paths = [Path(file) for file in one["files"]]
        assert sorted(path.suffix for path in paths) == [".csv", ".md", ".txt"]
        for path in paths:
            assert one["seal"] in path.read_text(encoding="utf-8"), path


def test_lines_at_the_old_revision_plus_added_less_withdrawn_are_the_lines_at_the_new(round_trip: Round) -> None:
    for one in round_trip.json("extract B")["extracts"]:
        lines = round_trip.shell.ok("compare", "A", "B", "--department", one["department"], "--json").json["lines"]
        assert lines["old"] + lines["added"] - lines["withdrawn"] == lines["new"] == one["lines"]
        assert lines["withdrawn"] == one["withdrawn"]


def test_a_department_that_nothing_changed_for_is_told_so(round_trip: Round) -> None:
    lines = round_trip.shell.ok("compare", "A", "B", "--department", "COP", "--json").json["lines"]
    assert (lines["added"], lines["withdrawn"], lines["altered"]) == (0, 0, 0)
    text = round_trip.shell.ok("extract", "COP").out
    assert "nothing changed" in text or "unchanged" in text


def test_compare_names_what_the_notes_did(round_trip: Round) -> None:
    said = round_trip.json("compare")
    assert said["added"] == ["4.1.2A", "4.4.9A", "11.2.7A", "11.2.7B"]
    assert said["deleted"] == ["4.4.9"]
    changed = {one["number"]: one["fields"] for one in said["changed"]}
    assert changed["11.2.3"] == [{"field": "Size", "old": '5/8" sq x 4"', "new": '5/8" sq x 5"'}]
    assert {"number": "18.1.11", "old": "180", "new": "198"} in said["numbers_off"]
    assert said["counts"]["added"] == 4
    assert {"number": "SL-411", "old": "-", "new": "A"} in said["drawings"]


def test_compare_of_a_department_shows_its_old_number_off_beside_the_new(round_trip: Round) -> None:
    text = round_trip.shell.ok("compare", "A", "B", "--department", "ERE").out
    assert "» 18.1.11  Platform bolt, hexagon head  fit 198\n    Off was 180, now 198" in text
    assert "» 4.1.2  Rack bolt, turned  fit 96\n    Size" in text


def test_an_item_and_a_drawing_are_shown_as_each_revision_said_them(round_trip: Round) -> None:
    shell = round_trip.shell
    now, at_a = shell.ok("show", "4.1.2", "--json").json, shell.ok("show", "4.1.2", "--at", "A", "--json").json
    assert now["fields"]["Size"] == '1 1/8" dia x 5" B.S.W.'
    assert at_a["fields"]["Size"] == '1 1/8" dia x 4 1/2" B.S.W.'
    assert (now["drawings"][0]["revision"], at_a["drawings"][0]["revision"]) == ("A", "-")
    sheets = [shell.ok("show", "SL-411", *at, "--json").json["sheets"] for at in ((), ("--at", "A"))]
    assert [one[0]["revision"] for one in sheets] == ["A", "-"]
    listed = [shell.ok("drawings", *at, "--json").json["drawings"] for at in ((), ("--at", "A"))]
    assert "SL-412" in {one["number"] for one in listed[0]}
    assert "SL-412" not in {one["number"] for one in listed[1]}


def test_a_sheet_names_its_own_callers_and_not_those_of_the_sheet_beside_it(round_trip: Round) -> None:
    whole, sheet = (
        {one["written"] for one in round_trip.shell.ok("show", name, "--json").json["called_up_by"]}
        for name in ("SL-402", "SL-402/2")
    )
    assert whole == {"SL-402/1", "SL-402/2"}
    assert sheet == {"SL-402/2"}


def test_a_deleted_item_keeps_its_drawing_and_shows_no_route(round_trip: Round) -> None:
    now = round_trip.shell.ok("show", "4.4.9", "--json").json
    assert now["state"] == "deleted"
    assert now["route"] == []
    assert now["drawings"] == [
        {"written": "SL-411", "number": "SL-411", "title": "Slewing shaft bearings", "revision": "A", "stage": "issued"}
    ]
    assert round_trip.shell.ok("show", "4.4.9", "--at", "A", "--json").json["route"]


def test_the_number_off_is_shown_with_its_working(round_trip: Round) -> None:
    said = round_trip.shell.ok("show", "4.1.2", "--json").json
    # Four segments of eight bolts on each of three cranes, and four spares an order: the sample's own figures.
    assert said["off"] == "100"
    assert said["working"] == "32 × 1 × 3 + 4 = 100"


def test_history_tells_every_revision_that_said_something(round_trip: Round) -> None:
    told = round_trip.shell.ok("history", "4.4.9", "--json").json["history"]
    assert [(one["revision"], one["note"]) for one in told] == [("A", ""), ("B", "1")]
    assert told[1]["change"].startswith("deleted: foot too narrow")


def test_undo_and_redo_name_the_edit_and_leave_nothing_behind(round_trip: Round) -> None:
    assert "as agreed" in round_trip.said["undo"].err
    assert "as agreed" in round_trip.said["redo"].err
    assert round_trip.shell.ok("show", "4.3.1", "--json").json["history"][-1]["revision"] == "A"
    assert round_trip.shell.run("show", "4.1.3A").code == 2


@pytest.mark.parametrize("typed", ["rack bolt", "rack blt", "4.1.2", "bolt rack"])
def test_the_clerk_finds_the_rack_bolt(round_trip: Round, typed: str) -> None:
    said = round_trip.shell.ok("find", typed, "--json", login="mb").json
    assert "4.1.2" in {one["number"] for one in said["results"]}


def test_the_book_proves_itself(round_trip: Round) -> None:
    said = round_trip.shell.ok("verify", "--json").json
    assert said["differences"] == []
    assert [one["revision"] for one in said["seals"]] == ["A", "B"]


def test_an_export_taken_into_a_new_book_gives_the_same_export(round_trip: Round, tmp_path: Path) -> None:
    first, second = tmp_path / "first", tmp_path / "second"
    round_trip.shell.ok("export", str(first))
    other = new_book(tmp_path / "other.specreg")
    other.ok("import", str(first), "--standards", str(shipped_folder("shared")))
    other.ok("export", str(second))
    assert files_of(first) == files_of(second)


def test_an_export_taken_into_its_own_book_alters_nothing(round_trip: Round, tmp_path: Path) -> None:
    exported, again = tmp_path / "exported", tmp_path / "again"
    round_trip.shell.ok("export", str(exported))
    said = round_trip.shell.ok("import", str(exported), "--json").json
    assert (said["added"], said["altered"], said["deleted"], said["sheets"]) == ([], [], [], 0)
    assert said["set_aside"] == []
    round_trip.shell.ok("export", str(again))
    assert files_of(exported) == files_of(again)


def test_an_export_of_an_older_revision_says_what_that_said(round_trip: Round, tmp_path: Path) -> None:
    round_trip.shell.ok("export", str(tmp_path / "A"), "--at", "A")
    text = (tmp_path / "A" / "spec").joinpath("04-slewing-gear.md").read_text(encoding="utf-8")
    assert "4.1.2A" not in text
    listed = list(csv.DictReader(io.StringIO((tmp_path / "A" / "drawings.csv").read_text(encoding="utf-8"))))
    assert {one["revision"] for one in listed if one["number"] == "SL-411"} == {"-"}
