"""A folder of works standards: departments, routing rules, materials, words and house rules, one TOML file each."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from specreg.core.errors import WrongUse
from specreg.core.faults import Fault
from specreg.core.number_forms import FIGURE, LETTER
from specreg.core.standards import Standards
from specreg.intake.source_text import read_bytes
from specreg.intake.standard_tables import RECKONING_FILE, SECTIONS_FILE, Part, other_heads, stop, tables
from specreg.intake.standards_content import content_of, standards_from_content
from specreg.intake.toml_source import TomlSource, Wanted, key_faults, read_toml, stopped

__all__ = ["content_of", "read_rules", "read_standards", "standards_from_content"]

HOUSE_FILE = "house.toml"
DEPARTMENTS_FILE = "departments.toml"
ROUTING_FILE = "routing.toml"
MATERIALS_FILE = "materials.toml"
WORDS_FILE = "words.toml"
NUMBERS_FILE = "numbers.toml"

_HOUSE = {
    "works": Wanted.TEXT, "document_type": Wanted.TEXT, "clearance": Wanted.TEXT, "safety_second_check": Wanted.YES_NO,
    "omitted_letters": Wanted.TEXT, "cautions": Wanted.TEXTS,
}  # fmt: skip
_DEPARTMENT = {
    "code": Wanted.TEXT, "name": Wanted.TEXT, "operation": Wanted.TEXT, "final": Wanted.YES_NO, "follows": Wanted.TEXTS,
}  # fmt: skip
_RULE = {
    "name": Wanted.TEXT, "route": Wanted.TEXT, "no_action": Wanted.TEXT, "add": Wanted.TEXT, "before": Wanted.TEXT,
    "after": Wanted.TEXT, "sections": Wanted.TEXTS, "words": Wanted.TEXTS, "any_words": Wanted.TEXTS,
    "no_words": Wanted.TEXTS, "material": Wanted.TEXTS, "supply": Wanted.TEXTS, "drawings": Wanted.TEXTS,
    "safety": Wanted.YES_NO, "pattern": Wanted.YES_NO, "drawing": Wanted.YES_NO,
}  # fmt: skip
_MATERIAL = {"name": Wanted.TEXT, "density": Wanted.TEXT, "basis": Wanted.TEXT, "also": Wanted.TEXTS}
_NUMBER = {"of": Wanted.TEXT, "form": Wanted.TEXT, "basis": Wanted.TEXT}
_NUMBERED = ("order", "drawing", "pattern", "part")
_OUTCOMES = ("route", "no_action", "add")
_DENSITY = re.compile(r"\d+(?:\.\d+)?")

_PARTS = (
    Part(DEPARTMENTS_FILE, "department", "departments", _DEPARTMENT, ("code", "name", "operation"), "code"),
    Part(ROUTING_FILE, "rule", "rules", _RULE, ("name",), "name"),
    Part(MATERIALS_FILE, "material", "materials", _MATERIAL, ("name",), "name"),
    Part(NUMBERS_FILE, "number", "numbers", _NUMBER, ("of", "form")),
)


def read_standards(folder: Path) -> Standards:
    """The works standards in a folder.

    house.toml, departments.toml and routing.toml are needed; materials.toml, numbers.toml, words.toml,
    reckoning.toml and sections.toml may be missing. Raises WrongUse when the folder or a needed file is missing,
    FaultsStop with every fault of every file, each with its line.
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
            faults += other_heads(sources[part.file], part.table)
            content[part.content] = tables(sources[part.file], part, faults)
    content["synonyms"] = []
    if (folder / WORDS_FILE).is_file():
        content["synonyms"] = _synonyms(read_toml(read_bytes(folder / WORDS_FILE), WORDS_FILE), faults)
    _reckoning(folder, content, sources, faults)
    if not faults:
        faults += _follows_faults(sources[DEPARTMENTS_FILE], content)
        faults += _rule_faults(sources[ROUTING_FILE], content)
        faults += _density_faults(sources.get(MATERIALS_FILE), content)
        faults += _number_faults(sources.get(NUMBERS_FILE), content)
    if faults:
        raise stopped(str(folder), faults)
    return standards_from_content(content_of(standards_from_content(content)))


def read_rules(file: Path, standards: Standards) -> Standards:
    """The works standards with the routing rules of a file in place of their own.

    Raises WrongUse when the file cannot be read, FaultsStop with every fault of it, each with its line.
    """
    source = read_toml(read_bytes(file), file.name)
    faults = other_heads(source, "rule")
    (part,) = (one for one in _PARTS if one.table == "rule")
    content = {**content_of(standards), "rules": tables(source, part, faults)}
    faults += _rule_faults(source, content)
    if faults:
        raise stopped(str(file), faults)
    return standards_from_content(content)


