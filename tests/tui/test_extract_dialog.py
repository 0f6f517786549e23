"""The sheet that makes extracts: what is chosen and typed, how far it is, stopping, refusals, files really written."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from dataclasses import replace
from pathlib import Path
from threading import Semaphore
from time import monotonic

import pytest
from textual import events
from textual.pilot import Pilot

from specreg.bootstrap import doer, open_reader
from specreg.core.errors import Refused
from specreg.output.files import written
from specreg.services.department_readings import DepartmentsPage
from specreg.services.doings import ExtractsMade, Progress
from specreg.services.extracting import make_extracts
from specreg.settings import Settings
from specreg.tui.app import SpecregApp
from specreg.tui.screens.dialogs import Panel
from specreg.tui.screens.extract_dialog import ExtractDialog, why_not
from tests.services.office_for_tests import Clock, with_revision_a
from tests.tui.fake_reader import FakeBook, FakeReader
from tests.tui.fake_shares import FakeSplit
from tests.tui.watching import LOW, PATIENCE, lines_of, opened, segments_of, text_of, typed, until, until_shown

NAMES = {"FDY": "Foundry", "SMI": "Smithy", "MCH": "Machine shop", "ERE": "Erecting shop", "STO": "Stores"}


class FakeDoer:
    """Makes nothing and says so; works through a department each time `gate` lets it, raises `trouble` if it has.

    One that is `ready` lets itself through when it is stopped.
    """

    def __init__(self, gate: int = 1000, ready: bool = False) -> None:
        self.ready = ready
        self.calls: list[tuple[tuple[str, ...], tuple[str, ...], str]] = []
        self.trouble: Exception | None = None
        self.gate = Semaphore(gate)
        self.was_stopped = False

    def extract(
        self,
        codes: Sequence[str],
        forms: Sequence[str],
        folder: str,
        told: Callable[[Progress], None],
        stopped: Callable[[], bool],
    ) -> ExtractsMade:
        self.calls.append((tuple(codes), tuple(forms), folder))
        wanted = tuple(codes) or tuple(NAMES)
        sentences: list[str] = []
        for code in wanted:
            if stopped():
                self.was_stopped = True
                return ExtractsMade(tuple(sentences), f"/works/{folder}", stopped=True)
            told(Progress(len(sentences), len(wanted), NAMES[code]))
            self._pass(lambda: self.ready and stopped())
            if self.trouble:
                raise self.trouble
            sentences.append(f"{code} extract 2 of revision B: 5 lines, 57 pieces, 2 withdrawn, seal F949-HP1Z (new)")
        return ExtractsMade(tuple(sentences), f"/works/{folder}", stopped=False)

    def _pass(self, stopped: Callable[[], bool]) -> None:
        ends = monotonic() + PATIENCE
        while not (self.gate.acquire(timeout=0.01) or stopped()):
            assert monotonic() < ends, "nobody let it go on"


@asynccontextmanager
async def asking(
    acts: FakeDoer, *keys: str, book: FakeBook | None = None, size: tuple[int, int] = LOW
) -> AsyncIterator[tuple[SpecregApp, Pilot[None]]]:
    """The program with the sheet opened from the departments, after some keys there."""
    shown = book or FakeBook()
    app = SpecregApp(shown.open, "departments", acts)
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "FDY")
        await pilot.press(*keys, "x")
        await until_shown(pilot, "Extracts of revision B")
        yield app, pilot


def said(app: SpecregApp) -> str:
    """The sheet's words in one line."""
    panel = app.screen.query_one(Panel).region
    rows = lines_of(app)[panel.y : panel.bottom]
    return " ".join(" ".join(row[panel.x + 1 : panel.right - 1] for row in rows).split())


def page_for(*codes: str) -> DepartmentsPage:
    return FakeReader(FakeBook(split=FakeSplit(may_extract=frozenset(codes)))).departments(open_edits=False)


# What is reckoned ---------------------------------------------------------------------------------------------------


def test_why_no_extract_can_be_made_is_said_in_a_sentence() -> None:
    assert why_not(page_for("FDY"), "FDY", "B", has_doer=True) == ""
    assert why_not(page_for(), "FDY", "", has_doer=True).startswith(
        "No extract of FDY Foundry can be made: nothing is issued yet"
    )
    assert why_not(page_for(), "FDY", "B", has_doer=True).startswith("The extract of FDY Foundry is not yours to make.")
    assert why_not(page_for("SMI", "FDY"), "MCH", "B", has_doer=True) == (
        "The extract of MCH Machine shop is not yours to make; yours is FDY Foundry, SMI Smithy."
    )
    assert "`specreg extract FDY`" in why_not(page_for("FDY"), "FDY", "B", has_doer=False)


