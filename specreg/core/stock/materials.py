"""The material of an item in the works' list, and its density."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from specreg.core.folding import plain_words
from specreg.core.measures.records import NotRead
from specreg.core.standards import Material, Standards


def material_named(written: str, standards: Standards) -> Material | None:
    """The material of the works' list with this name or other name, any case; None when it has none."""
    return standards.materials_by_name.get(plain_words(written))


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
    known = _plain((material.name, *material.also) if material else (written,))
    return not known.isdisjoint(_plain(names))


@lru_cache(maxsize=1024)
def _plain(names: tuple[str, ...]) -> frozenset[str]:
    """Names made plain, once for all items that ask about them."""
    return frozenset(map(plain_words, names))
