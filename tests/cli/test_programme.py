"""`drawings --late`: what is late against the drawing programme, the latest first, with the items that wait for it."""

from __future__ import annotations

from tests.cli.shell import Shell

WRONG_USE = 2


def late(issued: Shell) -> None:
    """Two sheets planned for days gone by, the one called up by an item of its own."""
    issued.ok("drawing", "enter", "SL-9001", "title=Later", "stage=drawn", "planned=2020-02-01")
    issued.ok("drawing", "enter", "SL-9002", "title=Latest", "stage=planned", "planned=2020-01-01")
    issued.ok("drawing", "enter", "SL-9003", "title=Done", "stage=approved", "planned=2020-01-01", "drawn=HP",
              "checked=WG", "approved=JD", "date=2020-01-01", "revision=-")  # fmt: skip
    issued.ok("note", "open", "x", "--reason", "customer", "--authority", "x", "--machines", "all")
    issued.ok("alter", "4.1.2", "Drawing=SL-9001", "Clearance=hold")


def test_late_sheets_come_latest_first_with_their_items(issued: Shell) -> None:
    late(issued)
    sheets = issued.ok("drawings", "--late", "--json").json["drawings"]
    assert [(one["number"], one["waiting"]) for one in sheets] == [("SL-9002", 0), ("SL-9001", 1)]
    assert sheets[0]["days_late"] - sheets[1]["days_late"] == 31
    said = issued.ok("drawings", "--late")
    assert [line.split()[0] for line in said.out.splitlines()] == ["Drawing", "SL-9002", "SL-9001"]
    assert "2 sheets late against the programme" in said.err


def test_a_stage_narrows_it(issued: Shell) -> None:
    late(issued)
    (one,) = issued.ok("drawings", "--late", "--stage", "planned", "--json").json["drawings"]
    assert (one["number"], one["planned"]) == ("SL-9002", "2020-01-01")


def test_nothing_late_is_said(issued: Shell) -> None:
    assert "0 sheets late" in issued.ok("drawings", "--late").err


def test_late_at_a_revision_is_refused(issued: Shell) -> None:
    assert "as it stands today" in issued.no(WRONG_USE, "drawings", "--late", "--at", "A")
