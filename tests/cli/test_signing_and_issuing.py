"""Signatures and the issue: each for himself, nothing issued while anything stands in the way."""

from __future__ import annotations

import pytest

from tests.cli.shell import Shell


def causes(shell: Shell, *arguments: str) -> str:
    """What bars an issue, which must leave the book as it was."""
    before, export = shell.entries(), shell.ok("note", "list", "--json").out
    words = shell.no(1, "issue", *arguments)
    assert "stand in the way" in words or "stands in the way" in words
    assert shell.entries() == before
    assert shell.ok("note", "list", "--json").out == export
    return words


# Signatures ---------------------------------------------------------------------------------------------------------


def test_nobody_signs_twice(tiny: Shell) -> None:
    tiny.ok("sign", "A", login="hp")
    words = tiny.no(3, "sign", "A", login="hp")
    assert "H. Pellow has signed it already, as drawn; nobody signs twice" in words
    assert "nobody signs twice" in tiny.no(3, "sign", "A", "--for", "checked", login="hp")


def test_to_be_named_serves_entry_and_never_a_signature(tiny: Shell) -> None:
    assert "--as serves reading and entry" in tiny.no(3, "--as", "HP", "sign", "A")
    assert "--as serves reading and entry" in tiny.no(3, "--as", "JD", "issue", login="root")
    assert "--as serves reading and entry" in tiny.no(3, "--as", "JD", "pass", "x at y", "--reason", "z", login="root")
    assert "--as serves reading and entry" in tiny.no(3, "--as", "JD", "person", "XX", "X. Yates", login="root")
    tiny.ok("--as", "MB", "alter", "4.1.2", "Off=30", login="root")
    assert (tiny.entries()[0]["person"], tiny.entries()[0]["act"]) == ("MB", "alter")


def test_signatures_are_set_in_order_and_by_those_who_may(tiny: Shell) -> None:
    assert "it must first be signed as drawn" in tiny.no(3, "sign", "A", "--for", "checked", login="wg")
    assert "that is for a chief or draughtsman" in tiny.no(3, "sign", "A", "--for", "drawn", login="wg")
    assert "what is wanting is not for you" not in tiny.ok("sign", "A", login="hp").err
    tiny.ok("sign", "A", login="wg")
    assert "that is for a chief" in tiny.no(3, "sign", "A", "--for", "approved", login="rc")
    assert "W. Garnet has signed it already" in tiny.no(3, "sign", "A", "--for", "second check", login="wg")


def test_the_only_chief_is_kept_from_signing_away_his_approval(tiny: Shell) -> None:
    words = tiny.no(3, "sign", "A")
    assert "J. Dunmore alone may approve it" in words
    assert "--for 'drawn'" in words
    tiny.ok("person", "EC", "E. Cole", "--role", "chief", "--login", "ec")
    assert "drawn" in tiny.ok("sign", "A").err


def test_a_signature_lapses_when_what_was_signed_changes(tiny: Shell) -> None:
    tiny.sign("A")
    tiny.ok("alter", "4.1.2", "Off=30", login="mb")
    tiny.ok("allocate")
    words = causes(tiny)
    assert "wants signatures: drawn, checked, second check, approved" in words
    assert "lapsed: H. Pellow (drawn), W. Garnet (checked), R. Corrie (second check), J. Dunmore (approved)" in words
    (note,) = tiny.ok("note", "list", "--json").json["notes"]
    assert note["signed"] == []
    tiny.ok("undo", login="mb")
    tiny.ok("allocate")
    assert tiny.ok("note", "list", "--json").json["notes"][0]["signed"] == [
        "drawn HP", "checked WG", "second check RC", "approved JD",
    ]  # fmt: skip


def test_saying_something_else_of_a_note_lapses_its_signatures_too(issued: Shell) -> None:
    issued.ok("note", "open", "longer bolts", "--reason", "customer", "--authority", "letter", "--machines", "all")
    issued.ok("alter", "4.1.2", "Size=6 in")
    issued.ok("allocate")
    issued.ok("sign", "1", login="hp")
    issued.ok("note", "say", "1", "--machines", "1471")
    (note,) = [one for one in issued.ok("note", "list", "--json").json["notes"] if one["number"] == "1"]
    assert (note["machines"], note["signed"]) == ("1471", [])


# The issue ----------------------------------------------------------------------------------------------------------


def test_nothing_is_issued_unsigned(tiny: Shell) -> None:
    assert "The first compilation still wants signatures: drawn, checked, second check, approved." in causes(tiny)


def test_an_item_without_a_department_bars_the_issue(tiny: Shell) -> None:
    tiny.ok("alter", "4.1.2", "Material=oak")
    assert tiny.run("allocate").code == 1
    tiny.sign("A")
    assert "4.1.2 Rack bolt goes to no department" in causes(tiny)


def test_an_item_altered_since_it_was_allocated_bars_the_issue(tiny: Shell) -> None:
    tiny.ok("alter", "4.1.2", "Material=cast iron")
    tiny.sign("A")
    assert "4.1.2 Rack bolt was altered since it was allocated; run `specreg allocate` again" in causes(tiny)


def test_a_drawing_that_nobody_entered_bars_the_issue_until_it_is_entered(tiny: Shell) -> None:
    tiny.ok("alter", "4.1.2", "Drawing=SL-1099")
    tiny.sign("A")
    assert "calls up SL-1099, which is not in the drawing register" in causes(tiny)
    tiny.ok("drawing", "enter", "SL-1099", "title=Rack bolt, new", "stage=issued", "drawn=H.P.", "checked=W.G.",
            "approved=J.D.")  # fmt: skip
    tiny.ok("issue")


