"""Orders of any size, made of the sample's own assemblies and words from a seed, a section at a time.

An invented order reads like the sample: whole assemblies of it in another order, each about another part of the
machine, with sizes, drawings and patterns of their own, so that words are as frequent as there and new ones go on
turning up. It is written as an order folder, and goes into a book by the way every order takes: `take_in`.
"""

from __future__ import annotations

import csv
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby
from pathlib import Path
from random import Random

from specreg.core.model import SHEET_COLUMNS, Item, Kind, Layout, Sheet
from specreg.core.numbering import depth
from specreg.intake.order_folder import read_order
from specreg.intake.taken import TakenOrder
from specreg.output.order_folder import drawings_csv, order_toml, section_markdown

_SAMPLE_SECTIONS = 22
_SAMPLE_ITEMS = 2500
_FIGURES = re.compile(r"[0-9]+")
_NUMBER = re.compile(r"(?<![\w.])[0-9]+(?:\.[0-9]+[A-Z]?)+(?![\w.])")
_WORD = re.compile(r"(?<![\w-])[a-z]{4,}(?![\w-])")
_PATTERN = re.compile(r"(?P<letter>[A-Z]) (?P<number>[0-9]+)")


@dataclass(frozen=True, slots=True)
class Assembly:
    """An assembly of the sample: its heading and the rows under it."""

    head: Item
    rows: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A section made up: its items, the section itself first, and the sheets they call up."""

    items: tuple[Item, ...]
    sheets: tuple[Sheet, ...]


class InventedOrder:
    """An order of at least so many items, the same for the same sample, size and seed.

    The section count grows with the root of the size, since a great order has longer sections and not only more.
    """

    def __init__(self, sample: TakenOrder, items: int, seed: int = 1) -> None:
        self._items, self._seed = items, seed
        self.order = replace(sample.order, number=f"C {9000 + seed}", title=f"Invented order of some {items} items")
        self._material = _Material([one.item for one in sample.items], [one.sheet for one in sample.sheets])
        self.count = max(1, round(_SAMPLE_SECTIONS * (items / _SAMPLE_ITEMS) ** 0.5))

    def sections(self) -> Iterator[Section]:
        """Its sections in order, each made when it is asked for."""
        made = 0
        for number in range(1, self.count + 1):
            wanted = -(-(self._items - made) // (self.count - number + 1))
            section = _Making(self._material, number, Random(f"{self._seed}/{number}")).section(wanted)
            made += sum(item.kind is Kind.ITEM for item in section.items)
            yield section


def write_invented(sample: Path, target: Path, items: int, seed: int = 1) -> InventedOrder:
    """Write an invented order as an order folder, a section at a time, on the works standards of the sample's."""
    taken = read_order(sample)
    invented = InventedOrder(taken, items, seed)
    order = replace(invented.order, standards=str((sample / taken.order.standards).resolve()))
    (target / "spec").mkdir(parents=True)
    (target / "order.toml").write_text(order_toml(order), encoding="utf-8")
    width = len(str(invented.count))
    with (target / "drawings.csv").open("w", encoding="utf-8", newline="") as drawings:
        csv.writer(drawings, lineterminator="\n").writerow(SHEET_COLUMNS)
        for section in invented.sections():
            head = section.items[0]
            file = target / "spec" / f"{int(head.number):0{width}}.md"
            file.write_text(section_markdown(section.items), encoding="utf-8")
            drawings.write(drawings_csv(section.sheets).partition("\n")[2])
    return invented


class _Material:
    """What the sample gives: assemblies, sheets by drawing, sizes by form and material, words by how often."""

    def __init__(self, items: Sequence[Item], sheets: Sequence[Sheet]) -> None:
        self.items, self._sheets = items, sheets
        self.heads = [item for item in items if item.kind is Kind.SECTION]

    @cached_property
    def assemblies(self) -> list[Assembly]:
        """Every assembly, and every group of rows that is counted per machine."""
        found: list[Assembly] = []
        rows: list[Item] = []
        head: Item | None = None
        for item in (*self.items, None):
            if item is None or item.kind is Kind.SECTION or depth(item.number) == 2:
                if head is not None:
                    found.append(Assembly(head, tuple(rows)))
                rows = []
                head = item if item is not None and item.kind is not Kind.SECTION else None
            else:
                rows.append(item)
        return found

    @cached_property
    def sheets(self) -> Mapping[str, list[Sheet]]:
        """The sheets of every drawing number."""
        return {number: list(sheets) for number, sheets in groupby(self._sheets, key=lambda sheet: sheet.number)}

    @cached_property
    def standard_sheets(self) -> Mapping[str, list[Sheet]]:
        """Those of standard drawings, which every order calls up under the same number."""
        return {number: sheets for number, sheets in self.sheets.items() if "-" not in number}

    @cached_property
    def sizes(self) -> Mapping[tuple[str, str], list[str]]:
        """Sizes of a form, the figures apart, in a material; as often as the sample has them."""
        found: dict[tuple[str, str], list[str]] = defaultdict(list)
        for item in self.items:
            if item.size:
                found[form_of(item)].append(item.size)
        return found

    @cached_property
    def numbers(self) -> frozenset[str]:
        """The numbers of all its items."""
        return frozenset(item.number for item in self.items)

    @cached_property
    def words(self) -> list[str]:
        """Words of the descriptions, each as often as it stands there."""
        return [word for item in self.items for word in _WORD.findall(item.title)]


