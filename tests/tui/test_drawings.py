"""The drawing list and a drawing: views, signs, links to items, the list when the book changes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from specreg.core.model import Sheet, Stage
from specreg.services.drawing_readings import DrawingLine, DrawingPage, SheetSaid
from specreg.tui.columns import fit
from specreg.tui.drawing_paper import changes_in_words, drawing_parts, title_of
from specreg.tui.drawing_rows import ALL, NOT_TO_MAKE_BY, columns_of, drawing_list, is_late, numbers_of
from specreg.tui.passages import lines_of_part
from specreg.tui.pieces import Line, width_of
from tests.tui.fake_drawings import ISSUED, SHEETS, FakeRegister
from tests.tui.fake_reader import FakeBook
from tests.tui.watching import LOW, TALL, lines_of, opened, segments_of, text_of, until, until_shown

TODAY = date(2026, 11, 25)


def text(line: Line) -> str:
    return "".join(piece.text for piece in line)


def row_of(app: object, name: str) -> str:
    return next(line for line in lines_of(app) if f" {name} " in line)  # type: ignore[arg-type]


# What is reckoned ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("planned", "stage", "late"),
    [
        ("2026-11-24", "drawn", True),
        ("2026-11-25", "drawn", False),
        ("2026-11-24", "issued", False),
        ("2026-11-24", "approved", False),
        ("2026-11-24", "cancelled", False),
        ("2026-11-24", "superseded", False),
        ("2026-02-30", "planned", False),
        ("March 2020", "planned", False),
        ("", "planned", False),
    ],
)
def test_a_sheet_is_late_when_its_day_has_gone_by_and_it_is_still_wanted(planned: str, stage: str, late: bool) -> None:
    assert is_late(Sheet("SL-1", planned=planned, stage=stage), TODAY) is late


def test_the_sums_count_a_drawing_as_issued_only_with_all_its_sheets() -> None:
    drawings = [DrawingLine(sheet, 2 if sheet.stage == Stage.CANCELLED else 0) for sheet in SHEETS]
    made = drawing_list(drawings, TODAY)
    assert text(made.summary) == "3 of 6 drawings approved or issued · ~ 1 late · ! 1 cancelled, called up"
    assert text(drawing_list(drawings[:1], TODAY).summary) == "1 of 1 drawing approved or issued"
    assert drawing_list([], TODAY).summary == ()
    uncalled = [replace(drawing, called=0) for drawing in drawings]
    assert "cancelled" not in text(drawing_list(uncalled, TODAY).summary)
    assert [row.key for row in made.rows[NOT_TO_MAKE_BY]] == ["SL-1002/2", "SL-1002/3", "SL-1004", "SL-0900"]
    assert numbers_of(drawings) == ("SL-1001", "SL-1002", "SL-1003", "SL-1004", "GA-101", "SL-0900")


def test_the_day_planned_stays_where_drawings_are_waited_for_and_the_day_of_the_revision_elsewhere() -> None:
    def shown(view: int, room: int) -> list[str]:
        columns = columns_of(view)
        return [column.head for column, width in zip(columns, fit(columns, room), strict=True) if width]

    assert {"Date", "Called"} <= set(shown(ALL, 76)) and "Planned" not in shown(ALL, 76)
    assert {"Planned", "Called"} <= set(shown(NOT_TO_MAKE_BY, 76)) and "Date" not in shown(NOT_TO_MAKE_BY, 76)
    assert shown(ALL, 156) == [column.head for column in columns_of(ALL)]


def test_the_title_of_a_drawing_is_what_the_titles_of_its_sheets_begin_with() -> None:
    def page(*titles: str) -> DrawingPage:
        return DrawingPage("X", tuple(Sheet("X", str(at), title=title) for at, title in enumerate(titles)), (), (), ())

    assert title_of(page("Rack details, segment", "Rack details, bolts")) == "Rack details"
    assert title_of(page("Rack", "Pinion")) == "Rack"
    assert title_of(page("Rack", "Rack")) == "Rack"
    assert title_of(page("Rack", "Rack, bolts")) == "Rack"
    assert title_of(page()) == ""


def test_the_register_says_what_each_entry_changed() -> None:
    first = SheetSaid(replace(ISSUED, revision="", stage="planned", drawn="", approved=""), "2026-01-02")
    later = SheetSaid(replace(ISSUED, planned=""), "2026-02-02")
    assert changes_in_words(None, first) == "first entered, planned"
    assert changes_in_words(first, later) == (
        "Revision -; Stage planned → issued; Drawn L.M. 2026-03-30; Approved J.D. 2026-04-16; "
        "Planned no longer said, was 2026-04-27"
    )
    assert changes_in_words(later, later) == "entered again, nothing changed"


@pytest.mark.parametrize("width", [36, 56, 76, 116, 156, 200])
def test_a_drawing_fits_its_paper_and_nothing_of_it_is_cut(width: int) -> None:
    sheets = tuple(sheet for sheet in SHEETS if sheet.number == "SL-1002")
    said = tuple(SheetSaid(sheet, "2026-10-12") for sheet in sheets)
    page = DrawingPage("SL-1002", sheets, said, (), ("W 598",))
    lines = [line for part in drawing_parts(page, TODAY, width) for line in lines_of_part(part)]
    assert all(width_of(line) <= width for line in lines)
    whole = " ".join(" ".join(text(line) for line in lines).split())
    assert "…" not in whole or width == 36
    for words in ("no item calls it up", "W 598", "T 2177", "~ Not to be made from: SL-1002/2 (drawn)"):
        assert words in whole


def test_a_cancelled_drawing_still_called_up_is_a_stop_and_an_unknown_stage_is_named() -> None:
    page = DrawingPage("SL-1004", (replace(ISSUED, number="SL-1004", stage="cancelled"),), (), (), ())
    assert "Cancelled:" not in text_of_parts(page)
    assert "~ Not to be made from: SL-1004 (cancelled)." in text_of_parts(page)
    unknown = replace(page, sheets=(replace(ISSUED, stage=""),))
    assert "~ Not to be made from: SL-1001 (stage not known)." in text_of_parts(unknown)
    assert "Not to be made" not in text_of_parts(replace(page, sheets=(ISSUED,)))


def text_of_parts(page: DrawingPage) -> str:
    return "\n".join(text(line) for part in drawing_parts(page, TODAY, 100) for line in lines_of_part(part))


# The list -----------------------------------------------------------------------------------------------------------


async def test_the_list_shows_stage_days_and_callers_with_signs_in_three_views() -> None:
    app = opened(FakeBook(), "drawings")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "SL-1002/2")
        await until_shown(pilot, " 1 of 8 ┐")
        assert lines_of(app)[0].startswith("┌ Drawings · all ─")
        assert "3 of 6 drawings approved or issued" in lines_of(app)[1]
        assert lines_of(app)[2].split()[1:-1] == ["Drawing", "Title", "Rev", "Stage", "Date", "Called"]
        assert row_of(app, "SL-1002/2").startswith("│ ~ SL-1002/2 ")
        assert row_of(app, "SL-1004").startswith("│ ! SL-1004 ") and "cancelled" in row_of(app, "SL-1004")
        assert row_of(app, "SL-1002/1").rstrip(" │").endswith("2026-04-20     31")
        assert row_of(app, "GA-101").rstrip(" │").endswith("–")
        await pilot.press("down", "down", "2")
        await until_shown(pilot, "Drawings · not to make by")
        assert app.screen.table.row_at_cursor().key == "SL-1002/2"
        assert "1 of 4" in lines_of(app)[0] and "Planned" in lines_of(app)[2]
        assert "SL-1001" not in text_of(app)
        await pilot.press("3")
        await until_shown(pilot, "Drawings · not called up")
        assert "GA-101" in text_of(app) and "SL-1003 " not in text_of(app)
        await pilot.press("1")
        await until_shown(pilot, "Drawings · all")
        await pilot.resize_terminal(*TALL)
        await until_shown(pilot, "Approved")
        assert "R.C. 2026-04-10" in row_of(app, "SL-1001") and "2026-04-27" in row_of(app, "SL-1001")


async def test_the_list_has_at_least_seventeen_rows_and_never_scrolls_sideways() -> None:
    sheets = tuple(replace(ISSUED, number=f"SL-{number}") for number in range(1000, 1400))
    app = opened(FakeBook(register=FakeRegister(sheets=sheets)), "drawings")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "400 of 400 drawings approved or issued")
        assert sum(" SL-1" in line for line in lines_of(app)) >= 17
        assert app.screen.table.max_scroll_x == 0
        await pilot.press("end")
        await until_shown(pilot, "400 of 400 ┐")
        await pilot.press("right", "enter")
        await until_shown(pilot, "┌ SL-1399 ")


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 14), (160, 50)])
@pytest.mark.parametrize("page", ["drawings", "SL-1002"])
async def test_every_line_keeps_the_frame_at_every_size(size: tuple[int, int], page: str) -> None:
    app = opened(FakeBook(), "drawings")
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "SL-1001")
        if page != "drawings":
            await pilot.press("down", "enter")
            await until_shown(pilot, "┌ SL-1002")
        lines = lines_of(app)
        assert {len(line) for line in lines} == {size[0]} and len(lines) == size[1]
        assert all(line[0] in "┌│├└" and line[-1] in "┐│┃┤┘" for line in lines), text_of(app)


async def test_without_drawings_the_views_say_so() -> None:
    app = opened(FakeBook(register=FakeRegister(sheets=())), "drawings")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "No drawing stands on the list yet.")
        await until_shown(pilot, " none ┐")
        await pilot.press("enter", "2")
        await until_shown(pilot, "Every sheet on the list may be made from.")
        await pilot.press("3")
        await until_shown(pilot, "Every sheet on the list is called up by an item.")


async def test_the_list_follows_the_book_and_keeps_its_view_and_sheet() -> None:
    book = FakeBook()
    app = opened(book, "drawings")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "SL-1002/2")
        await pilot.press("2", "down")
        await until(pilot, lambda: app.screen.table.row_at_cursor().key == "SL-1002/3", "the third sheet")
        book.register.sheets = tuple(
            replace(sheet, stage="issued") if sheet.name == "SL-1002/2" else sheet for sheet in SHEETS
        )
        book.written += 1
        app.look()
        await until_shown(pilot, "1 of 3")
        assert app.screen.table.row_at_cursor().key == "SL-1002/3"
        assert "late" not in lines_of(app)[1]


# A drawing ----------------------------------------------------------------------------------------------------------


async def test_a_drawing_says_what_it_is_who_calls_it_up_and_what_the_register_said() -> None:
    app = opened(FakeBook(), "drawings")
    async with app.run_test(size=TALL) as pilot:
        await until_shown(pilot, "SL-1002/2")
        await pilot.press("down", "down", "enter")
        await until_shown(pilot, "┌ SL-1002 Slewing rack details ─")
        assert "2 of 6" in lines_of(app)[0]
        for said in (
            "~ Not to be made from: SL-1002/2 (drawn); SL-1002/3 (planned).",
            "~ Late: SL-1002/2 was planned for 2026-05-04.",
            "A1 (sheet 1); A3 (sheets 2, 3)",
            "rack segment ",
            "drawn L.M. 2026-03-30 · checked R.C. 2026-04-10 · approved J.D. 2026-04-16",
            "no rev",
            "machines 1471-1472",
            "Revision - → A; Stage planned → drawn",
            "first entered, planned",
            "W 598, W 603",
        ):
            assert said in text_of(app), said
        first, second = (next(line for line in lines_of(app) if number in line) for number in ("4.1.1 ", "4.1.2 "))
        assert first.startswith("│ Called up by  4.1.1 ") and "§ Rack segment" in first and "PAT FDY MCH ERE" in first
        assert "SL-1002/2" in second and "§" not in second
        await pilot.press("down", "enter")
        await until_shown(pilot, "┌ 4.1.2 ")
        await pilot.press("escape", "up", "enter")
        await until_shown(pilot, "┌ 4.1.1 ")


async def test_n_and_b_go_through_the_drawings_and_stop_at_the_ends() -> None:
    app = opened(FakeBook(), "drawings")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "SL-1001")
        await pilot.press("enter")
        await until_shown(pilot, "┌ SL-1001 ")
        await pilot.press("n", "n")
        await until_shown(pilot, "┌ SL-1003 ")
        await pilot.press("b")
        await until_shown(pilot, "┌ SL-1002 ")
        await pilot.press("b", "b", "b")
        await until_shown(pilot, "┌ SL-1001 ")
        # Both before the book has answered the first.
        app.screen.action_next()
        app.screen.action_next()
        await until_shown(pilot, "┌ SL-1003 ")
        await pilot.press(*"nnnnnnnn")
        await until_shown(pilot, "6 of 6")
        assert "no item calls it up" in text_of(app)


async def test_coming_back_the_cursor_stands_on_the_drawing_seen_last_where_the_view_has_it() -> None:
    app = opened(FakeBook(), "drawings")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "SL-1001")
        await pilot.press("enter")
        await until_shown(pilot, "┌ SL-1001 ")
        await pilot.press("n", "n")
        await until_shown(pilot, "┌ SL-1003 ")
        await pilot.press("escape")
        await until_shown(pilot, "5 of 8")
        await pilot.press("up", "enter")
        await until_shown(pilot, "┌ SL-1002 ")
        await pilot.press("escape")
        await until_shown(pilot, "4 of 8")
        await pilot.press("2", "enter")
        await until_shown(pilot, "┌ SL-1002 ")
        await pilot.press("n")
        await until_shown(pilot, "┌ SL-1003 ")
        await pilot.press("escape")
        await until_shown(pilot, "not to make by")
        assert app.screen.table.row_at_cursor().key == "SL-1002/3"


@pytest.mark.parametrize("width", [130, 156])
def test_on_wide_paper_the_persons_stand_in_the_line_of_their_sheet_and_no_row_ends_in_a_point(width: int) -> None:
    page = DrawingPage("SL-1002", (replace(ISSUED, number="SL-1002", sheet="2", of="3", machines="1471"),), (), (), ())
    rows = [text(line).rstrip() for part in drawing_parts(page, TODAY, width) for line in lines_of_part(part)]
    at = next(at for at, row in enumerate(rows) if row.startswith("Sheets"))
    assert "drawn L.M. 2026-03-30" in rows[at]
    assert not [row for row in rows if row.endswith("·") or row.lstrip().startswith("·")]
    said = " ".join(" ".join(rows).split())
    assert all(
        f"{words} " in f"{said} " for words in ("approved J.D. 2026-04-16", "planned 2026-04-27", "machines 1471")
    )


async def test_a_drawing_not_on_the_list_opens_too_and_one_that_is_not_there_leaves_a_sentence() -> None:
    book = FakeBook()
    app = opened(book)
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost")
        app.open_drawing("SL-1002/3")
        await until_shown(pilot, "┌ SL-1002 ")
        await pilot.press("escape")
        app.open_drawing("ZZ-1")
        await until_shown(pilot, "Drawing ZZ-1: it is not in the register")
        await pilot.press("enter")
        await until_shown(pilot, "Waits for you")


async def test_a_drawing_follows_the_book_with_the_cursor_on_its_item() -> None:
    book = FakeBook()
    app = opened(book, "drawings")
    async with app.run_test(size=TALL) as pilot:
        await until_shown(pilot, "SL-1002/2")
        await pilot.press("down", "enter")
        await until_shown(pilot, "Called up by")
        await pilot.press("down")
        await until(pilot, lambda: app.screen.paper.key == "4.1.2", "the second item")
        book.register.sheets = tuple(replace(sheet, stage="issued") for sheet in SHEETS)
        book.written += 1
        app.look()
        await until(pilot, lambda: "Not to be made from" not in text_of(app), "the sheets to be issued")
        assert app.screen.paper.key == "4.1.2"


async def test_find_opens_a_drawing_also_from_the_places_lately_opened() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await pilot.press("slash", *"SL-1003")
        await until_shown(pilot, "Rack bolts and washers")
        await pilot.press("enter")
        await until_shown(pilot, "┌ SL-1003 Rack bolts and washers ─")
        await pilot.press("escape", "ctrl+u")
        await until_shown(pilot, "Lately opened")
        assert "drawing" in lines_of(app)[4]
        await pilot.press("enter")
        await until_shown(pilot, "┌ SL-1003 Rack bolts and washers ─")


async def test_the_plain_look_has_no_colour_and_the_help_explains_both_pages() -> None:
    app = opened(FakeBook(), "drawings")
    async with app.run_test(size=TALL) as pilot:
        await until_shown(pilot, "SL-1002/2")
        await pilot.press("l", "l")
        await until(pilot, lambda: app.theme == "plain", "the plain look")
        for keys, shown in (((), "Drawings · all"), (("down", "enter"), "Called up by")):
            await pilot.press(*keys)
            await until_shown(pilot, shown)
            styles = [segment.style for line in segments_of(app) for segment in line if segment.style]
            assert not [one for one in styles if (one.color and not one.color.is_default)
                        or (one.bgcolor and not one.bgcolor.is_default)]  # fmt: skip
            assert any(one.reverse and one.bold for one in styles)
        await pilot.press("question_mark")
        await until_shown(pilot, "Help · Drawing ─")
        assert "Goes to the next drawing." in text_of(app)
        await pilot.press("escape", "escape", "question_mark")
        await until_shown(pilot, "Help · Drawing list")
        assert "Shows the sheets that may not be made from yet." in text_of(app)
