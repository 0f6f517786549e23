"""Alteration notes with their edits out of TOML."""

from __future__ import annotations

import pytest

from specreg.core.errors import FaultsStop, WrongUse
from specreg.core.faults import Place
from specreg.core.model import Sheet
from specreg.intake.note_file import EditAct, NoteEdit, note_of, read_note

NOTE = """\
[note]
reason = "rack bolts too short"
urgency = "urgent"
authority = "Mr Hale"
machines = "1472-1473"
words = '''
First line.
Second line.
'''

[[alter]]
item = "4.1.2"
Size = '''bar 1 1/4" dia x 5 1/2"'''
rough_weight = ""
Finish = "black"

[[delete]]
item = "4.1.3"
reason = "no longer wanted"

[[insert]]
item = "4.1.2A"
description = "Tab washer"
OFF = "24"

[[drawing]]
number = "SL-1003"
revision = "B"
"""


def stops(text):
    with pytest.raises(FaultsStop) as caught:
        note_of(text.encode(), "n.toml")
    return [(fault.place.line, fault.text) for fault in caught.value.faults]


def test_a_note_with_its_edits_in_the_order_of_the_file(tmp_path):
    (tmp_path / "n.toml").write_text(NOTE, encoding="utf-8")
    note = read_note(tmp_path / "n.toml")
    assert (note.reason, note.urgency, note.authority, note.machines, note.number) == (
        "rack bolts too short", "urgent", "Mr Hale", "1472-1473", "",
    )  # fmt: skip
    assert note.words == "First line.\nSecond line."
    assert note.edits == (
        NoteEdit(
            EditAct.ALTER, "4.1.2", Place("n.toml", 11),
            (("Size", 'bar 1 1/4" dia x 5 1/2"'), ("Rough weight", ""), ("Finish", "black")),
        ),
        NoteEdit(EditAct.DELETE, "4.1.3", Place("n.toml", 17), reason="no longer wanted"),
        NoteEdit(EditAct.INSERT, "4.1.2A", Place("n.toml", 21), (("Description", "Tab washer"), ("Off", "24"))),
    )  # fmt: skip
    assert [(one.sheet, one.place.line) for one in note.sheets] == [(Sheet("SL-1003", revision="B"), 26)]


def test_all_faults_are_told_with_their_lines():
    text = """\
[note]
reasn = "x"
[[alter]]
item = "4.1"
Off = 3
off = "4"
[[alter]]
item = "4.2"
[[delete]]
item = "4.3"
why = "x"
[[insert]]
item = "4.4"
Off = "2"
[[alter]]
Off = "2"
[[drawing]]
title = "Pin"
[[extra]]
a = 1
"""
    assert stops(text) == [
        (1, '`reason` is missing under note; write reason = "…".'),
        (2, "The key `reasn` is not known here. Is `reason` meant?"),
        (5, '`Off` must be a text in quotes, such as key = "words"; write Off = "3".'),
        (6, "`off` and `Off` are the same field."),
        (7, 'The alteration names no field; write Field = "new text".'),
        (11, "`why` is not known here; a deletion says item and reason."),
        (12, "An item put in needs a Description."),
        (15, '`item` must give the number, such as item = "4.1.2" (under alter).'),
        (17, '`number` is missing under drawing; write number = "…".'),
        (19, "`extra` is not known here; a note holds note, alter, insert, delete, drawing."),
    ]


def test_one_item_is_edited_once():
    text = '[note]\nreason = "r"\n[[alter]]\nitem = "4.1"\nOff = "2"\n[[alter]]\nitem = "4.1"\nSize = "x"\n'
    assert len(note_of(text.encode(), "n.toml").edits) == 2
    assert stops(text.replace("Size", "off")) == [(6, "Off of 4.1 is edited twice, first at line 3 (alter).")]
    assert stops(text + '[[delete]]\nitem = "4.1"\n') == [(9, "4.1 is edited twice, first at line 3 (alter).")]


def test_a_note_that_alters_nothing_or_is_no_note_is_refused():
    said = "The note alters nothing: it has no alter, insert, delete or drawing."
    assert stops('[note]\nreason = "r"\n') == [(1, said)]
    assert stops('[[alter]]\nitem = "4"\nOff = "1"\n')[0][1] == "The head [note] with a reason is missing."
    assert stops('[note]\nreason = "r\n')[0][0] == 2
    assert stops("note = 1\n")[0][1] == "`note` must be a table headed [note]."


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(WrongUse, match=r"gone\.toml cannot be read"):
        read_note(tmp_path / "gone.toml")
