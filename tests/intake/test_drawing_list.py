"""Drawing lists as offices really write them: heads, groups, totals, issue columns, code pages, inch marks."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from specreg.core.errors import WrongUse
from specreg.core.faults import Severity
from specreg.core.model import Stage
from specreg.intake.drawing_list import drawings_of
from specreg.output.order_folder import drawings_csv
from tests.intake.strategies import sheet_lists


def read(text):
    return drawings_of(text if isinstance(text, bytes) else text.encode(), "drawings.csv")


def flags(taken):
    return [(flag.name, flag.place.line) for flag in taken.flags]


REGISTER = """\
NORTHBANK WORKS,,,,
Register of drawings - 40 t ladle crane,,,Printed 03/02/2026,
,,,,
No.,Drg No,Title,Sht,Rev
BRIDGE,,,,
1,LC40-101,GENERAL ARRANGEMENT,1 of 2,C
2,LC40-101,GENERAL ARRANGEMENT,2 of 2,B
3,LC40-104,END CARRIAGE,1 of 1,-
,,,,
CRAB,,,,
4,LC40-201,CRAB FRAME,1/1,0
5,LC40-202,NOT USED,,
,TOTAL SHEETS,,,4
"""


def test_title_lines_groups_and_totals_are_no_sheets():
    taken = read(REGISTER)
    assert [
        (one.sheet.number, one.sheet.sheet, one.sheet.of, one.sheet.title, one.sheet.revision, one.sheet.group)
        for one in taken.sheets
    ] == [
        ("LC40-101", "1", "2", "GENERAL ARRANGEMENT", "C", "BRIDGE"),
        ("LC40-101", "2", "2", "GENERAL ARRANGEMENT", "B", "BRIDGE"),
        ("LC40-104", "1", "1", "END CARRIAGE", "-", "BRIDGE"),
        ("LC40-201", "1", "1", "CRAB FRAME", "0", "CRAB"),
        ("LC40-202", "", "", "", "", "CRAB"),
    ]
    assert [one.sheet.stage for one in taken.sheets] == ["", "", "", "", Stage.NOT_USED]
    assert [one.place.line for one in taken.sheets] == [6, 7, 8, 11, 12]
    assert taken.flags == () and taken.set_aside == ()


def test_a_stated_total_that_differs_is_flagged():
    taken = read(REGISTER.replace(",,,4", ",,,5"))
    assert [(flag.place.line, flag.text) for flag in taken.flags] == [
        (13, "TOTAL SHEETS says 5; the list has 4 sheets in use up to here.")
    ]
    assert len(taken.sheets) == 5
    assert read(REGISTER.replace("TOTAL SHEETS,,,4", "TOTAL DRAWINGS,,,3")).flags == ()
    assert read(REGISTER.replace("TOTAL SHEETS,,,4", "Total drawings: 4,,,")).flags[0].name == "total differs"


ISSUES = """\
Drawing No;Title;12.01.26;09.02.26;23.03.26
TS-0007;Bolster beam;A;B;
TS-0008;Bolster end plate;A;;C
TS-0009;Wear plate;;A;A
TS-0010;Centre casting;P1;P2;C1
"""


def histories(taken):
    found = {}
    for one in taken.sheets:
        found.setdefault(one.sheet.number, []).append((one.sheet.revision, one.issued, one.current))
    return found


def test_a_column_for_each_issue_gives_the_history():
    taken = read(ISSUES)
    assert histories(taken) == {
        "TS-0007": [("A", ("2026-01-12",), False), ("B", ("2026-02-09",), True)],
        "TS-0008": [("A", ("2026-01-12",), False), ("C", ("2026-03-23",), True)],
        "TS-0009": [("A", ("2026-02-09", "2026-03-23"), True)],
        "TS-0010": [("P1", ("2026-01-12",), False), ("P2", ("2026-02-09",), False), ("C1", ("2026-03-23",), True)],
    }
    assert flags(taken) == [("year of two figures", 1), ("revision not seen", 3)]
    assert "B between A and C was never issued here" in taken.flags[1].text
    assert [one.sheet.date for one in taken.sheets[:2]] == ["12.01.26", "09.02.26"]


def test_issue_columns_out_of_order_are_read_by_date_and_dates_in_two_ways_as_they_stand():
    taken = read("number,title,2026-03-23,2026-01-12\nT-1,Beam,B,A\n")
    assert histories(taken)["T-1"] == [("A", ("2026-01-12",), False), ("B", ("2026-03-23",), True)]
    taken = read("number,title,03/02/2026,04/02/2026\nT-1,Beam,A,B\n")
    assert histories(taken)["T-1"] == [("A", ("03/02/2026",), False), ("B", ("04/02/2026",), True)]
    assert flags(taken) == [("date in two ways", 1)]


def test_inch_marks_are_read_as_they_stand_and_bad_quoting_is_repaired_and_flagged():
    taken = read(
        "item,description,qty,drg\n"
        '1,3/4" plate 12" x 6",2,BX-11\n'
        '2,"1/2"" bar, black",4,BX-12\n'
        '3,"1/2" bar, black",4,BX-13\n'
        '4,TUBE 2.1/2" NB,1,BX-14\n'
    )
    assert [(one.sheet.number, one.sheet.title, one.sheet.remarks) for one in taken.sheets] == [
        ("BX-11", '3/4" plate 12" x 6"', "qty: 2"),
        ("BX-12", '1/2" bar, black', "qty: 4"),
        ("BX-13", '1/2" bar, black', "qty: 4"),
        ("BX-14", 'TUBE 2.1/2" NB', "qty: 1"),
    ]
    assert flags(taken) == [("unknown column", 1), ("bad quoting", 4)]


def test_quoting_that_can_be_read_in_two_ways_is_set_aside():
    taken = read('number,title,size\nA-1,"1" x","2" y","3"\nA-2,Pin,A1\n')
    assert [one.sheet.number for one in taken.sheets] == ["A-2"]
    assert [(one.place.line, one.text) for one in taken.set_aside] == [(2, 'A-1,"1" x","2" y","3"')]
    assert taken.flags[0].severity is Severity.STOP


def test_a_lone_ditto_mark_does_not_swallow_the_rows_below_it():
    taken = read('number,title,rev\nA-1,Pin,A\nA-2,",B\nA-3,Bolt,C\nA-4,",D\n')
    assert [(one.sheet.number, one.sheet.title) for one in taken.sheets] == [
        ("A-1", "Pin"), ("A-2", "Pin"), ("A-3", "Bolt"), ("A-4", "Bolt"),
    ]  # fmt: skip


def test_a_quoted_cell_of_several_lines_is_one_cell():
    taken = read('number,title,remarks\nA-1,Pin,"first\nsecond"\nA-2,Bolt,x\n')
    assert [(one.sheet.number, one.sheet.remarks, one.place.line) for one in taken.sheets] == [
        ("A-1", "first\nsecond", 2), ("A-2", "x", 4),
    ]  # fmt: skip


def test_a_file_in_another_code_page_is_read_and_its_lines_are_shown():
    taken = read("Zeichnungs-Nr;Benennung;Bemerkung\r\n1;Welle Ø60;12,5\r\n2;Buchse 45°;0,80\r\n".encode("cp1252"))
    assert [(one.sheet.number, one.sheet.title, one.sheet.remarks) for one in taken.sheets] == [
        ("1", "Welle Ø60", "12,5"),
        ("2", "Buchse 45°", "0,80"),
    ]
    (flag,) = taken.flags
    assert "cp1252" in flag.text and "line 2: 1;Welle Ø60;12,5" in flag.text and "line 3: 2;Buchse 45°" in flag.text


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16"])
def test_marked_unicode_files_are_read_without_a_flag(encoding):
    taken = read("number\ttitle\nA-1\tWelle Ø60\n".encode(encoding))
    assert [(one.sheet.number, one.sheet.title) for one in taken.sheets] == [("A-1", "Welle Ø60")]
    assert taken.flags == ()


def test_columns_in_any_order_case_and_usual_names():
    taken = read("ISSUE,Drawing Title,Drg. No.,STATUS,Status 2\nB,Pin,A-1,Issued,ok\n")
    (one,) = taken.sheets
    assert (one.sheet.number, one.sheet.title, one.sheet.revision, one.sheet.stage) == ("A-1", "Pin", "B", "issued")
    assert one.sheet.remarks == "Status 2: ok"


def test_faulty_rows_are_set_aside_with_line_and_reason():
    taken = read("number,title,rev\nA-1,Pin,A\nA-2,Bolt\nA-3,Nut,A,x\n,Washer,B\nA-1,Pin again,Rev. A\nA-1,Pin,B\n")
    assert [(one.place.line, one.text, one.reason) for one in taken.set_aside] == [
        (3, "A-2,Bolt", "the row has 2 cells, the head 3"),
        (4, "A-3,Nut,A,x", "the row has 4 cells, the head 3"),
        (5, ",Washer,B", "the row has no number"),
        (6, "A-1,Pin again,Rev. A", "A-1 revision Rev. A stands already at drawings.csv, line 2"),
    ]
    assert [(one.sheet.number, one.sheet.revision) for one in taken.sheets] == [("A-1", "A"), ("A-1", "B")]


def test_a_lone_remark_below_the_list_is_kept_as_one():
    taken = read("number,title\nA-1,Pin\n,\n,PROOFED\n")
    assert [(flag.name, flag.severity, flag.text) for flag in taken.flags] == [
        ("remark on the list", Severity.NOTE, "A remark on the list, no drawing: PROOFED")
    ]


def test_ditto_marks_and_empty_lines_of_a_counted_list_are_flagged():
    taken = read("FIND,TITLE,DRAWING,REV\n6,WASHER,A-1,A\n4,do.,A-2,B\n3,,,\n1,BASE,A-3,\n,,,7\n")
    assert [(one.sheet.number, one.sheet.title, one.sheet.group) for one in taken.sheets] == [
        ("A-1", "WASHER", ""),
        ("A-2", "WASHER", ""),
        ("A-3", "BASE", ""),
    ]
    assert taken.sheets[1].sheet.remarks == "TITLE as written: do."
    assert flags(taken) == [("ditto mark", 3), ("line without a drawing", 4), ("no number", 6)]


def test_an_unknown_stage_is_flagged_and_kept():
    taken = read("number,title,stage\nA-1,Pin,with the owner\n")
    assert taken.sheets[0].sheet.stage == "with the owner"
    assert flags(taken) == [("unknown stage", 2)]


def test_sheets_that_disagree_are_kept_as_written():
    taken = read("number,title,sheet,of\nA-1,Pin,1 of 2,3\n")
    assert (taken.sheets[0].sheet.sheet, taken.sheets[0].sheet.of) == ("1 of 2", "3")
    assert flags(taken) == [("sheets differ", 2)]


def test_a_list_without_a_column_of_titles_names_the_line_and_the_columns():
    with pytest.raises(WrongUse) as caught:
        read("Works,,\nDrg No,Rev,Size\nA-1,B,A1\n")
    sentence = caught.value.sentence
    assert "drawings.csv, line 2" in sentence and "Drg No, Rev, Size" in sentence and "lacks title" in sentence


def test_an_empty_list_has_no_sheets():
    assert read("").sheets == () and read("\n \n").sheets == ()


@settings(max_examples=150, deadline=None)
@given(sheet_lists)
def test_what_is_written_is_read_again(sheets):
    taken = read(drawings_csv(sheets))
    assert [one.sheet for one in taken.sheets] == list(sheets)
    assert taken.set_aside == ()


# Other offices' lists -------------------------------------------------------------------------------------------------


def sheets_of(text):
    return [one.sheet for one in read(text).sheets]


@pytest.mark.parametrize(
    ("written", "sheet", "of"),
    [
        ("Sheet 1 of 3", "1", "3"), ("01/03", "01", "03"), ("1 OF 1", "1", "1"), ("1 of 1.", "1", "1"),
        ("SH 1 OF 2", "1", "2"), ("1 (of 3)", "1", "3"), ("Blatt 1 von 2", "1", "2"), ("Sheet 3", "3", ""),
        ("1of2", "1", "2"), ("2 out of 3", "2", "3"), ("1-3", "1-3", ""), ("7", "7", ""),
    ],
)  # fmt: skip
def test_sheets_in_the_spellings_met(written, sheet, of):
    (one,) = sheets_of(f"Drg No,Title,Sheet\nA-1,Pin,{written}\n")
    assert (one.sheet, one.of) == (sheet, of)


@pytest.mark.parametrize(
    "head",
    [
        "Drg. No.,Title,Mod", "Dwg #,Descr.,Rev'n", "Drawing Ref.,Drawing description,Latest Rev.",
        "Document Number,Title of drawing,Amendment", "Ref. No.,Title,Rev/Issue", "Zeichn.-Nr.,Benennung,Änd.",
        '"Drg\nNo",Title,"Rev\nmark"', "Drawing,Drawing,Latest\nNo.,Title,issue", "Drg No,,\n,Title,Version",
        "Drg No,Title,Rev,,\n--,--,---,,",
    ],
)  # fmt: skip
def test_heads_of_other_offices_of_one_line_or_two(head):
    (one,) = sheets_of(f"{head}\nA-1,Pin,B\n")
    assert (one.number, one.title, one.revision) == ("A-1", "Pin", "B")


def test_issue_dates_on_a_second_line_of_the_head():
    taken = read("Drg No,Title,Issue,,\n,,12-Jan-26,09-Feb-26,23-Mar-26\nA-1,Pin,A,B,\nA-2,Bolt,A,,C\n")
    assert histories(taken) == {
        "A-1": [("A", ("2026-01-12",), False), ("B", ("2026-02-09",), True)],
        "A-2": [("A", ("2026-01-12",), False), ("C", ("2026-03-23",), True)],
    }
    assert flags(taken) == [("year of two figures", 1), ("revision not seen", 4)]


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("12-Jan-26", "2026-01-12"), ("2026-01-12", "2026-01-12"), ("2026/01/12", "2026-01-12"),
        ("13/01/2026", "2026-01-13"), ("Jan 2026", "2026-01"), ("Jan-26", "2026-01"), ("01/2026", "2026-01"),
        ("January 12, 2026", "2026-01-12"), ("12th Jan 2026", "2026-01-12"), ("12/Jan/2026", "2026-01-12"),
        ("20260112", "2026-01-12"), ("Issue 1 12.01.26", "2026-01-12"), ("Iss. 12.01.26", "2026-01-12"),
        ("Mon 12-Jan-2026", "2026-01-12"), ("12/01/2026", "12/01/2026"), ("12-01-26", "12-01-26"), ("12 Jan", "12 Jan"),
    ],
)  # fmt: skip
def test_issue_dates_in_the_styles_met(written, said):
    taken = read(f'Drg No,Title,"{written}"\nA-1,Pin,A\n')
    assert [(one.sheet.revision, one.issued) for one in taken.sheets] == [("A", (said,))]
    assert ("date in two ways" in [flag.name for flag in taken.flags]) is (said == written and written[:4] != "2026")


def test_a_date_that_leaves_no_choice_tells_how_the_others_of_its_head_are_read():
    taken = read("Drg No;Title;12/01/2026;25/01/2026;09/02/2026\nT-1;x;A;;B\n")
    assert histories(taken)["T-1"] == [("A", ("2026-01-12",), False), ("B", ("2026-02-09",), True)]
    assert [(flag.name, flag.severity) for flag in taken.flags] == [("date in two ways", Severity.NOTE)]
    taken = read("Drg No;Title;01/12/2026;01/25/2026;02/09/2026\nT-1;x;A;;B\n")
    assert histories(taken)["T-1"] == [("A", ("2026-01-12",), False), ("B", ("2026-02-09",), True)]


def test_what_is_strange_under_dates_of_issue_is_flagged_and_nothing_is_lost():
    head = "Drg No;Title;2026-01-12;2026-02-09;2026-03-23\n"
    again = read(head + "T-1;x;A;B;A\n")
    assert histories(again)["T-1"] == [("B", ("2026-02-09",), False), ("A", ("2026-01-12", "2026-03-23"), True)]
    assert again.set_aside == () and "revision issued again" in [flag.name for flag in again.flags]
    for row, name in (
        ("T-1;x;1;3;", "revision not seen"), ("T-1;x;P1;P3;", "revision not seen"),
        ("T-1;x;B;A;", "marks against dates"),
        ("T-1;x;A;x;", "no revision mark"), ("T-1;x;A;CANCELLED;", "no revision mark"),
    ):  # fmt: skip
        assert [flag.name for flag in read(f"{head}{row}\n").flags] == [name], row
    assert read(head + "T-1;x;P4;C1;\nT-2;x;Y;AA;\nT-3;x;H;J;\nT-4;x;Rev A;A;B\n").flags == ()


@pytest.mark.parametrize(
    "words",
    [
        "Sheets in total", "No. off sheets", "Nos. of sheets", "Summe", "2 sheets", "SHEETS: 2", "Total No of Drgs",
        "Number of sheets in use", "Carried forward", "GRAND TOTAL", "Total = 2",
    ],
)  # fmt: skip
@pytest.mark.parametrize("row", ["{},,,2", ",{},,2"])
def test_totals_in_other_words_are_no_sheets(words, row):
    body = f"Drg No,Title,Sht,Rev\nA-1,Pin,1 of 1,A\nA-2,Bolt,1 of 1,B\n{row.format(words)}\n"
    taken = read(body)
    assert len(taken.sheets) == 2 and taken.flags == () and taken.set_aside == ()
    differs = read(body + row.format("TOTAL SHEETS").replace("2", "7") + "\n")
    assert flags(differs) == [("total differs", 5)]


def test_a_total_of_sheets_where_a_row_is_a_drawing():
    body = "Drg No,Title,Sheets,Rev\nA-1,Pin,3,A\nA-2,Pin,2,A\n"
    assert read(body + ",TOTAL SHEETS,5,\n").flags == ()
    assert read(body + ",TOTAL,5 sheets,2 drawings\n").flags == ()
    assert flags(read(body + ",TOTAL,5 sheets,3 drawings\n")) == [("total differs", 4)]


@pytest.mark.parametrize(
    ("words", "stage"),
    [
        ("CANCELLED", "cancelled"), ("VOID", "cancelled"), ("*** CANCELLED ***", "cancelled"), ("DELETED", "cancelled"),
        ("SPARE", "not used"), ("(spare)", "not used"), ("RESERVED", "not used"), ("- not used -", "not used"),
        ("Number not allocated", "not used"), ("N/U", "not used"),
    ],
)  # fmt: skip
def test_a_number_without_a_drawing_stays_taken(words, stage):
    one, _ = sheets_of(f"Drg No,Title,Sht,Rev\nA-2,{words},,\nA-3,Nut,1,A\n")
    assert (one.number, one.title, one.stage) == ("A-2", "", stage)


def test_more_words_about_a_state_are_kept_and_doubtful_ones_are_flagged():
    (one,) = sheets_of("Drg No,Title,Rev\nA-2,Cancelled - see A-9,\n")
    assert (one.title, one.stage, one.remarks) == ("", "cancelled", "Title: Cancelled - see A-9")
    (one,) = sheets_of("Drg No,Title,Rev\nA-2,Pin,VOID\n")
    assert (one.title, one.revision, one.stage) == ("Pin", "", "cancelled")
    for words in ("NOT ISSUED", "Superseded by A-9", "To be issued"):
        taken = read(f"Drg No,Title,Rev\nA-2,{words},\n")
        assert taken.sheets[0].sheet.title == words and flags(taken)[0] == ("stage not sure", 2)
    taken = read("Drg No,Title,Rev\nA-2,SPARE,B\n")
    assert taken.sheets[0].sheet.title == "SPARE" and flags(taken) == [("stage not sure", 2)]


@pytest.mark.parametrize(
    "row",
    [
        "DRG NO.,TITLE,SHT.,REV.", " Drg  No ,Title , Sht,Rev", "NORTHBANK,,,", "NORTHBANK,,,Page 2", "Sheet 2 of 3,,,",
        ",,,2 of 3", "- 2 -,,,", "-----,-----,-----,-----", "Printed 03/02/2026,,,", "Printed,03/02/2026,,",
        "*** END OF LIST ***,,,", "Page 1 of 3,,,",
    ],
)  # fmt: skip
def test_what_each_page_repeats_is_no_sheet_and_no_group(row):
    taken = read(f"NORTHBANK,,,\nDrg No,Title,Sht,Rev\nCRAB,,,\nA-1,Pin,1,A\n{row}\nA-3,Nut,1,A\n")
    assert [(one.sheet.number, one.sheet.group) for one in taken.sheets] == [("A-1", "CRAB"), ("A-3", "CRAB")]
    assert taken.flags == () and taken.set_aside == ()


def test_remarks_between_the_rows_head_no_group_and_doubtful_numbers_are_flagged():
    taken = read("Drg No,Title,Rev\nCRAB,,\nA-1,Pin,A\n,Note: pins to be hardened,\nA-2,Nut,A\n")
    assert [one.sheet.group for one in taken.sheets] == ["CRAB", "CRAB"]
    assert flags(taken) == [("remark on the list", 4)]
    for row, name in (
        ("A,CRAB,", "number without a figure"), ("GROUP 2,CRAB,", "number or group"), ("100-SERIES,,", "number alone"),
        ("1-Feb,Pin,A", "changed by a spreadsheet"), ("1.00E+05,Pin,A", "changed by a spreadsheet"),
        ("A-1,Ditto (L.H.),A", "ditto mark"), ("A-1,do.,A", "ditto mark"),
    ):  # fmt: skip
        found = read(f"Drg No,Title,Rev\n{row}\n")
        assert len(found.sheets) == 1 and flags(found) == [(name, 2)], row


def test_text_kept_from_a_spreadsheet_is_the_text_and_a_formula_is_no_number():
    taken = read('Drg No,Title,Rev\n="0012",Pin,A\n"=""0013""",Nut,="01"\n=A1+1,Bolt,B\n')
    assert [(one.sheet.number, one.sheet.revision) for one in taken.sheets] == [("0012", "A"), ("0013", "01")]
    assert [(one.place.line, one.text) for one in taken.set_aside] == [(4, "=A1+1,Bolt,B")]
    assert flags(taken) == [("formula", 2), ("formula", 3), ("formula", 4)]


