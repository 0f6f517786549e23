"""A TOML file with the line each key stands on, and the checks every such file needs: known keys and right types."""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Any

from specreg.core.errors import FaultsStop
from specreg.core.faults import Fault, Place, Severity
from specreg.intake.source_text import utf_8_text

Path = tuple[str | int, ...]

_HEAD = re.compile(r"^\s*(\[\[|\[)\s*([^\[\]#]+?)\s*(?:\]\]|\])\s*(?:#.*)?$")
_KEY = re.compile(
    r"""^\s*((?:[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*"|'[^']*')(?:\s*\.\s*(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*'))*)\s*="""
)
_ONE_KEY = re.compile(r"""[A-Za-z0-9_-]+|"((?:[^"\\]|\\.)*)"|'([^']*)'""")
_CLOSED_STRING = re.compile(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'')
_LINE_OF_ERROR = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")


class Wanted(Enum):
    """The type a key must have; the value is how the type is named to a clerk."""

    TEXT = 'a text in quotes, such as key = "words"'
    TEXTS = 'a list of texts, such as key = ["one", "two"]'
    YES_NO = "true or false"


@dataclass(frozen=True, slots=True)
class TomlSource:
    """The content of a TOML file; `lines` gives the line of a key by its path, such as `("rule", 0, "name")`."""

    file: str
    content: Mapping[str, Any]
    lines: Mapping[Path, int]

    def place(self, *path: str | int) -> Place:
        """The file and line of a key, or of the nearest table that holds it."""
        for length in range(len(path), 0, -1):
            if path[:length] in self.lines:
                return Place(self.file, self.lines[path[:length]])
        return Place(self.file)


def read_toml(data: bytes, file: str) -> TomlSource:
    """The content with its lines. Raises WrongUse when it is not UTF-8, FaultsStop when it is not TOML."""
    text = utf_8_text(data, file)
    try:
        content = tomllib.loads(text)
    except tomllib.TOMLDecodeError as cause:
        raise stopped(file, [_syntax_fault(str(cause), text, file)]) from cause
    return TomlSource(file, content, _lines_of_keys(text))


def stopped(file: str, faults: list[Fault]) -> FaultsStop:
    """The refusal of a file because of its faults; its sentence tells the first few."""
    told = " ".join(f"{fault.where}: {fault.text}" for fault in faults[:3])
    more = f" And {len(faults) - 3} more." if len(faults) > 3 else ""
    return FaultsStop(f"{file} cannot be taken in", faults, told + more)


def key_faults(
    source: TomlSource, table: object, path: Path, wanted: Mapping[str, Wanted], required: tuple[str, ...] = ()
) -> list[Fault]:
    """Faults of one table: not a table, unknown keys, wrong types, required keys that are missing or empty."""
    name = ".".join(str(part) for part in path if isinstance(part, str))
    if not isinstance(table, dict):
        return [_fault("wrong type", f"`{name}` must be a table headed [{name}].", source.place(*path))]
    faults = [
        fault for key, value in table.items() for fault in _key_fault(key, value, wanted, source.place(*path, key))
    ]
    for key in required:
        if key not in table:
            faults.append(
                _fault("missing key", f'`{key}` is missing under {name}; write {key} = "…".', source.place(*path))
            )
        elif isinstance(table[key], str) and not table[key].strip():
            faults.append(_fault("missing key", f"`{key}` is empty under {name}.", source.place(*path, key)))
    return faults


def unknown_key_text(key: str, known: Mapping[str, Wanted]) -> str:
    """The sentence about a key that means nothing here, with the key that may be meant."""
    near = difflib.get_close_matches(key.lower(), list(known), n=1)
    meant = f"Is `{near[0]}` meant?" if near else f"Known keys: {', '.join(known)}."
    return f"The key `{key}` is not known here. {meant}"


def type_fits(value: object, wanted: Wanted) -> bool:
    """Whether a value has the type."""
    if wanted is Wanted.TEXT:
        return isinstance(value, str)
    if wanted is Wanted.YES_NO:
        return isinstance(value, bool)
    return isinstance(value, list) and all(isinstance(one, str) for one in value)


def type_text(key: str, value: object, wanted: Wanted) -> str:
    """The sentence about a value of the wrong type."""
    said = f'; write {key} = "{value}"' if wanted is Wanted.TEXT and isinstance(value, int | float) else ""
    return f"`{key}` must be {wanted.value}{said}."


def _key_fault(key: str, value: object, wanted: Mapping[str, Wanted], place: Place) -> list[Fault]:
    if key not in wanted:
        return [_fault("unknown key", unknown_key_text(key, wanted), place)]
    if not type_fits(value, wanted[key]):
        return [_fault("wrong type", type_text(key, value, wanted[key]), place)]
    return []


def _fault(name: str, text: str, place: Place) -> Fault:
    return Fault(name, Severity.STOP, "", text, place)


def _syntax_fault(said: str, text: str, file: str) -> Fault:
    found = _LINE_OF_ERROR.search(said)
    line = int(found[1]) if found and found[1] else max(1, len(text.rstrip("\n").split("\n")))
    column = f" at column {found[2]}" if found and found[2] else ""
    words = _LINE_OF_ERROR.sub("", said)
    wrong = text.split("\n")[line - 1].strip() if line <= text.count("\n") + 1 else ""
    shown = f": {wrong}" if wrong else ""
    return _fault("not TOML", f"Not TOML{column} ({words}){shown}", Place(file, line))


def _lines_of_keys(text: str) -> dict[Path, int]:
    """The first line of every key and table head, found by looking at lines outside multi-line values."""
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    open_string = ""
    open_brackets = 0
    for number, line in enumerate(text.split("\n"), 1):
        rest = line
        if open_string:
            if open_string not in rest:
                continue
            rest = rest.split(open_string, 1)[1]
            open_string = ""
        elif not open_brackets:
            head = _HEAD.match(line)
            if head:
                table = _table_path(_keys(head[2]), counts, head[1] == "[[")
                lines.setdefault(table, number)
                continue
            key = _KEY.match(line)
            if key:
                lines.setdefault((*table, *_keys(key[1])), number)
                rest = line[key.end() :]
        open_string, change = _left_open(rest)
        open_brackets = max(0, open_brackets + change)
    return lines


def _left_open(rest: str) -> tuple[str, int]:
    """Which multi-line string a line leaves open (its quotes), and how many brackets more it opens than it closes."""
    for quotes in ('"""', "'''"):
        rest = re.sub(f"{quotes}.*?{quotes}", "", rest)
    for quotes in ('"""', "'''"):
        if quotes in rest:
            return quotes, _brackets(rest.split(quotes, 1)[0])
    return "", _brackets(rest)


def _brackets(text: str) -> int:
    bare = _CLOSED_STRING.sub("", text).split("#", 1)[0]
    return bare.count("[") + bare.count("{") - bare.count("]") - bare.count("}")


def _keys(dotted: str) -> Path:
    return tuple(next((part for part in one.groups() if part is not None), one[0]) for one in _ONE_KEY.finditer(dotted))


def _table_path(keys: Path, counts: dict[Path, int], is_list: bool) -> Path:
    """The path of a table head, with the place in the list for `[[name]]`."""
    if is_list:
        counts[keys] = counts.get(keys, -1) + 1
        return (*keys, counts[keys])
    for length in range(len(keys) - 1, 0, -1):
        if keys[:length] in counts:
            return (*keys[:length], counts[keys[:length]], *keys[length:])
    return keys
