"""The material of an item in the works' list, and its density."""

from __future__ import annotations

from fractions import Fraction

from specreg.core.measures.records import NotRead
from specreg.core.rule_conditions import plain_words
from specreg.core.standards import Material, Standards


def material_named(written: str, standards: Standards) -> Material | None:
    """The material of the works' list with this name or other name, any case; None when it has none."""
    wanted = plain_words(written)
    if not wanted:
        return None
    for one in standards.materials:
        if wanted in {plain_words(name) for name in (one.name, *one.also)}:
            return one
    return None


def density_of(written: str, standards: Standards) -> tuple[Fraction, str] | NotRead:
    """The density in kg/m3 of a Material field and what it rests on."""
    if not written.strip():
        return NotRead("Material", "nothing is written", "Name the material")
    material = material_named(written, standards)
    if material is None:
        return NotRead(written, "it is not in the works' list of materials", "Enter it there with its density")
    if not material.density:
        why = material.basis or f"the works' list has no density of {material.name}"
        return NotRead(written, why, "State the weight")
    basis = f"{material.name} of {material.density} kg/m3"
    return Fraction(material.density), f"{basis}: {material.basis}" if material.basis else basis


def is_one_of(written: str, names: tuple[str, ...], standards: Standards) -> bool:
    """Whether a Material field means one of these materials, each under any of its names."""
    material = material_named(written, standards)
    known = {plain_words(name) for name in ((material.name, *material.also) if material else (written,))}
    return not known.isdisjoint(plain_words(name) for name in names)
