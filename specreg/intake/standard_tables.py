"""The tables of a file of works standards: known heads, known keys, right types, no name twice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from specreg.core.faults import Fault, Place, Severity
from specreg.intake.toml_source import TomlSource, Wanted, key_faults

RECKONING_FILE = "reckoning.toml"
SECTIONS_FILE = "sections.toml"


@dataclass(frozen=True, slots=True)
class Part:
    """One kind of table in a file: the file, the name of the list, the key of `content`, what its tables must say.

    `unique` is the key whose text no two tables share; empty when any may.
    """

    file: str
    table: str
    content: str
    keys: Mapping[str, Wanted]
    required: tuple[str, ...]
    unique: str = ""


def tables(source: TomlSource, part: Part, faults: list[Fault]) -> list[dict[str, Any]]:
    """The tables of one list, those without faults; names that stand twice are faults."""
    listed = source.content.get(part.table, [])
    if not isinstance(listed, list):
        faults.append(stop("wrong type", f"Head each {part.table} with [[{part.table}]].", source.place(part.table)))
        return []
    good: list[dict[str, Any]] = []
    first: dict[str, Place] = {}
    for place, table in enumerate(listed):
        found = key_faults(source, table, (part.table, place), part.keys, part.required)
        faults += found
        if found:
            continue
        if part.unique:
            name = table[part.unique].strip().upper()
            where = source.place(part.table, place, part.unique)
            if name in first:
                text = f"The {part.table} {table[part.unique]} stands twice, first at {first[name]}."
                faults.append(stop("given twice", text, where))
            first.setdefault(name, where)
        good.append(dict(table))
    return good


def other_heads(source: TomlSource, *known: str) -> list[Fault]:
    """Heads and keys at the top of the file that mean nothing there."""
    said = ", ".join(f"`{one}`" for one in known)
    return [
        stop("unknown key", f"`{key}` is not known here; {source.file} holds {said}.", source.place(key, 0))
        for key in source.content
        if key not in known
    ]


def stop(name: str, text: str, place: Place) -> Fault:
    """A fault of a standards file; any of them stops the reading."""
    return Fault(name, Severity.STOP, "", text, place)
