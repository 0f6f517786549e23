"""An order written as a folder of text: order.toml, spec/NN-name.md, drawings.csv, from which it can be taken in again.

Every text that a reader of Markdown or of our own forms could take for something else is marked as text:

- a line of text gets a backslash before its first sign when it looks like a heading, a field, a numbered clause, a
  fence, the line under a heading or the second line of an item table;
- a title gets one when it looks like a state (`Not used`) or begins with a mark;
- in cells `\\|` is a pipe, and in values `<br>` a line end and `\\<br>` these signs (2k+1 backslashes stand for k and
  the sign, 2k for k and the meaning);
- in drawings.csv a cell gets a backslash when it looks like more than it says (`1 of 2`, a number without figures).
"""

from __future__ import annotations

import csv
import io
import re
import shutil
import tempfile
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields
from itertools import groupby
from pathlib import Path

from specreg.core.errors import Refused
from specreg.core.model import (
    FIELD_BY_LABEL,
    FIELDS,
    SHEET_COLUMNS,
    STATE_LABELS,
    Item,
    Kind,
    Layout,
    Order,
    Sheet,
    State,
)
from specreg.core.numbering import depth, number_key

_BARE_NUMBER = re.compile(r"(?:[A-Z]\.)?[A-Z]?[0-9]+[A-Z]{0,3}[a-z]?(?:\.[0-9]+[A-Z]{0,3}[a-z]?)*")
_BOLD_NUMBER = re.compile(r"(?=.*[0-9])(?!.*[a-z]{2})[A-Z](?!\.[A-Z]?[0-9]|[0-9])[^*_\\]{0,38}[^*_\\\s.:]|[A-Z]")
_CHAPTER_WORD = re.compile(r"(?:chapter|section|part|clause|article|appendix|annex|item)\b", re.IGNORECASE)
_MARKED_TITLE = re.compile(
    # a sign at its beginning that would be taken for one of Markdown, words that say a number is not used or no longer,
    r"[\\*_:–—-]|\W*(?:(?:this\s+)?(?:clause|section|paragraph|item|number)\s+)?(?:is\s+|has\s+been\s+)?"
    r"(?:not\s+(?:used|allocated)|number\s+not|unused|reserved|vacant|void|blank|left\s+blank|intentionally|omitted"
    r"|deleted|withdrawn|cancelled)"
    # the same at its end, or a name for links
    r"|.*(?:not\s+used|deleted)\W*$|.*\{#",
    re.IGNORECASE | re.DOTALL,
)
_LOOKS_LIKE_STRUCTURE = re.compile(
    r" {0,3}(?:"
    r"\\(?=[^\w\s]|[0-9_]|[A-Z]\.[0-9])"  # a backslash that would be taken off
    r"|#|```|~~~|<"
    r"|=+[ \t]*$|-+[ \t]*$"  # the line under a heading
    r"|[*_\[]*[1-9][0-9]*[A-Z]*(?:\.[0-9]+[A-Z]*)+(?=[\s.*_:)\]]|$)"  # a numbered clause
    r"|[*_\[]*[A-Z](?:\.[0-9]+[A-Z]*)+(?=[\s.*_:)\]]|$)"  # and one of an annex
    r")"
)
_ENTRY = re.compile(r" {0,3}[-+*][ \t]+(?P<label>[^:]+):")
_ENTRY_MARK = re.compile(r"^[ \t]*([-+*])(?:[ \t]|$)", re.MULTILINE)
_DELIMITER_LINE = re.compile(r" {0,3}[|:-][|: \t-]*")
_SPACES = re.compile(r"\s+")
_PIPE = re.compile(r"(\\*)\|")
_COLON = re.compile(r"(\\*):")
_BREAK = re.compile(r"(\\*)(\n|<br\s*/?>)", re.IGNORECASE)
_KNOWN_LABELS = frozenset((*FIELD_BY_LABEL, *(label.lower() for label in STATE_LABELS.values())))
_LONGEST_SLUG = 40

