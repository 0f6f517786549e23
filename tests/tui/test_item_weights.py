"""What an item weighs, on its sheet: figures by the number off, the caution under them, the basis after the route."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specreg.services.readings import ItemSheet
from specreg.tui.item_paper import item_lines
from specreg.tui.passages import lines_of_part
from specreg.tui.pieces import Line, Piece, width_of
from tests.tui.fake_reader import FakeBook
from tests.tui.fake_take_off import FakeTakeOff
from tests.tui.test_item_paper import SHEET
from tests.tui.watching import LOW, opened, text_of, until_shown


def sheet_of(number: str) -> ItemSheet:
    return replace(SHEET, reckoned=FakeTakeOff().reckoned(number))


def lines_of(sheet: ItemSheet, width: int) -> tuple[Line, ...]:
    return tuple(line for part in item_lines(sheet, width) for line in lines_of_part(part))


def text_at(sheet: ItemSheet, width: int = 100) -> list[str]:
    return ["".join(piece.text for piece in line).rstrip() for line in lines_of(sheet, width)]


def piece_with(sheet: ItemSheet, words: str) -> Piece:
    return next(piece for line in lines_of(sheet, 100) for piece in line if words in piece.text)


def test_the_figures_stand_under_the_number_off_the_caution_under_them_the_basis_after_the_route() -> None:
    lines = text_at(sheet_of("4.1.1"))
    at = {label: next(place for place, line in enumerate(lines) if line.startswith(label))
          for label in ("Number off", "Weighs", "To order", "Allowed", "Estimates", "Text", "Route", "Weighed by",
                        "History")}  # fmt: skip
    assert list(at.values()) == sorted(at.values())
    assert lines[at["Weighs"]] == "Weighs        each 3 cwt 1 qr 17 lb, all 6 tons 2 cwt 1 qr 24 lb, as stated"
    assert lines[at["To order"]].endswith("finished it keeps 85 %")
    assert lines[at["Allowed"]] == "Allowed       rough: 1/4 in on each machined face; pattern: 3/16 in in each foot"
    assert lines[at["Estimates"]] == "Estimates for planning: competent persons, authority and local codes decide."
    assert lines[at["Weighed by"]] == "Weighed by    Weight as stated, 3 cwt 1 qr 17 lb"


def test_a_doubt_and_what_is_wanting_have_their_signs_and_roles() -> None:
    doubt = piece_with(sheet_of("5.1"), "the stated weight is 8.3 times")
    assert doubt.text.startswith("~ ") and doubt.role == "warning"
    wanting = piece_with(sheet_of("4.1.3"), "no weight")
    assert wanting.text.startswith("^ no weight: ") and wanting.role == "waits"
    assert not [line for line in text_at(sheet_of("4.1.3")) if line.startswith("Estimates")]


def test_an_assembly_weighs_what_its_parts_come_to() -> None:
    lines = text_at(sheet_of("4.1"))
    at = next(place for place, line in enumerate(lines) if line.startswith("By its parts"))
    assert lines[at] == "By its parts  each 2 tons 1 cwt 0 qr 22 lb, all 6 tons 3 cwt 2 qr 9 lb"
    assert lines[at + 1].strip() == "^ 1 item in it has no weight or no count: so much is missing"


def test_what_is_no_live_item_says_nothing_of_weights() -> None:
    said = " ".join(text_at(SHEET))
    assert "Weighs" not in said and "Estimates" not in said


@pytest.mark.parametrize("width", [36, 56, 76, 116, 156])
@pytest.mark.parametrize("number", ["4.1", "4.1.1", "4.1.2", "4.1.3", "5.1"])
def test_the_weights_fit_their_paper_and_nothing_of_them_is_cut(number: str, width: int) -> None:
    sheet = replace(sheet_of(number), sheets=(), route=(), history=())
    assert all(width_of(line) <= width for line in lines_of(sheet, width))
    assert "…" not in " ".join(text_at(sheet, width))


async def test_the_sheet_follows_the_book_when_a_weight_is_altered() -> None:
    book = FakeBook()
    app = opened(book, "4.1.2")
    async with app.run_test(size=LOW) as pilot:
        await until_shown(pilot, "Weighs        each 1.74 lb, all 1 cwt 0 qr 13 lb, by its size")
        assert 'Cut length    each 5", all 30\' 0"' in text_of(app)
        standing = book.weights.standing
        heavier = tuple(replace(one, weight="2 lb") if one.number == "4.1.2" else one for one in standing.items)
        book.weights.standing = replace(standing, items=heavier)
        book.written += 1
        app.look()
        await until_shown(pilot, "Weighs        each 2 lb, all 1 cwt 1 qr 4 lb, as stated")
