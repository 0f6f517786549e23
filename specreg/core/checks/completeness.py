"""Is everything there: rows set aside, blank descriptions, ditto marks, numbers out of form."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator

from specreg.core.days import is_no_day
from specreg.core.faults import Fault, Severity
from specreg.core.model import Kind, Layout, State
from specreg.core.numbering import is_house_form, is_under, number_key
from specreg.core.picture import Picture

_DITTO = re.compile(r'(?:do\.?|ditto|"|″|〃|as above|-"-)', re.IGNORECASE)
_MAY_DITTO = ("material", "size", "drawing", "title", "pattern", "supply", "remarks")


def rows_set_aside(picture: Picture) -> Iterator[Fault]:
    """A row that could not be taken in bars the issue until it is put right or struck by hand."""
    for row in picture.set_aside:
        yield Fault("row set aside", Severity.STOP, "", f"{row.reason} The row says: {row.text}", row.place)


def numbers_used_once(picture: Picture) -> Iterator[Fault]:
    """No number stands for two items."""
    seen: set[str] = set()
    for item in picture.items:
        if item.state is State.DELETED and picture.order.numbering != "ours":
            continue
        key = number_key(item.number)
        if key in seen:
            yield Fault(
                "number used twice", Severity.STOP, item.number, f"{item.number} stands for two items; number one anew."
            )
        seen.add(key)


def numbers_in_form(picture: Picture) -> Iterator[Fault]:
    """In our own orders a number is levels of figures with letters for insertions, and stands under its section."""
    if picture.order.numbering != "ours":
        return
    for item in picture.items:
        if not is_house_form(item.number):
            yield Fault(
                "number not of the house form",
                Severity.WARNING,
                item.number,
                f"{item.number} is not of the form 4.1.2 or 4.1.2A; it is kept as written.",
            )
        elif item.kind is not Kind.SECTION and not is_under(item.number, item.section):
            yield Fault(
                "number outside its section",
                Severity.WARNING,
                item.number,
                f"{item.number} stands in section {item.section} but is not numbered under it.",
            )


def descriptions(picture: Picture) -> Iterator[Fault]:
    """A live item has a description."""
    for item in picture.items:
        if item.state is State.LIVE and not item.title and not item.text:
            yield Fault("no description", Severity.WARNING, item.number, f"{item.number} has no description.")


def ditto_marks(picture: Picture) -> Iterator[Fault]:
    """A ditto mark says something else as soon as the line above is altered or printed on another sheet."""
    for item in picture.items:
        for name in _MAY_DITTO:
            said: str = getattr(item, name)
            if said and _DITTO.fullmatch(said.strip()):
                yield Fault(
                    "ditto mark",
                    Severity.WARNING,
                    item.number,
                    f"{item.number} says '{said}'; write out what stands above: a department's sheet may not show it.",
                )


def material(picture: Picture) -> Iterator[Fault]:
    """An item to be made says of what, unless it is an assembly of other items."""
    assemblies = {number_key(link) for item in picture.lines for link in _parents(item.per, item.off)}
    for item in picture.lines:
        made = item.supply.strip().lower() in ("", "make")
        if made and not item.material and item.layout is Layout.ROW and number_key(item.number) not in assemblies:
            yield Fault("no material", Severity.WARNING, item.number, f"{item.number} {item.title} names no material.")


def materials_known(picture: Picture) -> Iterator[Fault]:
    """A material stands in the works' list, which says its density; a slip of the pen shows here."""
    known = {name.casefold() for one in picture.standards.materials for name in (one.name, *one.also)}
    for item in picture.lines:
        said = item.material.strip().casefold()
        if said and known and said not in known:
            near = difflib.get_close_matches(said, known, n=1, cutoff=0.8)
            hint = f"; is {near[0]} meant?" if near else "."
            yield Fault(
                "material not in the list",
                Severity.WARNING,
                item.number,
                f"{item.number}: '{item.material}' is not in the works' list of materials{hint}",
            )


def dates_are_days(picture: Picture) -> Iterator[Fault]:
    """What is written in figures as a day is a day: 2027-02-30 is none."""
    for item in picture.items:
        if item.state is State.LIVE and is_no_day(item.wanted):
            yield Fault(
                "no such day",
                Severity.ERROR,
                item.number,
                f"{item.number} is wanted on {item.wanted}: there is no such day.",
            )
    for sheet in picture.sheets:
        for label in ("date", "planned", "drawn", "checked", "approved"):
            said: str = getattr(sheet, label)
            if is_no_day(said):
                yield Fault(
                    "no such day", Severity.ERROR, sheet.number, f"{sheet.name}, {label} {said}: there is no such day."
                )


def _parents(per: str, off: str) -> Iterator[str]:
    if per and per.strip().lower() not in ("machine", "order"):
        yield per
    for part in re.split(r"[,;]", off):
        _, found, parent = part.partition(" per ")
        if found:
            yield parent.strip()


COMPLETENESS = (
    rows_set_aside,
    numbers_used_once,
    numbers_in_form,
    descriptions,
    ditto_marks,
    material,
    materials_known,
    dates_are_days,
)
