"""A whole order folder: files joined, numbers checked over all of them, and sentences for what is missing."""

from __future__ import annotations

import pytest

from specreg.core.errors import FaultsStop, WrongUse
from specreg.core.faults import Severity
from specreg.intake.order_folder import read_order

ORDER = '[order]\nnumber = "W 611"\ntitle = "Three cranes"\nmachines = "1471-1473"\n'


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "spec").mkdir()
    (tmp_path / "order.toml").write_text(ORDER, encoding="utf-8")
    return tmp_path


def write(folder, name, text):
    (folder / name).write_text(text, encoding="utf-8")


def told(taken, name):
    return [(str(flag.place), flag.text) for flag in taken.flags if flag.name == name]


def test_files_are_joined_in_the_order_of_their_names(folder):
    write(folder, "spec/05-hoist.md", "# 5 Hoist\n## 5.1 Drum\n- Off: 1\n")
    write(folder, "spec/04-slew.md", "# 4 Slewing\n## 4.1 Rack\n- Drawing: SL-1\n")
    write(folder, "drawings.csv", "number,title,revision\nSL-1,Rack,A\n")
    write(folder, ".written-from.csv", "kind,number,digest\nitem,4.1,ab\n")
    (folder / "works").mkdir()
    write(folder, "order.toml", ORDER + 'standards = "works"\n')
    taken = read_order(folder)
    assert taken.files == ("order.toml", "spec/04-slew.md", "spec/05-hoist.md", "drawings.csv")
    assert [one.item.number for one in taken.items] == ["4", "4.1", "5", "5.1"]
    assert [one.sheet.name for one in taken.sheets] == ["SL-1"]
    assert taken.order.number == "W 611" and taken.standards_folder == (folder / "works").resolve()
    assert taken.written_from == {("item", "4.1"): "ab"}
    assert taken.flags == () and taken.set_aside == ()


def test_a_number_given_twice_is_set_aside_and_both_places_are_named(folder):
    write(folder, "spec/04.md", "# 4 Slewing\n## 4.1 Rack\n")
    write(folder, "spec/05.md", "# 5 Hoist\n\n| Item | Description |\n|---|---|\n| 04.1 | Drum |\n| 5.1 | Rope |\n")
    taken = read_order(folder)
    assert [one.item.title for one in taken.items] == ["Slewing", "Rack", "Hoist", "Rope"]
    assert [(str(one.place), one.text) for one in taken.set_aside] == [("spec/05.md, line 5", "| 04.1 | Drum |")]
    ((where, text),) = told(taken, "number given twice")
    assert "spec/04.md, line 2" in text and "spec/05.md, line 5" in text and where == "spec/05.md, line 5"


def test_numbers_out_of_order_or_in_a_wrong_section_are_flagged_and_kept(folder):
    write(folder, "spec/04.md", "# 4 S\n## 4.2 B\n## 4.1 A\n## 5.7 C\n## 4.10 D\n")
    write(folder, "spec/06.md", "| Item | Description |\n|---|---|\n| 6.1 | Pin |\n")
    taken = read_order(folder)
    assert len(taken.items) == 6
    assert told(taken, "out of order") == [
        ("spec/04.md, line 3", "4.1 is out of order: it stands after 4.2 (line 2)."),
        ("spec/04.md, line 5", "4.10 is out of order: it stands after 5.7 (line 4)."),
    ]
    assert told(taken, "not under its section") == [
        ("spec/04.md, line 4", "5.7 stands in section 4; its number says section 5.")
    ]
    assert told(taken, "no such section") == [
        ("spec/06.md, line 3", "6.1 stands under no section: section 6 has no heading.")
    ]


def test_another_mans_numbering_may_stand_in_any_section(folder):
    write(folder, "order.toml", ORDER + 'numbering = "theirs"\n')
    write(folder, "spec/04.md", "# 4 S\n## 5.7 C\n### Notes\n")
    assert read_order(folder).flags == ()


