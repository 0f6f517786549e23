"""Painted text: exact widths whatever is in it, nothing cut without a sign, columns that give way."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from specreg.core.counts import grouped
from specreg.tui.columns import Column, Row, fit, heads_line, row_line
from specreg.tui.item_rows import COLUMNS
from specreg.tui.pieces import CUT, Piece, clean, cut, fitted, line, marked, width_of, wrapped, wrapped_line
from specreg.tui.typing_line import Typing, typing_pieces
from specreg.tui.widgets.head import head_line
from specreg.tui.widgets.key_line import key_line
from specreg.tui.widgets.painted import framed, thumb

# Every kind of character a clerk might paste: wide ones, combining ones, signs of the trade.
TEXTS = st.text(st.sampled_from("aZ9 .-×½½″″ⅡЖ漢字ａe\u0301"), max_size=40)


@given(TEXTS, st.integers(1, 60))
def test_a_cut_text_fits_and_says_that_it_was_cut(text: str, width: int) -> None:
    short = cut(text, width)
    assert cell_len(short) <= width
    assert short == text or short.endswith(CUT)


@given(st.lists(TEXTS, max_size=5), st.integers(0, 60), st.booleans())
def test_fitted_pieces_are_exactly_as_wide_as_asked(texts: list[str], width: int, right: bool) -> None:
    assert width_of(fitted(line(*texts), width, right)) == width


@given(TEXTS, st.integers(2, 40))
def test_wrapping_loses_no_character_but_spaces(text: str, width: int) -> None:
    lines = wrapped(text, width)
    assert all(cell_len(one) <= width for one in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_control_characters_do_not_reach_the_terminal() -> None:
    assert clean("a\x1b[2Jb\u202ec\td") == "a [2Jb c d"


def test_figures_stand_in_threes() -> None:
    assert [grouped(number) for number in (7, 7912, 1_000_000)] == ["7", "7 912", "1 000 000"]


def test_words_found_are_marked_in_any_case_and_the_text_stays_whole() -> None:
    pieces = marked("Rack bolt for rack", ["rack", "bol"], "found")
    assert "".join(piece.text for piece in pieces) == "Rack bolt for rack"
    assert [piece.text for piece in pieces if piece.role == "found"] == ["Rack", "bol", "rack"]


COLUMN = st.builds(
    lambda least, more, gives, grows: Column("x", least + more, least, gives, grows),
    st.integers(1, 12), st.integers(0, 12), st.integers(0, 4), st.integers(0, 3),
)  # fmt: skip


@given(st.lists(COLUMN, min_size=1, max_size=8), st.integers(20, 160))
def test_columns_never_take_more_than_there_is_when_one_may_give_way(columns: list[Column], room: int) -> None:
    widths = fit(columns, room)
    taken = sum(widths) + max(0, sum(1 for width in widths if width) - 1)
    firm = [column for column in columns if not column.gives]
    least = sum(column.least for column in firm) + max(0, len(firm) - 1)
    if least <= room and firm:
        assert taken <= room
        assert all(width for column, width in zip(columns, widths, strict=True) if not column.gives)


def test_the_last_columns_of_the_list_give_way_first() -> None:
    heads = [column.head for column in COLUMNS]
    shown = {room: [head for head, width in zip(heads, fit(COLUMNS, room), strict=True) if width]
             for room in (140, 76, 66, 55, 45)}  # fmt: skip
    assert shown[140] == heads
    assert shown[76] == heads[:-1]
    assert shown[66] == heads[:-2]
    assert shown[55] == heads[:-3]
    assert shown[45] == heads[:-4]


def test_a_head_is_said_briefly_where_its_column_is_narrow() -> None:
    wide, narrow = ("".join(piece.text for piece in heads_line(COLUMNS, fit(COLUMNS, room))) for room in (156, 76))
    assert "Size or weight" in wide
    assert "Size/wt" in narrow and "…" not in narrow


def test_a_column_that_fills_last_comes_to_its_width_only_where_others_have_theirs() -> None:
    off = [column.head for column in COLUMNS].index("Off")
    assert [fit(COLUMNS, room)[off] for room in (60, 76, 100, 156)] == [4, 4, 4, 11]


def test_what_is_said_aside_is_cut_to_the_room_left_or_left_out() -> None:
    columns = (Column("No", 3, 3), Column("Title", 20, 20))
    row = Row("4.1", (line("4.1"), line("Rack bolt")), aside=line("Size 1 1/4"), beside=1)

    def painted(row: Row, width: int) -> str:
        return "".join(piece.text for piece in row_line(row, columns, (3, width)))

    assert painted(row, 21) == "4.1 Rack bolt  Size 1 1/4"
    assert painted(row, 20) == "4.1 Rack bolt           "
    assert painted(Row("", row.cells, aside=line("Size 1 1/4 dia"), beside=1), 22) == "4.1 Rack bolt  Size 1 1/4…"
    assert painted(Row("", row.cells, aside=line("M 6"), beside=1), 14) == "4.1 Rack bolt  M 6"


@given(st.lists(TEXTS, max_size=4), st.integers(2, 40))
def test_wrapped_pieces_lose_no_character_but_spaces(texts: list[str], width: int) -> None:
    lines = wrapped_line(line(*texts), width)
    assert lines
    assert all(width_of(one) <= width for one in lines)
    assert "".join("".join(piece.text for one in lines for piece in one).split()) == "".join("".join(texts).split())


def test_a_long_number_borrows_from_the_description_rather_than_being_cut() -> None:
    widths = fit(COLUMNS, 76)
    row = Row("x", ((), line("QD-05127-S/2"), line("Bracket"), (), line("2"), (), (), (), ()))
    painted = row_line(row, COLUMNS, widths)
    assert "QD-05127-S/2" in "".join(piece.text for piece in painted)
    plain = row_line(Row("y", ((), line("4.1"), line("Bracket"), (), line("2"), (), (), (), ())), COLUMNS, widths)
    assert width_of(painted) == width_of(plain) == 76


@given(TEXTS, TEXTS, st.integers(20, 160))
def test_head_foot_and_frame_are_exactly_as_wide_as_the_screen(title: str, right: str, width: int) -> None:
    assert width_of(head_line(title, line(right) if right else (), width)) == width
    assert width_of(key_line("list", width)) == width
    assert width_of(framed(line(title), width)) == width


@given(st.integers(1, 60), st.integers(1, 1_000_000), st.data())
def test_the_thick_side_stays_on_the_screen_and_touches_both_ends(shown: int, count: int, data: st.DataObject) -> None:
    first = data.draw(st.integers(0, max(0, count - shown)))
    thick = thumb(first, shown, count)
    if count <= shown:
        assert not thick
        return
    assert 0 <= thick.start < thick.stop <= shown
    assert thumb(0, shown, count).start == 0
    assert thumb(count - shown, shown, count).stop == shown


@given(st.lists(st.sampled_from(["a", "ß", " ", "left", "right", "home", "end", "backspace", "delete", "ctrl+w"])))
def test_typing_keeps_the_caret_in_the_text(keys: list[str]) -> None:
    typing = Typing()
    for key in keys:
        typing = typing.key(key) or typing.put(key)
        assert 0 <= typing.at <= len(typing.text)
    assert any(piece.role == "caret" for piece in typing_pieces(typing, 20))


def test_what_was_typed_before_is_kept_until_something_new_is_typed() -> None:
    kept = Typing("rack bolt").left_alone()
    assert kept.put("x") == Typing("x", 1)
    assert kept.key("end") == Typing("rack bolt", 9)
    assert Typing("rack bolt", 9).key("ctrl+w") == Typing("rack ", 5)
    assert Typing("rack", 4).put("\x1b") == Typing("rack ", 5)
    assert width_of((Piece("a"),)) == 1


def test_a_space_at_the_end_of_a_piece_stands_before_the_next() -> None:
    ((first, second),) = wrapped_line((Piece("≈ ", "near"), Piece("nothing is exactly this", "quiet")), 60)
    assert first.text + second.text == "≈ nothing is exactly this"