# The sheet ----------------------------------------------------------------------------------------------------------


async def test_the_extract_of_the_department_under_the_cursor_is_made_as_pdf_into_extracts() -> None:
    acts = FakeDoer()
    async with asking(acts, "down") as (app, pilot):
        assert "Departments ▸ (•) SMI Smithy ( ) all 5" in said(app)
        assert "Forms [x] pdf [ ] txt [ ] xlsx [ ] csv [ ] md" in said(app)
        assert "Folder extracts" in said(app)
        assert "Enter: make Tab: next ← → Space: choose Esc: back" in said(app)
        await pilot.press("enter")
        await until_shown(pilot, "1 extract written")
        assert acts.calls == [(("SMI",), ("pdf",), "extracts")]
        assert "Written to /works/extracts" in said(app)
        assert "· SMI extract 2 of revision B: 5 lines, 57 pieces, 2 withdrawn, seal F949-HP1Z (new)" in said(app)
        await pilot.press("enter")
        await until(pilot, lambda: not isinstance(app.screen, ExtractDialog), "the sheet to be put away")
        assert "2 of 5" in lines_of(app)[0]


async def test_all_departments_forms_and_folder_are_chosen_by_plain_keys() -> None:
    acts = FakeDoer()
    async with asking(acts) as (app, pilot):
        await typed(pilot, "right", "tab", "space", "right", "right", "space", "right", "space", "down")
        assert "( ) FDY Foundry (•) all 5" in said(app)
        assert "[ ] pdf [ ] txt [x] xlsx [x] csv [ ] md" in said(app) and "Folder ▸ extracts" in said(app)
        # In the folder's row letters are text, and the first one begins a new text.
        await pilot.press(*"qxs /Friday 2")
        assert "Folder ▸ qxs /Friday 2" in said(app)
        await typed(pilot, "backspace", "backspace", "home", "delete", "delete", "delete", "delete", "delete")
        assert "Folder ▸ Friday Enter" in said(app) and "Space: choose" not in said(app)
        await typed(pilot, "tab", "left", "left", "right", "enter")
        await until_shown(pilot, "5 extracts written")
        assert acts.calls == [((), ("xlsx", "csv"), "Friday")], "all are asked for unnamed"
        assert said(app).index("FDY extract") < said(app).index("STO extract")


async def test_a_head_is_asked_for_no_department_and_gets_his_own() -> None:
    acts = FakeDoer()
    async with asking(acts, book=FakeBook(split=FakeSplit(may_extract=frozenset({"MCH"})))) as (app, pilot):
        assert "Departments MCH Machine shop Forms ▸ [x] pdf" in said(app) and "all" not in said(app)
        await typed(pilot, "up", "up", "space", "right", "space", "enter")
        await until_shown(pilot, "1 extract written")
        assert acts.calls == [(("MCH",), ("txt",), "extracts")]


async def test_all_of_some_departments_names_them() -> None:
    acts = FakeDoer()
    async with asking(acts, book=FakeBook(split=FakeSplit(may_extract=frozenset({"ERE", "FDY"})))) as (app, pilot):
        assert "(•) FDY Foundry ( ) all 2" in said(app)
        await typed(pilot, "space", "enter")
        await until_shown(pilot, "2 extracts written")
        assert acts.calls == [(("FDY", "ERE"), ("pdf",), "extracts")]


async def test_the_share_offers_the_extract_of_its_own_department() -> None:
    acts = FakeDoer()
    app = SpecregApp(FakeBook().open, "departments", acts)
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "FDY")
        await pilot.press("enter")
        await until_shown(pilot, "┌ FDY Foundry ")
        await until_shown(pilot, "x extract")
        await pilot.press("n")
        await until_shown(pilot, "┌ SMI Smithy ")
        await pilot.press("x")
        await until_shown(pilot, "(•) SMI Smithy")
        await pilot.press("enter")
        await until_shown(pilot, "1 extract written")
        assert acts.calls == [(("SMI",), ("pdf",), "extracts")]


