"""Acts: all or nothing, whatever happens inside; numbered without gaps; two programs at once lose nothing."""

from __future__ import annotations

import os
import signal
from dataclasses import replace
from functools import partial

import pytest

from specreg.bootstrap import open_office
from specreg.core.errors import BookUnusable, NotPermitted, Refused, SpecregError
from specreg.services import altering, issuing, taking_in
from specreg.settings import Settings
from specreg.store import database, day_book, items, proof
from specreg.store.database import open_book
from tests.services.office_for_tests import (
    Clock,
    new_office,
    note_opened,
    sign_all,
    tiny_order_folder,
    with_order,
    with_revision_a,
)
from tests.store.book_contents import contents
from tests.store.other_process import Forked


def entries(book) -> list[int]:
    return [entry for (entry,) in book.db.execute("SELECT entry FROM day_book ORDER BY entry")]


def test_an_act_opens_an_entry_and_closes_it_with_what_it_did(book):
    last = day_book.last_entry(book)
    with book.act("MB", "try", "2026-11-25T10:00:00+01:00", 1) as act:
        assert act.entry == last + 1
        assert book.db.execute("SELECT closed FROM day_book WHERE entry = ?", (act.entry,)).fetchone() == (0,)
        act.words = "tried"
    newest = day_book.entries(book, 1, 1)[0]
    assert newest == day_book.Entry(last + 1, "2026-11-25T10:00:00+01:00", "MB", "bench", "try", "tried")
    assert list(proof.differences(book)) == []


@pytest.mark.parametrize("stop", [ValueError, KeyboardInterrupt, SystemExit, GeneratorExit, NotPermitted])
def test_whatever_stops_an_act_leaves_nothing_of_it(book, stop):
    before = contents(book)
    with pytest.raises(stop), book.act("JD", "try", "2026-11-25") as act:
        item_id = items.new_identity(book, 1)
        one = replace(items.by_number(book, 1, "4.1.2").item, number="4.9", remarks="half an act")
        items.put_open(book, "W 611", 1, item_id, 3, one)
        act.words = "half"
        raise stop("in the middle")
    assert not book.db.in_transaction
    assert contents(book) == before
    with book.act("JD", "try again", "2026-11-25") as act:
        assert act.entry == len(before["day_book"]) + 1


def test_a_row_that_the_book_does_not_take_stops_the_act(book):
    before = contents(book)
    with pytest.raises(Refused) as refusal, book.act("JD", "try", "2026-11-25"):
        items.new_identity(book, 1)
        book.db.execute("UPDATE revision SET letter = 'Z'")
    assert str(refusal.value) == (
        "The book did not take this: revision: what is recorded is never altered. Nothing was written."
    )
    assert contents(book) == before


def test_an_act_within_an_act_is_refused_and_stops_the_outer_one(book):
    before = contents(book)
    with (
        pytest.raises(BookUnusable, match="transaction"),
        book.act("JD", "outer", "2026-11-25"),
        book.act("JD", "inner", "2026-11-25"),
    ):
        pytest.fail("two acts at once")
    assert contents(book) == before


def test_a_book_opened_for_reading_takes_no_act(file):
    before = file.read_bytes()
    book = open_book(file, "bench", read_only=True)
    with pytest.raises(BookUnusable) as refusal, book.act("JD", "alter", "2026-11-25"):
        pytest.fail("the act was begun")
    assert str(refusal.value) == "alter: the book was opened for reading only. Open it again to write."
    with pytest.raises(BookUnusable, match="the file may only be read here"), database.translated(file):
        book.db.execute("DELETE FROM item_now")
    book.close()
    assert file.read_bytes() == before


def test_a_refused_edit_takes_no_number(tmp_path):
    office = with_revision_a(tmp_path)
    note_opened(office, "1")
    first = day_book.last_entry(office.book)
    altering.alter(office, "4.1.1", {"Size": "one"})
    for refused in (
        lambda: altering.alter(office, "4.1.1", {"Size": "one"}),
        lambda: altering.alter(office, "9.9", {"Size": "one"}),
        lambda: altering.insert(office, "4.1.1", {"Description": "twice"}),
        lambda: altering.restore(office, "4.1.1"),
        lambda: altering.redo(office),
    ):
        with pytest.raises(SpecregError):
            refused()
    altering.undo(office)
    assert entries(office.book) == list(range(1, first + 3))
    office.book.close()


def test_readers_see_one_state_however_others_write(book, file):
    writer = open_book(file, "other")
    with book.reading():
        before = day_book.last_entry(book)
        with writer.act("MB", "alter", "2026-11-25"):
            pass
        assert day_book.last_entry(book) == before
        with book.reading():
            assert day_book.last_entry(book) == before
        assert book.db.in_transaction
    assert day_book.last_entry(book) == before + 1
    writer.close()


def test_the_version_tells_of_every_write_of_ours_and_of_others(book, file):
    writer = open_book(file, "other")
    seen = [book.version()]
    for one in (writer, book, writer):
        with one.act("MB", "alter", "2026-11-25"):
            pass
        seen.append(book.version())
    assert len(set(seen)) == 4
    assert book.version() == seen[-1]
    writer.close()


