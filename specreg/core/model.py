"""The records of the trade: orders, numbered items, drawing sheets, notes.

All are frozen: an alteration makes a new record. What a person wrote is kept verbatim in these records; values that
are read out of it (numbers off, machine ranges, routes) are worked out elsewhere and stand beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from specreg.core.folding import plain_words
from specreg.core.numbering import number_key

NO_DRAWING = frozenset({"-", "–", "none", "none needed", "no drawing", "no drawing needed"})
"""Ways of writing in the Drawing field that no drawing is needed."""


SUPPLIES = ("make", "buy", "stock", "free issue")
"""Words of the Supply field: made here, bought complete, from stores, sent by the customer."""


class Kind(StrEnum):
    """What a numbered thing is. Only an item calls for something to be made, bought or put by."""

    SECTION = "section"
    CLAUSE = "clause"
    ITEM = "item"


class State(StrEnum):
    """Whether an item is wanted. A deleted or reserved number stays listed and stays taken."""

    LIVE = "live"
    DELETED = "deleted"
    RESERVED = "reserved"


class Layout(StrEnum):
    """How the item stands in its section: under a heading of its own, or as a row of a table."""

    HEADING = "heading"
    ROW = "row"


@dataclass(frozen=True, slots=True)
class Field:
    """One field of an item: its attribute in `Item` and the word that heads it on paper, on screen and in files."""

    name: str
    label: str


FIELDS: tuple[Field, ...] = (
    Field("off", "Off"),
    Field("per", "Per"),
    Field("machines", "Machines"),
    Field("hand", "Hand"),
    Field("part", "Part"),
    Field("material", "Material"),
    Field("size", "Size"),
    Field("rough_weight", "Rough weight"),
    Field("weight", "Weight"),
    Field("drawing", "Drawing"),
    Field("pattern", "Pattern"),
    Field("supply", "Supply"),
    Field("spares", "Spares"),
    Field("clearance", "Clearance"),
    Field("safety", "Safety"),
    Field("route", "Route"),
    Field("wanted", "Wanted"),
    Field("remarks", "Remarks"),
)
"""The fields of an item in the paper's order; `Item`, `Description` and `Text` stand before them."""

FIELD_BY_LABEL = {field.label.lower(): field for field in FIELDS}
STATE_LABELS = {State.DELETED: "Deleted", State.RESERVED: "Reserved"}
"""Columns or fields that give the state; the words under them are the reason."""

RESERVED_LABELS = frozenset(
    {*FIELD_BY_LABEL, "item", "description", "title", "text", *(label.lower() for label in STATE_LABELS.values())}
)
"""Labels with a meaning of their own; any other label is kept as written in `Item.other`."""


@dataclass(frozen=True, slots=True)
class Item:
    """One numbered thing of a specification: a section, a clause or an item, every field verbatim and stripped.

    `section` is the number of the section it stands in (its own number for a section). `other` holds fields of the
    source that have no meaning to the program, as (label, text), sorted by label. `reason` says why it is deleted or
    reserved. Empty fields are empty strings, never None.
    """

    number: str
    kind: Kind
    layout: Layout
    section: str
    title: str = ""
    text: str = ""
    off: str = ""
    per: str = ""
    machines: str = ""
    hand: str = ""
    part: str = ""
    material: str = ""
    size: str = ""
    rough_weight: str = ""
    weight: str = ""
    drawing: str = ""
    pattern: str = ""
    supply: str = ""
    spares: str = ""
    clearance: str = ""
    safety: str = ""
    route: str = ""
    wanted: str = ""
    remarks: str = ""
    other: tuple[tuple[str, str], ...] = ()
    state: State = State.LIVE
    reason: str = ""

    @property
    def is_line(self) -> bool:
        """Whether it needs departments: a live item. Headings and text clauses need none."""
        return self.kind is Kind.ITEM and self.state is State.LIVE

    @property
    def supplied(self) -> str:
        """How it comes, in small letters: one of `SUPPLIES`, `make` where nothing is said, or the word as written."""
        return plain_words(self.supply) or "make"

    @property
    def drawings(self) -> tuple[str, ...]:
        """The drawings it calls up, each as written; none where it says that no drawing is needed."""
        called = (part.strip() for part in self.drawing.split(","))
        return tuple(part for part in called if part and part.lower() not in NO_DRAWING)

    @property
    def place_key(self) -> str:
        """Sorts items of a whole order: by section, then the section itself first, then by number."""
        own = "" if self.kind is Kind.SECTION else number_key(self.number)
        return f"{number_key(self.section)} {own}"

    def said(self) -> Iterator[tuple[str, str]]:
        """Every field that says something, as (label, text) in the paper's order; other fields last."""
        for field in FIELDS:
            value: str = getattr(self, field.name)
            if value:
                yield field.label, value
        yield from self.other

    def get(self, label: str) -> str:
        """The text of a field by its label (any case), `Description` and `Text` included; empty when it has none."""
        name = label.strip().lower()
        if name in ("description", "title"):
            return self.title
        if name == "text":
            return self.text
        if name in FIELD_BY_LABEL:
            value: str = getattr(self, FIELD_BY_LABEL[name].name)
            return value
        return next((text for other, text in self.other if other.lower() == name), "")

    def with_field(self, label: str, text: str) -> Item:
        """A copy in which one field says `text`; a label without meaning of its own goes to `other`."""
        name = label.strip().lower()
        text = text.strip()
        if name in ("description", "title"):
            return replace(self, title=text)
        if name == "text":
            return replace(self, text=text)
        if name in FIELD_BY_LABEL:
            values: dict[str, str] = {FIELD_BY_LABEL[name].name: text}
            return replace(self, **values)  # type: ignore[arg-type]
        kept = [(other, said) for other, said in self.other if other.lower() != name]
        if text:
            kept.append((label.strip(), text))
        return replace(self, other=tuple(sorted(kept)))


