"""Division numbers against ISO 2145-1978.

The rules were read in http://www.kessler.co.uk/dtwt/articles/International_Standard_1502145_1978.html (text of the
standard) and https://db0nus869y26v.cloudfront.net/en/ISO_2145 (encyclopaedia copy); which strings follow them, and the
order of those shown there, is worked out from the rules.
"""

from __future__ import annotations

import random

import pytest

from specreg.core.numbering import is_iso_2145, number_key

SHOWN_IN_THE_STANDARD = ("1.9", "2.10", "2.11.10", "1.3.1.20")
IN_ORDER = ("1", "1.1", "1.1.1", "1.2", "1.10", "2", "9", "10", "10.1")


@pytest.mark.parametrize("number", [*SHOWN_IN_THE_STANDARD, "0", "1", "10", "1.1.2.3", "0.1", "2.0"])
def test_numbers_of_the_standard_are_accepted(number: str) -> None:
    assert is_iso_2145(number)


@pytest.mark.parametrize(
    "number",
    [
        "1.",  # no full stop after the last
        ".1",
        "1..2",
        "1.1a",  # Arabic numerals only
        "IV",
        "1-2",
        "1.2.",
        "A.1",  # annex letters come from the ISO/IEC Directives
        "01",  # a rule of the house, the standard does not speak of it
        "٣",  # a figure, but not one of 0 to 9
        "",
    ],
)
def test_other_strings_are_refused(number: str) -> None:
    assert not is_iso_2145(number)


def test_each_level_is_compared_as_a_whole_number() -> None:
    mixed = list(IN_ORDER)
    random.Random(2145).shuffle(mixed)
    assert tuple(sorted(mixed, key=number_key)) == IN_ORDER
    assert sorted(SHOWN_IN_THE_STANDARD, key=number_key) == ["1.3.1.20", "1.9", "2.10", "2.11.10"]
