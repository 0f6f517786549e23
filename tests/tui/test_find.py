"""Find: paints while one types, loses no key, drops late answers, says why a thing was found."""

from __future__ import annotations

from textual import events

from tests.tui.fake_reader import NOTE_WORDS, FakeBook
from tests.tui.watching import LOW, TALL, lines_of, opened, text_of, until, until_shown


async def test_find_paints_while_typing() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("slash", "r", "a", "c", "k")
        await until_shown(pilot, "Rack segment")
        assert "Find ▸ rack" in lines_of(app)[1]
        assert lines_of(app)[0].split("─ ")[-1].startswith("1 of ")
        assert "title" in text_of(app)
        await pilot.press("space", "b")
        await until(pilot, lambda: "Rack segment" not in text_of(app), "only bolts")
        assert "Rack bolt" in text_of(app)


async def test_no_key_is_lost_even_when_twelve_come_at_once_with_the_key_that_opens_find() -> None:
    book = FakeBook(find_seconds={"r": 0.2})
    app = opened(book)
    async with app.run_test(size=LOW) as pilot:
        # Put on the queue without a pause between, as a terminal does that was held up.
        app.post_message(events.Key("slash", "/"))
        for key in "rack bolt dr":
            app.post_message(events.Key(key if key != " " else "space", key))
        await until_shown(pilot, "Find ▸ rack bolt dr")
        await until(pilot, lambda: "rack bolt dr" in book.finds, "a search for all that was typed")
        assert len(book.finds) <= 4


async def test_letters_that_are_commands_elsewhere_are_text_in_find() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("slash", *"dsgtqnp", "question_mark", "slash")
        await until_shown(pilot, "Find ▸ dsgtqnp?/")


async def test_a_late_answer_is_dropped_and_its_search_is_told_to_stop() -> None:
    book = FakeBook(find_seconds={"rack": 5.0})
    app = opened(book)
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("slash", *"rack")
        await until(pilot, lambda: "rack" in book.finds, "the slow search")
        await pilot.press(*" bolt")
        await until_shown(pilot, "Rack bolt")
        await until(pilot, lambda: "rack" in book.stopped_finds, "the slow search to be stopped")
        await pilot.pause(0.1)
        assert "Rack segment" not in text_of(app)
        assert app.screen.found.query == "rack bolt"


async def test_near_hits_carry_the_sign_and_the_word() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("slash", *"rak")
        await until_shown(pilot, "nothing is exactly this; these come near it")
        hit = next(line for line in lines_of(app) if "4.1.1" in line)
        assert "≈" in hit
        assert "near" in hit
        deleted = next(line for line in lines_of(app) if "4.1.2" in line)
        assert "-≈" in deleted and "deleted" in deleted


async def test_hits_bear_their_sign_and_say_where_what_was_typed_stands() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("slash", *"dia")
        await until_shown(pilot, "4.1.7")
        deleted, held, long = (next(line for line in lines_of(app) if number in line) for number in
                               ("4.1.7", "4.1.8", "4.1.9"))  # fmt: skip
        assert deleted.startswith("│ -  4.1.7 ") and deleted.rstrip(" │").endswith("deleted")
        assert held.startswith("│ H  4.1.8 ") and held.rstrip(" │").endswith("item")
        assert long.startswith("│ §  4.1.9 ")
        assert "Rack bolt  Size 1 1/4" in deleted
        assert 'Dowel  Size 1 1/4" dia × 5"' in held
        assert "Size" not in long
        await pilot.resize_terminal(*TALL)
        await until_shown(pilot, 'with unions  Size 1 1/4" dia × 5"')


async def test_a_note_found_says_all_its_words_and_how_it_stands() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("slash", *"note")
        await until_shown(pilot, "issued")
        assert "note 2" in lines_of(app)[4]
        await pilot.press("enter")
        await until_shown(pilot, "note 2, issued: The surveyors ask")
        words = " ".join(line.strip("│ ") for line in lines_of(app)[2:6])
        assert words == f"note 2, issued: {NOTE_WORDS}"
        assert "Found by" in lines_of(app)[6]
        assert all(len(line) == 80 for line in lines_of(app))
        await pilot.resize_terminal(40, 14)
        await until(pilot, lambda: "…" in text_of(app), "words cut with a sign where a low screen has no room")
        assert "Found by" in text_of(app)
        await pilot.resize_terminal(80, 24)
        await pilot.press("x")
        await until(pilot, lambda: "2, issued" not in text_of(app), "the words to be put away")
        assert "Found by" in lines_of(app)[3]


async def test_down_goes_into_the_list_enter_opens_and_escape_comes_back_to_what_was_typed() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("slash", *"rack bolt")
        await until_shown(pilot, "1 of 1")
        await pilot.press("down", "down")
        await until_shown(pilot, "3 of 1")
        number = app.screen.table.row_at_cursor().key.removeprefix("item ")
        await pilot.press("enter")
        await until_shown(pilot, f"┌ {number} ")
        await pilot.press("escape")
        await until_shown(pilot, "3 of 1")
        await pilot.press("x")
        await until_shown(pilot, "Find ▸ rack boltx")
        await pilot.press("backspace", "escape")
        await until_shown(pilot, "Waits for you")
        await pilot.press("slash")
        await until_shown(pilot, "Find ▸ rack bolt")
        await until_shown(pilot, "Rack bolt")
        await pilot.press("d")
        await until(pilot, lambda: lines_of(app)[1].startswith("│ Find ▸ d "), "the kept text to give way to a new one")


async def test_enter_before_the_answer_opens_the_first_hit_of_what_was_typed_not_of_an_older_text() -> None:
    book = FakeBook(find_seconds={"4.1.2": 0.3})
    app = opened(book)
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("slash", *"4.1.")
        await pilot.press("2", "enter")
        await until_shown(pilot, "┌ 4.1.2 ")


async def test_with_nothing_typed_the_places_lately_opened_are_offered() -> None:
    app = opened(FakeBook(), "4.1.2")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "┌ 4.1.2 ")
        await pilot.press("slash")
        await until_shown(pilot, "Lately opened")
        assert "4.1.2" in lines_of(app)[4]
        await pilot.press("enter")
        await until_shown(pilot, "┌ 4.1.2 ")
        await pilot.press("escape")
        await until_shown(pilot, "Lately opened")


async def test_more_hits_come_when_the_cursor_reaches_the_last_of_the_first() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("slash", *"rack")
        await until_shown(pilot, "the first 100; more come")
        for _ in range(7):
            await pilot.press("pagedown")
        await until(pilot, lambda: app.screen.table.count > 100, "more hits")
        assert app.screen.table.cursor >= 99
