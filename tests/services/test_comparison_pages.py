"""The compare page: every change laid out, under which note, for all and for one department's paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from specreg.core.errors import NotFound
from specreg.core.model import Route, Sheet
from specreg.core.numbering import number_key
from specreg.core.word_changes import applied
from specreg.services.allocating import allocate
from specreg.services.altering import alter, delete, insert, restore
from specreg.services.comparing import compare
from specreg.services.comparison_pages import comparison_page, states
from specreg.services.comparison_readings import ChangeLaid, ComparisonPage, StateLine
from specreg.services.entering import enter_sheets
from specreg.services.extracting import make_extracts
from specreg.services.office import Office
from specreg.services.reading import OfficeReader
from specreg.services.standing import as_issued, as_it_stands
from specreg.services.taking_in import take_in
from specreg.store import items, routes
from tests.services.office_for_tests import (
    SECTIONS,
    issue_all,
    new_office,
    note_opened,
    tiny_order_folder,
    with_order,
    with_revision_a,
)

CODES = ("BUY", "FDY", "MCH", "ERE")
SHEET = Sheet("SL-1003", title="Rack bolt", revision="A", stage="issued", drawn="H.P.", checked="W.G.", approved="J.D.")


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    """Revisions A to C, and note 3 open: texts, numbers off, items put in, deleted and restored, a sheet's revision."""
    made = with_revision_a(tmp_path_factory.mktemp("book"))
    note_opened(made, "1")
    alter(made, "4.1", {"Off": "2 per machine"}, "1")
    alter(made, "4.1.2", {"Size": 'bar 1 1/4" dia x 5 1/2"', "Remarks": "black"}, "1")
    alter(made, "5.2", {"Safety": "", "Remarks": "galvanised  "}, "1")
    insert(made, "4.1.1A", {"Description": "Washer", "Off": "2", "Per": "4.1", "Supply": "buy"}, "1")
    delete(made, "5.5", "solid barrel", "1")
    enter_sheets(made, [SHEET, replace(SHEET, number="SL-1009", title="Guard", revision="")])
    issue_all(made, "1")
    note_opened(made, "2")
    restore(made, "5.5", "2")
    alter(made, "4.3", {"Remarks": "in  halves"}, "2")
    alter(made, "4.1.2", {"Size": 'bar 1 1/4" dia x 6"'}, "2")
    insert(made, "5.6", {"Description": "Slip", "Off": "1", "Per": "machine", "Supply": "buy"}, "2")
    delete(made, "5.6", "entered by mistake", "2")
    issue_all(made, "2")
    note_opened(made, "3")
    alter(made, "4.2", {"Off": "2", "Route": "MCH turn; FDY burn in; MCH finish; ERE"}, "3")
    delete(made, "5.3", "hired", "3")
    allocate(made)
    yield made
    made.book.close()


def page_of(office: Office, old: str, new: str, department: str = "") -> ComparisonPage:
    return comparison_page(office, old, new, department)


def by_number(page: ComparisonPage) -> dict[str, ChangeLaid]:
    found = {one.number: one for one in page.changes}
    assert len(found) == len(page.changes)
    return found


def told(change: ChangeLaid) -> dict[str, tuple[str, str]]:
    return {one.label: (one.old, one.new) for one in change.fields}


# States -------------------------------------------------------------------------------------------------------------


def test_every_revision_can_be_compared_and_what_is_open(office: Office) -> None:
    assert [one.name for one in states(office)] == ["A", "B", "C", "open"]
    assert states(office) == (
        StateLine("A", "2026-11-25", 16), StateLine("B", "2026-11-25", 17), StateLine("C", "2026-11-25", 18),
        StateLine("open", "", 18),
    )  # fmt: skip


def test_rows_are_those_of_the_whole_list(office: Office) -> None:
    for one in states(office):
        revision = None if one.name == "open" else office.revision(one.name)
        picture = as_issued(office, revision) if revision else as_it_stands(office)
        assert one.rows == len(picture.items)


def test_open_is_a_state_only_while_something_is_edited(tmp_path: Path) -> None:
    nothing = new_office(tmp_path, name="empty.specreg")
    assert states(nothing) == ()
    nothing.book.close()
    office = with_order(tmp_path)
    assert [one.name for one in states(office)] == ["open"]
    issue_all(office)
    assert [one.name for one in states(office)] == ["A"]
    note_opened(office)
    assert [one.name for one in states(office)] == ["A"], "a note under which nothing stands"
    bolt = items.by_number(office.book, office.order_id, "4.1.2")
    assert bolt is not None
    routes.put_open(office.book, office.order_no, office.order_id, bolt.item_id, "4.1.2",
                    office.note("1").note_id, Route(no_action="left out"))  # fmt: skip
    assert [one.name for one in states(office)] == ["A", "open"], "a route stands open, though no item does"
    office.book.close()


