"""The workbook form, read back: values and their kinds, no formulas, print set-up, the same bytes each time."""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook
from openpyxl.cell import Cell

from specreg.core.errors import WrongUse
from specreg.core.extracts import ExtractLine
from specreg.output.extract_wording import NOTHING, closing, heading, news_heading, nil_sentence, summary, title_rows
from specreg.output.xlsx import COLUMNS, MOST_SIGNS, xlsx
from tests.output.extracts_to_write import LARGE, LINE, NASTY, NIL, SMALL, WITHDRAWN

HEADS = [column.head for column in COLUMNS]


def book(data: bytes) -> Any:
    return load_workbook(io.BytesIO(data))


def cells(data: bytes, row: int) -> dict[str, Cell]:
    """The cells of one row of the lines, by the head of their column."""
    return dict(zip(HEADS, book(data).worksheets[1][row], strict=True))


def unescaped(text: str) -> str:
    """A text as a spreadsheet shows it: `_xHHHH_` is a code there."""
    return re.sub(r"_x([0-9A-Fa-f]{4})_", lambda code: chr(int(code[1], 16)), text)


def test_the_first_sheet_says_what_the_other_forms_say() -> None:
    sheet = book(xlsx(SMALL)).worksheets[0]
    rows = [tuple(cell for cell in row if cell is not None) for row in sheet.iter_rows(values_only=True)]
    assert rows[0] == (heading(SMALL),)
    for pair in (*summary(SMALL), *(pair for row in title_rows(SMALL, "")[:2] for pair in row)):
        assert pair in rows
    assert (news_heading(SMALL),) in rows
    assert (closing(SMALL),) in rows
    assert ("Seal", SMALL.seal) in rows
    assert NOTHING not in rows[-1]


def test_every_line_has_its_row_and_the_withdrawn_ones_come_last_with_their_sign() -> None:
    sheet = book(xlsx(LARGE)).worksheets[1]
    rows = list(sheet.iter_rows(values_only=True))
    assert list(rows[0]) == HEADS
    assert [row[1] for row in rows[1:]] == [line.number for line in (*LARGE.lines, *LARGE.withdrawn)]
    assert [row[0] or "" for row in rows[1:]] == [*(line.sign for line in LARGE.lines), "-", "-"]
    assert rows[-1][HEADS.index("Altered or why withdrawn")] == WITHDRAWN.was


def test_counts_are_numbers_and_texts_are_texts() -> None:
    lines = (
        replace(LINE, off="12", pieces=12, pattern="0338"),
        LINE,
        replace(LINE, off="007"),
        replace(LINE, off="9" * 16),
    )
    data = xlsx(replace(SMALL, lines=lines))
    first, second = cells(data, 2), cells(data, 3)
    assert (first["Step"].value, first["Step"].data_type) == (2, "n")
    assert (first["Off"].value, first["Off"].data_type) == (12, "n")
    assert (first["Pieces"].value, first["Pieces"].data_type) == (12, "n")
    assert (first["Pattern"].value, first["Pattern"].data_type) == ("0338", "s")
    assert (second["Off"].value, second["Off"].data_type) == ("36+3", "s")
    assert cells(data, 4)["Off"].value == "007"
    assert cells(data, 5)["Off"].value == "9" * 16
    assert cells(xlsx(SMALL), 3)["Pieces"].value is None


def test_the_nasty_row_comes_back_and_is_no_formula() -> None:
    row = cells(xlsx(SMALL), 3)
    said = {
        "Item": NASTY.number, "Description": NASTY.title, "Text": NASTY.text.replace("\r\n", "\n"),
        "Material": NASTY.material, "Size": NASTY.size, "Drawing, revision": NASTY.drawing, "Remarks": NASTY.remarks,
        "Altered or why withdrawn": NASTY.was, "Off": NASTY.off, "Machines": NASTY.machines,
    }  # fmt: skip
    assert {head: row[head].value for head in said} == said
    assert row["Description"].data_type == "s"
    assert row["Description"].quotePrefix
    assert row["Remarks"].quotePrefix
    assert not row["Material"].quotePrefix


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1", "@SUM(A1)", "#N/A", "#REF!", "=", "TRUE", "1e5", "2026-10-12", "0338"]
)
def test_whatever_it_looks_like_a_text_is_a_string(text: str) -> None:
    data = xlsx(replace(SMALL, lines=(replace(LINE, title=text),), order_title=text, customer=text))
    assert (cells(data, 2)["Description"].value, cells(data, 2)["Description"].data_type) == (text, "s")
    kinds = {cell.data_type for sheet in book(data) for row in sheet for cell in row}
    assert kinds <= {"s", "n"}
    assert not [name for name in zipfile.ZipFile(io.BytesIO(data)).namelist() if b"<f>" in zipped(data, name)]


