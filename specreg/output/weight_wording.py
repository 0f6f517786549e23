"""The words of weights on paper: of one piece and of all, finished and rough, and what lines weigh together.

Weights are written in the order's units and rounded once, here; in kilograms to a thousandth for a spreadsheet. What a
person wrote otherwise is said beside them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from specreg.core.counts import so_many
from specreg.core.extracts import LineWeight, ShareWeight
from specreg.core.measures.figures import decimal
from specreg.core.take_off_words import mass_of_one_words, mass_words
from specreg.core.weighing import Standing

Pair = tuple[str, str]
"""A caption and its text."""

NOT_KNOWN = "not known"

MOST_KEPT = 1 << 14
"""Weights of which the words are kept: an item is printed in the share of every department it goes to."""


@dataclass(frozen=True, slots=True)
class WeightWords:
    """A line's weights in words: of one piece and of all its pieces, finished and rough, and `marks` on how they are
    meant or count. Empty where nothing is known or stated, and of all where there is one piece or no count."""

    each: str = ""
    of_all: str = ""
    rough_each: str = ""
    rough_of_all: str = ""
    marks: tuple[str, ...] = ()


def weight_words(weighs: LineWeight | None, pieces: int | None) -> WeightWords | None:
    """A line's weights in words; None for work on a pattern, and where nobody weighed the line."""
    if weighs is None or weighs.standing is Standing.PATTERN:
        return None
    marks = tuple(_marks(weighs))
    if weighs.one is None:
        known_elsewhere = weighs.standing in (Standing.WITH_ASSEMBLY, Standing.NO_COUNT)
        return WeightWords("" if known_elsewhere else NOT_KNOWN, marks=marks)
    before = "about " if weighs.is_about else ""
    finished = _each_and_all(weighs.one, pieces, weighs.units, before)
    if weighs.rough is None or weighs.is_rough:
        return WeightWords(*finished, marks=marks)
    return WeightWords(*finished, *_each_and_all(weighs.rough, pieces, weighs.units, ""), marks)


def weight_details(
    weighs: LineWeight | None, pieces: int | None, written: str, rough_written: str = ""
) -> tuple[Pair, ...]:
    """The same as (caption, text), with what a person wrote otherwise; some texts are empty."""
    words = weight_words(weighs, pieces)
    if words is None:
        return (("Weight", written), ("Rough weight", rough_written))
    finished = _in_one(words.each, words.of_all, pieces)
    return (
        ("Weight", ", ".join(one for one in (finished, *words.marks) if one)),
        ("Rough weight", _in_one(words.rough_each, words.rough_of_all, pieces)),
        ("Weight as written", written_otherwise(written, words.each)),
        ("Rough weight as written", written_otherwise(rough_written, words.rough_each)),
    )


def written_otherwise(written: str, reckoned: str) -> str:
    """What a person wrote, where what was reckoned says it otherwise."""
    return "" if " ".join(written.split()) == reckoned else written


def kilograms(mass: Fraction | None, times: int | None = 1) -> str:
    """So many times a weight as a decimal to a thousandth; empty where there is none, or no count."""
    return "" if mass is None or times is None else decimal(mass * times, 3) or ""


def total_words(weight: ShareWeight) -> str:
    """What lines add to their share; empty where nothing is known of them."""
    return mass_words(weight.mass, weight.units) if weight.mass else ""


def together_pairs(weight: ShareWeight | None, of_assemblies: str) -> tuple[Pair, ...]:
    """What lines weigh together, as (caption, text); some texts are empty, all where nothing could have a weight.

    `of_assemblies` says how assemblies count, empty where there are none.
    """
    if weight is None:
        return ()
    finished, to_order = (mass_words(mass, weight.units) for mass in (weight.mass, weight.to_order))
    counted = f"\n{of_assemblies}" if of_assemblies else ""
    short = f"{so_many(weight.without, 'item')}, or parts of them: the weights are that much short"
    return (
        ("Weight", f"{finished} finished{counted}" if weight.mass else NOT_KNOWN if weight.without else ""),
        ("To order", f"{to_order}, by the rough weight, stated or allowed for" if weight.mass else ""),
        ("No weight", short if weight.without else ""),
    )


def _marks(weighs: LineWeight) -> Iterator[str]:
    if weighs.is_by_parts and weighs.one is not None:
        yield "by its parts"
        if weighs.is_least:
            yield "some not known"
    if weighs.is_rough:
        yield "rough, nothing else is known"
    if weighs.standing is Standing.OTHER_STEP:
        yield "counts at another step"
    if weighs.standing is Standing.WITH_ASSEMBLY:
        yield "counts with its assembly"


def _each_and_all(mass: Fraction, pieces: int | None, units: str, before: str) -> tuple[str, str]:
    of_all = "" if pieces in (None, 1) else before + _words_of(*mass.as_integer_ratio(), pieces or 0, units)
    return before + _words_of(*mass.as_integer_ratio(), 1, units), of_all


@lru_cache(MOST_KEPT)
def _words_of(top: int, bottom: int, times: int, units: str) -> str:
    """So many times a weight in kg, given as its fraction, of one piece or of all of a line."""
    return mass_of_one_words(Fraction(top * times, bottom), units)


def _in_one(each: str, of_all: str, pieces: int | None) -> str:
    if not each or each == NOT_KNOWN or pieces == 1:
        return each
    return f"each {each}, all {of_all}" if of_all else f"each {each}"
