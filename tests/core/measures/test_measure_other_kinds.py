"""Areas, pressures, angles, gauges and threads; and the kind told by the units."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from specreg.core.measures.records import Kind, Measure, NotRead
from specreg.core.measures.written import (
    read_angle,
    read_area,
    read_gauge,
    read_measure,
    read_pressure,
    read_thread,
)

INCH = Fraction(254, 10)
PSI = Fraction("0.45359237") * Fraction("9.80665") / Fraction("0.0254") ** 2


def measured(read: Measure | NotRead) -> Measure:
    """A reading that is a measure."""
    assert isinstance(read, Measure), str(read)
    return read


@pytest.mark.parametrize(
    ("written", "square_inches"),
    [
        ("90 sq ft", 12960), ("90 sq. ft.", 12960), ("90 square feet", 12960), ("2 ft2", 288), ("2 ft²", 288),
        ("3 sq ft 20 sq in", 452), ("2 sq. yds.", 2592), ("90 ft super", 12960), ("4 sq.in.", 4), ("4 in²", 4),
    ],
)  # fmt: skip
def test_areas(written: str, square_inches: int) -> None:
    assert measured(read_area(written)).value == square_inches * INCH**2


def test_metric_areas() -> None:
    assert measured(read_area("1,5 m²")).value == 1_500_000
    assert measured(read_area("12 mm2")).value == 12
    assert measured(read_area("3 sq cm")).value == 300


@pytest.mark.parametrize(
    "written",
    ["100 lb/sq in", "100 lbs. per sq. in.", "100 lb/in2", "100 lbf/in²", "100 psi", "100 p.s.i.",
    "100 lb per square inch"],
)  # fmt: skip
def test_pounds_on_the_square_inch(written: str) -> None:
    read = measured(read_pressure(written))
    assert read.kind is Kind.PRESSURE
    assert read.value == 100 * PSI


@pytest.mark.parametrize(
    ("written", "pascals"),
    [
        ("7 bar", "700000"), ("15 N/mm²", "15000000"), ("15 MPa", "15000000"), ("150 kPa", "150000"),
        ("5 kN/m2", "5000"),
        ("1 kgf/cm2", "98066.5"), ("3 Pa", "3"), ("1,5 bar", "150000"),
    ],
)  # fmt: skip
def test_metric_pressures(written: str, pascals: str) -> None:
    assert measured(read_pressure(written)).value == Fraction(pascals)


@pytest.mark.parametrize(
    ("written", "degrees"),
    [
        ("30°", "30"), ("30 deg", "30"), ("30 degrees", "30"), ("12 1/2°", "25/2"), ("7.5 deg.", "15/2"),
        ("30° 15'", "121/4"), ("30°15'36\"", "3026/100"), ("30 deg 15 min", "121/4"), ("45º", "45"),
    ],
)  # fmt: skip
def test_angles(written: str, degrees: str) -> None:
    assert measured(read_angle(written)).value == Fraction(degrees)


def test_temperatures_are_no_angles() -> None:
    for written in ("20°C", "68 °F", "20 deg C", "20 degrees C"):
        assert isinstance(read_angle(written), NotRead)


def test_minutes_beyond_sixty_are_doubtful_and_parts_of_parts_refused() -> None:
    assert measured(read_angle("30° 75'")).doubts
    assert isinstance(read_angle("30.5° 15'"), NotRead)


@pytest.mark.parametrize(
    ("written", "inches", "name"),
    [
        ("10 S.W.G.", "0.128", "10 S.W.G."), ("No. 10 SWG", "0.128", "10 S.W.G."), ("S.W.G. 10", "0.128", "10 S.W.G."),
        ("10 swg", "0.128", "10 S.W.G."), ("10 I.S.W.G.", "0.128", "10 S.W.G."), ("4/0 S.W.G.", "0.4", "4/0 S.W.G."),
        ("0000 SWG", "0.4", "4/0 S.W.G."), ("1/0 SWG", "0.324", "0 S.W.G."), ("16 B.G.", "0.0625", "16 B.G."),
        ("15/0 BG", "1", "15/0 B.G."), ("10 standard wire gauge", "0.128", "10 S.W.G."),
        ("10 U.S. M.S.G.", "0.1345", "10 M.S.G."),
    ],
)  # fmt: skip
def test_gauges(written: str, inches: str, name: str) -> None:
    read = measured(read_gauge(written))
    assert read.kind is Kind.GAUGE
    assert read.value == Fraction(inches) * INCH
    assert read.name == name
    assert "in secondary sources" in read.basis


@pytest.mark.parametrize("written", ["10", "10 gauge", "10g", "10 ga.", "No. 10", "10 W.G."])
def test_a_gauge_without_its_name_is_refused(written: str) -> None:
    read = read_gauge(written)
    assert isinstance(read, NotRead)
    assert "S.W.G." in read.do


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("31 S.W.G.", "runs from 7/0 to 30"), ("10 B.W.G.", "no table of the Birmingham wire gauge"),
        ("13 M.S.G.", "has no 13"), ("10 B. & S.", "no table"), ('0.128"', "this is a length"),
    ],
)  # fmt: skip
def test_gauges_without_a_figure_are_refused(written: str, why: str) -> None:
    assert why in str(read_gauge(written))


@pytest.mark.parametrize(
    ("written", "diameter", "pitch", "name"),
    [
        ('1 1/4" B.S.W.', "31.75", "25.4/7", '1 1/4" B.S.W.'), ('1.1/4" BSW', "31.75", "25.4/7", '1 1/4" B.S.W.'),
        ("1¼ in. B.S.W.", "31.75", "25.4/7", '1 1/4" B.S.W.'), ("7/8 bsf", "22.225", "25.4/11", '7/8" B.S.F.'),
        ('1" B.S.P.', "25.4", "25.4/11", '1" B.S.P.'), ("1/2-13 UNC", "12.7", "25.4/13", '1/2" UNC'),
        ('1/2"-20 U.N.F.', "12.7", "25.4/20", '1/2" UNF'), ('B.S.W. 3/4"', "19.05", "25.4/10", '3/4" B.S.W.'),
        ('1 1/4" dia B.S.F.', "31.75", "25.4/9", '1 1/4" B.S.F.'), ("M12", "12", "1.75/1", "M12 x 1.75"),
        ("M12 x 1.25", "12", "1.25/1", "M12 x 1.25"), ("M12×1,25", "12", "1.25/1", "M12 x 1.25"),
        ("M 8", "8", "1.25/1", "M8 x 1.25"),
        ("M10-6g", "10", "1.5/1", "M10 x 1.5"), ("M13 x 1.5", "13", "1.5/1", "M13 x 1.5"),
        ("M1.6", "1.6", "0.35/1", "M1.6 x 0.35"),
    ],
)  # fmt: skip
def test_threads(written: str, diameter: str, pitch: str, name: str) -> None:
    read = measured(read_thread(written))
    above, below = map(Fraction, pitch.split("/"))
    assert (read.kind, read.value, read.pitch, read.name) == (Kind.THREAD, Fraction(diameter), above / below, name)


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ('1 1/4"', "which thread?"), ("1 1/4", "which thread?"), ('1 1/4" Whitworth', "Name the series"),
        ("M13", "Write the pitch"), ("M12 x 50", "stands `x 50`"), ('1 1/16" B.S.W.', "no size of the table"),
        ("1/2-12 UNC", "13 threads to the inch"), ("", "nothing is written"), ('1 5/4" B.S.W.', "no proper fraction"),
    ],
)  # fmt: skip
def test_threads_refused(written: str, why: str) -> None:
    assert why in str(read_thread(written))


def test_what_is_from_memory_is_said_so() -> None:
    assert "from memory" in measured(read_thread('2" B.S.F.')).basis
    assert "from memory" not in measured(read_thread('1" B.S.F.')).basis


def test_a_size_that_may_be_a_count_is_doubtful() -> None:
    assert measured(read_thread("2 B.S.W.")).doubts == ("2 is taken as inches, and may be how many",)
    assert measured(read_thread('2" B.S.W.')).doubts == ()


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("19' 6\"", Kind.LENGTH), ("3 cwt 1 qr", Kind.MASS), ("90 sq ft", Kind.AREA), ("100 lb/sq in", Kind.PRESSURE),
        ("30° 15'", Kind.ANGLE), ("10 S.W.G.", Kind.GAUGE), ('1 1/4" B.S.W.', Kind.THREAD), ("M12", Kind.THREAD),
        ("about 5 g", Kind.MASS),
    ],
)  # fmt: skip
def test_the_units_tell_the_kind(written: str, kind: Kind) -> None:
    read = measured(read_measure(written))
    assert read.kind is kind
    assert read.written == written


@pytest.mark.parametrize("written", ["25", "23-4-2-11", "10 gauge", "2 tons", "", "-", "6' x 3'", "150 to 300"])
def test_what_the_units_do_not_tell_is_refused(written: str) -> None:
    assert isinstance(read_measure(written), NotRead)


def test_every_kind_refuses_every_other() -> None:
    readers: dict[Kind, Callable[[str], Measure | NotRead]] = {
        Kind.AREA: read_area, Kind.PRESSURE: read_pressure, Kind.ANGLE: read_angle, Kind.GAUGE: read_gauge,
        Kind.THREAD: read_thread,
    }  # fmt: skip
    written = {
        Kind.AREA: "90 sq ft",
        Kind.PRESSURE: "7 bar",
        Kind.ANGLE: "30°",
        Kind.GAUGE: "8 B.G.",
        Kind.THREAD: "M8",
    }
    for asked, reader in readers.items():
        for kind, text in written.items():
            assert isinstance(reader(text), Measure) is (asked is kind)
