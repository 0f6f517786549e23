"""Sections, clauses, items, fields and rows out of Markdown, and what is not taken for one."""

from __future__ import annotations

import time

import pytest

from specreg.core.errors import WrongUse
from specreg.core.faults import Severity
from specreg.core.model import Kind, Layout, State
from specreg.intake.markdown_order import read_markdown
from specreg.intake.source_text import utf_8_text

SLEWING = """\
# 4 Slewing gear

Text of the section.
## 4.1 Slewing rack
To be machined on the upper face only.
- Off: 1 per machine
- Drawing: SL-1001
- Safety: lifting
- Paint shop: grey

| Item | Description | Off | Per | Material | Size | Drawing | Remarks | Melt |
|---|---|---|---|---|---|---|---|---|
| 4.1.1 | Rack segment | 12 | 4.1 | cast steel | weight 3 cwt 1 qr 17 lb | SL-1002/1 | pattern 3382 | |
| 4.1.2 | Rack bolt | 24 | 4.1 | mild steel | bar 1 1/4" dia x 5" | SL-1003 | | 17 \\| 18 |
"""


def read(text, ours=True):
    return read_markdown(text, "spec/04.md", ours)


def items(text, ours=True):
    return [taken.item for taken in read(text, ours).items]


def faults(text, name, ours=True):
    return [(flag.place.line, flag.text) for flag in read(text, ours).flags if flag.name == name]


def test_a_section_file_gives_section_item_and_rows_with_their_lines():
    taken = read(SLEWING)
    assert taken.flags == () and taken.set_aside == ()
    assert [(one.item.number, one.item.kind, one.item.layout, one.place.line) for one in taken.items] == [
        ("4", Kind.SECTION, Layout.HEADING, 1),
        ("4.1", Kind.ITEM, Layout.HEADING, 4),
        ("4.1.1", Kind.ITEM, Layout.ROW, 13),
        ("4.1.2", Kind.ITEM, Layout.ROW, 14),
    ]
    section, rack, segment, bolt = (one.item for one in taken.items)
    assert section.text == "Text of the section."
    assert rack.text == "To be machined on the upper face only."
    assert (rack.off, rack.drawing, rack.safety, rack.section) == ("1 per machine", "SL-1001", "lifting", "4")
    assert rack.other == (("Paint shop", "grey"),)
    assert (segment.title, segment.size, segment.remarks) == ("Rack segment", "weight 3 cwt 1 qr 17 lb", "pattern 3382")
    assert bolt.size == 'bar 1 1/4" dia x 5"'
    assert bolt.other == (("Melt", "17 | 18"),)


CLAUSES = """\
**CONTENTS**

[2.1 FRAMES 4](#_Toc11)

[2.1.1 PLATE 4](#_Toc12)

# CHAPTER 2 STRUCTURE

## 2.1 FRAMES

2.1.1 PLATE

Plate shall be 25 mm thick. See 3.3 "Welding".

#### 2.1.1.1. Edges

Edges shall be planed.

2.1.2 **Not used**

2.1.2A STIFFENERS

0.7 MPa water test on completion.

## **2.2** RIVETS

2.1.3 LUGS

# CHAPTER 3 WELDING
"""


def test_a_clause_tree_out_of_headings_and_numbered_paragraphs():
    found = items(CLAUSES)
    assert [(item.number, item.title) for item in found] == [
        ("2", "STRUCTURE"), ("2.1", "FRAMES"), ("2.1.1", "PLATE"), ("2.1.1.1", "Edges"), ("2.1.2", ""),
        ("2.1.2A", "STIFFENERS"), ("2.2", "RIVETS"), ("2.1.3", "LUGS"), ("3", "WELDING"),
    ]  # fmt: skip
    texts = {item.number: item.text for item in found}
    assert texts["2.1.1"] == 'Plate shall be 25 mm thick. See 3.3 "Welding".'
    assert texts["2.1.1.1"] == "Edges shall be planed."
    assert texts["2.1.2A"] == "0.7 MPa water test on completion."
    assert [(item.number, item.reason) for item in found if item.state is State.RESERVED] == [("2.1.2", "Not used")]
    assert [item.number for item in found if item.kind is Kind.SECTION] == ["2", "3"]
    assert {item.section for item in found[1:8]} == {"2"}
    assert {taken.severity for taken in read(CLAUSES).flags} == {Severity.NOTE}


