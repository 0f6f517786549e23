"""How commands end that cannot do what was asked: exit code, one sentence that helps, nothing half-done."""

from __future__ import annotations

import shutil
import sqlite3
from pathlib import Path

import pytest

from tests.cli.shell import Shell

WRONG_USE, REFUSED, FAULTS = 2, 3, 1


# Wrong use ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (["show", "4.1.9"], "Near it are 4.1.2"),
        (["show", "4.2.0"], "4.2.1"),
        (["show", "SL-9999"], "Item or drawing SL-9999 of order W 611: there is none"),
        (["alter", "41.2", "Off=3"], "4.1.2"),
        (["alter", "4.1.2", "Offf=3"], "Did you mean Off?"),
        (["alter", "4.1.2", "Materal=steel"], "Did you mean Material?"),
        (["alter", "4.1.2", "Qwxz=3"], "Fields are Description, Text, Off"),
        (["alter", "4.1.2", "Off"], "it is not of the form FIELD=VALUE"),
        (["alter", "4.1.2", "=3"], "it is not of the form FIELD=VALUE"),
        (["alter", "4.1.2", "Deleted=old"], "specreg delete"),
        (["insert"], "no number is given"),
        (["insert", "9.1", "Description=x"], "there is no section for it; sections are 1, 4, 5"),
        (["insert", "4.1.9"], "it has no description"),
        (["insert", "four", "Description=x"], "it is not a number of the form"),
        (["delete", "4.1.2"], "no reason is given"),
        (["extract"], "name departments or give --all"),
        (["extract", "FDY", "--all"], "name departments or give --all"),
        (["extract", "FDY", "--format", "docx"], "txt, csv, md, pdf, xlsx"),
        (["extract", "FDY", "--format", "pdf"], "it is not text"),
        (["note", "open"], "it says nothing"),
        (["note", "open", "words", "--reason", "whim"], "Use design error, customer"),
        (["note", "open", "words", "--urgency", "soon"], "Use at once"),
        (["note", "say", "0"], "nothing is given to alter"),
        (["note", "say", "9", "--words", "x"], "its notes are: 0"),
        (["sign", "9"], "its notes are: 0"),
        (["sign", "A", "--for", "blessed"], "Use drawn, checked, second check, approved"),
        (["pass", "no drawing at 4.1.2"], "no reason is given"),
        (["pass", "no drawing at 4.1.2", "--reason", "x"], "it does not stand"),
        (["set-aside", "--strike", "7", "--reason", "x"], "no such row is set aside"),
        (["set-aside", "--strike", "7"], "no reason is given"),
        (["person", "XX"], "initials and a name are needed"),
        (["person", "XX", "X. Yates", "--role", "king"], "Roles are chief, draughtsman, checker, clerk, head"),
        (["person", "XX", "X. Yates", "--role", "head"], "no department is given"),
        (["drawing", "enter", "SL-1001", "colour=red"], "Fields are number, sheet"),
        (["compare", "A"], "none is issued yet"),
        (["import", "nowhere"], "there is no such thing"),
        (["import", "."], "order.toml is missing"),
        (["--as", "XX", "check"], "the book knows FO, HP, JD, MB, RC, WG"),
        (["bogus"], "No such command 'bogus'"),
        (["find", "--bogus-option-that-is-text", "--limit", "x"], "not a valid integer"),
        (["find", "rack", "--limit", "0"], "Invalid value for '--limit'"),
        (["day-book", "--last", "-3"], "Invalid value for '--last'"),
        (["desk"], "the screens need a terminal"),
    ],
)  # fmt: skip
def test_what_cannot_be_understood_ends_with_2_and_says_what_would_do(
    tiny: Shell, monkeypatch: pytest.MonkeyPatch, line: list[str], said: str
) -> None:
    monkeypatch.chdir(tiny.book.parent)
    before = tiny.entries()
    assert said in tiny.no(WRONG_USE, *line)
    assert tiny.entries() == before


def test_near_numbers_are_those_beside_it_first(tiny: Shell) -> None:
    assert "Near it are 5.1, 5.2." in tiny.no(WRONG_USE, "show", "5.1A")
    assert "Near it are 5.5." in tiny.no(WRONG_USE, "show", "5.9")
    assert "Look it up with `specreg find`" in tiny.no(WRONG_USE, "show", "quite other")


