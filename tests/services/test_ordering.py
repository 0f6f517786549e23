"""Placing with suppliers: what may be recorded, what it quotes, what is taken back, and by whom."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from specreg.core.errors import NotFound, NotPermitted, Refused, WrongUse
from specreg.core.purchases import Purchase
from specreg.services import altering, ordering
from specreg.services.office import Office
from specreg.services.ordering import Placing, order_list_at, place, placed_so_far, take_back
from specreg.services.reading import OfficeReader
from specreg.services.taking_in import take_in
from specreg.services.upkeep import verify
from tests.services.office_for_tests import (
    SECTIONS,
    as_person,
    issue_all,
    new_office,
    note_opened,
    second_program,
    tiny_order_folder,
    with_order,
    with_revision_a,
)
from tests.services.order_to_cut import order_to_cut

ON = Placing("P 17", "A rope works", due="2027-01-29")


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order at revision A."""
    made = with_revision_a(tmp_path)
    yield made
    made.book.close()


def piece(office: Office, number: str, at: str = ""):
    found = order_list_at(office, at).found.of(number)
    assert found is not None, number
    return found


def test_all_that_is_wanted_is_placed_with_what_is_quoted(office):
    assert place(office, ON, {"4.1.2": None, "5.2": 3}) == [
        Purchase("4.1.2", "P 17", "A rope works", "2026-11-25", "2027-01-29", "A", 48, "Rack bolt", "", "mild steel",
                 'bar 1 1/4" dia x 5"', "SL-1003 rev -"),
        Purchase("5.2", "P 17", "A rope works", "2026-11-25", "2027-01-29", "A", 3, "Hoisting rope", "", "steel wire",
                 "", ""),
    ]  # fmt: skip
    assert (piece(office, "4.1.2").still, piece(office, "5.2").still) == (0, 1)
    assert [one.number for one in placed_so_far(office)] == ["4.1.2", "5.2"]
    assert verify(office).differences == ()


def test_a_later_revision_shows_what_was_placed_at_an_older_one(office):
    place(office, ON, {"4.1.2": None, "5.2": None})
    note_opened(office, "1")
    altering.alter(office, "4.1.2", {"Size": 'bar 1 1/4" dia x 6"', "Off": "30"}, "1")
    assert piece(office, "4.1.2").outdated == ()
    assert piece(office, "4.1.2", "open").outdated[0][1] == (
        'size was bar 1 1/4" dia x 5", now bar 1 1/4" dia x 6"',
    )  # fmt: skip
    issue_all(office, "1")
    found = order_list_at(office).found
    assert found.outdated == 1 and piece(office, "4.1.2").still == 12
    # What is placed more at the new revision quotes it; the old purchase still says otherwise.
    (more,) = place(office, replace(ON, purchase="P 18"), {"4.1.2": None})
    assert (more.revision, more.pieces) == ("B", 12)
    assert [one.purchase for one, _ in piece(office, "4.1.2").outdated] == ["P 17"]
    take_back(office, "p 17", {"4.1.2": None}, "the old length")
    assert piece(office, "4.1.2").outdated == () and piece(office, "4.1.2").still == 48


def test_an_older_revision_may_be_quoted_by_letter(office):
    note_opened(office, "1")
    altering.alter(office, "4.1.2", {"Size": 'bar 1 1/4" dia x 6"'}, "1")
    issue_all(office, "1")
    (one,) = place(office, replace(ON, revision="a"), {"4.1.2": 5})
    assert (one.revision, one.size) == ("A", 'bar 1 1/4" dia x 5"')
    assert order_list_at(office).found.outdated == 1
    with pytest.raises(WrongUse, match="its open edits are not issued"):
        place(office, replace(ON, revision="open"), {"4.1.2": 5})
    with pytest.raises(NotFound):
        place(office, replace(ON, revision="F"), {"4.1.2": 5})


def test_material_is_placed_before_the_first_issue(tmp_path):
    office = with_order(tmp_path)
    (one,) = place(office, ON, {"4.1.2": None})
    assert (one.revision, one.pieces) == ("", 48)
    assert order_list_at(office).state == "open"
    issue_all(office)
    assert piece(office, "4.1.2").outdated == () and piece(office, "4.1.2").is_placed
    office.book.close()


def test_an_item_deleted_after_it_was_placed_is_told(office):
    place(office, ON, {"4.1.2": None})
    note_opened(office, "1")
    altering.delete(office, "4.1.2", "bolted otherwise", "1")
    issue_all(office, "1")
    assert list(order_list_at(office).found.unwanted) == ["4.1.2"]
    take_back(office, "P 17", {})
    assert order_list_at(office).found.unwanted == {}


