"""Folding, index words, typed parts, and finding by half a number as a whole."""

from __future__ import annotations

import sqlite3

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.numbering import squashed
from specreg.core.wording import (
    POINT,
    STROKE,
    Part,
    fold,
    index_words,
    look_alike,
    marks,
    number_words,
    stands_in,
    synonyms,
    typed_parts,
)

trade_text = st.text(alphabet="aBé Ø½¼1234567890²/.,-'′\"″’ß\u0301\u00a0\u200bxS–×Ж", max_size=24)


@pytest.mark.parametrize(
    ("written", "folded"),
    [
        ("1½", "1 1/2"),
        ("½", "1/2"),
        ("19'-6½″", "19'-6 1/2\""),
        ("1⁄2", "1/2"),
        ("1¹⁄₂", "1 1/2"),
        ("½3", "1/2 3"),
        ("1\u200b½", "1 1/2"),
        ("10²", "10 2"),
        ("m²", "m2"),
        ("12″ × 6”", '12" x 6"'),
        ("12'' x 6’’", '12" x 6"'),
        ("5′", "5'"),
        ("ＬＣ４０－１", "lc40-1"),
        ("café, Straße, Ø60, ⌀60, Łódź", "cafe, strasse, o60, o60, lodz"),
        ("cafe\u0301", "cafe"),
        ("QD–05127‑S", "qd-05127-s"),
        ("75\u00a0mm\tthick", "75 mm thick"),
        ("cast\u00adsteel", "caststeel"),
        ("45º", "45°"),
        ("№ 3", "no 3"),
        ("ВАЛ", "вал"),  # Cyrillic stays Cyrillic
    ],
)
def test_fold(written: str, folded: str) -> None:
    assert fold(written) == folded


@given(st.one_of(trade_text, st.text()))
def test_folding_once_is_enough(text: str) -> None:
    assert fold(fold(text)) == fold(text)


@given(st.one_of(trade_text, st.text()))
def test_a_fraction_beside_it_folds_a_text_no_differently(text: str) -> None:
    """A text with a built fraction goes another way through the folding; both ways must agree."""
    assert fold(f"{text} ½") == f"{fold(text)} 1/2"
    assert fold(f"½ {text}") == f"1/2 {fold(text)}"


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("LC40-1O1", "LC40-101"),
        ("M1l", "MI1"),
        ("5-8-2", "S-B-Z"),
        ("ВС-12", "BC-12"),  # Cyrillic capitals
        ("ΑΒΕ-7", "ABE-7"),  # Greek capitals
    ],
)
def test_look_alikes_coincide_for_near_misses_only(one: str, other: str) -> None:
    assert look_alike(one) == look_alike(other)
    assert fold(one) != fold(other)


def test_figures_that_look_different_stay_different() -> None:
    assert len({look_alike(figure) for figure in "0123456789"}) == 10


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("QD-05127-S/2", ["qd", "05127", "s", "2"]),
        ("bogie lamp 2K", ["bogie", "lamp", "2k"]),
        ("M12 LC40", ["m12", "lc40"]),
        ('3/4" PLATE', ["3ƒ4", "plate"]),
        ('1.1/4" x 1 1/4 x 1-1/4 x 1¼', ["1", "1ƒ4", "x", "1", "1ƒ4", "x", "1", "1ƒ4", "x", "1", "1ƒ4"]),
        ("15/16 63/64 31/32 7/8 1/2", ["15ƒ16", "63ƒ64", "31ƒ32", "7ƒ8", "1ƒ2"]),
        (
            "5/4 783/2 1/3 1/24 17/16 1002/1/2",
            ["5", "4", "783", "2", "1", "3", "1", "24", "17", "16", "1002", "1", "2"],
        ),
        ("1.25 12,5", ["1ƌ25", "12ƌ5"]),
        ("item 4.1.2A. Then", ["item", "4ƌ1ƌ2a", "then"]),
        ("M12x1.75", ["m12x1ƌ75"]),
        ("5/8in", ["5ƒ8", "in"]),
        ("a_b", ["a", "b"]),
        ('" - *', []),
    ],
)
def test_index_words(text: str, words: list[str]) -> None:
    assert index_words(text) == words


@given(st.one_of(trade_text, st.text()))
def test_index_words_are_letters_and_figures_and_hold_all_of_them(text: str) -> None:
    words = index_words(text)
    assert all(word.isalnum() for word in words)
    bare = "".join(words).replace(STROKE, "").replace(POINT, "")
    assert bare == "".join(sign for sign in fold(text) if sign.isalnum()).replace(STROKE, "").replace(POINT, "")


