"""The rough size and mass of a piece that is cast or forged, out of its finished size, by the works' allowances."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction

from specreg.core.measures.formatting import NotWritten, decimal_inches, feet_and_inches, millimetres
from specreg.core.measures.records import NotRead
from specreg.core.model import Item
from specreg.core.standards import Standards
from specreg.core.stock import geometry
from specreg.core.stock.house_rules import Allowed, cutting_rule, pattern_of_casting, rough_of_finished
from specreg.core.stock.materials import density_of, is_one_of
from specreg.core.stock.records import Dimension, Form, Rough, Stock

_METRIC = re.compile(r"[0-9 ](?:mm|cm|m|metres?|meters?)\b")


_BOUGHT = frozenset({Form.PLATE, Form.SHEET, Form.CHEQUERED_PLATE, Form.FASTENER})


def is_cast_or_forged(item: Item, stock: Stock | None, standards: Standards) -> bool:
    """Whether a piece is worked from a casting or forging of this works or to its pattern: not bought complete, nor cut
    from plate or bar. A round that no cutting rule fits is a forging."""
    if not (item.pattern or item.rough_weight or item.supplied == "make"):
        return False
    if stock is None:
        return True
    return stock.form not in _BOUGHT and cutting_rule(stock.form, item.material, standards) is None


def is_allowed_for(item: Item, stock: Stock | None, standards: Standards) -> bool:
    """Whether a piece is cast or forged of a material that the works leave something on for machining."""
    allowances = standards.reckoning.allowances
    return is_cast_or_forged(item, stock, standards) and any(
        is_one_of(item.material, rule.materials, standards) for rule in allowances
    )


def rough_of(stock: Stock, material: str, standards: Standards) -> Rough | None:
    """The rough piece of a finished one machined all over; None where the works allow nothing for its material, as
    for bars and plates, or the form is not cast or forged."""
    if stock.form not in _VOLUMES:
        return None
    allowed = [(one, rough_of_finished(one.value, _faces(one), material, standards)) for one in stock.dimensions]
    density = density_of(material, standards)
    sizes = [(one, size) for one, size in allowed if isinstance(size, Allowed) and size.size > 0]
    if len(sizes) < len(allowed) or isinstance(density, NotRead):
        return None
    rough = replace(
        stock, dimensions=tuple(Dimension(one.name, size.size, _said(size.size, one)) for one, size in sizes)
    )
    volume = _VOLUMES[stock.form](rough)
    if volume is None:
        return None
    mass = volume * density[0] / 10**9
    return Rough(
        _in_words(rough), mass, _pattern(rough, material, standards), f"machined all over, {sizes[0][1].basis}"
    )


def _faces(dimension: Dimension) -> int:
    """How many machined faces a dimension has; a bore grows when it is machined, a wall has one on either side."""
    return -2 if dimension.name == "bore" else 2


def _pattern(rough: Stock, material: str, standards: Standards) -> str:
    sizes = [(one, pattern_of_casting(one.value, material, standards)) for one in rough.dimensions]
    made = [
        Dimension(one.name, size.size, _said(size.size, one)) for one, size in sizes if not isinstance(size, NotRead)
    ]
    return _in_words(replace(rough, dimensions=tuple(made))) if len(made) == len(sizes) else ""


def _said(value: Fraction, like: Dimension) -> str:
    """A length in the units of another; to a thousandth of an inch or a tenth of a millimetre where it must be."""
    if _METRIC.search(like.written):
        return str(millimetres(value, 1))
    exact = feet_and_inches(value, inches_below=24)
    return str(decimal_inches(value, 3)) if isinstance(exact, NotWritten) else exact


def _in_words(stock: Stock) -> str:
    if stock.form is Form.BLOCK:
        return " x ".join(one.written for one in stock.dimensions)
    return " x ".join(f"{one.written} {one.name}" for one in stock.dimensions)


def _round(stock: Stock) -> Fraction | None:
    diameter, along = stock.dimension("diameter"), stock.dimension("length") or stock.dimension("thickness")
    return geometry.circle(diameter) * along if diameter and along else None


def _square(stock: Stock) -> Fraction | None:
    side, length = stock.dimension("side"), stock.dimension("length")
    return side**2 * length if side and length else None


def _hexagon(stock: Stock) -> Fraction | None:
    flats, length = stock.dimension("across flats"), stock.dimension("length")
    return geometry.hexagon(flats) * length if flats and length else None


def _box(stock: Stock) -> Fraction | None:
    one, two, three = (dimension.value for dimension in stock.dimensions)
    return one * two * three


def _hollow(stock: Stock) -> Fraction | None:
    along = stock.dimension("length") or stock.dimension("thickness")
    outside, bore, wall = (stock.dimension(name) for name in ("outside", "bore", "wall"))
    if wall is not None:
        outside = outside if outside is not None else (bore or Fraction(0)) + 2 * wall
        bore = outside - 2 * wall
    if not along or outside is None or bore is None or bore < 0:
        return None
    return geometry.annulus(outside, bore) * along


_VOLUMES: Mapping[Form, Callable[[Stock], Fraction | None]] = {
    Form.ROUND: _round, Form.DISC: _round, Form.SQUARE: _square, Form.HEXAGON: _hexagon, Form.FLAT: _box,
    Form.BLOCK: _box, Form.TUBE: _hollow, Form.RING: _hollow,
}  # fmt: skip
