"""Sizes as the stock they name: forms, dimensions, lengths for cutting, and what is refused."""

from __future__ import annotations

from fractions import Fraction

import pytest

from specreg.core.measures.units import FOOT, INCH
from specreg.core.stock.geometry import PI, circle, hexagon
from specreg.core.stock.records import Form
from tests.core.stock.works import BARE, refused, stock_of


def inches(text: str) -> Fraction:
    return sum(map(Fraction, text.split()), Fraction(0)) * INCH


def test_pi_is_right_to_40_places():
    machin = 16 * _arctangent(5) - 4 * _arctangent(239)
    assert abs(PI - machin) <= Fraction(1, 2 * 10**40)


def test_the_hexagon_rests_on_a_root_right_to_40_places():
    root = hexagon(Fraction(1)) * 2
    assert abs(root**2 - 3) < Fraction(4, 10**40)


def _arctangent(inverse: int) -> Fraction:
    """The arctangent of 1 / inverse, by enough of its series."""
    return sum((Fraction((-1) ** n, (2 * n + 1) * inverse ** (2 * n + 1)) for n in range(40)), Fraction(0))


PLATE = inches("1/2") * 18 * FOOT * Fraction(5, 2) * FOOT


@pytest.mark.parametrize(
    "size",
    [
        '1/2" plate 18\' 0" x 2\' 6"',
        'plate 18\' 0" x 2\' 6" x 1/2"',
        "1/2\" thick plate 18' x 2' 6\"",
        "plate 18 ft by 2 ft 6 in by 1/2 in",
        "1/2\" M.S. plate 18' x 2' 6\"",
        "½″ plate 18′ × 2′-6″",
    ],
)
def test_a_plate_however_it_is_written(size):
    stock = stock_of(size)
    assert (stock.form, stock.volume, stock.length, stock.area) == (Form.PLATE, PLATE, None, None)
    assert stock.dimension("thickness") == inches("1/2")
    assert (stock.dimension("length"), stock.dimension("breadth")) == (18 * FOOT, Fraction(5, 2) * FOOT)


def test_plate_sheet_and_chequered_plate_are_told_by_size_and_material():
    assert stock_of("5/16\" plate 6' x 4'", "chequered plate").form is Form.CHEQUERED_PLATE
    assert stock_of("1/4\" chequered plate 8' x 2'").form is Form.CHEQUERED_PLATE
    assert stock_of('1/16" thick, 2\' 6" x 1\' 9"', "jointing sheet").form is Form.SHEET
    assert stock_of('1/4" thick, 2\' 2" x 1\' 11"', "plate glass").form is Form.PLATE
    assert stock_of("1/8\" plate 5' x 3'", "mild steel sheet").form is Form.PLATE


def test_a_sheet_by_gauge_names_the_gauge():
    stock = stock_of("10 S.W.G. sheet 6' x 3'")
    assert stock.form is Form.SHEET and stock.dimension("thickness") == Fraction("0.128") * INCH
    assert stock.basis == ("10 S.W.G. = 0.128 in, standard wire gauge, as tabulated in secondary sources",)


@pytest.mark.parametrize(
    ("size", "form", "area", "length"),
    [
        ("3\" dia x 8' 4\"", Form.ROUND, circle(inches("3")), 100),
        ("3 in round x 8 ft 4 in", Form.ROUND, circle(inches("3")), 100),
        ("round bar 3\" x 8' 4\" long", Form.ROUND, circle(inches("3")), 100),
        ('bar 1 1/4" dia x 5"', Form.ROUND, circle(inches("1 1/4")), 5),
        ('3/4" sq x 5"', Form.SQUARE, inches("3/4") ** 2, 5),
        ('square bar 3/4" x 5"', Form.SQUARE, inches("3/4") ** 2, 5),
        ('1" hexagon x 3"', Form.HEXAGON, hexagon(inches("1")), 3),
        ('1" across flats hexagon bar x 3"', Form.HEXAGON, hexagon(inches("1")), 3),
        ('1" A/F x 3"', Form.HEXAGON, hexagon(inches("1")), 3),
        ('3" x 5/8" flat x 7"', Form.FLAT, inches("3") * inches("5/8"), 7),
        ('flat 5/8" x 3" x 7"', Form.FLAT, inches("3") * inches("5/8"), 7),
        ('3" wide x 5/8" thick flat x 7" long', Form.FLAT, inches("3") * inches("5/8"), 7),
        ('7" long x 3" x 5/8" flat', Form.FLAT, inches("3") * inches("5/8"), 7),
        ('4" o.d. x 3" i.d. x 5"', Form.TUBE, circle(inches("4")) - circle(inches("3")), 5),
        ('3" bore x 1/2" thick x 5"', Form.TUBE, circle(inches("4")) - circle(inches("3")), 5),
        ('tube 4" outside diameter x 1/2" wall x 5"', Form.TUBE, circle(inches("4")) - circle(inches("3")), 5),
        ('4" o.d. x 1/2" x 5"', Form.TUBE, circle(inches("4")) - circle(inches("3")), 5),
        ('4" o.d. x 5" long x 1/2" thick', Form.TUBE, circle(inches("4")) - circle(inches("3")), 5),
        ('1/8" dia wire x 36"', Form.WIRE, circle(inches("1/8")), 36),
        ('10 S.W.G. wire x 100"', Form.WIRE, circle(Fraction("0.128") * INCH), 100),
        ('4" x 3" x 1/2" angle x 60"', Form.ANGLE, inches("13/2") * inches("1/2"), 60),
        ('angle 4" x 3" x 1/2" x 60"', Form.ANGLE, inches("13/2") * inches("1/2"), 60),
        ('4" x 3" x 1/2" tee x 60"', Form.TEE, inches("13/2") * inches("1/2"), 60),
        ('6" x 3" x 1/4" web x 3/8" flange channel x 60"', Form.CHANNEL, inches("57/16") * INCH, 60),
        ('6" x 3" x 1/4" web x 3/8" flange joist x 60"', Form.I_SECTION, inches("57/16") * INCH, 60),
    ],
)  # fmt: skip
def test_what_is_cut_to_length(size, form, area, length):
    stock = stock_of(size)
    assert stock.form is form and form.is_cut_to_length
    assert stock.area == area
    assert stock.length == length * INCH and stock.dimension("length") == stock.length
    assert stock.volume == area * length * INCH
    assert not stock.approximate and not stock.doubts


