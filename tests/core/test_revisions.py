"""Letters of our own specifications and marks of drawings as met."""

from __future__ import annotations

import random
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.errors import WrongUse
from specreg.core.revisions import letter, next_letter, order_marks, ordinal, plain_mark

JANUARY, FEBRUARY, MARCH = date(2026, 1, 12), date(2026, 2, 9), date(2026, 3, 23)


@given(st.integers(1, 420))
def test_letter_and_ordinal_undo_each_other(place: int) -> None:
    assert ordinal(letter(place)) == place
    assert not {*letter(place)} & {*"IOQSXZ"}


@given(st.integers(1, 26 + 26 * 26))
def test_a_house_that_omits_none_has_702_letters(place: int) -> None:
    assert ordinal(letter(place, ""), "") == place


@given(st.integers(1, 419))
def test_the_next_letter_is_one_further(place: int) -> None:
    assert next_letter(letter(place)) == letter(place + 1)
    assert next_letter(letter(place).lower()) == letter(place + 1)


@pytest.mark.parametrize("nothing", ["", " ", "-"])
def test_the_first_letter_is_a(nothing: str) -> None:
    assert next_letter(nothing) == "A"


@pytest.mark.parametrize("mark", ["I", "AO", "3", "AAA", "P1", "Å"])
def test_what_is_no_letter_of_ours_is_refused_with_the_letters_named(mark: str) -> None:
    with pytest.raises(WrongUse, match="without I, O, Q, S, X, Z"):
        ordinal(mark)


def test_revisions_are_counted_from_one() -> None:
    with pytest.raises(WrongUse):
        letter(0)


@pytest.mark.parametrize(
    ("written", "mark"),
    [
        ("Rev. B", "B"), ("rev B", "B"), ("REV.B", "B"), ("RevB", "B"), ("b", "B"), ("Revision: 3", "3"),
        ("Issue 2", "2"), ("issue b", "B"), ("iss. 4", "4"), ("(C)", "C"), ("Rev -", "-"), ("–", "-"), ("", ""),
        ("Rev.", ""), ("  ", ""), ("ISSUED", "ISSUED"), ("As built", "AS BUILT"), ("p01", "P01"), ("Ｂ", "B"),
        ("Revised", "REVISED"), ("Rev A1", "A1"), ("RevA1", "A1"), ("revb", "B"), ("rev-b", "B"), ("Rev_B", "B"),
        ("Issue No. 3", "3"), ("Rev No 4", "4"), ("No. 3", "3"), ("Mod. B", "B"), ("Amdt 2", "2"), ("Alt b", "B"),
        ("B (C)", "B (C)"), ("[B]", "B"), ("(B).", "B"), ("--", "-"), ("Rev –", "-"), ("A  1", "A1"), ("P 01", "P01"),
        ("1½", "1½"), ("Alternative", "ALTERNATIVE"), ("Modified", "MODIFIED"), ("0A", "0A"), ("A-", "A-"),
    ],
)  # fmt: skip
def test_plain_mark(written: str, mark: str) -> None:
    assert plain_mark(written) == mark
    assert plain_mark(mark) == mark


@pytest.mark.parametrize(
    ("met", "ordered", "flags", "sure"),
    [
        (["H", "-", "B", "J", "A"], "- A B H J", ["C to G not seen", "I not expected"], True),
        (["AB", "Z", "AA"], "Z AA AB", [], True),
        (["Rev. B", "rev B", "B"], "B", [], True),
        (["P02", "C01", "P01"], "P01 P02 C01", [], True),
        (["10", "2", "1"], "1 2 10", ["3 to 9 not seen"], True),
        (["0", "A"], "0 A", ["two schemes, order unsure: ask"], False),
        (["A", "0"], "A 0", ["two schemes, order unsure: ask"], False),
        ([""], "", ["no revision known"], False),
        # further of the same kinds
        (["-"], "-", [], True),
        (["0"], "0", [], True),
        (["2", "-", "1"], "- 1 2", [], True),
        (["-", "0"], "- 0", ["two schemes, order unsure: ask"], False),
        (["", "B", "A"], "A B", ["1 blank: no revision known, not the same as -"], True),
        (["AA", "Y"], "Y AA", ["Z not expected"], True),
        (["C", "A"], "A C", ["B not seen"], True),
        (["K", "G"], "G K", ["H to J not seen", "I not expected"], True),
        (["P01", "C01", "P02.01", "P01.02", "P01.01"], "P01.01 P01.02 P01 P02.01 C01", [], True),
        (["C3", "P1", "P4", "C1"], "P1 P4 C1 C3", ["P2 to P3 not seen", "C2 not seen"], True),
        (["P01", "P04"], "P01 P04", ["P02 to P03 not seen"], True),
        (["01", "1", "2"], "01 2", ["01 and 1 taken as one"], True),
        (["A2", "A10", "A1"], "A1 A2 A10", ["A3 to A9 not seen"], True),
        (["T1", "C1"], "T1 C1", ["two schemes, order unsure: ask"], False),
        (["As built", "B"], "AS BUILT|B", ["two schemes, order unsure: ask"], False),
        (["1st", "2nd"], "1ST 2ND", ["marks of no known scheme, order unsure: ask"], False),
        (["0", "A", "P1"], "0 A P1", ["three schemes, order unsure: ask"], False),
        ([], "", [], False),
        (["II", "I", "IV"], "II I IV", ["roman figures or letters, order unsure: ask"], False),
        (["X", "IX"], "X IX", ["roman figures or letters, order unsure: ask"], False),
        (["I", "II", "III"], "I II III", ["roman figures or letters, order unsure: ask"], False),
        (["X", "V"], "V X", ["W not seen"], True),
        (["IV"], "IV", [], True),
        (["P", "C"], "P C", ["P and C are letters, or preliminary and for construction, order unsure: ask"], False),
        (["N/A"], "", ["N/A: no revision known"], False),
        (["?", "A"], "A", ["?: no revision known"], True),
        (["", "TBA"], "", ["TBA: no revision known", "no revision known"], False),
        (["--", "A"], "- A", [], True),
        (["Rev A1", "A2", "RevA3"], "A1 A2 A3", [], True),
        (["Issue No. 3", "iss. 2"], "2 3", [], True),
        (["00", "01"], "00 01", [], True),
        (["0A", "A"], "0A A", ["two schemes, order unsure: ask"], False),
        (["A-", "A"], "A- A", ["two schemes, order unsure: ask"], False),
        (["12.01.26", "09.02.26"], "12.01.26 09.02.26", ["marks of no known scheme, order unsure: ask"], False),
        (["P02.03", "P1", "P02"], "P1 P02.03 P02", [], True),
        (["X1", "X3"], "X1 X3", ["X2 not seen"], True),
    ],
)
def test_marks_without_dates(met: list[str], ordered: str, flags: list[str], sure: bool) -> None:
    found = order_marks(met)
    assert list(found.ordered) == (ordered.split("|") if "|" in ordered else ordered.split())
    assert list(found.flags) == flags
    assert found.sure is sure
    assert found.current == (found.ordered[-1] if sure else "")