@dataclass(frozen=True, slots=True)
class Order:
    """What `order.toml` says of a works order, verbatim.

    `machines` is a list of works numbers (`1471-1473, 1475`) or ordinal places until numbers are given;
    `units` is how computed quantities are written back: `imperial` or `metric`; `numbering` is `ours` (numbers are
    never re-used) or `theirs` (an outsider's specification, which may renumber).
    """

    number: str
    title: str
    customer: str = ""
    machines: str = ""
    spares: str = ""
    authority: str = ""
    units: str = "imperial"
    numbering: str = "ours"
    standards: str = ""


class Stage(StrEnum):
    """How far a sheet has come. Only approved and issued sheets may be made from."""

    PLANNED = "planned"
    DRAWN = "drawn"
    CHECKED = "checked"
    APPROVED = "approved"
    ISSUED = "issued"
    SUPERSEDED = "superseded"
    CANCELLED = "cancelled"
    NOT_USED = "not used"


STAGES_TO_MAKE_BY = frozenset({Stage.APPROVED, Stage.ISSUED})


@dataclass(frozen=True, slots=True)
class Sheet:
    """One revision of one sheet of a drawing, as the drawing list or the register says; every field verbatim.

    `sheet` is the sheet's own number (`1`), empty for a drawing of a single unnumbered sheet; `of` how many sheets
    the drawing has. `revision` is the mark as written; an empty mark is "no revision known", not the same as `-`.
    Dates are as written. `stage` is a `Stage` value where the word is known, else the word as written.
    """

    number: str
    sheet: str = ""
    of: str = ""
    title: str = ""
    size: str = ""
    scale: str = ""
    hand: str = ""
    revision: str = ""
    date: str = ""
    stage: str = ""
    drawn: str = ""
    checked: str = ""
    approved: str = ""
    planned: str = ""
    replaces: str = ""
    machines: str = ""
    remarks: str = ""
    group: str = ""

    @property
    def name(self) -> str:
        """The sheet as a man calls it: `SL-1002/1`, or the bare number."""
        return f"{self.number}/{self.sheet}" if self.sheet else self.number

    @property
    def may_be_made_from(self) -> bool:
        """Whether the stage allows making."""
        return self.stage in STAGES_TO_MAKE_BY


SHEET_COLUMNS: tuple[str, ...] = (
    "number", "sheet", "of", "title", "size", "scale", "hand", "revision", "date", "stage", "drawn", "checked",
    "approved", "planned", "replaces", "machines", "remarks",
)  # fmt: skip
"""Columns of drawings.csv, in order."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a route.

    `basis` is the number as the rule or the Route field put it (`all`, `machines`, `spares`, `17`), `because` the name
    of the rule or `Route field`. Steps with the same `place` run beside each other (a fork). `off` counts the pieces
    of this step without `extra` (extra castings against wasters); it is filled in from the item's total when the
    route is numbered, and None before that and where the item's quantity is not counted (as required).
    """

    place: int
    department: str
    operation: str
    basis: str
    extra: int
    because: str
    off: int | None = None

    @property
    def total(self) -> int | None:
        """Pieces of this step with the extra; None when as required."""
        return None if self.off is None else self.off + self.extra


@dataclass(frozen=True, slots=True)
class Route:
    """Where an item goes: its steps in order, or the reason why no department acts on it."""

    steps: tuple[Step, ...] = ()
    no_action: str = ""
    because: str = ""

    @property
    def allocated(self) -> bool:
        """Whether it has steps or a reason for having none."""
        return bool(self.steps) or bool(self.no_action)


@dataclass(frozen=True, slots=True)
class Note:
    """An alteration note as it stands: `number` within the order, `state` open, issued or abandoned.

    Number 0 is the first compilation, whose issue is the first revision.
    """

    number: str
    reason: str = ""
    urgency: str = ""
    authority: str = ""
    machines: str = ""
    words: str = ""
    state: str = "open"

    @property
    def is_compilation(self) -> bool:
        """Whether it is the first compilation."""
        return self.number == "0"

    @property
    def name(self) -> str:
        """As a man calls it."""
        return "the first compilation" if self.is_compilation else f"note {self.number}"


@dataclass(frozen=True, slots=True)
class NumberOff:
    """An item's number off as reckoned: None where it is not counted; `written` is the whole as text."""

    off: int | None
    for_machines: int | None
    spares: int | None
    written: str
    working: str
