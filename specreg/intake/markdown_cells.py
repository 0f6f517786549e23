"""Verbatim text out of source lines: cells of a table, fields of a list, lines of text, with our marks taken off.

The Markdown parser drops and pads cells and unescapes what a person wrote, so cells are cut out of the source line.
Three marks exist, each with a backslash rule that lets every text be written: in a cell `\\|` is a pipe; in a value
`<br>` is a line end and `\\<br>` these four signs; 2k backslashes before either stand for k and leave its meaning, 2k+1
stand for k and take it. A backslash before the first sign of a line of text or of a title only says that it is text.
"""

from __future__ import annotations

import re

from specreg.intake.plain_text import plain_label

_PIPE = re.compile(r"(\\*)\|")
_COLON = re.compile(r"(\\*):")
_BREAK = re.compile(r"(\\*)(<br\s*/?>)", re.IGNORECASE)
_TAKEN_AS_TEXT = re.compile(r"( {0,3})\\(?=[^\w\s]|[0-9_]|[A-Z]\.[0-9])")
_BOLD_FIELD = re.compile(r"(\*\*|__)(?P<label>[^*_:]+):\1\s*(?P<value>.*)", re.DOTALL)
_WHOLLY_BOLD = re.compile(r"(\*\*|__)(?!\s)((?:(?!\1).)+)(?<!\s)\1")


def split_cells(line: str) -> list[str]:
    """The cells of a table line as written, white space at their ends dropped; pipes are unescaped, `<br>` is not."""
    line = line.strip()
    if "\\" not in line:
        plain = [cell.strip() for cell in line.split("|")]
        return plain[line.startswith("|") : -1 if not plain[-1] else None]
    cells: list[str] = []
    cell: list[str] = []
    last = 0
    for mark in _PIPE.finditer(line):
        backslashes = len(mark[1])
        cell.append(line[last : mark.start()] + "\\" * (backslashes // 2))
        last = mark.end()
        if backslashes % 2:
            cell.append("|")
        else:
            cells.append("".join(cell).strip())
            cell = []
    rest = "".join(cell) + line[last:]
    if rest.strip():
        cells.append(rest.strip())
    return cells[1:] if line.startswith("|") else cells


def value_of(written: str) -> str:
    """The value of a cell or field: `<br>` becomes a line end, an escaped one stays as written."""
    return _BREAK.sub(_break, written).strip() if "<" in written else written.strip()


def _break(mark: re.Match[str]) -> str:
    backslashes = len(mark[1])
    return "\\" * (backslashes // 2) + (mark[2] if backslashes % 2 else "\n")


def split_field(written: str) -> tuple[str, str] | None:
    """Label and value of `Label: value` (the label may be bold, and hold `\\:`); None when it is no field."""
    bold = _BOLD_FIELD.fullmatch(written)
    if bold:
        return plain_label(bold["label"]), value_of(bold["value"])
    label: list[str] = []
    last = 0
    for mark in _COLON.finditer(written):
        backslashes = len(mark[1])
        label.append(written[last : mark.start()] + "\\" * (backslashes // 2))
        last = mark.end()
        if backslashes % 2:
            label.append(":")
            continue
        name = plain_label("".join(label))
        return (name, value_of(written[last:])) if name else None
    return None


def text_line(line: str) -> str:
    """A line of text without the backslash that only said it is text."""
    return _TAKEN_AS_TEXT.sub(r"\1", line, count=1) if "\\" in line[:4] and _TAKEN_AS_TEXT.match(line) else line


def title_of(written: str) -> str:
    """A title without the backslash that only said it is a title, or without bold marks around the whole."""
    written = written.strip()
    return written[1:] if written.startswith("\\") else without_bold(written)


def without_bold(written: str) -> str:
    """The words without bold marks when they stand around the whole."""
    bold = _WHOLLY_BOLD.fullmatch(written)
    return bold[2].strip() if bold else written
