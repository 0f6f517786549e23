"""What the screens and reading commands are shown: frozen records, ready to be painted, no SQL and no widget."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from specreg.core.extracts import Extract
from specreg.services.comparison_readings import ComparisonPage, StateLine
from specreg.services.department_readings import DepartmentsPage
from specreg.services.drawing_readings import DrawingLine, DrawingPage

if TYPE_CHECKING:
    # Loading the reckoning of weights is dear, and the first pages show none.
    from specreg.core.item_reckoning import ItemReckoned
    from specreg.services.take_off_readings import SumKind, SumPage, TakeOffPage


@dataclass(frozen=True, slots=True)
class TitleLine:
    """The title block at the foot of every screen: what one looks at, and whether it is current.

    `revision` is the last issued letter, empty before the first issue; `seal` its short code; `open_edits` how many
    items stand altered under open notes and not yet issued.
    """

    order: str
    title: str
    machines: str
    revision: str
    seal: str
    person: str
    role: str
    open_edits: int
    issued_on: str


@dataclass(frozen=True, slots=True)
class Count:
    """One line of the desk: `sign` (`!`, `x`, `~`, `^`, `§`, `·`), how many, and what in words."""

    sign: str
    count: int
    text: str


@dataclass(frozen=True, slots=True)
class NoteLine:
    """An open note on the desk: its number, first words, edits under it, signatures it has, what it still waits for."""

    number: str
    words: str
    edits: int
    signed: tuple[str, ...]
    waits: str


@dataclass(frozen=True, slots=True)
class Desk:
    """What waits for somebody, what is out of order, which notes are open, how far the drawings are."""

    day: str
    waits: tuple[Count, ...]
    out_of_order: tuple[Count, ...]
    notes: tuple[NoteLine, ...]
    last_edit: str
    drawings_issued: int
    drawings_total: int
    steps: int
    in_shares: int
    items: int


@dataclass(frozen=True, slots=True)
class SectionLine:
    """One section on the index page.

    `items` are live. `added`, `altered` and `deleted` count rows in the revision last issued against the one before,
    each row in one of them; `open` rows edited under a note and not yet issued; `safety` live items with a safety mark.
    """

    number: str
    title: str
    items: int
    added: int
    altered: int
    deleted: int
    open: int
    safety: int


@dataclass(frozen=True, slots=True)
class ItemLine:
    """One row of the list of items. `sign` is `+`, `-`, `»`, `H`, `M` or empty; `safety` shows `§`; `depth` is how
    deep it stands under its section (1 for 4.1, 2 for 4.1.2); `kind` is section, clause or item."""

    sign: str
    number: str
    title: str
    safety: bool
    off: str
    material: str
    size: str
    drawing: str
    kind: str
    state: str
    depth: int
    note: str


@dataclass(frozen=True, slots=True)
class StepLine:
    """One step of a route as shown: department's name, operation, number off with the extra (`17+1`), the rule."""

    step: int
    department: str
    name: str
    operation: str
    off: str
    because: str


@dataclass(frozen=True, slots=True)
class SaidLine:
    """One line of an item's history: revision letter or `open`, date, note, what changed in words."""

    revision: str
    date: str
    note: str
    change: str


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One sheet that an item calls up: how written, whether registered, its current revision and stage."""

    written: str
    name: str
    title: str
    revision: str
    stage: str
    registered: bool


@dataclass(frozen=True, slots=True)
class ItemSheet:
    """An item as a sheet of its own: everything said of it.

    `fields` are (label, text) in the paper's order; `was` gives the text at the last issue for fields altered since.
    `off` is the whole number off as text, `working` how it was reckoned (`2 × 2 × 3 + 2 = 14`). `reckoned` is what it
    weighs and measures; None for what is no live item. `placed` says what is placed of it with suppliers today.
    """

    number: str
    title: str
    text: str
    kind: str
    state: str
    reason: str
    section: str
    section_title: str
    fields: tuple[tuple[str, str], ...]
    was: dict[str, str]
    off: str
    working: str
    sheets: tuple[SheetLine, ...]
    route: tuple[StepLine, ...]
    no_action: str
    history: tuple[SaidLine, ...]
    note: str
    sign: str
    safety: bool
    reckoned: ItemReckoned | None = None
    placed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Hit:
    """One thing found. `kind` is item, drawing or note; `why` number, title, text or near;
    `order` the works order it stands in, empty for a drawing, which is the whole works'. `sign` is `-` deleted, `H`,
    `M` or `§`; `where` the field and text in which it was found, when that is neither number nor title."""

    kind: str
    number: str
    title: str
    revision: str
    why: str
    near: bool
    order: str = ""
    sign: str = ""
    where: str = ""


@dataclass(frozen=True, slots=True)
class Found:
    """The first hits of a search and how many there are in all."""

    query: str
    count: int
    hits: tuple[Hit, ...]


class Reader(Protocol):
    """What a screen may ask. One reader serves one thread; it never writes.

    `section` is a section's number, or empty for the whole order; rows count from 0 in specification order.
    """

    def title_line(self) -> TitleLine:
        """What the title block says."""

    def desk(self) -> Desk:
        """What the desk shows today."""

    def sections(self) -> tuple[SectionLine, ...]:
        """The index page."""

    def count(self, section: str) -> int:
        """How many rows the list of a section has."""

    def lines(self, section: str, first: int, count: int) -> tuple[ItemLine, ...]:
        """Rows `first` to `first + count` of the list of a section."""

    def row_of(self, section: str, number: str) -> int:
        """In which row of the list an item stands; -1 when it does not stand there."""

    def item(self, number: str) -> ItemSheet:
        """The sheet of one item. Raises NotFound."""

    def departments(self, open_edits: bool) -> DepartmentsPage:
        """The departments at the revision last issued; as the order stands where `open_edits` is asked for, and also
        while nothing is issued."""

    def share(self, code: str, open_edits: bool) -> Extract:
        """The share of one department in the same state, with its signs against its last extract; its number is 0 and
        its seal empty when no extract was made of it. Raises NotFound."""

    def take_off(self, open_edits: bool) -> TakeOffPage:
        """The sums of the order, and what is still to be chased, in the same state. Takes a moment."""

    def sum_page(self, kind: SumKind, name: str, open_edits: bool) -> SumPage:
        """One sum of the take-off in that state, with its items. Raises NotFound."""

    def drawings(self) -> tuple[DrawingLine, ...]:
        """The drawing list of the order, in the order of the numbers."""

    def drawing(self, number: str) -> DrawingPage:
        """One drawing, by its number or by that of one of its sheets. Raises NotFound."""

    def states(self) -> tuple[StateLine, ...]:
        """The states that can be compared, first to last; the last is `open` where edits stand open."""

    def comparison(self, old: str, new: str, department: str) -> ComparisonPage:
        """Two states beside each other, or only what changed on one department's paper. Raises NotFound."""

    def find(self, text: str, limit: int, stopped: Callable[[], bool]) -> Found:
        """Search; `stopped` is asked now and then, and ends the search early when it says so."""

    def version(self) -> int:
        """Changes whenever anybody, this program or another, has written to the book."""

    def close(self) -> None:
        """Let go of the book."""