def test_number_words_end_with_the_number_without_punctuation() -> None:
    assert number_words("QD-05127-S/2") == ["qd", "05127", "s", "2", "qd05127s2"]
    assert number_words("0203010") == ["0203010"]
    assert number_words("É-1") == ["e", "1", "e1"]
    assert number_words("-") == []


def test_a_plain_full_text_tokenizer_keeps_every_word_whole() -> None:
    """SQLite's unicode61, as an index would be made: one term for each word, spelled the same."""
    texts = ["QD-05127-S/2 4K", '3/4" x 1.25 x 12,5', "4.1.2A M12x1.75 Ø60 Straße é ½", "ВАЛ Łódź"]
    words = [word for text in texts for word in [*index_words(text), *number_words(text)]]
    connection = sqlite3.connect(":memory:")
    connection.execute("CREATE VIRTUAL TABLE word_index USING fts5(words, tokenize='unicode61')")
    connection.execute("CREATE VIRTUAL TABLE word_list USING fts5vocab(word_index, 'row')")
    connection.execute("INSERT INTO word_index VALUES (?)", (" ".join(words),))
    kept = {term for (term,) in connection.execute("SELECT term FROM word_list")}
    connection.close()
    assert kept == {*words}


def test_typed_parts() -> None:
    assert typed_parts('KV 3307-110  1½" "') == (
        Part(("kv",), "kv", "kv"),
        Part(("3307", "110"), "3307110", "3307-110"),
        Part(("1",), "1", "1"),
        Part(("1ƒ2",), "12", '1/2"'),
        Part((), "", '"'),
    )
    kv, number, _, _, mark = typed_parts('KV 3307-110  1½" "')
    assert (kv.has_punctuation, number.has_punctuation, mark.has_punctuation) == (False, True, True)
    assert (kv.is_like_a_number, number.is_like_a_number, mark.is_like_a_number) == (False, True, False)
    assert typed_parts(" \u00a0 ") == ()


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        ("S/2", "QD-05127-S/2 bogie frame"),
        ("qd05127s2", "QD-05127-S/2"),
        ("05127-s2", "QD 05127 – S/2"),
        ("203010", "0203010"),
        ("1234567", "12-345-67"),
        ("3307-110", "KV3307 110"),
        ("ogie", "bogie"),
        ("cross-head", "crosshead"),
        ("cross-head", "cross head"),
        ("frame,", "bogie frame"),
        ("bog*", "bogie"),
        ('3/4"', "¾ in plate"),
        ('3/4"', '1.3/4" bar'),
        ("1.1/2", '1½" bar'),
        ('12"', "12 ins long"),
        ("5'", "5 ft over all"),
        ("19'-6", "19 ft. 6 in"),
        ("19'-6", "19' 6½\""),
        ("12.5", "12,5 kg"),
        ("4.1", "see 4.1.2"),
        ("-", "PL-9"),
        ('"', '3/4" plate'),
        ("é", "E"),
    ],
)
def test_stands_in(typed: str, text: str) -> None:
    (part,) = typed_parts(typed)
    assert stands_in(part, text)


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        ("S/2", "QD-05177-S/1"),
        ("S/2", "bolts 2 off"),
        ("5/16", "15/16 bolt"),
        ("1/2", "sheet 1/24"),
        ("3/4", "34 bolts"),
        ("12", '1/2" bolt'),
        ('12"', "12 mm"),
        ('12"', "12 inner rings"),
        ("5'", "5 ftx"),
        ("12.5", "125 mm"),
        ("4.1.2", "412"),
        ("frame", "fra me"),
        ("-", "0203010"),
        ("2K", "4K"),
    ],
)
def test_does_not_stand_in(typed: str, text: str) -> None:
    (part,) = typed_parts(typed)
    assert not stands_in(part, text)


@given(trade_text, st.text())
def test_anything_may_be_typed(text: str, query: str) -> None:
    for part in typed_parts(query):
        stands_in(part, text)
    assert all(0 <= begin < end <= len(text) for begin, end in marks(text, typed_parts(query)))


@given(st.text(alphabet="abcDEF-/ 0123456789", min_size=1).filter(str.strip))
def test_what_is_typed_as_it_stands_is_found_and_marked(text: str) -> None:
    parts = typed_parts(text)
    assert all(stands_in(part, text) for part in parts)
    marked = {place for begin, end in marks(text, parts) for place in range(begin, end)}
    assert marked >= {place for place, sign in enumerate(text) if sign.isalnum()}


