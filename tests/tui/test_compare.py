"""Compare: what changed by field and word, readable without colour; views, states, and ten thousand changes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from threading import Semaphore

import pytest

from specreg.core.errors import NotFound
from specreg.core.extracts import Reconciliation
from specreg.services.comparison_readings import ChangeLaid, ComparisonPage
from specreg.services.department_readings import DepartmentLine, DepartmentsPage
from specreg.tui import compare_paper
from specreg.tui.app import SpecregApp
from specreg.tui.changed_words import GAP
from specreg.tui.compare_paper import change_lines, compare_parts, shown, too_few, usual_pair
from specreg.tui.passages import Laid, lines_of_part
from specreg.tui.pieces import Line, width_of
from tests.tui.fake_drawings import CHANGES, STATES, FakeRegister, change, field, many_changes
from tests.tui.fake_reader import FakeBook, FakeReader
from tests.tui.watching import LOW, PATIENCE, TALL, lines_of, opened, segments_of, text_of, until, until_shown

CODES = {"SMI": "Smithy", "MCH": "Machine shop", "ERE": "Erecting shop"}


class DepartmentsReader(FakeReader):
    """A reader that knows some departments; the person at the desk may have the extracts of some of them made."""

    may_extract: frozenset[str] = frozenset()

    def __init__(self, book: FakeBook, codes: Mapping[str, str] = CODES) -> None:
        self._codes = codes
        super().__init__(book)

    def departments(self, open_edits: bool) -> DepartmentsPage:
        self._enter()
        lines = tuple(DepartmentLine(code, name, 9, 9, 0, 0, 0, 0, "", 0, "") for code, name in self._codes.items())
        return DepartmentsPage("B", lines, Reconciliation(9, 9, 0, 0, 9, 9, 9, 9), self.may_extract)

    def comparison(self, old: str, new: str, department: str) -> ComparisonPage:
        if department and department not in self._codes:
            raise NotFound(f"Department {department}", "the works has none of that code")
        return super().comparison(old, new, department)


class HeadsReader(DepartmentsReader):
    """The reader of the head of the smithy."""

    may_extract = frozenset({"SMI"})


class WaitingReader(FakeReader):
    """A reader that compares when it is let: once for each release."""

    def __init__(self, book: FakeBook, let: Semaphore) -> None:
        super().__init__(book)
        self._let = let

    def comparison(self, old: str, new: str, department: str) -> ComparisonPage:
        assert self._let.acquire(timeout=PATIENCE)
        return super().comparison(old, new, department)


def text(line: Line) -> str:
    return "".join(piece.text for piece in line)


def joined(lines: object) -> str:
    return " ".join(text(line) for line in lines)  # type: ignore[attr-defined]


# Changes ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("width", [30, 36, 56, 76, 115, 116, 156, 200])
@pytest.mark.parametrize("one", CHANGES, ids=lambda one: one.number)
def test_a_change_fits_its_paper_and_says_all_of_it(one: ChangeLaid, width: int) -> None:
    lines = change_lines(one, "B", "open", width)
    assert all(width_of(line) <= width for line in lines)
    whole = " ".join(joined(lines).split())
    assert one.number in whole and one.title.split()[0] in whole
    assert ("note" in whole) == bool(one.note)
    if one.real and width < 116:
        assert GAP not in whole.replace(" … ", " ").replace("… box", "").replace("the …", "")


def test_old_stands_over_new_on_narrow_paper_and_beside_it_on_wide() -> None:
    narrow, wide = (tuple(map(text, change_lines(CHANGES[0], "A", "B", width))) for width in (76, 156))
    assert narrow[0].startswith("» 4.1.1  § Rack segment") and narrow[0].rstrip().endswith("note 117")
    assert narrow[1].split() == ["Off", "A", "[12]", "per", "4.1"] and narrow[2].split() == ["B", "{14}", "per", "4.1"]
    assert wide[1].split() == ["Off", "A", "[12]", "per", "4.1", "B", "{14}", "per", "4.1"]
    assert {row.index(" B  ") for row in wide[1:]} == {wide[1].index(" B  ")}


def test_what_is_new_gone_or_the_same_is_said_in_words() -> None:
    def said(one: ChangeLaid) -> str:
        return " ".join(joined(change_lines(one, "A", "B", 100)).split())

    assert said(change("=", "6.21", "Bracket", former="6.20")) == "= 6.20 → 6.21 Bracket · renumbered only"
    spaced = field("Text", "a  b", "a b")
    assert said(change("=", "6.22", "Bracket", spaced)) == "= 6.22 Bracket · only spaces differ in Text"
    assert said(change("=", "6.21", "Bracket", spaced, former="6.20")).endswith(
        "· renumbered, and only spaces differ in Text"
    )
    assert said(change("»", "6.1", "Bracket", spaced, field("Off", "1", ""))) == (
        "» 6.1 Bracket Text only spaces differ Off A [1] B (blank)"
    )
    assert said(change("-", "6.1", "Bracket", why="deleted: bought out")) == "- 6.1 Bracket · deleted: bought out"
    revision = field("Revision", "not listed", "A")
    assert said(change("+", "SL-1", "Rack", revision, kind="drawing")) == "+ SL-1 Rack · drawing Revision B A"
    assert said(change("-", "SL-1", "Rack", field("Revision", "A", "not listed"), kind="drawing")) == (
        "- SL-1 Rack · drawing Revision A A"
    )
    long_label = change("»", "6.1", "Bracket", field("Painting and packing", "red", "grey"))
    assert said(long_label) == "» 6.1 Bracket Painting and packing A [red] B {grey}"


def test_views_and_their_sentences() -> None:
    page = FakeReader(FakeBook()).comparison("A", "B", "")
    assert len(shown(page, 3).changes) == 2 and len(shown(page, 4).changes) == 7
    assert shown(page, 4).head == "Compare A with B · real only"
    nothing = replace(page, changes=())
    for view, sentence in ((1, "Nothing differs between A and B."), (3, "Nothing differs between A and B.")):
        assert sentence in joined(lines_of_part(compare_parts(shown(nothing, view), 76)[-1]))
    only = replace(page, changes=tuple(one for one in CHANGES if not one.real))
    assert "No safety item differs between A and B." in joined(lines_of_part(compare_parts(shown(only, 3), 76)[-1]))
    assert "but numbers and spaces" in joined(lines_of_part(compare_parts(shown(only, 4), 76)[-1]))
    mine = replace(nothing, department="SMI", lines="9 lines at A = 9 at B")
    assert shown(mine, 2).head == "Compare A with B · mine (SMI)"
    assert "Nothing changed for SMI" in joined(lines_of_part(compare_parts(shown(mine, 2), 76)[-1]))


def test_an_item_in_several_steps_of_a_department_stands_there_several_times() -> None:
    page = replace(FakeReader(FakeBook()).comparison("A", "B", ""), changes=(CHANGES[0],) * 3)
    assert len(shown(page, 1).changes) == 3


def test_the_states_compared_at_first_and_what_is_missing_for_it() -> None:
    assert usual_pair(STATES) == ("B", "open") and usual_pair(STATES[:2]) == ("A", "B")
    assert usual_pair(STATES[:1]) is None and usual_pair(()) is None
    assert too_few(()).startswith("Nothing is issued yet and nothing is edited")
    assert too_few(STATES[2:]).startswith("Nothing is issued yet: there is only the order as it stands.")
    assert too_few(STATES[:1]).startswith("Only revision A is issued")


@pytest.fixture
def laid_out(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The number of every change whose lines were made, in order, from now on."""
    numbers: list[str] = []

    def counting(change: ChangeLaid, old: str, new: str, width: int) -> tuple[Line, ...]:
        numbers.append(change.number)
        return change_lines(change, old, new, width)

    monkeypatch.setattr(compare_paper, "change_lines", counting)
    return numbers


