"""The Markdown form: tables that stay tables whatever stands in them, and the words of the printed sheet."""

from __future__ import annotations

import html
import re
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from specreg.output.extract_wording import summary, title_rows
from specreg.output.markdown_sheet import COLUMNS, cell, markdown_sheet
from tests.output.extracts_to_write import LARGE, LINE, NASTY, NIL, RECONCILIATION, SMALL


def split_row(row: str) -> list[str]:
    """The cells of a row, split at strokes without a backslash before them, as written."""
    return [part.strip() for part in re.split(r"(?<!\\)\|", row)[1:-1]]


def read_back(text: str) -> str:
    """A cell as it was before it was made safe."""
    return html.unescape(re.sub(r"\\([^A-Za-z0-9\s])", r"\1", text.replace("<br>", "\n")))


def rows(text: str) -> list[list[str]]:
    return [split_row(line) for line in text.splitlines() if line.startswith("|")]


def row_of(text: str, number: str) -> list[str]:
    return next(row for row in rows(text) if len(row) == len(COLUMNS) and row[1] == number)


def lines_of(text: str) -> str:
    return "\n".join(line.strip() for line in text.splitlines())


def test_every_line_has_its_row_in_order() -> None:
    numbers = [row[1] for row in rows(markdown_sheet(LARGE)) if len(row) == len(COLUMNS) and row[1][:1].isdigit()]
    assert numbers == [line.number for line in (*LARGE.lines, *LARGE.withdrawn)]


def test_the_nasty_row_comes_back_when_split() -> None:
    row = [read_back(one) for one in row_of(markdown_sheet(SMALL), NASTY.number)]
    assert row[:4] == ["» § H", "4.1.2", "1 pair", NASTY.title]
    assert row[4:10] == ["2 cast", "PAT", "MCH", NASTY.material, NASTY.size, NASTY.drawing]
    for text in (NASTY.text, NASTY.was, NASTY.remarks, NASTY.hand, NASTY.safety):
        assert lines_of(text) in row[10]


def test_a_reader_of_tables_finds_the_same_tables() -> None:
    tokens = MarkdownIt("commonmark", {"html": True}).enable("table").parse(markdown_sheet(SMALL))
    assert [token.type for token in tokens].count("table_open") == 6
    cells = [token for place, token in enumerate(tokens) if tokens[place - 1].type == "td_open"]
    place = [place for place, token in enumerate(cells) if token.content == "4.1.2"][1]
    title = "".join("\n" if child.type == "html_inline" else child.content for child in cells[place + 2].children or [])
    assert title == NASTY.title


@given(
    st.text(
        st.one_of(st.characters(codec="utf-8", exclude_categories=["Cc"]), st.sampled_from("|\\*_`[]<&~$#")), min_size=1
    )
)
def test_any_text_in_a_cell_reads_as_it_was_written(text: str) -> None:
    document = f"| x | y |\n|---|---|\n| {cell(text)} | end |\n"
    tokens = MarkdownIt("commonmark", {"html": True}).enable("table").parse(document)
    cells = [token for place, token in enumerate(tokens) if tokens[place - 1].type == "td_open"]
    assert len(cells) == 2
    shown = "".join("\n" if child.type == "html_inline" else child.content for child in cells[0].children or [])
    assert shown.strip() == lines_of(text).strip()


def test_it_says_what_the_printed_sheet_says() -> None:
    pairs = [tuple(read_back(one) for one in row) for row in rows(markdown_sheet(SMALL)) if len(row) == 2]
    for pair in summary(SMALL):
        assert pair in pairs
    assert ("Compared with", "extract 1 of revision A: 0 added, 1 altered, 1 withdrawn, 1 as before") in pairs


def test_the_title_block_is_the_last_table() -> None:
    text = markdown_sheet(SMALL)
    last = [tuple(read_back(one) for one in row) for row in rows(text[text.index("## Title block") :])]
    assert last[2:] == [pair for row in title_rows(SMALL, "1 of 1") for pair in row]
    assert text.index("## Receipt") < text.index("## Title block")
    assert text.endswith("| Sheet | 1 of 1 |\n")


def test_sections_are_headings_over_their_own_table() -> None:
    headings = re.findall(r"^## (.*)$", markdown_sheet(LARGE), re.MULTILINE)
    assert headings[:3] == ["New for you since extract 1 of revision A", "1 Section title 1", "2 Section title 2"]
    assert headings[-4:] == ["4 Slewing gear", "Withdrawn: no longer your lines", "Receipt", "Title block"]


def test_a_heading_stays_one_line_and_keeps_its_signs() -> None:
    text = markdown_sheet(replace(SMALL, since="", lines=(replace(LINE, section_title="Drum\n# <b> #"),)))
    tokens = MarkdownIt("commonmark").parse(text)
    inline = [token for place, token in enumerate(tokens) if tokens[place - 1].type == "heading_open"]
    assert "".join(child.content for child in inline[1].children or []) == "4 Drum # <b> #"


def test_what_is_new_has_a_table_of_its_own_above_the_lines() -> None:
    text = markdown_sheet(LARGE)
    found = [[read_back(one) for one in row] for row in rows(text) if len(row) == 3][2:]
    assert [row[0] for row in found] == ["+"] * 18 + ["-"] * 2
    assert found[0] == ["+", "1.2", "Rack segment"]
    assert found[-1] == ["-", "9.3.3", "Drum end, old: deleted, cracked in the mould"]
    assert "\nand 43 more, signed in the list\n" in text
    assert text.index("and 43 more") < text.index("## 1 Section title 1")
    assert "New for you" not in markdown_sheet(NIL)


def test_a_withdrawn_line_says_why() -> None:
    assert "Why: deleted: cracked in the mould" in read_back(row_of(markdown_sheet(SMALL), "9.3.2")[10])


def test_nil_withdrawn_unchanged_and_loss_are_said() -> None:
    nil = markdown_sheet(NIL)
    assert "\nNo items for the smithy at revision C\n" in nil
    assert "\nnone withdrawn\n" in nil
    assert "unchanged for you since extract 1 of revision A" in markdown_sheet(replace(SMALL, changed=False))
    lost = replace(SMALL, reconciliation=replace(RECONCILIATION, in_shares=7913))
    assert "7 912 steps against 7 913 in shares, difference -1" in markdown_sheet(lost)
