"""Measures in running text: every one with its place, and nothing that only looks like one."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.core.measures.finding import MARKED, best_at, find_measures, find_unread
from specreg.core.measures.gauges import gauge_at
from specreg.core.measures.masses import mass_at
from specreg.core.measures.others import angle_at, area_at, pressure_at
from specreg.core.measures.records import Kind, Measure, NotRead, Ton
from specreg.core.measures.signs import plain
from specreg.core.measures.written import (
    read_angle,
    read_area,
    read_gauge,
    read_length,
    read_mass,
    read_measure,
    read_pressure,
    read_thread,
)

INCH = Fraction(254, 10)
SIGNS = "0123456789 /.,-'\"½¼⅓×x″′°²³±~–\u00a0"
PIECES = [
    *SIGNS, "in", "ft", "mm", "m", "kg", "lb", "cwt", "qr", "tons", "t", "c", "q", "S.W.G.", "B.S.W.", "M12", "dia",
    "about ", "sq ", " per ", " a yard", " to ", " and ", "No. ", "１", "ſ", "K", "İ", "①", "٣", "ß", "\n", "Ø",
    "(", ")", "gauge",
]  # fmt: skip
trade_text = st.lists(st.sampled_from(PIECES), max_size=30).map("".join)


def found(text: str, ton: str = "") -> list[str]:
    """What is found in a text, as written."""
    return [one.measure.written for one in find_measures(text, ton=ton)]


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ('2" bore x 10 S.W.G. x 4\' 0"', ['2"', "10 S.W.G.", "4' 0\""]),
        ("5/8\" plate 18' 0\" x 1' 2\"", ['5/8"', "18' 0\"", "1' 2\""]),
        ('3" x 3" x 3/8" angle x 11\' 9"', ['3"', '3"', '3/8"', "11' 9\""]),
        ('4 1/4" o.d. x 3 1/2" i.d. x 5"', ['4 1/4"', '3 1/2"', '5"']),
        ('3"x5"', ['3"', '5"']),
        ("50mmx6mm", ["50mm", "6mm"]),
        ("M24 x 110 mm", ["M24", "110 mm"]),
        ("M12x1.25x50", ["M12x1.25"]),
        ("0.15 sq in a core, 150 ft long", ["0.15 sq in", "150 ft"]),
        ('6" dial, to 200 lb/sq in', ['6"', "200 lb/sq in"]),
        ("19'-6½\" between centres", ["19'-6½\""]),
        ("between centres 19'-6.", ["19'-6"]),
        ("Ø20 mm, at 30° 15'", ["20 mm", "30° 15'"]),
        ("weighs 3 cwt 1 qr 17 lb.", ["3 cwt 1 qr 17 lb."]),
        ("lift: about 1 ton 3 cwt 3 qr", ["about 1 ton 3 cwt 3 qr"]),
        ("see 6 in pipe, 12 in. dia", ["6 in", "12 in."]),
        ("S.W.G. 10 sheet, No. 16 B.G. sheet", ["S.W.G. 10", "No. 16 B.G."]),
        ("ends 7/8\" B.S.F. x 3\"", ['7/8" B.S.F.', '3"']),
        ("3/4\", 1/2\" and 3/8\" bolts", ['3/4"', '1/2"', '3/8"']),
        ("1 250 mm long", ["1 250 mm"]),
        ("3/8\" m.s. plate, 14 lb m.s. bar", ['3/8"', "14 lb"]),
        ("tarred canvas, about 90 sq ft", ["about 90 sq ft"]),
    ],
)  # fmt: skip
def test_found(text: str, written: list[str]) -> None:
    assert found(text) == written


@pytest.mark.parametrize(
    "text",
    [
        "", "no figures", "slope 1 in 12", "taper 1 in 32", "2 in number", "4 in all", "3 in the first crane",
        "rail of 100 lb a yard", "100 lb/yd", "15 ft a minute", "60 ft/min", "50 lb ft", "10 ft-lb", "5 cu ft", "5 ft3",
        "item 4.1.2 in part", "SL-1002/1 in red", "QD-05127-2 in red", "QD-05127-6 ft 3 in", "the 1920's", "20°C",
        "£5 m",
        'marked "No. 3"', 'see "12" there', "see 'item 3' there", "10 gauge", "3 quarters of an hour", "2 c",
        "440 volts",
        "3 in Hg", "12 in of water", "5 M", "M100 mark", "LM12", "M12-04", "4 by 4 engine", "Ø20 H7",
        "10 m.s. plates", "3 g.m. bushes", "9 t.p.i.", "2 c.i. brackets", "4 t. p. i.", "120 lb-in", "3 ft tons",
    ],
)  # fmt: skip
def test_not_found(text: str) -> None:
    assert found(text, "long") == []


def test_numbers_that_share_a_unit_are_found_each() -> None:
    places = find_measures("10, 16 and 20 S.W.G. sheet")
    assert [(one.measure.written, one.measure.name) for one in places] == [
        ("10", "10 S.W.G."),
        ("16", "16 S.W.G."),
        ("20 S.W.G.", "20 S.W.G."),
    ]
    assert [bool(one.measure.doubts) for one in places] == [True, True, False]
    assert [one.measure.value for one in find_measures("50 x 50 x 6 mm angle")] == [50, 50, 6]
    assert found("2 x 5 cwt") == ["5 cwt"]
    assert found("3 x 10 S.W.G.") == ["10 S.W.G."]


@pytest.mark.parametrize("text", ["10 to 12 mm", "10-12 mm", "10 mm to 12 mm", "10 mm – 12 mm"])
def test_the_ends_of_a_range_are_found_with_a_doubt(text: str) -> None:
    one, other = find_measures(text)
    assert [one.measure.value, other.measure.value] == [10, 12]
    for place in (one, other):
        assert any("range" in doubt for doubt in place.measure.doubts)


def test_a_thread_behind_a_length_is_that_of_the_diameter() -> None:
    text = 'Bolt, 1 1/4" dia x 5" B.S.W. with nut'
    diameter, length, thread = find_measures(text)
    assert (diameter.measure.written, length.measure.written, thread.measure.written) == ('1 1/4"', '5"', "B.S.W.")
    assert thread.measure.kind is Kind.THREAD
    assert (thread.measure.value, thread.measure.pitch) == (Fraction(5, 4) * INCH, INCH / 7)
    assert thread.measure.doubts == ()
    assert 'on 1 1/4": ' in thread.measure.basis
    *_, not_called_so = find_measures('3/4" x 3" B.S.W. bolt')
    assert not_called_so.measure.name == '3/4" B.S.W.'
    assert not_called_so.measure.doubts


def test_what_is_refused_in_running_text_is_told_with_its_place() -> None:
    text = 'Screw jack, 10 tons; 1 in. 1/4 bore; 31 S.W.G.; 1 and 1/4" bolts; 3-4" pipe; -0.002"; 1,250 mm'
    places = find_unread(text)
    assert [text[place.begin : place.end] for place in places] == [
        "10 tons", "1 in. 1/4", "31 S.W.G.", '1 and 1/4"', '3-4"', '0.002"', "1,250 mm",
    ]  # fmt: skip
    assert all(place.refusal.written == text[place.begin : place.end] for place in places)
    assert found(text) == []
    assert found(text, "long") == ["10 tons"]
    with pytest.raises(ValueError, match="imperial"):
        find_measures("10 tons", ton="imperial")


def test_initials_are_not_refused_as_units() -> None:
    assert find_unread("9 t.p.i., 10 m.s. plates, 3 c. 2 off") == ()


def test_every_size_and_weight_of_the_sample_is_read() -> None:
    cells = [
        cell.strip()
        for path in sorted((Path(__file__).parents[3] / "sample_spec" / "spec").glob("*.md"))
        for line in path.read_text(encoding="utf-8").splitlines()
        for cell in line.split("|")
    ]
    refused = {place.refusal.why for cell in cells for place in find_unread(cell)}
    assert refused == {"which ton?"}
    assert not [cell for cell in cells if find_unread(cell, ton="long")]
    weights = [cell for cell in cells if re.fullmatch("[0-9].*(?: lb| cwt| qr| oz)", cell)]
    assert len(weights) > 1000
    for weight in weights:
        read = read_mass(weight)
        assert isinstance(read, Measure), weight
        assert read.doubts == ()


def test_no_end_of_a_measure_is_taken_for_one() -> None:
    assert found("10-12 ft 6 in") == []
    assert found("19'-13 long") == []
    assert found("12345678901234 mm") == []


def test_feet_with_figures_behind_are_doubtful() -> None:
    (place,) = find_measures("19' 6 off")
    assert place.measure.doubts == ("6 behind the foot mark may be inches",)


@given(st.one_of(trade_text, st.text()), st.sampled_from(["", "long", "short", "metric"]))
def test_places_are_verbatim_in_order_and_never_overlap(text: str, ton: str) -> None:
    places = find_measures(text, ton=ton)
    refused = find_unread(text, ton=ton)
    end = 0
    spans = [(one.begin, one.end) for one in places] + [(one.begin, one.end) for one in refused]
    for begin, finish in sorted(spans):
        assert end <= begin < finish <= len(text)
        end = finish
    for place in places:
        assert text[place.begin : place.end] == place.measure.written
        assert place.measure.value >= 0
        assert (place.measure.pitch is not None) == (place.measure.kind is Kind.THREAD)
    for other in refused:
        assert text[other.begin : other.end] == other.refusal.written


@given(st.one_of(trade_text, st.text()))
def test_no_text_raises_an_error(text: str) -> None:
    reads: list[Measure | NotRead] = [
        read_length(text), read_length(text, in_a_length_field=True, unit="in"), read_length(text, unit="mm"),
        *(read_mass(text, ton=ton) for ton in ("", "long", "short", "metric")),
        read_area(text), read_pressure(text), read_angle(text), read_gauge(text), read_thread(text), read_measure(text),
    ]  # fmt: skip
    for read in reads:
        assert read.written == text
        if isinstance(read, NotRead):
            assert str(read).startswith(text)
            assert read.why
            assert read.do


@given(trade_text)
def test_a_field_read_whole_is_read_alike_in_running_text(text: str) -> None:
    """What `read_measure` reads, finding reads too: one measure with the same value, or a doubt, or none."""
    read = read_measure(text)
    places = find_measures(text)
    if isinstance(read, Measure) and len(places) == 1 and places[0].measure.written == text.strip():
        assert places[0].measure.value == read.value
        assert places[0].measure.kind is read.kind


@given(st.tuples(st.sampled_from(["3", "1/2", "19", "5 1/4", "1,200", ".75", "½"]), st.sampled_from("'\""), trade_text))
def test_of_a_number_with_the_mark_of_feet_or_inches_no_other_kind_reads_more(said: tuple[str, str, str]) -> None:
    text, ton = plain("".join(said)), Ton("long")
    assert MARKED.match(text)
    others = (gauge_at(text, 0), angle_at(text, 0), pressure_at(text, 0, ton), area_at(text, 0), mass_at(text, 0, ton))
    best = best_at(text, 0, ton)
    assert all(one is None or (best is not None and one.end <= best.end) for one in others)