def test_of_ten_thousand_changes_only_those_on_the_screen_are_laid_out(laid_out: list[str]) -> None:
    page = replace(FakeReader(FakeBook()).comparison("A", "B", ""), changes=many_changes(10_000))
    what = shown(page, 1)
    assert len(what.changes) == 10_000
    sheet = Laid(compare_parts(what, 76))
    assert not laid_out
    sheet.rows(sheet.lowest(20), 20)
    assert sheet.place_of(list(what.changes)[-1]) > 0
    assert laid_out[0] == "100.100" and len(laid_out) <= 20


# The page -----------------------------------------------------------------------------------------------------------


async def test_the_page_counts_shows_and_opens_the_changes() -> None:
    app = opened(FakeBook(), "compare")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Compare B with open · all")
        assert lines_of(app)[0].endswith(" 1 of 9 ┐")
        assert "1 added · 1 deleted · 4 altered · 1 renumbered only · 1 spacing only" in lines_of(app)[1]
        assert 'open  1 1/4" dia × {5"}' in text_of(app) and 'B     1 1/4" dia × [4 1/2"]' in text_of(app)
        await pilot.press("enter")
        await until_shown(pilot, "┌ 4.1.1 ")
        await pilot.press("escape")
        await until_shown(pilot, "1 of 9")
        await pilot.press("n", "n", "n", "b")
        await until_shown(pilot, "3 of 9")
        assert app.screen.paper.key.split()[2] == "4.1.2A"
        await pilot.press("end")
        await until_shown(pilot, "9 of 9")
        await pilot.press("enter")
        await until_shown(pilot, "┌ SL-1003 Rack bolts and washers")
        await pilot.press("c")
        await until_shown(pilot, "9 of 9")
        await pilot.press("home")
        await until_shown(pilot, "1 of 9")
        await pilot.press(*["down"] * 9)
        await until_shown(pilot, "9 of 9")
        await pilot.press("escape")
        await until_shown(pilot, "Waits for you")


