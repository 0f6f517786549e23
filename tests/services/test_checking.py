"""The checks on a real book: each fault is told where it stands, and only there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from specreg.core.faults import Severity
from specreg.core.model import Sheet
from specreg.services.allocating import allocate
from specreg.services.altering import alter, delete, insert
from specreg.services.checking import check
from specreg.services.entering import put_in_register
from specreg.services.office import Office
from specreg.services.reading import OfficeReader
from tests.services.office_for_tests import SECTIONS, with_order

SIGNED = {"drawn": "H.P.", "checked": "W.G.", "approved": "J.D."}


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order, allocated."""
    made = with_order(tmp_path)
    yield made
    made.book.close()


def entered(office: Office, sheet: Sheet) -> None:
    """Put a sheet in the register as a drawing list does, which may say less than is asked of one entered by hand."""
    with office.book.act(office.person.code, "take in drawings", office.now, office.order_id) as act:
        put_in_register(office, act, [sheet])


def told(office: Office) -> set[tuple[str, str, Severity]]:
    """Name, subject and severity of every fault."""
    faults = check(office).faults
    return {(fault.name, fault.subject, fault.severity) for fault in faults if fault.name != "not signed"}


def test_the_practice_order_has_nothing_that_bars_it(office: Office) -> None:
    assert check(office).barring == ()


@pytest.mark.parametrize(
    ("number", "said", "fault"),
    [
        ("4.1.2", {"Drawing": "SL-1099"}, ("drawing not registered", Severity.STOP)),
        ("4.1.2", {"Off": "many"}, ("number off not reckoned", Severity.STOP)),
        ("4.1.2", {"Per": "9.9"}, ("number off not reckoned", Severity.STOP)),
        ("4.1.2", {"Per": "4.1.2"}, ("number off not reckoned", Severity.STOP)),
        ("4.1.2", {"Machines": "1479"}, ("machines not read", Severity.ERROR)),
        ("4.1.2", {"Spares": "some"}, ("number off not reckoned", Severity.STOP)),
        ("4.1.2", {"Off": "0"}, ("number off not reckoned", Severity.STOP)),
        ("4.1.2", {"Material": "do."}, ("ditto mark", Severity.WARNING)),
        ("4.1.2", {"Material": ""}, ("no material", Severity.WARNING)),
        ("4.1.2", {"Description": "", "Text": ""}, ("no description", Severity.WARNING)),
        ("5.1.1", {"Drawing": ""}, ("no drawing", Severity.ERROR)),
    ],
)  # fmt: skip
def test_a_fault_is_told_at_its_item(
    office: Office, number: str, said: dict[str, str], fault: tuple[str, Severity]
) -> None:
    before = told(office)
    alter(office, number, said)
    allocate(office)
    name, severity = fault
    assert (name, number, severity) in told(office) - before


@pytest.mark.parametrize(
    ("sheet", "fault"),
    [
        (Sheet("SL-1003", "", "1", "Rack bolt", revision="-", stage="drawn"), "drawing not approved"),
        (Sheet("SL-1003", "", "1", "Rack bolt", revision="-", stage="issued", drawn="H.P.", checked="H.P.",
               approved="J.D."),
         "one person signed twice"),
        (Sheet("SL-1003", "", "1", "Rack bolt", size="A9", revision="-", stage="issued", **SIGNED),
         "sheet size not known"),
        (Sheet("SL-1003", "2", "1", "Rack bolt", revision="-", stage="issued", **SIGNED), "sheets missing"),
        (Sheet("SL-1003", "", "1", "Rack bolt", revision="-", stage="issued"), "sheet not signed"),
        (Sheet("SL-1050", "", "1", "Guard", revision="-", stage="issued", **SIGNED), "drawing called up by nothing"),
    ],
)  # fmt: skip
def test_a_fault_of_the_register_is_told(office: Office, sheet: Sheet, fault: str) -> None:
    before = {name for name, _, _ in told(office)}
    entered(office, sheet)
    assert {name for name, _, _ in told(office)} - before == {fault}


def test_a_drawing_called_up_by_a_heading_alone_is_called_up(tmp_path: Path) -> None:
    name = "04-slewing-gear.md"
    said = SECTIONS[name].replace("# 4 Slewing gear\n", "# 4 Slewing gear\n\n- Drawing: SL-1000\n", 1)
    office = with_order(tmp_path, sections={**SECTIONS, name: said})
    entered(office, Sheet("SL-1000", "", "1", "Slewing gear", revision="-", stage="issued"))
    assert not [one for one in told(office) if one[0] == "drawing called up by nothing"]
    (shown,) = OfficeReader(office).item("4").sheets
    assert (shown.name, shown.registered) == ("SL-1000", True)
    office.book.close()


def test_what_only_a_deleted_item_calls_up_is_called_up_by_nothing(office: Office) -> None:
    delete(office, "4.1.2", "riveted")
    assert ("drawing called up by nothing", "SL-1003", Severity.WARNING) in told(office)
    assert not [one for one in told(office) if one[1] == "4.1.2"]


def test_an_item_on_hold_is_not_held_to_an_approved_drawing(office: Office) -> None:
    entered(office, Sheet("SL-1003", "", "1", "Rack bolt", revision="A", stage="planned"))
    assert ("drawing not approved", "4.1.2", Severity.STOP) in told(office)
    for clearance in ("hold", "material only"):
        alter(office, "4.1.2", {"Clearance": clearance})
        assert not [one for one in told(office) if one[0] == "drawing not approved"]
    alter(office, "4.1.2", {"Clearance": "make"})
    assert ("drawing not approved", "4.1.2", Severity.STOP) in told(office)


def test_deleting_an_assembly_is_told_at_every_part_that_is_counted_by_it(office: Office) -> None:
    delete(office, "4.1", "no rack")
    assert {one[1] for one in told(office) if one[0] == "number off not reckoned"} == {"4.1.1", "4.1.2"}


def test_a_part_for_a_machine_that_its_assembly_is_not_for_is_not_reckoned(office: Office) -> None:
    alter(office, "4.1", {"Machines": "1471"})
    alter(office, "4.1.1", {"Machines": "1472"})
    assert {one[1] for one in told(office)} == {"4.1.1"}


def test_parts_counted_in_a_ring_are_told_and_nothing_hangs(office: Office) -> None:
    insert(office, "4.5", {"Description": "Ring", "Off": "1", "Per": "4.1.2", "Material": "mild steel"})
    alter(office, "4.1.2", {"Per": "4.5"})
    names = {one[1] for one in told(office) if one[0] == "number off not reckoned"}
    assert names >= {"4.5", "4.1.2"}


def test_the_gravest_come_first(office: Office) -> None:
    alter(office, "4.1.2", {"Drawing": "SL-1099", "Off": "many", "Material": ""})
    order = [Severity.STOP, Severity.ERROR, Severity.WARNING, Severity.NOTE]
    places = [order.index(fault.severity) for fault in check(office).faults]
    assert places == sorted(places)
    assert places[0] == 0
