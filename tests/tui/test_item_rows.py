"""Rows of the list of items: what a row says of the note it stands open under."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specreg.services.readings import ItemLine
from specreg.tui.columns import Row
from specreg.tui.item_rows import item_row

ITEM = ItemLine("", "4.1.2", "Rack bolt", False, "24", "mild steel", "", "SL-1003", "item", "live", 2, "")


def said(row: Row) -> str:
    return " ".join("".join(piece.text for piece in cell) for cell in row.cells)


@pytest.mark.parametrize(("note", "told"), [("3", "note 3"), ("0", ""), ("", "")])
def test_an_open_item_names_its_note_but_not_the_first_compilation(note: str, told: str) -> None:
    row = item_row(replace(ITEM, note=note), is_assembly=False)
    assert "".join(piece.text for piece in row.cells[-1]) == told


def test_a_deleted_item_says_by_which_note_and_why() -> None:
    gone = replace(ITEM, state="deleted: riveted now", sign="-")
    assert said(item_row(replace(gone, note="3"), is_assembly=False)).endswith("deleted by note 3: riveted now")
    assert said(item_row(replace(gone, note="0"), is_assembly=False)).endswith("deleted: riveted now")
