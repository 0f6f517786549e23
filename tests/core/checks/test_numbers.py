"""Numbers of the house's forms, and orders that the text names."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specreg.core.checks.numbers import numbers_of_the_house, words_of_another_order
from specreg.core.model import Item, Kind, Layout, Order, Sheet, State
from specreg.core.number_forms import pattern_of
from specreg.core.picture import Picture
from specreg.core.standards import Department, House, NumberForm, Standards

FORMS = (
    NumberForm("order", "C 9999"),
    NumberForm("drawing", "AA-999"),
    NumberForm("drawing", "S 9999/9"),
    NumberForm("pattern", "A 99"),
    NumberForm("part", "WS 99"),
)
WORKS = Standards(House("Practice works"), (Department("ERE", "Erecting shop", "erect", True),), numbers=FORMS)
BOLT = Item("4.1", Kind.ITEM, Layout.ROW, "4", "Rack bolt", off="1", per="machine", pattern="S 31", part="WS 12")
SHEET = Sheet("SL-401", title="Rack")


def picture(
    *items: Item, sheets: tuple[Sheet, ...] = (SHEET,), number: str = "C 1187", works: Standards = WORKS
) -> Picture:
    return Picture(Order(number, "Three cranes"), works, items, {}, sheets=sheets)


def test_numbers_of_the_forms_are_passed_over() -> None:
    assert list(numbers_of_the_house(picture(BOLT, sheets=(SHEET, Sheet("S 3318/2"))))) == []


@pytest.mark.parametrize("number", ["SL401", "SL-4O1", "SL-4011", "sl-401", "S 3318"])
def test_a_drawing_of_another_form_is_told_once(number: str) -> None:
    faults = list(numbers_of_the_house(picture(BOLT, sheets=(Sheet(number, "1"), Sheet(number, "2")))))
    assert [(one.name, one.subject) for one in faults] == [("number of another form", number)]
    assert "AA-999, S 9999/9" in faults[0].text


def test_patterns_and_parts_are_looked_at_too() -> None:
    wrong = replace(BOLT, pattern="S31", part="WS 1234")
    assert [one.text.split(" Rack")[0] for one in numbers_of_the_house(picture(wrong))] == [
        "Pattern S31", "Part WS 1234",
    ]  # fmt: skip
    assert list(numbers_of_the_house(picture(replace(wrong, state=State.DELETED)))) == []


def test_a_works_without_forms_is_asked_nothing() -> None:
    bare = replace(WORKS, numbers=())
    assert list(numbers_of_the_house(picture(replace(BOLT, pattern="?"), works=bare))) == []
    assert list(words_of_another_order(picture(replace(BOLT, remarks="as C 1142"), works=bare))) == []


@pytest.mark.parametrize("field", ["title", "text", "size", "remarks"])
def test_another_order_in_the_words_is_told(field: str) -> None:
    (fault,) = words_of_another_order(picture(replace(BOLT, **{field: "as made for order C\u00a01142, and C 1187"})))
    assert (fault.name, fault.subject) == ("another order named", "4.1")
    assert "this is order C 1187" in fault.text


@pytest.mark.parametrize("words", ["order C 1187", "C 11420", "AC 1142", "C1142", "pattern C 142"])
def test_its_own_number_and_what_is_none_are_passed_over(words: str) -> None:
    assert list(words_of_another_order(picture(replace(BOLT, remarks=words)))) == []


def test_an_order_that_holds_its_number_in_a_longer_one_knows_it() -> None:
    assert list(words_of_another_order(picture(replace(BOLT, remarks="C 1187"), number="PRACTICE C 1187"))) == []


def test_a_deleted_item_may_name_what_it_likes() -> None:
    assert list(words_of_another_order(picture(replace(BOLT, remarks="C 1142", state=State.DELETED)))) == []


@pytest.mark.parametrize(("form", "number", "fits"), [("A.9", "B.7", True), ("A.9", "BX7", False), ("9A", "7B", True)])
def test_every_other_sign_of_a_form_is_itself(form: str, number: str, fits: bool) -> None:
    assert bool(pattern_of((form,)).fullmatch(number)) is fits