# The whole ----------------------------------------------------------------------------------------------------------


def test_changes_stand_in_the_order_of_the_specification_and_drawings_after_them(office: Office) -> None:
    page = page_of(office, "A", "B")
    assert [(one.sign, one.kind, one.number) for one in page.changes] == [
        ("»", "item", "4.1"),
        ("»", "item", "4.1.1"),
        ("+", "item", "4.1.1A"),
        ("»", "item", "4.1.2"),
        ("»", "item", "5.2"),
        ("-", "item", "5.5"),
        ("»", "drawing", "SL-1003"),
        ("+", "drawing", "SL-1009"),
    ]
    assert (page.old, page.new, page.department, page.lines) == ("A", "B", "", "")


def test_a_number_off_reckoned_otherwise_stands_with_what_else_changed(office: Office) -> None:
    changes = by_number(page_of(office, "A", "B"))
    assert told(changes["4.1"]) == {"Off": ("1 per machine", "2 per machine"), "Number off": ("2", "4")}
    assert told(changes["4.1.1"]) == {"Number off": ("24", "48")}, "altered, though its own words are the same"
    assert (changes["4.1.1"].sign, changes["4.1.1"].note, changes["4.1.1"].title) == ("»", "", "Rack segment")


def test_runs_give_the_new_text_from_the_old_with_a_quantity_whole(office: Office) -> None:
    size = next(one for one in by_number(page_of(office, "A", "B"))["4.1.2"].fields if one.label == "Size")
    assert [(run.old, run.new) for run in size.runs if run.kind == "changed"] == [('5"', '5 1/2"')]
    for old, new in (("A", "B"), ("B", "A"), ("A", "open"), ("C", "open")):
        for change in page_of(office, old, new).changes:
            assert all(applied(one.old, one.runs) == one.new for one in change.fields)


def test_a_change_names_the_note_it_was_made_under(office: Office) -> None:
    notes = {one.number: one.note for one in page_of(office, "A", "open").changes if one.kind == "item"}
    assert notes == {
        "4.1": "1", "4.1.1": "", "4.1.1A": "1", "4.1.2": "2", "4.2": "3", "4.2.1": "", "4.3": "2", "5.2": "1",
        "5.3": "3",
    }  # fmt: skip
    assert by_number(page_of(office, "A", "B"))["4.1.2"].note == "1", "what came later does not count"
    assert by_number(page_of(office, "A", "B"))["5.5"].note == "1"
    assert by_number(page_of(office, "B", "C"))["5.5"].note == "2"


@pytest.mark.parametrize(("old", "new"), [("A", "B"), ("B", "C"), ("A", "open"), ("C", "open")])
def test_the_other_way_round_says_the_opposite_under_the_same_note(office: Office, old: str, new: str) -> None:
    there, back = by_number(page_of(office, old, new)), by_number(page_of(office, new, old))
    assert list(there) == list(back)
    opposite = {"+": "-", "-": "+", "»": "»", "=": "="}
    for number, change in there.items():
        other = back[number]
        assert (other.sign, other.note, other.safety) == (opposite[change.sign], change.note, change.safety)
        assert told(other) == {label: (now, was) for label, (was, now) in told(change).items()}


def test_what_is_deleted_says_why(office: Office) -> None:
    assert by_number(page_of(office, "A", "B"))["5.5"].why == "deleted: solid barrel"
    assert by_number(page_of(office, "B", "A"))["4.1.1A"].why == "no longer in the specification"
    assert by_number(page_of(office, "B", "C"))["5.5"].why == ""


def test_a_lowered_safety_mark_still_marks_the_change(office: Office) -> None:
    assert by_number(page_of(office, "A", "B"))["5.2"].safety
    assert not by_number(page_of(office, "A", "B"))["4.1.2"].safety


def test_spaces_alone_are_no_real_change(office: Office) -> None:
    page = page_of(office, "B", "C")
    cover = by_number(page)["4.3"]
    assert (cover.sign, cover.real, told(cover)) == ("=", False, {"Remarks": ("in halves", "in  halves")})
    assert page.counts.spacing_only == 1
    assert "5.6" not in by_number(page), "put in and deleted before its issue"


def test_drawings_say_between_which_revisions(office: Office) -> None:
    changes = by_number(page_of(office, "A", "B"))
    assert (changes["SL-1003"].title, told(changes["SL-1003"])) == ("Rack bolt", {"Revision": ("-", "A")})
    assert told(changes["SL-1009"]) == {"Revision": ("not listed", "(none)")}
    assert by_number(page_of(office, "B", "A"))["SL-1009"].sign == "-"


