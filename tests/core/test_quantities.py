"""What the Off, Per and Spares fields say."""

from __future__ import annotations

import pytest

from specreg.core.quantities import Link, OffKind, Spares, parse_off, parse_spares


@pytest.mark.parametrize(
    ("off", "per", "links"),
    [
        ("12", "4.1", (Link(12, "4.1"),)),
        ("12", "machine", (Link(12, "machine"),)),
        ("12", "per Machine", (Link(12, "machine"),)),
        ("12", "order", (Link(12, "order"),)),
        ("12 off", "item 4.1", (Link(12, "4.1"),)),
        ("2 per 4.1, 1 per 6.3", "", (Link(2, "4.1"), Link(1, "6.3"))),
        ("2 per 4.1 and 1 per 6.3", "", (Link(2, "4.1"), Link(1, "6.3"))),
        ("1 per machine", "", (Link(1, "machine"),)),
        ("6 per order", "", (Link(6, "order"),)),
        ("6 per the order", "", (Link(6, "order"),)),
        ("2 per 4.1", "4.1", (Link(2, "4.1"),)),
    ],
)
def test_a_count_says_how_many_per_what(off: str, per: str, links: tuple[Link, ...]) -> None:
    read = parse_off(off, per)
    assert (read.kind, read.links, read.problem) == (OffKind.COUNT, links, "")


@pytest.mark.parametrize(
    ("off", "per", "kind", "written"),
    [
        ("as required", "", OffKind.AS_REQUIRED, "as required"),
        ("A/R", "", OffKind.AS_REQUIRED, "as required"),
        ("AR", "", OffKind.AS_REQUIRED, "as required"),
        ("as reqd", "", OffKind.AS_REQUIRED, "as required"),
        ("As req'd.", "", OffKind.AS_REQUIRED, "as required"),
        ("to suit", "", OffKind.TO_SUIT, "to suit"),
        ("lot", "", OffKind.LOT, "lot"),
        ("1 lot", "machine", OffKind.LOT, "1 lot per machine"),
        ("reference only", "", OffKind.REFERENCE, "reference only"),
        ("1 pair per machine", "", OffKind.PAIR, "1 pair per machine"),
        ("2 sets per 4.1", "", OffKind.SET, "2 sets per 4.1"),
        ("2 sets", "4.1", OffKind.SET, "2 sets per 4.1"),
    ],
)
def test_what_is_no_count_keeps_its_kind_and_words(off: str, per: str, kind: OffKind, written: str) -> None:
    read = parse_off(off, per)
    assert (read.kind, read.written, read.problem) == (kind, written, "")


@pytest.mark.parametrize(
    ("off", "per", "said"),
    [
        ("", "", "no number off is given"),
        ("12", "", "write `12 per machine`"),
        ("1 pair", "", "write `1 pair per machine`"),
        ("2 per 4.1, 1", "", "`1` does not say per what"),
        ("1,200 per machine", "", "`1` does not say per what"),
        ("-2", "4.1", "below nought"),
        ("−2 per machine", "", "below nought"),
        ("0", "4.1", "nought"),
        ("2.5 per machine", "", "no whole number"),
        ("1/2", "4.1", "no whole number"),
        ("2½ per 4.1", "", "`2½ per 4.1` is no whole number"),
        ("½", "4.1", "no whole number"),
        ("twelve", "4.1", "cannot be read"),
        ("12 ft", "machine", "cannot be read"),
        ("12", "4.1, 6.3", "`12 per 4.1, 12 per 6.3`"),
        ("2 per 4.1", "6.3", "leave one of them empty"),
        ("2 per 4.1, 3 per 04.1", "", "twice"),
        ("2 per 4.1, 1 pair per 6.3", "", "mixes count and pair"),
        ("9" * 5000, "machine", "cannot be read"),
    ],
)
def test_nothing_is_guessed_of_a_number_off(off: str, per: str, said: str) -> None:
    read = parse_off(off, per)
    assert said in read.problem
    assert read.links == ()


def test_spares_are_per_machine_and_per_order() -> None:
    assert parse_spares("1 per machine, 2 per order") == Spares(1, 2, written="1 per machine, 2 per order")
    assert parse_spares("") == parse_spares("none") == Spares()
    pair = parse_spares("1 pair per order")
    assert (pair.kind, pair.written, pair.per_order) == (OffKind.PAIR, "1 pair per order", 0)


@pytest.mark.parametrize(
    "text",
    ["2", "1 per 4.1", "as required", "-1 per order", "1 per order, 2 per order", "1 per machine, 1 pair per order"],
)
def test_spares_that_cannot_be_reckoned_are_a_sentence(text: str) -> None:
    read = parse_spares(text)
    assert "spares" in read.problem
    assert (read.per_machine, read.per_order) == (0, 0)