_SHEET_OF = re.compile(r".*\w\s*(?:of|/|von)\s*\d.*", re.IGNORECASE)
_TOTAL = re.compile(r"\W*(?:grand|sub|total|no\b|number|sum)", re.IGNORECASE)
_NOT_USED = re.compile(r"\W*(?:not|number not|unused)\b.*", re.IGNORECASE)
_OURS = re.compile(r"order\.toml|drawings\.csv|\.written-from\.csv|spec/[^/]+\.md")


def order_folder_files(
    order: Order, items: Sequence[Item], sheets: Sequence[Sheet], written_from: Sequence[tuple[str, str, str]] = ()
) -> dict[str, str]:
    """The files of an order folder by their names relative to it, in the order of the paper.

    Items may come in any order and are written in that of their numbers; sheets stay in theirs. `written_from` gives
    (kind, number, digest) of each record, from which a later reading sees what was altered meanwhile. Items are to be
    in the plain form of texts (no line end in a title, no white space at the ends); then reading the folder gives them
    back unchanged, and writing that gives the same bytes.
    """
    files = {"order.toml": order_toml(order)}
    ordered = sorted(items, key=lambda item: (number_key(item.section), item.kind is not Kind.SECTION, item.place_key))
    sections = [list(group) for _, group in groupby(ordered, key=lambda item: number_key(item.section))]
    width = max([2, *(len(group[0].section.split(".")[0]) for group in sections if group[0].section.isdecimal())])
    for group in sections:
        name = _file_name(group[0], width)
        while f"spec/{name}.md" in files:
            name += "-"
        files[f"spec/{name}.md"] = section_markdown(group)
    if sheets:
        files["drawings.csv"] = drawings_csv(sheets)
    if written_from:
        files[".written-from.csv"] = _csv(("kind", "number", "digest"), written_from)
    return files


def write_order_folder(files: Mapping[str, str], target: Path) -> None:
    """Write the files to `target`, whole or not at all: into a folder beside it first, which then takes its place.

    An order folder that stands there already is replaced. Raises Refused when anything else stands there, or when it
    cannot be written.
    """
    other = _other_files(target)
    if other:
        raise Refused(
            f"The order is not written to {target}",
            f"it holds other files ({', '.join(other[:3])})",
            "Name a new folder, or one that holds an order folder and nothing else",
        )
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        beside = Path(tempfile.mkdtemp(prefix=f".{target.name}-", dir=target.parent))
        try:
            new = beside / "new"
            new.mkdir()
            for name, text in files.items():
                path = new / name
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_bytes(text.encode("utf-8"))
            if target.exists():
                target.rename(beside / "old")
            try:
                new.rename(target)
            except OSError:
                if (beside / "old").exists():
                    (beside / "old").rename(target)
                raise
        finally:
            shutil.rmtree(beside, ignore_errors=True)
    except OSError as cause:
        why = cause.strerror or str(cause)
        raise Refused(
            f"The order cannot be written to {target}", why, "Look at the folder, and whether you may write there"
        ) from cause


def order_toml(order: Order) -> str:
    """order.toml: what the order says of itself, empty keys left out."""
    lines = ["[order]"]
    for one in fields(order):
        value: str = getattr(order, one.name)
        if value or one.name in ("number", "title"):
            lines.append(f"{one.name} = {_toml_text(value)}")
    return "\n".join(lines) + "\n"


def section_markdown(items: Sequence[Item]) -> str:
    """One section file: its items in order, each under its heading with text and fields, rows gathered to tables."""
    parts: list[str] = []
    for is_row, run in groupby(items, key=_is_row):
        group = list(run)
        parts += [_table(group)] if is_row else [_headed(item) for item in group]
    return "\n\n".join(parts) + "\n"