def zipped(data: bytes, name: str) -> bytes:
    return zipfile.ZipFile(io.BytesIO(data)).read(name)


@settings(max_examples=40, deadline=None)
@given(st.text(max_size=80))
def test_any_text_comes_back_but_for_signs_that_the_form_bars(text: str) -> None:
    back = cells(xlsx(replace(SMALL, lines=(replace(LINE, title=text, off=text, section=""),))), 2)["Description"]
    plain = re.sub(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]", "\N{REPLACEMENT CHARACTER}", text.replace("\r\n", "\n"))
    assert unescaped(str(back.value or "")) == plain.replace("\r", "\n")


def test_a_text_that_looks_like_a_code_of_the_form_is_kept() -> None:
    value = cells(xlsx(replace(SMALL, lines=(replace(LINE, title="_x0041_ and _x000D_"),))), 2)["Description"].value
    assert value == "_x005F_x0041_ and _x005F_x000D_"
    assert unescaped(str(value)) == "_x0041_ and _x000D_"


def test_a_text_too_long_for_a_cell_is_refused_not_cut() -> None:
    with pytest.raises(WrongUse, match=r"32767"):
        xlsx(replace(SMALL, lines=(replace(LINE, text="x" * (MOST_SIGNS + 1)),)))
    assert (
        cells(xlsx(replace(SMALL, lines=(replace(LINE, text="x" * MOST_SIGNS),))), 2)["Text"].value == "x" * MOST_SIGNS
    )


def test_every_field_of_a_line_stands_in_a_column() -> None:
    others = ("step", "pieces", "weighs")
    marked = {field.name: f"~{field.name}~" for field in fields(ExtractLine) if field.name not in others}
    line = replace(LINE, **marked)  # type: ignore[arg-type]
    row = " ".join(str(cell.value) for cell in cells(xlsx(replace(SMALL, lines=(line,))), 2).values())
    for text in marked.values():
        assert text in row


def test_it_prints_on_a4_with_its_head_on_every_sheet_and_the_sheets_counted() -> None:
    first, lines = book(xlsx(SMALL)).worksheets
    assert (lines.page_setup.orientation, int(lines.page_setup.paperSize)) == ("landscape", 9)
    assert lines.sheet_properties.pageSetUpPr.fitToPage
    assert (int(lines.page_setup.fitToWidth), int(lines.page_setup.fitToHeight)) == (1, 0)
    assert lines.print_title_rows == "$1:$1"
    assert lines.freeze_panes == "C2"
    assert lines["F2"].alignment.wrap_text
    for sheet in (first, lines):
        assert sheet.oddFooter.right.text == "sheet &P of &N"
        assert "seal K7MP4TQ2" in sheet.oddFooter.left.text


def test_an_ampersand_in_the_footer_is_no_code() -> None:
    block = replace(SMALL.title_block, identification_number="A&D&P")
    assert b"A&amp;&amp;D&amp;&amp;P," in zipped(xlsx(replace(SMALL, title_block=block)), "xl/worksheets/sheet2.xml")


def test_a_nil_extract_says_so_and_has_its_head_row() -> None:
    first, lines = book(xlsx(NIL)).worksheets
    assert nil_sentence(NIL) in [row[0] for row in first.iter_rows(values_only=True)]
    assert lines.max_row == 1


@pytest.mark.parametrize(
    ("code", "name"),
    [
        ("FDY", "FDY"),
        ("extract", "Lines extract"),
        ("", "Lines"),
        ("A/B:[C]*?", "A B  C"),
        ("X" * 40, "X" * 31),
        ("'", "Lines"),
    ],
)
def test_the_lines_sheet_is_named_by_the_department(code: str, name: str) -> None:
    assert book(xlsx(replace(SMALL, department=code))).sheetnames == ["Extract", name]


def test_the_same_extract_gives_the_same_bytes_without_an_hour() -> None:
    data = xlsx(SMALL)
    assert xlsx(SMALL) == data
    assert {entry.date_time for entry in zipfile.ZipFile(io.BytesIO(data)).infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert re.findall(rb">(\d{4}-[^<]*)<", zipped(data, "docProps/core.xml")) == [b"1980-01-01T00:00:00Z"] * 2
