"""The table reads only the rows on the screen, follows what others write, and survives trouble with the book."""

from __future__ import annotations

from tests.tui.fake_reader import FakeBook
from tests.tui.watching import LOW, lines_of, opened, text_of, until, until_shown


async def test_of_two_hundred_thousand_rows_only_those_on_the_screen_are_read() -> None:
    book = FakeBook(rows=200_000)
    app = opened(book, "specification")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "All sections")
        await pilot.press("enter")
        await until_shown(pilot, "1 of 199 991")
        await pilot.press("end")
        await until_shown(pilot, "199 991 of 199 991")
        await pilot.press("home")
        await until_shown(pilot, "1 of 199 991")
        assert sum(count for _, _, count in book.rows_asked) <= 6 * 33


async def test_slow_rows_are_read_in_a_thread_and_painted_when_they_come() -> None:
    book = FakeBook(rows=20_000, page_seconds=0.15)
    app = opened(book, "specification")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "All sections")
        await pilot.press("enter")
        await until_shown(pilot, "1 of 19 998")
        for _ in range(4):
            await pilot.press("pagedown")
        await until_shown(pilot, "1.7.2")
        asked = len(book.rows_asked)
        await pilot.press("end")
        await until_shown(pilot, "11.182.6")
        assert len(book.rows_asked) <= asked + 2


async def test_what_another_writes_shows_up_and_the_cursor_keeps_its_item() -> None:
    book = FakeBook()
    app = opened(book, "specification")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "All sections")
        await pilot.press("down", "down", "down", "down", "enter")
        await until_shown(pilot, "4.1.5")
        await pilot.press(*["down"] * 5)
        await until_shown(pilot, "6 of 227")
        book.changed_title = "Pinion shaft, forged"
        book.gone.add("4.1.1")
        book.written += 1
        app.look()
        await until_shown(pilot, "Pinion shaft, forged")
        await until_shown(pilot, "5 of 226")
        assert app.screen.table.row_at_cursor().key == "4.1.4"
        assert "2 edits open" in lines_of(app)[-2]
        assert "4.1.1 " not in text_of(app)


async def test_a_page_that_was_covered_catches_up_when_it_is_seen_again() -> None:
    book = FakeBook()
    app = opened(book)
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost")
        await pilot.press("s")
        await until_shown(pilot, "All sections")
        book.lost_steps = 5
        book.written += 1
        app.look()
        await until_shown(pilot, "2 edits open")
        await pilot.press("escape")
        await until_shown(pilot, "5 missing from the shares")


async def test_the_book_is_looked_at_by_itself_every_two_seconds() -> None:
    book = FakeBook()
    app = opened(book)
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "1 edit open")
        book.written += 1
        await until_shown(pilot, "2 edits open")


async def test_trouble_is_told_in_a_sentence_and_the_page_stays() -> None:
    book = FakeBook()
    app = opened(book, "specification")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "All sections")
        book.refuse = "it is locked by another program"
        await pilot.press("down", "enter")
        await until_shown(pilot, "The works book cannot be read: it is locked by another")
        await until_shown(pilot, "program. Ask the chief.")
        assert "Traceback" not in text_of(app)
        book.refuse = ""
        await pilot.press("enter")
        await until(pilot, lambda: "Could not be done" not in text_of(app), "the dialog to go away")
        await pilot.press("escape")
        await until_shown(pilot, "All sections")
        await pilot.press("enter")
        await until_shown(pilot, "1.1.1")


async def test_a_mistake_of_the_program_is_told_plainly_too() -> None:
    book = FakeBook()
    app = opened(book)
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost")
        book.find_seconds = None  # type: ignore[assignment]
        await pilot.press("slash", "r")
        await until_shown(pilot, "The book could not be read just now (AttributeError")
        await pilot.press("escape")
        await until_shown(pilot, "Find ▸ r")


async def test_a_number_to_start_with_that_is_not_there_leaves_one_on_the_desk_with_a_sentence() -> None:
    app = opened(FakeBook(), "77.7")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Item 77.7 is not in order W 611")
        await pilot.press("escape")
        await until_shown(pilot, "Waits for you")