def test_blank_and_dash_are_two_things() -> None:
    assert order_marks([""]) != order_marks(["-"])
    assert order_marks(["-"]).current == "-"
    assert order_marks([""]).current == ""


def test_long_lists_of_strange_letters_are_cut_short() -> None:
    assert order_marks(["A", "BB"]).flags == ("B to BA not seen", "I, O, Q, S, X, Z and 6 more not expected")


def test_a_house_that_keeps_i_misses_it() -> None:
    assert order_marks(["H", "J"], omitted="OQ").flags == ("I not seen",)


@pytest.mark.parametrize(
    ("marks", "dates", "ordered", "flags"),
    [
        (["P1", "P2", "C1"], [JANUARY, FEBRUARY, MARCH], "P1 P2 C1", []),
        (["C1", "P2", "P1"], [MARCH, FEBRUARY, JANUARY], "P1 P2 C1", []),
        (["A", "C"], [JANUARY, MARCH], "A C", ["B not seen"]),
        # one revision, issued again unchanged
        (["A", "A"], [FEBRUARY, MARCH], "A", []),
        (["B", "A", "A"], [FEBRUARY, MARCH, JANUARY], "A B", []),
        # two schemes are no question when the dates are known
        (["A", "0"], [MARCH, JANUARY], "0 A", []),
        (["T1", "C1"], [JANUARY, FEBRUARY], "T1 C1", []),
        (["A", "B"], [MARCH, JANUARY], "B A", ["by date B, A, against the marks"]),
        (["B", "A"], [JANUARY, JANUARY], "A B", []),
        (["B", "A"], [JANUARY, None], "A B", ["dates known for 1 of 2 marks only, not used"]),
    ],
)
def test_where_dates_are_known_they_decide(
    marks: list[str], dates: list[date | None], ordered: str, flags: list[str]
) -> None:
    found = order_marks(marks, dates)
    assert list(found.ordered) == ordered.split()
    assert list(found.flags) == flags
    assert found.sure


def test_two_schemes_of_one_date_are_asked_about() -> None:
    found = order_marks(["0", "A"], [JANUARY, JANUARY])
    assert found.flags == ("0 and A bear the same date", "two schemes, order unsure: ask")
    assert not found.sure
    assert found.ordered == ("0", "A")


def test_dates_must_be_as_many_as_marks() -> None:
    with pytest.raises(ValueError, match="one date"):
        order_marks(["A", "B"], [JANUARY])


@given(st.lists(st.integers(1, 420), unique=True, min_size=1, max_size=12), st.randoms(use_true_random=False))
def test_letters_come_out_in_order_however_met(places: list[int], chance: random.Random) -> None:
    marks = [letter(place) for place in sorted(places)]
    met = [*marks, *marks]
    chance.shuffle(met)
    found = order_marks(met)
    assert list(found.ordered) == marks
    assert found.sure


@given(st.lists(st.text(alphabet="ABPC-012. ", max_size=4), max_size=6))
def test_no_mark_is_lost(met: list[str]) -> None:
    found = order_marks(met)
    plain = {plain_mark(mark) for mark in met} - {""}
    assert {*found.ordered} <= plain
    joined = sum(flag.endswith("taken as one") for flag in found.flags)
    assert len(found.ordered) + joined == len(plain)
