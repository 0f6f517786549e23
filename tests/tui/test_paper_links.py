"""Passages on a sheet: laid out only where they are seen, walked through by keys and mouse, kept when written again."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st
from textual.app import App, ComposeResult
from textual.events import MouseScrollDown
from textual.pilot import Pilot

from specreg.tui.passages import LAID_KEPT, Laid, Part, Passage, passage
from specreg.tui.pieces import Line, line
from specreg.tui.widgets.paper import Paper
from tests.tui.fake_reader import FakeBook
from tests.tui.watching import LOW, lines_of, opened, segments_of, text_of, until, until_shown


def lines(*texts: str) -> list[Line]:
    return [line(text) for text in texts]


# The sheet itself ---------------------------------------------------------------------------------------------------

SIZES = st.lists(st.integers(0, 5), max_size=12)
"""A sheet: 0 is a plain line, another number a passage of so many lines."""


def laid(sizes: Sequence[int]) -> tuple[Laid, list[tuple[int, int]]]:
    """A sheet, and every place of it in order."""
    parts: list[Part] = [
        passage(f"key {at}", lines(*"x" * size)) if size else line("x") for at, size in enumerate(sizes)
    ]
    return Laid(parts), [(at, inner) for at, size in enumerate(sizes) for inner in range(size or 1)]


@given(SIZES, st.integers(0, 70), st.integers(-70, 70))
def test_a_place_moves_line_by_line_and_stops_at_the_ends(sizes: list[int], start: int, step: int) -> None:
    sheet, places = laid(sizes)
    if not places:
        assert sheet.moved((0, 0), step) == (0, 0)
        return
    at = min(start, len(places) - 1)
    assert sheet.moved(places[at], step) == places[min(max(at + step, 0), len(places) - 1)]


@given(SIZES, st.integers(1, 20), st.integers(0, 70))
def test_a_screen_shows_what_follows_its_top_and_the_last_screen_is_full(
    sizes: list[int], height: int, start: int
) -> None:
    sheet, places = laid(sizes)
    at = min(start, max(0, len(places) - 1))
    assert list(sheet.rows(places[at] if places else (0, 0), height)) == places[at : at + height]
    assert list(sheet.rows(sheet.lowest(height), height)) == places[-height:]


@given(SIZES, st.integers(3, 20), st.data())
def test_the_thick_side_stays_on_the_screen_and_touches_an_end_only_there(
    sizes: list[int], height: int, data: st.DataObject
) -> None:
    sheet, places = laid(sizes)
    if len(places) <= height:
        assert not sheet.thumb((0, 0), height)
        return
    lowest = sheet.lowest(height)
    top = data.draw(st.sampled_from([place for place in places if place <= lowest]))
    thick = sheet.thumb(top, height)
    assert 0 <= thick.start < thick.stop <= height
    assert sheet.thumb((0, 0), height).start == 0
    assert sheet.thumb(lowest, height).stop == height
    if len(thick) < height - 1:
        assert (thick.start == 0) == (top == (0, 0))
        assert (thick.stop == height) == (top == lowest)


def test_only_the_passages_near_the_screen_are_laid_out_however_long_the_sheet() -> None:
    asked: list[int] = []

    def lay(at: int) -> list[Line]:
        asked.append(at)
        return lines(f"{at}", "more", "more")

    sheet = Laid([Passage(str(at), lambda at=at: lay(at)) for at in range(10_000)])  # type: ignore[misc]
    sheet.rows((0, 0), 20)
    sheet.thumb((0, 0), 20)
    sheet.rows(sheet.lowest(20), 20)
    assert sheet.place_of("9999") == 9999
    assert sheet.passage_from(5000, 1) == 5001 and sheet.passage_from(0, -1) == -1
    assert len(asked) == len(set(asked)) <= 20
    for at in range(LAID_KEPT + 5):
        sheet.lines(at)
    assert len(sheet._kept) <= LAID_KEPT


# On the screen ------------------------------------------------------------------------------------------------------


class PaperApp(App[None]):
    """One paper on a screen of its own, and what it told."""

    ENABLE_COMMAND_PALETTE = False
    CSS = "Paper { height: 1fr; }"

    def __init__(self, parts: Sequence[Part]) -> None:
        self.parts = parts
        self.opened: list[str] = []
        self.moved: list[str] = []
        super().__init__()

    def compose(self) -> ComposeResult:
        yield Paper()

    def on_mount(self) -> None:
        self.paper.write(lambda width: self.parts)

    @property
    def paper(self) -> Paper:
        return self.query_one(Paper)

    def on_paper_opened(self, opened: Paper.Opened) -> None:
        self.opened.append(opened.key)

    def on_paper_moved(self, moved: Paper.Moved) -> None:
        self.moved.append(moved.key)


def shown(pilot: Pilot[None]) -> list[str]:
    """What stands in the rows, without the frame."""
    return [row[2:-2].rstrip() for row in lines_of(pilot.app)]  # type: ignore[arg-type]


def under_cursor(pilot: Pilot[None]) -> list[str]:
    """The rows painted as the cursor's: reverse and bold, for there is no colour."""
    rows = segments_of(pilot.app)  # type: ignore[arg-type]
    return [
        "".join(segment.text for segment in row)[2:-2].rstrip()
        for row in rows
        if any(segment.style and segment.style.reverse and segment.style.bold for segment in row)
    ]


