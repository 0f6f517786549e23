"""Changes of wording against difflib of the standard library, an independent judge of what two texts share."""

from __future__ import annotations

import difflib

from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.core.word_changes import Run, RunKind, tokens, word_changes

WORDS = ("wheel", "tyre", "shall", "be", "75 mm", '1 1/4"', "cast", "steel", "SL-1002/1", "the", "of")
clauses = st.lists(st.sampled_from(WORDS), max_size=24).map(" ".join)


def kept_words(runs: tuple[Run, ...]) -> list[str]:
    return [
        token
        for run in runs
        if run.kind in (RunKind.SAME, RunKind.SPACING)
        for token in tokens(run.old)
        if not token.isspace()
    ]


def words_of(text: str) -> list[str]:
    return [token for token in tokens(text) if not token.isspace()]


@given(clauses, clauses)
@settings(max_examples=300)
def test_no_fewer_words_are_kept_than_difflib_keeps(old: str, new: str) -> None:
    before, after = words_of(old), words_of(new)
    blocks = difflib.SequenceMatcher(None, before, after, autojunk=False).get_matching_blocks()
    assert len(kept_words(word_changes(old, new))) >= sum(block.size for block in blocks)


@given(clauses, clauses)
def test_what_is_kept_stands_in_both_in_this_order(old: str, new: str) -> None:
    kept = kept_words(word_changes(old, new))
    for text in (old, new):
        remaining = iter(words_of(text))
        assert all(word in remaining for word in kept)


@given(st.lists(st.sampled_from(WORDS), min_size=1, unique=True), st.data())
def test_one_word_replaced_is_one_change_as_difflib_sees_it(words: list[str], data: st.DataObject) -> None:
    place = data.draw(st.integers(0, len(words) - 1))
    old, new = " ".join(words), " ".join([*words[:place], "forged", *words[place + 1 :]])
    matcher = difflib.SequenceMatcher(None, words_of(old), words_of(new), autojunk=False)
    theirs = [code for code in matcher.get_opcodes() if code[0] != "equal"]
    ours = [run for run in word_changes(old, new) if run.kind is not RunKind.SAME]
    assert len(theirs) == len(ours) == 1
    assert (ours[0].old, ours[0].new) == (words[place], "forged")
