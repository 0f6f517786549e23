"""Text in cells of a fixed pitch: nothing lost, nothing too wide."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from specreg.output.fixed_pitch import cell_length, shortened, strung, wrapped
from tests.output.cells import SIGNS, cells_across


def test_cells_are_measured_by_the_room_they_take() -> None:
    # Unicode Standard Annex 11: East Asian wide and full-width signs take two cells.
    assert [cell_length(text) for text in ("ab", "鋼", "ｱ", "Ａ", "e\u0301", "½Ø", "")] == [2, 2, 1, 2, 1, 2, 0]


@given(st.text(SIGNS), st.integers(2, 40))
def test_wrapping_loses_nothing_and_is_never_too_wide(text: str, width: int) -> None:
    lines = wrapped(text, width)
    assert all(line and cells_across(line) <= width for line in lines)
    kept = re.sub(r"[\x00-\x08\x0e-\x1f\x7f-\x9f]", "\ufffd", "".join(text.splitlines()))
    assert re.sub(r"[ \t]", "", "".join(lines)) == re.sub(r"[ \t]", "", kept)


def test_a_whole_number_and_its_fraction_are_not_parted() -> None:
    assert wrapped("bar 1 1/4 dia", 8) == ["bar", "1 1/4", "dia"]
    assert wrapped("1/2 1/4 1/8", 4) == ["1/2", "1/4", "1/8"]
    assert wrapped("1234567 1/4", 7) == ["1234567", "1/4"]


def test_a_revision_and_its_mark_are_not_parted() -> None:
    assert wrapped("was EL-1105 rev -, now EL-1105 rev A", 16) == ["was EL-1105", "rev -, now", "EL-1105 rev A"]
    assert wrapped("the previous one", 12) == ["the previous", "one"]
    assert wrapped("see (rev A)", 7) == ["see", "(rev A)"]
    assert wrapped("rev 1234", 4) == ["rev", "1234"]


def test_a_text_is_shortened_between_words_and_says_so() -> None:
    assert shortened("Size was 3, now 4", 17) == "Size was 3, now 4"
    assert shortened("Size was 3, now 4", 16) == "Size was 3 ..."
    assert shortened("SL-1 rev -, now SL-1", 14) == "SL-1 ..."
    assert shortened("one\ntwo", 10) == "one two"


@given(st.text(SIGNS), st.integers(6, 40))
def test_a_shortened_text_fits_in_one_line(text: str, width: int) -> None:
    short = shortened(text, width)
    assert cells_across(short) <= width
    assert len(short.splitlines()) <= 1


def test_texts_are_strung_without_parting_one_that_fits() -> None:
    parts = ["Weight: 1 qr 22 lb", "", "Hand: left", "Supply: make"]
    assert strung(parts, 31) == ["Weight: 1 qr 22 lb; Hand: left;", "Supply: make"]
    assert strung(parts, 30) == ["Weight: 1 qr 22 lb;", "Hand: left; Supply: make"]
    assert strung(["a long one", "b"], 6) == ["a long", "one; b"]
    assert strung([], 6) == []