async def test_down_goes_to_the_next_passage_on_the_screen_and_else_scrolls_so_that_all_is_read() -> None:
    text = lines(*(f"text {at}" for at in range(15)))
    app = PaperApp([*lines("top"), passage("a", lines("link a")), passage("b", lines("link b", "its second line")),
                    *text, passage("c", lines("link c"))])  # fmt: skip
    async with app.run_test(size=(30, 8)) as pilot:
        await until(pilot, lambda: under_cursor(pilot) == ["link a"], "the cursor on the first passage")
        app.paper.move(1)
        await pilot.pause()
        assert under_cursor(pilot) == ["link b"] and shown(pilot)[0] == "top"
        seen = {*shown(pilot)}
        for _ in range(20):
            app.paper.move(1)
            await pilot.pause()
            seen |= {*shown(pilot)}
            if app.paper.key == "c":
                break
        assert under_cursor(pilot) == ["link c"]
        assert {f"text {at}" for at in range(15)} <= seen
        app.paper.move(1)
        await pilot.pause()
        assert shown(pilot)[-1] == "link c"
        for _ in range(40):
            app.paper.move(-1)
        await pilot.pause()
        assert shown(pilot)[0] == "top" and under_cursor(pilot) == ["link a"]


async def test_no_passage_is_opened_that_is_not_seen() -> None:
    app = PaperApp([passage("a", lines("link a")), *lines(*(f"text {at}" for at in range(30)))])
    async with app.run_test(size=(30, 8)) as pilot:
        app.paper.open()
        await until(pilot, lambda: app.opened == ["a"], "the passage to be opened")
        app.paper.move_page(1)
        await pilot.pause()
        assert not under_cursor(pilot) and app.paper.key == "" and app.moved[-1] == ""
        app.paper.open()
        await pilot.pause()
        assert app.opened == ["a"]
        app.paper.to_top()
        await pilot.pause()
        assert under_cursor(pilot) == ["link a"]


async def test_pages_and_ends_bring_the_cursor_along() -> None:
    app = PaperApp([passage(f"{at}", lines(f"link {at}", "more")) for at in range(30)])
    async with app.run_test(size=(30, 8)) as pilot:
        await until(pilot, lambda: app.paper.key == "0", "the first passage")
        app.paper.move_page(1)
        await pilot.pause()
        assert app.paper.key in ("3", "4") and under_cursor(pilot)
        app.paper.to_bottom()
        await pilot.pause()
        assert app.paper.key == "29" and shown(pilot)[-2:] == ["link 29", "more"]
        app.paper.move_page(-1)
        await pilot.pause()
        assert app.paper.key == "26"
        app.paper.to_top()
        await pilot.pause()
        app.paper.move_page(1)
        app.paper.move_page(-1)
        app.paper.move_page(-1)
        await pilot.pause()
        assert app.paper.key == "0"


