"""Taking in what is not in order: faulty rows are set aside with file and line, kept, and bar the issue."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.shell import Shell, new_book
from tests.services.office_for_tests import DRAWINGS, ROUTING, SECTIONS, tiny_order_folder

SLEWING = "04-slewing-gear.md"


@pytest.fixture
def shell(tmp_path: Path) -> Shell:
    """A shell on an empty book."""
    return new_book(tmp_path / "works.specreg")


def with_row(row: str) -> dict[str, str]:
    """The sections of the practice order with one row more in the table of section 4."""
    return {**SECTIONS, SLEWING: SECTIONS[SLEWING] + row + "\n"}


def line_of(folder: Path, text: str) -> int:
    """On which line of section 4 a text stands, counted from 1."""
    lines = (folder / "spec" / SLEWING).read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if text in line)


def test_a_row_of_the_wrong_number_of_cells_is_set_aside_and_bars_the_issue(shell: Shell, tmp_path: Path) -> None:
    folder = tiny_order_folder(tmp_path, with_row("| 4.4 | Rack guard | 1 | machine | mild steel |"))
    place = f"spec/{SLEWING}, line {line_of(folder, '4.4 | Rack guard')}"
    said = shell.run("import", str(folder), "--json")
    assert said.code == 0
    (aside,) = said.json["set_aside"]
    assert aside["line"] == place
    assert "Rack guard" in aside["text"]
    assert "4.4" not in said.json["added"]
    (kept,) = shell.ok("set-aside", "--json").json["set_aside"]
    assert f"{kept['file']}, line {kept['line']}" == place

    shell.ok("allocate")
    shell.sign("A")
    words = shell.no(1, "issue")
    assert place in words
    assert "Rack guard" in words
    assert shell.ok("orders", "--json").json["orders"][0]["revision"] == ""

    shell.ok("set-aside", "--strike", str(kept["row"]), "--reason", "the guard is not wanted")
    shell.ok("issue")
    assert "the guard is not wanted" in shell.entries()[1]["words"]


def test_a_row_put_right_and_taken_in_again_is_no_longer_set_aside(shell: Shell, tmp_path: Path) -> None:
    shell.ok("import", str(tiny_order_folder(tmp_path, with_row("| 4.4 | Rack guard | 1 |"))))
    right = with_row("| 4.4 | Rack guard | 1 | machine | mild steel | | none needed | |")
    said = shell.ok("import", str(tiny_order_folder(tmp_path, right)), "--json").json
    assert said["added"] == ["4.4"]
    assert shell.ok("set-aside", "--json").json["set_aside"] == []


def test_a_number_that_stands_twice_is_set_aside_once(shell: Shell, tmp_path: Path) -> None:
    folder = tiny_order_folder(
        tmp_path, with_row("| 4.2 | Pinion again | 1 | machine | cast steel | | none needed | |")
    )
    said = shell.ok("import", str(folder), "--json").json
    assert [one["line"] for one in said["set_aside"]] == [f"spec/{SLEWING}, line {line_of(folder, 'Pinion again')}"]
    shell.ok("allocate")
    assert "Pinion again" in shell.no(1, "issue")


def test_a_drawing_list_without_a_needed_column_is_refused_whole(shell: Shell, tmp_path: Path) -> None:
    folder = tiny_order_folder(tmp_path, drawings="number,sheet,revision\nSL-1001,,-\n")
    words = shell.no(2, "import", str(folder))
    assert "drawings.csv, line 1" in words
    assert "title" in words
    assert [one["act"] for one in shell.entries() if one["act"] == "take in"] == []


def test_a_drawing_list_by_itself_is_named_as_it_is_called(tiny: Shell) -> None:
    listed = tiny.book.parent / "new sheets.csv"
    listed.write_text("number,sheet,revision\nSL-1,,-\n", encoding="utf-8")
    words = tiny.no(2, "import", str(listed))
    assert "new sheets.csv, line 1" in words
    listed.write_text("number,title,stage\nSL-1005,Rack guard,planned\n", encoding="utf-8")
    assert tiny.ok("import", str(listed), "--json").json["sheets"] == 1
    assert "SL-1005" in tiny.ok("drawings").out


def test_a_rule_for_a_department_that_the_works_has_not_is_refused_with_file_and_line(
    shell: Shell, tmp_path: Path
) -> None:
    routing = ROUTING.replace("FDY cast all;", "FDR cast all;")
    folder = tiny_order_folder(tmp_path, routing=routing)
    line = next(number for number, text in enumerate(routing.splitlines(), 1) if "FDR" in text)
    words = shell.no(1, "import", str(folder))
    assert f"routing.toml, line {line}" in words
    assert "FDR" in words
    assert "BUY, ERE, FDY, MCH" in words
    assert shell.ok("orders", "--json").json["orders"] == []


def test_a_route_field_for_a_department_that_the_works_has_not_is_a_gap_with_the_reason(tiny: Shell) -> None:
    tiny.ok("alter", "4.1.2", "Route=MCH; QQQ 3; ERE")
    said = tiny.run("allocate", "--json")
    assert said.code == 1
    (gap,) = said.json["gaps"]
    assert gap["number"] == "4.1.2"
    assert "QQQ" in gap["reason"]
    assert tiny.run("check").code == 1
    words = tiny.no(1, "issue")
    assert "4.1.2 Rack bolt goes to no department" in words


def test_what_stands_in_the_book_and_not_in_the_folder_is_left_and_told(tiny: Shell, tmp_path: Path) -> None:
    without = {**SECTIONS, SLEWING: SECTIONS[SLEWING].replace("| 4.3 | Rack cover", "| 4.9 | Rack cover")}
    folder = tiny_order_folder(tmp_path, without)
    said = tiny.ok("import", str(folder), "--json").json
    assert said["deleted"] == []
    assert any("4.3 Rack cover stands in the book and not in the folder" in one["reason"] for one in said["flags"])
    tiny.ok("show", "4.3")


def test_an_item_struck_out_of_an_export_is_deleted_and_one_altered_meanwhile_is_not(
    tiny: Shell, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    tiny.ok("export", str(out))
    path = out / "spec" / SLEWING
    kept = [line for line in path.read_text(encoding="utf-8").splitlines() if "| 4.3 |" not in line]
    altered = [line.replace("Rack bolt", "Rack bolts") for line in kept]
    path.write_text("\n".join(altered) + "\n", encoding="utf-8")
    tiny.ok("alter", "4.1.2", "Off=30")
    said = tiny.ok("import", str(out), "--json").json
    assert said["deleted"] == ["4.3"]
    assert said["altered"] == []
    assert ["4.1.2 was altered in the book" in one["reason"] for one in said["set_aside"]] == [True]
    assert tiny.ok("show", "4.1.2", "--json").json["fields"]["Off"] == "30"


def test_an_order_without_standards_is_told_how_to_give_them(shell: Shell, tmp_path: Path) -> None:
    folder = tiny_order_folder(tmp_path, standards="")
    assert "give --standards" in shell.no(2, "import", str(folder))
    shell.ok("import", str(folder), "--standards", str(tmp_path / "shared"))


def test_a_folder_that_cannot_be_read_is_told_in_a_sentence(shell: Shell, tmp_path: Path) -> None:
    folder = tiny_order_folder(tmp_path)
    (folder / "spec" / SLEWING).write_bytes(b"# 4 Slewing gear\n\n\xff\xfe\n")
    words = shell.no(2, "import", str(folder))
    assert f"spec/{SLEWING}, line 3" in words
    assert "UTF-8" in words
    (folder / "order.toml").write_text("number = [", encoding="utf-8")
    shell.no(1, "import", str(folder))
    (folder / "order.toml").unlink()
    assert "order.toml is missing" in shell.no(2, "import", str(folder))


def test_edits_after_the_first_issue_want_a_note(issued: Shell, tmp_path: Path) -> None:
    more = with_row("| 4.4 | Rack guard | 1 | machine | mild steel | | none needed | |")
    folder = tiny_order_folder(tmp_path, more)
    assert "no note is open" in issued.no(3, "import", str(folder))
    issued.ok("note", "open", "guard", "added", login="hp")
    assert issued.ok("import", str(folder), "--json").json["added"] == ["4.4"]
    assert issued.ok("show", "4.4", "--json").json["note"] == "1"


def test_a_drawing_list_keeps_its_faulty_rows_too(tiny: Shell, tmp_path: Path) -> None:
    listed = tmp_path / "list.csv"
    listed.write_text(DRAWINGS.splitlines()[0] + "\nSL-1006,,1,Guard\n", encoding="utf-8")
    said = tiny.ok("import", str(listed), "--json").json
    assert [one["line"] for one in said["set_aside"]] == ["list.csv, line 2"]
    assert "list.csv, line 2" in tiny.no(1, "issue")
