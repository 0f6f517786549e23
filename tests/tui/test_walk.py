"""Walks through the pages by keyboard and mouse, as a person does."""

from __future__ import annotations

import pytest

from tests.tui.fake_reader import FakeBook
from tests.tui.watching import LOW, TALL, lines_of, opened, text_of, until, until_shown


async def test_from_the_desk_to_an_item_and_back() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost: 7 912 steps = 7 912 in shares")
        assert "Drawings   352 of 384 approved or issued" in text_of(app)
        await pilot.press("s")
        await until_shown(pilot, "Derricking gear")
        assert "All sections" in lines_of(app)[2]
        await pilot.press("down", "down", "down", "down", "enter")
        await until_shown(pilot, "Specification · 4 Slewing gear")
        await until_shown(pilot, "4.1.2 ")
        await pilot.press("down", "down", "down", "enter")
        await until_shown(pilot, "24 × 1 × 3 + 6 = 78")
        assert lines_of(app)[0].startswith("┌ 4.1.2 Pinion shaft")
        assert "4 of 227" in lines_of(app)[0]
        await pilot.press("n", "n", "b")
        await until_shown(pilot, "┌ 4.1.3 ")
        await pilot.press("escape")
        await until_shown(pilot, "5 of 227")
        await pilot.press("escape")
        await until_shown(pilot, "index of sections")
        assert app.screen.table.row_at_cursor().key == "4"
        await pilot.press("k")
        await until_shown(pilot, "Waits for you")


async def test_keys_typed_before_the_rows_are_there_are_done_when_they_come() -> None:
    app = opened(FakeBook(page_seconds=0.1))
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("s", "down", "down", "enter", "down", "down", "enter")
        await until_shown(pilot, "┌ 2.1.1 ")


async def test_the_whole_order_is_one_list_from_the_first_row() -> None:
    app = opened(FakeBook(), "specification")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "All sections")
        await pilot.press("enter")
        await until_shown(pilot, "1 of 2 497")
        await pilot.press("end")
        await until_shown(pilot, "2 497 of 2 497")


async def test_on_a_low_screen_the_list_shows_at_least_seventeen_rows_and_nothing_beside_the_screen() -> None:
    app = opened(FakeBook(), "specification")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "All sections")
        await pilot.press("down", "down", "enter")
        await until_shown(pilot, "2.1.1")
        rows = [line for line in lines_of(app) if line[4:].lstrip().startswith("2")]
        assert len(rows) >= 17
        assert not app.screen.table.show_horizontal_scrollbar
        assert app.screen.table.max_scroll_x == 0
        assert all(len(line) == 80 for line in lines_of(app))
        await pilot.press("right", "right", "right")
        assert app.screen.table.scroll_x == 0


@pytest.mark.parametrize("size", [(80, 24), (132, 43), (60, 20), (40, 14), (160, 50)])
async def test_every_line_keeps_the_frame_at_every_size(size: tuple[int, int]) -> None:
    app = opened(FakeBook(), "specification")
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "Portal")
        await pilot.press("down", "enter")
        await until_shown(pilot, "1.1.1")
        lines = lines_of(app)
        assert {len(line) for line in lines} == {size[0]}
        assert len(lines) == size[1]
        assert all(line[0] in "┌│├└" and line[-1] in "┐│┃┤┘" for line in lines), text_of(app)


async def test_a_taller_screen_gives_the_title_block_three_lines_with_captions() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "rev B seal 3F9A-22C1")
        for said in ("W 611", "Three 25-ton", "1471–1473", "1 edit open"):
            assert said in lines_of(app)[-2]
        assert "Machines" not in text_of(app)
        await pilot.resize_terminal(*TALL)
        await until_shown(pilot, "Machines")
        captions, says, below = lines_of(app)[-4:-1]
        for caption in ("Order", "Title", "Machines", "Revision", "Seal", "Person", "Open edits"):
            assert caption in captions
        assert "Three 25-ton dockside cranes" in says
        assert "chief draughtsman" in below
        await pilot.resize_terminal(80, 33)
        await until(pilot, lambda: "Machines" not in text_of(app), "the one-line title block")


async def test_clauses_assemblies_and_deleted_items_read_as_such() -> None:
    app = opened(FakeBook(), "specification")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "All sections")
        await pilot.press("down", "down", "down", "down", "enter")
        await until_shown(pilot, "4.1.7")
        by_number = {line[3:14].split()[0]: line for line in lines_of(app)[2:-3] if line[3:14].split()}
        assert by_number["4.1.7"].startswith("│ - 4.1.7")
        assert "deleted by note 117: replaced by" in by_number["4.1.7"]
        assert "To be machined on the upper face only and marked with the ord" in by_number["4.1.9"]
        assert by_number["4.1"].index("Slewing gear, assembly 1") < by_number["4.1.1"].index("Dowel")
        assert by_number["4.1.8"].startswith("│ H 4.1.8")
        assert "§" in by_number["4.1"]


