"""Extracts by command: told as each is done, whole files when broken off; the list of drawings by stage; the desk."""

from __future__ import annotations

import json
from types import SimpleNamespace

import pytest

from specreg.output import files
from specreg.services.doing import OfficeDoer
from specreg.services.reading import OfficeReader
from tests.cli.shell import Shell, files_of

REFUSED = 3
WRONG_USE = 2
CODES = ("BUY", "FDY", "MCH", "ERE")


def test_a_line_is_said_as_each_department_is_done(issued: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    events: list[str] = []
    write = files.write_file
    monkeypatch.setattr(files, "write_file", lambda path, data: (events.append(path.name), write(path, data)))
    monkeypatch.setattr("specreg.cli.extracting.say", events.append)
    out = issued.book.parent / "paper"
    issued.ok("extract", "--all", "--out", str(out))
    said = [event.split(",")[0] for event in events if " " in event]
    assert said == [
        "BUY extract 1 of revision A: 2 lines", "FDY extract 1 of revision A: 5 lines",
        "MCH extract 1 of revision A: 10 lines", "ERE extract 1 of revision A: 11 lines", "28 steps = 28 in shares",
    ]  # fmt: skip
    # Two are in hand at once, but none is said before it is written.
    order = {event.split(",")[0]: place for place, event in enumerate(events)}
    for code, sentence in zip(CODES, said, strict=False):
        assert order[f"W611-A-{code}-1.txt"] < order[sentence]
    assert order["BUY extract 1 of revision A: 2 lines"] < order["W611-A-MCH-1.txt"]
    assert events[-1] == f"28 steps = 28 in shares, difference 0. Written to {out}."


def test_for_a_program_nothing_is_said_beside_the_data(issued: Shell) -> None:
    out = issued.book.parent / "paper"
    said = issued.ok("extract", "FDY", "MCH", "--out", str(out), "--format", "txt", "--format", "csv", "--json")
    assert said.err == ""
    (foundry, _) = said.json["extracts"]
    assert said.out == json.dumps(
        {
            "order": "W 611",
            "extracts": [
                {"department": "FDY", "number": 1, "revision": "A", "seal": foundry["seal"], "lines": 5,
                 "withdrawn": 0, "pieces": 37, "mass_kg": "0.000", "to_order_kg": "0.000",
                 "without_weight": 5, "new": True,
                 "files": [str(out / "W611-A-FDY-1.txt"), str(out / "W611-A-FDY-1.csv")]},
                {"department": "MCH", "number": 1, "revision": "A", "seal": said.json["extracts"][1]["seal"],
                 "lines": 10, "withdrawn": 0, "pieces": 97, "mass_kg": "0.000", "to_order_kg": "0.000",
                 "without_weight": 10, "new": True,
                 "files": [str(out / "W611-A-MCH-1.txt"), str(out / "W611-A-MCH-1.csv")]},
            ],
            "reconciliation": {"steps": 28, "in_shares": 28, "difference": 0},
        },
        ensure_ascii=False, indent=2,
    ) + "\n"  # fmt: skip
    again = issued.ok("extract", "FDY", "--json").json["extracts"][0]
    assert (again["new"], again["files"], again["seal"]) == (False, [], foundry["seal"])


def test_broken_off_it_leaves_whole_files_and_goes_on_from_there(
    issued: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(extract: object, form: str) -> bytes:
        raise KeyboardInterrupt

    out = issued.book.parent / "paper"
    issued.ok("extract", "BUY", "FDY", "--out", str(out))
    before = files_of(out)
    with monkeypatch.context() as patch:
        patch.setattr(files, "written", broken)
        assert "broken off" in issued.no(REFUSED, "extract", "--all", "--out", str(out))
        assert files_of(out) == before
    assert "(printed again)" in issued.ok("extract", "--all", "--out", str(out)).err
    after = files_of(out)
    assert set(after) == {f"W611-A-{code}-1.txt" for code in CODES}
    assert {name: after[name] for name in before} == before


def test_a_section_that_is_not_there_numbers_nothing(issued: Shell) -> None:
    assert "sections are 1, 4, 5" in issued.no(WRONG_USE, "extract", "FDY", "--section", "9")
    assert "extract" not in {one["act"] for one in issued.entries()}


def test_a_folder_that_cannot_be_made_numbers_nothing(issued: Shell) -> None:
    (issued.book.parent / "in the way").write_text("", encoding="utf-8")
    issued.no(REFUSED, "extract", "--all", "--out", str(issued.book.parent / "in the way" / "x"))
    issued.no(WRONG_USE, "extract", "--all", "--out", str(issued.book.parent / "in the way"))
    assert "extract" not in {one["act"] for one in issued.entries()}


def test_drawings_are_listed_by_a_stage_that_there_is(tiny: Shell) -> None:
    tiny.ok("drawing", "enter", "SL-2001", "title=Guard", "stage=planned")
    for word in ("planned", "Planned", " PLANNED "):
        listed = tiny.ok("drawings", "--stage", word, "--json").json["drawings"]
        assert [one["number"] for one in listed] == ["SL-2001"]
    assert len(tiny.ok("drawings", "--stage", "issued", "--json").json["drawings"]) == 7
    words = tiny.no(WRONG_USE, "drawings", "--stage", "nonsense")
    assert "Stages are planned, drawn, checked, approved, issued, superseded, cancelled, not used" in words


def test_the_desk_is_opened_with_a_reader_and_a_doer_of_this_book(
    issued: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened = []
    terminal = SimpleNamespace(isatty=lambda: True)
    monkeypatch.setattr("specreg.cli.desk.sys", SimpleNamespace(stdin=terminal, stdout=terminal))
    monkeypatch.setattr(
        "specreg.tui.run.run", lambda open_reader, start="", doer=None: opened.append((open_reader, doer))
    )
    issued.ok("desk", login="fo")
    ((open_reader, doer),) = opened
    assert isinstance(doer, OfficeDoer)
    with monkeypatch.context() as patch:
        patch.setattr("specreg.bootstrap.login_name", lambda: "fo")
        reader = open_reader()
        assert isinstance(reader, OfficeReader)
        assert reader.departments(False).may_extract == {"FDY"}
        reader.close()
        doer.extract(("FDY",), ("txt",), "paper", lambda _: None, lambda: False)
    assert list(files_of(issued.book.parent / "paper")) == ["W611-A-FDY-1.txt"]
