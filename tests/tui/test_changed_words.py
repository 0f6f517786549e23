"""The words of a change: changed ones in brackets, long texts shortened around them, no quantity torn."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.word_changes import one_spaced, word_changes
from specreg.tui.changed_words import GAP, flowed, new_side, old_side
from specreg.tui.pieces import Line, Piece, width_of
from specreg.tui.themes import LOOKS, Inks
from tests.tui.fake_drawings import LONG_TEXT


def text(line: Line) -> str:
    return "".join(piece.text for piece in line)


def sides(old: str, new: str) -> tuple[str, str]:
    runs = word_changes(old, new)
    return text(old_side(runs)), text(new_side(runs))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('1 1/4" dia × 4 1/2", turned', '1 1/4" dia × 5", turned',
         ('1 1/4" dia × [4 1/2"], turned', '1 1/4" dia × {5"}, turned')),
        ("3 cwt 1 qr 17 lb", "3 cwt 2 qr 4 lb", ("[3 cwt 1 qr 17 lb]", "{3 cwt 2 qr 4 lb}")),
        ("", "steel, forged", ("", "{steel, forged}")),
        ("to be bored and reamed", "to be reamed", ("to be [bored and] reamed", "to be reamed")),
        ("to be  reamed", "to be reamed twice", ("to be  reamed", "to be reamed {twice}")),
    ],
)  # fmt: skip
def test_changed_words_stand_in_brackets_and_quantities_stay_whole(old: str, new: str, said: tuple[str, str]) -> None:
    assert sides(old, new) == said


def test_changed_words_are_bold_or_underlined_in_every_look() -> None:
    for look in LOOKS.values():
        for role in ("taken", "put"):
            assert Inks(look)(role).underline, (look, role)
    assert {piece.role for piece in new_side(word_changes("a b", "a c")) if piece.text == "{c}"} == {"put"}


def test_a_long_text_is_shortened_to_the_words_around_its_changes() -> None:
    old = LONG_TEXT.format(length="4 1/2 in", load="5 tons")
    new = LONG_TEXT.format(length="5 in", load="5 tons")
    was, now = sides(old, new)
    assert was == "… box. The length under the head shall be [4 1/2 in] and the thread shall take a nut by …"
    assert now == was.replace("[4 1/2 in]", "{5 in}")
    inserted, _ = sides(old, old.replace("Heads shall", "Heads of all shall"))
    assert not inserted.startswith("The bolts shall be turned from bar")
    assert "not rolled. Heads shall be faced" in inserted and inserted.count(GAP) == 2


WORDS = st.lists(
    st.sampled_from(["the", "bolt", "3 cwt 1 qr", '1 1/4"', "dia,", "(steel)", "head", "5 tons"]), max_size=120
)


@given(WORDS, WORDS)
def test_what_is_shown_of_a_text_stands_in_it_and_what_changed_is_never_left_out(
    before: list[str], after: list[str]
) -> None:
    old, new = " ".join(before), " ".join(after)
    runs = word_changes(old, new)
    for side, whole, opens, closes in ((old_side(runs), old, "[", "]"), (new_side(runs), new, "{", "}")):
        plain = "".join(
            p.text[1:-1] if p.role and p.text[0] == opens and p.text[-1] == closes else p.text for p in side
        )
        for stretch in plain.split(GAP):
            assert stretch.strip() in whole
    for run in runs:
        if run.old != run.new and one_spaced(run.old) != one_spaced(run.new):
            assert run.old.strip() in text(old_side(runs)) and run.new.strip() in text(new_side(runs))


PIECES = st.lists(
    st.builds(
        Piece, st.text(st.sampled_from('ab [{]},"1/4½漢 \n'), max_size=30), st.sampled_from(["", "put", "taken"])
    ),
    max_size=5,
)


@given(PIECES, st.integers(2, 40))
def test_flowed_pieces_lose_no_character_but_spaces_and_keep_their_roles(pieces: list[Piece], width: int) -> None:
    lines = flowed(pieces, width)
    assert lines and all(width_of(line) <= width for line in lines)

    def inked(some: object) -> list[tuple[str, str]]:
        return [(sign, piece.role) for piece in some for sign in piece.text if not sign.isspace()]  # type: ignore[attr-defined]

    assert inked(piece for line in lines for piece in line) == inked(pieces)


def test_a_quantity_is_not_torn_between_two_lines_and_a_bracket_stays_with_its_word() -> None:
    for width in range(12, 40):
        rows = [text(row) for row in flowed((Piece("lengths of "), Piece('[4 1/2"]', "taken"), Piece(", cut")), width)]
        assert any('[4 1/2"],' in row for row in rows), (width, rows)