@pytest.mark.parametrize(
    "line",
    [
        "0.7 MPa water test", "2.5 mm plate", "2.5 tons on each hook", "2.5m between centres", "9.1 Other section",
        "2.75 Leaps ahead", "2.05 Leading nought", "2.1 to 2.5 as drawn", "2.2 % of the load", "2 Plates",
        "2.1 million loads", "2.1 MM PLATE", "2.1.2026 issued", "2.1.26 issued", "1.2.2026 First issue", "2.1 kN/m run",
        "2.1 FRAMES ........ 4", "2.1 FRAMES . . . . 4", "2.1 FRAMES\t4", "[2.1 FRAMES](#frames)", "2.1",
    ],
)  # fmt: skip
def test_a_paragraph_that_only_begins_with_a_number_is_text(line):
    assert [(item.number, item.text) for item in items(f"# 2 STRUCTURE\n\n{line}\n")] == [("2", line)]


@pytest.mark.parametrize(
    ("line", "title"),
    [
        ("2.1 FRAMES", "FRAMES"), ("2.1. FRAMES", "FRAMES"), ("**2.1** FRAMES", "FRAMES"), ("**2.1 FRAMES**", "FRAMES"),
        ("2.1 Wheels shall be forged.", "Wheels shall be forged."), ("2.1 frames", "frames"),
        ("2.1 - FRAMES", "FRAMES"),
        ("2.1) FRAMES", "FRAMES"), ("**2.1:** FRAMES", "FRAMES"),
        ("2.1 A FRAMES", "A FRAMES"), ("*2.1* FRAMES", "FRAMES"), ("2.1\xa0FRAMES", "FRAMES"),
    ],
)  # fmt: skip
def test_a_paragraph_with_number_and_title_is_a_heading(line, title):
    assert [(item.number, item.title) for item in items(f"# 2 STRUCTURE\n\n{line}\n")][1:] == [("2.1", title)]


@pytest.mark.parametrize(
    ("heading", "number", "title"),
    [
        ("# 4 Slewing gear", "4", "Slewing gear"), ("# 4. Slewing gear", "4", "Slewing gear"),
        ("# **4** Slewing gear", "4", "Slewing gear"), ("# **4 Slewing gear**", "4", "Slewing gear"),
        ("# Section 4 – Slewing gear #", "4", "Slewing gear"), ("# CHAPTER **4** SLEWING", "4", "SLEWING"),
        ("# **CHAPTER 4** SLEWING", "4", "SLEWING"), ("4 Slewing gear\n=====", "4", "Slewing gear"),
        ("# APPENDIX A Tests", "A", "Tests"), ("# A.1 Tests", "A.1", "Tests"), ("# 4", "4", ""),
        ("# **E 4013/2A** Rope", "E 4013/2A", "Rope"), ("# 4 \\- dash", "4", "- dash"),
        ("# Clause 4: Rack", "4", "Rack"), ("# § 4.1 Rack", "4.1", "Rack"), ("# §4.1 Rack", "4.1", "Rack"),
        ("# *4.1* Rack", "4.1", "Rack"), ("# `4.1` Rack", "4.1", "Rack"), ("# 4\\.1 Rack", "4.1", "Rack"),
        ("# [4.1 Rack](#rack)", "4.1", "Rack"), ('# <a id="x"></a>4.1 Rack', "4.1", "Rack"),
        ("# 4.1 Rack {#rack}", "4.1", "Rack"), ("# Para 4.1 Rack", "4.1", "Rack"), ("# 4·1 Rack", "4.1", "Rack"),
    ],
)  # fmt: skip
def test_numbers_of_headings_in_the_forms_met(heading, number, title):
    found = items(f"{heading}\n\ntext\n")
    assert [(item.number, item.title, item.text) for item in found] == [(number, title, "text")]


