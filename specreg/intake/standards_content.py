"""Works standards as plain data (texts, true and false, lists, dicts), the form in which a book keeps them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields
from typing import Any

from specreg.core.reckoning_standards import Allowance, Contraction, CuttingRule, LeadTime, Reckoning, SectionTable
from specreg.core.standards import Department, House, Material, NumberForm, Rule, Standards


def standards_from_content(content: Mapping[str, Any]) -> Standards:
    """The standards out of plain data as `content_of` gives it; keys that are missing take their usual values."""
    return Standards(
        house=House(**_frozen(content["house"])),
        departments=tuple(
            Department(**{"final": False, **_frozen(one), "code": one["code"].strip().upper(), **_follows(one)})
            for one in content["departments"]
        ),
        rules=tuple(Rule(**_frozen(one)) for one in content["rules"]),
        materials=tuple(Material(**_frozen(one)) for one in content["materials"]),
        synonyms=tuple(tuple(group) for group in content["synonyms"]),
        reckoning=reckoning_from_content(content.get("reckoning", {})),
        sections=sections_from_content(content.get("sections", ())),
        numbers=tuple(NumberForm(**_frozen(one)) for one in content.get("numbers", ())),
        content=content,
    )


def content_of(standards: Standards) -> dict[str, Any]:
    """The standards as plain data (texts, true and false, lists, dicts), the same for the same standards."""
    content = {
        "house": plain(standards.house),
        "departments": plain(standards.departments),
        "rules": plain(standards.rules),
        "materials": plain(standards.materials),
        "synonyms": [list(group) for group in standards.synonyms],
    }
    # Kept only where it says something: standards from before it was known keep their content and its digest.
    later = {
        "reckoning": plain(standards.reckoning),
        "sections": plain(standards.sections),
        "numbers": plain(standards.numbers),
    }
    return {**content, **{key: value for key, value in later.items() if value}}


def reckoning_from_content(content: Mapping[str, Any]) -> Reckoning:
    """The rules out of plain data of a book or a file; keys that are missing say nothing."""
    lists = {
        "cutting": tuple(CuttingRule(**_frozen(one)) for one in content.get("cutting", ())),
        "allowances": tuple(Allowance(**_frozen(one)) for one in content.get("allowances", ())),
        "contractions": tuple(Contraction(**_frozen(one)) for one in content.get("contractions", ())),
        "lead_times": tuple(LeadTime(**_frozen(one)) for one in content.get("lead_times", ())),
    }
    return Reckoning(**{**content, **lists})


def sections_from_content(content: Iterable[Mapping[str, Any]]) -> tuple[SectionTable, ...]:
    """The tables of sections out of plain data."""
    return tuple(SectionTable(**_frozen(one)) for one in content)


def plain(record: object) -> Any:
    """A record of works standards as plain data: every field that says something, lists for tuples."""
    if isinstance(record, tuple):
        return [plain(one) for one in record]
    if isinstance(record, str | bool) or record is None:
        return record
    pairs = ((one.name, getattr(record, one.name)) for one in fields(record))  # type: ignore[arg-type]
    return {name: plain(value) for name, value in pairs if value not in ("", None, ())}


def _follows(department: Mapping[str, Any]) -> dict[str, Any]:
    codes = tuple(code.strip().upper() for code in department.get("follows", ()))
    return {"follows": codes} if codes else {}


def _frozen(table: Mapping[str, Any]) -> dict[str, Any]:
    return {key: tuple(value) if isinstance(value, list) else value for key, value in table.items()}
