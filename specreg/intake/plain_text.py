"""The one form every text has once it is taken in, so that text written to a file and read again is the same text.

Only what no reader of a sheet can see is changed: line ends become LF, spaces before a line end and blank lines at both
ends go, and what must stand on one line (titles, numbers, labels) has no line ends.
"""

from __future__ import annotations

import re
from dataclasses import replace

from specreg.core.model import FIELDS, Item, Sheet

_LINE_END = re.compile(r"\r\n|\r")
_SPACE_BEFORE_LINE_END = re.compile(r"[ \t]+(?=\n)")
_BREAK = re.compile(r"\s*\n\s*")
_SPACES = re.compile(r"\s+")


def plain_text(text: str) -> str:
    """A text of paragraphs: LF ends its lines, no line ends in a space, no white space at either end."""
    return _SPACE_BEFORE_LINE_END.sub("", _LINE_END.sub("\n", text)).strip()


def plain_field(text: str) -> str:
    """The text of a field, which may have several lines: LF ends them, no white space at either end."""
    return _LINE_END.sub("\n", text).strip()


def plain_line(text: str) -> str:
    """A text of one line: a line end with the spaces around it becomes one space, the rest stays as written."""
    return _BREAK.sub(" ", plain_field(text))


def plain_label(text: str) -> str:
    """The label of a field or column: one line, single spaces, without marks of emphasis or a colon at the ends."""
    return _SPACES.sub(" ", text).strip(" *_:")


def plain_item(item: Item) -> Item:
    """The item with every text in its plain form; `number`, `section` and `title` on one line.

    This is the rule for items from anywhere (files, notes, the screen): what it returns survives being written to an
    order folder and read again.
    """
    plain: dict[str, object] = {
        "number": plain_line(item.number),
        "section": plain_line(item.section),
        "title": plain_line(item.title),
        "text": plain_text(item.text),
        "reason": plain_field(item.reason),
    }
    for field in FIELDS:
        value: str = getattr(item, field.name)
        if value:
            plain[field.name] = plain_field(value)
    other = ((plain_label(label), plain_field(text)) for label, text in item.other)
    plain["other"] = tuple(sorted((label, text) for label, text in other if label and text))
    altered = {name: value for name, value in plain.items() if value != getattr(item, name)}
    return replace(item, **altered) if altered else item  # type: ignore[arg-type]


def plain_sheet(sheet: Sheet) -> Sheet:
    """The sheet with every text in its plain form."""
    names = Sheet.__dataclass_fields__
    return replace(sheet, **{name: plain_field(getattr(sheet, name)) for name in names})