def test_numbered_lines_of_one_paragraph_are_clauses_each():
    text = "# 4 Wheels\n\n4.1 Wheels shall be forged.\n4.2 Tyres shall be 75 mm thick when new.\n4.3 Axles\nto be.\n"
    assert [(item.number, item.title, item.text) for item in items(text)][1:] == [
        ("4.1", "Wheels shall be forged.", ""),
        ("4.2", "Tyres shall be 75 mm thick when new.", ""),
        ("4.3", "", "Axles\nto be."),
    ]


def test_a_list_of_contents_in_the_text_makes_no_clauses():
    text = "Contents\n\n2.1 FRAMES 4\n\n2.1.1 PLATE 5\n\n2.1 FRAMES\n\n2.1.1 PLATE\n\nThick.\n"
    assert [(item.number, item.title, item.text) for item in items(text)] == [
        ("2.1", "FRAMES", ""),
        ("2.1.1", "PLATE", "Thick."),
    ]


def test_text_is_kept_verbatim_with_lists_tables_and_fences():
    text = "Two  spaces, 1½ &amp; `x`\n\n* a\n* b\n\n"
    text += "| Size | Mass |\n|---|---|\n| 1 | 2 |\n\n```\n# 9 \\# no heading\n```"
    found = items(f"# 4 Slewing\n## 4.1 Rack\n\n{text}   \n\n# 5 Hoist\n")
    assert [item.number for item in found] == ["4", "4.1", "5"]
    assert found[1].text == text


def test_a_backslash_that_says_text_is_taken_off():
    found = items("# 4 Slewing\n\n\\# 4.1 as text\n\\- Off: 2\n\\alpha\n")
    assert [(item.number, item.text, item.off) for item in found] == [("4", "# 4.1 as text\n- Off: 2\n\\alpha", "")]


@pytest.mark.parametrize("place", ["- Off: 2\n- **Hand:** left\n\nText.", "Text.\n\n* Off: 2\n* hand: left"])
def test_fields_stand_before_or_after_the_text(place):
    (_, item) = items(f"# 4 S\n## 4.1 Rack\n{place}\n")
    assert (item.off, item.hand, item.text, item.kind) == ("2", "left", "Text.", Kind.ITEM)


def test_a_list_in_the_midst_or_without_a_known_field_is_text():
    body = "Before.\n\n- Off: 2\n\nAfter.\n\n- Paint: grey"
    (_, item) = items(f"# 4 S\n## 4.1 Rack\n{body}\n")
    assert (item.text, item.kind) == (body, Kind.CLAUSE)


def test_a_field_runs_on_over_lines_and_br_is_a_line_end():
    (_, item) = items("# 4 S\n## 4.1 Rack\n- Remarks: first\n  and more<br>second \\<br> line\n")
    assert item.remarks == "first and more\nsecond <br> line"


def test_a_table_right_under_the_fields_is_a_table_and_text_right_under_them_is_flagged():
    assert items(SLEWING.replace("grey\n\n|", "grey\n|")) == items(SLEWING)
    text = "# 4 S\n## 4.1 Rack\n- Off: 2\nTo be machined.\n"
    assert items(text)[1].off == "2 To be machined."
    assert [line for line, _ in faults(text, "field runs on")] == [3]


def test_fields_given_twice_and_entries_without_label_are_set_aside():
    taken = read("# 4 S\n## 4.1 Rack\n- Off: 2\n- off: 3\n- loose words\n")
    assert [(one.place.line, one.text) for one in taken.set_aside] == [(4, "off: 3"), (5, "loose words")]
    assert taken.items[1].item.off == "2"
    assert {flag.severity for flag in taken.flags} == {Severity.STOP}


