"""The sheet that makes extracts as lines: what is asked, the bar, what was made."""

from __future__ import annotations

import pytest

from specreg.services.doings import ExtractsMade, Progress
from specreg.tui.extract_paper import FOLDER, FORM, Wanted, asked, outcome, under_way
from specreg.tui.pieces import Line, width_of
from specreg.tui.typing_line import Typing


def text(line: Line) -> str:
    return "".join(piece.text for piece in line)


@pytest.mark.parametrize("width", [16, 32, 52, 60])
@pytest.mark.parametrize("most", [6, 8, 12, 22])
def test_the_sheet_keeps_within_its_lines_and_every_choice_can_be_clicked(width: int, most: int) -> None:
    wanted = Wanted("PAT Pattern and joiners' shop", 13, ("pdf", "csv"))
    sentence = "~ Make the folder extracts/today: it is a file. Name another folder, or move the file out of the way."
    for aside in ("", "They say what revision B says; open edits are not in it."):
        for told in ("", sentence):
            sheet = asked(wanted, Typing("extracts"), aside, told, width, most)
            lines = [text(line) for line in sheet.lines]
            rows = {one.line for one in sheet.spots}
            assert len(lines) <= max(most, len(rows)) and all(width_of(line) <= max(width, 22) for line in sheet.lines)
            for one in sheet.spots:
                words = lines[one.line][one.left : one.right]
                assert sheet.spot(one.line, one.left) == sheet.spot(one.line, one.right - 1) == one
                assert ("Folder" if one.row == FOLDER else "[" if one.row == FORM else "(") in words
            assert len(sheet.spots) == 2 + 5 + 1
            if told and most >= 12:
                assert "~ Make the folder" in " ".join(lines)


def test_choices_are_turned_over_and_the_forms_keep_their_order() -> None:
    wanted = Wanted("FDY Foundry", 5, ("pdf",))
    assert wanted.to_choice(1).to_choice(1).chosen().forms == ("pdf", "xlsx")
    assert wanted.chosen().forms == () and wanted.chosen().chosen().forms == ("pdf",)
    assert wanted.to_choice(-1).form == 0 and wanted.to_choice(9).form == 4
    assert [wanted.to_row(step).row for step in (-1, 0, 1, 2)] == [0, 1, 2, 0]
    one = Wanted("FDY Foundry", 1, ("pdf",))
    assert one.to_row(1).row == FOLDER and one.to_row(-1).row == FOLDER, "with one department nothing is chosen there"
    assert one.pointed_at(0, 1) == one


def test_the_bar_is_as_long_as_what_is_done() -> None:
    def bar(done: int, of: int) -> str:
        return text(under_way(Progress(done, of, "Foundry"), False, 60)[1])

    assert bar(0, 4) == "░" * 40 and bar(1, 4) == "█" * 10 + "░" * 30 and bar(4, 4) == "█" * 40
    assert text(under_way(Progress(3, 4, "Erecting shop"), False, 60)[0]) == "4 of 4  Erecting shop"
    assert all(width_of(line) <= 20 for line in under_way(Progress(3, 4, "Erecting shop, west bay"), True, 20))


def test_of_a_stop_before_anything_was_made_nothing_is_listed() -> None:
    assert [text(line) for line in outcome(ExtractsMade((), "/works/extracts", stopped=True), 60)] == [
        "None was begun."
    ]