@pytest.mark.parametrize("old", ["A", "B", "C", "open"])
@pytest.mark.parametrize("new", ["A", "B", "C", "Open"])
def test_the_counts_are_those_of_the_changes_shown(office: Office, old: str, new: str) -> None:
    page = page_of(office, old, new)
    signs = [one.sign for one in page.changes if one.kind == "item"]
    counts = page.counts
    assert (counts.added, counts.deleted, counts.changed) == tuple(map(signs.count, "+-»"))
    assert counts.renumbered_only + counts.spacing_only == signs.count("=")
    assert all(one.fields for one in page.changes if one.sign in "»=")
    found = compare(office, old, new)
    assert counts.unchanged == found.comparison.counts.unchanged - len(found.number_off_only)
    if old == new.lower():
        assert page.changes == ()


def test_an_outsiders_renumbering_stands_apart_and_says_the_former_number(tmp_path: Path) -> None:
    sections = {"01-general.md": "# 1 General\n\n## 1.1 Finish\n\nAll castings to be fettled and primed.\n\n"
                "## 1.2 Paint\n\nThree coats of  grey.\n\n## 1.3 Plates\n\nOf brass, engraved.\n",
                "04-slewing-gear.md": SECTIONS["04-slewing-gear.md"]}  # fmt: skip
    office = with_order(tmp_path, sections=sections, numbering="theirs")
    issue_all(office)
    note_opened(office)
    general = (
        sections["01-general.md"].replace("# 1.3", "# 1.5").replace("# 1.2", "# 1.4").replace("of  grey", "of grey")
    )
    general = general.replace("# 1.1 Finish\n", "# 1.1 Access\n\nBy ladder.\n\n## 1.2 Finish\n").replace(
        "Of brass, engraved", "Of brass, engraved and waxed after engraving"
    )
    take_in(office, tiny_order_folder(tmp_path, {**sections, "01-general.md": general}, into="re", numbering="theirs"))
    page = page_of(office, "A", "open")
    shown = [(one.sign, one.number, one.former) for one in page.changes]
    assert shown == [("+", "1.1", ""), ("=", "1.2", "1.1"), ("=", "1.4", "1.2"), ("»", "1.5", "1.3")]
    assert {one.note for one in page.changes} == {"1"}
    assert (page.counts.renumbered, page.counts.renumbered_only, page.counts.spacing_only) == (3, 2, 1)
    back = page_of(office, "open", "A")
    assert [(one.sign, one.number, one.former) for one in back.changes if one.former] == [
        ("=", "1.1", "1.2"), ("=", "1.2", "1.4"), ("»", "1.3", "1.5"),
    ]  # fmt: skip
    assert {one.note for one in back.changes} == {"1"}
    office.book.close()


def test_a_renumbered_item_of_another_number_off_is_altered(tmp_path: Path) -> None:
    office = with_order(tmp_path, numbering="theirs")
    issue_all(office)
    note_opened(office)
    gear = SECTIONS["04-slewing-gear.md"].replace("| 4.3 |", "| 4.4 |")
    again = {**SECTIONS, "04-slewing-gear.md": gear}
    take_in(office, tiny_order_folder(tmp_path, again, into="again", numbering="theirs", machines="1471-1473"))
    page = page_of(office, "A", "open")
    cover = by_number(page)["4.4"]
    assert (cover.sign, cover.former, told(cover)) == ("»", "4.3", {"Number off": ("2", "3")})
    assert (page.counts.renumbered, page.counts.renumbered_only) == (1, 0)
    assert page.counts.changed == sum(one.sign == "»" for one in page.changes)
    office.book.close()


# One department -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize(("old", "new"), [("A", "B"), ("B", "A"), ("A", "open"), ("open", "C"), ("C", "C")])
def test_a_departments_changes_are_those_of_its_paper(office: Office, code: str, old: str, new: str) -> None:
    page = page_of(office, old, new, code.lower())
    found = compare(office, old, new, code)
    lines = found.lines
    assert lines is not None
    signs = [one.sign for one in page.changes]
    assert (signs.count("+"), signs.count("»"), signs.count("-")) == (lines.added, lines.altered, len(lines.withdrawn))
    assert (page.counts.added, page.counts.changed, page.counts.deleted) == (
        lines.added, lines.altered, len(lines.withdrawn),
    )  # fmt: skip
    assert page.counts.unchanged + lines.altered + lines.added == lines.now
    assert page.department == code
    assert page.lines == lines.sum_in_words(found.old, found.new)
    assert all(one.fields for one in page.changes if one.sign == "»")
    keys = [number_key(one.number) for one in page.changes]
    assert keys == sorted(keys)


