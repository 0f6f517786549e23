"""What can only be seen over the whole order: numbers given twice, out of order, in a wrong section; dead references.

Of two items with one number the first is kept and the second set aside; everything else is kept and flagged.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping, Sequence

from specreg.core.faults import Fault, Severity
from specreg.core.model import Item, Kind
from specreg.core.numbering import is_house_form, levels, number_key
from specreg.intake.taken import SetAside, TakenItem

_DITTO = re.compile(
    r"""-?\s*(?:do\.?|ditto\.?|dto\.?|as\s+(?:above|before|last)\.?|"|''|,,|„|”|“|″|〃|〟)\s*-?""", re.IGNORECASE
)
_DITTO_FIRST = re.compile(r"-?(?:do\.|ditto\b|dto\.?\s|do\s+(?=do\b|\())|[″〃]\s", re.IGNORECASE)
_REFERENCE = re.compile(
    r"\b(?:see(?:\s+also)?|refer\s+to|as\s+in|in\s+accordance\s+with|according\s+to|clauses?|items?|sections?|paragraphs?|paras?\.?|sub-?clauses?)\s+"
    r"(?P<number>[0-9]+[A-Z]*(?:\.[0-9]+[A-Z]*)+)(?![\w/])"
    r"(?P<more>(?:(?:\s*,\s*|\s+and\s+|\s+or\s+)[0-9]+[A-Z]*(?:\.[0-9]+[A-Z]*)+(?![\w/]))*)"
    r"(?P<after>\s*(?:[\"“”«(']\s*(?P<title>[^\"“”»)'\n]{1,80})[\"“”»)']|of\s+(?!this|the\s+(?:present\s+)?(?:specification|order))"
    r"|(?:mm|cm|m|in|ft|kg|t|tons?|MPa|bar|kN|N|%)\b)?)",
    re.IGNORECASE,
)
_NUMBER = re.compile(r"[0-9]+[A-Z]*(?:\.[0-9]+[A-Z]*)+")


def without_duplicates(items: Sequence[TakenItem]) -> tuple[list[TakenItem], list[SetAside], list[Fault]]:
    """The items whose number came first, those set aside because it came before, and the stop for each."""
    first: dict[str, TakenItem] = {}
    aside: list[SetAside] = []
    faults: list[Fault] = []
    for taken in items:
        key = number_key(taken.item.number)
        earlier = first.setdefault(key, taken)
        if earlier is not taken:
            reason = f"number {taken.item.number} stands already at {earlier.place}"
            aside.append(SetAside(taken.place, taken.source, reason))
            text = (
                f"Set aside: number {taken.item.number} is given twice, at {earlier.place}"
                f" and at {taken.place}; give one of them another number."
            )
            faults.append(Fault("number given twice", Severity.STOP, taken.item.number, text, taken.place))
    return list(first.values()), aside, faults


def is_ditto(text: str) -> bool:
    """Whether a text only says that it is the same as the one above."""
    return bool(_DITTO.fullmatch(text))


def begins_with_ditto(text: str) -> bool:
    """Whether a text says that it is the same as the one above, alone or before other words: `do. (left hand)`."""
    return is_ditto(text) or bool(_DITTO_FIRST.match(text))


def order_faults(items: Sequence[TakenItem], ours: bool) -> list[Fault]:
    """Flags over the items of an order, in the order of its files; `ours`: the numbering is the works' own."""
    keys = {number: number_key(number) for taken in items for number in (taken.item.number, taken.item.section)}
    faults = [*_out_of_order(items, keys), *_dittos(items), *_dead_references(items, keys)]
    return [*_wrong_sections(items, keys), *faults] if ours else faults


def _wrong_sections(items: Sequence[TakenItem], keys: Mapping[str, str]) -> Iterator[Fault]:
    sections = {keys[taken.item.number] for taken in items if taken.item.kind is Kind.SECTION}
    for taken in items:
        item = taken.item
        if item.kind is Kind.SECTION:
            continue
        if keys[item.section] not in sections:
            text = f"{item.number} stands under no section: section {item.section} has no heading."
            yield Fault("no such section", Severity.ERROR, item.number, text, taken.place)
        elif "." in item.number and not item.number.startswith(f"{item.section}.") and _other_section(item):
            text = f"{item.number} stands in section {item.section}; its number says section {levels(item.number)[0]}."
            yield Fault("not under its section", Severity.ERROR, item.number, text, taken.place)


def _other_section(item: Item) -> bool:
    return levels(item.number)[0] != levels(item.section)[0]


def _out_of_order(items: Sequence[TakenItem], keys: Mapping[str, str]) -> Iterator[Fault]:
    """An item is out of order when one with a higher number of its section stands before it."""
    highest: dict[str, TakenItem] = {}
    for taken in items:
        item = taken.item
        group = "" if item.kind is Kind.SECTION else keys[item.section]
        before = highest.get(group)
        if before is None or keys[before.item.number] < keys[item.number]:
            highest[group] = taken
        else:
            text = f"{item.number} is out of order: it stands after {before.item.number} (line {before.place.line})."
            if before.place.file != taken.place.file:
                text = f"{item.number} is out of order: it stands after {before.item.number} ({before.place})."
            yield Fault("out of order", Severity.WARNING, item.number, text, taken.place)


def _dittos(items: Sequence[TakenItem]) -> Iterator[Fault]:
    for taken in items:
        for label, value in (("Description", taken.item.title), *taken.item.said()):
            if is_ditto(value):
                text = f"{taken.item.number}: {label} says {value}; write out what is meant."
                yield Fault("ditto mark", Severity.WARNING, taken.item.number, text, taken.place)


def _dead_references(items: Sequence[TakenItem], keys: Mapping[str, str]) -> Iterator[Fault]:
    by_key = {keys[taken.item.number]: taken for taken in items}
    for taken in items:
        for words in (taken.item.title, taken.item.text, taken.item.remarks):
            for found in _REFERENCE.finditer(words):
                if found["after"].strip() and not found["title"]:
                    continue
                for number in (found["number"], *_NUMBER.findall(found["more"])):
                    if number_key(number) not in by_key:
                        yield _dead_reference(taken, number, found["title"] or "", by_key)


def _dead_reference(taken: TakenItem, number: str, title: str, by_key: Mapping[str, TakenItem]) -> Fault:
    said = f'{number} "{title}"' if title else number
    near = _nearest(number, title, by_key)
    meant = f"; the nearest is {near.item.number} {near.item.title}".rstrip() if near else ""
    text = f"{taken.item.number} names {said}, and there is no {number} in this order{meant}."
    return Fault("no such item", Severity.WARNING, taken.item.number, text, taken.place)


def _nearest(number: str, title: str, by_key: Mapping[str, TakenItem]) -> TakenItem | None:
    """The item with the nearest title, else the lowest division above the number that exists."""
    if title:
        titles = {taken.item.title.casefold(): taken for taken in by_key.values() if taken.item.title}
        close = difflib.get_close_matches(title.strip().casefold(), list(titles), n=1)
        if close:
            return titles[close[0]]
    if not is_house_form(number.upper()):
        return None
    parts = levels(number)
    above = (by_key.get(number_key(".".join(parts[:length]))) for length in range(len(parts) - 1, 0, -1))
    return next((taken for taken in above if taken), None)