def test_all_of_like_lines_is_placed_at_once(office):
    done = place(office, ON, {"5.2": 1}, like="mild steel")
    assert [(one.number, one.pieces) for one in done][:2] == [("5.2", 1), ("4.1.2", 48)]
    assert all(one.material == "mild steel" for one in done[1:])
    with pytest.raises(Refused, match="all of it is placed already"):
        place(office, ON, {}, like="mild steel")
    with pytest.raises(NotFound, match="nothing is called so"):
        place(office, ON, {}, like="unobtainium")


def test_what_has_no_count_is_placed_and_taken_back_whole(tmp_path):
    grease = "| 5.6 | Grease | as required | | grease | | stock | | | |\n"
    sections = {**SECTIONS, "05-hoisting-gear.md": SECTIONS["05-hoisting-gear.md"] + grease}
    office = with_order(tmp_path, sections=sections)
    with pytest.raises(WrongUse, match="it has no count: as required"):
        place(office, ON, {"5.6": 3})
    (one,) = place(office, ON, {"5.6": None})
    assert one.pieces is None and piece(office, "5.6").is_placed
    (back,) = take_back(office, "P 17", {"5.6": None})
    assert back.pieces == 0 and not piece(office, "5.6").is_placed
    office.book.close()


@pytest.mark.parametrize(
    ("placing", "pieces", "says"),
    [
        (replace(ON, supplier=" "), {"5.2": 1}, "its purchase number and its supplier are needed"),
        (replace(ON, purchase=""), {"5.2": 1}, "its purchase number and its supplier are needed"),
        (replace(ON, placed_on="2026-11-26"), {"5.2": 1}, "that day is still to come"),
        (replace(ON, placed_on="25.11.2026"), {"5.2": 1}, "it is no day"),
        (replace(ON, due="2026-02-30"), {"5.2": 1}, "it is no day"),
        (replace(ON, due="2026-11-24"), {"5.2": 1}, "that is before 2026-11-25, when it was placed"),
        (ON, {"5.2": 0}, "0 is no number to place"),
        (ON, {"5.2": -1}, "-1 is no number to place"),
        (ON, {"9.9": 1}, "there is none"),
        (ON, {"4.1": None}, "it is put together from its parts. Where some are had complete, say how many: 4.1=1"),
        (ON, {"5.4": 1}, "it is not ordered: sent by the customer"),
        (ON, {"4.1.2": 1, "5.4": 1}, "it is not ordered: sent by the customer"),
    ],
)
def test_what_cannot_be_placed_is_refused_and_nothing_is_written(office, placing, pieces, says):
    entries = office.book.db.execute("SELECT count(*) FROM day_book").fetchone()
    with pytest.raises((WrongUse, Refused, NotFound), match=says):
        place(office, placing, pieces)
    assert placed_so_far(office) == []
    assert office.book.db.execute("SELECT count(*) FROM day_book").fetchone() == entries


def test_more_than_is_wanted_is_placed_only_when_said(office):
    place(office, ON, {"5.2": None})
    with pytest.raises(Refused, match="all 4 are placed"):
        place(office, ON, {"5.2": None})
    place(office, ON, {"5.2": 1})
    assert piece(office, "5.2").difference == -1


def test_no_more_is_taken_back_than_is_placed(office):
    place(office, ON, {"5.2": 3})
    with pytest.raises(Refused, match="3 are placed on P 17"):
        take_back(office, "P 17", {"5.2": 4})
    with pytest.raises(Refused, match=r"nothing of it stands on P 17"):
        take_back(office, "P 17", {"4.1.2": 1})
    with pytest.raises(NotFound, match="nothing is placed on it"):
        take_back(office, "P 71", {})
    take_back(office, "P 17", {"5.2": 1})
    take_back(office, "P 17", {})
    assert piece(office, "5.2").still == 4
    with pytest.raises(Refused, match="all of it is taken back already"):
        take_back(office, "P 17", {})


def test_who_only_reads_places_nothing(office):
    place(as_person(office, "MB"), ON, {"5.2": 1})
    with pytest.raises(NotPermitted):
        place(as_person(office, "WG"), ON, {"5.2": 1})
    with pytest.raises(NotPermitted):
        take_back(as_person(office, "WG"), "P 17", {})


def test_an_assembly_had_complete_needs_no_parts(office):
    place(office, replace(ON, supplier="on hand"), {"4.1": 1})
    assert (piece(office, "4.1").pieces, piece(office, "4.1").still) == (2, 1)
    assert [(piece(office, number).pieces, piece(office, number).spared) for number in ("4.1.1", "4.1.2", "4.2")] == [
        (12, 12), (24, 24), (2, 0),
    ]  # fmt: skip
    take_back(office, "P 17", {})
    assert piece(office, "4.1.1").pieces == 24 and order_list_at(office).found.of("4.1") is None