async def test_keys_typed_before_the_comparison_is_there_are_done_when_it_comes() -> None:
    book, let = FakeBook(), Semaphore(0)
    app = SpecregApp(lambda: WaitingReader(book, let))
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Nothing lost")
        await pilot.press("c", "n", "down")
        let.release()
        await until_shown(pilot, "3 of 9")


async def test_safety_and_real_only_leave_the_rest_out_and_keep_the_cursor_on_its_change() -> None:
    app = opened(FakeBook(), "compare")
    async with app.run_test(size=TALL) as pilot:
        await until_shown(pilot, "1 of 9")
        assert "= 6.20 → 6.21  Pendant bracket · renumbered only" in text_of(app)
        await pilot.press(*"nnnnnnn")
        await until_shown(pilot, "8 of 9")
        await pilot.press("3")
        await until_shown(pilot, "Compare B with open · safety")
        assert "2 of 2" in lines_of(app)[0] and "safety: 2 of 9 changes" in text_of(app)
        assert "Dowel" not in text_of(app)
        await pilot.press("4")
        await until_shown(pilot, "· real only")
        assert "6 of 7" in lines_of(app)[0] and "Pendant" not in text_of(app)
        await pilot.press("1")
        await until_shown(pilot, "8 of 9")


async def test_a_head_of_a_department_is_shown_his_own_changes_unasked() -> None:
    app = SpecregApp(lambda: HeadsReader(FakeBook()), "compare")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "1 of 9")
        await pilot.press("2")
        await until_shown(pilot, "Compare B with open · mine (SMI)")
        assert "SMI: 108 lines at B + 1 added - 0 withdrawn = 109 at open; 4 altered" in lines_of(app)[1]


async def test_others_are_asked_once_whose_changes_they_mean() -> None:
    app = SpecregApp(lambda: DepartmentsReader(FakeBook()), "compare")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "1 of 9")
        await pilot.press("2")
        await until_shown(pilot, "Changes of which department")
        await pilot.press("escape")
        await until(pilot, lambda: "Changes of which" not in text_of(app), "the dialog to go")
        assert "· all" in lines_of(app)[0]
        await pilot.press("2")
        await until_shown(pilot, "Changes of which department")
        await pilot.press(*"fdy", "enter")
        await until_shown(pilot, "~ There is no department fdy. There are SMI, MCH, ERE.")
        assert "Department ▸ fdy" in text_of(app)
        await pilot.press(*"mch", "enter")
        await until_shown(pilot, "· mine (MCH)")
        await pilot.press("k", "c")
        await until_shown(pilot, "· all")
        await pilot.press("2")
        await until_shown(pilot, "· mine (MCH)")
        assert "Changes of which department" not in text_of(app)
        await pilot.press("2")
        await until_shown(pilot, "Changes of which department")
        await pilot.press("down", "enter")
        await until_shown(pilot, "· mine (ERE)")