def test_a_line_says_what_the_item_says_otherwise_and_what_only_the_paper_does(office: Office) -> None:
    changes = by_number(page_of(office, "A", "B", "MCH"))
    assert told(changes["4.1.2"]) == {
        "Size": ('bar 1 1/4" dia x 5"', 'bar 1 1/4" dia x 5 1/2"'),
        "Number off": ("48", "96"),
        "Drawing": ("SL-1003 rev -", "SL-1003 rev A"),
    }
    assert (changes["4.1.2"].note, changes["4.1.1"].note) == ("1", "")
    assert told(changes["4.1.1"]) == {"Number off": ("24", "48")}
    gone = changes["5.5"]
    assert (gone.sign, gone.why, gone.fields, gone.note) == ("-", "deleted: solid barrel", (), "1")


def test_the_revision_of_one_drawing_is_not_taken_for_that_of_another(tmp_path: Path) -> None:
    office = with_revision_a(tmp_path)
    enter_sheets(office, [SHEET, replace(SHEET, number="SL-1009", title="Guard", revision="-")])
    alter(office, "4.1.2", {"Drawing": "SL-1003, SL-1009"}, note_opened(office))
    field = next(
        one for one in by_number(page_of(office, "A", "open", "MCH"))["4.1.2"].fields if one.label == "Drawing"
    )
    assert (field.old, field.new) == ("SL-1003 rev -", "SL-1003 rev A, SL-1009 rev -")
    assert applied(field.old, field.runs) == field.new
    assert [run.new for run in field.runs if run.kind == "same"] == ["SL-1003 rev "]
    back = next(one for one in by_number(page_of(office, "open", "A", "MCH"))["4.1.2"].fields if one.label == "Drawing")
    assert applied(back.old, back.runs) == back.new
    assert [run.old for run in back.runs if run.kind == "same"] == ["SL-1003 rev "]
    office.book.close()


def test_each_visit_of_a_department_is_a_line_of_its_own(office: Office) -> None:
    page = page_of(office, "C", "open", "MCH")
    pinion = [one for one in page.changes if one.number == "4.2"]
    assert [(one.sign, told(one)) for one in pinion] == [
        (
            "»",
            {
                "Off": ("1", "2"),
                "Route": ("", "MCH turn; FDY burn in; MCH finish; ERE"),
                "Operation": ("machine", "turn"),
                "Number off": ("2", "4"),
                "From": ("Foundry", ""),
                "To": ("Erecting shop", "Foundry"),
            },
        ),
        ("+", {}),
    ]
    assert page.lines == "9 lines at C + 1 added - 1 withdrawn = 9 at open; 2 altered"


def test_a_line_no_longer_on_the_route_is_withdrawn_though_the_item_lives(office: Office) -> None:
    note = note_opened(office)
    alter(office, "4.3", {"Route": "BUY; ERE"}, note)
    allocate(office)
    cover = by_number(page_of(office, "C", "open", "FDY"))["4.3"]
    assert (cover.sign, cover.why, cover.note) == ("-", "no longer on your route", note)
    assert by_number(page_of(office, "C", "open", "BUY"))["4.3"].sign == "+"


def test_what_the_house_says_for_all_is_a_change_of_the_line(tmp_path: Path) -> None:
    office = with_revision_a(tmp_path)
    note_opened(office)
    house = '[house]\nworks = "Practice works"\nclearance = "hold"\nsafety_second_check = true\n'
    take_in(office, tiny_order_folder(tmp_path, house=house, into="held"))
    changes = page_of(office, "A", "open", "FDY").changes
    assert {one.number for one in changes} == {"4.1.1", "4.2", "4.3", "5.1", "5.5"}
    assert all(told(one) == {"Clearance": ("make", "hold")} for one in changes)
    office.book.close()


# What is asked ------------------------------------------------------------------------------------------------------


def test_a_state_or_department_that_is_not_there_is_told(office: Office) -> None:
    reader = OfficeReader(office)
    with pytest.raises(NotFound, match="issued are: A, B, C"):
        reader.comparison("A", "K", "")
    with pytest.raises(NotFound, match="the works has BUY, FDY, MCH, ERE"):
        reader.comparison("A", "B", "XYZ")


def test_the_reader_shows_the_same_and_goes_with_the_book(tmp_path: Path) -> None:
    office = with_revision_a(tmp_path)
    reader = OfficeReader(office)
    assert reader.states() == states(office)
    assert reader.comparison("A", "open", "").changes == ()
    note_opened(office)
    alter(office, "4.3", {"Remarks": "whole"})
    assert [one.number for one in reader.comparison("A", "open", "").changes] == ["4.3"]
    assert reader.comparison("A", "open", "ERE") == page_of(office, "A", "open", "ERE")
    assert [one.name for one in reader.states()] == ["A", "open"]
    make_extracts(office, ())
    assert reader.comparison("A", "open", "ERE") == page_of(office, "A", "open", "ERE")
    office.book.close()
