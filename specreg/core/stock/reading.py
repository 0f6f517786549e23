"""A size read as the stock a piece is cut from; what is no size of stock comes back with the reason."""

from __future__ import annotations

import re
from dataclasses import replace

from specreg.core.measures.masses import LIKE_A_GAUGE
from specreg.core.measures.numbers import NUMBER
from specreg.core.measures.records import Asks, Kind, NotRead
from specreg.core.standards import Standards
from specreg.core.stock.fasteners import fastener
from specreg.core.stock.forms import made, with_table
from specreg.core.stock.materials import is_one_of
from specreg.core.stock.pieces import ROLES, Pieces, take_apart
from specreg.core.stock.records import Dimension, Form, Stock
from specreg.core.stock.sections import Section, section_named, tables_named, word_of_a_table

_DO = 'Write the form with its sizes, such as 3" dia x 8\' 4", or state the weight'
_SEVERAL = frozenset({"and", "or", "&", "to", "-"})
_NUMBERED = re.compile(r"(?i:\bno\b\.? ?[0-9]|^no\.?$)")
_GAUGE = re.compile(r"(?i:[0-9] ?(?:gauge|ga|g|w\.?g)\b)")
_BY_GAUGE = frozenset({Form.PLATE, Form.SHEET, Form.CHEQUERED_PLATE, Form.TUBE, Form.WIRE})
"""Forms of which `No. 10` is a gauge; a screw, a taper or a hook has other numbers."""

_WHITWORTH = re.compile(r"(?i:\bwhit(?:w(?:orth)?)?\b)")
_FIGURES = re.compile(r"[0-9][0-9./x-]*")
_BARE = re.compile(rf"{NUMBER}(?:x{NUMBER})*")
_OF_A_ROPE = re.compile(r"[1-9][0-9]?(?:x|/(?!(?:8|16|32|64)$))(?:[7-9]|[1-9][0-9])")
"""`6x19`, `6/37`: the strands of a rope and the wires of each."""

_BY_ROLES = (
    ({"outside", "bore"}, Form.TUBE),
    ({"square"}, Form.SQUARE),
    ({"hexagon"}, Form.HEXAGON),
    ({"dia", "round"}, Form.ROUND),
    ({"thick"}, Form.SHEET),
)


def read_stock(size: str, material: str, standards: Standards) -> Stock | NotRead:
    """What a Size field says, beside the Material field of the same item.

    Plates, flats, rounds, squares, hexagons, tubes (`4" o.d. x 3" i.d. x 5"`, `2" bore x 10 S.W.G. x 4' 0"`), angles,
    tees, channels and I-sections by size or by a table of the works, rails by weight on the yard, wire, rings, discs,
    blocks; fasteners by their thread; `about 9 cwt` as what is bought by weight. The material decides only between
    plate, sheet and chequered plate.
    """
    if not size.strip():
        return NotRead("Size", "nothing is written", _DO)
    tables = tables_named(size, standards.sections)
    if (named := section_named(size, tables)) is not None:
        return _named_section(size, named.section, take_apart(named.rest, standards.reckoning.ton))
    if word := word_of_a_table(size, tables):
        return NotRead(size, f"the tables of the works hold no such {word}", "Enter it in sections.toml, or the weight")
    pieces = take_apart(size, standards.reckoning.ton)
    if isinstance(pieces, NotRead):
        return pieces
    if pieces.unknown and is_one_of(material, (" ".join(pieces.unknown),), standards):
        pieces = replace(pieces, unknown=())
    if refusal := _no_stock(size, pieces):
        return refusal
    if pieces.threads or Form.FASTENER in pieces.forms:
        stock = fastener(size, pieces)
    elif pieces.masses:
        stock = _by_weight(size, pieces)
    else:
        form = _form_of(size, pieces, material)
        stock = form if isinstance(form, NotRead) else made(form, size, pieces, standards.sections)
    if isinstance(stock, Stock) and any(one.value == 0 for one in stock.dimensions):
        return NotRead(size, "a size of nought", "Look what was meant", Asks.NUMBER)
    return stock


def _no_stock(size: str, pieces: Pieces) -> NotRead | None:
    """Why these pieces are no stock at all."""
    if pieces.unknown:
        return _unknown(size, pieces)
    if pieces.crowded:
        return NotRead(size, f"{pieces.crowded}: two measures without a cross or a word between", "Write x between")
    if pieces.others:
        other = pieces.others[0]
        what = {Kind.AREA: "an area", Kind.PRESSURE: "a pressure", Kind.ANGLE: "an angle"}.get(other.kind, "a measure")
        return NotRead(size, f"{other.written} is {what}, and no size of stock", _DO)
    return None


