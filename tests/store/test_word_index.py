"""The word index holds exactly the words of what stands now, whatever signs these are made of."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.core.model import Item, Kind, Layout, Sheet
from specreg.core.wording import index_words
from specreg.services import altering
from specreg.store import drawings, items
from specreg.store.database import Act, create_book
from specreg.store.word_index import item_texts, matching, replace_item, sheet_texts, word_list
from tests.services.office_for_tests import with_order
from tests.store.book_contents import words_in

PLAIN = Item("4.1.1", Kind.ITEM, Layout.ROW, "4", title="Rack segment")
ODD = (
    "", " ", '"', '""', "'", '" OR "', "S/2", "a* OR b*", "NEAR(a b)", "title:rack", "^rack", "rack - bolt", "(", "*",
    "1½", "1.1/4\" x 19'-6½\"", "¼ ½ ¾ ⅞", "M30 × 1,5", "Ø60 ± 0,5", "αβγ Σίσυφος", "ς σ Σ", "Größe", "ß ẞ", "İ ı I",
    "Ǆ ǆ", "ﬁ ﬀ", "²³ m³", "🏗️ crane", "👷\u200d♀️", "日本語 クレーン", "شحن", "é e\u0301", "\u200b\u200d\ufeff",
    "\u202e", "a\u00adb", "4.1.2A", "E 4013/2A", "\t\n\r", "\u2028", "--", "\\", "%_", "ƒ ƌ", "\x01\x7f",
)  # fmt: skip
LONG = ("x" * 4000, "word " * 800, "½" * 4000, "4.1 " * 1000)
texts = st.one_of(
    st.sampled_from(ODD),
    # Letters that every SQLite knows for letters; the newest scripts it may cut at.
    st.text(st.characters(max_codepoint=0x2FF, exclude_characters="\0"), max_size=30),
    st.lists(st.sampled_from(ODD), max_size=4).map(" ".join),
)
odd_items = st.builds(
    lambda number, title, text, size, drawing, other: replace(
        PLAIN, number=f"4{number}", title=title, text=text, size=size, drawing=drawing, other=(("Finish", other),)
    ),
    *[texts] * 6,
)


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """An empty book; every test takes back what it wrote."""
    made = create_book(tmp_path_factory.mktemp("words") / "works.specreg", "bench")
    yield made
    made.close()


def words_of(item: Item, item_id: int) -> list[tuple[str, int, str]]:
    """What the index must hold of an item; SQLite writes the sigma at the end of a word like any other."""
    found = {
        (word.replace("ς", "σ"), item_id, column)
        for column, text in zip(("number", "title", "words"), item_texts(item), strict=True)
        for word in text.split(" ")
        if word
    }
    return sorted(found)


@settings(max_examples=120, deadline=None)
@given(odd_items, odd_items)
def test_after_an_alteration_only_the_new_words_are_there(book, before, after):
    book.db.execute("BEGIN")
    try:
        replace_item(book, 7, None, before)
        first = words_in(book.db, "item_words")
        replace_item(book, 8, None, PLAIN)
        replace_item(book, 7, before, after)
        second = words_in(book.db, "item_words")
        replace_item(book, 7, after, None)
        third = words_in(book.db, "item_words")
        replace_item(book, 8, PLAIN, None)
        last = words_in(book.db, "item_words")
    finally:
        book.db.execute("ROLLBACK")
    assert first == words_of(before, 7)
    assert second == sorted(words_of(after, 7) + words_of(PLAIN, 8))
    assert third == words_of(PLAIN, 8)
    assert last == []


@pytest.mark.parametrize("long", LONG, ids=["one word", "words", "fractions", "numbers"])
def test_a_text_of_four_thousand_signs_comes_and_goes(book, long):
    item = replace(PLAIN, title=long, text=long, drawing=long)
    book.db.execute("BEGIN")
    try:
        replace_item(book, 7, None, item)
        assert words_in(book.db, "item_words") == words_of(item, 7)
        replace_item(book, 7, item, PLAIN)
        assert words_in(book.db, "item_words") == words_of(PLAIN, 7)
    finally:
        book.db.execute("ROLLBACK")


@settings(max_examples=100, deadline=None)
@given(odd_items)
def test_every_word_of_an_item_finds_it_whole_or_begun(book, item):
    book.db.execute("BEGIN")
    try:
        replace_item(book, 7, None, item)
        replace_item(book, 8, None, PLAIN)
        for text in item_texts(item):
            for word in set(text.split()):
                assert 7 in matching(book, "item", [[[[word]]]], 10)
                assert 7 in matching(book, "item", [[[[f"{word[: len(word) // 2 + 1]}*"]]]], 10)
        assert set(word_list(book, "item")) == {word for word, _, _ in words_of(item, 7) + words_of(PLAIN, 8)}
    finally:
        book.db.execute("ROLLBACK")


@settings(max_examples=200, deadline=None)
@given(st.lists(st.lists(st.lists(st.lists(texts, max_size=3), max_size=2), max_size=2), max_size=3))
def test_nothing_looked_for_is_read_as_syntax(book, groups):
    assert matching(book, "item", groups, 10) == []


def test_groups_are_met_all_alternatives_one_words_each(book):
    one, two = replace(PLAIN, title="rack bolt black"), replace(PLAIN, title="rack nut bright")
    book.db.execute("BEGIN")
    try:
        replace_item(book, 1, None, one)
        replace_item(book, 2, None, two)

        def found(*groups):
            return matching(book, "item", groups, 10)

        assert found([[["rack"]]]) == [1, 2]
        assert found([[["bolt", "nut"]]]) == [1, 2]
        assert found([[["rack"], ["bolt"]]]) == [1]
        assert found([[["bolt"]], [["nut"]]]) == [1, 2]
        assert found([[["rack"]]], [[["br*"]]]) == [2]
        assert found([[["bolt"]]], [[["nut"]]]) == []
        assert found([[["rack"], []]]) == found([]) == found() == []
        assert matching(book, "item", [[[["rack"]]]], 1) == [1]
    finally:
        book.db.execute("ROLLBACK")


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(texts, texts, texts), min_size=1, max_size=4))
def test_the_index_of_the_register_holds_the_words_of_the_current_sheets(book, said):
    with_order_of_marks = [
        Sheet("SL-1", sheet=str(place % 2), revision=str(place), title=title, remarks=remarks, replaces=replaces)
        for place, (title, remarks, replaces) in enumerate(said)
    ]
    book.db.execute("BEGIN")
    try:
        for place, sheet in enumerate(with_order_of_marks):
            entry = place + 1
            book.db.execute("INSERT INTO day_book (entry, at, person, host, act) VALUES (?, '', '', '', '')", (entry,))
            act = Act(entry, "JD", "2026-11-25")
            assert drawings.enter(book, act, sheet)
            assert not drawings.enter(book, act, sheet)
            book.db.execute("UPDATE day_book SET closed = 1, digest = x'00' WHERE entry = ?", (entry,))
        drawing_id = drawings.find_exact(book, "SL-1")
        current = drawings.current_sheets(book, drawing_id)
        expected = {
            (word, drawing_id, column)
            for column, text in zip(("number", "title", "words"), sheet_texts("SL-1", current), strict=True)
            for word in text.split(" ")
            if word
        }
        assert words_in(book.db, "drawing_words") == sorted(expected)
        assert {sheet.revision for sheet in current} == {one.revision for one in with_order_of_marks[-2:]}
    finally:
        book.db.execute("ROLLBACK")


def test_words_of_altered_inserted_and_undone_items_come_and_go(tmp_path):
    office = with_order(tmp_path)

    def finding(word):
        return [
            items.by_id(office.book, item_id).item.number for item_id in matching(office.book, "item", [[[[word]]]], 99)
        ]

    assert finding("black") == ["4.1.2"]
    altering.alter(office, "4.1.2", {"Remarks": "bright"})
    assert (finding("black"), finding("bright")) == ([], ["4.1.2"])
    altering.undo(office)
    assert (finding("black"), finding("bright")) == (["4.1.2"], [])
    altering.insert(office, "4.1.2A", {"Description": "Feather"})
    assert finding("feather") == ["4.1.2A"]
    altering.undo(office)
    assert finding("feather") == []
    assert "feather" not in word_list(office.book, "item")
    altering.redo(office)
    altering.delete(office, "4.1.2A", "not wanted")
    assert finding("feather") == ["4.1.2A"]  # a deleted item is still found
    (half,) = [word for word in index_words("19'-6½\"") if re.search("[ƒ½]", word)]
    assert finding(half) == ["4.3"]
    office.book.close()
