"""What a refusal asks about, for a check that goes by it: the number, the unit, the ton, the gauge or the thread."""

from __future__ import annotations

import pytest

from specreg.core.measures.finding import find_unread
from specreg.core.measures.numbers import WrittenFraction, fractions_in
from specreg.core.measures.records import Asks, NotRead
from specreg.core.measures.written import read_angle, read_gauge, read_length, read_mass, read_pressure, read_thread


@pytest.mark.parametrize(
    ("read", "asks"),
    [
        (read_length("19"), Asks.UNIT),
        (read_length("19-1/0", in_a_length_field=True), Asks.NUMBER),
        (read_length("1/0", unit="in"), Asks.NUMBER),
        (read_length("1 5/4 in"), Asks.NUMBER),
        (read_length("1,234 mm"), Asks.NUMBER),
        (read_length("1,5 in"), Asks.NUMBER),
        (read_length("1 in. 1/4"), Asks.NUMBER),
        (read_length("19'-13"), Asks.NUMBER),
        (read_length("6 1/2 ft 3 in"), Asks.NUMBER),
        (read_length("a good fit"), Asks.NOTHING),
        (read_length("±1/32 in"), Asks.NOTHING),
        (read_length("3 cwt"), Asks.NOTHING),
        (read_mass("3 tons"), Asks.TON),
        (read_mass("3 t"), Asks.TON),
        (read_mass("3 cwt 1 qr", ton="short"), Asks.TON),
        (read_mass("3 tons 1 cwt", ton="metric"), Asks.TON),
        (read_mass("3 tons 5 lb", ton="metric"), Asks.TON),
        (read_mass("23-4-2-11", ton="short"), Asks.TON),
        (read_mass("4-2-11"), Asks.UNIT),
        (read_mass("3 c"), Asks.UNIT),
        (read_mass("1/0 cwt"), Asks.NUMBER),
        (read_pressure("28 tons/sq in"), Asks.TON),
        (read_pressure("1/0 psi"), Asks.NUMBER),
        (read_angle("30 1/2° 15'"), Asks.NUMBER),
        (read_angle("1/0°"), Asks.NUMBER),
        (read_gauge("10 gauge"), Asks.GAUGE),
        (read_gauge("10 B.W.G."), Asks.NOTHING),
        (read_thread('3/4"'), Asks.THREAD),
        (read_thread('3/4" Whit.'), Asks.THREAD),
        (read_thread("1/2-13 B.S.W."), Asks.THREAD),
        (read_thread('1/0" B.S.W.'), Asks.NUMBER),
        (read_thread('1 1/16" B.S.W.'), Asks.NOTHING),
    ],
    ids=str,
)
def test_a_refusal_tells_what_it_asks_about(read: object, asks: Asks) -> None:
    assert isinstance(read, NotRead)
    assert read.asks is asks


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("a jack for 10 tons", [Asks.TON]),
        ('1 and 1/4" dia', [Asks.NUMBER]),
        ('3-4"', [Asks.NUMBER]),
        ("1,234 mm and 5,678 mm", [Asks.NUMBER, Asks.NUMBER]),
        ('3" dia', []),
    ],
)
def test_in_running_text_too(text: str, asks: list[Asks]) -> None:
    assert [one.refusal.asks for one in find_unread(text)] == asks


def test_every_fraction_in_a_text() -> None:
    assert fractions_in("1.1/4 x 3⅔ x 4/8 lb/ft") == (
        WrittenFraction("1/4", 1, 4),
        WrittenFraction("⅔", 2, 3),
        WrittenFraction("4/8", 4, 8),
    )
    assert fractions_in("drawing SL-1002, 25 mm") == ()
