"""What reading a size and reckoning a mass give: stock, a mass with what it rests on, or the reason why not."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from specreg.core.measures.records import Measure, NotRead
from specreg.core.reckoning_standards import CUT_TO_LENGTH


class Form(StrEnum):
    """The form of what a piece is cut from or bought as; the words of works standards."""

    PLATE = "plate"
    SHEET = "sheet"
    CHEQUERED_PLATE = "chequered plate"
    FLAT = "flat"
    ROUND = "round"
    SQUARE = "square"
    HEXAGON = "hexagon"
    TUBE = "tube"
    ANGLE = "angle"
    TEE = "tee"
    CHANNEL = "channel"
    I_SECTION = "I-section"
    RAIL = "rail"
    WIRE = "wire"
    RING = "ring"
    DISC = "disc"
    BLOCK = "block"
    FASTENER = "fastener"
    BY_WEIGHT = "by weight"

    @property
    def is_cut_to_length(self) -> bool:
        """Whether it is cut from bars, tubes or sections of a stock length."""
        return self.value in CUT_TO_LENGTH


@dataclass(frozen=True, slots=True)
class Dimension:
    """One dimension of a piece by its name, `thickness`, in mm, and how it was written."""

    name: str
    value: Fraction
    written: str


@dataclass(frozen=True, slots=True)
class Stock:
    """What a size says.

    `area` is the cross-section in mm2 of what is cut to length, `length` in mm that of the piece for a cutting list;
    both None for plates, rings, discs and what is bought by number. `volume` is in mm3, None where the size gives none:
    then `per_metre` in kg/m, `mass` in kg or neither stands. `basis` says what all this rests on beyond plain geometry.
    `section` names the section where the dimensions do not: `203x133x25 of universal beams`, `100 lb/yd`; `thread` the
    thread of a fastener that names one. `approximate`: the size says `about`, or a fastener is taken as a plain round.
    """

    form: Form
    written: str
    dimensions: tuple[Dimension, ...] = ()
    area: Fraction | None = None
    length: Fraction | None = None
    volume: Fraction | None = None
    per_metre: Fraction | None = None
    mass: Fraction | None = None
    density_of_table: Fraction | None = None
    basis: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()
    approximate: bool = False
    section: str = ""
    thread: str = ""

    def dimension(self, name: str) -> Fraction | None:
        """A dimension in mm by its name; None when it has no such."""
        return next((one.value for one in self.dimensions if one.name == name), None)


class Source(StrEnum):
    """Where the mass of one piece comes from."""

    STATED = "stated"
    BY_SIZE = "by size"
    ROUGH = "rough, as stated"


@dataclass(frozen=True, slots=True)
class MassBySize:
    """A mass in kg out of form and density or mass per metre, with the stock and what it rests on."""

    mass: Fraction
    stock: Stock
    basis: str
    doubts: tuple[str, ...] = ()
    approximate: bool = False


@dataclass(frozen=True, slots=True)
class Rough:
    """A cast or forged piece before it is machined.

    `size` says its dimensions in words, in the units of the finished size; `mass` in kg. `pattern` says those of its
    pattern, with the contraction; empty where the material is not cast. `basis` says what was allowed: every face is
    taken to be machined, which is the most that can be wanted.
    """

    size: str
    mass: Fraction
    pattern: str
    basis: str


@dataclass(frozen=True, slots=True)
class Disagreement:
    """A stated weight further from the one by size than the works let pass.

    `ratio` is the greater to the smaller, None where the stated one is nought; `near_units`: the ratio is near that of
    two units, as one is taken for the other. `text` says all this, without the item.
    """

    text: str
    ratio: Fraction | None
    near_units: bool


@dataclass(frozen=True, slots=True)
class MassOfOne:
    """The mass of one piece in kg: `mass` is what counts for what is lifted.

    `finished` and `rough` are the Weight and Rough weight fields as read, `by_size` what the size gives, each None
    where it says nothing; `size` is the Size field as read, None where it is empty, `size_not_read` why it gives no
    mass. `allowed` is the rough piece by the works' allowances, where the item is cast or forged, its size is known and
    no rough weight is stated; `lacks_rough`: it is cast or forged, and its rough weight is neither stated nor allowed
    for. `to_order` is the mass to order: the rough one where it is known, else the greater of the one by size and the
    finished. `difference` is the stated mass, finished or else rough, less the one by size, in kg, `disagreement` what
    is to be said of it. `basis` says what `mass` rests on, `doubts` are sentences for a person, the disagreement among
    them.
    """

    mass: Fraction
    source: Source
    basis: str
    finished: Measure | None = None
    rough: Measure | None = None
    by_size: MassBySize | None = None
    size_not_read: str = ""
    difference: Fraction | None = None
    approximate: bool = False
    doubts: tuple[str, ...] = ()
    disagreement: Disagreement | None = None
    size: Stock | NotRead | None = None
    allowed: Rough | None = None
    to_order: Fraction = Fraction(0)
    lacks_rough: bool = False


@dataclass(frozen=True, slots=True)
class NotReckoned:
    """No mass of one piece: each reason with what to do.

    `nothing_said`: the item has no size and no weight at all, as the head of an assembly has none. `size` is the Size
    field as read, None where it is empty.
    """

    refusals: tuple[NotRead, ...]
    nothing_said: bool = False
    size: Stock | NotRead | None = None

    def __str__(self) -> str:
        return " ".join(str(one) for one in self.refusals)
