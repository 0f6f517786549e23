"""Every check but those of allocation: an order with the fault, and the same order without it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specreg.core.checks import completeness, drawings, faults_of, quantities
from specreg.core.faults import Place, Severity
from specreg.core.model import Item, Kind, Layout, Order, Sheet, State
from specreg.core.numbering import number_key
from specreg.core.picture import Called, Picture, RowSetAside
from specreg.core.routing import Allocator
from specreg.core.standards import House, Material, Standards
from tests.strategies import DEPARTMENTS

WORKS = Standards(House("Practice works"), DEPARTMENTS)
SECTION = Item("4", Kind.SECTION, Layout.HEADING, "4", "Slewing gear")
BOLT = Item(
    "4.1", Kind.ITEM, Layout.ROW, "4", "Rack bolt", off="12", per="machine", material="mild steel", supply="make",
    drawing="SL-1", route="ERE all",
)  # fmt: skip
SHEET = Sheet(
    "SL-1", "1", "1", "Rack", size="A1", revision="A", stage="issued", drawn="HP", checked="WG", approved="JD"
)


def picture(*items: Item, sheets: tuple[Sheet, ...] = (SHEET,), **said: object) -> Picture:
    """An order of these items, each calling up those sheets that bear the number it names."""
    allocator = Allocator(WORKS)
    calls = {
        number_key(one.number): tuple(
            Called(written, tuple(sheet for sheet in sheets if written in (sheet.number, sheet.name)))
            for written in one.drawings
        )
        for one in items
    }
    order = Order("W 1", "Three cranes", machines="1-3")
    made = Picture(
        order, WORKS, items, {number_key(one.number): allocator.unnumbered(one) for one in items}, calls, sheets
    )
    return replace(made, **said)


def test_a_sound_order_has_no_fault() -> None:
    assert faults_of(picture(SECTION, BOLT)) == []


FAULTY = [
    ("no description", Severity.WARNING, (SECTION, replace(BOLT, title=""))),
    ("ditto mark", Severity.WARNING, (SECTION, replace(BOLT, material="do."))),
    ("ditto mark", Severity.WARNING, (SECTION, replace(BOLT, remarks="as above"))),
    ("no material", Severity.WARNING, (SECTION, replace(BOLT, material=""))),
    ("number used twice", Severity.STOP, (SECTION, BOLT, replace(BOLT, title="Another"))),
    ("number not of the house form", Severity.WARNING, (SECTION, replace(BOLT, number="4/1"))),
    ("number outside its section", Severity.WARNING, (SECTION, replace(BOLT, number="5.1"))),
    ("number off not reckoned", Severity.STOP, (SECTION, replace(BOLT, per=""))),
    ("number off not reckoned", Severity.STOP, (SECTION, replace(BOLT, per="4.9"))),
    ("machines not read", Severity.ERROR, (SECTION, replace(BOLT, machines="99"))),
    ("number off not reckoned", Severity.STOP, (SECTION, replace(BOLT, off="0"))),
    ("number off not reckoned", Severity.STOP, (SECTION, replace(BOLT, spares="some"))),
    ("no drawing", Severity.ERROR, (SECTION, replace(BOLT, drawing=""))),
    ("no such day", Severity.ERROR, (SECTION, replace(BOLT, wanted="2027-02-30"))),
    ("drawing not registered", Severity.STOP, (SECTION, replace(BOLT, drawing="SL-1, SL-99"))),
]


@pytest.mark.parametrize(
    ("name", "severity", "items"), FAULTY, ids=[f"{row[0]} {place}" for place, row in enumerate(FAULTY)]
)
def test_a_faulty_item_is_told_by_the_name_of_the_check(name: str, severity: Severity, items: tuple[Item, ...]) -> None:
    found = [fault for fault in faults_of(picture(*items)) if fault.name == name]
    assert [(fault.severity, fault.subject) for fault in found] == [(severity, items[-1].number)]
    assert items[-1].number in found[0].text


def test_a_deleted_item_is_asked_for_nothing() -> None:
    gone = replace(BOLT, state=State.DELETED, reason="no longer wanted", drawing="SL-99", material="", per="")
    assert [fault.name for fault in faults_of(picture(SECTION, gone, sheets=()))] == []


@pytest.mark.parametrize("written", ["none needed", "-", "No drawing needed"])
def test_an_item_may_say_that_no_drawing_is_needed(written: str) -> None:
    found = list(drawings.made_from_a_drawing(picture(SECTION, replace(BOLT, drawing=written))))
    assert found == []


def test_an_assembly_of_other_items_needs_no_material() -> None:
    whole = replace(BOLT, number="4.2", title="Rack", material="")
    part = replace(BOLT, number="4.2.1", per="4.2")
    assert list(completeness.material(picture(SECTION, whole, part))) == []
    assert [one.subject for one in completeness.material(picture(SECTION, whole))] == ["4.2"]


@pytest.mark.parametrize("clearance", ["hold", "material only", "HOLD"])
def test_a_held_item_may_stand_on_a_drawing_not_yet_approved(clearance: str) -> None:
    drawn = replace(SHEET, stage="drawn")
    (fault,) = drawings.made_from_approved_drawings(picture(SECTION, BOLT, sheets=(drawn,)))
    assert (fault.name, fault.severity) == ("drawing not approved", Severity.STOP)
    held = replace(BOLT, clearance=clearance)
    assert list(drawings.made_from_approved_drawings(picture(SECTION, held, sheets=(drawn,)))) == []


def test_a_house_may_hold_what_says_nothing_of_its_clearance() -> None:
    works = replace(WORKS, house=replace(WORKS.house, clearance="hold"))
    drawn = replace(SHEET, stage="planned")
    assert list(drawings.made_from_approved_drawings(picture(SECTION, BOLT, sheets=(drawn,), standards=works))) == []


def test_a_row_set_aside_is_a_stop_that_names_its_file_and_line() -> None:
    row = RowSetAside(Place("spec/04.md", 22), "| 4.1 | Bolt |", "2 cells, and the head has 5.")
    (fault,) = completeness.rows_set_aside(picture(SECTION, BOLT, set_aside=(row,)))
    assert fault.severity is Severity.STOP
    assert fault.where == "spec/04.md, line 22"
    assert "2 cells" in fault.text and "| 4.1 | Bolt |" in fault.text


def test_a_listed_drawing_that_nothing_calls_up_is_a_warning_unless_it_is_an_arrangement() -> None:
    spare = Sheet("SL-2", title="Dowel", stage="issued", drawn="HP", checked="WG", approved="JD")
    (fault,) = drawings.listed_drawings_called(picture(SECTION, BOLT, sheets=(SHEET, spare)))
    assert (fault.severity, fault.subject) == (Severity.WARNING, "SL-2")
    for excused in (
        replace(spare, title="General arrangement"),
        replace(spare, remarks="wiring diagram"),
        replace(spare, stage="not used"),
        replace(spare, stage="cancelled"),
    ):
        assert list(drawings.listed_drawings_called(picture(SECTION, BOLT, sheets=(SHEET, excused)))) == []


@pytest.mark.parametrize(
    ("drawn", "checked", "approved", "faults"),
    [
        ("HP", "WG", "JD", []),
        ("HP", "HP", "JD", ["one person signed twice"]),
        ("H.P. 2026-02-25", "H.P. 2026-03-02", "J.D. 2026-03-09", ["one person signed twice"]),
        ("H.P. 2026-02-25", "W.G. 2026-03-02", "J.D. 2026-03-09", []),
        ("not recorded", "not recorded", "not recorded", []),
        ("", "", "JD", ["sheet not signed"]),
        ("", "JD", "JD", ["sheet not signed", "one person signed twice"]),
    ],
)
def test_a_sheet_is_drawn_checked_and_approved_by_different_people(
    drawn: str, checked: str, approved: str, faults: list[str]
) -> None:
    sheet = replace(SHEET, drawn=drawn, checked=checked, approved=approved)
    found = list(drawings.sheets_signed(picture(SECTION, BOLT, sheets=(sheet,))))
    assert [fault.name for fault in found] == faults
    # What is not yet approved may still be in one man's hands.
    planned = replace(sheet, stage="drawn")
    assert list(drawings.sheets_signed(picture(SECTION, BOLT, sheets=(planned,)))) == []


@pytest.mark.parametrize(
    ("listed", "of", "severity"),
    [(2, "2", None), (1, "2", Severity.WARNING), (3, "2", Severity.ERROR), (1, "", None)],
)
def test_of_a_drawing_of_so_many_sheets_so_many_are_listed(listed: int, of: str, severity: Severity | None) -> None:
    sheets = tuple(replace(SHEET, sheet=str(place + 1), of=of) for place in range(listed))
    found = list(drawings.sheets_complete(picture(SECTION, BOLT, sheets=sheets)))
    assert [fault.severity for fault in found] == ([severity] if severity else [])


def test_an_unknown_sheet_size_is_noted_and_known_ones_are_not() -> None:
    odd = picture(SECTION, BOLT, sheets=(replace(SHEET, size="Z9"),))
    assert [fault.severity for fault in drawings.sheet_sizes_known(odd)] == [Severity.NOTE]
    for size in ("A0", "A3x3", "Double Elephant", "ANSI D", ""):
        assert list(drawings.sheet_sizes_known(picture(SECTION, BOLT, sheets=(replace(SHEET, size=size),)))) == []


def test_machines_that_cannot_be_read_stop_the_whole_order() -> None:
    wrong = picture(SECTION, BOLT, order=Order("W 1", "Cranes", machines="1473-1471"))
    assert [fault.severity for fault in quantities.machines_known(wrong)] == [Severity.STOP]


def test_a_slip_in_a_material_is_told_with_what_may_be_meant() -> None:
    works = replace(WORKS, materials=(Material("phosphor bronze", also=("ph. bronze",)), Material("mild steel")))
    slip = picture(SECTION, replace(BOLT, material="phosphr bronze"), standards=works)
    (fault,) = completeness.materials_known(slip)
    assert fault.severity is Severity.WARNING and "phosphor bronze" in fault.text
    for right in ("Ph. Bronze", "mild steel"):
        known = picture(SECTION, replace(BOLT, material=right), standards=works)
        assert list(completeness.materials_known(known)) == []


@pytest.mark.parametrize("label", ["date", "planned", "drawn", "checked", "approved"])
def test_a_day_that_is_none_is_told_wherever_it_stands(label: str) -> None:
    wrong = replace(SHEET, **{label: "H.P. 2027-13-40"})
    found = list(completeness.dates_are_days(picture(SECTION, BOLT, sheets=(wrong,))))
    assert [(fault.name, fault.subject) for fault in found] == [("no such day", "SL-1")]
    right = replace(SHEET, **{label: "H.P. 2028-02-29"})
    assert list(completeness.dates_are_days(picture(SECTION, BOLT, sheets=(right,)))) == []


def test_an_outsiders_numbers_may_have_any_form() -> None:
    theirs = Order("T 1", "Wagons", machines="1-2", numbering="theirs")
    odd = replace(BOLT, number="R 17/b")
    assert list(completeness.numbers_in_form(picture(SECTION, odd, order=theirs))) == []


def test_a_part_for_a_machine_that_its_assembly_is_not_for_is_wanted_nowhere() -> None:
    whole = replace(BOLT, number="4.2", title="Rack", machines="1")
    part = replace(BOLT, number="4.2.1", per="4.2", machines="2")
    found = [(fault.name, fault.subject) for fault in faults_of(picture(SECTION, whole, part))]
    assert found == [("number off not reckoned", "4.2.1")]


def test_the_gravest_fault_comes_first() -> None:
    found = faults_of(picture(SECTION, replace(BOLT, drawing="SL-99", material="do.", per=""), sheets=()))
    weights = [list(Severity).index(fault.severity) for fault in found]
    assert weights == sorted(weights) and len(set(weights)) > 1
