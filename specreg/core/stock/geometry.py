"""Areas of cross-sections, exact but for pi, which is a Fraction of 40 decimal places."""

from __future__ import annotations

from fractions import Fraction

PI = Fraction(31415926535897932384626433832795028841972, 10**40)
"""Pi to 40 decimal places, rounded; a volume of a cubic kilometre is right to far less than a cubic millimetre."""

_ROOT_OF_THREE = Fraction(17320508075688772935274463415058723669428, 10**40)


def circle(diameter: Fraction) -> Fraction:
    """The area of a circle, mm2 from mm."""
    return PI * diameter**2 / 4


def hexagon(across_flats: Fraction) -> Fraction:
    """The area of a regular hexagon from its width across flats; the root of three to 40 places."""
    return _ROOT_OF_THREE * across_flats**2 / 2


def annulus(outside: Fraction, inside: Fraction) -> Fraction:
    """The area between two circles about one centre, by their diameters."""
    return circle(outside) - circle(inside)


def angle(one: Fraction, other: Fraction, thickness: Fraction) -> Fraction:
    """The area of an angle or tee of one thickness, corners and root taken square: (a + b - t) t."""
    return (one + other - thickness) * thickness


def channel(depth: Fraction, breadth: Fraction, web: Fraction, flange: Fraction) -> Fraction:
    """The area of a channel or I-section, flanges taken of even thickness, corners and roots square."""
    return 2 * breadth * flange + (depth - 2 * flange) * web
