"""Drawing up an extract: lines, signs against the last extract, withdrawn lines, totals, parts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specreg.core.drawing_up import Issue, Since, content_of, draw_up, part_of
from specreg.core.errors import NotFound
from specreg.core.extracts import Extract
from specreg.core.model import Item, Sheet, State
from specreg.core.numbering import number_key
from specreg.core.picture import Called, Picture
from specreg.core.shares import reconcile, shares
from tests.core.pictures import CASTING, GREASE, SECTION, SHEET, WORKS, picture

ISSUE = Issue("A", "2026-11-25", "H. Pellow", "J. Dunmore", "AAAA-AAAA")


def extract(order: Picture, code: str, number: int = 1, since: Since | None = None) -> Extract:
    department = WORKS.department(code)
    assert department is not None
    split = shares(order.routed)
    return draw_up(order, department, number, ISSUE, split.get(code, ()), reconcile(order.routed, order.totals), since)


def since(order: Picture, code: str) -> Since:
    return Since(1, "SEAL-0001", "A", order, shares(order.routed).get(code, ()))


def test_a_first_extract_gives_each_department_its_own_number_off() -> None:
    order = picture(CASTING)
    found = {code: extract(order, code) for code in ("FDY", "MCH", "ERE", "STO")}
    assert {code: one.lines[0].off for code, one in found.items()} == {
        "FDY": "13+1",
        "MCH": "13",
        "ERE": "12",
        "STO": "1",
    }
    assert {code: one.pieces for code, one in found.items()} == {"FDY": 14, "MCH": 13, "ERE": 12, "STO": 1}
    line = found["MCH"].lines[0]
    foundry, erecting = WORKS.department("FDY"), WORKS.department("ERE")
    assert foundry and erecting
    assert line.came_from == foundry.name and line.goes_to.startswith(erecting.name)
    assert (line.drawing, line.sign, line.was, line.section_title) == ("SL-1 rev A", "", "", "Slewing gear")
    assert found["MCH"].changed and not found["MCH"].since


def test_what_is_not_counted_is_told_apart_and_left_out_of_the_pieces() -> None:
    one = extract(picture(CASTING, GREASE), "MCH")
    assert [line.off for line in one.lines] == ["13", "as required"]
    assert (one.pieces, one.not_counted) == (13, 1)


def test_signs_say_what_changed_for_this_department() -> None:
    before = picture(CASTING, GREASE)
    longer = replace(CASTING, size='3" thick')
    washer = replace(CASTING, number="4.1A", title="Washer", route="MCH; ERE machines & STO spares")
    after = picture(longer, washer)
    one = extract(after, "MCH", 2, since(before, "MCH"))
    assert [(line.number, line.sign, line.was) for line in one.lines] == [
        ("4.1", "»", 'Size was blank, now 3" thick'),
        ("4.1A", "+", ""),
    ]
    assert [(line.number, line.sign, line.was) for line in one.withdrawn] == [
        ("4.2", "-", "no longer in the specification")
    ]
    assert one.since == "extract 1 of revision A" and one.replaces == "extract 1, seal SEAL-0001"


def test_a_sheet_come_to_another_revision_alters_the_line_though_the_item_says_the_same() -> None:
    before = picture(CASTING)
    after = picture(CASTING, sheet=replace(SHEET, revision="B"))
    (line,) = extract(after, "ERE", 2, since(before, "ERE")).lines
    assert (line.sign, line.was) == ("»", "Drawing was SL-1 rev A, now SL-1 rev B")


def test_a_changed_total_alters_the_line_though_nobody_touched_the_item() -> None:
    rack = replace(CASTING, number="4.3", title="Rack", off="1", spares="", route="ERE")
    part = replace(CASTING, number="4.3.1", off="2", per="4.3", spares="", route="ERE")
    before, after = picture(rack, part), picture(replace(rack, off="2"), part)
    lines = extract(after, "ERE", 2, since(before, "ERE")).lines
    assert [(line.number, line.was) for line in lines] == [("4.3", "Off was 3, now 6"), ("4.3.1", "Off was 6, now 12")]


def test_altered_words_can_be_read_out() -> None:
    before = picture(replace(CASTING, remarks="black", machines="1-2"))
    after = picture(replace(CASTING, size="1 in", machines="1"))
    (line,) = extract(after, "ERE", 2, since(before, "ERE")).lines
    assert (
        line.was
        == "Off was 8, now 4; Size was blank, now 1 in; Machines were 1-2, now 1; Remarks were black, now blank"
    )


@pytest.mark.parametrize(
    ("now", "why"),
    [
        (replace(CASTING, state=State.DELETED, reason="foot too narrow"), "deleted: foot too narrow"),
        (replace(CASTING, state=State.DELETED), "deleted"),
        (replace(CASTING, state=State.RESERVED, reason="for the fourth crane"), "reserved: for the fourth crane"),
        (replace(CASTING, route="FDY all; ERE machines & STO spares"), "no longer on your route"),
    ],
)
def test_a_withdrawn_line_says_why(now: Item, why: str) -> None:
    before = picture(CASTING)
    (line,) = extract(picture(now), "MCH", 2, since(before, "MCH")).withdrawn
    assert (line.number, line.sign, line.was, line.off) == ("4.1", "-", why, "13")


def test_a_number_given_to_another_item_is_not_called_deleted() -> None:
    other = replace(CASTING, title="Cover", route="ERE")
    after = replace(picture(other), items=(SECTION, other, replace(CASTING, state=State.DELETED, reason="old")))
    (line,) = extract(after, "MCH", 2, since(picture(CASTING), "MCH")).withdrawn
    assert line.was == "no longer on your route"


@pytest.mark.parametrize(
    ("sheets", "printed"),
    [
        ((SHEET,), "SL-1 rev A"),
        ((replace(SHEET, stage="planned", revision="-"),), "SL-1 rev - (planned)"),
        ((replace(SHEET, stage=""),), "SL-1 rev A (no stage known)"),
        ((replace(SHEET, sheet="1"), replace(SHEET, sheet="2", stage="checked")), "SL-1 rev A (sheet 2 checked)"),
        (
            (replace(SHEET, sheet="1", stage="drawn"), replace(SHEET, sheet="2", stage="planned")),
            "SL-1 rev A (sheet 1 drawn, sheet 2 planned)",
        ),
        ((replace(SHEET, stage="drawn"), replace(SHEET, stage="drawn", revision="B")), "SL-1 rev A/B (drawn)"),
        ((SHEET, replace(SHEET, stage="drawn", revision="B")), "SL-1 rev A/B (rev B drawn)"),
        ((), "SL-1"),
    ],
)
def test_a_drawing_that_may_not_be_made_from_shows_its_stage(sheets: tuple[Sheet, ...], printed: str) -> None:
    order = replace(picture(CASTING), calls={number_key("4.1"): (Called("SL-1", sheets),)})
    assert extract(order, "ERE").lines[0].drawing == printed


def test_a_drawing_that_has_become_fit_to_make_from_alters_the_line() -> None:
    before, after = picture(CASTING, sheet=replace(SHEET, stage="checked")), picture(CASTING)
    (line,) = extract(after, "ERE", 2, since(before, "ERE")).lines
    assert (line.sign, line.was) == ("»", "Drawing was SL-1 rev A (checked), now SL-1 rev A")


def test_nothing_changed_is_said() -> None:
    order = picture(CASTING)
    one = extract(order, "ERE", 2, since(order, "ERE"))
    assert not one.changed
    assert [line.sign for line in one.lines] == [""]


def test_cautions_stand_where_a_safety_line_stands() -> None:
    assert extract(picture(CASTING), "ERE").cautions == ()
    assert extract(picture(replace(CASTING, safety="lifting")), "ERE").cautions == ("Local codes decide.",)


def test_a_part_says_that_it_is_one_and_sums_only_its_lines() -> None:
    order = picture(CASTING)
    whole = extract(order, "MCH")
    part = part_of(whole, order, "4")
    assert part.part == "4 Slewing gear" and part.pieces == whole.pieces
    again = part_of(extract(order, "MCH", 2, since(order, "MCH")), order, "4")
    assert extract(order, "MCH", 2, since(order, "MCH")).replaces and not again.replaces
    with pytest.raises(NotFound, match="Section 9"):
        part_of(whole, order, "9")


def test_the_content_hangs_on_every_line_and_on_who_gets_it() -> None:
    one = extract(picture(CASTING), "ERE")
    content = content_of(one)
    assert content == content_of(replace(one, seal="ANY", title_block=replace(one.title_block, creator="Another")))
    assert content != content_of(replace(one, department="STO"))
    assert content != content_of(replace(one, number=2))
    assert content != content_of(replace(one, lines=(replace(one.lines[0], size="1 in"),)))
    assert content != content_of(replace(one, lines=()))
    assert content != content_of(replace(one, withdrawn=one.lines))


def test_a_department_without_lines_gets_a_nil_extract() -> None:
    one = extract(picture(replace(CASTING, route="ERE")), "FDY")
    assert (one.lines, one.pieces, one.withdrawn) == ((), 0, ())