def test_a_reading_that_fails_lets_go(book):
    with pytest.raises(ValueError), book.reading():
        raise ValueError
    assert not book.db.in_transaction


# Killed in the middle -----------------------------------------------------------------------------------------------


def prepared(folder, made: str):
    """An office about to do a piece of work, its book still open."""
    folder.mkdir()
    if made == "nothing":
        office = new_office(folder)
        tiny_order_folder(folder)
    elif made == "order":
        office = with_order(folder)
        sign_all(office)
    else:
        office = with_revision_a(folder)
        note_opened(office, "1")
        tiny_order_folder(folder, machines="1471-1473", drawings="number,title,stage\nSL-1004,Pinion,issued\n")
        spec = folder / "order" / "spec" / "04-slewing-gear.md"
        spec.write_text(spec.read_text().replace("black", "bright").replace("cast steel", "cast iron"))
    return office


def traced(office, work) -> list[str]:
    """The statements that a piece of work runs."""
    statements: list[str] = []
    office.book.db.set_trace_callback(statements.append)
    work(office)
    office.book.db.set_trace_callback(None)
    return statements


def killed_at(path, place: int, work) -> str:
    """Do the work in a process that kills itself just before its statement number `place`, counted from 0."""

    def doing() -> str:
        office = open_office(Settings(str(path)), clock=Clock(), login="jd")
        left = place

        def seen(_: str) -> None:
            nonlocal left
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)
            left -= 1

        office.book.db.set_trace_callback(seen)
        work(office)
        return "done"

    return Forked(doing).said()


def state_of(path) -> dict[str, list[tuple[object, ...]]]:
    """What a book holds when it is opened again; it must be whole."""
    book = open_book(path, "bench")
    held = contents(book)
    assert list(proof.differences(book)) == []
    assert entries(book) == list(range(1, len(held["day_book"]) + 1))
    book.close()
    return held


@pytest.mark.parametrize(
    ("made", "work"),
    [
        ("nothing", lambda office: taking_in.take_in(office, office.book.path.parent / "order")),
        ("revision", lambda office: taking_in.take_in(office, office.book.path.parent / "order", note="1")),
        ("order", lambda office: issuing.issue(office, ("0",))),
    ],
    ids=["first import", "import again", "issue"],
)
def test_a_killed_program_leaves_a_whole_book_without_half_an_act(tmp_path, made, work):
    twin = prepared(tmp_path / "twin", made)
    statements = traced(twin, work)
    twin.book.close()
    begin = statements.index("BEGIN IMMEDIATE")
    commit = statements.index("COMMIT", begin)
    assert commit - begin > 40

    office = prepared(tmp_path / "book", made)
    office.book.close()
    path = office.book.path
    before = state_of(path)
    for place in sorted({begin, *range(begin + 1, commit, (commit - begin) // 8), commit - 1, commit}):
        assert killed_at(path, place, work) == f"killed by {signal.SIGKILL.value}"
        assert state_of(path) == before, statements[place]
    assert killed_at(path, 10 * len(statements), work) == "done"
    assert len(state_of(path)["day_book"]) == len(before["day_book"]) + 1


def test_a_program_killed_after_its_act_has_written_all_of_it(tmp_path):
    path = prepared(tmp_path / "book", "order").book.path

    def issue_and_die() -> None:
        office = open_office(Settings(str(path)), clock=Clock(), login="jd")
        issuing.issue(office, ("0",))
        os.kill(os.getpid(), signal.SIGKILL)

    assert Forked(issue_and_die).said() == f"killed by {signal.SIGKILL.value}"
    assert [row[2] for row in state_of(path)["revision"]] == ["A"]


# Several programs at once -------------------------------------------------------------------------------------------


def test_four_programs_editing_at_once_lose_nothing(tmp_path):
    office = with_revision_a(tmp_path)
    note_opened(office, "1")
    first = day_book.last_entry(office.book)
    office.book.close()
    path, edits_each = office.book.path, 40
    desks = [
        ("jd", "4.1.1", "Size"),
        ("hp", "4.1.2", "Wanted"),
        ("mb", "5.1", "Hand"),
        ("jd", "5.3", "Remarks"),
    ]

    def editing(login: str, own: str, label: str) -> str:
        mine = open_office(Settings(str(path)), clock=Clock(), login=login)
        for count in range(edits_each):
            number = own if count % 2 else "4.2"
            altering.alter(mine, number, {label: f"{label} {count}"})
        mine.book.close()
        return "done"

    at_work = [Forked(partial(editing, *desk)) for desk in desks]
    assert [one.said() for one in at_work] == ["done"] * 4

    held = state_of(path)
    assert len(held["day_book"]) == first + 4 * edits_each
    assert len(held["open_edit"]) == len(held["open_change"]) == 4 * edits_each
    book = open_book(path, "bench")
    shared = items.by_number(book, 1, "4.2").item
    for _, own, label in desks:
        assert shared.get(label) == f"{label} {edits_each - 2}"
        assert items.by_number(book, 1, own).item.get(label) == f"{label} {edits_each - 1}"
    book.close()
