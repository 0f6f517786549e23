"""Quantities against published figures and an independent package of units, the source beside each.

The standards themselves were not seen: gauges and threads stand here as tabulated in secondary sources.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pint
import pytest

from specreg.core.measures.formatting import tons_and_hundredweights
from specreg.core.measures.gauges import BG, MSG, SWG, Gauge
from specreg.core.measures.records import Measure, NotRead
from specreg.core.measures.threads import BSF, BSP, BSW, METRIC_COARSE, UNC, UNF
from specreg.core.measures.units import LENGTHS, MASSES, by_name
from specreg.core.measures.written import (
    read_area,
    read_gauge,
    read_length,
    read_mass,
    read_pressure,
    read_thread,
)

INCH = Fraction(254, 10)

# Forms with feet and inch marks as in http://www.woodworkings.ca/Carpentry/Signs-To-Indicate-Measurements.html (5' 10",
# 3'2"), with ins. as in the Tinman's Manual (https://chestofbooks.com/crafts/metal/Builder-Mechanic/...); the other
# forms from memory. Values are arithmetic.
LENGTH_VECTORS = [
    ("19' 6\"", "234", "5943.6"), ("19'6\"", "234", "5943.6"), ("19 ft 6 in", "234", "5943.6"),
    ("19 ft. 6 in.", "234", "5943.6"), ("19 ft. 6 ins.", "234", "5943.6"), ("19'-6 1/2\"", "469/2", "5956.3"),
    ("19'-6½\"", "469/2", "5956.3"), ("3'-0\"", "36", "914.4"), ("3'", "36", "914.4"), ("0'-6\"", "6", "152.4"),
    ('6"', "6", "152.4"), ('1.1/4"', "5/4", "31.75"), ("1 1/4 in", "5/4", "31.75"), ('1-1/4"', "5/4", "31.75"),
    ('1¼"', "5/4", "31.75"), ("7/8 in.", "7/8", "22.225"), ("1 1/8 ins", "9/8", "28.575"),
    ("2 ft. 6 ins.", "30", "762"), ('1.25"', "5/4", "31.75"), ('.625"', "5/8", "15.875"),
    ("12'-11 15/16\"", "2495/16", "3960.8125"), ("5' 10''", "70", "1778"), ("5′ 10″", "70", "1778"),
]  # fmt: skip
REFUSED_LENGTHS = ["1 in. 1/4", "6' x 3' 2\"", "25.4", "1.1/4"]

# Parts of a weight: 16 oz, 28 lb, 4 qr, 20 cwt from arithmetics scanned at
# https://books.google.gr/books?id=_h83AAAAMAAJ&pg=PA52 and https://books.google.gr/books?id=NB8EAAAAQAAJ&pg=PA65; the
# forms with points and dashes from memory. Values are arithmetic.
MASS_VECTORS = [
    ("23 tons 4 cwt 2 qr 11 lb", 52035, "23602.67897295"), ("23 t. 4 c. 2 q. 11 lb.", 52035, "23602.67897295"),
    ("23-4-2-11", 52035, "23602.67897295"), ("23 . 4 . 2 . 11", 52035, "23602.67897295"),
    ("46 ton 15 cwt 2 qr 9 lb", 104785, "47529.67649045"), ("1 ton 3 cwt 2 qr 14 lb", 2646, "1200.20541102"),
    ("0-19-3-27", 2239, "1015.59331643"), ("4 cwt", 448, "203.20938176"),
    ("1 cwt 3 qrs 27 lbs", 223, "101.15109851"), ("2 tons", 4480, "2032.09381760"),
]  # fmt: skip

# http://www.backyardman.com/2008/03/31/wire-gage-conversion-chart/, https://toolcroze.com/swg-wire-gauge-calculator and
# the Python package fluids 1.3.1 (BSWG) agree; https://www.themodelmakersresource.co.uk/facts/facts015.html misprints
# No. 6 as 0.182.
SWG_MM = {
    "7/0": "12.7000", "6/0": "11.7856", "5/0": "10.9728", "4/0": "10.1600", "3/0": "9.4488", "2/0": "8.8392",
    "0": "8.2296", "1": "7.6200", "2": "7.0104", "3": "6.4008", "4": "5.8928", "5": "5.3848", "6": "4.8768",
    "7": "4.4704", "8": "4.0640", "9": "3.6576", "10": "3.2512", "11": "2.9464", "12": "2.6416", "13": "2.3368",
    "14": "2.0320", "15": "1.8288", "16": "1.6256", "17": "1.4224", "18": "1.2192", "19": "1.0160", "20": "0.9144",
    "21": "0.8128", "22": "0.7112", "23": "0.6096", "24": "0.5588", "25": "0.5080", "26": "0.4572", "27": "0.4166",
    "28": "0.3759", "29": "0.3454", "30": "0.3150",
}  # fmt: skip
# Birmingham gauge 1914: http://www.sizes.com/materls/sheet_and_hoop_gauge.htm
BG_MM = {
    "15/0": "25.4000", "14/0": "24.3408", "13/0": "23.2842", "12/0": "22.2250", "11/0": "21.1658", "10/0": "20.1092",
    "9/0": "19.0500", "8/0": "17.9908", "7/0": "16.9316", "6/0": "15.8750", "5/0": "14.9428", "4/0": "13.7566",
    "3/0": "12.7000", "2/0": "11.3081", "0": "10.0686", "1": "8.9713", "2": "7.9934", "3": "7.1222", "4": "6.3500",
    "5": "5.6515", "6": "5.0317", "7": "4.4806", "8": "3.9878", "9": "3.5509", "10": "3.1750", "11": "2.8270",
    "12": "2.5171", "13": "2.2403", "14": "1.9939", "15": "1.7755", "16": "1.5875", "17": "1.4122", "18": "1.2573",
    "19": "1.1176", "20": "0.9957", "21": "0.8865", "22": "0.7937",
}  # fmt: skip
# American manufacturers' standard gauge, pounds on the square foot at 41.82 lb an inch:
# https://roofonline.com/weight-of-sheet-steel and the Python package steel-sections 0.1.0.
MSG_POUNDS = {
    "3": "10.000", "4": "9.375", "5": "8.750", "6": "8.125", "7": "7.500", "8": "6.875", "9": "6.250", "10": "5.625",
    "11": "5.000", "12": "4.375", "14": "3.125", "16": "2.500", "18": "2.000", "20": "1.500", "22": "1.250",
    "24": "1.000", "26": "0.750",
}  # fmt: skip

# Threads to the inch. B.S.W.: https://trfastenings.com/knowledge-base/thread-geometries/british-standard-whitworth and
# https://studylib.net/doc/18133655/threading-tables-whitworth--bsf--etc
BSW_THREADS = {
    "1/8": "40", "3/16": "24", "7/32": "24", "1/4": "20", "5/16": "18", "3/8": "16", "7/16": "14", "1/2": "12",
    "9/16": "12", "5/8": "11", "3/4": "10", "7/8": "9", "1": "8", "1 1/8": "7", "1 1/4": "7", "1 3/8": "6",
    "1 1/2": "6", "1 5/8": "5", "1 3/4": "5", "1 7/8": "4.5", "2": "4.5", "2 1/4": "4", "2 1/2": "4", "2 3/4": "3.5",
    "3": "3.5", "3 1/4": "3.25", "3 1/2": "3.25", "3 3/4": "3", "4": "3", "4 1/2": "2.875", "5": "2.75",
    "5 1/2": "2.625", "6": "2.5",
}  # fmt: skip
# B.S.F.: http://www.tradeclassicbikes.co.uk/page17.htm up to 7/8, https://en.wikipedia.org/wiki/British_Standard_Fine
# over it.
BSF_THREADS = {
    "3/16": "32", "7/32": "28", "1/4": "26", "5/16": "22", "3/8": "20", "7/16": "18", "1/2": "16", "9/16": "16",
    "5/8": "14", "3/4": "12", "7/8": "11", "1": "10", "1 1/8": "9", "1 1/4": "9", "1 1/2": "8",
}  # fmt: skip
# B.S.P., pitch in mm: https://code.dcldesign.co.uk/index.php/Pipework_-_BSP_threads
BSP_PITCH_MM = {
    "1/16": "0.907", "1/8": "0.907", "1/4": "1.337", "3/8": "1.337", "1/2": "1.814", "5/8": "1.814", "3/4": "1.814",
    "7/8": "1.814", "1": "2.309", "1 1/8": "2.309", "1 1/4": "2.309",
}  # fmt: skip
# UNC, pitch diameter in inches, which is the major diameter less 0.649519 of the pitch:
# https://www.trfastenings.com/products/knowledgebase/thread-geometry/unified-coarse-unc
UNC_PITCH_DIAMETER = {
    "1/4": "0.2175", "5/16": "0.2764", "3/8": "0.3344", "7/16": "0.3911", "1/2": "0.4500", "9/16": "0.5084",
    "5/8": "0.5660", "3/4": "0.6850", "7/8": "0.8028", "1": "0.9188", "1 1/8": "1.0322", "1 1/4": "1.1572",
    "1 3/8": "1.2667", "1 1/2": "1.3917", "1 3/4": "1.6201", "2": "1.8557", "2 1/4": "2.1057", "2 1/2": "2.3376",
    "2 3/4": "2.5876", "3": "2.8376",
}  # fmt: skip
# UNF: http://www.tradeclassicbikes.co.uk/page17.htm up to 7/8, https://www.machiningdoctor.com/threadinfo?tid=110 at 1.
UNF_THREADS = {
    "1/4": "28", "5/16": "24", "3/8": "24", "7/16": "20", "1/2": "20", "9/16": "18", "5/8": "18", "3/4": "16",
    "7/8": "14", "1": "12",
}  # fmt: skip
# ISO metric coarse: https://engineeringtoolbox.com/metric-threads-d_777.html (ISO 724) and
# https://mlc.org.uk/guides/metric-thread-pitch-chart (ISO 261).
METRIC_PITCH = {
    "1.6": "0.35", "2": "0.4", "2.5": "0.45", "3": "0.5", "4": "0.7", "5": "0.8", "6": "1", "8": "1.25", "10": "1.5",
    "12": "1.75", "14": "2", "16": "2", "18": "2.5", "20": "2.5", "22": "2.5", "24": "3", "27": "3", "30": "3.5",
    "33": "3.5", "36": "4", "39": "4", "42": "4.5", "45": "4.5", "48": "5", "52": "5", "56": "5.5", "60": "5.5",
    "64": "6",
}  # fmt: skip
# Published stress areas, mm2 (same sources), which are pi/4 (d - 0.9382 p)^2.
STRESS_AREAS = {
    "4": "8.78", "5": "14.2", "6": "20.1", "8": "36.6", "10": "58.0", "12": "84.3", "16": "157", "20": "245",
    "24": "353", "30": "561", "36": "817", "42": "1120", "48": "1470", "56": "2030", "64": "2680",
}  # fmt: skip


def measured(read: Measure | NotRead) -> Measure:
    """A reading that is a measure."""
    assert isinstance(read, Measure), str(read)
    return read


def inches(size: str) -> Fraction:
    """A size written as whole number and fraction."""
    return sum(map(Fraction, size.split()), Fraction(0))


@pytest.mark.parametrize(("written", "in_inches", "in_millimetres"), LENGTH_VECTORS)
def test_lengths(written: str, in_inches: str, in_millimetres: str) -> None:
    read = measured(read_length(written))
    assert read.value == Fraction(in_inches) * INCH == Fraction(in_millimetres)


def test_marks_left_off_are_read_in_a_length_field_only() -> None:
    assert measured(read_length("19-6 1/2", in_a_length_field=True)).value == Fraction("5956.3")
    assert isinstance(read_length("19-6 1/2"), NotRead)


@pytest.mark.parametrize("written", REFUSED_LENGTHS)
def test_lengths_refused(written: str) -> None:
    assert isinstance(read_length(written), NotRead)
    assert isinstance(read_length(written, in_a_length_field=True), NotRead)


@pytest.mark.parametrize(("written", "in_pounds", "in_kilograms"), MASS_VECTORS)
def test_weights(written: str, in_pounds: int, in_kilograms: str) -> None:
    read = measured(read_mass(written, ton="long"))
    assert read.value == in_pounds * Fraction("0.45359237") == Fraction(in_kilograms)


def test_weights_carry() -> None:
    for written, carried in (("20 cwt", "1 ton"), ("4 qr", "1 cwt"), ("28 lb", "1 qr"), ("0-19-3-28", "1 ton")):
        assert tons_and_hundredweights(measured(read_mass(written)).value) == carried


def test_sums_of_weights() -> None:
    # https://books.google.gr/books?id=NB8EAAAAQAAJ&pg=PA65, compound addition of avoirdupois. In the first sum `17c 1q`
    # of the last row, in the second part of the third row, are lost in the scan and recovered from the printed carries.
    first = ["7t 6c 3q 24lb 6oz 4dr", "9t 4c 1q 26lb 12oz 6dr", "10t 6c 2q 15lb 6oz 3dr", "19t 17c 1q 27lb 7oz 2dr"]
    second = ["11-15-2-12", "14-6-3-17", "11-7-1-4", "19-4-3-27", "16-18-3-7", "18-19-2-24"]
    assert added(first) == "46 tons 15 cwt 2 qr 9 lb 15 oz 15 dr"
    assert added(second) == "92 tons 13 cwt 1 qr 7 lb"


def added(weights: list[str]) -> object:
    """The sum of weights, in words."""
    return tons_and_hundredweights(sum((measured(read_mass(weight)).value for weight in weights), Fraction(0)))


def test_differences_and_multiples_of_weights() -> None:
    # Constructed, with the arithmetic done by hand.
    less = measured(read_mass("23t 4c 2q 11lb")).value - measured(read_mass("0t 19c 3q 27lb")).value
    assert tons_and_hundredweights(less) == "22 tons 4 cwt 2 qr 12 lb"
    twelve_off = 12 * measured(read_mass("3c 1q 17lb")).value
    assert twelve_off == 4572 * Fraction("0.45359237")
    assert tons_and_hundredweights(twelve_off) == "2 tons 0 cwt 3 qr 8 lb"


@pytest.mark.parametrize(("gauge", "figures"), [(SWG, SWG_MM), (BG, BG_MM)], ids=["S.W.G.", "B.G."])
def test_gauges_in_millimetres(gauge: Gauge, figures: dict[str, str]) -> None:
    assert list(gauge.inches) == list(figures)
    for number, millimetres in figures.items():
        value = measured(read_gauge(f"{number} {gauge.name}")).value
        # The last figure is printed now rounded, now cut off.
        assert abs(value - Fraction(millimetres)) < Fraction(1, 10_000), number


def test_six_standard_wire_gauge_is_not_the_misprint() -> None:
    assert measured(read_gauge("6 S.W.G.")).value == Fraction("0.192") * INCH


def test_american_gauge_by_its_weight() -> None:
    assert list(MSG.inches) == list(MSG_POUNDS)
    for number, weight in MSG_POUNDS.items():
        assert abs(MSG.inches[number] * Decimal("41.82") - Decimal(weight)) <= Decimal("0.0025"), number


@pytest.mark.parametrize("gauge", [SWG, BG, MSG], ids=lambda gauge: gauge.name)
def test_gauges_grow_thinner(gauge: Gauge) -> None:
    assert all(thicker > thinner for thicker, thinner in pairwise(gauge.inches.values()))


def test_threads_to_the_inch() -> None:
    assert set(BSW.seen) == {inches(size) for size in BSW_THREADS}
    assert not BSW.from_memory
    for series, figures in ((BSW, BSW_THREADS), (BSF, BSF_THREADS), (UNF, UNF_THREADS)):
        for size, threads in figures.items():
            read = measured(read_thread(f'{size}" {series.name}'))
            assert (read.value, read.pitch) == (inches(size) * INCH, INCH / Fraction(threads))


def test_pipe_threads_by_their_pitch() -> None:
    for size, pitch in BSP_PITCH_MM.items():
        read = measured(read_thread(f'{size}" B.S.P.'))
        assert read.pitch is not None
        assert abs(read.pitch - Fraction(pitch)) < Fraction(1, 1000), size


def test_unified_coarse_threads_by_their_pitch_diameter() -> None:
    assert set(UNC.seen) == {inches(size) for size in UNC_PITCH_DIAMETER}
    for size, pitch_diameter in UNC_PITCH_DIAMETER.items():
        read = measured(read_thread(f'{size}" UNC'))
        assert read.pitch is not None
        computed = (read.value - Fraction("0.649519") * read.pitch) / INCH
        assert abs(computed - Fraction(pitch_diameter)) <= Fraction(1, 10_000), size


def test_metric_coarse_threads() -> None:
    assert {str(Decimal(size)) for size in METRIC_PITCH} == {_decimal(size) for size in METRIC_COARSE}
    for size, pitch in METRIC_PITCH.items():
        read = measured(read_thread(f"M{size}"))
        assert (read.value, read.pitch) == (Fraction(size), Fraction(pitch))


def _decimal(value: Fraction) -> str:
    return str(Decimal(value.numerator) / Decimal(value.denominator))


def test_metric_coarse_threads_by_their_stress_area() -> None:
    quarter_of_pi = Fraction("0.7853981634")
    for size, area in STRESS_AREAS.items():
        computed = quarter_of_pi * (Fraction(size) - Fraction("0.9382") * METRIC_COARSE[Fraction(size)]) ** 2
        assert abs(computed / Fraction(area) - 1) < Fraction(3, 1000), size


def test_fine_threads_are_finer() -> None:
    for coarse, fine in ((BSW, BSF), (UNC, UNF)):
        threads, finer = coarse.seen | coarse.from_memory, fine.seen | fine.from_memory
        for size in threads.keys() & finer.keys():
            assert finer[size] > threads[size]
    for series in (BSW, BSF, BSP, UNC, UNF):
        by_size = sorted((series.seen | series.from_memory).items())
        assert all(one[1] >= other[1] for one, other in pairwise(by_size))


# The Python package Pint with Decimal. Its ton is 2000 lb, its hundredweight 100 lb: the British names are asked for.
PINT_LENGTHS = {"fathom": "fathom", "yd": "yard", "ft": "foot", "in": "inch", "thou": "thou", "km": "km", "m": "m",
                "cm": "cm", "mm": "mm", "µm": "micrometer"}  # fmt: skip
PINT_MASSES = {"tonne": "metric_ton", "long ton": "long_ton", "short ton": "short_ton", "ton": "long_ton",
               "t": "long_ton", "cwt": "UK_hundredweight", "qr": "quarter", "st": "stone", "lb": "pound",
               "oz": "ounce", "dr": "dram", "kg": "kg", "g": "g"}  # fmt: skip


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[Decimal]:
    """Units with decimal factors."""
    return pint.UnitRegistry(non_int_type=Decimal)


def in_pint(registry: pint.UnitRegistry[Decimal], unit: str, base: str) -> Fraction:
    """How many of the base unit one of the unit is."""
    return Fraction(registry.Quantity(Decimal(1), unit).to(base).magnitude)


def test_factors_agree_with_pint(registry: pint.UnitRegistry[Decimal]) -> None:
    # A fathom there is by the survey foot, which is two parts in a million longer.
    for unit in LENGTHS:
        near = Fraction(3, 1_000_000) if unit.sign == "fathom" else Fraction(0)
        other = in_pint(registry, PINT_LENGTHS[unit.sign], "mm")
        assert abs(other / unit.factor - 1) <= near, unit.sign
    for unit in MASSES:
        other = in_pint(registry, PINT_MASSES[unit.sign], "kg")
        assert abs(other / unit.factor - 1) < Fraction(1, 10**20), unit.sign


def test_pressures_and_areas_agree_with_pint(registry: pint.UnitRegistry[Decimal]) -> None:
    for written, unit in (("1 psi", "psi"), ("1 lb/sq in", "psi"), ("1 bar", "bar"), ("1 kgf/cm2", "kgf/cm**2"),
                          ("1 N/mm2", "MPa")):  # fmt: skip
        value = measured(read_pressure(written)).value
        assert abs(in_pint(registry, unit, "pascal") / value - 1) < Fraction(1, 10**20), written
    tons = measured(read_pressure("1 ton/sq in", ton="long")).value
    assert abs(in_pint(registry, "UK_force_ton/inch**2", "pascal") / tons - 1) < Fraction(1, 10**20)
    for written, unit in (("1 sq ft", "foot**2"), ("1 sq in", "inch**2"), ("1 sq yd", "yard**2"), ("1 m2", "m**2")):
        value = measured(read_area(written)).value
        assert abs(in_pint(registry, unit, "mm**2") / value - 1) < Fraction(1, 10**20), written


def test_every_unit_is_looked_up_by_all_its_names() -> None:
    for units in (LENGTHS, MASSES):
        assert set(by_name(units).values()) == set(units)
