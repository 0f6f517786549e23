"""A size taken apart: its measures with the words that say what each is, the words of form, and what is unknown."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from specreg.core.measures.finding import find_places
from specreg.core.measures.numbers import NUMBER, Number, number_of
from specreg.core.measures.records import Asks, Found, Kind, Measure, NotRead, Unread
from specreg.core.measures.signs import plain
from specreg.core.measures.units import FOOT, INCH, POUND

_ROLES = {
    "dia": "dia", "diam": "dia", "diameter": "dia", "sq": "square", "square": "square", "round": "round",
    "hex": "hexagon", "hexagon": "hexagon", "hexagonal": "hexagon", "a/f": "hexagon", "af": "hexagon",
    "bore": "bore", "id": "bore", "od": "outside", "thick": "thick", "thk": "thick", "wall": "thick",
    "long": "long", "lg": "long", "run": "long", "wide": "wide", "deep": "deep", "high": "deep", "web": "web",
    "flange": "flange",
}  # fmt: skip
"""Words that say what the measure beside them is."""

ROLES = frozenset(_ROLES.values())
"""What `Dim.roles` may hold."""

_FORMS = {
    "plate": "plate", "plates": "plate", "sheet": "sheet", "sheets": "sheet", "chequered": "chequered plate",
    "chequer": "chequered plate", "flat": "flat", "flats": "flat", "strip": "flat", "tube": "tube", "tubes": "tube",
    "tubing": "tube", "pipe": "tube", "angle": "angle", "angles": "angle", "tee": "tee", "tees": "tee",
    "channel": "channel", "channels": "channel", "joist": "I-section", "beam": "I-section", "i-section": "I-section",
    "rsj": "I-section", "rail": "rail", "rails": "rail", "wire": "wire", "ring": "ring", "disc": "disc",
    "disk": "disc", "block": "block", "board": "block", "deal": "block", "deals": "block", "plank": "block",
    "bolt": "fastener", "bolts": "fastener", "stud": "fastener", "studs": "fastener", "nut": "fastener",
    "nuts": "fastener", "screw": "fastener", "screws": "fastener", "rivet": "round", "rivets": "round",
}  # fmt: skip
_IDLE = frozenset({"bar", "bars", "rod", "rods", "section", "rolled", "flat-bottomed", "bullhead"})
"""Words that say nothing about form or size that the others do not."""

_PHRASES = (
    (re.compile(r"across (?:the )?flats", re.IGNORECASE), " af "),
    (re.compile(r"(?:outside|external) (?:diameter|diam|dia)\b\.?", re.IGNORECASE), " od "),
    (re.compile(r"(?:inside|internal) (?:diameter|diam|dia)\b\.?", re.IGNORECASE), " id "),
    (re.compile("[øØ⌀∅]"), " dia "),
)
_WORD = re.compile(r"[,;:()@*]|[^\s,;:()@*]+")
_CROSSES = frozenset("x,;:*") | {"by"}
_IGNORED = frozenset("()@")
_RATE = re.compile(
    rf"(?<![\w./])(?P<number>{NUMBER}) ?(?P<mass>lbs?\.?|kg)(?: ?/ ?| per | an? )"
    r"(?P<length>foot|ft|yard|yd|metre|meter|m)(?!\w)\.?",
    re.IGNORECASE,
)
_BARE = re.compile(NUMBER)
_MASSES = {"l": POUND, "k": Fraction(1)}
_LENGTHS = {"f": FOOT, "y": 3 * FOOT, "m": Fraction(1000)}


@dataclass(frozen=True, slots=True)
class Dim:
    """A length or gauge of a size with the roles that the words beside it give."""

    measure: Measure
    roles: frozenset[str] = frozenset()

    @property
    def value(self) -> Fraction:
        """mm"""
        return self.measure.value


@dataclass(frozen=True, slots=True)
class Rate:
    """A mass per metre as written, in kg/m."""

    written: str
    value: Fraction


@dataclass(frozen=True, slots=True)
class Pieces:
    """A size taken apart: `crowded` holds two measures that nothing parts, `unknown` words without a meaning here."""

    dims: tuple[Dim, ...] = ()
    forms: frozenset[str] = frozenset()
    threads: tuple[Measure, ...] = ()
    masses: tuple[Measure, ...] = ()
    others: tuple[Measure, ...] = ()
    rates: tuple[Rate, ...] = ()
    unknown: tuple[str, ...] = ()
    crowded: str = ""

    def with_role(self, role: str) -> list[Dim]:
        """The dimensions that a word gives this role."""
        return [one for one in self.dims if role in one.roles]


class _Making:
    """The pieces while the size is gone through from left to right.

    `beside`: the last dimension may still get a role, since no cross stands behind it; `waiting` are roles for the
    next one.
    """

    def __init__(self) -> None:
        self.dims: list[Dim] = []
        self.waiting: set[str] = set()
        self.forms: set[str] = set()
        self.unknown: list[str] = []
        self.beside = False

    def word(self, word: str) -> None:
        bare = word.casefold().replace(".", "")
        if word.casefold() in _CROSSES:
            self.beside = False
        elif bare in _ROLES:
            self._role(_ROLES[bare])
        elif bare in _FORMS:
            self.forms.add(_FORMS[bare])
        elif bare not in _IDLE and word not in _IGNORED:
            self.unknown.append(word)

    def _role(self, role: str) -> None:
        if self.beside:
            last = self.dims[-1]
            self.dims[-1] = replace(last, roles=last.roles | {role})
        else:
            self.waiting.add(role)

    def dim(self, measure: Measure) -> None:
        self.dims.append(Dim(measure, frozenset(self.waiting)))
        self.waiting.clear()
        self.beside = True


def take_apart(text: str, ton: str) -> Pieces | NotRead:
    """The pieces of a size; refused when a measure in it is, such as a ton without a rule. `ton` as in `find_measures`.

    A word of a role (`dia`, `bore`, `thick`) belongs to the measure before it, unless a cross or the beginning stands
    between: then to the next.
    """
    places = find_places(text, ton=ton)
    for one in places:
        if isinstance(one, Unread):
            return replace(one.refusal, written=text)
    signs = plain(text)
    rates = [(found.start(), found.end(), _rate(found)) for found in _RATE.finditer(signs)]
    spans: list[tuple[int, int, Measure | Rate | None]] = [(begin, end, rate) for begin, end, rate in rates]
    for one in places:
        if isinstance(one, Found) and not any(begin < one.end and one.begin < end for begin, end, _ in rates):
            spans.append((one.begin, one.end, one.measure))
    spans.sort(key=lambda span: span[0])
    making = _Making()
    others: list[Measure | Rate] = []
    place, crowded = 0, ""
    for number, (begin, end, what) in enumerate(spans):
        words = _words(signs[place:begin])
        if number and not words and not _is_thread(what):
            crowded = text[spans[number - 1][0] : end]
        for word in words:
            making.word(word)
        if isinstance(what, Measure) and what.kind in (Kind.LENGTH, Kind.GAUGE):
            if _borrows_a_great_unit(what):
                return NotRead(text, f"{what.written}: of what?", "Write each size with its unit", Asks.UNIT)
            making.dim(what)
        elif what is None:
            making.unknown.append(signs[begin:end])
        else:
            others.append(what)
            making.beside = False
        place = end
    for word in _words(signs[place:]):
        making.word(word)
    return Pieces(
        dims=tuple(making.dims),
        forms=frozenset(making.forms),
        threads=tuple(one for one in others if isinstance(one, Measure) and one.kind is Kind.THREAD),
        masses=tuple(one for one in others if isinstance(one, Measure) and one.kind is Kind.MASS),
        others=tuple(one for one in others if isinstance(one, Measure) and one.kind not in (Kind.MASS, Kind.THREAD)),
        rates=tuple(one for one in others if isinstance(one, Rate)),
        unknown=(*making.unknown, *sorted(making.waiting)),
        crowded=crowded,
    )


def _borrows_a_great_unit(measure: Measure) -> bool:
    """Whether a bare number got the feet or metres of a measure behind it: the 10 of `10 x 6' x 3'` may be a gauge."""
    number = number_of(measure.written, metric=True) if _BARE.fullmatch(measure.written) else None
    return isinstance(number, Number) and number.value * INCH < measure.value and measure.kind is Kind.LENGTH


def _is_thread(what: Measure | Rate | None) -> bool:
    return isinstance(what, Measure) and what.kind is Kind.THREAD


def _rate(found: re.Match[str]) -> Rate | None:
    mass = _MASSES[found["mass"][0].lower()]
    number = number_of(found["number"], metric=mass == 1)
    if isinstance(number, NotRead):
        return None
    length = _LENGTHS[found["length"][0].lower()]
    return Rate(found.group(), number.value * mass * 1000 / length)


def _words(gap: str) -> list[str]:
    for pattern, word in _PHRASES:
        gap = pattern.sub(word, gap)
    return _WORD.findall(gap)
