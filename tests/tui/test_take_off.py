"""The take-off and the items of a sum: views, states, what is to be chased, into the sheets and back."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest

from specreg.core.standards import House
from specreg.services.take_off_pages import no_take_off, sum_page, take_off_page
from specreg.services.take_off_readings import SumKind, TakeOffPage
from specreg.tui.app import SpecregApp
from specreg.tui.columns import fit, row_line
from specreg.tui.pieces import Line, width_of
from specreg.tui.take_off_over import over_the_items, over_the_sums
from specreg.tui.take_off_rows import (
    DOUBTS,
    KINDS,
    NO_WEIGHT,
    ChasedRows,
    ItemsOfSum,
    item_columns,
    sum_columns,
    sum_rows,
)
from tests.core.weighed_order import ISSUED, ITEMS, STANDS, WORKS, a_section, an_item, an_order, metric
from tests.tui.fake_reader import FakeBook
from tests.tui.fake_take_off import FakeTakeOff
from tests.tui.watching import LOW, TALL, lines_of, opened, segments_of, text_of, typed, until, until_shown


def text(line: Line) -> str:
    return "".join(piece.text for piece in line)


def page_of(weights: FakeTakeOff | None = None) -> TakeOffPage:
    return take_off_page((weights or FakeTakeOff()).taken(open_edits=False))


def row_of(app: SpecregApp, begins: str) -> str:
    """The row that begins so, its columns a space apart."""
    found = next(line for line in lines_of(app) if line.strip("│┃ ^~").startswith(begins))
    return " ".join(found.strip(" │┃").split())


def words_of(app: SpecregApp) -> str:
    """All that stands on the screen, without the frame and a space apart."""
    return " ".join(text_of(app).replace("│", " ").replace("┃", " ").split())


def at_cursor(app: SpecregApp) -> str:
    row = app.screen.table.row_at_cursor()  # type: ignore[attr-defined]
    return row.key if row else ""


# What is laid out ---------------------------------------------------------------------------------------------------


HEAVY = an_item("5.9", "Bed plate", "1 per machine", weight="3999 tons 19 cwt 3 qr 27 lb")
ABOUT = an_item("5.10", "Coal", "1 per machine", weight="about 999 tons 19 cwt 3 qr 27 lb")


@pytest.mark.parametrize("room", [36, 56, 76, 96, 108, 128, 156])
@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_at_every_width_no_weight_is_cut_and_no_row_is_too_long(room: int, units: str) -> None:
    taken = FakeTakeOff(issued=an_order(*ITEMS, HEAVY, ABOUT, units=units)).taken(open_edits=False)
    page, whole = take_off_page(taken), sum_page(taken, SumKind.WHOLE, "the order")
    for view in KINDS:
        columns = sum_columns(page, view, room)
        widths = fit(columns, room)
        rows = sum_rows(page, view, room)
        assert all(width_of(row_line(row, columns, widths)) <= room for row in rows)
        for at in (3, 4):
            assert all(width_of(row.cells[at]) <= widths[at] for row in rows) or not widths[at]
        assert widths[3] and widths[5] and (widths[4] or room < 56)
    columns, items = item_columns(whole, room), ItemsOfSum(whole, room)
    widths = fit(columns, room)
    for row in items.rows(0, items.count()):
        assert width_of(row_line(row, columns, widths)) <= room
        for at in (5, 6):
            assert width_of(row.cells[at]) <= widths[at] or not widths[at]
    assert widths[6] and (widths[5] or room < 76)


@pytest.mark.parametrize("room", [36, 56, 76, 156])
@pytest.mark.parametrize("view", [NO_WEIGHT, DOUBTS])
def test_of_what_is_to_be_chased_no_reason_is_cut(view: int, room: int) -> None:
    page = page_of()
    chased = ChasedRows(page, view, room)
    lines = page.wanting if view == NO_WEIGHT else page.doubtful
    assert chased.items == len(lines)
    widths = fit(chased.columns, room)
    said = " ".join(" ".join(text(row_line(row, chased.columns, widths)) for row in chased.rows).split())
    for one in lines:
        for reason in (one.why,) if view == NO_WEIGHT else one.doubts:
            assert reason in said
    assert {chased.item_at(row) for row in range(len(chased.rows))} == set(range(len(lines)))


@pytest.mark.parametrize("width", [36, 56, 76, 116, 156])
@pytest.mark.parametrize("most", [2, 3, 9])
def test_what_stands_over_the_rows_keeps_within_its_lines_and_always_has_a_caution(width: int, most: int) -> None:
    taken = FakeTakeOff().taken(open_edits=False)
    for lines in (
        over_the_sums(page_of(), width, most),
        over_the_items(sum_page(taken, SumKind.WHOLE, "the order"), width, most),
    ):
        assert 2 <= len(lines) <= most and all(width_of(line) <= width for line in lines)
        assert lines[1][0].role == "warning" and text(lines[1]).startswith(("Caution: ", "Estimates"))
    if most == 9 and width >= 76:
        assert "nothing printed here takes their place." in " ".join(map(text, over_the_sums(page_of(), width, most)))


def test_the_sums_say_what_they_are_short_of_and_which_key_says_why() -> None:
    assert text(over_the_sums(page_of(), 76, 2)[0]) == (
        "^ 1 of 7 items has no weight, 1 no count: see 4  ·  ~ 1 doubted: see 5"
    )
    assert text(over_the_sums(page_of(), 156, 2)[0]) == (
        "^ 1 of 7 items has no weight, 1 no count: the sums are that much short, 4 says why  ·  ~ 1 doubted: 5 says why"
    )
    whole = page_of(FakeTakeOff(issued=an_order(ITEMS[0], an_item("4.1", "Rack", "1 per machine", weight="1 cwt"))))
    assert text(over_the_sums(whole, 76, 2)[0]) == "Every item that should have a weight or a count has one"
    assert over_the_sums(no_take_off(), 76, 2)[0] == ()


def test_a_works_without_cautions_of_its_own_has_the_brief_one() -> None:
    bare = an_order(*ITEMS, standards=replace(WORKS, house=House("Practice works")))
    lines = over_the_sums(page_of(FakeTakeOff(issued=bare)), 156, 20)
    assert [text(line) for line in lines[1:]] == [
        "Estimates for planning: competent persons, authority and local codes decide."
    ]


# The page -----------------------------------------------------------------------------------------------------------


async def test_t_opens_the_take_off_from_anywhere_and_it_says_what_the_order_weighs() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost")
        await pilot.press("t")
        await until_shown(pilot, "5 Hoisting gear")
        lines = lines_of(app)
        assert lines[0].startswith("┌ Take-off · by section · revision B ─")
        assert lines[0].endswith(" tons-cwt-qr-lb  ·  2 sections ┐")
        assert "^ 1 of 7 items has no weight, 1 no count: see 4" in lines[1]
        assert "Estimates for planning: competent persons, authority and local codes decide." in lines[2]
        assert lines[3].split()[1:-1] == ["Section", "Items", "Pieces", "Finished", "To", "order", "No", "weight"]
        assert row_of(app, "The whole order") == "The whole order 7 189 11-11-2-9 12-13-0-13 ^ 1"
        assert row_of(app, "4 Slewing gear") == "4 Slewing gear 5 183 6-3-2-9 7-5-0-13 ^ 1"
        assert row_of(app, "5 Hoisting gear") == "5 Hoisting gear 2 6 5-8-0-0 5-8-0-0 –"
        for word in ("1 sections", "2 materials", "3 departments", "o other state", "Esc back", "? help"):
            assert word in lines[-1]
        await pilot.press("s")
        await until_shown(pilot, "All sections")
        await pilot.press("t")
        await until_shown(pilot, "5 Hoisting gear")
        await pilot.press("escape")
        await until_shown(pilot, "Waits for you")


async def test_the_views_are_on_figures_and_each_keeps_its_cursor() -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "5 Hoisting gear")
        await pilot.press("down", "down", "2")
        await until_shown(pilot, "Take-off · by material")
        assert [line.strip("│ ┃").split("  ")[0] for line in lines_of(app)[4:8]] == [
            "The whole order", "cast steel", "mild steel", "(no material)",
        ]  # fmt: skip
        assert lines_of(app)[0].endswith("3 materials ┐")
        await pilot.press("end", "3")
        await until_shown(pilot, "Take-off · by department")
        assert row_of(app, "FDY") == "FDY Foundry 1 37 6-5-3-13 7-8-0-0 –"
        assert "PAT" not in text_of(app), "a pattern weighs nothing"
        await pilot.press("1")
        await until_shown(pilot, "by section")
        assert at_cursor(app) == "5 Hoisting gear"
        await pilot.press("2")
        await until_shown(pilot, "by material")
        assert at_cursor(app) == "(no material)"


async def test_four_lists_what_has_no_weight_or_no_count_with_the_reason_and_opens_the_items() -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "5 Hoisting gear")
        await pilot.press("4")
        await until_shown(pilot, "Take-off · no weight · revision B")
        assert row_of(app, "4.1.3") == "^ 4.1.3 Nut for rack bolt, hexagon 72 mild steel no weight"
        assert row_of(app, "4.1.4") == "^ 4.1.4 Grease – no count"
        said = words_of(app)
        assert (
            '1 1/4" B.S.W. — bought by number: its thread alone gives no mass. State the weight, or weigh one.' in said
        )
        assert "as required per machine" in said
        assert lines_of(app)[0].endswith(" 1 of 2 ┐")
        await pilot.press("down", "down")
        await pilot.pause()
        assert lines_of(app)[0].endswith(" 1 of 2 ┐"), "on the reason, which is a part of the first"
        await pilot.press("down")
        await until_shown(pilot, "2 of 2 ┐")
        await pilot.press("up", "enter")
        await until_shown(pilot, "┌ 4.1.3 ")
        await until_shown(pilot, "^ no weight: ")
        await pilot.press("escape")
        await until_shown(pilot, "Take-off · no weight")
        assert at_cursor(app) == "4.1.3"


async def test_five_lists_what_is_doubted() -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "5 Hoisting gear")
        await pilot.press("5")
        await until_shown(pilot, "the stated weight is 8.3 times the 116.4 kg by size")
        assert row_of(app, "5.1") == "~ 5.1 Barrel shaft 3 mild steel 0-19-0-0"


async def test_views_in_which_nothing_stands_say_so() -> None:
    bare = FakeTakeOff(issued=an_order(ITEMS[0]))
    app = opened(FakeBook(weights=bare), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "No item stands in this order yet.")
        for key, words in (("3", "No item of this order has a route yet."),
                           ("4", "Every item that should have a weight or a count has one."),
                           ("5", "No weight of this order is doubted.")):  # fmt: skip
            await pilot.press(key, "enter")
            await until_shown(pilot, words)


async def test_o_shows_the_order_as_it_stands_and_then_as_issued_again() -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "5 Hoisting gear")
        await pilot.press("end", "o")
        await until_shown(pilot, "Take-off · by section · as it stands")
        assert row_of(app, "5 Hoisting gear").startswith("5 Hoisting gear 3 12 5-14-0-0")
        assert at_cursor(app) == "5 Hoisting gear"
        await pilot.press("enter")
        await until_shown(pilot, "5 Hoisting gear · as it stands")
        assert "Guard" in text_of(app)
        await pilot.press("escape", "o")
        await until_shown(pilot, "revision B")
        assert row_of(app, "5 Hoisting gear").startswith("5 Hoisting gear 2 6 5-8-0-0")


async def test_an_order_not_yet_issued_is_shown_as_it_stands_and_has_no_other_state() -> None:
    book = FakeBook(weights=FakeTakeOff(issued=None))
    app = opened(book, "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Take-off · by section · not issued")
        assert "o other state" not in lines_of(app)[-1]
        assert row_of(app, "5 Hoisting gear").startswith("5 Hoisting gear 3 12 ")
        await pilot.press("o", "3")
        await until_shown(pilot, "Take-off · by department · not issued")
        assert "tons-cwt-qr-lb" in lines_of(app)[0]
        book.weights.issued = ISSUED
        book.written += 1
        app.look()
        await until_shown(pilot, "Take-off · by department · revision B")
        assert "o other state" in lines_of(app)[-1]


async def test_a_metric_order_is_weighed_in_kilograms() -> None:
    app = opened(FakeBook(weights=FakeTakeOff(issued=metric(ISSUED))), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "11 765 kg")
        assert "cwt" not in text_of(app)
        await pilot.press("enter")
        await until_shown(pilot, "┌ The whole order · revision B")
        assert row_of(app, "4.1.2") == "4.1.2 Rack bolt, turned 72 0.79 kg 56.8 kg"


async def test_a_tall_and_wide_screen_writes_weights_out_and_has_the_cautions_in_full() -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=TALL) as pilot:
        await until_shown(pilot, "11 tons 11 cwt 2 qr 9 lb")
        lines = lines_of(app)
        assert "Caution: Weights, lengths and order quantities are estimates for planning" in lines[2]
        assert "Caution: The inspecting authority and the local codes decide" in lines[3]
        assert "tons-cwt" not in text_of(app)
        for word in ("Enter open", "4 no weight", "5 doubts"):
            assert word in lines[-1]
        await pilot.press("enter")
        await until_shown(pilot, "Rests on")
        assert "Weight as stated, 3 cwt 1 qr 17 lb" in next(line for line in lines_of(app) if " 4.1.1 " in line)
        await pilot.resize_terminal(*LOW)
        await until_shown(pilot, "tons-cwt-qr-lb")
        assert "Rests on" not in text_of(app)


# The items of a sum -------------------------------------------------------------------------------------------------


async def test_enter_opens_the_items_of_a_sum_and_an_item_of_it_its_sheet() -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "5 Hoisting gear")
        await pilot.press("down", "enter")
        await until_shown(pilot, "┌ 4 Slewing gear · revision B ")
        await until_shown(pilot, "1 of 5 ┐")
        assert "finished 6-3-2-9, to order 7-5-0-13" in lines_of(app)[1] and "^ 1 no weight" in lines_of(app)[1]
        assert "Estimates for planning" in lines_of(app)[2]
        assert row_of(app, "4.1 ") == "4.1 Slewing rack 3 2-1-0-22 by its parts"
        assert row_of(app, "4.1.1") == "4.1.1 Rack segment § 36 0-3-1-17 6-2-1-24"
        assert row_of(app, "4.1.2") == "4.1.2 Rack bolt, turned 72 1.74 lb 0-1-0-13"
        assert row_of(app, "4.1.3") == "^ 4.1.3 Nut for rack bolt, hexagon 72 – no weight"
        assert row_of(app, "4.1.4") == "^ 4.1.4 Grease – about 14 lb no count"
        await pilot.press("down", "enter")
        await until_shown(pilot, "┌ 4.1.1 ")
        await until_shown(pilot, "Weighs        each 3 cwt 1 qr 17 lb")
        await pilot.press("escape")
        await until_shown(pilot, "2 of 5 ┐")
        await pilot.press("escape")
        await until_shown(pilot, "Take-off · by section")
        assert at_cursor(app) == "4 Slewing gear"


async def test_n_and_b_go_through_the_sums_and_coming_back_the_cursor_stands_on_the_last() -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "5 Hoisting gear")
        await pilot.press("3", "down", "enter")
        await until_shown(pilot, "┌ FDY Foundry · revision B ")
        await pilot.press("n", "n")
        await until_shown(pilot, "┌ INS Inspection ")
        await pilot.press("b", "b", "b", "b")
        await until_shown(pilot, "┌ FDY Foundry ")
        await pilot.press("n")
        await until_shown(pilot, "┌ MCH Machine shop ")
        twice = [line for line in lines_of(app) if " 5.1 " in line]
        assert len(twice) == 2 and "2-17-0-0" in twice[0] and "at another step" in twice[1]
        await pilot.press("escape")
        await until_shown(pilot, "Take-off · by department")
        assert at_cursor(app) == "MCH Machine shop"


async def test_the_whole_order_opens_from_the_first_row_and_has_no_neighbour() -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "5 Hoisting gear")
        await pilot.press("enter")
        await until_shown(pilot, "┌ The whole order · revision B ")
        await until_shown(pilot, "1 of 7 ┐")
        await pilot.press("n", "down")
        await until_shown(pilot, "2 of 7 ┐")


async def test_the_items_of_a_sum_follow_the_book_and_a_sum_that_is_gone_stays_with_a_sentence() -> None:
    book = FakeBook()
    app = opened(book, "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "5 Hoisting gear")
        await pilot.press("end", "enter")
        await until_shown(pilot, "┌ 5 Hoisting gear · revision B ")
        await until_shown(pilot, "1 of 2 ┐")
        await pilot.press("down")
        await until_shown(pilot, "2 of 2 ┐")
        book.weights.issued = STANDS
        book.written += 1
        app.look()
        await until_shown(pilot, "2 of 3 ┐")
        assert at_cursor(app).endswith(" 5.2")
        book.weights.issued = an_order(*ITEMS[:6])
        book.written += 1
        app.look()
        await until_shown(pilot, "The section 5 Hoisting gear in the take-off: nothing stands")


async def test_a_sum_that_is_not_there_leaves_a_sentence_on_the_page_before() -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "5 Hoisting gear")
        app.open_sum(SumKind.MATERIAL, "gold", False, lambda _: None)
        await until_shown(pilot, "The material gold in the take-off: nothing stands under it")
        await pilot.press("enter")
        await until_shown(pilot, "Take-off · by section")


# At every size, in every look ---------------------------------------------------------------------------------------


async def test_the_lists_have_at_least_seventeen_rows_and_never_scroll_sideways() -> None:
    many = [part for at in range(1, 41)
            for part in (a_section(str(at), f"Section of a long name, number {at}"),
                         an_item(f"{at}.1", "Plate", "1 per machine", weight="1 ton 2 cwt"))]  # fmt: skip
    app = opened(FakeBook(weights=FakeTakeOff(issued=an_order(*many))), "take-off")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "40 sections")
        assert sum("Section of a long" in line or "whole order" in line for line in lines_of(app)) >= 17
        assert app.screen.table.max_scroll_x == 0  # type: ignore[attr-defined]
        await pilot.press("enter")
        await until_shown(pilot, "1 of 40 ┐")
        assert sum(" Plate " in line for line in lines_of(app)) >= 17
        assert app.screen.table.max_scroll_x == 0  # type: ignore[attr-defined]


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 14), (112, 30), (160, 50)])
async def test_every_line_keeps_the_frame_at_every_size(size: tuple[int, int]) -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=size) as pilot:
        for keys, shown in (
            ((), "5 Hoist"),
            (("3",), "FDY"),
            (("4",), "4.1.3"),
            (("5",), "5.1"),
            (("1", "enter"), "5.2"),
        ):
            await typed(pilot, *keys)
            await until_shown(pilot, shown)
            lines = lines_of(app)
            assert {len(line) for line in lines} == {size[0]} and len(lines) == size[1]
            assert all(line[0] in "┌│├└" and line[-1] in "┐│┃┤┘" for line in lines), text_of(app)


async def test_the_plain_look_has_no_colour_and_the_help_explains_both_pages() -> None:
    app = opened(FakeBook(), "take-off")
    async with app.run_test(size=TALL) as pilot:
        await until_shown(pilot, "5 Hoisting gear")
        await typed(pilot, "l", "l")
        await until(pilot, lambda: app.theme == "plain", "the plain look")
        await pilot.pause()
        styles = [segment.style for line in segments_of(app) for segment in line if segment.style]
        assert not [one for one in styles if (one.color and not one.color.is_default)
                    or (one.bgcolor and not one.bgcolor.is_default)]  # fmt: skip
        await pilot.press("question_mark")
        await until_shown(pilot, "Help · Take-off")
        assert "23-4-2-11 is 23 tons 4 cwt 2 qr 11 lb" in words_of(app)
        await pilot.press("escape", "enter")
        await until_shown(pilot, "┌ The whole order")
        await pilot.press("question_mark")
        await until_shown(pilot, "Help · Items of a sum")


async def test_the_take_off_is_reckoned_in_a_thread_and_the_head_says_so_meanwhile() -> None:
    book = FakeBook()
    go_on, asked = threading.Event(), []
    taken = book.weights.taken

    def slow(open_edits: bool) -> object:
        asked.append(threading.get_ident())
        go_on.wait(10)
        return taken(open_edits)

    book.weights.taken = slow  # type: ignore[method-assign, assignment]
    app = opened(book)
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost")
        await pilot.press("t")
        await until_shown(pilot, "reckoning …")
        await pilot.press("4")
        await until(pilot, lambda: bool(asked), "the question")
        go_on.set()
        await until_shown(pilot, "Take-off · no weight · revision B")
        assert threading.get_ident() not in asked
