"""What a works reckons by: its ton, how bars are cut, what is left for machining, contraction, tables of sections.

Plain records that hang on the works standards. Every figure is kept as written, with its unit, and is read where it is
used. Standards that say nothing here give no figure: what needs one asks for it.
"""

from __future__ import annotations

from dataclasses import dataclass

CUT_TO_LENGTH = (
    "flat", "round", "square", "hexagon", "tube", "angle", "tee", "channel", "I-section", "rail", "wire",
)  # fmt: skip
"""The forms that are cut from stock lengths."""

SECTIONS = ("angle", "tee", "channel", "I-section", "rail")
"""The forms that a table of rolled sections may hold."""


@dataclass(frozen=True, slots=True)
class CuttingRule:
    """How bars of these forms, and where `materials` names any, of these materials, are cut; lengths as written.

    `stock` are the lengths bars come in, `kerf` the width of a cut, `end_trim` what is cropped first, `chuck_grip` the
    end that is never cut up, `least_offcut` the shortest offcut worth keeping.
    """

    kinds: tuple[str, ...]
    stock: tuple[str, ...]
    kerf: str
    end_trim: str
    chuck_grip: str
    least_offcut: str
    basis: str
    materials: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Allowance:
    """What is left on each machined face of these materials, `1/8 in`, and what the figure rests on."""

    materials: tuple[str, ...]
    per_face: str
    basis: str


@dataclass(frozen=True, slots=True)
class Contraction:
    """How much larger than the casting the pattern is, `1/8 in` in each foot, and what the figure rests on."""

    materials: tuple[str, ...]
    per_foot: str
    basis: str


@dataclass(frozen=True, slots=True)
class LeadTime:
    """How long these things take to come once ordered, `12 weeks`, and what the figure rests on.

    `supply`, `materials` and `kinds` (forms) narrow it down, each where it names any; the first that fits counts.
    """

    time: str
    basis: str
    supply: tuple[str, ...] = ()
    materials: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SectionTable:
    """A table of rolled sections.

    Each of `sections` is `designation: mass, area`, such as `203x133x25: 25.1 kg/m, 32.0 cm2`. A designation is met
    beside one of `words`: `203x133x25 UB`. Where `unit` names one, a designation is also its sizes in that unit, so
    that `50 mm x 50 mm x 6 mm angle` meets `50x50x6`. The masses are those of a steel of `density` kg/m3.
    """

    name: str
    form: str
    words: tuple[str, ...]
    density: str
    basis: str
    sections: tuple[str, ...]
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Reckoning:
    """The rules of the house for masses, cutting and patterns.

    `ton` is `long`, `short` or `metric`; empty: a bare ton is asked about. `spare_assemblies_bring_parts` None: not
    said. `doubt_above` is the per cent by which a stated weight may differ from the one by size without a doubt;
    `shrink_fit` what a bore is made smaller for each inch of its diameter; `slack` the time kept in hand before what
    is ordered must be there.
    """

    ton: str = ""
    spare_assemblies_bring_parts: bool | None = None
    doubt_above: str = ""
    shrink_fit: str = ""
    shrink_fit_basis: str = ""
    cutting: tuple[CuttingRule, ...] = ()
    allowances: tuple[Allowance, ...] = ()
    contractions: tuple[Contraction, ...] = ()
    slack: str = ""
    lead_times: tuple[LeadTime, ...] = ()
