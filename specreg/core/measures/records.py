"""What reading a quantity gives: a measure, or the refusal with the question to ask."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction


class Kind(StrEnum):
    """What is measured; the value of each kind is in one base unit."""

    LENGTH = "length"
    MASS = "mass"
    AREA = "area"
    PRESSURE = "pressure"
    ANGLE = "angle"
    GAUGE = "gauge"
    THREAD = "thread"


BASE_UNITS = {
    Kind.LENGTH: "mm",
    Kind.MASS: "kg",
    Kind.AREA: "mm2",
    Kind.PRESSURE: "Pa",
    Kind.ANGLE: "degrees",
    Kind.GAUGE: "mm",
    Kind.THREAD: "mm",
}
"""The unit of `Measure.value`. A gauge is a thickness, a thread its nominal diameter."""


class Ton(StrEnum):
    """What the house calls a ton: 2240 lb, 2000 lb or 1000 kg. Without a rule, a ton by itself is refused."""

    NOT_SAID = ""
    LONG = "long"
    SHORT = "short"
    METRIC = "metric"


@dataclass(frozen=True, slots=True)
class Measure:
    """A quantity as read.

    `written` is what stood there, verbatim. `value` is exact, in the base unit of the kind (`BASE_UNITS`). `basis`
    says what it rests on where that is more than the plain unit; `doubts` are sentences for a person to look at.
    `approximate` says that `about` or its like stood before or behind it. A gauge and a thread have a `name` in one
    way of writing (`10 S.W.G.`, `1 1/4" B.S.W.`); a thread has its `pitch` in mm.
    """

    kind: Kind
    written: str
    value: Fraction
    basis: str = ""
    doubts: tuple[str, ...] = ()
    approximate: bool = False
    name: str = ""
    pitch: Fraction | None = None


class Asks(StrEnum):
    """What is asked about a quantity that is written and does not say enough; nothing where no quantity is written.

    `NUMBER`: the figures may be read in several ways, or contradict each other.
    """

    NOTHING = ""
    NUMBER = "number"
    UNIT = "unit"
    TON = "ton"
    GAUGE = "gauge"
    THREAD = "thread"


@dataclass(frozen=True, slots=True)
class NotRead:
    """What was written, why it is not read, and what to ask or write instead; `asks` tells the question to a check."""

    written: str
    why: str
    do: str
    asks: Asks = Asks.NOTHING

    def __str__(self) -> str:
        why, do = (one if one.endswith(("?", ".")) else f"{one}." for one in (self.why, self.do))
        return f"{self.written} — {why} {do}"


@dataclass(frozen=True, slots=True)
class Found:
    """A measure in running text: `text[begin:end]` is `measure.written`."""

    begin: int
    end: int
    measure: Measure


@dataclass(frozen=True, slots=True)
class Unread:
    """A place in running text that looks like a measure and is refused: `text[begin:end]` is `refusal.written`."""

    begin: int
    end: int
    refusal: NotRead


@dataclass(frozen=True, slots=True)
class Taken:
    """What a reader of one kind made of the text from a place up to `end`."""

    end: int
    read: Measure | NotRead
