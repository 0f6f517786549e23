"""The whole specification as it is printed: every number in order, what changed since the revision before, the sums."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from specreg.core.comparing import Comparison, FieldChange, Pair, compare_items
from specreg.core.drawing_up import drawing_words
from specreg.core.errors import NotFound
from specreg.core.extracts import LineWeight, Reconciliation, ShareWeight, TitleBlock
from specreg.core.model import FIELDS, Item, Kind, Route, State
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.shares import reconcile, shares
from specreg.core.take_off import lines_taken_off
from specreg.core.weighing import together, weight_of
from specreg.core.word_changes import was_and_now

DOCUMENT_TYPE = "specification"
NOT_ISSUED = "NOT ISSUED: for checking only"
"""Stands on every sheet of an order that is printed with its open edits."""

_SAID_ELSEWHERE = frozenset({"off", "per", "material", "size", "drawing", "route", "safety", "clearance"})
"""Fields that a printed line says in its columns, its working, its route or its signs."""

_LONG = frozenset({"Text", "Remarks"})
"""Fields of which a change says only what was: what is stands right below."""


@dataclass(frozen=True, slots=True)
class SpecificationLine:
    """One number as printed.

    `sign` is `+` new since the revision before, `»` altered, `=` only renumbered, `-` deleted, `` as before; `was` says
    in words what stood before. `off` is the whole number off, `working` how it was reckoned, `as_written` what the item
    itself says (`24 per 4.1`). `drawing` carries revisions and stages as an extract does. `route` is in the notation,
    or says why no department acts. `fields` are the others that say something, as (label, text). `gone` says why a
    number is no longer or not yet wanted (`deleted: bought out`); empty for a live one. `is_edited` is false for one
    altered only by its drawing's revision or by the number off of what it belongs to. `weighs` is what each of its
    `pieces` weighs, None for what is no item that is wanted; `pieces` None: not counted.
    """

    sign: str
    number: str
    kind: Kind
    title: str
    text: str
    off: str
    as_written: str
    working: str
    material: str
    size: str
    drawing: str
    route: str
    fields: tuple[tuple[str, str], ...]
    safety: str
    clearance: str
    was: str
    gone: str
    is_edited: bool
    pieces: int | None = None
    weighs: LineWeight | None = None


@dataclass(frozen=True, slots=True)
class SpecificationSection:
    """A section with all its numbers, its own line first, and what its items weigh together."""

    number: str
    title: str
    lines: tuple[SpecificationLine, ...]
    weight: ShareWeight | None = None

    @property
    def items(self) -> int:
        """How many items are wanted."""
        return sum(line.kind is Kind.ITEM and not line.gone for line in self.lines)


@dataclass(frozen=True, slots=True)
class WholeSpecification:
    """A specification ready to be printed.

    `since` names what the signs compare with (`revision A`), empty for a first issue. `is_issued` is false for the
    order as it stands with its open edits: its title block bears no date and nobody's approval. `part` is the section
    (`4 Slewing gear`) where only one is printed. `open_notes` names the notes whose edits are in what is not issued.
    `weight` is what all that is printed weighs together.
    """

    order: str
    order_title: str
    customer: str
    machines: str
    spares: str
    authority: str
    title_block: TitleBlock
    seal: str
    since: str
    is_issued: bool
    sections: tuple[SpecificationSection, ...]
    reconciliation: Reconciliation
    cautions: tuple[str, ...]
    part: str = ""
    open_notes: tuple[str, ...] = ()
    weight: ShareWeight | None = None

    @property
    def lines(self) -> Iterator[SpecificationLine]:
        """The lines of all sections."""
        return (line for section in self.sections for line in section.lines)


@dataclass(frozen=True, slots=True)
class Before:
    """The revision before: its name (`revision A`) and the order as it said it."""

    name: str
    picture: Picture


def whole_specification(
    picture: Picture, title_block: TitleBlock, seal: str, is_issued: bool, before: Before | None
) -> WholeSpecification:
    """The specification that a picture of an order gives."""
    changes = _Changes(picture, before)
    split: dict[str, list[SpecificationLine]] = {}
    routes = {number_key(item.number): route for item, route in picture.routed}
    units = picture.order.units
    weights = {id(one.item): weight_of(one, units) for one in lines_taken_off(picture)}
    for item in sorted((*picture.items, *changes.no_longer_listed), key=lambda one: one.place_key):
        sign, was = changes.of(item)
        route = Route() if sign == "-" else routes.get(number_key(item.number), Route())
        line = _line(item, route, picture, (sign, was), changes.is_edited(item), weights.get(id(item)))
        split.setdefault(item.section, []).append(line)
    titles = picture.section_titles
    sections = tuple(
        SpecificationSection(number, titles.get(number, ""), tuple(lines), _together(lines, units))
        for number, lines in split.items()
    )
    house = picture.standards.house
    wants_caution = any(item.safety or item.weight for item in picture.lines) or any(
        one.one is not None for one in weights.values()
    )
    return WholeSpecification(
        order=picture.order.number,
        order_title=picture.order.title,
        customer=picture.order.customer,
        machines=picture.order.machines,
        spares=picture.order.spares,
        authority=picture.order.authority,
        title_block=title_block,
        seal=seal,
        since=before.name if before else "",
        is_issued=is_issued,
        sections=sections,
        reconciliation=reconcile(picture.routed, picture.totals, shares(picture.routed)),
        cautions=house.cautions if wants_caution else (),
        weight=_together((line for lines in split.values() for line in lines), units),
    )


def section_of(whole: WholeSpecification, number: str) -> WholeSpecification:
    """One section, printed alone and saying so. Raises NotFound."""
    found = next((one for one in whole.sections if number_key(one.number) == number_key(number)), None)
    if found is None:
        there = ", ".join(one.number for one in whole.sections)
        raise NotFound(f"Section {number}", f"sections are {there}", "Give one of these")
    return replace(whole, sections=(found,), part=f"{found.number} {found.title}".strip(), weight=found.weight)


def _together(lines: Iterable[SpecificationLine], units: str) -> ShareWeight:
    return together(((line.weighs, line.pieces) for line in lines if line.weighs is not None), units)


def route_words(route: Route) -> str:
    """A route in the notation: `PAT make pattern 1; FDY cast 17+1; ERE erect 12 & STO put by 5`."""
    if not route.steps:
        return f"none: {route.no_action}" if route.no_action else ""
    places: dict[int, list[str]] = {}
    for step in route.steps:
        off = "" if step.off is None else f"{step.off}+{step.extra}" if step.extra else str(step.off)
        words = " ".join(word for word in (step.department, step.operation, off) if word)
        places.setdefault(step.place, []).append(words)
    return "; ".join(" & ".join(steps) for _, steps in sorted(places.items()))


class _Changes:
    """What differs from the revision before, by the `number_key` of the item now."""

    def __init__(self, picture: Picture, before: Before | None) -> None:
        self.no_longer_listed: tuple[Item, ...] = ()
        self._unlisted: frozenset[int] = frozenset()
        self._signs: dict[str, tuple[str, str]] = {}
        self._edited: frozenset[str] = frozenset()
        if before is None:
            return
        theirs = picture.order.numbering == "theirs"
        found = compare_items(before.picture.items, picture.items, "theirs" if theirs else "ours")
        self.no_longer_listed = tuple(passage.item for passage in found.deleted if passage.listed is None)
        # Another item may bear its number now.
        self._unlisted = frozenset(map(id, self.no_longer_listed))
        self._signs = dict(_signs(found, picture, before.picture))
        self._edited = frozenset(number_key(pair.new.number) for pair in found.changed)

    def is_edited(self, item: Item) -> bool:
        """Whether its own fields say something else."""
        return number_key(item.number) in self._edited

    def of(self, item: Item) -> tuple[str, str]:
        """Sign and words; an item that is listed no more is deleted."""
        if id(item) in self._unlisted:
            return "-", "no longer in the specification"
        return self._signs.get(number_key(item.number), ("", ""))


def _signs(found: Comparison, picture: Picture, before: Picture) -> Iterator[tuple[str, tuple[str, str]]]:
    """The sign and the words of each number that has one."""
    for passage in found.added:
        if passage.item.state is State.LIVE:
            yield number_key(passage.item.number), ("+", "")
    for passage in found.deleted:
        if passage.listed is not None:
            yield number_key(passage.listed.number), ("-", "")
    pairs = {number_key(pair.new.number): pair for pair in (*found.renumbered, *found.changed)}
    was_numbered = {key: number_key(pair.old.number) for key, pair in pairs.items()}
    added = {number_key(passage.item.number) for passage in found.added}
    before_items = {number_key(item.number): item for item in before.items}
    for item in picture.items:
        key = number_key(item.number)
        if key in added or item.state is not State.LIVE:
            continue
        old = before_items.get(was_numbered.get(key, key))
        if old is None:
            continue
        pair = pairs.get(key)
        words = [*_paper_words(old, item, before, picture), *_field_words(pair)]
        number = [was_and_now("Number", old.number, item.number)] if pair is not None and pair.renumbered else []
        if words or number:
            yield key, ("»" if words else "=", "; ".join((*number, *words)))


def _paper_words(old: Item, new: Item, before: Picture, picture: Picture) -> Iterator[str]:
    """What the numbers off and the drawings' revisions say otherwise, whoever edited what."""
    was, now = before.totals.get(number_key(old.number)), picture.totals.get(number_key(new.number))
    if was is not None and now is not None and was.written != now.written:
        yield was_and_now("Number off", was.written, now.written)
    if old.drawing != new.drawing or before.calls.get(number_key(old.number)) != picture.calls.get(
        number_key(new.number)
    ):
        called, calls = (drawing_words(item, one) for item, one in ((old, before), (new, picture)))
        if called != calls:
            yield was_and_now("Drawing", called, calls)


