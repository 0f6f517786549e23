"""`allocate --rules` and `allocate --try`."""

from __future__ import annotations

from pathlib import Path

from specreg.settings import shipped_folder
from tests.cli.conftest import Round

WRONG_USE = 2


def test_every_rule_of_the_works_serves_the_sample(round_trip: Round) -> None:
    said = round_trip.shell.ok("allocate", "--rules")
    rules = round_trip.shell.ok("allocate", "--rules", "--json").json["rules"]
    assert len(rules) >= 40
    assert [one["rule"] for one in rules if not one["serves"]] == []
    assert "~" not in said.err
    assert all(one["fits"] >= one["serves"] for one in rules)


def test_a_rule_file_is_tried_before_it_is_adopted(round_trip: Round, tmp_path: Path) -> None:
    shell = round_trip.shell
    before = shell.entries()
    rules = (shipped_folder("shared") / "routing.toml").read_text(encoding="utf-8")
    file = tmp_path / "rules.toml"
    file.write_text(rules.replace("SMI coil and temper all", "SMI coil all; SMI temper all"), encoding="utf-8")
    said = shell.ok("allocate", "--try", str(file))
    assert "\n    was SMI coil and temper; ERE fit & STO put by\n    now SMI coil; SMI temper; ERE fit" in said.out
    assert "nothing was written" in said.err
    record = shell.ok("allocate", "--try", str(file), "--json").json
    smithy = next(one for one in record["departments"] if one["code"] == "SMI")
    assert smithy["steps_then"] - smithy["steps"] == len(record["moved"]) > 10
    assert shell.entries() == before


def test_a_rule_file_that_leaves_gaps_ends_with_one(round_trip: Round, tmp_path: Path) -> None:
    file = tmp_path / "rules.toml"
    file.write_text('[[rule]]\nname = "all bought"\nsupply = ["buy"]\nroute = "BUY; ERE"\n', encoding="utf-8")
    said = round_trip.shell.run("allocate", "--try", str(file))
    assert said.code == 1
    assert "no rule fits it" in said.err


def test_two_questions_at_once_are_refused(round_trip: Round, tmp_path: Path) -> None:
    assert "one of them at a time" in round_trip.shell.no(WRONG_USE, "allocate", "--rules", "--why", "4.1.2")
    assert "no-such.toml" in round_trip.shell.no(WRONG_USE, "allocate", "--try", str(tmp_path / "no-such.toml"))
