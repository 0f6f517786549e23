"""An alteration note as a TOML file: why and by whose authority, and the edits it makes to items and drawings.

[note]
reason = "rack bolts too short"
urgency = "urgent"
[[alter]]
item = "4.1.2"
Size = '''bar 1 1/4" dia x 5 1/2"'''
[[insert]]
item = "4.1.2A"
Description = "Tab washer"
[[delete]]
item = "4.1.3"
reason = "no longer wanted"
[[drawing]]
number = "SL-1003"
revision = "B"
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any

from specreg.core.faults import Fault, Place, Severity
from specreg.core.model import FIELD_BY_LABEL, SHEET_COLUMNS, STATE_LABELS, Sheet
from specreg.core.numbering import number_key
from specreg.intake.plain_text import plain_field, plain_label, plain_line, plain_sheet, plain_text
from specreg.intake.source_text import read_bytes
from specreg.intake.taken import TakenSheet
from specreg.intake.toml_source import TomlSource, Wanted, key_faults, read_toml, stopped, type_fits, type_text

_NOTE = dict.fromkeys(("number", "reason", "urgency", "authority", "machines", "words"), Wanted.TEXT)
_SHEET = dict.fromkeys((*SHEET_COLUMNS, "group"), Wanted.TEXT)
_LABELS = {
    "description": "Description", "title": "Description", "text": "Text",
    **{name: one.label for name, one in FIELD_BY_LABEL.items()},
    **{label.lower(): label for label in STATE_LABELS.values()},
}  # fmt: skip


class EditAct(StrEnum):
    """What an edit does to an item."""

    ALTER = "alter"
    INSERT = "insert"
    DELETE = "delete"


@dataclass(frozen=True, slots=True)
class NoteEdit:
    """One edit of a note: the item's number, and for altering and inserting each (label, new text); `reason` says why
    an item is deleted. Labels are those of the paper (`Rough weight`), or as written where they have no meaning here;
    an empty text takes what the field says away."""

    act: EditAct
    item: str
    place: Place
    fields: tuple[tuple[str, str], ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True)
class NoteFile:
    """A note as read: `words` is free text beside the reason; edits and sheets stand in the order of the file."""

    file: str
    reason: str
    number: str = ""
    urgency: str = ""
    authority: str = ""
    machines: str = ""
    words: str = ""
    edits: tuple[NoteEdit, ...] = ()
    sheets: tuple[TakenSheet, ...] = ()


def read_note(path: Path) -> NoteFile:
    """The note in a file. Raises WrongUse when it cannot be read, FaultsStop with every fault and its line."""
    return note_of(read_bytes(path), path.name)


def note_of(data: bytes, file: str) -> NoteFile:
    """The note from a file's bytes, `file` its name in faults; raises as `read_note`."""
    source = read_toml(data, file)
    faults = [
        _fault("unknown key", f"`{key}` is not known here; a note holds note, alter, insert, delete, drawing.",
               source.place(key, 0) if source.place(key, 0).line else source.place(key))
        for key in source.content
        if key not in ("note", *EditAct, "drawing")
    ]  # fmt: skip
    if "note" not in source.content:
        faults.append(_fault("missing key", "The head [note] with a reason is missing.", source.place()))
    note = source.content.get("note", {"reason": "-"})
    faults += key_faults(source, note, ("note",), _NOTE, ("reason",))
    edits = [edit for act in EditAct for edit in _edits(source, act, faults)]
    sheets = list(_sheets(source, faults))
    faults += _double_edits(edits)
    if not faults and not edits and not sheets:
        faults.append(_fault("empty note", "The note alters nothing: it has no alter, insert, delete or drawing.",
                             source.place("note")))  # fmt: skip
    if faults:
        raise stopped(file, sorted(faults, key=lambda fault: fault.place.line if fault.place else 0))
    said = {key: plain_text(note[key]) if key == "words" else plain_line(note[key]) for key in _NOTE if key in note}
    return NoteFile(
        file=file,
        **said,
        edits=tuple(sorted(edits, key=lambda edit: edit.place.line)),
        sheets=tuple(sheets),
    )


