"""reckoning.toml and sections.toml of a folder of works standards: rules for masses and cutting, tables of sections."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from specreg.core.faults import Fault
from specreg.core.lead_times import read_time
from specreg.core.measures.records import NotRead, Ton
from specreg.core.measures.written import read_length
from specreg.core.model import SUPPLIES
from specreg.core.reckoning_standards import CUT_TO_LENGTH, SECTIONS
from specreg.core.stock.records import Form
from specreg.core.stock.sections import section_of_line
from specreg.intake.standard_tables import RECKONING_FILE, SECTIONS_FILE, Part, other_heads, stop, tables
from specreg.intake.standards_content import sections_from_content
from specreg.intake.toml_source import TomlSource, Wanted, key_faults

_RULES = {
    "ton": Wanted.TEXT, "spare_assemblies_bring_parts": Wanted.YES_NO, "doubt_above": Wanted.TEXT,
    "shrink_fit": Wanted.TEXT, "shrink_fit_basis": Wanted.TEXT, "slack": Wanted.TEXT,
}  # fmt: skip
_CUTTING = {
    "kinds": Wanted.TEXTS, "materials": Wanted.TEXTS, "stock": Wanted.TEXTS, "kerf": Wanted.TEXT,
    "end_trim": Wanted.TEXT, "chuck_grip": Wanted.TEXT, "least_offcut": Wanted.TEXT, "basis": Wanted.TEXT,
}  # fmt: skip
_ALLOWANCE = {"materials": Wanted.TEXTS, "per_face": Wanted.TEXT, "basis": Wanted.TEXT}
_CONTRACTION = {"materials": Wanted.TEXTS, "per_foot": Wanted.TEXT, "basis": Wanted.TEXT}
_LEAD_TIME = {
    "time": Wanted.TEXT, "basis": Wanted.TEXT, "supply": Wanted.TEXTS, "materials": Wanted.TEXTS, "kinds": Wanted.TEXTS,
}  # fmt: skip
_SECTIONS = {
    "name": Wanted.TEXT, "form": Wanted.TEXT, "words": Wanted.TEXTS, "unit": Wanted.TEXT, "density": Wanted.TEXT,
    "basis": Wanted.TEXT, "sections": Wanted.TEXTS,
}  # fmt: skip
_PARTS = (
    Part(RECKONING_FILE, "cutting", "cutting", _CUTTING, tuple(key for key in _CUTTING if key != "materials")),
    Part(RECKONING_FILE, "allowance", "allowances", _ALLOWANCE, tuple(_ALLOWANCE)),
    Part(RECKONING_FILE, "contraction", "contractions", _CONTRACTION, tuple(_CONTRACTION)),
    Part(RECKONING_FILE, "lead_time", "lead_times", _LEAD_TIME, ("time", "basis")),
)
_TABLES = Part(SECTIONS_FILE, "table", "sections", _SECTIONS, tuple(key for key in _SECTIONS if key != "unit"), "name")
_LENGTHS = ("kerf", "end_trim", "chuck_grip", "least_offcut", "per_face", "per_foot", "stock", "shrink_fit")
_MAY_BE_NOUGHT = frozenset({"kerf", "end_trim", "chuck_grip", "least_offcut"})
_FORMS = tuple(str(form) for form in Form)
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


def reckoning_tables(source: TomlSource, materials: Iterable[Mapping[str, Any]], faults: list[Fault]) -> dict[str, Any]:
    """What reckoning.toml says, as plain data; its faults go into the list.

    `materials` are the tables of materials.toml, which must know the materials named here; they are held against it
    only while nothing else is wrong.
    """
    faults += other_heads(source, "reckoning", *(part.table for part in _PARTS))
    head = source.content.get("reckoning", {})
    found = key_faults(source, head, ("reckoning",), _RULES)
    faults += found
    content: dict[str, Any] = {} if found else dict(head)
    if not found:
        faults += _rule_faults(source, content)
    for part in _PARTS:
        before = len(faults)
        content[part.content] = tables(source, part, faults)
        if len(faults) == before:
            for place, table in enumerate(content[part.content]):
                faults += _table_faults(source, (part.table, place), table)
    if not faults:
        faults += _unknown_materials(source, content, materials)
    return content


def section_tables(source: TomlSource, faults: list[Fault]) -> list[dict[str, Any]]:
    """What sections.toml says, as plain data; its faults go into the list."""
    faults += other_heads(source, _TABLES.table)
    before = len(faults)
    found = tables(source, _TABLES, faults)
    if len(faults) == before:
        for place, table in enumerate(found):
            faults += _section_faults(source, place, table)
    return found


def _unknown_materials(
    source: TomlSource, content: Mapping[str, Any], materials: Iterable[Mapping[str, Any]]
) -> Iterator[Fault]:
    known = {name.strip().casefold() for one in materials for name in (one["name"], *one.get("also", ()))}
    for part in _PARTS:
        for place, table in enumerate(content.get(part.content, ())):
            for name in table.get("materials", ()):
                if name.strip().casefold() not in known:
                    text = f"{name} is not in the works' list of materials."
                    yield stop("unknown material", text, source.place(part.table, place, "materials"))


def _rule_faults(source: TomlSource, rules: Mapping[str, Any]) -> Iterator[Fault]:
    tons = [str(ton) for ton in Ton if ton]
    if "ton" in rules and rules["ton"] not in tons:
        text = f'`ton` is "{rules["ton"]}"; write one of {", ".join(tons)}: 2240 lb, 2000 lb or 1000 kg.'
        yield stop("unknown ton", text, source.place("reckoning", "ton"))
    if "doubt_above" in rules and not _NUMBER.fullmatch(rules["doubt_above"]):
        text = f'`doubt_above` is "{rules["doubt_above"]}"; write a number of per cent, such as "10".'
        yield stop("wrong number", text, source.place("reckoning", "doubt_above"))
    if ("shrink_fit" in rules) != bool(rules.get("shrink_fit_basis", "").strip()):
        text = "`shrink_fit` and `shrink_fit_basis` go together: write what the figure rests on."
        yield stop("missing key", text, source.place("reckoning", "shrink_fit"))
    if "slack" in rules and isinstance(read := read_time(rules["slack"]), NotRead):
        yield stop("wrong time", f"`slack`: {read}", source.place("reckoning", "slack"))
    yield from _length_faults(source, ("reckoning",), rules)


def _table_faults(source: TomlSource, path: tuple[str, int], table: Mapping[str, Any]) -> Iterator[Fault]:
    for key in ("kinds", "materials", "stock", "supply"):
        if key in table and not any(one.strip() for one in table[key]):
            yield stop("missing key", f"`{key}` is empty.", source.place(*path, key))
    forms = _FORMS if path[0] == "lead_time" else CUT_TO_LENGTH
    for kind in table.get("kinds", ()):
        if kind not in forms:
            said = "form" if path[0] == "lead_time" else "form that is cut to length"
            text = f"{kind} is no {said}; these are: {', '.join(forms)}."
            yield stop("unknown form", text, source.place(*path, "kinds"))
    for supply in table.get("supply", ()):
        if supply not in SUPPLIES:
            text = f"{supply} is no supply; these are: {', '.join(SUPPLIES)}."
            yield stop("unknown supply", text, source.place(*path, "supply"))
    if "time" in table and isinstance(read := read_time(table["time"]), NotRead):
        yield stop("wrong time", f"`time`: {read}", source.place(*path, "time"))
    yield from _length_faults(source, path, table)


def _length_faults(source: TomlSource, path: tuple[str | int, ...], table: Mapping[str, Any]) -> Iterator[Fault]:
    for key in _LENGTHS:
        if key not in table:
            continue
        for text in table[key] if isinstance(table[key], list) else [table[key]]:
            read = read_length(text)
            if isinstance(read, NotRead):
                yield stop("wrong length", f"`{key}`: {read}", source.place(*path, key))
            elif read.value == 0 and key not in _MAY_BE_NOUGHT:
                yield stop("wrong length", f"`{key}` is nought; write more.", source.place(*path, key))
            elif read.approximate:
                yield stop("wrong length", f"`{key}` is {text}; a rule is exact.", source.place(*path, key))


def _section_faults(source: TomlSource, place: int, table: Mapping[str, Any]) -> Iterator[Fault]:
    if table["form"] not in SECTIONS:
        text = f"{table['form']} is no form of section; these are: {', '.join(SECTIONS)}."
        yield stop("unknown form", text, source.place("table", place, "form"))
    if table.get("unit", "") not in ("", "mm", "in"):
        text = f'`unit` is "{table["unit"]}"; write mm or in where designations are sizes, else leave it out.'
        yield stop("wrong unit", text, source.place("table", place, "unit"))
        return
    if not _NUMBER.fullmatch(table["density"]) or float(table["density"]) == 0:
        text = f'The density of {table["name"]} is "{table["density"]}"; write kilograms per cubic metre.'
        yield stop("wrong density", text, source.place("table", place, "density"))
        return
    (record,) = sections_from_content([table])
    seen: set[str] = set()
    for line in record.sections:
        section = section_of_line(line, record)
        if section is None:
            text = f'"{line}" is no section; write "203x133x25: 25.1 kg/m, 32.0 cm2".'
            yield stop("wrong section", text, source.place("table", place, "sections"))
        elif section.designation.lower() in seen:
            text = f"{section.designation} stands twice in {record.name}."
            yield stop("given twice", text, source.place("table", place, "sections"))
        else:
            seen.add(section.designation.lower())