def _unknown(size: str, pieces: Pieces) -> NotRead:
    """The question that the words without a meaning put."""
    words = " ".join(pieces.unknown)
    if figures := _without_unit(pieces):
        return NotRead(size, f"{figures}: of what?", "Write each size with its unit", Asks.UNIT)
    if not (pieces.dims or pieces.threads or pieces.masses or pieces.others):
        return NotRead(size, "no size of a piece stands here", _DO)
    if {word.casefold() for word in pieces.unknown} <= _SEVERAL:
        return NotRead(size, "several sizes, or the ends of a range, stand here", "Write one size to an item")
    if (named := _GAUGE.search(words)) or _NUMBERED.search(words):
        asks = Asks.GAUGE if named or pieces.forms & _BY_GAUGE else Asks.NOTHING
        return NotRead(size, "which gauge?", "Name it: S.W.G. or B.G., or write the thickness in decimals", asks)
    if _WHITWORTH.search(words):
        return NotRead(size, "B.S.W., B.S.F. and B.S.P. are all of Whitworth form", "Name the series", Asks.THREAD)
    if all(_FIGURES.fullmatch(word) for word in pieces.unknown):
        return NotRead(size, f"{words}: of what?", "Write each size with its unit")
    return NotRead(size, f"`{words}` belongs to no form of stock", _DO)


def _without_unit(pieces: Pieces) -> str:
    """The numbers of a size that have no unit; empty when other words without a meaning here stand beside them."""
    figures = [word for word in pieces.unknown if word not in ROLES]
    if not all(_BARE.fullmatch(word) for word in figures):
        return ""
    if not pieces.forms and len(figures) == 1 and _OF_A_ROPE.fullmatch(figures[0]):
        return ""
    return " ".join(figures)


def _form_of(size: str, pieces: Pieces, material: str) -> Form | NotRead:
    """The one form that the words of the size name, or that the roles of its measures are of."""
    forms = {Form(one) for one in pieces.forms}
    if Form.CHEQUERED_PLATE in forms:
        forms -= {Form.PLATE, Form.SHEET}
    if len(forms) > 1:
        named = " and ".join(sorted(forms))
        return NotRead(size, f"{named}: one form or the other?", "Write one form")
    words = material.casefold()
    roles = {role for one in pieces.dims for role in one.roles}
    if len(pieces.dims) == 1 and not forms and not pieces.rates:
        return NotRead(size, "one measure alone is no size of a piece", _DO)
    if forms:
        (form,) = forms
        if form is Form.PLATE and "chequer" in words:
            return Form.CHEQUERED_PLATE
        return form
    for wanted, form in _BY_ROLES:
        if not roles & wanted:
            continue
        if form is Form.ROUND and "thick" in roles:
            return Form.DISC
        if form is Form.SHEET and "plate" in words and "sheet" not in words:
            return Form.CHEQUERED_PLATE if "chequer" in words else Form.PLATE
        return form
    if len(pieces.dims) == 3 and all(one.measure.kind is Kind.LENGTH for one in pieces.dims):
        return Form.BLOCK
    if len(pieces.dims) > 1:
        return NotRead(size, "no form is named for these sizes", "Write plate, flat, dia, sq, angle or another form")
    if pieces.rates:
        return NotRead(size, "a weight by length, but of what form and what length?", "Write 100 lb/yd rail x 30 ft")
    return NotRead(size, "no size of a piece stands here", _DO)


def _by_weight(size: str, pieces: Pieces) -> Stock | NotRead:
    if len(pieces.masses) > 1 or pieces.dims or pieces.forms or pieces.rates:
        for one in pieces.masses:
            if LIKE_A_GAUGE.fullmatch(one.written):
                do = "Name the gauge: S.W.G. or B.G., or write the thickness in decimals"
                return NotRead(size, f"{one.written}: grams, or a gauge?", do, Asks.GAUGE)
        return NotRead(size, "a weight stands among sizes", "Write it in the Weight field")
    (mass,) = pieces.masses
    basis = (mass.basis,) if mass.basis else ()
    return Stock(Form.BY_WEIGHT, size, mass=mass.value, basis=basis, doubts=mass.doubts, approximate=mass.approximate)


def _named_section(size: str, section: Section, rest: Pieces | NotRead) -> Stock | NotRead:
    """A section by its name in a table, with the length that stands beside it."""
    if isinstance(rest, NotRead):
        return replace(rest, written=size)
    form = Form(section.table.form)
    if refusal := _no_stock(size, rest):
        return refusal
    if len(rest.dims) != 1 or rest.dims[0].roles - {"long"} or rest.threads or rest.masses or rest.rates:
        return NotRead(size, f"{section.name}, and its length?", "Write its name and one length")
    if rest.dims[0].measure.kind is not Kind.LENGTH or rest.forms - {form.value}:
        return NotRead(size, f"{section.name}: what stands beside it is no length", "Write its name and one length")
    length = rest.dims[0].measure
    stock = Stock(
        form,
        size,
        (Dimension("length", length.value, length.written),),
        area=section.area,
        length=length.value,
        volume=section.area * length.value if section.area else None,
        basis=(f"{section.name}, {section.table.basis}",),
        doubts=length.doubts,
        approximate=length.approximate,
        section=section.name,
    )
    if length.value == 0:
        return NotRead(size, "a size of nought", "Look what was meant", Asks.NUMBER)
    return with_table(stock, section.per_metre, section.density)