async def test_more_departments_than_find_room_are_said_to_be_there() -> None:
    codes = {f"D{at:02}": f"Department {at}" for at in range(30)}
    app = SpecregApp(lambda: DepartmentsReader(FakeBook(), codes), "compare")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "1 of 9")
        await pilot.press("2")
        await until_shown(pilot, "Changes of which department")
        there = [line for line in lines_of(app) if " D" in line and "Department" in line and "▸" not in line]
        assert len(there) >= 12 and "D00" in there[0]
        assert f"… {30 - len(there)} more" in text_of(app)
        await pilot.press(*"d15")
        await until_shown(pilot, "▸ d15")
        rows = [line.strip("│ ") for line in lines_of(app) if " more " in line]
        shown_first, shown_last = (int(row.split()[1]) for row in rows)
        there = [line for line in lines_of(app) if " D" in line and "Department" in line and "▸" not in line]
        assert shown_first + len(there) + shown_last == 30
        assert any("Department   D15" in line for line in there)
        await pilot.press("ctrl+u", "up")
        await until_shown(pilot, "▸ D29")
        assert "D29  Department 29" in text_of(app) and text_of(app).count(" more ") == 1
        await pilot.press("enter")
        await until_shown(pilot, "· mine (D29)")


async def test_a_department_that_is_no_more_is_told_and_the_view_stays() -> None:
    app = SpecregApp(lambda: DepartmentsReader(FakeBook()), "compare")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "1 of 9")
        app.memory.department = "OLD"
        await pilot.press("2")
        await until_shown(pilot, "Department OLD: the works has none of that code")
        await pilot.press("enter")
        await until_shown(pilot, "Compare B with open · all")
        await pilot.press("2")
        await until_shown(pilot, "Changes of which department")


async def test_o_asks_for_the_states_typed_or_chosen_and_refuses_wrong_ones() -> None:
    app = opened(FakeBook(), "compare")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "1 of 9")
        await pilot.press("o")
        await until_shown(pilot, "Compare which two")
        assert "issued 2026-03-04, 2 410 rows" in text_of(app)
        assert text_of(app).count("┌ Compare which two") == 1 and lines_of(app)[0].startswith("┌ Compare B")
        await pilot.press(*"q9", "enter")
        await until_shown(pilot, "~ There is no state q9. There are A, B, open.")
        assert "Old ▸ q9" in text_of(app)
        await pilot.press("up", "up", "up")
        await until_shown(pilot, "Old ▸ A")
        await pilot.press("tab", "a", "enter")
        await until_shown(pilot, "~ Both are A: choose another for old or new.")
        await pilot.press("down", "enter")
        await until_shown(pilot, "Compare A with B · all")
        await pilot.press("o", "ctrl+u", "enter")
        await until_shown(pilot, "~ Name a state. There are A, B, open.")
        await pilot.press("escape")
        await until(pilot, lambda: "which two" not in text_of(app), "the dialog to go")
        assert "Compare A with B · all" in lines_of(app)[0]


async def test_with_fewer_than_two_states_a_sentence_says_what_is_missing() -> None:
    book = FakeBook(register=FakeRegister(states=STATES[:1]))
    app = opened(book, "compare")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Only revision A is issued")
        await pilot.press("enter", "n", "3")
        await until_shown(pilot, "Only revision A is issued")
        await pilot.press("o")
        await until_shown(pilot, "Could not be done")
        await pilot.press("enter", "1")
        book.register.states = STATES[:2]
        book.written += 1
        app.look()
        await until_shown(pilot, "Compare A with B · all")