def test_which_book_is_asked_when_there_are_none_or_several(tiny: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    from specreg.bootstrap import book_path
    from specreg.core.errors import WrongUse
    from specreg.settings import Settings

    folder = tiny.book.parent
    assert book_path(Settings(), folder) == tiny.book
    shutil.copy(tiny.book, folder / "other.specreg")
    with pytest.raises(WrongUse, match=r"there are several here: other.specreg, works.specreg"):
        book_path(Settings(), folder)
    (folder / "empty").mkdir()
    with pytest.raises(WrongUse, match="there is none in this folder"):
        book_path(Settings(), folder / "empty")


# Refused ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("login", "line", "said"),
    [
        ("stranger", ["alter", "4.1.2", "Off=3"], "stranger only reads here"),
        ("stranger", ["sign", "A"], "stranger only reads here"),
        ("stranger", ["allocate"], ""),
        ("stranger", ["import", "order"], "stranger only reads here"),
        ("wg", ["alter", "4.1.2", "Off=3"], "W. Garnet is checker here, and this is for: chief, draughtsman, clerk"),
        ("mb", ["issue"], "this is for: chief"),
        ("mb", ["note", "open", "x"], "this is for: chief, draughtsman"),
        ("hp", ["issue"], "this is for: chief"),
        ("hp", ["pass", "no drawing at 4.1.2", "--reason", "x"], "this is for: chief"),
        ("hp", ["person", "XX", "X. Yates"], "this is for: chief"),
        ("jd", ["insert", "4.1.2", "Description=x"], "the number is taken by Rack bolt"),
        ("jd", ["alter", "4.1.2", "Off=24"], "it says so already"),
        ("jd", ["alter", "4.1.2", "Item=4.1.9"], "numbers of our orders are stable"),
        ("jd", ["delete", "4", "--reason", "x"], "live items stand in it"),
        ("jd", ["restore", "4.1.2"], "it is live"),
        ("hp", ["undo"], "no edit of yours waits to be issued"),
        ("hp", ["redo"], "you have undone no edit"),
        ("jd", ["note", "abandon", "0"], "it is the order itself"),
        ("jd", ["person", "JD", "J. Dunmore", "--role", "clerk"], "without a chief"),
        ("jd", ["person", "XX", "X. Yates", "--login", "hp"], "the login hp is H. Pellow's"),
        ("jd", ["new", "works.specreg"], "a file of that name is there already"),
        ("jd", ["new", "nowhere/works.specreg"], "there is no folder nowhere"),
    ],
)  # fmt: skip
def test_what_is_not_allowed_ends_with_3_and_says_why(
    tiny: Shell, monkeypatch: pytest.MonkeyPatch, tiny_book: Path, login: str, line: list[str], said: str
) -> None:
    monkeypatch.chdir(tiny.book.parent)
    shutil.copytree(tiny_book.parent / "order", tiny.book.parent / "order")
    shutil.copytree(tiny_book.parent / "shared", tiny.book.parent / "shared")
    if line == ["allocate"]:  # allowed to nobody who may not write, as soon as there is something to write
        tiny.ok("alter", "4.1.2", "Material=cast iron")
    before = tiny.entries()
    assert said in tiny.no(REFUSED, *line, login=login)
    assert tiny.entries() == before


def test_an_unknown_login_reads_everything_and_writes_nothing(issued: Shell) -> None:
    for line in ("find rack", "show 4.1.2", "check", "drawings", "note list", "compare A open", "history 4.1",
                 "day-book", "verify", "orders", "person", "set-aside"):  # fmt: skip
        issued.ok(*line.split(), login="stranger")
    issued.ok("export", str(issued.book.parent / "out"), login="stranger")
    before = issued.entries()
    for line in ("extract FDY", "note open x", "drawing enter SL-1 title=x stage=planned"):
        assert "stranger only reads here" in issued.no(REFUSED, *line.split(), login="stranger")
    assert issued.entries() == before


def test_allocate_that_finds_all_in_order_asks_nobody_for_leave(tiny: Shell) -> None:
    assert "0 routes written" in tiny.ok("allocate", login="stranger").err


def test_a_deleted_item_is_brought_back_as_the_sentence_says(tiny: Shell) -> None:
    tiny.ok("delete", "4.1.2", "--reason", "riveted now")
    words = tiny.no(REFUSED, "alter", "4.1.2", "Off=3")
    assert "it is deleted. Bring it back with `specreg restore 4.1.2`" in words
    assert "it is deleted already (riveted now)" in tiny.no(REFUSED, "delete", "4.1.2", "--reason", "x")
    tiny.ok("restore", "4.1.2")
    tiny.ok("alter", "4.1.2", "Off=3")