async def test_of_the_order_as_it_stands_it_is_said_that_extracts_are_of_the_revision() -> None:
    async with asking(FakeDoer(), "2") as (app, pilot):
        await until_shown(pilot, "They say what revision B says; open edits are not in it.")
        assert "Departments · as it stands" in lines_of(app)[0]


async def test_how_far_it_is_is_told_and_escape_stops_after_what_is_begun() -> None:
    acts = FakeDoer(gate=0)
    async with asking(acts) as (app, pilot):
        await typed(pilot, "right", "enter")
        await until_shown(pilot, "1 of 5  Foundry")
        assert "Making extracts" in said(app) and "░" * 40 in said(app) and "█" not in said(app)
        acts.gate.release()
        await until_shown(pilot, "2 of 5  Smithy")
        assert "█" * 8 + "░" * 32 in said(app)
        # Nothing typed now asks for more or puts the sheet away.
        await typed(pilot, "enter", "tab", "a", "space")
        await pilot.press("escape")
        await until_shown(pilot, "Stopping: what is begun is finished first.")
        await pilot.press("escape")
        acts.gate.release()
        await until_shown(pilot, "Stopped: 2 extracts written")
        assert len(acts.calls) == 1 and acts.was_stopped
        assert "What is listed was made and stays made; the others were not begun." in said(app)
        assert "SMI extract 2" in said(app) and "MCH extract" not in said(app)
        await pilot.press("escape")
        await until(pilot, lambda: not isinstance(app.screen, ExtractDialog), "the sheet to be put away")


async def test_leaving_the_program_stops_the_making_too() -> None:
    acts = FakeDoer(gate=0, ready=True)
    async with asking(acts) as (app, pilot):
        await typed(pilot, "right", "enter")
        await until_shown(pilot, "1 of 5  Foundry")
        app.exit()
    assert acts.was_stopped


async def test_a_refusal_is_said_and_what_was_chosen_and_typed_stands_as_it_was() -> None:
    acts = FakeDoer()
    acts.trouble = Refused("Make the folder a/b", "it is a file", "Name another")
    async with asking(acts) as (app, pilot):
        await typed(pilot, "right", "down", "right", "space", "down", *"a/b", "enter")
        await until_shown(pilot, "~ Make the folder a/b: it is a file. Name another.")
        assert "(•) all 5" in said(app) and "[x] pdf [x] txt" in said(app) and "Folder ▸ a/b" in said(app)
        acts.trouble = None
        await typed(pilot, "backspace", "c")
        await until(pilot, lambda: "~" not in said(app), "the refusal to go")
        await pilot.press("enter")
        await until_shown(pilot, "5 extracts written")
        assert acts.calls == [((), ("pdf", "txt"), "a/b"), ((), ("pdf", "txt"), "a/c")]


async def test_a_mistake_of_the_program_is_a_sentence_and_the_screens_stand() -> None:
    acts = FakeDoer()
    acts.trouble = ZeroDivisionError("division by nothing")
    async with asking(acts) as (app, pilot):
        await pilot.press("enter")
        await until_shown(pilot, "~ The extracts were not all made: ZeroDivisionError:")
        assert "What was numbered before stays made; ask again for the rest." in said(app)
        await pilot.press("escape", "2")
        await until_shown(pilot, "Departments · as it stands")


async def test_a_stop_that_ended_in_a_refusal_does_not_stop_the_next_making() -> None:
    acts = FakeDoer(gate=0)
    acts.trouble = Refused("Write the extract", "the disk is full", "Make room")
    async with asking(acts) as (_, pilot):
        await pilot.press("enter")
        await until_shown(pilot, "1 of 1  Foundry")
        await pilot.press("escape")
        await until_shown(pilot, "Stopping: what is begun is finished first.")
        acts.gate.release()
        await until_shown(pilot, "~ Write the extract: the disk is full.")
        acts.trouble = None
        acts.gate.release()
        await pilot.press("enter")
        await until_shown(pilot, "1 extract written")


async def test_without_a_form_or_a_folder_nothing_is_asked_for() -> None:
    acts = FakeDoer()
    async with asking(acts) as (_, pilot):
        await typed(pilot, "down", "space", "enter")
        await until_shown(pilot, "~ Choose at least one form.")
        await typed(pilot, "space", "down", "ctrl+u", "enter")
        await until_shown(pilot, "~ Say in which folder the extracts are wanted.")
        await typed(pilot, "space", "enter")
        await until_shown(pilot, "~ Say in which folder the extracts are wanted.")
        assert acts.calls == []


