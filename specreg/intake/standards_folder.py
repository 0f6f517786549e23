"""A folder of works standards: departments, routing rules, materials, words and house rules, one TOML file each."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from specreg.core.errors import WrongUse
from specreg.core.faults import Fault, Place, Severity
from specreg.core.standards import Department, House, Material, Rule, Standards
from specreg.intake.source_text import read_bytes
from specreg.intake.toml_source import TomlSource, Wanted, key_faults, read_toml, stopped

HOUSE_FILE = "house.toml"
DEPARTMENTS_FILE = "departments.toml"
ROUTING_FILE = "routing.toml"
MATERIALS_FILE = "materials.toml"
WORDS_FILE = "words.toml"

_HOUSE = {
    "works": Wanted.TEXT, "document_type": Wanted.TEXT, "clearance": Wanted.TEXT, "safety_second_check": Wanted.YES_NO,
    "omitted_letters": Wanted.TEXT, "cautions": Wanted.TEXTS,
}  # fmt: skip
_DEPARTMENT = {"code": Wanted.TEXT, "name": Wanted.TEXT, "operation": Wanted.TEXT, "final": Wanted.YES_NO}
_RULE = {
    "name": Wanted.TEXT, "route": Wanted.TEXT, "no_action": Wanted.TEXT, "add": Wanted.TEXT, "before": Wanted.TEXT,
    "after": Wanted.TEXT, "sections": Wanted.TEXTS, "words": Wanted.TEXTS, "any_words": Wanted.TEXTS,
    "material": Wanted.TEXTS, "supply": Wanted.TEXTS, "drawings": Wanted.TEXTS, "safety": Wanted.YES_NO,
    "pattern": Wanted.YES_NO, "drawing": Wanted.YES_NO,
}  # fmt: skip
_MATERIAL = {"name": Wanted.TEXT, "density": Wanted.TEXT, "basis": Wanted.TEXT, "also": Wanted.TEXTS}
_OUTCOMES = ("route", "no_action", "add")
_DENSITY = re.compile(r"\d+(?:\.\d+)?")


@dataclass(frozen=True, slots=True)
class _Part:
    """One kind of table in a file: the file, the name of the list, the key of `content`, what its tables must say."""

    file: str
    table: str
    content: str
    keys: Mapping[str, Wanted]
    required: tuple[str, ...]
    unique: str


_PARTS = (
    _Part(DEPARTMENTS_FILE, "department", "departments", _DEPARTMENT, ("code", "name", "operation"), "code"),
    _Part(ROUTING_FILE, "rule", "rules", _RULE, ("name",), "name"),
    _Part(MATERIALS_FILE, "material", "materials", _MATERIAL, ("name",), "name"),
)


def read_standards(folder: Path) -> Standards:
    """The works standards in a folder.

    house.toml, departments.toml and routing.toml are needed, materials.toml and words.toml may be missing. Raises
    WrongUse when the folder or a needed file is missing, FaultsStop with every fault of every file, each with its line.
    """
    if not folder.is_dir():
        raise WrongUse(f"No folder of works standards at {folder}", do="Name the folder that holds house.toml")
    for needed in (HOUSE_FILE, DEPARTMENTS_FILE, ROUTING_FILE):
        if not (folder / needed).is_file():
            do = f"A folder of works standards holds {HOUSE_FILE}, {DEPARTMENTS_FILE} and {ROUTING_FILE}"
            raise WrongUse(f"{folder / needed} is missing", do=do)
    faults: list[Fault] = []
    content: dict[str, Any] = {"house": _house(read_toml(read_bytes(folder / HOUSE_FILE), HOUSE_FILE), faults)}
    sources: dict[str, TomlSource] = {}
    for part in _PARTS:
        content[part.content] = []
        if (folder / part.file).is_file():
            sources[part.file] = read_toml(read_bytes(folder / part.file), part.file)
            content[part.content] = _tables(sources[part.file], part, faults)
    content["synonyms"] = []
    if (folder / WORDS_FILE).is_file():
        content["synonyms"] = _synonyms(read_toml(read_bytes(folder / WORDS_FILE), WORDS_FILE), faults)
    if not faults:
        faults += _rule_faults(sources[ROUTING_FILE], content)
        faults += _density_faults(sources.get(MATERIALS_FILE), content)
    if faults:
        raise stopped(str(folder), faults)
    return standards_from_content(content_of(standards_from_content(content)))


def standards_from_content(content: Mapping[str, Any]) -> Standards:
    """The standards out of plain data as `content_of` gives it; keys that are missing take their usual values."""
    return Standards(
        house=House(**_frozen(content["house"])),
        departments=tuple(
            Department(**{"final": False, **_frozen(one), "code": one["code"].strip().upper()})
            for one in content["departments"]
        ),
        rules=tuple(Rule(**_frozen(one)) for one in content["rules"]),
        materials=tuple(Material(**_frozen(one)) for one in content["materials"]),
        synonyms=tuple(tuple(group) for group in content["synonyms"]),
        content=content,
    )


def content_of(standards: Standards) -> dict[str, Any]:
    """The standards as plain data (texts, true and false, lists, dicts), the same for the same standards."""
    return {
        "house": _plain(standards.house),
        "departments": [_plain(one) for one in standards.departments],
        "rules": [_plain(one) for one in standards.rules],
        "materials": [_plain(one) for one in standards.materials],
        "synonyms": [list(group) for group in standards.synonyms],
    }


def _plain(record: House | Department | Rule | Material) -> dict[str, Any]:
    """Every field that says something; what stands for nothing said is left out."""
    pairs = ((one.name, getattr(record, one.name)) for one in fields(record))
    return {
        name: list(value) if isinstance(value, tuple) else value for name, value in pairs if value not in ("", None, ())
    }


def _frozen(table: Mapping[str, Any]) -> dict[str, Any]:
    return {key: tuple(value) if isinstance(value, list) else value for key, value in table.items()}


def _house(source: TomlSource, faults: list[Fault]) -> dict[str, Any]:
    faults += _other_heads(source, "house")
    found = key_faults(source, source.content.get("house", {}), ("house",), _HOUSE, ("works",))
    faults += found
    return {"works": ""} if found else dict(source.content["house"])


def _tables(source: TomlSource, part: _Part, faults: list[Fault]) -> list[dict[str, Any]]:
    """The tables of one list, those without faults; numbers that stand twice are faults."""
    faults += _other_heads(source, part.table)
    tables = source.content.get(part.table, [])
    if not isinstance(tables, list):
        faults.append(_fault("wrong type", f"Head each {part.table} with [[{part.table}]].", source.place(part.table)))
        return []
    good: list[dict[str, Any]] = []
    first: dict[str, Place] = {}
    for place, table in enumerate(tables):
        found = key_faults(source, table, (part.table, place), part.keys, part.required)
        faults += found
        if found:
            continue
        name = table[part.unique].strip().upper()
        where = source.place(part.table, place, part.unique)
        if name in first:
            text = f"The {part.table} {table[part.unique]} stands twice, first at {first[name]}."
            faults.append(_fault("given twice", text, where))
        first.setdefault(name, where)
        good.append(dict(table))
    return good


def _synonyms(source: TomlSource, faults: list[Fault]) -> list[list[str]]:
    faults += _other_heads(source, "synonyms")
    groups = source.content.get("synonyms", [])
    fits = isinstance(groups, list) and all(
        isinstance(group, list) and len(group) > 1 and all(isinstance(word, str) and word.strip() for word in group)
        for group in groups
    )
    if not fits:
        text = '`synonyms` must be a list of groups of two or more words, such as [["gudgeon pin", "wrist pin"]].'
        faults.append(_fault("wrong type", text, source.place("synonyms")))
        return []
    return [list(group) for group in groups]


def _other_heads(source: TomlSource, known: str) -> list[Fault]:
    return [
        _fault("unknown key", f"`{key}` is not known here; {source.file} holds `{known}`.", source.place(key, 0))
        for key in source.content
        if key != known
    ]


def _rule_faults(source: TomlSource, content: Mapping[str, Any]) -> Iterator[Fault]:
    codes = {one["code"].strip().upper() for one in content["departments"]}
    for place, rule in enumerate(content["rules"]):
        outcomes = [key for key in _OUTCOMES if rule.get(key)]
        if len(outcomes) != 1:
            said = " and ".join(outcomes) or "none of them"
            text = f"The rule {rule['name']} must say one of route, no_action and add; it says {said}."
            yield _fault("rule without outcome", text, source.place("rule", place))
        for key in ("route", "add"):
            for code in _codes(rule.get(key, "")):
                if code not in codes:
                    yield _unknown_department(source, place, key, code, codes)
        for key in ("before", "after"):
            if not rule.get(key):
                continue
            if "add" not in outcomes:
                text = f"`{key}` has a meaning only beside `add`."
                yield _fault("rule without outcome", text, source.place("rule", place, key))
            if rule[key].strip().upper() not in codes:
                yield _unknown_department(source, place, key, rule[key].strip().upper(), codes)


def _unknown_department(source: TomlSource, place: int, key: str, code: str, codes: set[str]) -> Fault:
    said = code or "a step without a department"
    text = f"`{key}` names {said}; the departments are {', '.join(sorted(codes))}."
    return _fault("unknown department", text, source.place("rule", place, key))


def _codes(route: str) -> Sequence[str]:
    """The department of each step of a route: its first word."""
    if not route.strip():
        return ()
    steps = (step.split() for step in re.split(r"[;&]", route))
    return [words[0].upper() if words else "" for words in steps]


def _density_faults(source: TomlSource | None, content: Mapping[str, Any]) -> Iterator[Fault]:
    for place, material in enumerate(content["materials"]):
        density = material.get("density", "")
        if source and density and not _DENSITY.fullmatch(density):
            text = f'The density of {material["name"]} is "{density}"; write kilograms per cubic metre, such as "7850".'
            yield _fault("wrong density", text, source.place("material", place, "density"))


def _fault(name: str, text: str, place: Place) -> Fault:
    return Fault(name, Severity.STOP, "", text, place)
