"""The stock that each form makes of the pieces of a size, by plain geometry."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction

from specreg.core.measures.records import Asks, Kind, NotRead
from specreg.core.reckoning_standards import SectionTable
from specreg.core.stock import geometry
from specreg.core.stock.pieces import Dim, Pieces
from specreg.core.stock.records import Dimension, Form, Stock
from specreg.core.stock.sections import section_of_sizes

_SQUARE_CORNERS = "the area by the formula (a + b - t) t, root and corners taken square: 0.4 to 1.5 % under the tables"


class _Refusal(Exception):
    """Why the pieces make no stock of the form, and what to do; caught where a size is read."""

    def __init__(self, why: str, do: str, asks: Asks = Asks.NOTHING) -> None:
        super().__init__(why)
        self.why, self.do, self.asks = why, do, asks


def made(form: Form, written: str, pieces: Pieces, tables: tuple[SectionTable, ...]) -> Stock | NotRead:
    """The stock of a form; the refusal when dimensions are missing, too many or impossible."""
    try:
        if pieces.rates:
            return _of_a_rate(form, written, pieces)
        if form is Form.RAIL:
            do = "Write it as 100 lb/yd rail x 30 ft"
            return NotRead(written, "a rail is reckoned by its weight on the yard or metre", do)
        if form in (Form.ANGLE, Form.TEE):
            return _angle(form, written, pieces, tables)
        return _BUILDERS[form](form, written, pieces)
    except _Refusal as refusal:
        return NotRead(written, refusal.why, refusal.do, refusal.asks)


def _stock(
    form: Form, written: str, dims: Mapping[str, Dim], area: Fraction, along: Dim, basis: tuple[str, ...] = ()
) -> Stock:
    """The stock of a cross-section and what it is long or thick along; a length only for what is cut to one."""
    cut = form.is_cut_to_length
    return Stock(
        form,
        written,
        tuple(Dimension(name, dim.value, dim.measure.written) for name, dim in dims.items()),
        area=area if cut else None,
        length=along.value if cut else None,
        volume=area * along.value,
        basis=(*basis, *(dim.measure.basis for dim in dims.values() if dim.measure.basis)),
        doubts=tuple(doubt for dim in dims.values() for doubt in dim.measure.doubts),
        approximate=any(dim.measure.approximate for dim in dims.values()),
    )


def _plate(form: Form, written: str, pieces: Pieces) -> Stock:
    """Thickness by its word or gauge, else the least of the three; a plate of a diameter is a disc."""
    if len(pieces.with_role("dia")) == 1 and len(pieces.dims) == 2:
        return _disc(Form.DISC, written, pieces)
    dims = _so_many(form, pieces, 3, "a thickness, a length and a breadth")
    gauges = [one for one in dims if one.measure.kind is Kind.GAUGE or "thick" in one.roles]
    if len(gauges) > 1 or any(one.roles - {"thick", "long", "wide"} for one in dims):
        raise _unclear(form)
    thickness = gauges[0] if gauges else min(dims, key=lambda dim: dim.value)
    breadth, length = sorted((one for one in dims if one is not thickness), key=lambda dim: dim.value)
    if thickness.value >= breadth.value:
        raise _Refusal(f"a {form} as thick as it is broad", "Look which measure is the thickness")
    named = {"thickness": thickness, "length": length, "breadth": breadth}
    return _stock(form, written, named, length.value * breadth.value, thickness)


def _disc(form: Form, written: str, pieces: Pieces) -> Stock:
    diameter, thickness = _one_and_other(form, pieces, ("dia", "round"), "a diameter and a thickness")
    dims = {"diameter": diameter, "thickness": thickness}
    return _stock(form, written, dims, geometry.circle(diameter.value), thickness)


def _round(form: Form, written: str, pieces: Pieces) -> Stock:
    diameter, length = _one_and_other(form, pieces, ("dia", "round"), "a diameter and a length")
    if "thick" in length.roles:
        form = Form.DISC
    dims = {"diameter": diameter, "thickness" if form is Form.DISC else "length": length}
    return _stock(form, written, dims, geometry.circle(diameter.value), length)


def _wire(form: Form, written: str, pieces: Pieces) -> Stock:
    gauges = [one for one in pieces.dims if one.measure.kind is Kind.GAUGE]
    if not gauges:
        return _round(form, written, pieces)
    _, length = _so_many(form, pieces, 2, "a gauge or diameter and a length")
    if len(gauges) > 1 or length in gauges:
        raise _Refusal("a wire is read as its gauge, then its length", "Write one gauge and the length behind it")
    dims = {"diameter": gauges[0], "length": length}
    return _stock(form, written, dims, geometry.circle(gauges[0].value), length)


def _square(form: Form, written: str, pieces: Pieces) -> Stock:
    side, length = _one_and_other(form, pieces, ("square",), "a side and a length")
    return _stock(form, written, {"side": side, "length": length}, side.value**2, length)


def _hexagon(form: Form, written: str, pieces: Pieces) -> Stock:
    flats, length = _one_and_other(form, pieces, ("hexagon",), "a width across flats and a length")
    dims = {"across flats": flats, "length": length}
    return _stock(form, written, dims, geometry.hexagon(flats.value), length)


def _flat(form: Form, written: str, pieces: Pieces) -> Stock:
    dims = _so_many(form, pieces, 3, "a width, a thickness and a length")
    *across, length = _length_last(form, dims, {"wide", "thick"})
    thickness, width = sorted(across, key=lambda dim: dim.value)
    named = {"width": width, "thickness": thickness, "length": length}
    return _stock(form, written, named, width.value * thickness.value, length)


def _block(form: Form, written: str, pieces: Pieces) -> Stock:
    one, two, three = _so_many(form, pieces, 3, "three sizes")
    if any(dim.roles - {"wide", "thick", "long", "deep"} for dim in pieces.dims):
        raise _unclear(form)
    dims = {"first": one, "second": two, "third": three}
    return _stock(form, written, dims, one.value * two.value, three)


def _tube(form: Form, written: str, pieces: Pieces) -> Stock:
    """By outside and bore, by outside and wall or by bore and wall; the wall is a gauge, or what stands next to it."""
    last = "thickness" if form is Form.RING else "length"
    outside, bore = _at_most_one(form, pieces, "outside"), _at_most_one(form, pieces, "bore")
    across = [one for one in (outside, bore) if one is not None]
    if not across:
        raise _Refusal(f"a {form} without its outside diameter or bore", "Name them: o.d., i.d. or bore, and the wall")
    rest = [one for one in pieces.dims if one not in across]
    walls = 2 - len(across)
    if not rest or (walls and len(rest) == 1 and not _is_wall(rest[0])):
        missing = f"no {last} is given" if not walls else "neither wall nor the other diameter is given"
        raise _Refusal(f"of a {form} {missing}", "Write the outside diameter or bore, the wall and the length")
    if len(rest) != walls + 1 or len(pieces.dims) != 3 or any(one.roles - {"thick", "long"} for one in rest):
        raise _unclear(form)
    if walls and _is_wall(rest[1]) and not _is_wall(rest[0]):
        rest.reverse()
    along = rest[-1]
    if along.measure.kind is Kind.GAUGE or (walls and "long" in rest[0].roles):
        raise _unclear(form)
    wall = rest[0].value if walls else None
    over = outside.value if outside else across[0].value + 2 * (wall or 0)
    inside = bore.value if bore else over - 2 * (wall or 0)
    if walls and not _is_wall(rest[0]) and rest[0].value > inside:
        raise _unclear(form)
    if inside <= 0 or inside >= over:
        do = "Look at the outside diameter, the bore and the wall"
        raise _Refusal(f"the wall of this {form} cannot be", do, Asks.NUMBER)
    dims = {"outside": outside, "bore": bore, "wall": rest[0] if walls else None, last: along}
    named = {name: dim for name, dim in dims.items() if dim is not None}
    return _stock(form, written, named, geometry.annulus(over, inside), along)


def _is_wall(dim: Dim) -> bool:
    return "thick" in dim.roles or dim.measure.kind is Kind.GAUGE


def _angle(form: Form, written: str, pieces: Pieces, tables: tuple[SectionTable, ...]) -> Stock:
    dims = _so_many(form, pieces, 4, "two legs, a thickness and a length")
    one, other, thickness, length = _length_last(form, dims, {"thick"})
    if thickness.value >= min(one.value, other.value):
        raise _Refusal(f"the third size of this {form} is no thickness", "Write the legs, the thickness, the length")
    names = ("first leg", "second leg") if form is Form.ANGLE else ("flange", "stem")
    section = section_of_sizes(form, (one.value, other.value, thickness.value), tables)
    area = geometry.angle(one.value, other.value, thickness.value)
    stock = _stock(
        form,
        written,
        {names[0]: one, names[1]: other, "thickness": thickness, "length": length},
        section.area if section and section.area else area,
        length,
        (f"{section.name}, {section.table.basis}",) if section else (_SQUARE_CORNERS,),
    )
    if section is None:
        return stock
    return with_table(stock, section.per_metre, section.density)


def with_table(stock: Stock, per_metre: Fraction, density: Fraction) -> Stock:
    """The stock with the mass per metre of a table, kg/m, and the density in kg/m3 that it rests on."""
    return replace(stock, per_metre=per_metre, density_of_table=density)


def _channel(form: Form, written: str, pieces: Pieces) -> Stock:
    dims = _so_many(form, pieces, 5, "depth, breadth, web, flange and length, or its name in a table of the works")
    web, flange = _at_most_one(form, pieces, "web"), _at_most_one(form, pieces, "flange")
    if web is None or flange is None:
        raise _Refusal(f"which thickness of this {form} is the web and which the flange?", "Write web and flange")
    depth, breadth, length = (one for one in dims if one not in (web, flange))
    if web.value >= breadth.value or 2 * flange.value >= depth.value:
        raise _Refusal(f"web or flange of this {form} cannot be", "Write depth, breadth, web, flange, length in order")
    named = {"depth": depth, "breadth": breadth, "web": web, "flange": flange, "length": length}
    area = geometry.channel(depth.value, breadth.value, web.value, flange.value)
    basis = "flanges taken of even thickness, roots and corners square"
    return _stock(form, written, named, area, length, (basis,))


_BUILDERS: Mapping[Form, Callable[[Form, str, Pieces], Stock]] = {
    Form.PLATE: _plate, Form.SHEET: _plate, Form.CHEQUERED_PLATE: _plate, Form.FLAT: _flat, Form.ROUND: _round,
    Form.SQUARE: _square, Form.HEXAGON: _hexagon, Form.TUBE: _tube, Form.RING: _tube, Form.DISC: _disc,
    Form.BLOCK: _block, Form.WIRE: _wire, Form.CHANNEL: _channel, Form.I_SECTION: _channel,
}  # fmt: skip


def _of_a_rate(form: Form, written: str, pieces: Pieces) -> Stock:
    """What is named by its mass per metre: the length is the last size, and sizes of the section may stand before."""
    sizes = {Form.RAIL: 0, Form.CHANNEL: 2, Form.I_SECTION: 2, Form.ANGLE: 3, Form.TEE: 3}.get(form)
    if sizes is None or len(pieces.rates) > 1:
        raise _Refusal(f"a weight by length belongs to a rail or a section, not to this {form}", "Write the sizes")
    dims = pieces.dims
    if len(dims) in {0, sizes}:
        raise _Refusal(f"of this {form} no length is given", f"Write {pieces.rates[0].written}, then x and the length")
    if len(dims) not in {1, sizes + 1} or any(one.roles - {"long"} for one in dims[-1:]):
        raise _unclear(form)
    *_, length = dims
    rate = pieces.rates[0]
    return Stock(
        form,
        written,
        (Dimension("length", length.value, length.measure.written),),
        length=length.value,
        per_metre=rate.value,
        basis=(f"{rate.written}, as written",),
        doubts=tuple(doubt for dim in dims for doubt in dim.measure.doubts),
        approximate=any(dim.measure.approximate for dim in dims),
        section=rate.written,
    )


def _so_many(form: Form, pieces: Pieces, number: int, wanted: str) -> tuple[Dim, ...]:
    if len(pieces.dims) != number:
        said = "one size" if len(pieces.dims) == 1 else f"{len(pieces.dims)} sizes"
        raise _Refusal(f"{said} of {_article(form)}; {wanted} are needed", "Write them all, with their units")
    return pieces.dims


def _one_and_other(form: Form, pieces: Pieces, roles: tuple[str, ...], wanted: str) -> tuple[Dim, Dim]:
    """The dimension with one of these roles and the other one."""
    dims = _so_many(form, pieces, 2, wanted)
    named = [one for one in dims if one.roles & set(roles)]
    if len(named) != 1:
        raise _unclear(form)
    other = dims[1] if dims[0] is named[0] else dims[0]
    if other.roles - {"long", "thick"} or other.measure.kind is Kind.GAUGE or named[0].roles - set(roles) - {"dia"}:
        raise _unclear(form)
    return named[0], other


def _length_last(form: Form, dims: tuple[Dim, ...], allowed: set[str]) -> tuple[Dim, ...]:
    """The dimensions with the length last: the one called long, else the last; the others may have allowed roles."""
    long = [one for one in dims if "long" in one.roles]
    length = long[0] if len(long) == 1 else dims[-1]
    rest = tuple(one for one in dims if one is not length)
    if len(long) > 1 or length.roles - {"long"} or length.measure.kind is Kind.GAUGE:
        raise _unclear(form)
    if any(one.roles - allowed for one in rest):
        raise _unclear(form)
    return (*rest, length)


def _at_most_one(form: Form, pieces: Pieces, role: str) -> Dim | None:
    named = pieces.with_role(role)
    if len(named) > 1 or (named and named[0].roles - {role, "dia"}):
        raise _unclear(form)
    return named[0] if named else None


def _unclear(form: Form) -> _Refusal:
    return _Refusal(f"it is not clear which size of this {form} is which", "Write each size with its word")


def _article(form: Form) -> str:
    return f"{'an' if form[0] in 'aeiouI' else 'a'} {form}"
