"""Invented drawings and comparisons, for the fake reader."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from specreg.core.comparing import Counts
from specreg.core.errors import NotFound
from specreg.core.model import Sheet
from specreg.core.word_changes import word_changes
from specreg.services.comparison_readings import ChangeLaid, ComparisonPage, FieldLaid, StateLine
from specreg.services.drawing_readings import CalledBy, DrawingLine, DrawingPage, SheetSaid

if TYPE_CHECKING:
    from tests.tui.fake_reader import FakeBook

ISSUED = Sheet(
    "SL-1001", "", "1", "Slewing rack", "A1", '3/4" = 1 ft', "", "-", "2026-04-20", "issued", "L.M. 2026-03-30",
    "R.C. 2026-04-10", "J.D. 2026-04-16", "2026-04-27",
)  # fmt: skip
SHEETS = (
    ISSUED,
    replace(ISSUED, number="SL-1002", sheet="1", of="3", title="Slewing rack details, rack segment", scale='3" = 1 ft',
            hand="as drawn and opposite", replaces="T 2177", remarks="one pattern for both hands"),
    replace(ISSUED, number="SL-1002", sheet="2", of="3", title="Slewing rack details, bolts and dowels", size="A3",
            scale='3" = 1 ft', revision="A", stage="drawn", checked="", approved="", planned="2026-05-04",
            machines="1471-1472"),
    replace(ISSUED, number="SL-1002", sheet="3", of="3", title="Slewing rack details, guard", size="A3", revision="",
            date="", stage="planned", drawn="", checked="", approved="", planned="2999-05-04"),
    replace(ISSUED, number="SL-1003", title="Rack bolts and washers", revision="B", date="2026-10-12"),
    replace(ISSUED, number="SL-1004", title="Roller path segments, lower path", stage="cancelled", approved=""),
    replace(ISSUED, number="GA-101", title="General arrangement, elevation", size="A0", remarks="general arrangement"),
    replace(ISSUED, number="SL-0900", title="Rack bolts, former pattern", stage="superseded", planned="2020-01-01"),
)  # fmt: skip
CALLED = {"SL-1001": 4, "SL-1002/1": 31, "SL-1002/2": 12, "SL-1003": 2, "SL-1004": 1}
LONG_TEXT = (
    "The bolts shall be turned from bar and the threads cut, not rolled. Heads shall be faced square with the shank. "
    "Each bolt shall be stamped on the head with the number of the item, and a bolt longer than 6 in on the shank "
    "too. Bolts of one machine shall be kept together and go to the erecting shop in one box. The length under the "
    "head shall be {length} and the thread shall take a nut by hand over its whole length. Bolts shall be proved at "
    "{load} each and the proof be entered in the record of the machine, where the inspecting authority finds it. "
    "Rust shall be kept off with tallow until the bolts are put in, and no bolt shall be heated to get it home."
)
STATES = (StateLine("A", "2026-03-04", 2410), StateLine("B", "2026-10-12", 2497), StateLine("open", "", 2498))


def field(label: str, old: str, new: str) -> FieldLaid:
    """One field laid out as the program does."""
    return FieldLaid(label, old, new, word_changes(old, new))


def change(sign: str, number: str, title: str, *fields: FieldLaid, **more: object) -> ChangeLaid:
    """One change with what is usual left out."""
    plain = ChangeLaid("item", sign, number, "", title, False, fields, "", "")
    return replace(plain, **more)  # type: ignore[arg-type]


CHANGES = (
    change("»", "4.1.1", "Rack segment", field("Off", "12 per 4.1", "14 per 4.1"),
           field("Weight", "3 cwt 1 qr 17 lb", "3 cwt 2 qr 4 lb"), field("Number off", "36", "42"), safety=True,
           note="117"),
    change("»", "4.1.2", "Rack bolt", field("Size", '1 1/4" dia × 4 1/2"', '1 1/4" dia × 5"'),
           field("Text", LONG_TEXT.format(length='4 1/2 in', load="5 tons"),
                 LONG_TEXT.format(length="5 in", load="6 1/2 tons")), note="117"),
    change("+", "4.1.2A", "Lock washer", note="117"),
    change("-", "4.1.3", "Dowel", why="deleted: riveted now", note="118"),
    change("»", "4.1.5", "Pinion shaft", field("Material", "", "steel, forged"), field("Remarks", "as order W 598", ""),
           note="118"),
    change("=", "6.21", "Pendant bracket", former="6.20"),
    change("=", "6.22", "Pendant", field("Text", "To be  hung  level.", "To be hung level.")),
    change("»", "9.3.8", "Drum end", field("Size", '2\' 6" dia', '2\' 6 1/2" dia'), former="9.3.7", safety=True,
           note="118"),
    change("»", "SL-1003", "Rack bolts and washers", field("Revision", "A", "B"), kind="drawing"),
)  # fmt: skip


@dataclass
class FakeRegister:
    """What the fake readers of one program know of drawings and comparisons; a test may put in other things."""

    sheets: tuple[Sheet, ...] = SHEETS
    states: tuple[StateLine, ...] = STATES
    changes: tuple[ChangeLaid, ...] = CHANGES


class FakeDrawings:
    """The part of the fake reader that knows drawings and comparisons."""

    _book: FakeBook

    def _enter(self) -> None:
        raise NotImplementedError

    def drawings(self) -> tuple[DrawingLine, ...]:
        self._enter()
        return tuple(DrawingLine(sheet, CALLED.get(sheet.name, 0)) for sheet in self._book.register.sheets)

    def drawing(self, number: str) -> DrawingPage:
        self._enter()
        register = self._book.register.sheets
        meant = next((sheet.number for sheet in register if number in (sheet.number, sheet.name)), None)
        if meant is None:
            raise NotFound(f"Drawing {number}", "it is not in the register", "Find it by a part of its number")
        sheets = tuple(sheet for sheet in register if sheet.number == meant)
        said = [SheetSaid(sheet, "2026-10-12") for sheet in sheets]
        said += [
            SheetSaid(replace(sheet, revision="-", stage="planned", drawn="", checked=""), "2026-02-02")
            for sheet in sheets
            if sheet.stage != "planned"
        ]
        called = any(sheet.name in CALLED for sheet in sheets)
        return DrawingPage(
            meant,
            sheets,
            tuple(said),
            (
                CalledBy("4.1.1", "Rack segment", meant, True, ("PAT", "FDY", "MCH", "ERE")),
                CalledBy("4.1.2", "Rack bolt, turned from bar, with its nut", f"{meant}/2", False,
                         ("SMI", "MCH", "ERE", "STO")),
            ) if called else (),
            ("W 598", "W 603") if called else (),
        )  # fmt: skip

    def states(self) -> tuple[StateLine, ...]:
        self._enter()
        return self._book.register.states

    def comparison(self, old: str, new: str, department: str) -> ComparisonPage:
        self._enter()
        changes = self._book.register.changes
        if department:
            mine = tuple(one for one in changes if one.sign in "+»" and one.kind == "item")
            words = f"108 lines at {old} + 1 added - 0 withdrawn = 109 at {new}; {len(mine) - 1} altered"
            return ComparisonPage(old, new, mine, Counts(1, 0, len(mine) - 1, 0, 0, 0, 104), department, words)
        signs = Counter(one.sign for one in changes if one.kind == "item")
        only = sum(1 for one in changes if not one.real and one.former)
        return ComparisonPage(
            old, new, changes, Counts(signs["+"], signs["-"], signs["»"], only, only, signs["="] - only, 2400)
        )


def many_changes(count: int) -> tuple[ChangeLaid, ...]:
    """So many changes, every fifth of them a long text."""
    texts = [LONG_TEXT.format(length=f"{at} in", load="5 tons") for at in (4, 5)]
    long = field("Text", *texts)
    short = field("Size", '1 1/4" dia × 4 1/2"', '1 1/4" dia × 5"')
    return tuple(
        change("»", f"{at // 100 + 1}.{at % 100 + 1}", "Rack bolt", short if at % 5 else long, note="117")
        for at in range(count)
    )