def test_a_head_gets_his_own_extract_and_no_other(issued: Shell) -> None:
    assert "extract 1 of revision A" in issued.ok("extract", "FDY", login="fo").out
    assert "F. Oakshott is head of FDY" in issued.no(REFUSED, "extract", "MCH", login="fo")
    assert "F. Oakshott is head of FDY" in issued.no(REFUSED, "extract", "--all", login="fo")
    assert [one["act"] for one in issued.entries()].count("extract") == 1


# Books that cannot be used ------------------------------------------------------------------------------------------


def test_a_file_that_is_no_book_is_refused(tiny: Shell) -> None:
    folder = tiny.book.parent
    (folder / "text.specreg").write_text("not a book, " * 20, encoding="utf-8")
    other = sqlite3.connect(folder / "other.specreg")
    other.execute("CREATE TABLE something (x)")
    other.close()
    shutil.copy(tiny.book, folder / "newer.specreg")
    newer = sqlite3.connect(folder / "newer.specreg")
    newer.execute("PRAGMA user_version = 999")
    newer.close()
    for name, said in (
        ("text.specreg", "it is not a works book"),
        ("other.specreg", "a SQLite file of some other program"),
        ("newer.specreg", "it was written by a newer specreg"),
        ("missing.specreg", "there is no such book"),
    ):
        for line in (["check"], ["alter", "4.1.2", "Off=3"]):
            done = tiny.run(*line, book=folder / name)
            assert done.code == REFUSED
            assert said in done.err


def test_a_book_that_another_program_holds_is_read_and_not_written(
    tiny: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("specreg.store.database.WAIT_FOR_LOCK_SECONDS", 0.05)
    other = sqlite3.connect(tiny.book, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        tiny.ok("show", "4.1.2")
        words = tiny.no(REFUSED, "alter", "4.1.2", "Off=3")
    finally:
        other.close()
    assert "another program has held the book" in words
    assert "Nothing was written" in words


def test_a_damaged_book_is_told_in_a_sentence(tiny: Shell) -> None:
    whole = tiny.book.read_bytes()
    damaged = tiny.book.parent / "damaged.specreg"
    damaged.write_bytes(whole[: len(whole) // 2])
    for line in (["find", "rack"], ["show", "4.1.2"], ["check"], ["alter", "4.1.2", "Off=3"]):
        done = tiny.run(*line, book=damaged)
        assert done.code == REFUSED, line
        assert "damaged" in done.err


def test_a_damaged_page_met_in_reading_is_told_in_a_sentence(tiny: Shell) -> None:
    whole = tiny.book.read_bytes()
    told = 0
    for first in range(8192, len(whole), 8 * 4096):
        damaged = tiny.book.parent / "damaged.specreg"
        damaged.write_bytes(whole[:first] + b"\xff" * 4096 + whole[first + 4096 :])
        done = tiny.run("check", book=damaged)  # an exception of SQLite would come through here
        told += done.code == REFUSED and "damaged" in done.err
    assert told


def test_a_file_where_a_folder_is_wanted_is_told_in_a_sentence(issued: Shell) -> None:
    in_the_way = issued.book.parent / "in the way"
    in_the_way.write_text("", encoding="utf-8")
    for line in (
        ["extract", "FDY", "--out", str(in_the_way / "x")],
        ["export", str(in_the_way / "x")],
        ["demo", "--no-screen", "--into", str(in_the_way / "x")],
    ):
        words = issued.no(REFUSED, *line)
        assert "in the way" in words


# Broken off ---------------------------------------------------------------------------------------------------------


def test_taking_in_that_is_broken_off_leaves_the_book_as_it_was(
    tiny: Shell, tiny_book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from tests.services.office_for_tests import tiny_order_folder

    folder = tiny_order_folder(tiny.book.parent, into="sister", number="W 612")
    for at in ("reading", "drawings", "items"):

        def broken(what: str, done: int, of: int, at: str = at) -> None:
            if what == at and done == (of // 2 if what == "items" else 0):
                raise KeyboardInterrupt

        monkeypatch.setattr("specreg.cli.orders.progress", lambda: broken)
        before = (tiny.entries(), tiny.ok("orders").out, tiny.ok("find", "rack").out)
        assert "broken off; nothing half-done was written" in tiny.no(REFUSED, "import", str(folder))
        assert (tiny.entries(), tiny.ok("orders").out, tiny.ok("find", "rack").out) == before
    assert tiny.ok("verify", "--json").json["differences"] == []
