"""The pages of the take-off: the sums of an order at one state, and the items of one of them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from specreg.core.counts import grouped
from specreg.core.errors import NotFound
from specreg.core.picture import Picture
from specreg.core.shares import shares
from specreg.core.stock.records import MassOfOne
from specreg.core.take_off import NO_MATERIAL, Sum, TakenOff
from specreg.core.weighing import Scales, Standing, is_work_on_pieces
from specreg.services.comparing import OPEN
from specreg.services.take_off_readings import SumKind, SumPage, TakenLine, TakeOffPage
from specreg.services.taking_off import Taken


def no_take_off() -> TakeOffPage:
    """The page where no order is on the desk."""
    nothing = Sum("", 0, 0, Fraction(0), Fraction(0), 0)
    return TakeOffPage("", "", (), (), (), (), nothing, (), ())


def take_off_page(taken: Taken) -> TakeOffPage:
    """The sums of a take-off, what has no weight or no count in it, and what is doubted."""
    found, picture = taken.take_off, taken.picture
    lines = [_line(picture, one) for one in found.lines]
    return TakeOffPage(
        revision="" if taken.state == OPEN else taken.state,
        units=picture.order.units,
        cautions=picture.standards.house.cautions,
        sections=found.sections,
        materials=found.materials,
        departments=found.departments,
        whole=found.whole,
        wanting=tuple(one for one in lines if one.is_wanting),
        doubtful=tuple(one for one in lines if one.doubts),
    )


def sum_page(taken: Taken, kind: SumKind, name: str) -> SumPage:
    """The items of one sum by its name, in the order of the specification. Raises NotFound."""
    page = take_off_page(taken)
    total = next((one for one in page.sums(kind) if one.name == name), None)
    if total is None:
        raise NotFound(f"The {kind} {name} in the take-off", "nothing stands under it", "Look at the sums again")
    lines = _of_department(taken, name) if kind is SumKind.DEPARTMENT else _of_order(taken, kind, name)
    return SumPage(
        page.revision, page.units, page.cautions, kind, total, tuple(lines), tuple(one.name for one in page.sums(kind))
    )


def _of_order(taken: Taken, kind: SumKind, name: str) -> Iterator[TakenLine]:
    for one in taken.take_off.lines:
        item = one.item
        section = taken.picture.section_name(item)
        if name == {SumKind.SECTION: section, SumKind.MATERIAL: item.material or NO_MATERIAL}.get(kind, name):
            yield _line(taken.picture, one)


def _of_department(taken: Taken, name: str) -> Iterator[TakenLine]:
    """The steps of a department, each with what it adds to its sum; work on patterns weighs nothing and is left out."""
    picture = taken.picture
    by_item = {id(one.item): one for one in taken.take_off.lines}
    steps = shares(picture.routed).get(name.partition(" ")[0], ())
    for step, weighs in zip(steps, Scales(taken.take_off.lines, picture.order.units).weigh(steps), strict=True):
        one, pieces = by_item.get(id(step.item)), step.step.total
        if one is None or pieces is None or not is_work_on_pieces(step):
            continue
        yield TakenLine(
            number=one.item.number,
            title=one.item.title,
            safety=bool(one.item.safety),
            off=grouped(pieces),
            material=one.item.material,
            one=weighs.one,
            every=None if weighs.counts is None else weighs.counts * pieces,
            to_order=None if weighs.to_order is None else weighs.to_order * pieces,
            about=weighs.is_about,
            standing=weighs.standing,
            why=_why(picture, one),
            doubts=_doubts(one),
        )


def _line(picture: Picture, one: TakenOff) -> TakenLine:
    mass = one.one.mass if isinstance(one.one, MassOfOne) else None
    return TakenLine(
        number=one.item.number,
        title=one.item.title,
        safety=bool(one.item.safety),
        off=grouped(one.total.off) if one.total.off is not None else one.total.written,
        material=one.item.material,
        one=one.parts if one.standing is Standing.BY_PARTS and one.parts else mass,
        every=one.mass,
        to_order=one.to_order,
        about=isinstance(one.one, MassOfOne) and one.one.approximate,
        standing=one.standing,
        why=_why(picture, one),
        doubts=_doubts(one),
    )


def _why(picture: Picture, one: TakenOff) -> str:
    """What the weight rests on, or why there is none."""
    if one.standing is not Standing.NO_COUNT:
        return one.basis
    total = picture.roll_up.of(one.item.number)
    return (total.problem if total is not None else "") or one.total.written


def _doubts(one: TakenOff) -> tuple[str, ...]:
    return one.one.doubts if isinstance(one.one, MassOfOne) else ()
