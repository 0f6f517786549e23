"""A department's share: its lines with their signs, what was, what is withdrawn; views, neighbours, cautions, sizes."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace
from fractions import Fraction
from time import perf_counter

import pytest
from rich.cells import cell_len
from textual.pilot import Pilot

from specreg.core.extracts import Extract, ExtractLine, ShareWeight
from specreg.core.measures.units import TON
from specreg.services.department_readings import DepartmentsPage
from specreg.tui.app import SpecregApp
from specreg.tui.columns import fit, row_line
from specreg.tui.pieces import Line, width_of
from specreg.tui.share_rows import ShareRows, share_columns, share_of
from specreg.tui.share_words import closing, extract_words, head_of, preface
from tests.tui.fake_reader import FakeBook, FakeReader
from tests.tui.fake_shares import (
    CAUTIONS,
    ERECTING,
    FOUNDRY,
    ISSUED,
    MACHINE_SHOP,
    SMITHY,
    STORES,
    FakeSplit,
    a_line,
    a_share,
    stands,
)
from tests.tui.watching import LOW, TALL, lines_of, opened, segments_of, text_of, typed, until, until_shown

CODES = {"Machine shop": "MCH", "Stores": "STO", "Erecting shop": "ERE", "Pattern shop": "PAT"}
ORDER = ["4.1.1", "4.2", "4.3", "4.10", "9.3.2", "9.3.7A", "9.3.8"]


def text(line: Line) -> str:
    return "".join(piece.text for piece in line)


def laid(extract: Extract, room: int, changed_only: bool = False) -> list[str]:
    """The rows of a share as painted."""
    rows = ShareRows(share_of(extract, CODES), changed_only, room, closing(extract, changed_only, False, True))
    widths = fit(rows.columns, room)
    return [text(row_line(row, rows.columns, widths)).rstrip() for row in rows.rows(0, rows.count())]


def heads(extract: Extract, room: int) -> list[str]:
    columns = share_columns(share_of(extract, CODES), room).columns
    return [column.head for column, width in zip(columns, fit(columns, room), strict=True) if width]


def over(extract: Extract, width: int, most: int) -> list[str]:
    return [text(line) for line in preface(extract, width, most)[0]]


@asynccontextmanager
async def at_share(
    code: str, book: FakeBook | None = None, open_edits: bool = False, size: tuple[int, int] = LOW
) -> AsyncIterator[tuple[SpecregApp, Pilot[None]]]:
    """The program with the share of a department opened from the desk."""
    app = opened(book or FakeBook())
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "Desk")
        app.open_share(code, open_edits)
        yield app, pilot


def numbers_on(app: SpecregApp) -> list[str]:
    """The numbers of the lines on the screen, as they stand there."""
    return [found[1] for line in lines_of(app) if (found := re.match(r"│ [ »+-] (\d+\.\S+) ", line))]


def number_at(app: SpecregApp) -> str:
    row = app.screen.table.row_at_cursor()  # type: ignore[attr-defined]
    return row.key.split()[1] if row else ""


# What is reckoned ---------------------------------------------------------------------------------------------------


def test_the_lines_stand_in_the_order_of_numbers_the_withdrawn_where_they_stood() -> None:
    assert [one.number for one in share_of(FOUNDRY, CODES).lines] == ORDER
    rows = laid(FOUNDRY, 76)
    assert [row[2:].split()[0] for row in rows if row[2:3].isdigit()] == ORDER
    assert [row[0] for row in rows if row[2:3].isdigit()] == ["»", " ", "-", " ", "-", "+", " "]


def test_what_was_and_why_it_is_withdrawn_stand_wrapped_under_the_line() -> None:
    rows = laid(FOUNDRY, 76)
    assert rows[1] == "           Off was 36, now 42; Weight was 3 cwt 1 qr 17 lb, now 3 cwt 2 qr 4"
    assert rows[2] == "           lb; Drawing was SL-1002/1 rev -, now SL-1002/1 rev A"
    at = rows.index(next(row for row in rows if row.startswith("- 4.3")))
    assert rows[at + 1].strip() == "withdrawn: deleted: scrapped, two stand in the yard and are to be"
    assert rows[at + 2].strip() == "broken up before the next melt"
    assert "           withdrawn: no longer your line" in rows
    # A line as before says nothing under it.
    plain = replace(FOUNDRY, lines=(a_line("", "4.2", "Pinion", was="Off was 1"),), withdrawn=())
    assert not [row for row in laid(plain, 76) if "was" in row]


def test_marks_and_drawings_say_what_holds_a_line_up() -> None:
    rows = {row[2:].split()[0]: row for row in laid(FOUNDRY, 156) if row[2:3].isdigit()}
    assert " § " in rows["4.1.1"] and " H " in rows["9.3.7A"] and " §M " in rows["9.3.8"]
    assert "~ SL-3411 rev - (planned)" in rows["9.3.7A"] and "~" not in rows["4.1.1"]
    assert "as required per machine" in rows["4.10"] and "cast, machines 1471-1472" in "".join(laid(FOUNDRY, 300))


def test_departments_stand_by_code_and_drawings_briefly_where_room_is_short() -> None:
    share = replace(FOUNDRY, lines=(a_line("", "9.3.8", "Brake wheel", off="3", goes_to="Machine shop and Stores"),
                                    a_line("", "9.3.9", "Cap", off="3", goes_to="Smithy and Works yard")),
                    withdrawn=())  # fmt: skip
    wide, low = laid(share, 156), laid(share, 76)
    assert "Pattern shop Machine shop and Stores" in wide[0] and wide[0].endswith("SL-1002/1 rev -")
    assert "PAT  MCH, STO" in low[0] and low[0].endswith("SL-1002/1 -")
    assert "Smithy, Wor…" in low[1]


def test_columns_give_way_in_rank_and_empty_ones_are_left_out() -> None:
    everything = ["No", "Description", "§", "Off", "From", "To", "Material", "Size or weight", "Drawing"]
    assert heads(FOUNDRY, 156) == [" ", *everything]
    assert heads(FOUNDRY, 76) == [" ", *(head for head in everything if head != "Size or weight")]
    assert heads(FOUNDRY, 56) == [" ", "No", "Description", "§", "Off", "From", "To"]
    assert heads(FOUNDRY, 36) == [" ", "No", "Description", "§", "Off"]
    bare = a_share("ERE", "Erecting shop", (a_line("", "4.1", "Rack", goes_to="", came_from="", drawing=""),))
    assert heads(bare, 156) == [" ", "No", "Description", "Off", "Material", "Size or weight"]


@pytest.mark.parametrize("room", [30, 36, 56, 76, 96, 116, 156, 200])
def test_at_every_width_rows_fit_and_a_number_is_never_cut(room: int) -> None:
    long = a_line("»", "12.10.14AB", "Guard " * 20, off="117+12", drawing="SL-1002/1 rev A, " * 4,
                  was="Text was " + "x" * 90 + ", now short")  # fmt: skip
    share = replace(FOUNDRY, lines=(*FOUNDRY.lines, long))
    for changed_only in (False, True):
        rows = laid(share, room, changed_only)
        assert all(cell_len(row) <= room for row in rows)
        shown = [row[2:].split()[0] for row in rows if re.match(r"[ »+-] \d+\.", row)]
        assert set(shown) == ({"4.1.1", "4.3", "9.3.2", "9.3.7A"} if changed_only else set(ORDER)) | {"12.10.14AB"}
        assert "".join("".join(rows).split()).count("x") >= 90


def test_a_row_is_found_by_its_line_and_beside_it_when_the_line_is_not_listed() -> None:
    share = share_of(FOUNDRY, CODES)
    every, changed = ShareRows(share, False, 76, ()), ShareRows(share, True, 76, ())
    for at in range(every.count()):
        (row,) = every.rows(at, 1)
        assert every.row_of(row.key) == every.row_near(row.key, "") <= at
        assert every.number_at(at) == row.key.split()[1]
        near = changed.row_near(row.key, every.number_at(at))
        wanted = {"4.2": "4.3", "4.10": "9.3.2", "9.3.8": "9.3.7A"}
        assert changed.number_at(near) == wanted.get(every.number_at(at), every.number_at(at))
    assert (every.lines, changed.lines, every.number_at(every.count())) == (7, 4, "")
    assert ShareRows(share_of(STORES, CODES), False, 76, ()).row_near("", "4.1") == 0


def test_two_lines_of_one_number_are_two_lines() -> None:
    twice = a_line("", "4.1", "Rack"), a_line("", "4.1", "Rack", step=3), a_line("", "4.1", "Rack", step=3)
    rows = ShareRows(share_of(replace(FOUNDRY, lines=twice, withdrawn=(twice[0],)), CODES), False, 76, ())
    assert [rows.row_of(row.key) for row in rows.rows(0, 4)] == [0, 1, 2, 3]


def test_the_head_line_says_how_much_and_what_changed_in_the_words_that_find_room() -> None:
    plain = replace(FOUNDRY, cautions=())
    changes = "+ 1 added  » 1 altered  - 2 withdrawn  since"
    assert over(plain, 156, 1) == [
        "5 lines, 57 pieces, 7 of them on hold, 1 line not counted  "
        f"{changes} extract 1 of revision A; the other 3 lines stand"
    ]
    assert over(plain, 116, 1) == [f"5 lines, 57 pieces  {changes} extract 1 of revision A; the other 3 lines stand"]
    assert over(plain, 94, 1) == [f"5 lines, 57 pieces  {changes} extract 1 of rev A; 3 stand"]
    assert over(plain, 86, 1) == [f"5 lines, 57 pieces  {changes} extract 1 of rev A"]
    assert over(plain, 71, 1) == [f"5 lines, 57 pieces  {changes} rev A"]
    assert over(plain, 67, 1) == [f"5 lines, 57 pieces  {changes} A"]
    assert over(plain, 36, 2) == ["5 lines, 57 pieces  + 1 added", "» 1 altered  - 2 withdrawn  since A"]
    assert over(SMITHY, 76, 1) == ["3 lines, 114 pieces  unchanged since extract 1 of revision A"]
    assert over(MACHINE_SHOP, 76, 1) == ["1 line, 38 pieces  first extract: everything is new"]
    assert over(replace(MACHINE_SHOP, number=2), 76, 1) == ["1 line, 38 pieces  no earlier revision to compare with"]


def test_cautions_stand_in_full_over_the_share_or_briefly_there_and_in_full_at_its_end() -> None:
    lines, in_full = preface(FOUNDRY, 156, 3)
    assert in_full and [text(line) for line in lines[1:]] == [f"§ {caution}" for caution in CAUTIONS]
    lines, in_full = preface(FOUNDRY, 76, 2)
    assert not in_full
    assert text(lines[1]) == "§ 2 safety lines: competent persons, authority and local codes decide"
    assert [said for sign, said in closing(FOUNDRY, False, False, True) if sign.text == "§"] == list(CAUTIONS)
    assert not preface(SMITHY, 156, 3)[1] and len(preface(SMITHY, 156, 3)[0]) == 1
    withdrawn = a_share(
        "FDY", "Foundry", (), withdrawn=(a_line("-", "4.3", "Cover", safety="slewing"),), since="x of y"
    )
    assert over(withdrawn, 76, 2)[1].startswith("§ 1 safety line: ")


def test_cautions_for_weights_alone_bear_no_safety_sign() -> None:
    share = replace(SMITHY, cautions=CAUTIONS)
    assert over(share, 156, 3)[1:] == list(CAUTIONS)
    assert over(share, 80, 2)[1] == "Estimates for planning: competent persons, authority and local codes decide."
    assert [sign.text for sign, said in closing(share, False, False, True) if said in CAUTIONS] == ["", ""]


@pytest.mark.parametrize("width", [30, 36, 56, 76, 116, 156])
@pytest.mark.parametrize("most", [2, 3, 6])
def test_what_stands_over_a_share_keeps_within_its_lines(width: int, most: int) -> None:
    for extract in (FOUNDRY, SMITHY, MACHINE_SHOP, ERECTING, STORES):
        lines, _ = preface(extract, width, most)
        assert 1 <= len(lines) <= most and all(width_of(line) <= width for line in lines)


def test_the_last_words_say_whether_that_was_all() -> None:
    def last(extract: Extract, changed_only: bool, is_empty: bool = False) -> str:
        return closing(extract, changed_only, is_empty, False)[-1][1]

    assert last(FOUNDRY, False) == "End of the share: 5 lines, 57 pieces, 1 line not counted; 2 withdrawn."
    assert last(SMITHY, False) == "End of the share: 3 lines, 114 pieces."
    weighed = replace(SMITHY, weight=ShareWeight(2 * TON, 3 * TON, 0, "imperial"))
    assert last(weighed, False) == "End of the share: 3 lines, 114 pieces, 2 tons finished."
    nothing = ShareWeight(Fraction(0), Fraction(0), 3, "imperial")
    assert last(replace(SMITHY, weight=nothing), False).endswith("114 pieces, 3 items without weight.")
    assert last(FOUNDRY, True) == "End of what changed; 3 other lines as before."
    assert (
        last(SMITHY, True, True) == "Nothing changed for the Smithy since extract 1 of revision A. 1 shows every line."
    )
    assert last(MACHINE_SHOP, True, True) == "First extract for the Machine shop: everything is new. 1 shows it."
    assert last(STORES, False, True) == "No items for the Stores."


def test_head_and_extract_name_the_state() -> None:
    assert head_of(FOUNDRY, False) == "FDY Foundry · revision B"
    assert head_of(stands(FOUNDRY), True) == "FDY Foundry · as it stands · changed only"
    assert text(extract_words(FOUNDRY)) == "extract 2  F949-HP1Z"
    assert text(extract_words(MACHINE_SHOP)) == "^ no extract yet"
    assert extract_words(stands(FOUNDRY)) == ()


def many(count: int) -> tuple[ExtractLine, ...]:
    return tuple(a_line("" if at % 10 else "»", f"{at // 100 + 1}.{at % 100 + 1}", "Rack bolt",
                        was="" if at % 10 else "Size was short, now longer " * 6) for at in range(count))  # fmt: skip


def test_a_share_of_many_lines_is_laid_out_in_line_with_their_number() -> None:
    costs = []
    for count in (500, 5_000):
        share = share_of(a_share("ERE", "Erecting shop", many(count), since="extract 1 of revision A"), CODES)
        taken = []
        for _ in range(3):
            started = perf_counter()
            rows = ShareRows(share, False, 76, ())
            rows.rows(rows.count() - 20, 20)
            taken.append(perf_counter() - started)
        costs.append(min(taken))
    # Ten times the lines; a search of every line for every line would cost a hundred times as much.
    assert costs[1] < 40 * costs[0]


# The page -----------------------------------------------------------------------------------------------------------


async def test_the_page_shows_the_share_and_opens_items() -> None:
    async with at_share("FDY") as (app, pilot):
        await until_shown(pilot, "FDY Foundry")
        lines = lines_of(app)
        assert lines[0].startswith("┌ FDY Foundry · revision B ─")
        assert lines[0].endswith(" extract 2  F949-HP1Z  ·  1 of 7 ┐")
        assert lines[1].strip("│ ") == "5 lines, 57 pieces  + 1 added  » 1 altered  - 2 withdrawn  since rev A"
        assert lines[2].startswith("│ § 2 safety lines: ")
        assert lines[3].split()[1:-1] == ["No", "Description", "§", "Off", "From", "To", "Material", "Drawing"]
        assert lines[4].startswith("│ » 4.1.1  Rack segment") and "Off was 36, now 42" in lines[5]
        assert numbers_on(app) == ORDER
        # Where its lines end the cautions stand in full, and that it was all.
        assert "not to be used for slinging" in text_of(app) and "End of the share: 5 lines" in text_of(app)
        await typed(pilot, "down", "down", "enter")
        await until_shown(pilot, "┌ 4.1.1 ")
        await pilot.press("escape")
        await until_shown(pilot, "1 of 7")
        await typed(pilot, "down", "enter")
        await until_shown(pilot, "┌ 4.2 ")
        await typed(pilot, "escape", "end")
        await until_shown(pilot, "7 of 7")
        await pilot.press("enter")
        await pilot.pause(0.05)
        assert lines_of(app)[0].startswith("┌ FDY Foundry"), "the last words are no item"


async def test_changed_only_and_back_the_cursor_stays_on_its_line_or_where_that_stood() -> None:
    async with at_share("FDY") as (app, pilot):
        await until_shown(pilot, "1 of 7")
        await typed(pilot, *["down"] * 10)
        assert number_at(app) == "9.3.7A"
        await pilot.press("2")
        await until_shown(pilot, "FDY Foundry · revision B · changed only")
        assert numbers_on(app) == ["4.1.1", "4.3", "9.3.2", "9.3.7A"] and "4 of 4" in lines_of(app)[0]
        assert number_at(app) == "9.3.7A" and "End of what changed; 3 other lines as before." in text_of(app)
        await pilot.press("1")
        await until_shown(pilot, "6 of 7")
        assert number_at(app) == "9.3.7A"
        await typed(pilot, *["up"] * 7)
        assert number_at(app) == "4.2"
        await pilot.press("2")
        await until_shown(pilot, "2 of 4")
        assert number_at(app) == "4.3"


async def test_a_share_unchanged_new_or_empty_says_so_in_words() -> None:
    async with at_share("SMI") as (app, pilot):
        await until_shown(pilot, "3 lines, 114 pieces  unchanged since extract 1 of revision A")
        assert "^ no extract yet" in lines_of(app)[0] and "End of the share" in text_of(app)
        await pilot.press("2")
        await until_shown(pilot, "Nothing changed for the Smithy since extract 1 of revision A.")
        assert " none ┐" in lines_of(app)[0]
        await pilot.press("n")
        await until_shown(pilot, "First extract for the Machine shop: everything is new. 1 shows it.")
        await typed(pilot, "enter", "n", "n")
        await until_shown(pilot, "┌ STO Stores · revision B · changed only")
        await pilot.press("1")
        await until_shown(pilot, "No items for the Stores.")


async def test_n_and_b_go_through_the_departments_keep_the_view_and_stop_at_the_ends() -> None:
    async with at_share("SMI") as (app, pilot):
        await until_shown(pilot, "┌ SMI Smithy ")
        await typed(pilot, *"bbb")
        await until_shown(pilot, "┌ FDY Foundry ")
        await typed(pilot, "down", "down", "down", "2", "b")
        await until_shown(pilot, "· changed only")
        await pilot.pause(0.05)
        assert number_at(app) == "4.3", "at the end nothing moves"
        await typed(pilot, *"nnbnn")
        await until_shown(pilot, "┌ ERE Erecting shop · revision B · changed only")
        assert number_at(app) == "7.7" and "1 of 1" in lines_of(app)[0]
        await typed(pilot, *"nnnnn")
        await until_shown(pilot, "┌ STO Stores ")
        await pilot.press("b", "1")
        await until_shown(pilot, "7 of 100")
        await typed(pilot, "end", "b", "n")
        await until_shown(pilot, "┌ ERE Erecting shop · revision B ─")
        assert "1 of 100" in lines_of(app)[0], "another share is shown from its top"


async def test_the_share_as_it_stands_names_no_extract() -> None:
    async with at_share("FDY", open_edits=True, size=TALL) as (app, pilot):
        await until_shown(pilot, "┌ FDY Foundry · as it stands ─")
        assert "extract" not in lines_of(app)[0]
        assert "unchanged since extract 2 of revision B" in text_of(app)
        await pilot.press("n")
        await until_shown(pilot, "┌ SMI Smithy · as it stands ─")


async def test_the_share_follows_the_book_with_the_cursor_on_its_line() -> None:
    book = FakeBook()
    async with at_share("FDY", book) as (app, pilot):
        await until_shown(pilot, "1 of 7")
        await typed(pilot, *["down"] * 11)
        assert number_at(app) == "9.3.8"
        shorter = a_share("FDY", "Foundry", (FOUNDRY.lines[1], replace(FOUNDRY.lines[4], off="4", pieces=4)),
                          since="extract 1 of revision A", number=2, seal="F949-HP1Z")  # fmt: skip
        book.split.issued = (shorter, *ISSUED[1:])
        book.written += 1
        app.look()
        await until_shown(pilot, "2 of 2")
        assert number_at(app) == "9.3.8" and "2 lines, 7 pieces  unchanged" in lines_of(app)[1]


async def test_a_department_that_is_not_there_leaves_a_sentence() -> None:
    async with at_share("XYZ") as (_, pilot):
        await until_shown(pilot, "Department XYZ: the works has none of that code.")
        await pilot.press("enter")
        await until_shown(pilot, "Waits for you")


async def test_a_share_that_cannot_be_read_any_more_stays_with_the_sentence_over_it() -> None:
    book = FakeBook()
    async with at_share("FDY", book) as (app, pilot):
        await until_shown(pilot, "1 of 7")
        book.split.issued = ISSUED[1:]
        book.written += 1
        app.look()
        await until_shown(pilot, "Department FDY: the works has none of that code.")
        await pilot.press("enter")
        await until(pilot, lambda: "Could not be done" not in text_of(app), "the sentence to be put away")
        assert numbers_on(app) == ORDER
        await pilot.press("n")
        await until_shown(pilot, "┌ SMI Smithy ")


async def test_the_table_has_at_least_seventeen_rows_and_never_scrolls_sideways() -> None:
    lines = tuple(replace(one, safety="slewing", off="as required per machine") for one in ERECTING.lines)
    share = replace(ERECTING, lines=lines, cautions=CAUTIONS * 2)
    async with at_share("ERE", FakeBook(split=FakeSplit(issued=(share,)))) as (app, pilot):
        await until_shown(pilot, "1 of 100")
        assert sum(line[4:5].isdigit() or "Off was" in line for line in lines_of(app)) >= 17
        assert app.screen.table.max_scroll_x == 0  # type: ignore[attr-defined]
        await typed(pilot, "pagedown", "pagedown")
        await until(pilot, lambda: "7.30" in text_of(app), "the third page")
        await pilot.press("end")
        await until_shown(pilot, "End of the share: 100 lines")


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 14), (160, 50)])
async def test_every_line_keeps_the_frame_at_every_size(size: tuple[int, int]) -> None:
    async with at_share("FDY", size=size) as (app, pilot):
        await until_shown(pilot, "4.1.1")
        for keys in ((), ("2",), ("end",), ("1", "pagedown")):
            await typed(pilot, *keys)
            await pilot.pause(0.02)
            lines = lines_of(app)
            assert {len(line) for line in lines} == {size[0]} and len(lines) == size[1]
            assert all(line[0] in "┌│├└" and line[-1] in "┐│┃┤┘" for line in lines), text_of(app)
        await pilot.resize_terminal(80, 24)
        await until_shown(pilot, "§ 2 safety lines: competent persons, authority and local codes decide")


async def test_the_plain_look_has_no_colour_and_the_help_explains_the_page() -> None:
    async with at_share("FDY", size=TALL) as (app, pilot):
        await until_shown(pilot, "4.1.1")
        await typed(pilot, "l", "l")
        await until(pilot, lambda: app.theme == "plain", "the plain look")
        await pilot.pause()
        styles = [segment.style for line in segments_of(app) for segment in line if segment.style]
        assert not [one for one in styles if (one.color and not one.color.is_default)
                    or (one.bgcolor and not one.bgcolor.is_default)]  # fmt: skip
        await pilot.press("question_mark")
        await until_shown(pilot, "Help · Share of a department")
        for said in ("Under an altered line", "Shows only what changed for this department."):
            assert " ".join(said.split()) in " ".join(text_of(app).replace("│", " ").split())


class SlowReader(FakeReader):
    """A reader of departments that takes its time."""

    def departments(self, open_edits: bool) -> DepartmentsPage:
        from time import sleep

        sleep(0.2)
        return super().departments(open_edits)


async def test_keys_typed_while_the_book_is_read_are_not_lost() -> None:
    book = FakeBook()
    app = SpecregApp(lambda: SlowReader(book))
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost")
        app.open_share("FDY", False)
        await typed(pilot, "n", "n", "n", "b")
        await until_shown(pilot, "┌ MCH Machine shop ")