async def test_what_was_chosen_is_kept_for_the_next_time() -> None:
    async with asking(FakeDoer()) as (app, pilot):
        await typed(pilot, "down", "right", "space", "down", *"paper", "escape")
        await until(pilot, lambda: not isinstance(app.screen, ExtractDialog), "the sheet to be put away")
        await typed(pilot, "down", "x")
        await until_shown(pilot, "(•) SMI Smithy")
        assert "[x] pdf [x] txt" in said(app) and "Folder paper" in said(app)


async def test_who_may_not_or_cannot_is_told_why_and_not_offered_it() -> None:
    acts = FakeDoer()
    app = SpecregApp(FakeBook(split=FakeSplit(may_extract=frozenset({"MCH"}))).open, "departments", acts)
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "3 of 5")
        assert "x extract" in lines_of(app)[-1], "a head is offered his own"
        await pilot.press("up", "x")
        await until_shown(pilot, "is not yours to make; yours is MCH")
        await pilot.press("enter", "enter")
        await until_shown(pilot, "┌ SMI Smithy ")
        assert "x extract" not in lines_of(app)[-1]
        await pilot.press("n")
        await until_shown(pilot, "x extract")
    app = opened(FakeBook(), "departments")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Foundry")
        assert "x extract" not in lines_of(app)[-1]
        await pilot.press("x")
        await until_shown(pilot, "These screens were opened to read only.")
    assert acts.calls == []


async def test_what_was_made_is_read_through_where_it_is_more_than_the_screen() -> None:
    acts = FakeDoer()
    async with asking(acts, size=(40, 14)) as (app, pilot):
        await typed(pilot, "right", "enter")
        await until_shown(pilot, "5 extracts written")
        assert "FDY extract" in said(app) and "STO" not in said(app) and "↑ ↓: more" in said(app)
        await typed(pilot, "pagedown", "pagedown", "pagedown", "pagedown")
        await until_shown(pilot, "STO extract")
        await typed(pilot, "up", "pageup", "pageup", "pageup", "pageup")
        await until_shown(pilot, "Written to")
        await typed(pilot, "a", "enter")
        await until(pilot, lambda: not isinstance(app.screen, ExtractDialog), "the sheet to be put away")


async def test_the_mouse_chooses_and_makes_and_pasted_text_is_a_folder() -> None:
    acts = FakeDoer()

    async def click(words: str) -> None:
        y, row = next((y, row) for y, row in enumerate(lines_of(app)) if words in row)
        await pilot.click(offset=(row.index(words) + 1, y))

    async with asking(acts) as (app, pilot):
        await click("all 5")
        await click("[ ] md")
        await click("[x] pdf")
        assert "( ) FDY Foundry (•) all 5" in said(app) and "[ ] pdf [ ] txt [ ] xlsx [ ] csv [x] md" in said(app)
        await click("extracts ")
        app.screen.post_message(events.Paste("on the table\n"))
        await until_shown(pilot, "Folder      ▸ on the table")
        await click("Enter: make")
        await until_shown(pilot, "5 extracts written")
        assert acts.calls == [((), ("md",), "on the table")]
        await click("Enter: back")
        await until(pilot, lambda: not isinstance(app.screen, ExtractDialog), "the sheet to be put away")


@pytest.mark.parametrize("size", [(160, 50), (80, 24), (60, 20), (40, 14)])
async def test_the_sheet_lies_whole_in_the_middle_at_every_size(size: tuple[int, int]) -> None:
    acts = FakeDoer(gate=0)
    acts.trouble = Refused("Make the folder a/b", "it is a file", "Name another")
    async with asking(acts, size=size) as (app, pilot):

        def lies_well() -> None:
            panel = app.screen.query_one(Panel).region
            assert panel.x >= 1 and abs(size[0] - panel.right - panel.x) <= 1
            assert panel.y >= 0 and panel.bottom <= size[1] and abs(size[1] - panel.bottom - panel.y) <= 1
            rows = [row[panel.x : panel.right] for row in lines_of(app)[panel.y : panel.bottom]]
            assert rows[0][0] + rows[0][-1] + rows[-1][0] + rows[-1][-1] == "┌┐└┘"
            assert all(row[0] == row[-1] == "│" for row in rows[1:-1]), text_of(app)

        assert all(words in said(app) for words in ("Departments", "[x] pdf", "[ ] md", "Folder", "Enter: make"))
        lies_well()
        await pilot.press("enter")
        await until_shown(pilot, "1 of 1  Foundry")
        lies_well()
        acts.gate.release()
        await until_shown(pilot, "~ Make the folder")
        lies_well()
        acts.trouble = None
        acts.gate.release()
        await pilot.press("enter")
        await until_shown(pilot, "1 extract written")
        lies_well()