def test_deleted_and_reserved_with_and_without_a_reason():
    rows = "| Item | Description | Deleted | Reserved |\n|---|---|---|---|\n"
    rows += "| 4.2 | Pin | at issue C | |\n| 4.3 | NOT USED | | |\n"
    found = items(f"# 4 S\n## 4.1 Rack\n- Deleted:\n\n{rows}| 4.4 | | | reserved |\n")
    assert [(item.number, item.title, item.state, item.reason) for item in found][1:] == [
        ("4.1", "Rack", State.DELETED, ""),
        ("4.2", "Pin", State.DELETED, "at issue C"),
        ("4.3", "", State.RESERVED, "NOT USED"),
        ("4.4", "", State.RESERVED, ""),
    ]


ROWS = """\
# 4 Slewing gear

| Item | Description | Off |
|---|---|---|
| 4.1 | Pin 3/4" | 2 |
| 4.2 | Pin | 2 | too many |
| 4.3 | Pin |
| | Pin without number | 4 |
| | | |
| 4.4. | a \\| b \\\\\\| c | \\<br>x<br>y |

After the table.

| Item | Off |
|---|---|
| 4.5 | 3 |
"""


def test_rows_with_a_wrong_number_of_cells_or_no_number_are_set_aside_with_line_and_counts():
    taken = read(ROWS)
    assert [(one.place.line, one.reason) for one in taken.set_aside] == [
        (6, "the row has 4 cells, the head 3"),
        (7, "the row has 2 cells, the head 3"),
        (8, "the row has no number"),
    ]
    assert taken.set_aside[0].text == "| 4.2 | Pin | 2 | too many |"
    found = [one.item for one in taken.items]
    assert [item.number for item in found] == ["4", "4.1", "4.4", "4.5"]
    assert found[0].text == "After the table."
    assert (found[2].title, found[2].off) == ("a | b \\| c", "<br>x\ny")


def test_an_item_table_with_too_few_dashes_is_not_lost():
    text = "# 4 S\n\n| Item | Description | Off |\n|---|---|\n| 4.1 | Pin | 2 |\n"
    assert [(item.number, item.off) for item in items(text)] == [("4", ""), ("4.1", "2")]
    assert faults(text, "cell count") == [(4, "The head has 3 columns, the line of dashes under it 2.")]


def test_a_column_that_stands_twice_is_kept_under_another_label():
    text = "# 4 S\n\n| Item | Off | off | |\n|---|---|---|---|\n| 4.1 | 2 | 3 | x |\n"
    assert items(text)[1].other == (("Column 4", "x"), ("off (column 3)", "3"))
    assert [line for line, _ in faults(text, "column given twice")] == [3]


def test_headings_without_number_are_text_and_flagged_in_our_own_orders():
    text = "# 4 S\n\n### Notes\n\nText.\n"
    assert items(text)[0].text == "### Notes\n\nText."
    assert faults(text, "heading without number") == [(3, "The heading has no number: Notes.")]
    assert faults(text, "heading without number", ours=False) == []


def test_text_before_the_first_number_is_set_aside_and_comments_are_not():
    taken = read("<!-- kept by the office -->\n\nA letter.\n\n# 4 S\n")
    assert [(one.place.line, one.text) for one in taken.set_aside] == [(3, "A letter.")]
    assert [flag.severity for flag in taken.flags] == [Severity.WARNING]


def test_running_numbers_are_items_of_their_section():
    found = items("# 4 S\n## 142 Rope\n- Off: 2\n## 142A Socket\n")
    assert [(item.number, item.section, item.kind) for item in found] == [
        ("4", "4", Kind.SECTION), ("142", "4", Kind.ITEM), ("142A", "4", Kind.CLAUSE),
    ]  # fmt: skip


def test_line_ends_and_the_mark_of_utf_8_are_no_matter():
    data = b"\xef\xbb\xbf" + SLEWING.replace("\n", "\r\n").encode()
    assert utf_8_text(data, "x.md") == SLEWING


def test_a_byte_that_is_not_utf_8_is_named_with_its_line():
    with pytest.raises(WrongUse, match=r"spec/04\.md, line 2 cannot be read: byte D8"):
        utf_8_text("# 4 S\nØ60\n".encode("cp1252"), "spec/04.md")