def test_a_reference_to_no_clause_names_the_nearest(folder):
    text = (
        '# 2 STRUCTURE\n## 2.1 PLATE\nSee 3.3 "Welding". See 2.1.\n'
        "Clauses 2.8 and 2.9. See 4.4 of BS 4360. See 2.5 mm.\n"
        "# 3 WELDING\n"
    )
    write(folder, "spec/02.md", text)
    assert [text for _, text in told(read_order(folder), "no such item")] == [
        '2.1 names 3.3 "Welding", and there is no 3.3 in this order; the nearest is 3 WELDING.',
        "2.1 names 2.8, and there is no 2.8 in this order; the nearest is 2 STRUCTURE.",
        "2.1 names 2.9, and there is no 2.9 in this order; the nearest is 2 STRUCTURE.",
    ]


@pytest.mark.parametrize("mark", ["do.", "Do", "ditto", '"', "〃", "as above", "-do-", "''"])
def test_ditto_marks_are_flagged_and_kept(folder, mark):
    write(folder, "spec/04.md", f"# 4 S\n\n| Item | Description | Material |\n|---|---|---|\n| 4.1 | Pin | {mark} |\n")
    taken = read_order(folder)
    assert taken.items[1].item.material == mark
    assert told(taken, "ditto mark") == [("spec/04.md, line 5", f"4.1: Material says {mark}; write out what is meant.")]


def test_a_standards_folder_that_is_missing_is_flagged(folder):
    write(folder, "order.toml", ORDER + 'standards = "nowhere"\n')
    write(folder, "spec/04.md", "# 4 S\n")
    ((_, text),) = told(read_order(folder), "no standards folder")
    assert "nowhere" in text


def test_what_is_missing_is_named_with_what_to_do(tmp_path):
    with pytest.raises(WrongUse, match=r"There is no folder .*gone"):
        read_order(tmp_path / "gone")
    with pytest.raises(WrongUse, match="is empty"):
        read_order(tmp_path)
    (tmp_path / "letter.txt").write_text("x")
    with pytest.raises(WrongUse, match=r"order\.toml is missing"):
        read_order(tmp_path)
    write(tmp_path, "order.toml", ORDER)
    with pytest.raises(WrongUse, match="spec holds no section file"):
        read_order(tmp_path)
    with pytest.raises(WrongUse, match="is no folder"):
        read_order(tmp_path / "order.toml")


def test_a_broken_record_of_what_it_was_written_from_is_refused(folder):
    write(folder, "spec/04.md", "# 4 S\n")
    write(folder, ".written-from.csv", "kind,number\nitem,4\n")
    with pytest.raises(WrongUse, match="kind, number, digest"):
        read_order(folder)


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ('[order]\nnumber = "W 1"\ntitle = Cranes\n', 3, "Not TOML"),
        ('[order]\n# note\nnumber = 611\ntitle = "T"\n', 3, 'write number = "611"'),
        ('[order]\nnumber = "W 1"\n', 1, "`title` is missing"),
        ('[order]\nnumber = " "\ntitle = "T"\n', 2, "`number` is empty"),
        ('[order]\nnumber = "W 1"\ntitle = "T"\nunits = "inches"\n', 4, "imperial or metric"),
        ('[order]\nnumber = "W 1"\ntitle = "T"\n\nnumbering = "mine"\n', 5, "ours or theirs"),
        ('number = "W 1"\n', 0, r"\[order\] is missing"),
    ],
)
def test_faults_of_order_toml_have_their_line(folder, text, line, said):
    write(folder, "spec/04.md", "# 4 S\n")
    write(folder, "order.toml", text)
    with pytest.raises(FaultsStop, match=said) as caught:
        read_order(folder)
    assert caught.value.faults[0].place.line == line and caught.value.faults[0].place.file == "order.toml"


def test_an_unknown_key_is_flagged_with_the_key_that_may_be_meant(folder):
    write(folder, "spec/04.md", "# 4 S\n")
    write(folder, "order.toml", ORDER + 'custommer = "x"\n\n[other]\na = 1\n')
    taken = read_order(folder)
    assert told(taken, "unknown key") == [
        ("order.toml, line 5", "The key `custommer` is not known here. Is `customer` meant?"),
        ("order.toml, line 7", "`other` is not known here; everything stands under [order]."),
    ]
    assert {flag.severity for flag in taken.flags} == {Severity.WARNING}