def form_of(item: Item) -> tuple[str, str]:
    """The form of an item's size, its figures apart, and its material."""
    return _FIGURES.sub("0", item.size), item.material


def _drawing_number(serial: int) -> str:
    """A drawing number of the works' form by its place in a series: `AB-0417`."""
    letters, figures = divmod(serial, 10_000)
    return f"{chr(65 + letters // 26 % 26)}{chr(65 + letters % 26)}-{figures:04}"


class _Making:
    """One section being made."""

    def __init__(self, material: _Material, number: int, random: Random) -> None:
        self._from, self._number, self._random = material, number, random
        self._items: list[Item] = []
        self._sheets: dict[str, list[Sheet]] = {}

    def section(self, wanted: int) -> Section:
        head = self._from.heads[(self._number - 1) % len(self._from.heads)]
        section = str(self._number)
        self._items.append(replace(head, number=section, section=section))
        if self._number == 1:
            self._sheets.update(self._from.standard_sheets)
        place = have = 0
        while have < wanted:
            place += 1
            assembly = self._random.choice(self._from.assemblies)
            have += self._add(assembly, f"{section}.{place}")
        return Section(tuple(self._items), tuple(sheet for sheets in self._sheets.values() for sheet in sheets))

    def _add(self, assembly: Assembly, number: str) -> int:
        """An assembly under a number of its own; returns how many items it has."""
        old = assembly.head.number
        numbers = {item.number: f"{number}{item.number[len(old) :]}" for item in (assembly.head, *assembly.rows)}
        about = self._subject()
        drawings: dict[str, str] = {}
        for item in (assembly.head, *assembly.rows):
            self._items.append(self._made_over(item, numbers, drawings, about))
        return sum(item.kind is Kind.ITEM for item in (assembly.head, *assembly.rows))

    def _made_over(self, item: Item, numbers: Mapping[str, str], drawings: dict[str, str], about: str) -> Item:
        title = f"{item.title}, {about}" if item.layout is Layout.HEADING and item.title else self._varied(item)
        size = self._random.choice(self._from.sizes[form_of(item)]) if item.size and not item.weight else item.size
        pattern = _PATTERN.sub(lambda found: f"{found['letter']} {self._random.randint(1, 999)}", item.pattern)
        remarks = f"{item.remarks}; {about}" if item.remarks and self._random.random() < 0.2 else item.remarks
        return replace(
            item,
            number=numbers[item.number],
            section=str(self._number),
            title=title,
            size=size,
            pattern=pattern,
            drawing=", ".join(self._drawing(one.strip(), drawings) for one in item.drawing.split(",") if one.strip()),
            per=self._counted_per(item.per, numbers),
            off=self._counted_per(item.off, numbers) if _NUMBER.search(item.off) else item.off,
            text=self._renumbered(item.text, numbers),
            remarks=self._renumbered(remarks, numbers),
        )

    def _drawing(self, written: str, drawings: dict[str, str]) -> str:
        """The drawing this assembly calls up in place of the sample's; a standard drawing stays what it is."""
        number = written if written in self._from.sheets else written.rpartition("/")[0]
        sheets = self._from.sheets.get(number, [])
        if not number or number in self._from.standard_sheets:
            return written
        if number not in drawings:
            own = _drawing_number(1000 * self._number + len(self._sheets))
            drawings[number] = own
            self._sheets[own] = [replace(sheet, number=own, replaces="") for sheet in sheets]
        return drawings[number] + written[len(number) :]

    def _counted_per(self, written: str, numbers: Mapping[str, str]) -> str:
        """What it is counted per: an item of its own assembly under its new number; any other becomes a machine."""
        return _NUMBER.sub(lambda found: numbers.get(found[0], "machine"), written)

    def _varied(self, item: Item) -> str:
        """A description, one word in six of it another of the sample's; of what is sent by the customer none."""
        words = self._from.words
        if item.supplied == "free issue":
            return item.title
        return _WORD.sub(
            lambda word: self._random.choice(words) if self._random.random() < 1 / 6 else word[0], item.title
        )

    def _subject(self) -> str:
        """What an assembly is about: a name of the works' customers and places, some common and most of them rare."""
        first, last = self._random.choice(self._from.words), self._random.choice(self._from.words)
        middle = self._random.choice(("a", "e", "i", "o", "u"))
        return (
            f"{first[:3]}{middle}{last[-4:]}".capitalize() if self._random.random() < 0.7 else f"for the {first} {last}"
        )

    def _renumbered(self, text: str, numbers: Mapping[str, str]) -> str:
        """The text with the numbers of its own assembly; items of others that it names become its own section."""
        theirs = self._from.numbers
        return _NUMBER.sub(
            lambda found: numbers.get(found[0], str(self._number) if found[0] in theirs else found[0]), text
        )
