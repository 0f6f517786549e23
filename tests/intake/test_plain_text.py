"""The plain form of texts: what it drops, and that it is stable."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given

from specreg.core.model import Item, Kind, Layout, Sheet
from specreg.intake.plain_text import plain_field, plain_item, plain_label, plain_line, plain_sheet, plain_text
from tests.intake.strategies import texts


def test_only_what_cannot_be_seen_is_dropped():
    assert plain_text("\r\n  a  b \t\r\n\r\n   c\\|<br>\n\n") == "a  b\n\n   c\\|<br>"
    assert plain_field(" a \r b ") == "a \n b"
    assert plain_line(" Rack \n bolt  M12 ") == "Rack bolt  M12"
    assert plain_label(" **Rough \n weight:** ") == "Rough weight"


def test_an_item_and_a_sheet_have_every_text_in_plain_form():
    item = Item("4.1 ", Kind.ITEM, Layout.ROW, "4", title="a\nb", text="x \ny ", size=" 1\r\n2 ")
    item = replace(item, other=(("b", " "), ("a", "z\n")))
    assert plain_item(item) == Item(
        "4.1", Kind.ITEM, Layout.ROW, "4", title="a b", text="x\ny", size="1\n2", other=(("a", "z"),)
    )
    assert plain_sheet(Sheet(" A-1 ", remarks="x\r\n")) == Sheet("A-1", remarks="x")


@given(texts)
def test_the_plain_form_of_a_plain_text_is_the_same(text):
    for plain in (plain_text, plain_field, plain_line, plain_label):
        assert plain(plain(text)) == plain(text)
