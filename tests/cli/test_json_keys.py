"""The keys that programs read: they stay, whatever else is added beside them."""

from __future__ import annotations

from typing import Any

import pytest

from tests.cli.conftest import Round
from tests.cli.shell import Shell

KEYS: dict[str, set[str]] = {
    "find rack": {"order", "query", "count", "results"},
    "show 4.1.2": {
        "order", "number", "title", "text", "fields", "off", "working", "drawings", "route", "history",
    },
    "show SL-402": {"number", "sheets", "called_up_by"},
    "compare A B": {"order", "old", "new", "added", "deleted", "changed", "renumbered", "counts"},
    "compare A B --department FDY": {"order", "old", "new", "added", "deleted", "changed", "renumbered", "lines"},
    "check": {"order", "faults", "counts"},
    "check --at A": {"order", "faults", "counts"},
    "allocate --why 4.1.2": {"number", "route", "rules"},
    "allocate --rules": {"order", "rules"},
    "drawings": {"order", "drawings"},
    "history 4.1.2": {"order", "number", "history"},
    "orders": {"orders"},
    "person": {"persons"},
    "note list": {"order", "notes"},
    "set-aside": {"order", "set_aside"},
    "verify": {"seals", "differences"},
    "day-book": {"entries"},
}  # fmt: skip

ROWS: dict[str, tuple[str, set[str]]] = {
    "find rack": ("results", {"kind", "number", "title", "revision", "why", "near"}),
    "show 4.1.2": ("route", {"step", "department", "operation", "off", "because"}),
    "compare A B": ("changed", {"number", "former_number", "fields"}),
    "drawings": ("drawings", {"number", "sheet", "title", "revision", "stage"}),
    "allocate --rules": ("rules", {"rule", "adds", "fits", "serves", "beaten_by"}),
}


@pytest.mark.parametrize("line", KEYS)
def test_every_reading_command_keeps_its_keys(round_trip: Round, line: str) -> None:
    said = round_trip.shell.ok(*line.split(), "--json").json
    assert set(said) >= KEYS[line]
    assert said.get("order", "C 1187") == "C 1187"
    if line in ROWS:
        name, keys = ROWS[line]
        assert said[name]
        assert all(set(row) >= keys for row in said[name])


def test_writing_commands_keep_their_keys(round_trip: Round) -> None:
    assert set(round_trip.json("import")) >= {
        "source", "records", "added", "altered", "deleted", "renumbered", "flags", "set_aside",
    }  # fmt: skip
    assert set(round_trip.json("allocate")) >= {"items", "allocated", "no_action", "unallocated", "departments"}
    assert set(round_trip.json("allocate")["departments"][0]) == {"code", "items", "steps"}
    assert set(round_trip.json("issue A")) >= {"order", "revision", "seal", "notes"}
    extracts = round_trip.json("extract A")
    assert set(extracts) >= {"order", "extracts", "reconciliation"}
    assert set(extracts["extracts"][0]) >= {
        "department", "number", "revision", "seal", "lines", "pieces", "mass_kg", "files",
    }  # fmt: skip
    assert set(extracts["reconciliation"]) == {"steps", "in_shares", "difference"}


def test_the_lines_of_a_department_and_the_fields_of_a_change_keep_their_keys(round_trip: Round) -> None:
    said = round_trip.shell.ok("compare", "A", "B", "--department", "FDY", "--json").json
    assert set(said["lines"]) >= {"old", "added", "withdrawn", "new"}
    change: dict[str, Any] = round_trip.json("compare")["changed"][0]["fields"][0]
    assert set(change) == {"field", "old", "new"}


def test_a_fault_is_named_as_pass_wants_it(tiny: Shell) -> None:
    tiny.ok("alter", "5.1.1", "Drawing=")
    faults = tiny.run("check", "--json").json["faults"]
    fault = next(one for one in faults if one["id"] == "no drawing at 5.1.1")
    assert set(fault) == {"id", "severity", "where", "text"}
    assert fault["severity"] == "error"
    tiny.ok("pass", fault["id"], "--reason", "a plain bar")
    after = tiny.run("check", "--json").json
    assert fault["id"] not in {one["id"] for one in after["faults"]}
    assert [(one["id"], one["person"], one["reason"]) for one in after["passed"]] == [
        ("no drawing at 5.1.1", "JD", "a plain bar")
    ]


def test_data_and_words_do_not_mix(round_trip: Round) -> None:
    said = round_trip.shell.ok("find", "rack", "bolt")
    assert "4.1.2" in said.out
    assert "found" not in said.out
    assert " found, the first 50 shown." in said.err