def _tables(source: TomlSource, name: str, faults: list[Fault]) -> Iterator[tuple[int, Mapping[str, Any]]]:
    tables = source.content.get(name, [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        faults.append(_fault("wrong type", f"Head each {name} with [[{name}]].", source.place(name)))
        return
    yield from enumerate(tables)


def _edits(source: TomlSource, act: EditAct, faults: list[Fault]) -> Iterator[NoteEdit]:
    for place, table in _tables(source, act.value, faults):
        found = list(_edit_faults(source, act, place, table))
        faults += found
        if found:
            continue
        item = plain_line(table["item"])
        where = source.place(act.value, place)
        if act is EditAct.DELETE:
            yield NoteEdit(act, item, where, reason=plain_field(table.get("reason", "")))
            continue
        said = tuple((label_of(key), _text_of(key, value)) for key, value in table.items() if key != "item")
        yield NoteEdit(act, item, where, said)


def label_of(key: str) -> str:
    """The label a key stands for: `rough_weight` and `Rough weight` are `Rough weight`; else the key as written."""
    label = plain_label(key)
    return _LABELS.get(label.lower().replace("_", " "), label)


def _text_of(key: str, value: str) -> str:
    label = label_of(key)
    if label == "Text":
        return plain_text(value)
    return plain_line(value) if label == "Description" else plain_field(value)


def _edit_faults(source: TomlSource, act: EditAct, place: int, table: Mapping[str, Any]) -> Iterator[Fault]:
    here = source.place(act.value, place)
    if not isinstance(table.get("item", ""), str) or not table.get("item", "").strip():
        where = source.place(act.value, place, "item")
        yield _fault("missing key", f'`item` must give the number, such as item = "4.1.2" (under {act.value}).', where)
    labels: dict[str, str] = {}
    for key, value in table.items():
        where = source.place(act.value, place, key)
        if not type_fits(value, Wanted.TEXT) and key != "item":
            yield _fault("wrong type", type_text(key, value, Wanted.TEXT), where)
        if act is EditAct.DELETE and key not in ("item", "reason"):
            yield _fault("unknown key", f"`{key}` is not known here; a deletion says item and reason.", where)
        label = label_of(key)
        if label in labels:
            yield _fault("given twice", f"`{key}` and `{labels[label]}` are the same field.", where)
        labels[label] = key
    if act is EditAct.ALTER and not set(table) - {"item"}:
        yield _fault("empty edit", 'The alteration names no field; write Field = "new text".', here)
    if act is EditAct.INSERT and "Description" not in labels and "Text" not in labels:
        yield _fault("missing key", "An item put in needs a Description.", here)


def _sheets(source: TomlSource, faults: list[Fault]) -> Iterator[TakenSheet]:
    for place, table in _tables(source, "drawing", faults):
        found = key_faults(source, table, ("drawing", place), _SHEET, ("number",))
        faults += found
        if not found:
            yield TakenSheet(plain_sheet(Sheet(**table)), source.place("drawing", place))


def _double_edits(edits: list[NoteEdit]) -> Iterator[Fault]:
    """One item, one act: a field altered twice, or an item altered or put in and deleted, leaves the wish unclear."""
    first: dict[str, NoteEdit] = {}
    for edit in edits:
        before = first.setdefault(number_key(edit.item), edit)
        if before is edit:
            continue
        both_alter = before.act is EditAct.ALTER and edit.act is EditAct.ALTER
        twice = {label for label, _ in before.fields} & {label for label, _ in edit.fields}
        if not both_alter or twice:
            what = f"{', '.join(sorted(twice))} of {edit.item}" if both_alter else edit.item
            text = f"{what} is edited twice, first at line {before.place.line} ({before.act})."
            yield _fault("given twice", text, edit.place)


def _fault(name: str, text: str, place: Place) -> Fault:
    return Fault(name, Severity.STOP, "", text, place)
