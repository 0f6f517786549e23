"""The departments: the proof over them, what changed for each, its extract, the two states, the cursor."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specreg.core.extracts import Reconciliation
from specreg.services.department_readings import DepartmentLine, DepartmentsPage
from specreg.tui.app import SpecregApp
from specreg.tui.columns import fit, heads_line, row_line
from specreg.tui.department_rows import department_columns, department_rows, proof_lines
from specreg.tui.pieces import Line, width_of
from tests.tui.fake_reader import FakeBook
from tests.tui.fake_shares import HOLDS, ISSUED, FakeSplit, a_line, a_share
from tests.tui.watching import LOW, TALL, lines_of, opened, segments_of, text_of, typed, until, until_shown


def text(line: Line) -> str:
    return "".join(piece.text for piece in line)


def row_of(app: SpecregApp, code: str) -> str:
    """The row of a department as it stands on the screen, its columns a space apart."""
    return " ".join(next(line for line in lines_of(app) if line.startswith(f"│ {code} ")).strip(" │┃").split())


def at_cursor(app: SpecregApp) -> str:
    row = app.screen.table.row_at_cursor()  # type: ignore[attr-defined]
    return row.key if row else ""


# What is reckoned ---------------------------------------------------------------------------------------------------


def test_the_proof_says_in_words_what_holds() -> None:
    assert [text(line) for line in proof_lines(HOLDS, 156, 2)] == [
        "109 steps = 109 in shares  ·  240 pieces wanted = 240 delivered  ·  60 items = 59 with a route + 1 no action"
        "  ·  nothing lost"
    ]
    assert [text(line) for line in proof_lines(HOLDS, 76, 2)] == [
        "109 steps = 109 in shares  ·  240 pieces wanted = 240 delivered",
        "60 items = 59 with a route + 1 no action  ·  nothing lost",
    ]
    assert [text(line) for line in proof_lines(HOLDS, 36, 3)] == [
        "109 steps = 109  ·  240 pieces = 240",
        "60 items = 59 + 1  ·  nothing lost",
    ]


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"in_shares": 107}, "! 2 steps missing from the shares: 109 steps, 107 in shares"),
        ({"in_shares": 110}, "! 1 step too many in the shares: 109 steps, 110 in shares"),
        ({"final_off": 239}, "! 1 piece not delivered: 240 wanted, 239 delivered"),
        ({"final_off": 250}, "! 10 pieces too many delivered: 240 wanted, 250 delivered"),
        ({"unallocated": 1, "allocated": 58},
         "! 1 item has no route: 60 items = 58 with a route + 1 no action + 1 without"),
        ({"unallocated": 2, "allocated": 57},
         "! 2 items have no route: 60 items = 57 with a route + 1 no action + 2 without"),
    ],
)  # fmt: skip
def test_what_does_not_hold_stands_first_and_nothing_is_called_lost_that_is_not(
    wrong: dict[str, int], said: str
) -> None:
    lines = proof_lines(replace(HOLDS, **wrong), 156, 4)
    assert text(lines[0]).startswith(said) and lines[0][0].role == "stop"
    assert "nothing lost" not in " ".join(map(text, lines))
    # Where room is short the figures go, what is wrong stays.
    assert text(proof_lines(replace(HOLDS, **wrong), 40, 3)[0]).startswith(said.partition(":")[0])


@pytest.mark.parametrize("width", [30, 36, 56, 76, 116, 156])
@pytest.mark.parametrize("most", [1, 2, 3])
def test_the_proof_keeps_within_its_lines_and_says_when_it_was_cut(width: int, most: int) -> None:
    for proof in (HOLDS, Reconciliation(10_000, 9_000, 0, 1_000, 25_000, 24_000, 90_000, 91_000)):
        lines = proof_lines(proof, width, most)
        assert 1 <= len(lines) <= most and all(width_of(line) <= width for line in lines)
        whole = " ".join(map(text, lines))
        assert whole.count("=") + whole.count("!") >= 3 or "…" in whole


def test_every_way_an_extract_may_stand_is_told_apart() -> None:
    def said(wide: bool, **how: object) -> str:
        plain = DepartmentLine("FDY", "Foundry", 5, 9, 0, 0, 0, 0, "", 0, "")
        page = DepartmentsPage("B", (replace(plain, **how),), HOLDS, frozenset())  # type: ignore[arg-type]
        room = 156 if wide else 76
        columns = department_columns(page, room)
        at = next(at for at, column in enumerate(columns) if column.head == "Extract")
        return text(department_rows(page, room)[0].cells[at]).strip()

    last = {"since": "extract 3 of revision A"}
    assert said(True, extract=4, seal="F949-HP1Z", added=1, **last) == "4 of rev B  F949-HP1Z"
    assert said(False, extract=4, seal="F949-HP1Z", added=1, **last) == "4  F949-HP1Z"
    assert said(True, altered=1, **last) == "^ 3 of rev A, older" and said(False, altered=1, **last) == "^ 3 of rev A"
    assert said(True, withdrawn=1, lines=0, **last) == "^ 3 of rev A, older"
    assert said(True, **last) == "3 of rev A, unchanged" and said(False, **last) == "3 of rev A"
    assert said(True) == said(False) == "^ none yet"
    assert said(True, lines=0) == said(False, lines=0) == "none yet"


@pytest.mark.parametrize("room", [36, 56, 76, 95, 96, 116, 156])
@pytest.mark.parametrize("revision", ["B", ""])
def test_at_every_width_what_changed_stays_and_no_figure_is_cut(room: int, revision: str) -> None:
    many = DepartmentLine("MCH", "Machine shop", 12_345, 123_456, 7, 345, 567, 89, "extract 1 of revision A", 2,
                          "F949-HP1Z", "2026-10-12")  # fmt: skip
    page = DepartmentsPage(revision, (many,), HOLDS, frozenset())
    columns = department_columns(page, room)
    widths = fit(columns, room)
    row = text(row_line(department_rows(page, room)[0], columns, widths))
    assert len(row) <= room
    if room >= 56:
        assert all(figure in row for figure in ("MCH", "+ 345", "» 567", "- 89"))
        assert all(head in text(heads_line(columns, widths)) for head in ("Code", "Department", "Added", "Altered"))
    if room >= 76:
        assert "12 345" in row and "123 456" in row


# The page -----------------------------------------------------------------------------------------------------------


async def test_the_page_has_the_proof_and_a_line_a_department() -> None:
    app = opened(FakeBook(), "departments")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Foundry")
        lines = lines_of(app)
        assert lines[0].startswith("┌ Departments · revision B ─") and lines[0].endswith(" 1 of 5 ┐")
        assert "109 steps = 109 in shares  ·  240 pieces wanted = 240 delivered" in lines[1]
        assert "60 items = 59 with a route + 1 no action  ·  nothing lost" in lines[2]
        assert lines[3].strip(" │").split() == [
            "Code", "Department", "Lines", "Pieces", "Added", "Altered", "Withdr.", "Extract",
        ]  # fmt: skip
        assert row_of(app, "FDY") == "FDY Foundry 5 57 + 1 » 1 - 2 2 F949-HP1Z"
        assert row_of(app, "SMI") == "SMI Smithy 3 114 – – – 1 of rev A"
        assert row_of(app, "MCH") == "MCH Machine shop 1 38 + all – – ^ none yet"
        assert row_of(app, "ERE") == "ERE Erecting shop 100 3 800 – » 1 – ^ 1 of rev A"
        assert row_of(app, "STO") == "STO Stores 0 0 – – – none yet"
        await pilot.resize_terminal(*TALL)
        await until_shown(pilot, "2 of rev B  F949-HP1Z")
        assert row_of(app, "FDY").endswith("- 2 2 of rev B F949-HP1Z 2026-10-12 1 of revision A 1")
        assert row_of(app, "SMI").endswith("1 of rev A, unchanged 2026-03-04 1 of revision A –")
        assert row_of(app, "MCH").endswith("+ all – – ^ none yet – none before –")
        assert row_of(app, "ERE").endswith("^ 1 of rev A, older 2026-03-04 1 of revision A –")
        assert lines_of(app)[1].count("·") == 3 and "Code" in lines_of(app)[2]


async def test_the_order_as_it_stands_is_another_view_and_the_cursor_stays() -> None:
    app = opened(FakeBook(), "departments")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Foundry")
        await typed(pilot, "down", "down", "down", "2")
        await until_shown(pilot, "Departments · as it stands ─")
        assert at_cursor(app) == "ERE" and "4 of 5" in lines_of(app)[0]
        assert lines_of(app)[3].split()[-2] == "Since" and "Extract" not in text_of(app)
        assert row_of(app, "FDY") == "FDY Foundry 5 57 – – – 2 of rev B"
        assert row_of(app, "MCH").endswith("+ all – – none before")
        await pilot.press("enter")
        await until_shown(pilot, "┌ ERE Erecting shop · as it stands")
        await pilot.press("escape")
        await until_shown(pilot, "Departments · as it stands ─")
        await pilot.press("1")
        await until_shown(pilot, "Departments · revision B")
        assert at_cursor(app) == "ERE" and row_of(app, "FDY").endswith("2 F949-HP1Z")


async def test_enter_opens_the_share_and_coming_back_the_cursor_stands_on_the_one_seen_last() -> None:
    app = opened(FakeBook())
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost")
        # Typed at once, before anything is read.
        await typed(pilot, "p", "down", "enter")
        await until_shown(pilot, "┌ SMI Smithy · revision B ")
        await typed(pilot, "n", "n")
        await until_shown(pilot, "┌ ERE Erecting shop · revision B ")
        await pilot.press("escape")
        await until_shown(pilot, "4 of 5")
        assert at_cursor(app) == "ERE"
        await typed(pilot, "up", "enter")
        await until_shown(pilot, "┌ MCH Machine shop · revision B ")
        await pilot.press("p")
        await until_shown(pilot, "3 of 5")
        await typed(pilot, "down", "question_mark", "escape")
        await until_shown(pilot, "4 of 5")


async def test_a_heads_cursor_starts_on_his_own_department_and_then_stays_where_he_puts_it() -> None:
    book = FakeBook(split=FakeSplit(may_extract=frozenset({"MCH"})))
    app = opened(book, "departments")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "3 of 5")
        assert at_cursor(app) == "MCH"
        await pilot.press("up")
        await until_shown(pilot, "2 of 5")
        book.written += 1
        book.split.proof = replace(HOLDS, in_shares=108)
        app.look()
        await until_shown(pilot, "! 1 step missing from the shares")
        assert at_cursor(app) == "SMI"


async def test_what_is_lost_stands_over_the_list_before_all_else() -> None:
    app = opened(FakeBook(split=FakeSplit(proof=replace(HOLDS, final_off=200))), "departments")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Foundry")
        assert lines_of(app)[1].startswith("│ ! 40 pieces not delivered")
        assert "nothing lost" not in text_of(app)


async def test_while_nothing_is_issued_the_page_says_so_and_no_extract_can_be_made() -> None:
    book = FakeBook(split=FakeSplit(issued=(), may_extract=frozenset()))
    app = opened(book, "departments")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Departments · as it stands, nothing issued yet")
        assert "x extract" not in lines_of(app)[-1]
        book.written += 1
        book.split.issued = ISSUED
        app.look()
        await until_shown(pilot, "Departments · revision B")


async def test_the_page_without_departments_says_what_is_missing() -> None:
    app = opened(FakeBook(split=FakeSplit(issued=(), standing=(), may_extract=frozenset())), "departments")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "No department stands in the works standards yet.")
        await typed(pilot, "enter", "x", "down", "end")
        await until_shown(pilot, " none ┐")


async def test_the_list_has_at_least_seventeen_rows_under_the_proof_and_never_scrolls_sideways() -> None:
    many = tuple(a_share(f"D{at:02}", f"Department with a long name, number {at}", (a_line("", "4.1", "Pin"),))
                 for at in range(60))  # fmt: skip
    worst = Reconciliation(10_000, 9_000, 0, 1_000, 25_000, 24_000, 90_000, 91_000)
    app = opened(FakeBook(split=FakeSplit(issued=many, proof=worst)), "departments")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "1 of 60")
        assert sum(line.startswith("│ D") for line in lines_of(app)) >= 17
        assert app.screen.table.max_scroll_x == 0  # type: ignore[attr-defined]
        await pilot.press("end")
        await until_shown(pilot, "60 of 60")
        assert "D59" in text_of(app)


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 14), (160, 50)])
async def test_every_line_keeps_the_frame_at_every_size(size: tuple[int, int]) -> None:
    app = opened(FakeBook(), "departments")
    async with app.run_test(size=size) as pilot:
        for keys, shown in ((), "FDY"), (("2",), "as it st"):
            await typed(pilot, *keys)
            await until_shown(pilot, shown)
            lines = lines_of(app)
            assert {len(line) for line in lines} == {size[0]} and len(lines) == size[1]
            assert all(line[0] in "┌│├└" and line[-1] in "┐│┃┤┘" for line in lines), text_of(app)
            assert sum(line[2:5] in {"FDY", "SMI", "MCH", "ERE", "STO"} for line in lines) == 5


async def test_the_plain_look_has_no_colour_and_the_help_explains_the_page() -> None:
    app = opened(FakeBook(), "departments")
    async with app.run_test(size=TALL) as pilot:
        await until_shown(pilot, "Foundry")
        await typed(pilot, "l", "l")
        await until(pilot, lambda: app.theme == "plain", "the plain look")
        await pilot.pause()
        styles = [segment.style for line in segments_of(app) for segment in line if segment.style]
        assert not [one for one in styles if (one.color and not one.color.is_default)
                    or (one.bgcolor and not one.bgcolor.is_default)]  # fmt: skip
        assert "+ 1" in row_of(app, "FDY") and "» 1" in row_of(app, "FDY")
        await pilot.press("question_mark")
        await until_shown(pilot, "Help · Departments")
        for said in ("proof that nothing was lost", "Makes the extract of this department, or of all"):
            assert said in text_of(app)