def test_an_item_cleared_to_make_from_a_sheet_not_approved_bars_the_issue(tiny: Shell) -> None:
    tiny.ok("drawing", "enter", "SL-1003", "stage=checked", "approved=")
    tiny.sign("A")
    assert "is cleared to make from SL-1003 rev -, which stands at 'checked'" in causes(tiny)
    tiny.ok("alter", "4.1.2", "Clearance=hold")
    tiny.sign("A")
    tiny.ok("allocate")
    tiny.ok("issue")


def test_every_cause_is_told_at_once_and_the_file_is_not_touched(tiny: Shell) -> None:
    tiny.ok("alter", "4.1.2", "Drawing=SL-1099")
    tiny.ok("alter", "4.3", "Off=many")
    tiny.ok("drawing", "enter", "SL-1001", "stage=drawn")
    before = tiny.book.read_bytes()
    words = tiny.no(1, "issue")
    assert tiny.book.read_bytes() == before
    for cause in ("SL-1099", "`many` cannot be read", "SL-1001", "wants signatures"):
        assert cause in words


def test_a_stop_cannot_be_passed_and_an_error_only_with_a_reason(tiny: Shell) -> None:
    tiny.ok("alter", "4.1.2", "Drawing=SL-1099")
    words = tiny.no(3, "pass", "drawing not registered at 4.1.2", "--reason", "in a hurry")
    assert "it is a stop, and a stop cannot be passed" in words
    tiny.ok("undo")
    tiny.ok("alter", "5.1.1", "Drawing=")
    tiny.ok("allocate")
    tiny.sign("A")
    assert "5.1.1 Barrel shaft is to be made and names no drawing" in causes(tiny)
    tiny.ok("pass", "no drawing at 5.1.1", "--reason", "a plain bar")
    tiny.ok("issue")


def test_a_fault_let_pass_shows_again_when_its_cause_is_another(tiny: Shell) -> None:
    tiny.ok("alter", "4.1.2", "Machines=1479")
    tiny.ok("pass", "machines not read at 4.1.2", "--reason", "to be agreed")
    assert "machines not read at 4.1.2" not in {one["id"] for one in tiny.run("check", "--json").json["faults"]}
    tiny.ok("alter", "4.1.2", "Machines=1480")
    assert "machines not read at 4.1.2" in {one["id"] for one in tiny.run("check", "--json").json["faults"]}


def test_a_note_says_why_by_whose_authority_and_for_which_machines(issued: Shell) -> None:
    issued.ok("note", "open", "longer", "bolts", login="hp")
    issued.ok("alter", "4.1.2", "Size=6 in")
    issued.ok("allocate")
    for words in (causes(issued), issued.no(1, "sign", "1", login="hp")):
        for said in ("gives no reason", "names no authority", "does not say for which machines"):
            assert f"Note 1 {said}" in words
    said = ["--reason", "customer", "--authority", "letter"]
    assert "the order's are 1471-1472" in issued.no(2, "note", "say", "1", *said, "--machines", "1471-1479")
    issued.ok("note", "say", "1", *said, "--machines", "1471")
    issued.sign("1")
    assert "revision B" in issued.ok("issue").out


def test_which_notes_to_issue_is_asked_when_there_are_several_or_none(issued: Shell) -> None:
    assert "no note is open. Open one with `specreg note open`" in issued.no(2, "issue")
    issued.ok("note", "open", "one")
    issued.ok("note", "open", "two")
    assert "several are open: 1,2. Name them, or some: --notes 1,2" in issued.no(2, "issue")
    assert "its notes are: 0, 1, 2" in issued.no(2, "issue", "--notes", "1,7")
    assert "it is issued" in issued.no(2, "issue", "--notes", "0")


def test_a_note_with_nothing_under_it_gives_no_revision(issued: Shell) -> None:
    issued.ok("note", "open", "no edits", "--reason", "customer", "--authority", "letter", "--machines", "all")
    issued.sign("1")
    before = issued.entries()
    assert "nothing stands altered under these notes" in issued.no(3, "issue")
    assert issued.entries() == before


def test_an_issued_note_is_closed(issued: Shell) -> None:
    assert "it is issued" in issued.no(3, "sign", "0", login="hp")
    assert "it is issued" in issued.no(2, "alter", "4.1.2", "Off=2", "--note", "0")
    assert "no note is open, and after the first issue every edit belongs to one" in issued.no(
        2, "alter", "4.1.2", "Off=2"
    )


@pytest.mark.parametrize("said", ["--words=louder", "--reason=cost"])
def test_an_open_note_may_be_said_otherwise_and_given_up(issued: Shell, said: str) -> None:
    issued.ok("note", "open", "whistle")
    issued.ok("note", "say", "1", said)
    issued.ok("alter", "4.1.2", "Off=30")
    assert "1 item stands altered under it. Undo these edits first" in issued.no(3, "note", "abandon", "1")
    issued.ok("undo")
    issued.ok("note", "abandon", "1")
    assert [one["state"] for one in issued.ok("note", "list", "--json").json["notes"]] == ["issued", "abandoned"]
    assert "Note 2 is open" in issued.ok("note", "open", "another").err


def test_before_the_first_issue_an_item_is_said_to_stand_in_the_first_compilation(tiny: Shell) -> None:
    assert "stands in the first compilation, not yet issued" in tiny.ok("show", "4.1.2").out
    assert "note 0" not in tiny.ok("show", "4.1.2").out


def test_one_alone_is_told_in_the_singular(tiny: Shell) -> None:
    assert "· 1 note; 0 let pass." in tiny.ok("check").err
    tiny.ok("alter", "4.1.2", "Material=cast iron")
    assert tiny.ok("allocate").err.endswith("0 without a route; 1 route written.\n")