@pytest.mark.parametrize(
    ("size", "form", "volume"),
    [
        ('3 1/2" dia x 1/4" thick', Form.DISC, circle(inches("3 1/2")) * inches("1/4")),
        ('1/16" thick, 6" dia', Form.DISC, circle(inches("6")) * inches("1/16")),
        ('1" plate 12" dia', Form.DISC, circle(inches("12")) * INCH),
        ('disc 12" dia x 1" thick', Form.DISC, circle(inches("12")) * INCH),
        ('ring 12" o.d. x 10" i.d. x 1"', Form.RING, (circle(inches("12")) - circle(inches("10"))) * INCH),
        ('12" x 12" x 10"', Form.BLOCK, 1440 * INCH**3),
        ('9" x 3" deals, 100" run', Form.BLOCK, 2700 * INCH**3),
    ],
)
def test_what_is_not_cut_to_length(size, form, volume):
    stock = stock_of(size)
    assert (stock.form, stock.volume, stock.length, stock.area) == (form, volume, None, None)


def test_the_formula_for_angles_is_named():
    (basis,) = stock_of('4" x 4" x 1/2" angle x 18\' 0"').basis
    assert basis.startswith("the area by the formula (a + b - t) t")


def test_a_rail_by_its_weight_on_the_yard():
    stock = stock_of("100 lb/yd flat-bottomed rail x 30 ft")
    assert (stock.form, stock.length, stock.volume) == (Form.RAIL, 30 * FOOT, None)
    assert stock.per_metre == Fraction("45.359237") * 1000 / (3 * FOOT)
    assert stock.basis == ("100 lb/yd, as written",)
    channel = stock_of('6" x 3" channel 12.41 lb/ft x 10 ft')
    assert (channel.form, channel.length) == (Form.CHANNEL, 10 * FOOT)


@pytest.mark.parametrize(
    ("size", "diameter", "length"),
    [
        ('1 1/8" dia x 4 1/2" B.S.W.', inches("1 1/8"), inches("4 1/2")),
        ('3/4" B.S.W. x 3"', inches("3/4"), inches("3")),
        ("M24 x 110 mm", Fraction(24), Fraction(110)),
        ("M24 x 2 x 110 mm", Fraction(24), Fraction(110)),
        ("M12 bolt x 40 mm", Fraction(12), Fraction(40)),
        ('3/4" dia x 3" bolt', inches("3/4"), inches("3")),
    ],
)
def test_a_fastener_is_a_plain_round_at_best(size, diameter, length):
    stock = stock_of(size)
    assert stock.form is Form.FASTENER and stock.approximate and stock.length is None
    assert (stock.dimension("diameter"), stock.dimension("length")) == (diameter, length)
    assert stock.volume == circle(diameter) * length
    assert stock.basis[0].startswith("as a plain round of the diameter and length")


@pytest.mark.parametrize("size", ['1 1/8" B.S.W.', "M24", '1/2" B.S.P.', '1" B.S.P. x 6"'])
def test_a_thread_alone_and_a_pipe_thread_give_no_volume(size):
    stock = stock_of(size)
    assert (stock.form, stock.volume, stock.mass) == (Form.FASTENER, None, None)


