"""Writing an order folder and reading it again changes nothing, whatever the texts say."""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from specreg.core.errors import Refused
from specreg.core.model import Item, Kind, Layout, Order, Sheet, State
from specreg.intake.order_folder import read_order
from specreg.intake.plain_text import plain_item
from specreg.output.order_folder import order_folder_files, section_markdown, write_order_folder
from tests.intake.strategies import NASTY, orders, sheet_lists, whole_orders

ORDER = Order("W 611", "Three 25-ton dockside cranes")
SECTION = Item("4", Kind.SECTION, Layout.HEADING, "4", title="Slewing gear")
ROW = Item("4.1.1", Kind.ITEM, Layout.ROW, "4", title="Rack segment", off="12")
CLAUSE = Item("4.1", Kind.CLAUSE, Layout.HEADING, "4", title="Slewing rack")


def written_and_read(order, items, sheets, into=None):
    files = order_folder_files(order, items, sheets)
    with tempfile.TemporaryDirectory() as folder:
        target = Path(into or folder) / "order"
        write_order_folder(files, target)
        taken = read_order(target)
    return files, taken


def in_order(items):
    return sorted(items, key=lambda item: item.place_key)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(orders, whole_orders(), sheet_lists)
def test_an_order_comes_back_as_it_was_and_the_second_writing_has_the_same_bytes(order, items, sheets):
    files, taken = written_and_read(order, items, sheets)
    assert taken.set_aside == ()
    assert taken.order == order
    assert in_order(one.item for one in taken.items) == in_order(items)
    assert [one.sheet for one in taken.sheets] == list(sheets)
    again = order_folder_files(taken.order, [one.item for one in taken.items], [one.sheet for one in taken.sheets])
    assert again == files


@pytest.mark.parametrize("nasty", NASTY)
@pytest.mark.parametrize("off", ["", "2"])
@pytest.mark.parametrize("item", [SECTION, CLAUSE, ROW])
def test_every_nasty_text_survives_everywhere(item, off, nasty):
    kind = Kind.ITEM if item is CLAUSE and (off or nasty) else item.kind
    item = replace(item, kind=kind, off=off, title=nasty, text=nasty, size=nasty, remarks=nasty)
    item = plain_item(replace(item, other=(("Finish", nasty),), state=State.DELETED, reason=nasty))
    after = replace(ROW, number="4.7")
    before = [] if item.kind is Kind.SECTION else [SECTION]
    _, taken = written_and_read(ORDER, [*before, item, after], [])
    assert [one.item for one in taken.items] == [*before, item, after]


@pytest.mark.parametrize("nasty", NASTY)
def test_a_text_between_two_clauses_swallows_neither(nasty):
    clause = plain_item(replace(CLAUSE, text=f"{nasty}\n\nbetween\n{nasty}\n\n{nasty}"))
    items = [SECTION, clause, replace(CLAUSE, number="4.2", text="after")]
    _, taken = written_and_read(ORDER, items, [])
    assert [one.item for one in taken.items] == items


def test_the_files_are_named_by_section_and_rows_stand_in_tables():
    rope = Item("11", Kind.SECTION, Layout.HEADING, "11", title="Ropes & sheaves, Größe 2")
    bolt = replace(ROW, number="4.1.2", title="Rack bolt", off="24", per="4.1", other=(("Finish", "black"),))
    files = order_folder_files(ORDER, [rope, bolt, ROW, CLAUSE, SECTION], [Sheet("SL-1001")], [("item", "4", "ab12")])
    assert list(files) == [
        "order.toml", "spec/04-slewing-gear.md", "spec/11-ropes-sheaves-grosse-2.md", "drawings.csv",
        ".written-from.csv",
    ]  # fmt: skip
    assert files["spec/04-slewing-gear.md"] == (
        "# 4 Slewing gear\n\n## 4.1 Slewing rack\n\n"
        "| Item | Description | Off | Per | Finish |\n|---|---|---|---|---|\n"
        "| 4.1.1 | Rack segment | 12 | | |\n| 4.1.2 | Rack bolt | 24 | 4.1 | black |\n"
    )
    assert files[".written-from.csv"] == "kind,number,digest\nitem,4,ab12\n"


def test_text_that_looks_like_structure_is_marked_and_other_text_is_not():
    text = "Plate, 0.7 MPa water test.\n# 4.2 not a heading\n- Off: not a field\n- as drawn\n"
    text += "4.2 not a clause\n| a | b |\n|---|---|"
    written = section_markdown([SECTION, replace(CLAUSE, text=text)])
    assert written == (
        "# 4 Slewing gear\n\n## 4.1 Slewing rack\n\nPlate, 0.7 MPa water test.\n\\# 4.2 not a heading\n"
        "\\- Off: not a field\n- as drawn\n\\4.2 not a clause\n| a | b |\n|---|---|\n"
    )


def test_a_deleted_row_without_a_reason_stays_deleted():
    reserved = replace(ROW, number="4.2", state=State.RESERVED, reason="reserved")
    items = [SECTION, replace(ROW, state=State.DELETED), reserved]
    _, taken = written_and_read(ORDER, items, [])
    assert [one.item for one in taken.items] == items


def test_a_folder_with_other_files_is_refused_and_left_alone(tmp_path):
    (tmp_path / "letter.txt").write_text("kept")
    with pytest.raises(Refused, match=r"letter\.txt"):
        write_order_folder(order_folder_files(ORDER, [SECTION], []), tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["letter.txt"]


def test_an_older_export_is_replaced_whole(tmp_path):
    target = tmp_path / "out" / "order"
    write_order_folder(order_folder_files(ORDER, [SECTION], [Sheet("SL-1")]), target)
    write_order_folder(order_folder_files(ORDER, [replace(SECTION, title="Slewing")], []), target)
    found = sorted(path.relative_to(target).as_posix() for path in target.rglob("*") if path.is_file())
    assert found == ["order.toml", "spec/04-slewing.md"]
    assert [path.name for path in target.parent.iterdir()] == ["order"]


def test_what_it_was_written_from_is_read_again(tmp_path):
    digests = [("item", "4.1", "00ff"), ("sheet", 'SL-1,"2"', "ab")]
    write_order_folder(order_folder_files(ORDER, [SECTION], [], digests), tmp_path / "order")
    assert read_order(tmp_path / "order").written_from == {("item", "4.1"): "00ff", ("sheet", 'SL-1,"2"'): "ab"}