async def test_the_index_counts_each_row_once_a_column_and_open_edits_apart() -> None:
    app = opened(FakeBook(), "specification")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "All sections")
        heads, whole = lines_of(app)[1:3]
        assert heads.split()[1:-1] == ["Section", "Title", "Items", "Added", "Altered", "Deleted", "Open", "Safety"]
        assert whole.split("All sections")[1].split() == [
            *("2", "486", "+", "5", "»", "33", "-", "10", "^", "20", "§", "15", "│"),
        ]
        slewing = next(line for line in lines_of(app) if "Slewing gear" in line)
        assert slewing.split("gear")[1].split() == ["226", "+", "1", "»", "6", "–", "^", "3", "§", "3", "│"]
        await pilot.resize_terminal(60, 24)
        await until(pilot, lambda: "Safety" not in lines_of(app)[1], "a column to give way")
        assert {"Items", "Altered", "Open"} < set(lines_of(app)[1].split())


async def test_the_index_says_what_open_and_altered_mean() -> None:
    app = opened(FakeBook(), "specification")
    async with app.run_test(size=TALL) as pilot:
        await until_shown(pilot, "All sections")
        await pilot.press("question_mark")
        await until_shown(pilot, "»       altered in the last revision, or since under an open note")
        assert "M       material only: get the material and do not make" in text_of(app)


async def test_the_way_out_is_shown_on_a_low_screen() -> None:
    app = opened(FakeBook())
    walk = {"Nothing lost": (), "All sections": ("s",), "1.1.1": ("enter",), "┌ 1.1 ": ("down", "enter")}
    async with app.run_test(size=LOW) as pilot:
        for shown, keys in walk.items():
            await pilot.press(*keys)
            await until_shown(pilot, shown)
            await until_shown(pilot, "q leave")


async def test_the_list_says_that_a_weight_may_stand_for_a_size_and_shows_the_note_where_there_is_room() -> None:
    app = opened(FakeBook(), "specification")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "All sections")
        await pilot.press("down", "down", "down", "down", "enter")
        await until_shown(pilot, "4.1.3")
        assert "Size/wt" in lines_of(app)[1]
        await pilot.resize_terminal(*TALL)
        await until_shown(pilot, "Size or weight")
        assert "Open under" in lines_of(app)[1]
        assert next(line for line in lines_of(app) if " 4.1.3 " in line).rstrip(" ┃│").endswith("note 117")


async def test_an_altered_item_says_what_it_was_and_a_safety_item_who_decides() -> None:
    app = opened(FakeBook(), "4.1.3")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, 'was 1 1/4" dia × 4 1/2"')
        assert "» altered by note 117" in lines_of(app)[0]
        assert "! not in the register" in text_of(app)
        await pilot.press("end")
        await until_shown(pilot, "Material wrought iron → mild steel")
        assert "Machine shop" in text_of(app)
        await pilot.press("escape", "g", *"4.1", "enter")
        await until_shown(pilot, "§ Safety item: competent persons, the inspecting authority and local codes")
        assert lines_of(app)[2].startswith("│ decide.")


async def test_going_to_a_number_that_is_not_there_says_so_and_keeps_what_was_typed() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("g", *"4.1.99.9", "enter")
        await until_shown(pilot, "Item 4.1.99.9 is not in order W 611")
        assert "Number ▸ 4.1.99.9" in text_of(app)
        await pilot.press("backspace", "backspace", "backspace", "backspace", "backspace", ".", "2", "enter")
        await until_shown(pilot, "┌ 4.1.2 ")


async def test_the_help_explains_the_page_one_came_from_and_lists_its_keys_and_the_signs() -> None:
    app = opened(FakeBook(), "specification")
    async with app.run_test(size=TALL) as pilot:
        await until_shown(pilot, "All sections")
        await pilot.press("question_mark")
        await until_shown(pilot, "Help · Index of sections")
        for said in ("The index lists the sections", "Enter   Opens what the cursor stands on.", "§       safety item"):
            assert said in text_of(app)
        await pilot.press("escape")
        await until_shown(pilot, "index of sections")


async def test_the_mouse_opens_rows_and_the_words_of_the_key_line() -> None:
    app = opened(FakeBook(), "specification")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Brakes")
        row = next(at for at, line in enumerate(lines_of(app)) if "Brakes" in line)
        await pilot.click(offset=(20, row))
        await until(pilot, lambda: app.screen.table.cursor == 8, "the cursor where the mouse was")
        await pilot.click(offset=(20, row))
        await until_shown(pilot, "Specification · 8 Brakes")
        await pilot.click(offset=(lines_of(app)[-1].index("drawings"), 23))
        await until_shown(pilot, "Drawings · all")


async def test_the_desk_says_loudly_when_steps_are_lost() -> None:
    app = opened(FakeBook(lost_steps=3))
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "! LOST: 7 912 steps, 7 909 in shares: 3 missing from the shares")


async def test_q_leaves_and_every_reader_is_closed_by_the_thread_that_opened_it() -> None:
    book = FakeBook()
    app = opened(book)
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost")
        await pilot.press("slash", *"rack")
        await until_shown(pilot, "Rack segment")
        await pilot.press("escape", "q")
    assert len(book.opened_in) >= 2
    assert sorted(book.closed_in) == sorted(book.opened_in)
