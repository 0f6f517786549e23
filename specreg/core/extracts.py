"""A department's extract before it takes a form: the share as issued, with its title block, signs, totals and seal.

Every output format is written from this one record, so that paper, screen and file say the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from specreg.core.weighing import Standing


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """The mandatory fields of a title block by ISO 7200 but for the sheet number, which the writer of the sheets knows,
    and three of the optional ones: supplementary title, revision and responsible department.
    """

    legal_owner: str
    document_type: str
    identification_number: str
    title: str
    supplementary_title: str
    revision: str
    date_of_issue: str
    creator: str
    approval_person: str
    responsible_department: str


@dataclass(frozen=True, slots=True)
class LineWeight:
    """What a piece of a line weighs, and how much of it counts in its share, in kg.

    `one` is one piece finished, `rough` one before it is machined, as stated or by the works' allowances; None: not
    known. `counts` and `to_order` are what each piece adds to the share, finished and to order; None where it counts in
    no sum, and `standing` says why. `is_about`: the size or the weight says so; `is_rough`: only the rough weight is
    known, and `one` is that; `is_by_parts`: an assembly, and `one` is what its parts come to; `is_least`: some of them
    have no weight, and it is at least that. `is_short`: the share has this piece or a part of it without its weight; of
    an item that comes twice only one line says so. `units` is how the order writes weights: `imperial` or `metric`.
    """

    standing: Standing
    units: str
    one: Fraction | None = None
    rough: Fraction | None = None
    counts: Fraction | None = None
    to_order: Fraction | None = None
    is_about: bool = False
    is_rough: bool = False
    is_by_parts: bool = False
    is_least: bool = False
    is_short: bool = False
    rough_size: str = ""
    """The size before it is machined, by the works' allowances; empty where they allow nothing."""


@dataclass(frozen=True, slots=True)
class ShareWeight:
    """What lines weigh together, in kg: finished, and to order; `without` items have no weight, or a part of them has
    none. `units` is how the order writes weights."""

    mass: Fraction
    to_order: Fraction
    without: int
    units: str


@dataclass(frozen=True, slots=True)
class ExtractLine:
    """One line of an extract: an item's step in this department.

    `sign` is `+` new since the last extract, `»` altered, `-` withdrawn, `` as before. `off` is the number off of the
    step as text (`17+1`, `as required`, `1 pair`), `pieces` its total as a count or None when it is not counted.
    `came_from` and `goes_to` name the departments before and after. `was` says in words what stood before on an altered
    line (`Off was 24, now 30`), why on a withdrawn one (`deleted: bought out`, `no longer on your route`). `drawing`
    carries each drawing with its revision, and its stage where it may not be made from (`SL-1003 rev B`, `SL-1004 rev -
    (planned)`). `machines` says for which machines, empty for all. `clearance` is hold, material only or make. `weight`
    is as written, `weighs` as reckoned; None where nobody weighed the share, as on a line that is withdrawn.
    """

    sign: str
    number: str
    step: int
    title: str
    text: str
    operation: str
    off: str
    pieces: int | None
    material: str
    size: str
    weight: str
    drawing: str
    pattern: str
    came_from: str
    goes_to: str
    machines: str
    hand: str
    supply: str
    wanted: str
    clearance: str
    safety: str
    remarks: str
    was: str
    section: str
    section_title: str
    weighs: LineWeight | None = None

    @property
    def tells_weight(self) -> bool:
        """Whether a weight is written or reckoned."""
        return bool(self.weight) or (self.weighs is not None and self.weighs.one is not None)


@dataclass(frozen=True, slots=True)
class Reconciliation:
    """The proof that nothing was lost in the splitting, for the whole order.

    `steps` counts the lines of the whole specification (each live item's each step), `in_shares` the lines over all
    departments' shares; `items` the live items, `allocated` those with a route, `no_action` those with a reason for
    having none, `unallocated` the rest; `final_off` and `order_off` the pieces that final steps deliver and the
    pieces the order wants, over all counted items.
    """

    items: int
    allocated: int
    no_action: int
    unallocated: int
    steps: int
    in_shares: int
    final_off: int
    order_off: int

    @property
    def difference(self) -> int:
        """Lines lost (positive) or doubled (negative) between the whole and the shares."""
        return self.steps - self.in_shares

    @property
    def off_difference(self) -> int:
        """Pieces the order wants and no final step delivers."""
        return self.order_off - self.final_off

    @property
    def holds(self) -> bool:
        """Whether nothing is lost in any of these senses."""
        return self.difference == 0 and self.off_difference == 0 and self.unallocated == 0


@dataclass(frozen=True, slots=True)
class Extract:
    """One department's share as issued.

    `lines` stand in the department's order; `withdrawn` are lines of the last extract that are no longer this
    department's. `since` names what the signs compare with (`extract 1 of revision A`), empty for a first extract.
    `changed` is false when nothing changed for this department since then. `machines` are the order's. `pieces` sums
    the counted lines, `not_counted` is how many lines have no count (as required, sets). `seal` is the extract's own,
    8 signs. `part` is the section of a partial extract (`4 Slewing gear`), empty for the whole share. `weight` is what
    its lines weigh together, None where nobody weighed them.
    """

    order: str
    order_title: str
    machines: str
    customer: str
    department: str
    department_name: str
    number: int
    title_block: TitleBlock
    revision_seal: str
    since: str
    changed: bool
    replaces: str
    lines: tuple[ExtractLine, ...]
    withdrawn: tuple[ExtractLine, ...]
    pieces: int
    not_counted: int
    reconciliation: Reconciliation
    cautions: tuple[str, ...]
    seal: str
    part: str = ""
    weight: ShareWeight | None = None
