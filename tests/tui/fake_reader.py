"""A reader over invented data, any number of rows, made up as they are asked for; it counts what it was asked."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from specreg.core.errors import NotFound, Refused
from specreg.services.readings import (
    Count,
    Desk,
    Found,
    Hit,
    ItemLine,
    ItemSheet,
    NoteLine,
    SaidLine,
    SectionLine,
    SheetLine,
    StepLine,
    TitleLine,
)
from tests.tui.fake_drawings import FakeDrawings, FakeRegister
from tests.tui.fake_shares import FakeShares, FakeSplit
from tests.tui.fake_take_off import FakeTakeOff, FakeTakesOff

SECTION_TITLES = (
    "General conditions", "Under carriage and travelling gear", "Portal and tower", "Slewing gear", "Jib",
    "Derricking gear", "Hoisting gear", "Brakes", "Cabin and controls", "Electrical equipment", "Painting and packing",
)  # fmt: skip
NOUNS = ("Rack segment", "Rack bolt", "Lock washer", "Dowel", "Pinion shaft", "Bearing bush", "Cover plate",
         "Roller path, machined on the upper face only", "Rope drum", "Grease pipe with unions")  # fmt: skip
MATERIALS = ("cast steel", "mild steel", "spring steel", "phosphor bronze", "cast iron")
SIZES = ("3 cwt 1 qr 17 lb", '1 1/4" dia × 5"', '1 1/4"', '7/8" × 3"', '4" × 3/8" × 2\' 6"')
NOTE_WORDS = (
    "The surveyors ask that the magnetic brake hold one and a half times the rated load by itself: stronger spring "
    "with a locked adjusting nut, and a longer key in the brake wheel. Main switch and fuses raised to suit."
)
SIGNS = ("", "", "", "»", "", "+", "", "-", "H", "", "M")


@dataclass
class FakeBook:
    """What all fake readers of one program share: how many rows, what was asked, what goes wrong."""

    rows: int = 2500
    written: int = 1
    changed_title: str = ""
    rows_asked: list[tuple[str, int, int]] = field(default_factory=list)
    finds: list[str] = field(default_factory=list)
    stopped_finds: list[str] = field(default_factory=list)
    opened_in: list[int] = field(default_factory=list)
    closed_in: list[int] = field(default_factory=list)
    find_seconds: dict[str, float] = field(default_factory=dict)
    page_seconds: float = 0.0
    refuse: str = ""
    gone: set[str] = field(default_factory=set)
    lost_steps: int = 0
    register: FakeRegister = field(default_factory=FakeRegister)
    split: FakeSplit = field(default_factory=FakeSplit)
    weights: FakeTakeOff = field(default_factory=FakeTakeOff)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def open(self) -> FakeReader:
        """A reader for the thread that calls."""
        with self.lock:
            self.opened_in.append(threading.get_ident())
        return FakeReader(self)

    @property
    def per_section(self) -> int:
        """Rows of one section, its heading included."""
        return self.rows // len(SECTION_TITLES)


class FakeReader(FakeShares, FakeDrawings, FakeTakesOff):
    """Keeps the promises of `Reader`."""

    def __init__(self, book: FakeBook) -> None:
        self._book = book
        self._thread = threading.get_ident()

    def _enter(self) -> None:
        assert self._thread == threading.get_ident(), "a reader was used in another thread"
        if self._book.refuse:
            raise Refused("The works book cannot be read", self._book.refuse, "Ask the chief")

    def title_line(self) -> TitleLine:
        self._enter()
        return TitleLine(
            order="W 611", title="Three 25-ton dockside cranes", machines="1471–1473", revision="B",
            seal="3F9A-22C1", person="chief", role="chief draughtsman", open_edits=self._book.written,
            issued_on="12 Oct",
        )  # fmt: skip

    def desk(self) -> Desk:
        self._enter()
        return Desk(
            day="Wed 25 Nov",
            waits=(
                Count("^", 2, "notes to sign"), Count("§", 1, "safety item, second checker"),
                Count("^", 4, "shop queries, oldest 9 days"), Count("^", 1, "stop notice, paper owing 2 days"),
            ),
            out_of_order=(
                Count("!", 3, "stops before rev C can issue"), Count("x", 11, "superseded prints out, 34 days"),
                Count("x", 2, "extracts without receipt"), Count("~", 7, "drawings late, 31 items wait"),
                Count("~", 5, "ordered ahead of their drawing"),
            ),
            notes=(
                NoteLine("117", "rack bolts longer", 8, ("drawn", "checked"), "approval"),
                NoteLine("118", "drum end recast", 31, (), "2 stops to be cleared"),
            ),
            last_edit="7.14.3 Derricking pinion, Off 2 → 4, 20 min ago",
            drawings_issued=352, drawings_total=384, steps=7912, in_shares=7912 - self._book.lost_steps, items=2500,
        )  # fmt: skip

    def sections(self) -> tuple[SectionLine, ...]:
        self._enter()
        return tuple(
            SectionLine(str(at + 1), title, self._book.per_section - 1, at % 2, at * 2 % 7, at % 3, at % 5, at % 4)
            for at, title in enumerate(SECTION_TITLES)
        )

    def count(self, section: str) -> int:
        self._enter()
        return self._book.per_section * (1 if section else len(SECTION_TITLES)) - len(self._book.gone)

    def lines(self, section: str, first: int, count: int) -> tuple[ItemLine, ...]:
        self._enter()
        with self._book.lock:
            self._book.rows_asked.append((section, first, count))
        time.sleep(self._book.page_seconds)
        last = min(first + count, self.count(section))
        return tuple(self._line(section, at) for at in range(first, last))

    def _line(self, section: str, at: int) -> ItemLine:
        start = (int(section) - 1) * self._book.per_section if section else 0
        whole = start + at
        for number in self._book.gone:
            if self._whole_row(number) <= whole:
                whole += 1
        place, within = divmod(whole, self._book.per_section)
        if within == 0:
            return ItemLine("", str(place + 1), SECTION_TITLES[place], False, "", "", "", "", "section", "live", 0, "")
        group, part = divmod(within - 1, 10)
        number = f"{place + 1}.{group + 1}" + (f".{part}" if part else "")
        if part == 0:
            return ItemLine("", number, f"{SECTION_TITLES[place]}, assembly {group + 1}", group % 5 == 0, "1", "–", "",
                            f"SL-{1000 + group}", "item", "live", 1, "")  # fmt: skip
        if part == 9:
            return ItemLine("", number, "To be machined on the upper face only and marked with the order number before "
                            "it leaves the works", False, "", "", "", "", "clause", "live", 2, "")  # fmt: skip
        sign = SIGNS[whole % len(SIGNS)]
        title = NOUNS[whole % len(NOUNS)]
        if self._book.changed_title and number == "4.1.2":
            title, sign = self._book.changed_title, "»"
        state = "deleted: replaced by a fitted bolt" if sign == "-" else "live"
        return ItemLine(
            sign, number, title, whole % 17 == 0, str(whole % 48 + 1), MATERIALS[whole % 5], SIZES[whole % 5],
            f"SL-{1000 + group}/{part}", "item", state, 2,
            "117" if sign in ("»", "+", "-") else "",
        )  # fmt: skip

    def _whole_row(self, number: str) -> int:
        levels = number.split(".")
        if not all(level.isdigit() for level in levels) or not 1 <= int(levels[0]) <= len(SECTION_TITLES):
            return -1
        start = (int(levels[0]) - 1) * self._book.per_section
        if len(levels) == 1:
            return start
        within = 1 + (int(levels[1]) - 1) * 10 + (int(levels[2]) if len(levels) > 2 else 0)
        return start + within if 0 < within < self._book.per_section and len(levels) < 4 else -1

    def row_of(self, section: str, number: str) -> int:
        self._enter()
        whole = self._whole_row(number)
        if whole < 0 or number in self._book.gone or (section and number.split(".", 1)[0] != section):
            return -1
        whole -= sum(1 for one in self._book.gone if self._whole_row(one) < whole)
        return whole - (int(section) - 1) * self._book.per_section if section else whole

    def item(self, number: str) -> ItemSheet:
        self._enter()
        row = self.row_of("", number)
        if row < 0:
            raise NotFound(f"Item {number} is not in order W 611", do="Find it with /")
        item = self._line("", row)
        sheet = ItemSheet(
            number=number, title=item.title, text="Bolts to be turned from bar, threads to be cut, not rolled. Heads "
            "faced square with the shank; each bolt stamped with the item's number.",
            kind=item.kind, state=item.state.partition(":")[0], reason=item.state.partition(": ")[2],
            section=number.split(".", 1)[0], section_title=SECTION_TITLES[int(number.split(".", maxsplit=1)[0]) - 1],
            fields=(("Off", "24 per 4.1"), ("Material", item.material), ("Size", '1 1/4" dia × 5"'),
                    ("Weight", "2.0 lb each"), ("Drawing", item.drawing), ("Spares", "6 per order")),
            was={"Size": '1 1/4" dia × 4 1/2"'} if item.sign == "»" else {},
            off="78", working="24 × 1 × 3 + 6 = 78",
            sheets=(SheetLine("SL-1003", "SL-1003", "Rack bolts and washers", "B", "issued", True),
                    SheetLine("SL-1999/2", "SL-1999/2", "", "", "", False)),
            route=(StepLine(1, "SMI", "Smithy", "forge", "78", "bolts over 1 in from bar"),
                   StepLine(2, "MCH", "Machine shop", "screw", "78", "bolts over 1 in from bar"),
                   StepLine(3, "ERE", "Erecting shop", "erect", "72", "bolts over 1 in from bar"),
                   StepLine(3, "STO", "Stores", "hold as spares", "6", "spares to stores")),
            no_action="", history=(SaidLine("A", "4 Mar", "", "first said"),
                                   SaidLine("B", "12 Oct", "104", "Material wrought iron → mild steel"),
                                   SaidLine("open", "20 Nov", "117", "Size 4 1/2\" → 5\"")),
            note=item.note, sign=item.sign, safety=item.safety, reckoned=self._book.weights.reckoned(number),
        )  # fmt: skip
        return sheet if item.kind == "item" else replace(sheet, fields=(), was={}, off="", working="", sheets=(),
                                                         route=(), history=())  # fmt: skip

    def find(self, text: str, limit: int, stopped: Callable[[], bool]) -> Found:
        self._enter()
        with self._book.lock:
            self._book.finds.append(text)
        ends = time.monotonic() + self._book.find_seconds.get(text, 0.0)
        while time.monotonic() < ends:
            if stopped():
                with self._book.lock:
                    self._book.stopped_finds.append(text)
                return Found(text, 0, ())
            time.sleep(0.005)
        return self._found(text, limit)

    def _found(self, text: str, limit: int) -> Found:
        words = text.lower().split()
        hits: list[Hit] = []
        if self.row_of("", text) >= 0:
            line = self._line("", self.row_of("", text))
            hits.append(Hit(line.kind, line.number, line.title, "", "number", False))
        if words == ["rak"]:
            near = (Hit("item", f"4.1.{at}", "Rack bolt", "", "near", True, sign="-" * (at - 1)) for at in (1, 2))
            return Found(text, 2, tuple(near))
        if text.lower().startswith("sl-1003"):
            hits.append(Hit("drawing", "SL-1003", "Rack bolts and washers", "B", "number", False))
        if text.lower().startswith("note"):
            hits.append(Hit("note", "note 2", NOTE_WORDS, "issued", "number", False, order="W 611"))
        if words == ["dia"]:
            where = 'Size 1 1/4" dia × 5"'
            hits += [
                Hit("item", "4.1.7", "Rack bolt", "B", "text", False, sign="-", where=where),
                Hit("item", "4.1.8", "Dowel", "", "text", False, sign="H", where=where),
                Hit("item", "4.1.9", f"Grease pipe{' with unions' * 4}", "", "text", False, sign="§", where=where),
            ]
        for row in range(min(self.count(""), 2500)):
            line = self._line("", row)
            if all(word in line.title.lower() for word in words):
                hits.append(Hit("item", line.number, line.title, "", "title", False))
        return Found(text, len(hits), tuple(hits[:limit]))

    def version(self) -> int:
        self._enter()
        return self._book.written

    def close(self) -> None:
        assert self._thread == threading.get_ident(), "a reader was closed in another thread"
        with self._book.lock:
            self._book.closed_in.append(self._thread)