def _field_words(pair: Pair | None) -> Iterator[str]:
    for change in _real(pair.fields) if pair is not None else ():
        if change.label == "Drawing":
            continue
        if change.label in _LONG and change.new:
            yield f"{was_and_now(change.label, change.old, '').removesuffix(', now blank')}"
        else:
            yield was_and_now(change.label, change.old, change.new)


def _real(fields: Iterable[FieldChange]) -> Iterator[FieldChange]:
    return (field for field in fields if not field.spacing_only)


def _line(
    item: Item, route: Route, picture: Picture, change: tuple[str, str], is_edited: bool, weighs: LineWeight | None
) -> SpecificationLine:
    sign, was = change
    total = picture.totals.get(number_key(item.number)) if item.is_line and sign != "-" else None
    clearance = picture.standards.house.clearance if item.is_line else ""
    return SpecificationLine(
        sign=sign,
        number=item.number,
        kind=item.kind,
        title=item.title,
        text=item.text,
        off=total.written if total else item.off,
        as_written=f"{item.off} per {item.per}" if item.off and item.per else item.off,
        working=total.working if total else "",
        material=item.material,
        size=item.size,
        drawing=drawing_words(item, picture) or item.drawing,
        route=route_words(route),
        fields=_fields(item),
        safety=item.safety,
        clearance=item.clearance or clearance,
        was="" if sign == "-" else was,
        gone=was if sign == "-" and was else _gone(item),
        is_edited=is_edited,
        pieces=total.off if total else None,
        weighs=weighs,
    )


def _fields(item: Item) -> tuple[tuple[str, str], ...]:
    named = ((field.label, getattr(item, field.name)) for field in FIELDS if field.name not in _SAID_ELSEWHERE)
    return tuple((label, text) for label, text in (*named, *item.other) if text)


def _gone(item: Item) -> str:
    if item.state is State.LIVE:
        return ""
    return f"{item.state.value}: {item.reason}" if item.reason else item.state.value