async def test_the_sheet_for_a_number_lies_in_the_middle_too() -> None:
    app = opened(FakeBook(), "departments")
    async with app.run_test(size=LOW) as pilot:
        await typed(pilot, "g", *"4.1")
        await until_shown(pilot, "Number ▸ 4.1")
        panel = app.screen.query_one(Panel).region
        assert (panel.width, panel.x) == (64, 8) and 8 <= panel.y <= 12


async def test_a_sheet_of_fewer_lines_can_be_painted_before_it_is_made_lower() -> None:
    async with asking(FakeDoer()) as (app, _):
        panel = app.screen.query_one(Panel)
        high = panel.size.height
        panel.say(((),))
        painted = [panel.render_line(y).text for y in range(high)]
        assert [row[0] for row in painted[:3]] == ["┌", "│", "└"] and not "".join(painted[3:]).strip()


async def test_in_the_plain_look_the_choice_under_the_cursor_can_be_told() -> None:
    async with asking(FakeDoer(), "l", "l") as (app, pilot):
        await until(pilot, lambda: app.theme == "plain", "the plain look")
        await pilot.pause()
        segments = [one for line in segments_of(app) for one in line if one.style]
        assert not [one for one in segments if one.style and one.style.color and not one.style.color.is_default]
        assert [one.text for one in segments if one.style and one.style.reverse and "FDY" in one.text]
        await pilot.press("down")
        await pilot.pause()
        segments = [one for line in segments_of(app) for one in line if one.style]
        assert "[x] pdf" in {one.text for one in segments if one.style and one.style.reverse}


async def test_the_page_under_the_sheet_shows_the_extracts_when_they_are_made(monkeypatch: pytest.MonkeyPatch) -> None:
    # Long after the test: the page must not wait until the book is looked at again.
    monkeypatch.setattr("specreg.tui.app.LOOK_SECONDS", 1000.0)
    book = FakeBook()
    acts = FakeDoer()
    async with asking(acts, book=book) as (_, pilot):
        book.written += 1
        book.split.issued = tuple(replace(one, number=7) for one in book.split.issued)
        await pilot.press("enter")
        await until_shown(pilot, "1 extract written")
        await pilot.press("enter")
        await until_shown(pilot, "7  F949-HP1Z")


# A real book --------------------------------------------------------------------------------------------------------


async def test_files_of_a_real_book_are_written_and_the_page_shows_the_extracts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    office = with_revision_a(tmp_path)
    monkeypatch.setattr("specreg.bootstrap.login_name", lambda: "jd")
    settings = Settings(book=str(office.book.path))
    app = SpecregApp(lambda: open_reader(settings, Clock()), "departments", doer(settings, Clock()))
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Departments · revision A")
        await until_shown(pilot, "FDY")
        assert "nothing lost" in text_of(app) and text_of(app).count("^ none yet") == 4
        await pilot.press("x")
        await until_shown(pilot, "Extracts of revision A")
        await typed(pilot, "right", "down", "space", "right", "space", "down", *"paper/today", "enter")
        await until_shown(pilot, "4 extracts written")
        assert sorted(path.name for path in (tmp_path / "paper" / "today").iterdir()) == [
            f"W611-A-{code}-1.txt" for code in ("BUY", "ERE", "FDY", "MCH")
        ]
        await pilot.press("enter")
        await until(pilot, lambda: "none yet" not in text_of(app), "the extracts on the page")
        ((foundry, new),) = make_extracts(office, ("FDY",))
        assert not new
        assert f"1  {foundry.seal}" in next(row for row in lines_of(app) if row.startswith("│ FDY "))
        assert (tmp_path / "paper" / "today" / "W611-A-FDY-1.txt").read_bytes() == written(foundry, "txt")
        await typed(pilot, "down", "enter")
        await until_shown(pilot, f"extract 1  {foundry.seal}")
        (tmp_path / "in the way").write_text("", encoding="utf-8")
        await typed(pilot, "x", "tab", "tab", *"in the way", "enter")
        await until_shown(pilot, "it is a file")
        assert "Folder      ▸ in the way" in text_of(app)
        await pilot.press("escape")
    office.book.close()