async def test_the_page_follows_the_book_and_its_states() -> None:
    book = FakeBook()
    app = opened(book, "compare")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "1 of 9")
        await pilot.press("n", "n")
        await until_shown(pilot, "3 of 9")
        book.register.changes = CHANGES[1:]
        book.written += 1
        app.look()
        await until_shown(pilot, "2 of 8")
        assert app.screen.paper.key.split()[2] == "4.1.2A"
        await pilot.press("o", *"a", "tab", *"open", "enter")
        await until_shown(pilot, "Compare A with open")
        # Open is gone once its edits are issued.
        book.register.states = STATES[:2]
        book.written += 1
        app.look()
        await until_shown(pilot, "Compare A with B")
        book.register.changes = ()
        book.written += 1
        app.look()
        await until_shown(pilot, "Nothing differs between A and B.")
        await until_shown(pilot, " none ┐")


async def test_a_walk_through_ten_thousand_changes_costs_what_one_through_a_hundred_does(laid_out: list[str]) -> None:
    costs = []
    for count, last in ((100, "100 of 100"), (10_000, "10 000 of 10 000")):
        laid_out.clear()
        app = opened(FakeBook(register=FakeRegister(changes=many_changes(count))), "compare")
        async with app.run_test(size=LOW) as pilot:
            await until_shown(pilot, f"┐\n│ 0 added · 0 deleted · {last.split(' of ')[0]} altered")
            await pilot.press("end")
            await until_shown(pilot, last)
            await pilot.press("b", "b", "pageup", "home")
            await until_shown(pilot, f" 1 of {last.split(' of ')[0]} ┐")
        costs.append(len(laid_out))
    assert costs[0] == costs[1] > 0


async def test_the_head_says_that_the_states_are_being_compared_until_they_are() -> None:
    book, let = FakeBook(), Semaphore(0)
    app = SpecregApp(lambda: WaitingReader(book, let), "compare")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, " comparing … ┐")
        let.release()
        await until_shown(pilot, "1 of 9")
        assert "comparing" not in text_of(app)
        await pilot.press("o", *"a", "enter")
        await until_shown(pilot, "Compare B with open · all ─")
        await until_shown(pilot, " comparing … ┐")
        let.release()
        await until_shown(pilot, "Compare A with open · all")
        assert "1 of 9" in lines_of(app)[0]
        await pilot.press("o", *"b")
        book.refuse = "it is locked"
        let.release()
        await pilot.press("enter")
        await until_shown(pilot, "The works book cannot be read: it is locked")
        assert "Compare A with open · all" in lines_of(app)[0] and "1 of 9" in lines_of(app)[0]


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 14), (160, 50)])
async def test_every_line_keeps_the_frame_at_every_size(size: tuple[int, int]) -> None:
    app = opened(FakeBook(), "compare")
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "1 of 9")
        for keys in ((), ("pagedown",), ("end",), ("home", "o")):
            await pilot.press(*keys)
            await pilot.pause(0.05)
            lines = lines_of(app)
            assert {len(line) for line in lines} == {size[0]} and len(lines) == size[1]
            assert all(line[0] in "┌│├└" and line[-1] in "┐│┃┤┘" for line in lines), text_of(app)
        assert "Compare which two" in text_of(app)


async def test_the_plain_look_has_no_colour_and_the_help_explains_the_page() -> None:
    app = opened(FakeBook(), "compare")
    async with app.run_test(size=TALL) as pilot:
        await until_shown(pilot, "1 of 9")
        await pilot.press("l", "l")
        await until(pilot, lambda: app.theme == "plain", "the plain look")
        await until_shown(pilot, '[4 1/2"]')
        segments = [segment for line in segments_of(app) for segment in line if segment.style]
        assert not [one for one in segments if one.style and one.style.color and not one.style.color.is_default]
        assert any(one.text == '{5"}' and one.style and one.style.underline and one.style.bold for one in segments)
        assert any(one.text == '[4 1/2"]' and one.style and one.style.underline for one in segments)
        await pilot.press("question_mark")
        await until_shown(pilot, "Help · Compare")
        for said in ("Asks which two states to compare.", "=       only renumbered, or only spaces differ"):
            assert said in text_of(app)
