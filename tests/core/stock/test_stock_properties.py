"""What holds for every size: masses scale and add up, the two ways of naming a tube agree, no text raises."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from specreg.core.measures.records import NotRead
from specreg.core.stock.masses import mass_by_size, mass_of_one
from specreg.core.stock.reading import read_stock
from specreg.core.stock.records import MassBySize, MassOfOne, NotReckoned, Stock
from tests.core.stock.works import WORKS, item, stock_of

WHOLE = st.integers(1, 5000)
FORMS = st.sampled_from(
    [
        "{a} mm dia x {length} mm",
        "{a} mm sq x {length} mm",
        "{a} mm hexagon x {length} mm",
        "{a} mm x {b} mm flat x {length} mm",
        "{a} mm bore x {b} mm thick x {length} mm",
        "{a} mm x {b} mm x {length} mm block",
    ]
)
PIECES = st.sampled_from(
    [
        '1 1/4"', "3'", "2' 6\"", "50 mm", "1.5 m", "10 S.W.G.", "10 gauge", "M24", "B.S.W.", "B.S.P.", "3 cwt",
        "2 tons",
        "100 lb/yd", "25.1 kg/m", "0.15 sq in", "30°", "203x133x25", "UB", "W12X26", "L 50x50x6", "50", "1/2", "0\"",
        "½",
        "x", "×", "by", ",", "and", "to", "about", "dia", "Ø", "sq", "hexagon", "A/F", "round", "bar", "flat", "plate",
        "sheet", "chequered", "o.d.", "i.d.", "bore", "thick", "wall", "long", "wide", "tube", "angle", "tee",
        "channel",
        "web", "flange", "joist", "rail", "wire", "ring", "disc", "block", "bolt", "nut", "oval", "(", ")", "-", "/",
    ]
)  # fmt: skip
SIZES = st.lists(PIECES, max_size=9).flatmap(lambda pieces: st.sampled_from([" ".join(pieces), "".join(pieces)]))


def mass(size: str) -> Fraction:
    weighed = mass_by_size(stock_of(size), "mild steel", WORKS)
    assert isinstance(weighed, MassBySize)
    return weighed.mass


@given(FORMS, WHOLE, WHOLE, WHOLE, WHOLE)
def test_masses_of_pieces_cut_from_one_bar_add_up(form, a, b, one, other):
    whole = mass(form.format(a=a, b=b, length=one + other))
    assert mass(form.format(a=a, b=b, length=one)) + mass(form.format(a=a, b=b, length=other)) == whole


@given(FORMS, WHOLE, WHOLE, WHOLE, st.integers(2, 9))
def test_a_piece_so_many_times_as_large_weighs_its_cube(form, a, b, length, times):
    larger = mass(form.format(a=a * times, b=b * times, length=length * times))
    assert larger == times**3 * mass(form.format(a=a, b=b, length=length))


@given(WHOLE, WHOLE, WHOLE)
def test_a_tube_is_the_same_by_each_way_of_naming_it(bore, wall, length):
    outside = bore + 2 * wall
    named = [
        f"{outside} mm o.d. x {bore} mm i.d. x {length} mm",
        f"{outside} mm o.d. x {wall} mm wall x {length} mm",
        f"{bore} mm bore x {wall} mm thick x {length} mm",
    ]
    assert len({mass(one) for one in named}) == 1
    assert mass(named[0]) == mass(f"{outside} mm dia x {length} mm") - mass(f"{bore} mm dia x {length} mm")


@given(
    st.one_of(SIZES, st.text(max_size=40)), st.one_of(st.sampled_from(["mild steel", "elm", ""]), st.text(max_size=9))
)
def test_any_size_is_read_or_refused_with_a_sentence(size, material):
    stock = read_stock(size, material, WORKS)
    if isinstance(stock, NotRead):
        assert stock.why and stock.do
        return
    assert isinstance(stock, Stock) and stock.written == size
    assert all(one.value > 0 for one in stock.dimensions)
    assert stock.volume is None or stock.volume > 0
    if stock.form.is_cut_to_length:
        assert stock.length is not None and stock.length > 0
    if stock.area is not None and stock.length is not None:
        assert stock.volume == stock.area * stock.length


@given(st.one_of(SIZES, st.text(max_size=40)), st.text(max_size=12), st.text(max_size=12))
def test_any_item_is_reckoned_or_asked_about(size, weight, rough):
    found = mass_of_one(item(size, "mild steel", weight, rough), WORKS)
    if isinstance(found, MassOfOne):
        assert found.mass >= 0 and found.basis
    else:
        assert isinstance(found, NotReckoned) and found.refusals
