"""What stands of what was placed: pieces, and what has no count."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from specreg.core.purchases import Purchase, Quoted, pieces_placed, standing_purchases

ONE = Purchase(
    "4.1", "P 1", "A founder", "2026-11-20", "2027-01-29", "A", 12, "Rack", "", "cast steel", "", "SL-1 rev A"
)
MORE = replace(ONE, purchase="P 2", pieces=3, revision="B")
UNCOUNTED = replace(ONE, pieces=None)


def test_what_is_taken_back_stands_no_longer():
    back = replace(ONE, pieces=-12)
    assert pieces_placed([ONE, MORE]) == 15 and standing_purchases([ONE, MORE]) == (ONE, MORE)
    assert pieces_placed([ONE, replace(ONE, pieces=-5)]) == 7
    assert standing_purchases([ONE, replace(ONE, pieces=-5)]) == (replace(ONE, pieces=7),)
    assert standing_purchases([ONE, back]) == ()
    assert standing_purchases([ONE, back, MORE]) == (MORE,)


def test_of_each_purchase_the_last_that_placed_counts():
    again = replace(ONE, pieces=2, revision="B")
    assert standing_purchases([ONE, again]) == (replace(again, pieces=14),)
    assert standing_purchases([ONE, again, replace(ONE, pieces=-2)]) == (replace(again, pieces=12),)


def test_what_has_no_count_stands_until_it_is_taken_back():
    assert pieces_placed([UNCOUNTED]) == 0 and standing_purchases([UNCOUNTED]) == (UNCOUNTED,)
    back = replace(UNCOUNTED, pieces=0)
    assert standing_purchases([UNCOUNTED, back]) == ()
    assert standing_purchases([UNCOUNTED, back, UNCOUNTED]) == (UNCOUNTED,)


@given(st.lists(st.tuples(st.sampled_from(["P 1", "P 2", "P 3"]), st.integers(1, 9)), max_size=12), st.data())
def test_a_purchase_stands_as_long_as_any_piece_of_it_does(placed, data):
    found = [replace(ONE, purchase=name, pieces=pieces) for name, pieces in placed]
    held = {name: sum(pieces for other, pieces in placed if other == name) for name, _ in placed}
    for name, there in held.items():
        back = data.draw(st.integers(0, there))
        held[name] -= back
        found += [replace(ONE, purchase=name, pieces=-back)] if back else []
    assert pieces_placed(found) == sum(held.values())
    assert {one.purchase for one in standing_purchases(found)} == {name for name, there in held.items() if there}


def test_what_a_purchase_quotes_otherwise_is_said():
    now = Quoted("rack", "", "Cast  steel", '5"', "SL-1 rev B")
    assert Quoted.of(ONE).differences(now) == ('size was (none), now 5"', "drawing was SL-1 rev A, now SL-1 rev B")
    assert Quoted.of(ONE).differences(Quoted.of(replace(ONE, pieces=1, revision="C"))) == ()