def test_what_is_bought_by_weight():
    stock = stock_of("about 9 cwt")
    assert stock.form is Form.BY_WEIGHT and stock.approximate
    assert stock.mass == 9 * 112 * Fraction("0.45359237")
    assert stock_of("3 tons").basis == ("ton of 2240 lb, rule of the house",)
    assert refused("3 tons", works=BARE) == "which ton?"


def test_about_and_borrowed_units_are_told():
    assert stock_of('9" x 3" deals, about 600 ft run').approximate
    stock = stock_of("50 x 40 x 6 mm angle x 600 mm")
    assert set(stock.doubts) == {"its unit is that of 6 mm"}


@pytest.mark.parametrize(
    ("size", "why"),
    [
        ("as makers' list", "no size of a piece stands here"),
        ("440 volts, 480 revolutions, series wound", "no size of a piece stands here"),
        ("1/2 pint", "no size of a piece stands here"),
        ('15" at bottom of groove', "`at bottom of groove` belongs to no form of stock"),
        ('3/4" dia, 6 strands of 37 wires, 180 ft long', "`6 strands of 37 wires` belongs to no form of stock"),
        ('3 1/2" shank', "`shank` belongs to no form of stock"),
        ("2' 6\" x 2' 2\" over all", "`over all` belongs to no form of stock"),
        ('1/8" thick, oval 18" x 14"', "`oval` belongs to no form of stock"),
        ("2 off 3\" dia x 4'", "`2 off` belongs to no form of stock"),
        ("10, 16 and 20 S.W.G. sheet", "several sizes, or the ends of a range, stand here"),
        ("3\" dia x 4' to 5'", "several sizes, or the ends of a range, stand here"),
        ("10 gauge sheet 6' x 3'", "which gauge?"),
        ("No. 10 sheet 600 mm x 300 mm", "which gauge?"),
        ('3/4" dia x 3" Whitworth', "B.S.W., B.S.F. and B.S.P. are all of Whitworth form"),
        ('3 x 5/8 flat x 7"', "3 5/8: of what?"),
        ("10 x 6' x 3' sheet", "10: of what?"),
        ("150 x 50 x 2.4 m deal", "150: of what?"),
        ('3/4"', "one measure alone is no size of a piece"),
        ('8" dia', "one measure alone is no size of a piece"),
        ('3" x 10"', "no form is named for these sizes"),
        ('3" bar x 10"', "no form is named for these sizes"),
        ("1\" bore x 8' 0\"", "of a tube neither wall nor the other diameter is given"),
        ('2 1/2" bore, 4 1/2" o.d.', "of a tube no length is given"),
        ('2" dia tube x 1/8" wall x 6"', "a tube without its outside diameter or bore"),
        ('4" o.d. x 4" i.d. x 5"', "the wall of this tube cannot be"),
        ('2" o.d. x 1" wall x 6"', "the wall of this tube cannot be"),
        ('2" bore x 60" x 1/8"', "it is not clear which size of this tube is which"),
        ('1/2" plate', "one size of a plate; a thickness, a length and a breadth are needed"),
        ('4" x 4" angle x 60"', "3 sizes of an angle; two legs, a thickness and a length are needed"),
        ('4" x 4" x 5" angle x 60"', "the third size of this angle is no thickness"),
        ('6" x 3" x 3/8" x 3/8" channel x 48"',
         "which thickness of this channel is the web and which the flange?"),
        ("100 lb/yd rail", "of this rail no length is given"),
        ("rail 30 ft", "a rail is reckoned by its weight on the yard or metre"),
        ('flat tube 2" o.d. x 1/8" x 6"', "flat and tube: one form or the other?"),
        ("19' 6\" 5' 0\" plate 1/2\"", "19' 6\" 5' 0\": two measures without a cross or a word between"),
        ("0.15 sq in, about 40 yards", "0.15 sq in is an area, and no size of stock"),
        ('0" dia x 4"', "a size of nought"),
        ("", "nothing is written"),
        ('1" dia x 3" M24', "the thread M24 x 3 is not that of 1\""),
        ('M24 x M20 x 100 mm', "2 threads stand here"),
        ("9 cwt x 3\"", "a weight stands among sizes"),
        ('1 in. 1/4 dia x 3"', "the fraction 1/4 stands behind the unit"),
    ],
)  # fmt: skip
def test_what_is_refused_and_why(size, why):
    assert refused(size) == why


def test_no_material_word_is_taken_for_another_material():
    assert stock_of("1/2\" mild steel plate 6' x 4'", "m.s.").form is Form.PLATE
    assert refused("1/2\" cast iron plate 6' x 4'", "m.s.") == "`cast iron` belongs to no form of stock"
