"""Texts broken into lines: never wider than the room, nothing lost, measures held together."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.output.founts import MILLIMETRES_A_POINT, Cut, founts, measured
from specreg.output.line_breaking import Said, broken, paragraphs, printable, size_that_fits

HELD = "\N{NO-BREAK SPACE}"
SIGNS = st.text(
    st.one_of(st.sampled_from(" \n-/½'\"§"), st.characters(min_codepoint=0x20, max_codepoint=0x7E)), max_size=80
)


def lines(text: str, millimetres: float, points: float = 9.0) -> list[str]:
    return ["".join(run.text for run in line) for line in broken((Said(text),), millimetres, points, founts())]


@pytest.mark.parametrize(
    ("text", "held"),
    [
        ('1 1/4" x 4 ½"', f'1{HELD}1/4" x 4{HELD}½"'),
        ("5' 0\"", f"5'{HELD}0\""),
        ("SL-1003 rev -", f"SL-1003 rev{HELD}-"),
    ],
)
def test_measures_and_revisions_are_held_together(text: str, held: str) -> None:
    assert paragraphs(text) == [held]
    parts = {part for width in range(4, 40) for part in lines(text, width)}
    assert not any(part in ("1", "4", "5'") or part.endswith("rev") for part in parts)


def test_lines_of_the_text_are_kept_and_blanks_joined() -> None:
    assert lines("one\r\ntwo  \t three\n\nfour", 100) == ["one", "two three", "four"]


def test_a_wide_word_is_broken_at_its_joints_first() -> None:
    assert lines("abc/defghijk", founts().millimetres("defghijk", 9.0)) == ["abc/", "defghijk"]
    narrow = lines("abc/defghijk", founts().millimetres("defg", 9.0))
    assert len(narrow) > 2
    assert "".join(narrow) == "abc/defghijk"


def test_a_sign_written_on_another_is_not_parted_from_it() -> None:
    assert lines("ee\u0301e", 0.1) == ["e", "e\u0301", "e"]


def test_signs_that_print_nothing_are_replaced() -> None:
    assert printable("a\x07\u202eb") == "a\N{REPLACEMENT CHARACTER}\N{REPLACEMENT CHARACTER}b"


def test_texts_follow_each_other_with_a_blank_between_in_their_own_cuts() -> None:
    (line,) = broken((Said("Safety:", Cut.BOLD), Said("lifting"), Said("")), 100, 9.0, founts())
    assert [(run.text, run.cut) for run in line] == [("Safety:", Cut.BOLD), ("lifting", Cut.PLAIN)]
    assert line[1].x == pytest.approx(founts().millimetres("Safety:", 9.0, Cut.BOLD) + founts().millimetres(" ", 9.0))
    assert broken((Said(""),), 100, 9.0, founts()) == ()


@given(SIGNS, SIGNS, st.floats(3, 80), st.sampled_from(Cut))
def test_no_line_is_wider_than_its_room_and_nothing_is_lost(first: str, second: str, room: float, cut: Cut) -> None:
    found = broken((Said(first, cut), Said(second)), room, 9.0, founts())
    for line in filter(None, found):
        last = line[-1]
        # A single sign may be wider than the room; it is then alone.
        assert last.x + founts().millimetres(last.text, 9.0, last.cut) <= room + 1e-6 or len(last.text) == 1
    said = "".join(run.text for line in found for run in line)
    assert re.sub(r"\s", "", said) == re.sub(r"\s", "", first + second)


def test_the_largest_size_that_takes_the_text_on_one_line() -> None:
    sizes = (13.0, 10.5, 9.0)
    width = founts().ems("4.1.12", Cut.BOLD) * MILLIMETRES_A_POINT
    assert size_that_fits("4.1.12", width * 13.1, sizes, Cut.BOLD, founts()) == 13.0
    assert size_that_fits("4.1.12", width * 12.9, sizes, Cut.BOLD, founts()) == 10.5
    assert size_that_fits("4.1.12", width * 2, sizes, Cut.BOLD, founts()) == 9.0
    assert size_that_fits("4.1\n12", 100, sizes, Cut.BOLD, founts()) == 9.0


def test_the_typesetter_sets_a_text_as_wide_as_its_signs_together() -> None:
    # With kerning or ligatures on, these would come closer.
    texts = ["AV", "To", "fi", "ffl", '1 1/4" x 19\'-6½"', "Ø λ § »"]
    for cut, whole in zip(Cut, measured(texts), strict=True):
        assert [founts().ems(text, cut) for text in texts] == pytest.approx(whole)
