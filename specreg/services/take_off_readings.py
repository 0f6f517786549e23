"""What the pages of the take-off are shown: sums, the items of a sum, what is still to be chased."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from specreg.core.take_off import Sum
from specreg.core.weighing import Standing


class SumKind(StrEnum):
    """What a sum is over."""

    SECTION = "section"
    MATERIAL = "material"
    DEPARTMENT = "department"
    WHOLE = "whole"


@dataclass(frozen=True, slots=True)
class TakenLine:
    """One item of a sum; of a department one of its steps.

    `off` is the number off in words, `one` the weight in kg of one piece, of an assembly what its parts come to,
    `every` that of all its pieces and `to_order` the same as ordered; None where it has none, or none that is added.
    `about` says that the weight is not exact. `why` is what the weight rests on, or why there is none.
    """

    number: str
    title: str
    safety: bool
    off: str
    material: str
    one: Fraction | None
    every: Fraction | None
    to_order: Fraction | None
    about: bool
    standing: Standing
    why: str
    doubts: tuple[str, ...]

    @property
    def is_wanting(self) -> bool:
        """Whether a weight or a count is missing that should be there."""
        return self.standing in (Standing.NO_WEIGHT, Standing.NO_COUNT)


@dataclass(frozen=True, slots=True)
class TakeOffPage:
    """The sums of the order at one state.

    `revision` is the letter shown, empty when the order is shown as it stands, open edits and all. `units` is how the
    order writes weights, `cautions` are the works' own sentences. `wanting` are the items without weight or count,
    `doubtful` those whose weight is doubted; of the former `uncounted` have no count.
    """

    revision: str
    units: str
    cautions: tuple[str, ...]
    sections: tuple[Sum, ...]
    materials: tuple[Sum, ...]
    departments: tuple[Sum, ...]
    whole: Sum
    wanting: tuple[TakenLine, ...]
    doubtful: tuple[TakenLine, ...]

    @property
    def uncounted(self) -> int:
        """How many items have no count."""
        return sum(one.standing is Standing.NO_COUNT for one in self.wanting)

    def sums(self, kind: SumKind) -> tuple[Sum, ...]:
        """The sums of one kind in their order."""
        return {
            SumKind.SECTION: self.sections,
            SumKind.MATERIAL: self.materials,
            SumKind.DEPARTMENT: self.departments,
            SumKind.WHOLE: (self.whole,),
        }[kind]


@dataclass(frozen=True, slots=True)
class SumPage:
    """One sum with its items. `names` are those of all sums of the kind, in their order."""

    revision: str
    units: str
    cautions: tuple[str, ...]
    kind: SumKind
    total: Sum
    lines: tuple[TakenLine, ...]
    names: tuple[str, ...]
