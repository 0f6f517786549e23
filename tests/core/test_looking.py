"""What a clerk may have meant, and how well a row answers: readings, tiers, labels left out, the field shown."""

from __future__ import annotations

import pytest

from specreg.core.looking import Tier, holding_field, singulars, sought, tier_of, without_labels

GROUPS = (("jib", "boom"), ("gudgeon pin", "wrist pin"))


def tier(
    typed: str, number: str = "4.1.2", title: str = "Rack bolt, turned", said: str = "", **more: bool
) -> Tier | None:
    return tier_of(sought(typed, GROUPS), number, title, lambda: said, **more)


@pytest.mark.parametrize(
    ("typed", "number", "expected"),
    [
        ("4.1.2", "4.1.2", Tier.NUMBER_AS_TYPED),
        ("sl402", "SL-402", Tier.NUMBER),
        ("SL 40", "SL-402", Tier.NUMBER_BEGINS),
        ("05127", "QD-05127-S/2", Tier.NUMBER_HOLDS),
        ("S/2", "QD-05127-S/2", Tier.NUMBER_HOLDS),
        ("S/2", "QD-05177-S/1", None),
    ],
)
def test_numbers_rank_by_how_much_of_them_was_typed(typed: str, number: str, expected: Tier | None) -> None:
    assert tier(typed, number, "Bogie frame") is expected


def test_a_size_is_never_taken_for_a_number() -> None:
    assert tier('1-1/8"', "1.1.8", "Rating") is None
    assert tier("3/4", "3.4", "Gear", "bar 3/4 in") is Tier.TEXT


@pytest.mark.parametrize(
    ("typed", "title", "expected"),
    [
        ("rack", "Rack bolt", Tier.TITLE_WORDS),
        ("rack", "Bracket", Tier.TITLE),
        ("bolt rack", "Rack bolt", Tier.TITLE_WORDS),
        ("bolts", "Rack bolt", Tier.TITLE_WORDS),
        ("boom foot", "Jib foot bracket", Tier.TITLE_WORDS),
        ("wrist pin", "Gudgeon pin", Tier.TITLE_WORDS),
        ("wrist pin", "Gudgeon block", None),
        ("rack nut", "Rack bolt", None),
    ],
)
def test_titles_answer_in_any_order_in_the_singular_and_by_the_works_words(
    typed: str, title: str, expected: Tier | None
) -> None:
    assert tier(typed, title=title) is expected


def test_an_abbreviation_is_found_without_its_stops() -> None:
    assert tier("bsw", said='1 1/8" B.S.W.') is Tier.TEXT


def test_plain_words_that_an_index_offered_are_taken_at_its_word_and_punctuation_is_not() -> None:
    assert tier("phosphor", said="", offered=True) is Tier.TEXT
    assert tier("phosphor", said="") is None
    assert tier("402/2", said="SL-402/1", offered=True) is None


@pytest.mark.parametrize(
    ("plural", "singular"),
    [
        ("bolts", ("bolt",)),
        ("bushes", ("bush",)),
        ("keys", ("key",)),
        ("assemblies", ("assembly",)),
        ("brass", ()),
        ("gas", ()),
    ],
)
def test_plurals(plural: str, singular: tuple[str, ...]) -> None:
    assert singulars(plural) == singular


@pytest.mark.parametrize(
    ("typed", "left"), [("SL-411 rev A", "sl411"), ("item 4.1.2", "412"), ("drg No. SL-411 sheet 2", "sl4112")]
)
def test_words_that_only_name_what_follows_are_left_out(typed: str, left: str) -> None:
    plainer = without_labels(sought(typed))
    assert plainer is not None
    assert plainer.bare == left


@pytest.mark.parametrize("typed", ["rack bolt", "item", "rev A"])
def test_nothing_is_left_out_where_there_is_no_label_or_nothing_else(typed: str) -> None:
    assert without_labels(sought(typed)) is None


def test_the_field_shown_is_the_one_that_holds_it_from_shortly_before_the_place() -> None:
    long = "Bottom block brought up without load till the limit gear trips, then the magnet brake is tried by hand."
    fields = [("Material", "cast steel"), ("Text", long), ("Remarks", "magnet by others")]
    shown = holding_field(sought("magnet"), fields)
    assert shown.startswith("Text … ") and shown.endswith("the magnet brake is tried by hand.")
    assert len(shown) < len(long)
    assert holding_field(sought("steel"), fields) == "Material cast steel"
    assert holding_field(sought("bottom"), fields) == f"Text {long}"
    assert holding_field(sought("bronze"), fields) == ""