def test_the_time_grows_with_the_number_of_rows_not_faster():
    def seconds(rows):
        head = "# 4 S\n\n| Item | Description | Off |\n|---|---|---|\n"
        text = head + "".join(f"| 4.{row} | Pin {row} | 2 |\n" for row in range(1, rows + 1))
        start = time.perf_counter()
        assert len(read(text).items) == rows + 1
        return time.perf_counter() - start

    seconds(200)
    assert seconds(8000) < 4 * 4 * max(seconds(2000), 0.01)


@pytest.mark.parametrize(
    ("said", "title", "state"),
    [
        ("Not used", "", State.RESERVED), ("(Not used)", "", State.RESERVED), ("[Not used]", "", State.RESERVED),
        ("*Not used*", "", State.RESERVED), ("- Not Used -", "", State.RESERVED),
        ("Clause not used", "", State.RESERVED),
        ("Reserved for future use", "", State.RESERVED), ("Intentionally omitted", "", State.RESERVED),
        ("Clause deleted", "", State.DELETED), ("DELETED.", "", State.DELETED), ("Withdrawn", "", State.DELETED),
        ("Frames (not used)", "Frames", State.RESERVED), ("Frames - deleted", "Frames", State.DELETED),
        ("Deleted scenes", "Deleted scenes", State.LIVE), ("\\\\Not used", "Not used", State.LIVE),
    ],
)  # fmt: skip
def test_clauses_that_are_not_used_in_the_words_met(said, title, state):
    said = said.replace("\\\\", "\\")
    (_, item) = items(f"# 2 S\n\n## 2.1 {said}\n", ours=False)
    assert (item.number, item.title, item.state) == ("2.1", title, state)


def test_clauses_of_an_annex():
    text = "# 2 S\n\n# ANNEX A TESTS\n\nA.1 General\n\nText.\n\nA.1.1 Load\n\n## A.2 Records\n\nA. Smith signed.\n"
    assert [(item.number, item.title, item.section, item.text) for item in items(text, ours=False)] == [
        ("2", "S", "2", ""), ("A", "TESTS", "A", ""), ("A.1", "General", "A", "Text."), ("A.1.1", "Load", "A", ""),
        ("A.2", "Records", "A", "A. Smith signed."),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "contents",
    [
        "# Contents\n\n## 1 General 3\n\n## 1.1 Scope 3\n", "CONTENTS\n\n1.1 Scope\n\n1.2 Standards\n",
        "Contents\n\n1 General ..... 3\n1.1 Scope ..... 3\n", "## Contents\n\n- 1 General\n  - 1.1 Scope\n",
        "## Contents\n\n1. [General](#general)\n2. [Frames](#frames)\n",
        "## Contents\n\n| Clause | Page |\n|---|---|\n| 1.1 Scope | 3 |\n",
    ],
)  # fmt: skip
def test_lists_of_contents_in_the_forms_met(contents):
    taken = read(f"{contents}\n# 1 General\n\n1.1 Scope\n\nText.\n\n1.2 Standards\n", ours=False)
    assert [one.item.number for one in taken.items] == ["1", "1.1", "1.2"]
    assert [flag.name for flag in taken.flags] == ["list of contents"]


@pytest.mark.parametrize(
    ("body", "name"),
    [
        ("##2.2 Plate", "line like a heading"), ("**3 WELDING**", "line like a heading"),
        ("2.2 to 2.4 Not used", "line like a heading"), ("## 2.2(a) Plate", "number of another form"),
        ("## 2-2 Plate", "number of another form"), ("```\n## 2.2 Lost", "not closed"),
        ("<!-- x\n\n## 2.2 Lost", "not closed"),
        ("## 25 mm plate", "number or quantity"),
    ],
)  # fmt: skip
def test_what_may_be_meant_otherwise_is_flagged(body, name):
    assert [line for line, _ in faults(f"# 2 S\n\n## 2.1 Frames\n\n{body}\n", name, ours=False)] == [5]