def test_a_purchase_has_one_number_and_one_supplier_however_they_are_written(office):
    place(office, ON, {"5.2": 1})
    (more,) = place(office, replace(ON, purchase="p  17", supplier="a Rope Works"), {"5.2": 1})
    assert (more.purchase, more.supplier) == ("P 17", "A rope works")
    with pytest.raises(Refused, match="that purchase is with A rope works"):
        place(office, replace(ON, supplier="Another"), {"5.2": 1})
    with pytest.raises(WrongUse, match="no purchase is named"):
        take_back(office, " ", {})


def test_what_is_doubtful_of_a_purchase_is_told_at_once(office):
    done = place(office, ON, {"5.2": 6})
    assert ordering.doubts_of(office, done) == ["5.2: 2 more are placed than are wanted"]
    assert ordering.doubts_of(office, place(office, replace(ON, purchase="P 18"), {"4.1.2": 3})) == []


def test_the_order_list_has_the_bars_of_the_cutting_list(tmp_path):
    # Common practice, no source: 40 pieces of 40 in from 240 in, 8 bars with a kerf of 1/8 in.
    office = new_office(tmp_path)
    take_in(office, order_to_cut(tmp_path, ("4.1", "40", '3" dia x 40"', "")))
    (line,) = order_list_at(office, "open").found.lines
    assert line.bars is not None and (line.bars.bars, line.bars.is_proved) == (8, True)
    place(office, ON, {"4.1": 35})
    (line,) = order_list_at(office, "open").found.lines
    assert line.bars is not None and line.bars.bars == 1
    office.book.close()


def test_two_clerks_do_not_place_the_same_thing_twice(office):
    other = second_program(office, "MB")
    place(office, ON, {"5.2": None})
    with pytest.raises(Refused, match="all 4 are placed"):
        place(other, replace(ON, purchase="P 18"), {"5.2": None})
    other.book.close()


def test_a_purchase_broken_off_in_the_middle_leaves_nothing(office, monkeypatch):
    real, done = ordering.purchases.add, []

    def failing(*told):
        if done:
            raise KeyboardInterrupt
        done.append(real(*told))

    monkeypatch.setattr(ordering.purchases, "add", failing)
    with pytest.raises(KeyboardInterrupt):
        place(office, ON, {"5.2": None, "4.1.2": None})
    monkeypatch.undo()
    assert placed_so_far(office) == [] and verify(office).differences == ()


def test_an_outsiders_item_keeps_what_is_placed_when_it_is_renumbered(tmp_path):
    office = with_order(tmp_path, numbering="theirs")
    place(office, ON, {"5.2": None})
    moved = SECTIONS["05-hoisting-gear.md"].replace("| 5.2 |", "| 5.9 |")
    take_in(office, tiny_order_folder(tmp_path, {**SECTIONS, "05-hoisting-gear.md": moved}, numbering="theirs"))
    found = order_list_at(office, "open").found
    assert found.of("5.2") is None and found.unwanted == {}
    assert piece(office, "5.9", "open").is_placed
    # Either number names it, and the whole purchase is taken back under one.
    take_back(office, "P 17", {"5.9": 1})
    take_back(office, "P 17", {"5.2": 1})
    take_back(office, "P 17", {})
    assert piece(office, "5.9", "open").still == 4
    place(office, replace(ON, revision=""), {"5.9": None})
    again = moved.replace("| 5.9 | Hoisting rope |", "| 5.9 | Gauge glass |")
    take_in(office, tiny_order_folder(tmp_path, {**SECTIONS, "05-hoisting-gear.md": again}, numbering="theirs"))
    office.book.close()


def test_what_is_late_is_counted_by_the_day(tmp_path):
    rows = SECTIONS["05-hoisting-gear.md"].replace("| Remarks |\n|", "| Remarks | Wanted | Lead time |\n|---|---|")
    rows = rows.replace("| galvanised |", "| galvanised | 2027-01-29 | 10 weeks |")
    office = with_order(tmp_path, sections={**SECTIONS, "05-hoisting-gear.md": rows})
    found = order_list_at(office).found
    assert [found.late(date.fromisoformat(day)) for day in ("2026-11-20", "2026-11-21")] == [0, 1]
    waits = [(one.sign, one.count, one.text) for one in OfficeReader(office).desk().out_of_order]
    assert ("x", 1, "item past the day to order") in waits
    place(office, ON, {"5.2": None})
    assert order_list_at(office).found.late(date(2026, 11, 21)) == 0
    assert not [one for one in OfficeReader(office).desk().out_of_order if "to order" in one.text]
    office.book.close()


def test_the_desk_tells_of_what_was_placed_and_says_otherwise_now(office):
    place(office, ON, {"4.1.2": None, "5.2": None, "4.2.1": None})
    note_opened(office, "1")
    altering.alter(office, "4.1.2", {"Size": 'bar 1 1/4" dia x 6"'}, "1")
    altering.delete(office, "4.2.1", "made in one with the shaft", "1")
    told = [(one.sign, one.count, one.text) for one in OfficeReader(office).desk().out_of_order]
    assert ("x", 2, "items placed, altered since") in told
