"""The item's sheet on paper of any width: nothing of a route, a drawing or the history is cut."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specreg.services.readings import ItemSheet, SaidLine, SheetLine, StepLine
from specreg.tui import item_paper
from specreg.tui.columns import Column, Row
from specreg.tui.item_paper import standing_of
from specreg.tui.labelled import table
from specreg.tui.passages import lines_of_part
from specreg.tui.pieces import Line, line, width_of

RULE = "bolts studs and pins to drawing"
SHEET = ItemSheet(
    number="4.4.10", title="Bearing bush", text="word " * 60, kind="item", state="live", reason="", section="4",
    section_title="Slewing gear", fields=(("Remarks", "one pattern for both bearings " * 4),), was={}, off="9",
    working="2 × 3 + 3 = 9",
    sheets=(SheetLine("SL-411", "SL-411", "Slewing shaft bearings, upper and lower", "A", "planned", True),),
    route=(
        StepLine(1, "PAT", "Pattern and joiners' shop", "make the pattern", "9", RULE),
        StepLine(2, "FDY", "Foundry", "cast", "9+1", RULE),
    ),
    no_action="", history=(SaidLine("A", "2026-03-04", "", "as first issued"), SaidLine("B", "2026-11-25", "1", "Off")),
    note="", sign="»", safety=False,
)  # fmt: skip


def item_lines(sheet: ItemSheet, width: int) -> tuple[Line, ...]:
    """Every line of the sheet, those of passages too."""
    return tuple(line for part in item_paper.item_lines(sheet, width) for line in lines_of_part(part))


def text_of(lines: tuple[Line, ...]) -> list[str]:
    return ["".join(piece.text for piece in line) for line in lines]


@pytest.mark.parametrize("width", [76, 100, 128, 156])
def test_departments_operations_and_titles_are_not_cut_where_there_is_room(width: int) -> None:
    lines = text_of(item_lines(SHEET, width))
    pattern = next(line for line in lines if "PAT" in line or "Pattern and" in line)
    assert "Pattern and joiners' shop" in pattern
    assert not [line for line in lines if "…" in line]
    assert "make the pattern" in " ".join(pattern.split()) or width == 76
    assert all(width_of(line) <= width for line in item_lines(SHEET, width))


def test_a_cell_of_several_lines_stands_in_several_though_all_of_it_would_find_room_in_one() -> None:
    rows = table("Label", [Row("", (line("a"), line("one\ntwo")))], (Column("", 4, 4), Column("", 40, 40)), 76)
    assert [row.split() for row in text_of(tuple(one for part in rows for one in lines_of_part(part)))] == [
        ["Label", "a", "one"], ["two"],
    ]  # fmt: skip


def test_what_is_too_long_for_its_column_goes_on_underneath() -> None:
    lines = text_of(item_lines(SHEET, 76))
    at = next(place for place, line in enumerate(lines) if line.startswith("Drawings"))
    assert "Slewing shaft bearings," in lines[at] and lines[at + 1].split() == ["upper", "and", "lower"]
    route = next(place for place, line in enumerate(lines) if line.startswith("Route"))
    assert lines[route].split()[1:7] == ["1", "Pattern", "and", "joiners'", "shop", "make"]
    assert "9 off" in lines[route] and "9 off" not in lines[route + 1]
    assert " ".join(word for line in lines[route : route + 3] for word in line[62:].split()).endswith(RULE[-10:])


def test_a_wide_sheet_is_used_but_its_text_keeps_a_length_that_can_be_read() -> None:
    lines = text_of(item_lines(SHEET, 156))
    assert max(len(line.rstrip()) for line in lines if "pattern for both" in line) > 120
    assert max(len(line.rstrip()) for line in lines if "word word" in line) <= 110


def test_the_head_says_by_which_note_or_revision_an_item_was_altered() -> None:
    said = {note: text_of((standing_of(replace(SHEET, note=note)),))[0] for note in ("", "3")}
    assert said == {"": "» altered in rev B", "3": "» altered by note 3"}
    assert text_of((standing_of(replace(SHEET, history=())),)) == ["» altered"]


def test_an_item_deleted_in_the_first_compilation_names_no_note() -> None:
    gone = replace(SHEET, state="deleted", reason="riveted now", sign="-", note="3")
    first = replace(gone, note="0", history=())
    assert text_of(item_lines(gone, 100))[0] == "- Deleted: riveted now (note 3)"
    assert text_of(item_lines(first, 100))[0] == "- Deleted: riveted now"
    assert text_of((standing_of(gone), standing_of(first))) == ["- deleted by note 3", "- deleted"]
