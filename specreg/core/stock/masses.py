"""The mass of one piece: as its Weight field states it, and as its size and material give it, held side by side."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from specreg.core.measures.figures import decimal
from specreg.core.measures.records import Measure, NotRead
from specreg.core.measures.units import POUND
from specreg.core.measures.written import read_mass
from specreg.core.model import Item, Kind
from specreg.core.numbering import number_key
from specreg.core.standards import Standards
from specreg.core.stock.materials import density_of
from specreg.core.stock.reading import read_stock
from specreg.core.stock.records import Disagreement, Form, MassBySize, MassOfOne, NotReckoned, Rough, Source, Stock
from specreg.core.stock.rough import is_allowed_for, rough_of

_SAME_STEEL = Fraction(2, 1000)
"""Within so much two densities are of one steel: 490 and 489.6 lb/ft3, 7850 kg/m3."""

_SLIPS = (
    (Fraction(10), "10: is the point in its place?"),
    (Fraction(1000), "1000: tonnes for kilograms, or kilograms for grams?"),
    (1 / POUND, "2.2046: pounds for kilograms?"),
    (Fraction(112), "112: hundredweights for pounds?"),
    (Fraction(2240), "2240: tons for pounds?"),
)
_NOTHING_SAID = ("", "-", "–", "—")
_NEAR = Fraction(3, 100)
"""A ratio this near to that of two units is taken for the slip from one to the other."""


def mass_by_size(stock: Stock, material: str, standards: Standards) -> MassBySize | NotRead:
    """The mass in kg of a piece of this stock; its basis names the density or the table that it rests on."""
    if stock.mass is not None:
        return _by_size(stock, stock.mass, ("the weight that the size names",))
    if stock.per_metre is not None and stock.density_of_table is None and stock.length is not None:
        return _by_size(stock, stock.per_metre * stock.length / 1000, ())
    if stock.volume is None and stock.per_metre is None:
        return NotRead(stock.written, _why_no_volume(stock), "State the weight, or weigh one")
    found = density_of(material, standards)
    if isinstance(found, NotRead):
        return found
    density, basis = found
    of_table = stock.density_of_table
    if of_table is not None and stock.per_metre is not None and stock.length is not None:
        if abs(density - of_table) <= of_table * _SAME_STEEL:
            shown = f"{decimal(stock.per_metre, 3)} kg/m"
            return _by_size(stock, stock.per_metre * stock.length / 1000, (shown,))
        if stock.volume is None:
            why = f"the table rests on {decimal(of_table)} kg/m3 and gives no area"
            return NotRead(stock.written, why, "State the weight")
    if stock.volume is None:
        return NotRead(stock.written, _why_no_volume(stock), "State the weight, or weigh one")
    return _by_size(stock, stock.volume * density / 10**9, (basis,))


MOST_KEPT = 50_000
"""So many sizes and weights are kept read; beyond them all is read anew."""


def masses_of(items: Iterable[Item], standards: Standards) -> Mapping[str, MassOfOne | NotReckoned]:
    """The mass of one piece of each item, by `number_key`; what is written alike is read once.

    Of a number used twice the first item counts.
    """
    read: dict[tuple[str, ...], MassOfOne | NotReckoned] = standards.masses_read
    if len(read) > MOST_KEPT:
        read.clear()
    found: dict[str, MassOfOne | NotReckoned] = {}
    for item in items:
        written = (
            item.kind, item.size, item.material, item.weight, item.rough_weight, item.supplied, item.pattern,
        )  # fmt: skip
        one = read.get(written)
        if one is None:
            one = read[written] = mass_of_one(item, standards)
        found.setdefault(number_key(item.number), one)
    return found


def mass_of_one(item: Item, standards: Standards) -> MassOfOne | NotReckoned:
    """The mass of one piece of an item.

    The Weight field, where it says something, is what counts for what is lifted; then what the size and the material
    give; then the Rough weight field. A field that says something and cannot be read bars the reckoning: nothing else
    is put in its place. By size and by the Weight field are compared as `reckoning.doubt_above` says.
    """
    if item.kind is not Kind.ITEM:
        return NotReckoned((NotRead(item.kind, f"a {item.kind} has no mass", "Ask for its items"),))
    finished = _stated(item.weight, standards)
    rough = _stated(item.rough_weight, standards)
    refused = tuple(one for one in (finished, rough) if isinstance(one, NotRead))
    stock = read_stock(item.size, item.material, standards)
    size = stock if item.size.strip() else None
    if refused or isinstance(finished, NotRead) or isinstance(rough, NotRead):
        return NotReckoned(refused, size=size)
    by_size = stock if isinstance(stock, NotRead) else mass_by_size(stock, item.material, standards)
    of_size = None if isinstance(by_size, NotRead) else by_size
    reckoned = _chosen(finished, rough, of_size)
    if reckoned is None:
        refusals = (by_size,) if isinstance(by_size, NotRead) else ()
        return NotReckoned(refusals, nothing_said=size is None, size=size)
    stated = finished or rough
    apart = _disagreement(finished, rough, of_size, standards)
    allowed, is_worked = None, False
    if rough is None and reckoned.source is not Source.ROUGH:
        is_worked = is_allowed_for(item, of_size.stock if of_size is not None else None, standards)
        allowed = rough_of(of_size.stock, item.material, standards) if is_worked and of_size is not None else None
    return replace(
        reckoned,
        size=size,
        size_not_read=str(by_size) if isinstance(by_size, NotRead) and size is not None else "",
        difference=stated.value - of_size.mass if stated is not None and of_size is not None else None,
        doubts=(*reckoned.doubts, *_doubts(rough, apart)),
        disagreement=apart,
        allowed=allowed,
        to_order=_to_order(reckoned, allowed),
        lacks_rough=is_worked and allowed is None,
    )


def _to_order(reckoned: MassOfOne, allowed: Rough | None) -> Fraction:
    if reckoned.rough is not None:
        return reckoned.rough.value
    by_size = reckoned.by_size.mass if reckoned.by_size is not None else Fraction(0)
    return max(reckoned.mass, by_size, allowed.mass if allowed is not None else Fraction(0))


def _by_size(stock: Stock, mass: Fraction, basis: Iterable[str]) -> MassBySize:
    said = "; ".join((*basis, *stock.basis))
    return MassBySize(mass, stock, said, stock.doubts, stock.approximate)


def _why_no_volume(stock: Stock) -> str:
    if stock.form is Form.FASTENER:
        return "bought by number: its thread alone gives no mass"
    return f"a {stock.form} without a volume"


def _stated(field: str, standards: Standards) -> Measure | NotRead | None:
    if field.strip() in _NOTHING_SAID:
        return None
    return read_mass(field, ton=standards.reckoning.ton)


def _chosen(finished: Measure | None, rough: Measure | None, by_size: MassBySize | None) -> MassOfOne | None:
    if finished is not None:
        basis = _and(f"Weight as stated, {finished.written}", finished.basis)
        source, mass, approximate, doubts = Source.STATED, finished.value, finished.approximate, finished.doubts
    elif by_size is not None:
        basis, source, mass = by_size.basis, Source.BY_SIZE, by_size.mass
        approximate, doubts = by_size.approximate, by_size.doubts
    elif rough is not None:
        basis = _and(f"Rough weight as stated, {rough.written}; no finished weight is known", rough.basis)
        source, mass, approximate, doubts = Source.ROUGH, rough.value, rough.approximate, ()
    else:
        return None
    return MassOfOne(mass, source, basis, finished, rough, by_size, approximate=approximate, doubts=doubts)


def _and(said: str, more: str) -> str:
    return f"{said}; {more}" if more else said


def _doubts(rough: Measure | None, apart: Disagreement | None) -> Iterable[str]:
    """What a person should look at beyond the weight that counts."""
    if rough is not None:
        yield from (f"Rough weight: {doubt}" for doubt in rough.doubts)
    if apart is not None:
        yield apart.text


def _disagreement(
    finished: Measure | None, rough: Measure | None, by_size: MassBySize | None, standards: Standards
) -> Disagreement | None:
    """The stated weight far from the one by size; a rough weight only where no finished one is stated."""
    stated = finished or rough
    if stated is None or by_size is None or not standards.reckoning.doubt_above:
        return None
    limit = Fraction(standards.reckoning.doubt_above) / 100
    field = "weight" if finished is not None else "rough weight"
    apart = abs(stated.value - by_size.mass)
    if apart <= by_size.mass * limit:
        return None
    shown = f"the {decimal(by_size.mass, 1)} kg by size"
    if stated.value == 0:
        return Disagreement(f"the stated {field} is nought against {shown}", None, False)
    over = stated.value > by_size.mass
    ratio = stated.value / by_size.mass if over else by_size.mass / stated.value
    slip = next((f", a ratio near {words}" for slip, words in _SLIPS if abs(ratio - slip) <= slip * _NEAR), "")
    if ratio >= 2:
        said = f"{decimal(ratio, 1)} times" if over else f"one part in {decimal(ratio, 1)} of"
    else:
        said = f"{decimal(apart * 100 / by_size.mass, 0)} % {'over' if over else 'under'}"
    return Disagreement(f"the stated {field} is {said} {shown}{slip}", ratio, bool(slip))