def test_a_sheet_given_twice_with_another_nought_is_set_aside():
    taken = read("Drg No,Title,Sht,Rev\nA-1,Pin,1,A\nA-1,Pin,01,(A)\n0012,Nut,1,A\n12,Nut,1,A\n")
    assert [one.place.line for one in taken.set_aside] == [3]
    assert [one.sheet.number for one in taken.sheets] == ["A-1", "0012", "12"]


def test_a_cell_cut_at_its_inch_mark_is_mended():
    taken = read('Drg,Title,Rev\nA-6,"2\'-6", bored",A\n')
    assert [(one.sheet.title, one.sheet.revision) for one in taken.sheets] == [("2'-6\", bored", "A")]
    assert flags(taken) == [("bad quoting", 2)]


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be", "cp1252", "cp850", "utf-8"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_code_pages_line_ends_and_delimiters(encoding, end, delimiter):
    lines = [["Drg No", "Title", "Rev", "", ""], ["A-1", "Welle Ø60 für Träger", "A", "", ""], ["A-2", "Pin", "B"]]
    taken = read((end.join(delimiter.join(line) for line in lines) + end + "\x1a").encode(encoding))
    assert [one.sheet.title for one in taken.sheets] == ["Welle Ø60 für Träger", "Pin"]
    assert [flag.name for flag in taken.flags] == (["code page"] if encoding.startswith("cp") else [])
    assert all(f"({encoding})" in flag.text for flag in taken.flags)
