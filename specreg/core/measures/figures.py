"""Exact values in figures: in decimals, and as a whole number with its fraction."""

from __future__ import annotations

from fractions import Fraction


def rounded(value: Fraction, parts: int = 1) -> Fraction:
    """The nearest whole number of parts of one; a value half-way goes up."""
    return Fraction((value * parts * 2 + 1) // 2, parts)


def decimal(value: Fraction, places: int | None = None) -> str | None:
    """A value in decimals: with so many places, rounded once, half-way up; or exactly, None when it never ends."""
    if places is None:
        places = _places_of(value)
        if places is None:
            return None
    scaled = int(rounded(value * 10**places))
    if places == 0:
        return str(scaled)
    whole, rest = divmod(scaled, 10**places)
    return f"{whole}.{rest:0{places}d}"


def _places_of(value: Fraction) -> int | None:
    """How many decimal places a value has; None when they never end."""
    left, twos, fives = value.denominator, 0, 0
    while left % 2 == 0:
        left, twos = left // 2, twos + 1
    while left % 5 == 0:
        left, fives = left // 5, fives + 1
    return max(twos, fives) if left == 1 else None


def mixed(value: Fraction) -> str:
    """A whole number with its fraction, `1 1/4`; the fraction alone below one; 0 for nothing."""
    whole, rest = divmod(value, 1)
    return " ".join(str(part) for part in (whole, rest) if part) or "0"
