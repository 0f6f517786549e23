"""The works standards: departments, routing rules, materials, words, house rules, as plain frozen records.

The chief owns them as TOML files; another works' standards are never used unasked. `Standards.content` is the whole
as plain data, from which the store keeps a copy by digest and an order is reckoned for ever.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from specreg.core.folding import plain_words
from specreg.core.reckoning_standards import Reckoning, SectionTable


@dataclass(frozen=True, slots=True)
class Department:
    """A department of the works: `code` as used in routes (`FDY`), `name` in full, `operation` what it does to an
    item when a route does not say (`cast`), `final` when its steps put an item into the machine or into stores.
    `follows` are departments that must have had a piece before this one can: nothing is machined before it is cast."""

    code: str
    name: str
    operation: str
    final: bool = False
    follows: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Rule:
    """One routing rule.

    It matches an item when every condition given matches. Either `route` (a route in the notation of the Route
    field; the first rule that matches gives the item its route), or `no_action` (a reason; also first match), or
    `add` (steps put in beside the route of whatever rule came first; every such rule that matches adds), placed
    before or after the first step of department `before` or `after`, else before the last steps.

    sections   numbers or inclusive ranges of sections: `4`, `4-6`; or an item's number and all under it: `4.1`
    words      every one of these must stand in the description (half words count, any case)
    any_words  at least one of these must stand in the description
    no_words   none of these may stand in the description
    material   at least one of these must stand in the material
    supply     the supply is one of these
    drawings   a drawing called up begins with one of these
    safety     True: the item carries a safety mark; False: it carries none
    pattern    True: the item names a pattern; False: it names none
    drawing    True: the item calls up a drawing; False: it calls up none
    """

    name: str
    route: str = ""
    no_action: str = ""
    add: str = ""
    before: str = ""
    after: str = ""
    sections: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    any_words: tuple[str, ...] = ()
    no_words: tuple[str, ...] = ()
    material: tuple[str, ...] = ()
    supply: tuple[str, ...] = ()
    drawings: tuple[str, ...] = ()
    safety: bool | None = None
    pattern: bool | None = None
    drawing: bool | None = None


@dataclass(frozen=True, slots=True)
class Material:
    """A material of the works list: `density` in kg/m3 as written, and what the figure rests on."""

    name: str
    density: str = ""
    basis: str = ""
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NumberForm:
    """How the works writes a kind of number: `of` says which (order, drawing, pattern, part), `form` how, with `9` for
    a figure, `A` for a capital letter and every other sign itself; `basis` what it stands for."""

    of: str
    form: str
    basis: str = ""


@dataclass(frozen=True, slots=True)
class House:
    """Rules of the house: names for the title block and what the checker holds orders to."""

    works: str
    document_type: str = "specification"
    clearance: str = "make"
    safety_second_check: bool = True
    omitted_letters: str = "IOQSXZ"
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Standards:
    """Everything a works' standards folder says. `synonyms` are groups of words that mean the same,
    `sections` tables of rolled sections."""

    house: House
    departments: tuple[Department, ...] = ()
    rules: tuple[Rule, ...] = ()
    materials: tuple[Material, ...] = ()
    synonyms: tuple[tuple[str, ...], ...] = ()
    reckoning: Reckoning = field(default_factory=Reckoning)
    sections: tuple[SectionTable, ...] = ()
    numbers: tuple[NumberForm, ...] = ()
    content: Mapping[str, Any] = field(default_factory=dict, compare=False)

    def department(self, code: str) -> Department | None:
        """The department with this code, any case; None when the works has no such department."""
        wanted = code.strip().upper()
        return next((one for one in self.departments if one.code == wanted), None)

    @cached_property
    def masses_read(self) -> dict[tuple[str, ...], Any]:
        """What `stock.masses.masses_of` read by these standards already, by what was written."""
        return {}

    @cached_property
    def materials_by_name(self) -> Mapping[str, Material]:
        """The materials under each of their names, folded; of a name that several have the first counts."""
        found: dict[str, Material] = {}
        for material in self.materials:
            for name in (material.name, *material.also):
                found.setdefault(plain_words(name), material)
        return found
