"""Numbers of items and drawings: sorting, bare forms, forms of the house, insertions."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.numbering import (
    INSERTION_LETTERS,
    depth,
    folded,
    is_house_form,
    is_under,
    levels,
    next_insertion,
    number_key,
    squashed,
)

letters = st.sampled_from(["", "", "", *INSERTION_LETTERS, "AA", "AY"])
level = st.tuples(st.integers(0, 10**6), letters)
numbers = st.lists(level, min_size=1, max_size=4)


def written(number: list[tuple[int, str]]) -> str:
    return ".".join(f"{figures}{letter}" for figures, letter in number)


@pytest.mark.parametrize(
    "in_order",
    [
        # common practice, no source
        ("A2", "A10"),
        ("142", "142A", "143"),
        ("783/2", "783/11"),
        ("142", "142.1", "142.1.1", "142A", "142B", "142Y", "142AA", "142AB", "143"),
        ("2.1.2", "2.1.2.1", "2.1.2A", "2.1.3"),
        ("2", "2.1", "2.1.1", "2.1.1.1", "2.1.2", "2.1.2A", "2.1.3", "2.2", "3"),
        ("SR-01", "SR-09", "SR-010"),
        ("LC40-101", "LC40-104", "LC100-2"),
        ("4.9", "4.9A", "4.10"),
        ("1200340-1", "1200340-12"),
    ],
)
def test_numbers_sort_as_the_trade_sorts_them(in_order: tuple[str, ...]) -> None:
    mixed = list(in_order)
    random.Random(142).shuffle(mixed)
    assert tuple(sorted(mixed, key=number_key)) == in_order
    assert len({number_key(number) for number in in_order}) == len(in_order)


@given(numbers, numbers)
def test_house_numbers_sort_level_by_level(one: list[tuple[int, str]], other: list[tuple[int, str]]) -> None:
    """The key against a comparison of whole numbers and letters: sub-levels stand before insertions."""

    def by_level(number: list[tuple[int, str]]) -> list[tuple[int, int, str]]:
        parts: list[tuple[int, int, str]] = []
        for figures, letter in number:
            parts.append((1, figures, ""))
            if letter:
                parts.append((2, len(letter), letter))
        return parts

    keys = number_key(written(one)), number_key(written(other))
    assert (keys[0] < keys[1]) == (by_level(one) < by_level(other))
    assert (keys[0] == keys[1]) == (one == other)


@given(numbers)
def test_case_and_leading_zeros_make_no_other_number(number: list[tuple[int, str]]) -> None:
    plain = written(number)
    padded = ".".join(f"00{figures}{letter.lower()}" for figures, letter in number)
    assert number_key(padded) == number_key(plain)
    assert number_key(f"  {plain} ") == number_key(plain)


def test_a_trailing_letter_is_part_of_the_number() -> None:
    assert number_key("783A") != number_key("783")
    assert squashed("E 4013/2A") == "e40132a"


@pytest.mark.parametrize(
    ("written", "bare"),
    [
        ("QD-05127-S/2", "qd05127s2"),
        ("KV 3307-110", "kv3307110"),
        ("ＬＣ４０", "lc40"),
        ("-", ""),
        ("0203010", "0203010"),
    ],
)
def test_squashed(written: str, bare: str) -> None:
    assert squashed(written) == bare


@given(st.text())
def test_squashed_holds_letters_and_figures_only_and_once_is_enough(text: str) -> None:
    bare = squashed(text)
    assert bare == "" or bare.isalnum()
    assert squashed(folded(text)) == bare


@pytest.mark.parametrize("number", ["4", "4.1", "4.1.3A", "142AA", "0.1"])
def test_house_form(number: str) -> None:
    assert is_house_form(number)


@pytest.mark.parametrize("number", ["", "A4", "4.", "4..1", "4.1a", "4.1-2", "4.A", "4 .1"])
def test_not_house_form(number: str) -> None:
    assert not is_house_form(number)


def test_levels_depth_and_what_stands_under_what() -> None:
    assert levels("4.1.2a") == ("4", "1", "2A")
    assert depth("4") == 1
    assert depth("4.1.2A") == 3
    assert is_under("2.1.1.1", "2.1")
    assert is_under("4.1.2A", "4.1")
    assert not is_under("2.1", "2.1")
    assert not is_under("2.11", "2.1")
    assert not is_under("142A", "142")
    assert not is_under("2", "2.1")


def test_an_insertion_takes_the_next_free_letter() -> None:
    assert next_insertion("142", set()) == "142A"
    assert next_insertion("142", {number_key("142A"), number_key("142b")}) == "142C"
    assert next_insertion("4.1.3a", set()) == "4.1.3B"
    assert next_insertion("4.1.3A", {number_key("4.1.3B")}) == "4.1.3C"
    assert next_insertion("142H", set()) == "142J"
    assert next_insertion("142Y", set()) == "142AA"
    assert next_insertion("142AA", set()) == "142AB"


def test_letters_for_insertions_come_to_an_end() -> None:
    taken: set[str] = set()
    for _ in range(20 + 400):
        taken.add(number_key(next_insertion("7", taken)))
    with pytest.raises(ValueError, match="after 7"):
        next_insertion("7", taken)


@given(numbers, st.integers(1, 30))
def test_insertions_stand_after_their_number_and_before_the_next_whole_one(
    number: list[tuple[int, str]], how_many: int
) -> None:
    if number[-1][1] == "AY":
        number = [*number[:-1], (number[-1][0], "")]
    own = written(number)
    put_in: list[str] = []
    for _ in range(how_many):
        put_in.append(next_insertion(own, {number_key(one) for one in put_in}))
    following = written([*number[:-1], (number[-1][0] + 1, "")])
    keys = [number_key(one) for one in [own, *put_in, following]]
    assert all(one < other for one, other in pairwise(keys))
    assert all(is_house_form(one) for one in put_in)
