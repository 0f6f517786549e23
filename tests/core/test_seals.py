"""Digests and seals: fixed forms, empty fields left out, codes that cannot be misread."""

from __future__ import annotations

import hashlib
import json
from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.model import FIELDS, Item, Kind, Layout, Note, NumberOff, Order, Route, Sheet, State, Step
from specreg.core.record_forms import item_form, note_form, order_form, route_form, sheet_form, total_form
from specreg.core.seals import CODE_SIGNS, chained_seal, content_digest, row_digest, short_code

BOLT = Item("4.1.2", Kind.ITEM, Layout.ROW, "4", "Rack bolt", off="24", per="4.1", other=(("Finish", "black"),))


def test_a_row_digest_is_sha_256_over_plain_json_with_empty_values_left_out() -> None:
    said = json.dumps(["item", ["W 1", "4.1"], [["Off", "24"]]], separators=(",", ":"), ensure_ascii=False)
    found = row_digest("item", ["W 1", "4.1"], [("Off", "24"), ("Per", ""), ("other", []), ("x", None)])
    assert found == hashlib.sha256(said.encode()).digest()


def test_every_field_of_an_item_is_sealed() -> None:
    sealed = item_form("W 1", BOLT)[2]
    for name in [field.name for field in FIELDS] + ["title", "text", "reason"]:
        assert item_form("W 1", replace(BOLT, **{name: "something else"}))[2] != sealed, name
    assert item_form("W 1", replace(BOLT, state=State.DELETED))[2] != sealed
    assert item_form("W 1", replace(BOLT, layout=Layout.HEADING))[2] != sealed
    assert item_form("W 1", replace(BOLT, kind=Kind.CLAUSE))[2] != sealed
    assert item_form("W 1", replace(BOLT, section="5"))[2] != sealed
    assert item_form("W 1", replace(BOLT, other=(("Finish", "bright"),)))[2] != sealed
    assert item_form("W 2", BOLT)[2] != sealed


def test_every_field_of_a_sheet_a_note_and_a_number_off_is_sealed() -> None:
    sheet = Sheet("SL-1")
    for field in fields(Sheet):
        assert sheet_form(replace(sheet, **{field.name: "other"}))[2] != sheet_form(sheet)[2], field.name
    note = Note("1", state="open")
    for field in fields(Note):
        assert note_form("W 1", replace(note, **{field.name: "other"}))[2] != note_form("W 1", note)[2], field.name
    total = NumberOff(1, 1, 0, "1", "1 = 1")
    for name, value in (("off", 2), ("for_machines", 2), ("spares", 1), ("written", "2"), ("working", "2 = 2")):
        assert total_form("W 1", "4.1", replace(total, **{name: value}))[2] != total_form("W 1", "4.1", total)[2], name


def test_the_order_of_steps_is_sealed_and_where_the_standards_lie_is_not() -> None:
    steps = (Step(1, "FDY", "cast", "all", 1, "rule"), Step(2, "ERE", "erect", "all", 0, "rule"))
    route = Route(steps, because="rule")
    assert route_form("W 1", "4.1", route)[2] != route_form("W 1", "4.1", replace(route, steps=steps[::-1]))[2]
    order = Order("W 1", "Cranes", standards="../shared")
    assert order_form(order, b"x")[2] == order_form(replace(order, standards="/elsewhere"), b"x")[2]
    assert order_form(order, b"x")[2] != order_form(order, b"y")[2]


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["item", "note"]), st.tuples(st.text(max_size=4)), st.binary(min_size=32, max_size=32)
        ),
        max_size=8,
    )
)
def test_content_does_not_depend_on_the_order_in_which_rows_are_read(rows: list[tuple[str, tuple[str], bytes]]) -> None:
    assert content_digest(rows) == content_digest(rows[::-1])
    assert content_digest(rows)[0] == len(rows)


def test_a_seal_hangs_on_the_one_before_on_content_and_on_its_head() -> None:
    head = [("letter", "B")]
    seal = chained_seal(b"before", b"content", head)
    assert seal != chained_seal(b"other", b"content", head)
    assert seal != chained_seal(b"before", b"other", head)
    assert seal != chained_seal(b"before", b"content", [("letter", "C")])
    assert chained_seal(None, b"content", head) == chained_seal(b"", b"content", head)


def test_codes_hold_no_signs_that_are_taken_for_others() -> None:
    assert not set("ILOU") & set(CODE_SIGNS)
    assert len(set(CODE_SIGNS)) == 32


@given(st.binary(min_size=32, max_size=32))
def test_a_code_is_the_first_forty_bits(digest: bytes) -> None:
    code = short_code(digest).replace("-", "")
    value = 0
    for sign in code:
        value = value * 32 + CODE_SIGNS.index(sign)
    assert value == int.from_bytes(digest[:5], "big")


@pytest.mark.parametrize(("digest", "code"), [(b"\x00" * 32, "0000-0000"), (b"\xff" * 32, "ZZZZ-ZZZZ")])
def test_codes_at_the_ends(digest: bytes, code: str) -> None:
    assert short_code(digest) == code