def drawings_csv(sheets: Sequence[Sheet]) -> str:
    """drawings.csv, a row a revision of a sheet; a column of groups only when there is need of it."""
    grouped = any(sheet.group or not any(_sheet_values(sheet)[1:]) for sheet in sheets)
    columns = (*SHEET_COLUMNS, "group") if grouped else SHEET_COLUMNS
    return _csv(columns, (_sheet_values(sheet)[: len(columns)] for sheet in sheets))


# -- headings ----------------------------------------------------------------------------------------------------------


def _is_row(item: Item) -> bool:
    """Whether an item is written as a row: as it stood, or because no heading can hold its number."""
    if item.kind is Kind.SECTION:
        return False
    return item.layout is Layout.ROW or not _number_in_heading(item)


def _number_in_heading(item: Item) -> str:
    """The number as it stands in a heading; empty when no heading could be read back."""
    if _BARE_NUMBER.fullmatch(item.number):
        return item.number
    if item.title and _BOLD_NUMBER.fullmatch(item.number) and not _CHAPTER_WORD.match(item.number):
        return f"**{item.number}**"
    return ""


def _headed(item: Item) -> str:
    marks = "#" if item.kind is Kind.SECTION else "#" * min(6, max(2, depth(item.number)))
    title = _title(item.title)
    if title.endswith("#"):
        title += " #"
    parts = [f"{marks} {_number_in_heading(item) or item.number} {title}".rstrip()]
    if item.text:
        parts.append(_text(item.text))
    values = [*item.said(), *_state(item)]
    if values and all(label.lower() not in _KNOWN_LABELS for label, _ in values):
        # A list is taken for fields only when it has a field that is known.
        values = [("Remarks", ""), *values]
    if values:
        parts.append(_field_list(values, item.text))
    return "\n\n".join(parts)


def _title(title: str) -> str:
    return f"\\{title}" if _MARKED_TITLE.match(title) else title


def _state(item: Item) -> Iterator[tuple[str, str]]:
    """The field that gives the state. A reason that is the bare word of the label is marked, as that means none."""
    if item.state is State.LIVE:
        return
    label = STATE_LABELS[item.state]
    bare = item.reason.lstrip("\\").casefold() == label.lower()
    yield label, f"\\{item.reason}" if bare and item.reason else item.reason


def _field_list(values: Sequence[tuple[str, str]], text: str) -> str:
    """The list of fields. Its mark is one that no list of the text has, or the two would be one list."""
    used = set(_ENTRY_MARK.findall(text))
    mark = next((mark for mark in "-*+" if mark not in used), "-")
    return "\n".join(f"{mark} {_label(label)}: {_value(value)}".rstrip() for label, value in values)


def _label(label: str) -> str:
    """A label before its colon: colons of its own and backslashes at its end are marked."""
    ending = len(label) - len(label.rstrip("\\"))
    return _COLON.sub(lambda found: f"{found[1] * 2}\\:", label) + "\\" * ending


# -- text --------------------------------------------------------------------------------------------------------------


def _text(text: str) -> str:
    lines = text.split("\n")
    used = set(_ENTRY_MARK.findall(text))
    written: list[str] = []
    for before, line in zip(["", *lines], lines, strict=False):
        written.append(_marked(line) if _needs_mark(line, before, len(used) == 3) else line)
    return "\n".join(written)


def _marked(line: str) -> str:
    bare = line.lstrip(" ")
    return f"{line[: len(line) - len(bare)]}\\{bare}"


def _needs_mark(line: str, before: str, all_marks_used: bool) -> bool:
    """Whether a line of text would be read as more than text."""
    if _LOOKS_LIKE_STRUCTURE.match(line):
        return True
    if _DELIMITER_LINE.fullmatch(line):
        return before.strip(" |*_\t").casefold().startswith("item")
    entry = _ENTRY.match(line)
    if entry and _SPACES.sub(" ", entry["label"]).strip(" *_:\\").lower() in _KNOWN_LABELS:
        return True
    # With lists of all three marks in the text, those with the mark of the field list must be no lists.
    return all_marks_used and bool(re.match(r" {0,3}-(?:[ \t]|$)", line))


