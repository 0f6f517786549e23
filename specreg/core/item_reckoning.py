"""What one item weighs, measures and is allowed, as its sheet and `show` tell it: the record, and it in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from specreg.core.counts import so_many
from specreg.core.measures.figures import decimal
from specreg.core.measures.records import NotRead
from specreg.core.model import Item, NumberOff
from specreg.core.picture import Picture
from specreg.core.standards import Standards
from specreg.core.stock.house_rules import yield_of
from specreg.core.stock.materials import is_one_of
from specreg.core.stock.records import MassOfOne, Source, Stock
from specreg.core.stock.rough import is_cast_or_forged
from specreg.core.take_off import TakenOff, taken_off
from specreg.core.take_off_words import BRIEF_CAUTION, length_words, mass_of_one_words
from specreg.core.weighing import Standing

_BY = {Source.STATED: "as stated", Source.BY_SIZE: "by its size", Source.ROUGH: "as its rough weight states"}


@dataclass(frozen=True, slots=True)
class Allowances:
    """What the works leaves on a casting or forging for each machined face, and by how much its pattern is larger in
    each foot: each as `1/8 in`, with what the figure rests on; empty where the works standards say nothing."""

    machining: str = ""
    machining_basis: str = ""
    contraction: str = ""
    contraction_basis: str = ""


@dataclass(frozen=True, slots=True)
class ItemReckoned:
    """One item as the take-off has it; `units` is how the order writes quantities back.

    `allowances` are None for what is neither cast nor forged.
    """

    taken: TakenOff
    units: str
    allowances: Allowances | None = None

    @property
    def length_of_all(self) -> Fraction | None:
        """The length in mm of all its pieces; None for what is not cut to length or has no count."""
        length, off = self.taken.length, self.taken.total.off
        return length * off if length is not None and off is not None else None

    @property
    def kept(self) -> Fraction | NotRead | None:
        """How much of the rough weight the finished piece keeps, or what is wrong with the two; None where not both
        are stated."""
        one = self.taken.one
        if not isinstance(one, MassOfOne) or one.finished is None or one.rough is None:
            return None
        return yield_of(one.finished.value, one.rough.value)


def item_reckoned(picture: Picture, item: Item, total: NumberOff) -> ItemReckoned | None:
    """What is reckoned of an item of which so many are wanted; None for what is no live item."""
    taken = taken_off(picture, item.number, total)
    if taken is None:
        return None
    stock = _stock_of(taken)
    return ItemReckoned(taken, picture.order.units, _allowances(item, stock, picture.standards))


def _stock_of(taken: TakenOff) -> Stock | None:
    one = taken.one
    return one.by_size.stock if isinstance(one, MassOfOne) and one.by_size is not None else None


def _allowances(item: Item, stock: Stock | None, standards: Standards) -> Allowances | None:
    if not is_cast_or_forged(item, stock, standards):
        return None
    rules = standards.reckoning
    machining = [one for one in rules.allowances if is_one_of(item.material, one.materials, standards)]
    contraction = [one for one in rules.contractions if is_one_of(item.material, one.materials, standards)]
    if not machining and not contraction:
        return None
    return Allowances(
        *((machining[0].per_face, machining[0].basis) if machining else ("", "")),
        *((contraction[0].per_foot, contraction[0].basis) if contraction else ("", "")),
    )


# In words -----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Saying:
    """One sentence; `sign` is `~` for a doubt and `^` for what is wanting, `aside` what only explains."""

    text: str
    sign: str = ""
    aside: bool = False

    def __str__(self) -> str:
        return f"{self.sign} {self.text}" if self.sign else self.text


@dataclass(frozen=True, slots=True)
class Told:
    """What is told under one label; the caution has none."""

    label: str
    sayings: tuple[Saying, ...]


def told(reckoned: ItemReckoned) -> tuple[Told, ...]:
    """What an item weighs, is cut to and is allowed, most wanted first, the caution under it."""
    makers: tuple[tuple[str, Callable[[ItemReckoned], Iterator[Saying]]], ...] = (
        ("Weighs", _weighs),
        ("By its parts", _by_its_parts),
        ("Cut length", _cut_length),
        ("To order", _to_order),
        ("Allowed", _allowed),
    )
    found = [Told(label, sayings) for label, make in makers if (sayings := tuple(make(reckoned)))]
    is_figure = isinstance(reckoned.taken.one, MassOfOne) or bool(reckoned.taken.parts)
    return (*found, Told("", (Saying(BRIEF_CAUTION, aside=True),))) if is_figure else tuple(found)


def told_of_basis(reckoned: ItemReckoned) -> Told | None:
    """What all that rests on; None where there is nothing to say."""
    sayings = tuple(_rests_on(reckoned))
    return Told("Weighed by", sayings) if sayings else None


def _weighs(reckoned: ItemReckoned) -> Iterator[Saying]:
    taken, units = reckoned.taken, reckoned.units
    one, standing = taken.one, taken.standing
    uncounted = f"no count: {taken.total.written}" if taken.total.off is None else ""
    if not isinstance(one, MassOfOne):
        if standing is Standing.WITH_ASSEMBLY:
            yield Saying("with its assembly, whose own weight counts")
        elif standing is Standing.NO_COUNT:
            yield Saying(uncounted)
        elif standing is Standing.NO_WEIGHT:
            yield Saying(f"no weight: {taken.basis}", "^")
        return
    said = _each_and_all(one.mass, taken.total.off, units, "about " if one.approximate else "")
    said = f"{said}, {_BY[one.source]}"
    yield Saying(f"{said}; {uncounted}" if uncounted else said)
    if one.source is Source.STATED and one.by_size is not None and one.disagreement is None:
        yield Saying(f"its size gives {mass_of_one_words(one.by_size.mass, units)}", aside=True)
    if standing is Standing.WITH_ASSEMBLY:
        yield Saying("not added to the sums: the own weight of its assembly counts", aside=True)
    yield from (Saying(doubt, "~") for doubt in one.doubts)


def _by_its_parts(reckoned: ItemReckoned) -> Iterator[Saying]:
    taken, units = reckoned.taken, reckoned.units
    if taken.parts is None:
        return
    own = taken.one if isinstance(taken.one, MassOfOne) else None
    if not taken.parts:
        rest = "so its own weight counts" if taken.counts_by_itself else ""
        yield Saying(", ".join(text for text in ("none of its parts has a weight", rest) if text), "" if own else "^")
        return
    yield Saying(_each_and_all(taken.parts, taken.total.off, units))
    if own is not None:
        apart = own.mass - taken.parts
        more = f"{mass_of_one_words(abs(apart), units)} {'more' if apart > 0 else 'less'}" if apart else "as much"
        counts = "it counts, since some of its parts have none" if taken.counts_by_itself else "the parts count"
        yield Saying(f"its own weight says {more}; {counts}", aside=True)
    if taken.parts_without:
        has = "has" if taken.parts_without == 1 else "have"
        missing = f"{so_many(taken.parts_without, 'item')} in it {has} no weight or no count"
        yield Saying(f"{missing}: so much is missing", "^")


def _cut_length(reckoned: ItemReckoned) -> Iterator[Saying]:
    length, every, units = reckoned.taken.length, reckoned.length_of_all, reckoned.units
    # What is forged is not cut to its length.
    if length is None or reckoned.allowances is not None:
        return
    one = length_words(length, units)
    single = every is None or reckoned.taken.total.off == 1
    yield Saying(one if single or every is None else f"each {one}, all {length_words(every, units)}")


def _to_order(reckoned: ItemReckoned) -> Iterator[Saying]:
    taken, units, kept = reckoned.taken, reckoned.units, reckoned.kept
    one = taken.one
    if not isinstance(one, MassOfOne):
        return
    said = _each_and_all(one.to_order, taken.total.off, units)
    if isinstance(kept, Fraction):
        yield Saying(f"{said}; finished it keeps {decimal(kept * 100, 0)} %")
    elif one.rough is not None:
        yield Saying(said)
    elif one.allowed is not None and one.to_order == one.allowed.mass:
        yield Saying(f"{said}, rough by the works' allowances")
    elif one.to_order > one.mass:
        yield Saying(f"{said}, by its size")
    if isinstance(kept, NotRead):
        yield Saying(str(kept), "~")
    if reckoned.allowances is not None and one.finished is not None and one.rough is None and one.allowed is None:
        instead = "finished one" if one.by_size is None else "one by size"
        yield Saying(f"no rough weight is known: the {instead} is taken", "^")


def _allowed(reckoned: ItemReckoned) -> Iterator[Saying]:
    allowed = reckoned.allowances
    if allowed is None:
        return
    said = []
    if allowed.machining:
        said.append(f"rough: {allowed.machining} on each machined face")
    if allowed.contraction:
        said.append(f"pattern: {allowed.contraction} in each foot")
    yield Saying("; ".join(said))
    one = reckoned.taken.one
    if isinstance(one, MassOfOne) and (rough := one.allowed) is not None:
        pattern = f"; pattern {rough.pattern}" if rough.pattern else ""
        weight = mass_of_one_words(rough.mass, reckoned.units)
        yield Saying(f"machined all over: rough {rough.size}, {weight}{pattern}", aside=True)


def _rests_on(reckoned: ItemReckoned) -> Iterator[Saying]:
    one, allowed = reckoned.taken.one, reckoned.allowances
    if isinstance(one, MassOfOne):
        yield Saying(one.basis, aside=True)
    if allowed is None:
        return
    for what, basis in (("rough", allowed.machining_basis), ("pattern", allowed.contraction_basis)):
        if basis:
            yield Saying(f"{what}: {basis}", aside=True)


def _each_and_all(one: Fraction, off: int | None, units: str, about: str = "") -> str:
    """`each 2.04 lb, all 159 lb`; of what is wanted once or has no count the weight alone."""
    each = f"{about}{mass_of_one_words(one, units)}"
    return each if off is None or off == 1 else f"each {each}, all {about}{mass_of_one_words(one * off, units)}"
