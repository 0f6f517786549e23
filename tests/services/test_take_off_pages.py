"""The pages of the take-off: sums that add up, the items under each, what is still to be chased."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import pytest

from specreg.core.errors import NotFound
from specreg.core.measures.units import HUNDREDWEIGHT
from specreg.core.picture import Picture
from specreg.core.take_off import take_off
from specreg.core.weighing import Standing
from specreg.services import altering
from specreg.services.office import Office
from specreg.services.reading import OfficeReader
from specreg.services.take_off_pages import no_take_off, sum_page, take_off_page
from specreg.services.take_off_readings import SumKind
from specreg.services.taking_off import Taken
from tests.core.weighed_order import CAUTIONS, ISSUED, metric
from tests.services.office_for_tests import note_opened, with_order, with_revision_a


def taken(picture: Picture = ISSUED, state: str = "B") -> Taken:
    return Taken(state, picture, take_off(picture))


@pytest.fixture
def office(tmp_path) -> Iterator[Office]:
    made = with_revision_a(tmp_path)
    yield made
    made.book.close()


def test_the_page_holds_every_sum_and_what_is_to_be_chased():
    page = take_off_page(taken())
    assert (page.revision, page.units, page.cautions) == ("B", "imperial", CAUTIONS)
    assert [one.name for one in page.sections] == ["4 Slewing gear", "5 Hoisting gear"]
    assert sum((one.mass for one in page.sections), Fraction(0)) == page.whole.mass
    assert sum((one.mass for one in page.materials), Fraction(0)) == page.whole.mass
    assert [(one.number, one.standing) for one in page.wanting] == [
        ("4.1.3", Standing.NO_WEIGHT), ("4.1.4", Standing.NO_COUNT),
    ]  # fmt: skip
    assert page.uncounted == 1 and all(one.why for one in page.wanting)
    assert [one.number for one in page.doubtful] == ["5.1"]
    assert take_off_page(taken(state="open")).revision == ""
    assert take_off_page(taken(metric(ISSUED))).units == "metric"


@pytest.mark.parametrize("kind", list(SumKind))
def test_the_items_under_a_sum_make_it(kind):
    page = take_off_page(taken())
    for one in page.sums(kind):
        found = sum_page(taken(), kind, one.name)
        assert found.total == one
        assert sum((line.every for line in found.lines if line.every is not None), Fraction(0)) == one.mass
        assert sum((line.to_order for line in found.lines if line.to_order is not None), Fraction(0)) == one.to_order
        assert found.names == tuple(other.name for other in page.sums(kind))


def test_a_department_has_its_own_pieces_and_no_patterns():
    foundry = sum_page(taken(), SumKind.DEPARTMENT, "FDY Foundry")
    (segment,) = foundry.lines
    assert (segment.number, segment.off, segment.to_order) == ("4.1.1", "37", 37 * 4 * HUNDREDWEIGHT)
    assert "PAT" not in {one.name.split()[0] for one in take_off_page(taken()).departments}


def test_a_sum_that_is_not_there_is_refused():
    with pytest.raises(NotFound, match="nothing stands under it"):
        sum_page(taken(), SumKind.MATERIAL, "unobtainium")


def test_the_reader_takes_off_what_is_issued_and_what_stands(office):
    reader = OfficeReader(office)
    issued = reader.take_off(False)
    assert issued.revision == "A" and issued.whole.items == 12
    note_opened(office, "1")
    altering.alter(office, "4.2", {"Weight": "2 cwt"}, "1")
    stands = reader.take_off(True)
    assert (stands.revision, stands.whole.mass) == ("", issued.whole.mass + 4 * HUNDREDWEIGHT)
    assert reader.take_off(False) == issued
    found = reader.sum_page(SumKind.MATERIAL, "cast steel", True)
    assert [line.number for line in found.lines if line.every is not None] == ["4.2"]


def test_an_order_not_yet_issued_is_taken_off_as_it_stands_and_a_desk_without_one_has_nothing(tmp_path):
    office = with_order(tmp_path)
    assert OfficeReader(office).take_off(False).revision == ""
    office.book.close()
    assert no_take_off().whole.items == 0