def _reckoning(folder: Path, content: dict[str, Any], sources: dict[str, TomlSource], faults: list[Fault]) -> None:
    """The files about masses and cutting, when the folder has them; what reads their figures is loaded only then."""
    for file in (RECKONING_FILE, SECTIONS_FILE):
        if (folder / file).is_file():
            sources[file] = read_toml(read_bytes(folder / file), file)
    if RECKONING_FILE in sources or SECTIONS_FILE in sources:
        from specreg.intake import reckoning_files

        if source := sources.get(RECKONING_FILE):
            content["reckoning"] = reckoning_files.reckoning_tables(source, content["materials"], faults)
        if source := sources.get(SECTIONS_FILE):
            content["sections"] = reckoning_files.section_tables(source, faults)


def _house(source: TomlSource, faults: list[Fault]) -> dict[str, Any]:
    faults += other_heads(source, "house")
    found = key_faults(source, source.content.get("house", {}), ("house",), _HOUSE, ("works",))
    faults += found
    return {"works": ""} if found else dict(source.content["house"])


def _synonyms(source: TomlSource, faults: list[Fault]) -> list[list[str]]:
    faults += other_heads(source, "synonyms")
    groups = source.content.get("synonyms", [])
    fits = isinstance(groups, list) and all(
        isinstance(group, list) and len(group) > 1 and all(isinstance(word, str) and word.strip() for word in group)
        for group in groups
    )
    if not fits:
        text = '`synonyms` must be a list of groups of two or more words, such as [["gudgeon pin", "wrist pin"]].'
        faults.append(stop("wrong type", text, source.place("synonyms")))
        return []
    return [list(group) for group in groups]


def _follows_faults(source: TomlSource, content: Mapping[str, Any]) -> Iterator[Fault]:
    codes = {one["code"].strip().upper() for one in content["departments"]}
    for place, department in enumerate(content["departments"]):
        for code in department.get("follows", ()):
            if code.strip().upper() not in codes - {department["code"].strip().upper()}:
                text = f"`follows` names {code}; the other departments are {', '.join(sorted(codes))}."
                yield stop("unknown department", text, source.place("department", place, "follows"))


def _rule_faults(source: TomlSource, content: Mapping[str, Any]) -> Iterator[Fault]:
    codes = {one["code"].strip().upper() for one in content["departments"]}
    for place, rule in enumerate(content["rules"]):
        outcomes = [key for key in _OUTCOMES if rule.get(key)]
        if len(outcomes) != 1:
            said = " and ".join(outcomes) or "none of them"
            text = f"The rule {rule['name']} must say one of route, no_action and add; it says {said}."
            yield stop("rule without outcome", text, source.place("rule", place))
        for key in ("route", "add"):
            for code in _codes(rule.get(key, "")):
                if code not in codes:
                    yield _unknown_department(source, place, key, code, codes)
        for key in ("before", "after"):
            if not rule.get(key):
                continue
            if "add" not in outcomes:
                text = f"`{key}` has a meaning only beside `add`."
                yield stop("rule without outcome", text, source.place("rule", place, key))
            if rule[key].strip().upper() not in codes:
                yield _unknown_department(source, place, key, rule[key].strip().upper(), codes)


def _unknown_department(source: TomlSource, place: int, key: str, code: str, codes: set[str]) -> Fault:
    said = code or "a step without a department"
    text = f"`{key}` names {said}; the departments are {', '.join(sorted(codes))}."
    return stop("unknown department", text, source.place("rule", place, key))


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
            yield stop("wrong density", text, source.place("material", place, "density"))


def _number_faults(source: TomlSource | None, content: Mapping[str, Any]) -> Iterator[Fault]:
    for place, number in enumerate(content["numbers"]):
        if source and number["of"] not in _NUMBERED:
            text = f"`{number['of']}` is no kind of number here; say one of {', '.join(_NUMBERED)}."
            yield stop("unknown kind of number", text, source.place("number", place, "of"))
        if source and not set(number["form"]) & {FIGURE, LETTER}:
            text = f'"{number["form"]}" fits one number alone; write {FIGURE} for a figure, {LETTER} for a letter.'
            yield stop("form without figures", text, source.place("number", place, "form"))
