"""What the works leaves on a casting or forging, adds to a pattern, takes from a bore, and how it cuts bars."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from specreg.core.cutting import CuttingRules
from specreg.core.errors import WrongUse
from specreg.core.measures.records import NotRead
from specreg.core.measures.units import FOOT, INCH
from specreg.core.measures.written import read_length
from specreg.core.reckoning_standards import CuttingRule
from specreg.core.standards import Standards
from specreg.core.stock.materials import is_one_of
from specreg.core.stock.records import Form

_ENTER = "Enter it in the works standards"


@dataclass(frozen=True, slots=True)
class Allowed:
    """A size in mm with what was allowed, and what the figure rests on."""

    size: Fraction
    basis: str


def rough_of_finished(finished: Fraction, faces: int, material: str, standards: Standards) -> Allowed | NotRead:
    """A size as cast or forged out of the finished one in mm: the works' allowance on each of its machined faces.

    A length between two machined faces has two, a turned diameter two, a bore two that make it smaller: `faces` -2.
    """
    for rule in standards.reckoning.allowances:
        if is_one_of(material, rule.materials, standards):
            allowance = read_length(rule.per_face)
            if isinstance(allowance, NotRead):
                return allowance
            return Allowed(finished + faces * allowance.value, f"{rule.per_face} a machined face, {rule.basis}")
    return NotRead(material, "the works standards have no machining allowance for it", _ENTER)


def pattern_of_casting(casting: Fraction, material: str, standards: Standards) -> Allowed | NotRead:
    """A size of the pattern out of that of the rough casting, both in mm: the contraction of the material."""
    for rule in standards.reckoning.contractions:
        if is_one_of(material, rule.materials, standards):
            contraction = read_length(rule.per_foot)
            if isinstance(contraction, NotRead):
                return contraction
            size = casting * (1 + contraction.value / FOOT)
            return Allowed(size, f"contraction of {rule.per_foot} in the foot, {rule.basis}")
    return NotRead(material, "the works standards have no contraction of it", _ENTER)


def bore_to_shrink(diameter: Fraction, standards: Standards) -> Allowed | NotRead:
    """The bore in mm of what is to be shrunk on this diameter."""
    reckoning = standards.reckoning
    if not reckoning.shrink_fit:
        return NotRead("shrink fit", "the works standards have no allowance for it", _ENTER)
    allowance = read_length(reckoning.shrink_fit)
    if isinstance(allowance, NotRead):
        return allowance
    size = diameter * (1 - allowance.value / INCH)
    return Allowed(size, f"{reckoning.shrink_fit} in each inch of diameter, {reckoning.shrink_fit_basis}")


def yield_of(finished: Fraction, rough: Fraction) -> Fraction | NotRead:
    """How much of the rough mass the finished piece keeps: 3/4 of a plate of 3 tons finished to 2 tons 5 cwt."""
    if rough <= 0 or finished < 0:
        return NotRead("yield", "a mass is missing", "Enter the rough and the finished weight")
    if finished > rough:
        return NotRead("yield", "the finished mass is more than the rough one", "Look which is right")
    return finished / rough


def cutting_rule(form: Form, material: str, standards: Standards) -> CuttingRule | None:
    """The first cutting rule of the works that names the form and, where it names any, the material; as written."""
    for rule in standards.reckoning.cutting:
        if form in rule.kinds and (not rule.materials or is_one_of(material, rule.materials, standards)):
            return rule
    return None


def cutting_rules(form: Form, material: str, standards: Standards) -> CuttingRules | NotRead:
    """How bars of a form and material are cut: the first rule of the works that names both."""
    rule = cutting_rule(form, material, standards)
    if rule is None:
        why = "no cutting rule of the works fits this form and material"
        return NotRead(f"{material}, {form}", why, "Enter one in the works standards, if it is cut from bar")
    read = [read_length(text) for text in (rule.kerf, rule.end_trim, rule.chuck_grip, rule.least_offcut)]
    stock = [read_length(text) for text in rule.stock]
    lengths = [one.value for one in read if not isinstance(one, NotRead)]
    bars = [one.value for one in stock if not isinstance(one, NotRead)]
    for one in (*read, *stock):
        if isinstance(one, NotRead):
            return one
    try:
        return CuttingRules(tuple(bars), *lengths)
    except WrongUse as cause:
        return NotRead(", ".join(rule.stock), str(cause), "Correct the cutting rule in the works standards")
