"""Changes word by word, field by field, item by item."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.core.comparing import Comparison, Counts, compare_items, field_changes
from specreg.core.model import FIELDS, Item, Kind, Layout, State
from specreg.core.word_changes import Run, RunKind, applied, spacing_only, tokens, word_changes

NBSP = "\u00a0"
trade_text = st.text(alphabet="ab 12/.,-'\"½\u00a0\nmkg°", max_size=30)
wordy_text = st.lists(st.sampled_from(["rack", "bolt", "75 mm", '1 1/4"', ",", " ", NBSP, "  ", "cast", "12"])).map(
    "".join
)


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ('bar 1 1/4" dia', '1 1/4"'),
        ('bar 1.1/4" dia', '1.1/4"'),
        ("bar 1¼″ dia", "1¼″"),
        ("beam 19'-6½\" long", "19'-6½\""),
        ("beam 2'-7 1/2\" long", "2'-7 1/2\""),
        ("beam 19'-6½ long", "19'-6½"),
        ("beam 2 ft 7 1/2 in long", "2 ft 7 1/2 in"),
        ("beam 3 ft. 4 ins. long", "3 ft. 4 ins"),
        ("plate 75 mm thick", "75 mm"),
        (f"plate 75{NBSP}mm thick", f"75{NBSP}mm"),
        ("plate 75mm thick", "75mm"),
        ("weight 3 cwt 1 qr 17 lb each", "3 cwt 1 qr 17 lb"),
        ("weight 3c 2q 4lb each", "3c 2q 4lb"),
        ("load 1.25 x load", "1.25"),
        ("weight 12,5 kg each", "12,5 kg"),
        ("at 250 psi.", "250 psi"),
        ("at 0.7 MPa.", "0.7 MPa"),
        ("bolts M12x1.75 long", "M12x1.75"),
        ("see SL-1002/1, sheet", "SL-1002/1"),
        ("see 4.1.3A.", "4.1.3A"),
        ("machines 1471-1473 only", "1471-1473"),
        ("at 45° bend", "45°"),
        ("about 10% over", "10%"),
        ("the foreman’s mark", "foreman’s"),
    ],
)
def test_a_quantity_or_a_number_is_one_token(text: str, whole: str) -> None:
    assert whole in tokens(text)
    assert "".join(tokens(text)) == text


def test_words_spaces_and_punctuation_are_tokens_of_their_own() -> None:
    assert tokens("Cast-iron,  black.") == ["Cast", "-", "iron", ",", "  ", "black", "."]
    assert tokens('12" x 6"') == ['12"', " ", "x", " ", '6"']
    assert tokens("5 mm, 3 kg") == ["5 mm", ",", " ", "3 kg"]
    assert tokens("75 mms") == ["75", " ", "mms"]
    assert tokens("") == []


@given(st.one_of(trade_text, st.text()))
def test_tokens_give_the_text_back(text: str) -> None:
    assert "".join(tokens(text)) == text
    assert all(tokens(text))


@pytest.mark.parametrize(
    ("old", "new", "only"),
    [
        ("75 mm thick", f"75{NBSP}mm  thick", True),
        ("a b", "a\nb", True),
        ("a b", " a b ", True),
        ("a b", "ab", False),
        ("a b", "a b", False),
        ("a b", "a c", False),
    ],
)
def test_spacing_only(old: str, new: str, only: bool) -> None:
    assert spacing_only(old, new) is only
    assert spacing_only(new, old) is only


def said(runs: tuple[Run, ...]) -> list[tuple[str, str, str]]:
    return [(run.kind.value, run.old, run.new) for run in runs]


def test_a_changed_quantity_is_shown_whole() -> None:
    assert said(word_changes("tested to 1.25 x load.", "tested to 1.5 x load.")) == [
        ("same", "tested to ", "tested to "),
        ("changed", "1.25", "1.5"),
        ("same", " x load.", " x load."),
    ]
    assert ("changed", '4 1/2"', '5"') in said(word_changes('dia x 4 1/2", see SL-1003', 'dia x 5", see SL-1003'))
    assert ("changed", "3 cwt 1 qr", "3 cwt 1 qr 4 lb") in said(word_changes("of 3 cwt 1 qr", "of 3 cwt 1 qr 4 lb"))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('4 1/2"', '5"'),
        ("19' 6\"", "19' 8\""),
        ("19' 6\"", "21'"),
        ("19'-6½\"", "20'-0\""),
        ("6' - 4\"", "6' - 5\""),
        ("6 ft. 4 in", "6 ft. 5 in"),
        ("3' 0 1/2\"", "3' 0 3/4\""),
        ("5 ton", "5 1/2 ton"),
        ("12,500 lb", "12,750 lb"),
        ("1 250 mm", "1 300 mm"),
        ("12 000 kg", "12 500 kg"),
        ("3 cwt 1 qr 17 lb", "3 cwt 1 qr 4 lb"),
    ],
)
def test_a_quantity_of_several_parts_is_one_word(old: str, new: str) -> None:
    for before, after in (("", ""), ("bar ", " long"), ("2 off, ", ", see SL-1003")):
        runs = word_changes(f"{before}{old}{after}", f"{before}{new}{after}")
        assert [(run.kind, run.old, run.new) for run in runs if run.kind is not RunKind.SAME] == [
            (RunKind.CHANGED, old, new)
        ]


def test_figures_beside_each_other_are_not_taken_for_one_number() -> None:
    assert said(word_changes("1.25 100 mm", "1.5 100 mm")) == [
        ("changed", "1.25", "1.5"),
        ("same", " 100 mm", " 100 mm"),
    ]
    assert said(word_changes("12 000 off", "13 000 off"))[0] == ("changed", "12", "13")


def test_words_put_in_and_taken_out() -> None:
    assert said(word_changes("Bolts shall be black.", "Bolts shall be bright and black.")) == [
        ("same", "Bolts shall be ", "Bolts shall be "),
        ("put in", "", "bright and "),
        ("same", "black.", "black."),
    ]
    assert said(word_changes("Rack bolt, long", "Rack bolt")) == [
        ("same", "Rack bolt", "Rack bolt"),
        ("taken out", ", long", ""),
    ]
    assert said(word_changes("", "New")) == [("put in", "", "New")]
    assert said(word_changes("Old", "")) == [("taken out", "Old", "")]
    assert word_changes("", "") == ()
    assert said(word_changes("As it was", "As it was")) == [("same", "As it was", "As it was")]


def test_spaces_are_told_apart_from_words() -> None:
    runs = word_changes("Tyres 75 mm thick when new.", f"Tyres 75{NBSP}mm  thick when new.")
    assert {run.kind for run in runs} == {RunKind.SAME, RunKind.SPACING}
    assert said(word_changes("a b", "ab"))[0][0] == "changed"


@given(st.one_of(wordy_text, trade_text), st.one_of(wordy_text, trade_text))
@settings(max_examples=300)
def test_changes_applied_to_the_old_text_give_the_new(old: str, new: str) -> None:
    runs = word_changes(old, new)
    assert applied(old, runs) == new
    for run in runs:
        assert (run.kind is RunKind.SAME) == (run.old == run.new)
        assert (run.kind is RunKind.TAKEN_OUT) == (run.new == "")
        assert (run.kind is RunKind.PUT_IN) == (run.old == "")
        assert run.kind is not RunKind.SPACING or run.old.split() == run.new.split()


@given(
    st.lists(st.sampled_from(["a", "b", "c", "d"]), max_size=9), st.lists(st.sampled_from(["a", "b", "c"]), max_size=9)
)
def test_as_many_words_are_kept_as_can_be(old: list[str], new: list[str]) -> None:
    """Against the longest common subsequence by its textbook recurrence."""
    longest = [[0] * (len(new) + 1) for _ in range(len(old) + 1)]
    for i, one in enumerate(old, 1):
        for j, other in enumerate(new, 1):
            longest[i][j] = longest[i - 1][j - 1] + 1 if one == other else max(longest[i - 1][j], longest[i][j - 1])
    runs = word_changes(" ".join(old), " ".join(new))
    kept = sum(len(run.old.split()) for run in runs if run.kind in (RunKind.SAME, RunKind.SPACING))
    assert kept == longest[-1][-1]


def test_changes_of_another_text_are_refused() -> None:
    with pytest.raises(ValueError, match="another text"):
        applied("Bolt", word_changes("Nut", "Nut, bright"))


def test_two_texts_with_nothing_in_common_beyond_the_limit_still_come_out() -> None:
    old = " ".join(f"old{place}" for place in range(600))
    new = " ".join(f"new{place}" for place in range(600)) + " end"
    assert applied(old, word_changes(old, new)) == new
    mixed = " ".join(f"{'old' if place % 3 else 'new'}{place}" for place in range(600))
    runs = word_changes(old, mixed)
    assert applied(old, runs) == mixed
    assert sum(run.kind is RunKind.CHANGED for run in runs) == 200


def test_a_long_clause_is_compared_at_once() -> None:
    words = [f"word{place * 7 % 90}" for place in range(400)]
    old = " ".join(words)
    new = " ".join([*words[:50], "altered", *words[51:200], *words[203:390], "put", "in", *words[390:]])
    best = min(_seconds(old, new) for _ in range(5))
    assert best < 0.05  # about 2 ms on the machine it was written on


def _seconds(old: str, new: str) -> float:
    began = time.perf_counter()
    word_changes(old, new)
    return time.perf_counter() - began


def clause(number: str, text: str, section: str = "4", **fields: object) -> Item:
    return replace(Item(number, Kind.CLAUSE, Layout.HEADING, section, text=text), **fields)  # type: ignore[arg-type]


def numbers(comparison: Comparison) -> dict[str, list[object]]:
    return {
        "added": [one.item.number for one in comparison.added],
        "deleted": [one.item.number for one in comparison.deleted],
        "changed": [(one.old.number, one.new.number) for one in comparison.changed],
        "renumbered": [(one.old.number, one.new.number) for one in comparison.renumbered],
        "spacing": [(one.old.number, one.new.number) for one in comparison.spacing],
    }


def test_every_field_of_an_item_is_compared() -> None:
    bare = clause("4.1", "Text")
    for label in ("Description", "Text", *(field.label for field in FIELDS), "Colour"):
        changed = bare.with_field(label, "said otherwise")
        (change,) = field_changes(bare, changed)
        assert (change.label, change.new, change.spacing_only) == (label, "said otherwise", False)
    assert field_changes(bare, bare) == ()
    assert field_changes(bare, replace(bare)) == ()


def test_field_changes_stand_in_the_order_of_the_paper() -> None:
    old = clause("4.1", "Bolts", off="12", other=(("Bin", "3"), ("Kind", "old column")), state=State.LIVE)
    new = clause(
        "4.1", "Bolts  bright", section="5", remarks="black", title="Bolt", other=(("Bin", "4"), ("Finish", "x")),
        kind=Kind.ITEM, state=State.DELETED, reason="not wanted",
    )  # fmt: skip
    assert [(one.label, one.old, one.new) for one in field_changes(old, new)] == [
        ("Description", "", "Bolt"),
        ("Text", "Bolts", "Bolts  bright"),
        ("Off", "12", ""),
        ("Remarks", "", "black"),
        ("Bin", "3", "4"),
        ("Finish", "", "x"),
        ("Kind", "old column", ""),
        ("State", "live", "deleted"),
        ("Reason", "", "not wanted"),
        ("Kind", "clause", "item"),
        ("Section", "4", "5"),
    ]


def test_spacing_of_a_field_is_told_apart() -> None:
    old = clause("4.1", "75 mm", size="1 in", remarks="a")
    changes = field_changes(old, replace(old, text=f"75{NBSP}mm", remarks="b"))
    assert [(one.label, one.spacing_only) for one in changes] == [("Text", True), ("Remarks", False)]


# Two issues of an outsider's specification, invented.
ISSUE_A = [
    clause("4.1", "Wheels shall be forged."),
    clause("4.2", "Tyres shall be 75 mm thick when new."),
    clause("4.3", "Axles shall be tested to 1.25 x load."),
]
ISSUE_B = [
    clause("4.1", "Wheels shall be forged."),
    clause("4.2", "Wheel centres shall be cast steel."),
    clause("4.3", f"Tyres shall be 75{NBSP}mm  thick when new."),
    clause("4.4", "Axles shall be tested to 1.5 x load."),
]


def test_two_issues_of_an_outsiders_specification() -> None:
    comparison = compare_items(ISSUE_A, ISSUE_B, "theirs")
    assert numbers(comparison) == {
        "added": ["4.2"],
        "deleted": [],
        "changed": [("4.3", "4.4")],
        "renumbered": [("4.2", "4.3"), ("4.3", "4.4")],
        "spacing": [("4.2", "4.3")],
    }
    assert comparison.counts == Counts(
        added=1, deleted=0, changed=1, renumbered=2, renumbered_only=1, spacing_only=1, unchanged=1
    )
    changed = comparison.changed[0]
    assert changed.renumbered
    assert [
        (run.old, run.new) for run in word_changes(changed.old.text, changed.new.text) if run.kind == "changed"
    ] == [("1.25", "1.5")]
    assert comparison.applied(ISSUE_A) == ISSUE_B


def test_the_same_issues_by_number_are_other_changes() -> None:
    comparison = compare_items({item.number: item for item in ISSUE_A}, ISSUE_B)
    assert numbers(comparison) == {
        "added": ["4.4"],
        "deleted": [],
        "changed": [("4.2", "4.2"), ("4.3", "4.3")],
        "renumbered": [],
        "spacing": [],
    }


def theirs(old: dict[str, str], new: dict[str, str]) -> dict[str, list[object]]:
    return numbers(
        compare_items([clause(n, t) for n, t in old.items()], [clause(n, t) for n, t in new.items()], "theirs")
    )


def test_neighbours_that_say_nearly_the_same_are_not_mixed_up() -> None:
    old = {"4.3": "Axles shall be tested to 1.25 x load.", "4.4": "Wheels shall be tested to 1.25 x load."}
    new = {
        "4.3": "All castings shall be sound.",
        "4.4": "Axles shall be tested to 1.5 x load.",
        "4.5": "Wheels shall be tested to 1.5 x load.",
    }
    found = theirs(old, new)
    assert found["added"] == ["4.3"]
    assert found["changed"] == [("4.3", "4.4"), ("4.4", "4.5")]


def test_where_likeness_leaves_doubt_the_number_decides() -> None:
    old = {"4.1": "Bolts of grade A black.", "4.2": "Bolts of grade B black."}
    new = {"4.1": "Bolts of grade C black.", "4.2": "Bolts of grade D black."}
    assert theirs(old, new)["changed"] == [("4.1", "4.1"), ("4.2", "4.2")]


def test_where_neither_text_nor_number_tells_nothing_is_guessed() -> None:
    old = {"4.1": "Bolts of grade A black.", "4.2": "Bolts of grade B black."}
    new = {"5.1": "Bolts of grade C black.", "5.2": "Bolts of grade D black."}
    assert theirs(old, new) == {
        "added": ["5.1", "5.2"], "deleted": ["4.1", "4.2"], "changed": [], "renumbered": [], "spacing": [],
    }  # fmt: skip


def test_texts_that_stand_twice_keep_their_numbers_where_they_can() -> None:
    old = {"4.1": "Not used.", "4.2": "Paint grey.", "4.3": "Not used."}
    new = {"4.1": "Not used.", "4.2": "Not used.", "4.3": "Paint grey."}
    found = theirs(old, new)
    assert found["renumbered"] == [("4.3", "4.2"), ("4.2", "4.3")]
    assert found["deleted"] == found["added"] == found["changed"] == []


def test_texts_that_stand_as_often_on_either_side_are_joined_in_turn() -> None:
    old = {"4.1": "Not used.", "4.2": "Paint grey.", "4.3": "Not used."}
    found = theirs(old, {number.replace("4.", "5."): text for number, text in old.items()})
    assert found["renumbered"] == [("4.1", "5.1"), ("4.2", "5.2"), ("4.3", "5.3")]
    one_more = theirs(old, {"5.1": "Not used.", "5.2": "Not used.", "5.3": "Not used."})
    assert one_more["renumbered"] == []


def test_a_clause_written_anew_under_its_number_is_changed() -> None:
    found = theirs({"4.1": "Paint grey."}, {"4.1": "Two coats of red lead are called for."})
    assert found["changed"] == [("4.1", "4.1")]


def test_capitals_alone_are_a_change_of_the_same_clause() -> None:
    found = theirs({"4.1": "Paint GREY all over."}, {"4.7": "Paint grey all over."})
    assert found["changed"] == found["renumbered"] == [("4.1", "4.7")]


def test_a_section_that_moves_takes_its_clauses_along() -> None:
    old = [Item("4", Kind.SECTION, Layout.HEADING, "4", title="Wheels"), *ISSUE_A]
    new = [Item("5", Kind.SECTION, Layout.HEADING, "5", title="Wheels")]
    new += [replace(item, number=item.number.replace("4.", "5.", 1), section="5") for item in ISSUE_A]
    comparison = compare_items(old, new, "theirs")
    assert comparison.counts.renumbered == comparison.counts.renumbered_only == 4
    assert comparison.counts.changed == comparison.counts.added == comparison.counts.deleted == 0


def test_what_is_deleted_stays_listed_and_what_comes_back_is_added() -> None:
    live, gone = clause("4.1", "Wheels."), clause("4.1", "Wheels.", state=State.DELETED, reason="note 7")
    comparison = compare_items([live], [gone])
    assert (comparison.deleted[0].item, comparison.deleted[0].listed) == (live, gone)
    assert comparison.counts == Counts(0, 1, 0, 0, 0, 0, 0)
    assert comparison.applied([live]) == [gone]
    back = compare_items([gone], [live])
    assert (back.added[0].item, back.added[0].listed) == (live, gone)
    assert back.counts == Counts(1, 0, 0, 0, 0, 0, 0)
    assert back.applied([gone]) == [live]


def test_a_deleted_item_whose_reason_changes_is_changed() -> None:
    old = clause("4.1", "Wheels.", state=State.DELETED, reason="note 7")
    assert compare_items([old], [replace(old, reason="note 8")]).counts.changed == 1


def test_what_is_only_written_otherwise_is_no_change() -> None:
    old, new = clause("4.1A", "Wheels."), clause("4.1a", "Wheels.", layout=Layout.ROW)
    for numbering in ("ours", "theirs"):
        comparison = compare_items([old], [new], numbering)  # type: ignore[arg-type]
        assert comparison.counts == Counts(0, 0, 0, 0, 0, 0, 1)
        assert [(one.old, one.new) for one in comparison.restated] == [(old, new)]
        assert comparison.applied([old]) == [new]


@st.composite
def specifications(draw: st.DrawFn) -> list[Item]:
    """A few clauses under different numbers, with few enough words that they meet again."""
    taken = draw(st.lists(st.sampled_from([f"4.{place}" for place in range(1, 9)]), unique=True, max_size=6))
    few = st.sampled_from(["wheels", "shall be", "75 mm", f"75{NBSP}mm", "forged", "cast", "tested", "grey"])
    texts = st.lists(few, max_size=5).map(" ".join)
    made = [
        clause(
            number,
            draw(texts),
            remarks=draw(st.sampled_from(["", "black", "BLACK"])),
            state=draw(st.sampled_from([State.LIVE, State.LIVE, State.DELETED])),
            layout=draw(st.sampled_from(Layout)),
        )
        for number in taken
    ]
    return sorted(made, key=lambda item: item.place_key)


numberings = st.sampled_from(["ours", "theirs"])


@given(specifications(), specifications(), numberings)
@settings(max_examples=200)
def test_a_comparison_applied_to_the_old_gives_the_new(old: list[Item], new: list[Item], numbering: str) -> None:
    comparison = compare_items(old, new, numbering)  # type: ignore[arg-type]
    assert comparison.applied(old) == new


@given(specifications(), specifications(), numberings)
@settings(max_examples=200)
def test_a_comparison_the_other_way_round_is_its_mirror(old: list[Item], new: list[Item], numbering: str) -> None:
    there = compare_items(old, new, numbering)  # type: ignore[arg-type]
    back = compare_items(new, old, numbering)  # type: ignore[arg-type]
    assert {*there.added} == {*back.deleted}
    assert {*there.deleted} == {*back.added}
    for mine, its in (
        (there.changed, back.changed),
        (there.renumbered, back.renumbered),
        (there.spacing, back.spacing),
    ):
        assert {(one.old, one.new) for one in mine} == {(one.new, one.old) for one in its}
    assert there.unchanged == back.unchanged


@given(specifications(), specifications(), numberings)
def test_every_item_of_the_new_is_counted_once(old: list[Item], new: list[Item], numbering: str) -> None:
    comparison = compare_items(old, new, numbering)  # type: ignore[arg-type]
    pairs = {id(one) for one in (*comparison.changed, *comparison.renumbered, *comparison.spacing)}
    listed = sum(one.listed is not None for one in comparison.deleted)
    assert len(pairs) + comparison.unchanged + len(comparison.added) + listed == len(new)


@given(specifications(), numberings)
def test_nothing_differs_from_itself(old: list[Item], numbering: str) -> None:
    comparison = compare_items(old, [replace(item) for item in old], numbering)  # type: ignore[arg-type]
    assert comparison.counts == Counts(0, 0, 0, 0, 0, 0, len(old))


def test_our_numbers_never_mean_another_item() -> None:
    moved = [replace(item, number=f"5.{place}", section="5") for place, item in enumerate(ISSUE_A)]
    found = numbers(compare_items(ISSUE_A, moved, "ours"))
    assert found["added"] == ["5.0", "5.1", "5.2"]
    assert found["deleted"] == ["4.1", "4.2", "4.3"]


def test_a_compound_unit_stays_with_its_figure() -> None:
    from specreg.core.word_changes import RunKind, word_changes

    for old, new in (("4.5 N/mm2", "4.5 N/mm²"), ("3 kg/m", "4 kg/m"), ("5 m/s", "6 m/s")):
        runs = word_changes(f"Load {old} at most", f"Load {new} at most")
        assert [(run.old, run.new) for run in runs if run.kind is RunKind.CHANGED] == [(old, new)]