# -- tables ------------------------------------------------------------------------------------------------------------


def _table(items: Sequence[Item]) -> str:
    """Rows as one table, with the columns that say something in it."""
    rows = [_row_values(item) for item in items]
    said = {label for row in rows for label in row}
    columns = ["Item", "Description"]
    columns += ["Text"] if "Text" in said else []
    columns += [field.label for field in FIELDS if field.label in said]
    states = [label for label in STATE_LABELS.values() if label in said]
    columns += sorted(said - {*columns, *states})
    columns += states
    lines = [_line(columns), "|" + "---|" * len(columns)]
    lines += [_line([row.get(column, "") for column in columns]) for row in rows]
    return "\n".join(lines)


def _row_values(item: Item) -> dict[str, str]:
    values = {"Item": item.number, "Description": _title(item.title)}
    if item.text:
        values["Text"] = item.text
    values |= dict(item.said())
    for label, reason in _state(item):
        # An empty cell says nothing, so a state without a reason is said by its own word.
        values[label] = reason or label.lower()
    return values


def _line(cells: Sequence[str]) -> str:
    return "|" + "|".join(f" {_cell(cell)} " if cell else " " for cell in cells) + "|"


def _cell(value: str) -> str:
    return _PIPE.sub(lambda found: f"{found[1] * 2}\\|", _value(value))


def _value(value: str) -> str:
    return _BREAK.sub(lambda found: f"{found[1] * 2}" + ("<br>" if found[2] == "\n" else f"\\{found[2]}"), value)


# -- other files -------------------------------------------------------------------------------------------------------


def _file_name(first: Item, width: int) -> str:
    """The name of a section's file: its number, figures filled up with noughts so that names sort, and its title."""
    number = re.sub(r"[^A-Za-z0-9]+", "-", first.section).strip("-") or "0"
    leading = re.match(r"[0-9]*", number)
    figures = leading[0] if leading else ""
    title = first.title if first.kind is Kind.SECTION else ""
    plain = unicodedata.normalize("NFKD", title.casefold()).encode("ascii", "ignore").decode()
    slug = "-".join(re.findall(r"[a-z0-9]+", plain))[:_LONGEST_SLUG].strip("-") or "section"
    return f"{figures.zfill(width) if figures else ''}{number[len(figures) :]}-{slug}"


def _sheet_values(sheet: Sheet) -> list[str]:
    """The cells of a sheet; one that would be read as more than it says is marked by a backslash."""
    marked = {
        "number": bool(_TOTAL.match(sheet.number)) or not any(sign.isdecimal() for sign in sheet.number),
        "sheet": bool(_SHEET_OF.fullmatch(sheet.sheet)),
        "title": bool(_NOT_USED.fullmatch(sheet.title)),
    }
    values = {name: getattr(sheet, name) for name in (*SHEET_COLUMNS, "group")}
    return [f"\\{value}" if marked.get(name) or value.startswith("\\") else value for name, value in values.items()]


def _csv(columns: Sequence[str], rows: Sequence[Sequence[str]] | Iterator[Sequence[str]]) -> str:
    into = io.StringIO()
    writer = csv.writer(into, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([_value(value) for value in row] for row in rows)
    return into.getvalue()


def _toml_text(value: str) -> str:
    """A TOML basic string."""
    signs = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t"}
    return '"' + "".join(signs.get(one) or (f"\\u{ord(one):04X}" if _is_control(one) else one) for one in value) + '"'


def _is_control(sign: str) -> bool:
    return ord(sign) < 0x20 or ord(sign) == 0x7F


def _other_files(target: Path) -> list[str]:
    """Files in the target that are none of an order folder's."""
    if not target.exists():
        return []
    if not target.is_dir():
        return [target.name]
    found = (path.relative_to(target).as_posix() for path in sorted(target.rglob("*")) if not path.is_dir())
    return [name for name in found if not _OURS.fullmatch(name)]
