"""The sample order at the size of a real one, and as a reader of the trade would have it.

What a works does with a casting, a forging, a pressure part or a standard bolt is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from specreg.core.faults import Severity
from specreg.core.model import Item, Layout, Route, Stage
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.output.founts import founts
from specreg.output.sheets import laid_out
from specreg.output.specification_booklet import specification_booklet
from specreg.services.allocating import Allocated, allocate
from specreg.services.printing import specification
from specreg.services.standing import as_it_stands
from specreg.services.taking_in import TakenIn, take_in
from specreg.settings import shipped_folder
from tests.services.office_for_tests import new_office

SAMPLE = shipped_folder("sample_spec")
USED_AS_CAST = ("ballast", "counterweight", "fire bar", "dead plate", "protecting ring", "weight", "grid")
STOCK_FASTENINGS = ("nut ", "split pin", "washer", "bolt", "set screw", "stud")


@dataclass(frozen=True)
class Sample:
    """The sample taken in and allocated: what was said of it, and the picture."""

    taken: TakenIn
    allocated: Allocated
    picture: Picture
    sheets: int

    def routed(self) -> Iterator[tuple[Item, Route, list[str]]]:
        """Every item with its route and the departments of its steps."""
        for item, route in self.picture.routed:
            yield item, route, [step.department for step in route.steps]


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Sample]:
    office = new_office(tmp_path_factory.mktemp("sample"))
    taken, allocated = take_in(office, SAMPLE), allocate(office)
    sheets = len(laid_out(specification_booklet(specification(office, "open")), founts()).sheets)
    yield Sample(taken, allocated, as_it_stands(office), sheets)
    office.book.close()


def test_it_is_of_the_size_of_a_real_order_and_taken_in_without_a_stop(sample: Sample) -> None:
    picture = sample.picture
    assert len(picture.lines) >= 2500
    assert len({item.section for item in picture.items}) >= 18
    assert len({sheet.number for sheet in picture.sheets}) >= 370
    assert len(picture.sheets) > len({sheet.number for sheet in picture.sheets})
    assert len(picture.standards.departments) >= 12
    assert sample.taken.set_aside == ()
    assert not [one for one in (*sample.taken.flags, *sample.taken.doubts) if one.severity is Severity.STOP]


def test_it_prints_to_three_hundred_sheets_or_more(sample: Sample) -> None:
    assert sample.sheets >= 300


def test_the_rules_allocate_all_of_it_with_few_routes_written_by_hand(sample: Sample) -> None:
    assert sample.allocated.unallocated == 0
    assert len(sample.picture.standards.rules) >= 40
    own = [item.number for item in sample.picture.lines if item.route]
    assert len(own) < 0.05 * len(sample.picture.lines)


def test_the_works_standards_know_its_words_materials_and_numbers(sample: Sample) -> None:
    standards = sample.picture.standards
    assert sum(map(len, standards.synonyms)) >= 200
    known = standards.materials_by_name
    assert not [item.number for item in sample.picture.lines if item.material and item.material not in known]
    assert {one.of for one in standards.numbers} == {"order", "drawing", "pattern", "part"}


def test_castings_go_from_pattern_shop_to_foundry_or_founders_and_then_to_the_machine_shop(sample: Sample) -> None:
    castings = [(item, codes) for item, _, codes in sample.routed() if item.pattern]
    assert len(castings) > 200
    for item, codes in castings:
        assert codes[0] == "PAT", item.number
        poured = codes.index("BUY" if item.supplied == "buy" else "FDY")
        as_cast = any(word in item.title.lower() for word in USED_AS_CAST)
        assert as_cast or "MCH" in codes[poured:], (item.number, item.title, codes)
    assert not [
        i.number for i in sample.picture.lines if i.supplied == "make" and "cast " in i.material and not i.pattern
    ]


def test_forgings_we_make_go_through_the_smithy_before_the_machine_shop(sample: Sample) -> None:
    forged = [(item, codes) for item, _, codes in sample.routed()
              if item.material == "forged steel" and item.supplied == "make"]  # fmt: skip
    assert len(forged) > 100
    for item, codes in forged:
        assert codes[0] == "SMI", (item.number, codes)


def test_what_holds_pressure_or_a_load_passes_inspection(sample: Sample) -> None:
    for item, route, codes in sample.routed():
        if item.safety and not route.no_action:
            assert "INS" in codes, (item.number, item.title, codes)


def test_every_route_ends_in_the_machine_or_in_the_spare_part_stores(sample: Sample) -> None:
    final = {one.code for one in sample.picture.standards.departments if one.final}
    for item, route, codes in sample.routed():
        assert route.no_action or codes[-1] in final, (item.number, codes)


def test_standard_fastenings_have_no_drawing_and_no_pattern_and_what_is_made_has_one(sample: Sample) -> None:
    fastenings = [item for item in sample.picture.lines if item.supplied == "stock"
                  and item.title.lower().startswith(STOCK_FASTENINGS)]  # fmt: skip
    assert len(fastenings) > 300
    assert not [item.number for item in fastenings if item.drawing or item.pattern]
    assert not [item.number for item in sample.picture.lines if item.supplied == "make" and not item.drawing]


def test_every_row_says_what_a_works_would_give_it(sample: Sample) -> None:
    for item in sample.picture.lines:
        assert item.off and (item.per or "per" in item.off or item.layout is Layout.HEADING), item.number
        assert item.supply, item.number
        if item.layout is Layout.ROW and item.supplied == "make" and "assembled" not in item.title:
            assert item.material or item.number == "10.1.36", item.number
        if item.pattern:
            assert item.weight, item.number
            assert number_key(item.number) in sample.picture.masses


def test_some_drawings_are_still_to_come_and_what_waits_for_them_is_not_cleared_to_make(sample: Sample) -> None:
    stages = {sheet.stage for sheet in sample.picture.sheets}
    assert stages >= {Stage.PLANNED, Stage.DRAWN, Stage.CHECKED, Stage.APPROVED, Stage.ISSUED}
    assert all(sheet.planned for sheet in sample.picture.sheets)
    waiting = [item.clearance for item in sample.picture.lines if item.clearance]
    assert {"hold", "material only"} <= set(waiting)
