"""Booklets laid out on sheets: what stands where, before anything is drawn."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.output.booklet import Booklet, BookletLine, Box, Column, Contents, Entry, Facts, Part, Receipt
from specreg.output.drawn import HEIGHT, LEFT, RIGHT, Run, Sheet
from specreg.output.founts import Cut, founts
from specreg.output.line_breaking import Said
from specreg.output.sheets import Sheets, laid_out

TITLE = ((("Title", "Dockside cranes"), ("Revision", "B")), (("Seal", "3F9A"), ("Sheet", "")))


def line(name: str, text: str = "Rack bolt", below: str = "", warned: bool = False) -> BookletLine:
    cells = ((Entry(Said(name, Cut.BOLD), (13.0, 9.0)),), (Entry(Said(text)),))
    return BookletLine(name, "»", cells, ((Said(below),),) if below else (), warned)


def part(pages: str, *lines: BookletLine) -> Part:
    return Part(pages, f"{pages} Section", f"{len(lines)} lines", lines)


def booklet(*parts: Part) -> Booklet:
    return Booklet(
        name="W 611", heading="Foundry", front=(Facts((("Order", "W 611"),)), Contents()),
        columns=(Column("Item", 21), Column("Description", 40)), parts=parts,
        warning=(Said("§ Caution:", Cut.BOLD), Said("Take care.")),
        nil="Nothing", closing=("None withdrawn", "The end"),
        receipt=Receipt((("Extract", "2"), ("Department", "FDY"), ("Seal", "K7")), ("Received by", "Date")),
        title=TITLE, weights=((3, 1), (3, 1)), bold=("Seal",),
    )  # fmt: skip


def laid(*parts: Part) -> Sheets:
    return laid_out(booklet(*parts), founts())


def said(sheet: Sheet) -> list[str]:
    return [run.text for run in sheet.runs]


def test_each_part_begins_a_sheet_and_its_pages_are_named_within_it() -> None:
    found = laid(part("4", *(line(f"4.{place}") for place in range(60))), part("5", line("5.1")))
    assert [sheet.page for sheet in found.sheets] == ["front-1", "4-1", "4-2", "5-1"]
    assert "4 Section" in said(found.sheets[1])
    assert "4 Section, continued" in said(found.sheets[2])
    assert [text for sheet in found.sheets for text in said(sheet) if " of " in text] == [
        "1 of 4", "2 of 4", "3 of 4", "4 of 4",
    ]  # fmt: skip
    contents = said(found.sheets[0])
    assert "pages 4-1 to 4-2" in contents
    assert "page 5-1" in contents


def test_only_the_last_sheet_has_the_receipt_below_its_lifted_title_block() -> None:
    found = laid(part("4", *(line(f"4.{place}") for place in range(60))))
    assert [sheet.lifted > 0 for sheet in found.sheets] == [False, False, True]
    assert ["Received by" in said(sheet) for sheet in found.sheets] == [False, False, True]
    assert "The end" in said(found.sheets[-1])
    assert not any(
        sheet.lifted for sheet in laid_out(replace(booklet(part("4", line("4.1"))), receipt=None), founts()).sheets
    )


def test_nothing_to_list_is_said_on_the_front_with_the_receipt() -> None:
    (sheet,) = laid().sheets
    assert "Nothing" in said(sheet)
    assert "Received by" in said(sheet)
    assert "Contents" not in said(sheet)


@pytest.mark.parametrize("facts", range(30, 60))
def test_a_frame_of_cautions_is_never_parted_and_the_first_sheet_always_bears_them(facts: int) -> None:
    texts = ("Take care.", "And again.", "And once more.")
    front = (Facts(tuple((f"Fact {place}", "said") for place in range(facts))), Box("Caution", texts=texts), Contents())
    found = laid_out(replace(booklet(part("4", line("4.1"))), front=front), founts())
    fronts = [said(sheet) for sheet in found.sheets if sheet.page.startswith("front")]
    (framed,) = (place for place, texts_there in enumerate(fronts) if "Caution" in texts_there)
    assert all(text in fronts[framed] for text in texts)
    assert ("§ Caution:" in fronts[0]) is (framed > 0)
    assert "Take care." in fronts[0]


def test_a_frame_higher_than_a_sheet_goes_on_overleaf() -> None:
    texts = tuple(f"Caution {place}." for place in range(100))
    found = laid_out(replace(booklet(part("4", line("4.1"))), front=(Box("Caution", texts=texts),)), founts())
    there = [text for sheet in found.sheets for text in said(sheet) if text in texts]
    assert there == list(texts)
    assert [sheet.page for sheet in found.sheets] == ["front-1", "front-2", "4-1"]


def test_a_sheet_with_a_line_that_is_warned_of_bears_the_warning() -> None:
    found = laid(part("4", line("4.1")), part("5", line("5.1", warned=True)))
    assert ["Take care." in said(sheet) for sheet in found.sheets] == [False, False, True]


def test_a_text_is_drawn_in_the_order_in_which_it_is_read() -> None:
    wide = line("4.1", "the description of an item that takes more than one line of its column here " * 4, "below")
    sheet = laid(part("4", wide)).sheets[1]
    words = " ".join(said(sheet))
    assert words.index("» 4.1") < words.index("the description")
    assert " ".join([wide.cells[1][0].said.text.strip(), "below"]) in words


def test_a_line_longer_than_a_sheet_begins_where_there_is_room_and_goes_on_under_its_name() -> None:
    long = line("4.2", below=" ".join(f"word{place}" for place in range(1500)))
    found = laid(part("4", line("4.1"), long, line("4.3")))
    assert "4.2" in said(found.sheets[1])
    assert "4 Section · 4.2, continued" in said(found.sheets[2])
    words = " ".join(text for sheet in found.sheets for text in said(sheet) if text.startswith("word")).split()
    assert words == [f"word{place}" for place in range(1500)]


def test_a_frame_that_goes_overleaf_is_framed_on_both_sheets() -> None:
    news = Box("New", tuple(("+", f"4.{place}", "Rack bolt") for place in range(80)))
    found = laid_out(replace(booklet(part("4", line("4.1"))), front=(news, Contents())), founts())
    assert [sheet.page for sheet in found.sheets] == ["front-1", "front-2", "4-1"]
    for sheet in found.sheets[:2]:
        tops = [rule for rule in sheet.rules if rule.down > 20]
        assert len(tops) == 2
    assert sum(text == "+" for sheet in found.sheets for text in said(sheet)) == 80


TEXTS = st.text(st.characters(min_codepoint=0x20, max_codepoint=0x17F, exclude_characters="»"), max_size=300)
LINES = st.lists(st.builds(line, st.text("0123456789.", max_size=30), TEXTS, TEXTS, st.booleans()), max_size=40)


@settings(max_examples=30, deadline=None)
@given(st.lists(LINES.filter(bool), max_size=3))
def test_everything_stands_within_the_margins_above_the_title_block(lists: list[list[BookletLine]]) -> None:
    found = laid(*(part(str(place), *lines) for place, lines in enumerate(lists, start=1)))
    block = min(run.y for run in found.foot.runs) - 3.5
    for sheet in found.sheets:
        *own, page, count = sheet.runs
        assert count.text.endswith(f" of {len(found.sheets)}")
        for run in (*own, page):
            points, cut = found.styles[run.style]
            assert run.x >= LEFT
            assert run.x + founts().millimetres(run.text, points, cut) <= RIGHT + 1e-6
            assert 10 < run.y < HEIGHT - 5
        lines_end = [rule.y for rule in sheet.rules if rule.across == RIGHT - LEFT and rule.weight == 0]
        assert all(y <= block - sheet.lifted for y in lines_end)


@settings(max_examples=30, deadline=None)
@given(LINES.filter(bool))
def test_every_line_is_whole_and_once_and_lines_do_not_overlap(lines: list[BookletLine]) -> None:
    found = laid(part("4", *lines))
    signs = sum(text == "»" for sheet in found.sheets for text in said(sheet))
    assert signs == len(lines)
    for sheet in found.sheets[1:]:
        # Between two rules over the whole breadth stands one line: no run crosses one.
        rules = sorted(rule.y for rule in sheet.rules if rule.across == RIGHT - LEFT)
        marked = sorted(run.y for run in sheet.runs if run.text == "»")
        between = [sum(upper < y <= lower for y in marked) for upper, lower in pairwise(rules)]
        assert max(between, default=0) <= 1


NAMES = st.text("0123456789.withdrawn-SECTION ", min_size=1, max_size=40)
PARTS = st.builds(
    lambda pages, heading, count, lines: Part(pages, heading, count, tuple(lines)),
    NAMES, TEXTS, st.text("0123456789 lines", max_size=60), LINES.filter(bool),
)  # fmt: skip
CLOSINGS = st.lists(TEXTS.filter(str.strip), min_size=1, max_size=3).map(tuple)
ROWS = st.lists(st.tuples(st.sampled_from("+»-"), NAMES, TEXTS), max_size=40).map(tuple)


@settings(max_examples=60, deadline=None)
@given(st.lists(PARTS, max_size=3), CLOSINGS, ROWS, st.text("Take care. ", max_size=400), st.booleans())
def test_no_text_stands_on_another_or_runs_over_the_edge(
    parts: list[Part], closing: tuple[str, ...], rows: tuple[tuple[str, str, str], ...], warned: str, slip: bool
) -> None:
    front = (Facts((("Order", "W 611"),)), *((Box("New for you", rows, last="and more"),) if rows else ()), Contents())
    drawn = replace(
        booklet(*parts), front=front, closing=closing, warning=(Said("§ Caution:", Cut.BOLD), Said(warned)),
    )  # fmt: skip
    assert_nothing_overlaps(laid_out(drawn if slip else replace(drawn, receipt=None), founts()))


@pytest.mark.parametrize("texts", range(40, 66))
def test_however_full_a_sheet_is_its_foot_stays_clear(texts: int) -> None:
    """A sheet filled to every height: the heading, the warning, the closing words and the receipt have their room."""
    filled = line("4.1", below="\n".join(f"text {place}" for place in range(texts)), warned=True)
    heading = "Hoisting gear with barrel, brake and all that goes with them " * 5
    for more in range(3):
        lines = (filled, *(line(f"4.{place}", warned=True) for place in range(2, 2 + more)))
        full = replace(booklet(), closing=("None withdrawn", "The end " * 40),
                       warning=(Said("§ Caution:", Cut.BOLD), Said("Take care. " * 60)),
                       parts=(Part("4", heading, "2 lines", lines), part("5", line("5.1"))))  # fmt: skip
        found = laid_out(full, founts())
        assert_nothing_overlaps(found)
        assert sum(text == "»" for sheet in found.sheets for text in said(sheet)) == 2 + more
        assert_nothing_overlaps(laid_out(replace(full, parts=full.parts[:1]), founts()))
    for twice in range(5):
        # Facts of one line and of two, so that the heading under them comes to stand at every height.
        facts = Facts(tuple(("Fact", "text" + "\nmore" * (place < twice)) for place in range(texts - 8)))
        news = Box("New for you", (("+", "4.1", "Rack bolt"),), last="and more")
        front = laid_out(replace(booklet(), front=(facts, news), closing=("The end " * 40,)), founts())
        assert_nothing_overlaps(front)
        (headed,) = (sheet for sheet in front.sheets if "New for you" in said(sheet))
        assert "Rack bolt" in said(headed), "a heading is not the last of its sheet"


def assert_nothing_overlaps(found: Sheets) -> None:
    top = min(rule.y for rule in found.foot.rules)
    for sheet in found.sheets:
        foot = [run._replace(y=run.y - sheet.lifted) for run in found.foot.runs]
        boxes = [box_of(run, found) for run in (*sheet.runs, *foot) if run.text.strip()]
        for left, _, right, lower in boxes:
            assert left >= LEFT and right <= RIGHT + 0.02 and lower <= HEIGHT
        listed = [rule for rule in sheet.rules if rule.across == RIGHT - LEFT and rule.weight == 0]
        warned = sum(run.y for run in sheet.runs if run.text == "§ Caution:")
        assert all(rule.y <= (warned - 2 if warned else top - sheet.lifted) for rule in listed)
        boxes.sort(key=lambda box: box[1])
        for place, (left, upper, right, lower) in enumerate(boxes):
            for other in boxes[place + 1 :]:
                if other[1] >= lower - 0.02:
                    break
                assert other[0] >= right - 0.02 or other[2] <= left + 0.02, (sheet.page, left, upper, other)


def box_of(run: Run, found: Sheets) -> tuple[float, float, float, float]:
    """Left, top, right and foot of a run, from the height of a capital to the foot of a `g`."""
    points, cut = found.styles[run.style]
    right = run.x + founts().millimetres(run.text, points, cut)
    return run.x, run.y - points * 0.23, right, run.y + points * 0.07