async def test_a_passage_higher_than_the_screen_is_read_line_by_line_before_the_next_one() -> None:
    app = PaperApp([passage("a", lines(*(f"a{at}" for at in range(12)))), passage("b", lines("b"))])
    async with app.run_test(size=(30, 6)) as pilot:
        await until(pilot, lambda: app.paper.key == "a", "the first passage")
        for _ in range(6):
            app.paper.move(1)
        await pilot.pause()
        assert app.paper.key == "a" and shown(pilot)[0] == "a6" and under_cursor(pilot) == ["a6"]
        app.paper.move(1)
        app.paper.move(1)
        await pilot.pause()
        assert app.paper.key == "b"
        app.paper.jump(-1)
        await pilot.pause()
        assert shown(pilot)[0] == "a0"
        app.paper.jump(1)
        await pilot.pause()
        assert app.paper.key == "b" and shown(pilot)[-1] == "b"
        app.paper.jump(1)
        await pilot.pause()
        assert app.paper.key == "b"


async def test_writing_again_keeps_the_cursor_on_its_key_and_in_its_row() -> None:
    parts = [passage(f"{at}", lines(f"link {at}", "more")) for at in range(30)]
    app = PaperApp(parts)
    async with app.run_test(size=(30, 8)) as pilot:
        await until(pilot, lambda: app.paper.key == "0", "the first passage")
        for _ in range(12):
            app.paper.move(1)
        await pilot.pause()
        row = shown(pilot).index("link 12")
        app.parts = [*lines("new", "new"), *parts[3:]]
        app.paper.write(lambda width: app.parts, from_the_top=False)
        await pilot.pause()
        assert app.paper.key == "12" and shown(pilot).index("link 12") == row
        await pilot.resize_terminal(50, 8)
        await until(pilot, lambda: len(lines_of(app)[0]) == 50, "the other width")  # type: ignore[arg-type]
        assert app.paper.key == "12" and shown(pilot).index("link 12") == row
        app.parts = parts[:5]
        app.paper.write(lambda width: app.parts, from_the_top=False)
        await pilot.pause()
        assert shown(pilot)[-1] == "more" and under_cursor(pilot)
        app.paper.write(lambda width: [])
        await pilot.pause()
        assert app.paper.key == "" and not any(shown(pilot))


async def test_the_mouse_opens_a_passage_and_its_wheel_scrolls() -> None:
    app = PaperApp([*lines("top"), passage("a", lines("link a", "more")), passage("b", lines("link b", "more")),
                    *lines(*"xxxxxxxxxxxxxxx")])  # fmt: skip
    async with app.run_test(size=(30, 8)) as pilot:
        await pilot.click(offset=(5, 3))
        await until(pilot, lambda: app.opened == ["b"], "the passage under the mouse")
        assert under_cursor(pilot) == ["link b"]
        await pilot.click(offset=(5, 2))
        await until(pilot, lambda: under_cursor(pilot) == ["link a"], "the cursor where the mouse was")
        await pilot.click(offset=(5, 0))
        assert app.opened == ["b"]
        await pilot._post_mouse_events([MouseScrollDown], None, (5, 5))
        await until(pilot, lambda: shown(pilot)[0] == "link b", "the wheel to scroll")


async def test_a_sheet_without_passages_scrolls_line_by_line_as_before() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost")
        await pilot.press("question_mark")
        await until_shown(pilot, "Help · Desk")
        first = shown(pilot)[2]
        await pilot.press("down")
        await until(pilot, lambda: shown(pilot)[1] == first, "one line down")
        await pilot.press("up", "up", "end")
        await until_shown(pilot, "local codes decide")
        await pilot.press("home")
        await until(pilot, lambda: shown(pilot)[2] == first, "the top")


# The drawings of an item ------------------------------------------------------------------------------------------


async def test_an_item_opens_the_drawings_it_calls_up_but_not_one_that_is_not_registered() -> None:
    app = opened(FakeBook(), "4.1.3")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "! not in the register")
        assert "Enter open" in lines_of(app)[-1]
        row = next(at for at, one in enumerate(lines_of(app)) if "SL-1999/2" in one)
        await pilot.click(offset=(20, row))
        assert "┌ 4.1.3 " in lines_of(app)[0]
        await pilot.press("enter")
        await until_shown(pilot, "┌ SL-1003 Rack bolts and washers")
        await pilot.press("escape")
        await until_shown(pilot, "┌ 4.1.3 ")
        assert "SL-1003" in text_of(app)