@pytest.mark.parametrize(
    ("text", "typed", "marked"),
    [
        ('a 1½" bar', '1/2"', ['½"']),
        ('a 1½" bar', '1½"', ['1½"']),
        ("see QD–05127–S/2", "qd05127s2", ["QD–05127–S/2"]),
        ("Ø60 bush", "o60", ["Ø60"]),
        ("Straße", "strasse", ["Straße"]),
        ("Straße", "s", ["S", "ß"]),
        ("cafe\u0301 x", "cafe", ["cafe\u0301"]),
        ("12'' and 5'", '"', ["''"]),
        ("bogie bogie frame", "ogi ram", ["ogi", "ogi", "ram"]),
        ("bogie", "bog ogie", ["bogie"]),
        ("bogie", "wheel", []),
    ],
)
def test_marks_are_places_in_the_text_as_written(text: str, typed: str, marked: list[str]) -> None:
    assert [text[begin:end] for begin, end in marks(text, typed_parts(typed))] == marked


def test_synonyms_work_both_ways_and_by_phrase() -> None:
    groups = (("gudgeon", "wrist pin"), ("nut", "Mutter"), ("gudgeon", "piston pin"))
    assert synonyms(["gudgeon"], groups) == ((("gudgeon",), ("wrist", "pin"), ("piston", "pin")),)
    assert synonyms(["big", "wrist", "pin"], groups) == ((("big",),), (("wrist", "pin"), ("gudgeon",)))
    assert synonyms(["wrist"], groups) == ((("wrist",),),)
    assert synonyms(["mutter"], groups) == ((("mutter",), ("nut",)),)
    assert synonyms([], groups) == ()
    assert synonyms(["nut"], ()) == ((("nut",),),)


# Half a number, wrong dashes, fractions, punctuation alone: invented records.
RECORDS = {
    "QD-05127-S/2": "bogie frame",
    "QD-05177-S/1": "bolster 4K",
    "1200340-12": "clip long",
    "1200340-1": "clip",
    "0203010": "ring",
    "KV3307-110-03": "midship",
    "PL-9": '3/4" PLATE',
    "M-1": "bogie lamp 2K",
}


def found(query: str, records: dict[str, str] | None = None) -> list[str]:
    """A small finder as an index would be used: every part by its words, begun or contained, or by the bare number;
    then the part itself in number and title. The number typed in full comes first."""
    parts = typed_parts(query)

    def suits(part: Part, number: str, title: str) -> bool:
        held = [*number_words(number), *index_words(title)]
        by_words = all(any(wanted in word for word in held) for wanted in part.words)
        by_bare_number = bool(part.squashed) and any(part.squashed in word for word in held)
        return (by_words or by_bare_number) and stands_in(part, f"{number} {title}")

    hits = [
        number
        for number, title in (records or RECORDS).items()
        if parts and all(suits(part, number, title) for part in parts)
    ]
    return sorted(hits, key=lambda number: squashed(number) != squashed(query))


@pytest.mark.parametrize(
    ("query", "numbers"),
    [
        ("05127", ["QD-05127-S/2"]),
        ("S/2", ["QD-05127-S/2"]),
        ("qd05127s2", ["QD-05127-S/2"]),
        ("1200340-1", ["1200340-1", "1200340-12"]),
        ("203010", ["0203010"]),
        ("KV 3307-110", ["KV3307-110-03"]),
        ('3/4"', ["PL-9"]),
        ("2K", ["M-1"]),
        ("bogie 2K", ["M-1"]),
        ('"', ["PL-9"]),
        ("AND", []),
        ("*", []),
        ("(x", []),
        ("-", [number for number in RECORDS if "-" in number]),
        # further of the same kinds
        ("QD 05127 S 2", ["QD-05127-S/2"]),
        ("5127s", ["QD-05127-S/2"]),
        ("KV3307.110", ["KV3307-110-03"]),
        ("¾", ["PL-9"]),
        ("3/4 plate", ["PL-9"]),
        ("frame bog", ["QD-05127-S/2"]),
        ("/", ["QD-05127-S/2", "QD-05177-S/1", "PL-9"]),
        ("NOT bogie", []),
        ("   ", []),
        ("';--", []),
    ],
)
def test_finding_by_half_of_it(query: str, numbers: list[str]) -> None:
    assert found(query) == numbers


def test_a_fraction_spelled_five_ways_is_one_fraction() -> None:
    records = {
        str(place): f"bar {way} dia" for place, way in enumerate(['1 1/4"', '1.1/4"', '1-1/4"', "1¼″", "1 1⁄4 in"])
    }
    for typed in ('1 1/4"', '1.1/4"', '1-1/4"', "1¼″"):
        assert found(typed, records) == [*records], typed
