"""An order of full size for the budgets: the sample's sections several times over, under numbers of their own."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from specreg.core.model import Item, Route
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.intake.order_folder import read_order
from specreg.output.order_folder import order_folder_files, write_order_folder

_NUMBER = re.compile(r"(?<![\w.])([0-9]+)((?:\.[0-9]+[A-Z]?)+)(?![\w.])")


def write_full_size(sample: Path, target: Path, times: int = 5) -> int:
    """Write the sample's order so many times over as one order folder, with the sample's works standards; returns how
    many numbers it has."""
    taken = read_order(sample)
    once = [one.item for one in taken.items]
    sections = max(int(item.section) for item in once)
    items = [item for time in range(times) for item in _shifted(once, time * sections)]
    order = replace(taken.order, standards=str((sample / taken.order.standards).resolve()))
    write_order_folder(order_folder_files(order, items, [one.sheet for one in taken.sheets]), target)
    return len(items)


def _shifted(items: Sequence[Item], by: int) -> Iterator[Item]:
    """Items whose section numbers are so much higher, and their numbers and what they are counted per with them."""
    for item in items:
        fields = {name: _NUMBER.sub(lambda found: f"{int(found[1]) + by}{found[2]}", getattr(item, name))
                  for name in ("number", "off", "per")}  # fmt: skip
        if item.number == item.section:
            fields["number"] = str(int(item.number) + by)
        yield replace(item, section=str(int(item.section) + by), **fields)


def many_times(picture: Picture, times: int) -> Picture:
    """A picture of an order so many times over, each time under sections of its own, with its routes."""
    sections = max(int(item.section) for item in picture.items)
    items: list[Item] = []
    routes: dict[str, Route] = {}
    for time in range(times):
        for old, new in zip(picture.items, _shifted(picture.items, time * sections), strict=True):
            items.append(new)
            route = picture.routes.get(number_key(old.number))
            if route is not None:
                routes[number_key(new.number)] = route
    return replace(picture, items=tuple(items), routes=routes, calls={})
