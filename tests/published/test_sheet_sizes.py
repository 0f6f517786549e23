"""Sheets of paper and title blocks against published tables, the source beside each."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest

from specreg.core.paper import TITLE_BLOCK, sheet_size, sheet_sizes, title_block_faults

# https://tasstudent.com/2019/05/30/drawing-sheet-sizes/ (A0 to A4) and http://relderton.co.uk/isopaper.htm (BS 3429,
# all eight, with the areas in m2).
ISO_A = {
    "4A0": (1682, 2378, "3.9998"),
    "2A0": (1189, 1682, "1.9999"),
    "A0": (841, 1189, "0.9999"),
    "A1": (594, 841, "0.4996"),
    "A2": (420, 594, "0.2495"),
    "A3": (297, 420, "0.1247"),
    "A4": (210, 297, "0.0624"),
    "A5": (148, 210, "0.0311"),
}

# Trimmed sheet less 20 mm on the left and 10 mm on the other sides, ISO 5457:1999 from memory; height then width but
# for A4, which stands upright.
DRAWING_SPACE = {"A0": (821, 1159), "A1": (574, 811), "A2": (400, 564), "A3": (277, 390), "A4": (277, 180)}

# Rule: http://www.educationalstuffs.in/engineering-drawing-sheets/ and SP 46:1988; A4x8 from
# https://cad-project.ru/formatyi-chertezhej (GOST 2.301); the other figures from memory.
ELONGATED = {
    "A3x3": (420, 891), "A3x4": (420, 1189), "A4x3": (297, 630), "A4x4": (297, 841), "A4x5": (297, 1051),
    "A0x2": (1189, 1682), "A0x3": (1189, 2523), "A1x3": (841, 1783), "A1x4": (841, 2378), "A2x3": (594, 1261),
    "A2x4": (594, 1682), "A2x5": (594, 2102), "A3x5": (420, 1486), "A3x6": (420, 1783), "A3x7": (420, 2080),
    "A4x6": (297, 1261), "A4x7": (297, 1471), "A4x8": (297, 1682), "A4x9": (297, 1892),
}  # fmt: skip

# ANSI: https://en.wikipedia.org/wiki/ANSI/ASME_Y14.1 (A to K) and
# https://graphics-cad.blogspot.com/2009/11/sizes-of-drawings.html (A to E, ARCH D, ARCH E1); the other ARCH sizes from
# the Python package papersize 1.6.1.
AMERICAN_MM = {
    "ANSI A": ("215.9", "279.4"), "ANSI B": ("279.4", "431.8"), "ANSI C": ("431.8", "558.8"),
    "ANSI D": ("558.8", "863.6"), "ANSI E": ("863.6", "1117.6"), "ANSI F": ("711.2", "1016.0"),
    "ANSI G": ("279.4", "571.5"), "ANSI H": ("711.2", "1117.6"), "ANSI J": ("863.6", "1397.0"),
    "ANSI K": ("1016.0", "1397.0"), "ARCH A": ("228.6", "304.8"), "ARCH B": ("304.8", "457.2"),
    "ARCH C": ("457.2", "609.6"), "ARCH D": ("609.6", "914.4"), "ARCH E1": ("762.0", "1066.8"),
    "ARCH E": ("914.4", "1219.2"), "ARCH E2": ("660.4", "965.2"), "ARCH E3": ("685.8", "990.6"),
}  # fmt: skip
ROLLS_MM = {"ANSI G": "2286.0", "ANSI H": "3632.2", "ANSI J": "4470.4", "ANSI K": "3632.2"}

# D. A. Low, Introduction to Machine Drawing (https://bitlit.ru/page/en/david-allan-low/...), Spons' Mechanics' Own Book
# (https://chestofbooks.com/crafts/mechanics/How-To/Paper.html), Modern Buildings vol. 1 (http://chestofbooks.com/...):
# the sources differ by an inch and more.
BRITISH_IN = {
    "Demy": (15, 20), "Medium": (17, 22), "Royal": (19, 24), "Imperial": (22, 30), "Half Imperial": (15, 20),
    "Elephant": (23, 27), "Columbier": (23, 34), "Atlas": (26, 34), "Double Elephant": (27, 40),
    "Antiquarian": (31, 53), "Emperor": (48, 72),
}  # fmt: skip


@pytest.mark.parametrize("name", ISO_A)
def test_iso_a(name: str) -> None:
    sheet = sheet_size(name)
    assert sheet is not None
    short, long, area = ISO_A[name]
    assert (sheet.short_mm, sheet.long_mm) == (short, long)
    assert abs(sheet.area_m2 - Fraction(area)) <= Fraction("0.00005")


@pytest.mark.parametrize("name", DRAWING_SPACE)
def test_drawing_space(name: str) -> None:
    sheet = sheet_size(name)
    assert sheet is not None
    height, width = DRAWING_SPACE[name]
    assert sheet.drawing_space_mm == (width, height)


@pytest.mark.parametrize("name", ELONGATED)
def test_elongated(name: str) -> None:
    sheet, base = sheet_size(name), sheet_size(name[:2])
    assert sheet is not None
    assert base is not None
    assert (sheet.short_mm, sheet.long_mm) == ELONGATED[name]
    assert sheet.short_mm == base.long_mm
    assert 0 <= sheet.long_mm - int(name[3:]) * base.short_mm <= 2


@pytest.mark.parametrize("name", AMERICAN_MM)
def test_american(name: str) -> None:
    sheet = sheet_size(name)
    assert sheet is not None
    assert (sheet.short_mm, sheet.long_mm) == tuple(Fraction(Decimal(side)) for side in AMERICAN_MM[name])
    assert sheet.longest_mm == (Fraction(ROLLS_MM[name]) if name in ROLLS_MM else None)
    assert sheet.drawing_space_mm is None


@pytest.mark.parametrize("name", BRITISH_IN)
def test_old_british(name: str) -> None:
    sheet = sheet_size(name)
    assert sheet is not None
    assert (sheet.short_mm / Fraction("25.4"), sheet.long_mm / Fraction("25.4")) == BRITISH_IN[name]
    assert "as tabulated in a secondary source" in sheet.source


# A secondary transcription of EN ISO 7200 (June 2008): field, recommended characters, mandatory. The length of the
# document status and the last three fields are from memory.
ISO_7200 = """
legal owner||yes
identification number|16|yes
revision index|2|no
date of issue|10|yes
segment/sheet number|4|yes
number of segments/sheets|4|no
language code|4|no
title|25|yes
supplementary title|25|no
responsible department|10|no
technical reference|20|no
approval person|20|yes
creator|20|yes
document type|30|yes
classification/key words||no
document status|20|no
page number|4|no
number of pages|4|no
paper size|4|no
"""


def test_title_block_of_iso_7200() -> None:
    ours = [f"{one.name}|{one.characters or ''}|{'yes' if one.mandatory else 'no'}" for one in TITLE_BLOCK]
    assert ours == ISO_7200.split("\n")[1:-1]
    memory = [one.name for one in TITLE_BLOCK if "memory" in one.source]
    assert memory == ["document status", "page number", "number of pages", "paper size"]


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("a1", "A1"), (" A1 ", "A1"), ("ISO A1", "A1"), ("A3 x 3", "A3x3"), ("A3×3", "A3x3"), ("A3X3", "A3x3"),
        ("ansi d", "ANSI D"), ("ANSI-D", "ANSI D"), ("Arch E1", "ARCH E1"), ("double elephant", "Double Elephant"),
        ("Double-Elephant", "Double Elephant"), ("IMPERIAL", "Imperial"), ("2a0", "2A0"),
    ],
)  # fmt: skip
def test_a_size_is_known_however_written(written: str, name: str) -> None:
    sheet = sheet_size(written)
    assert sheet is not None
    assert sheet.name == name


@pytest.mark.parametrize("written", ["", "D", "A6", "B1", "A3x9", "A33", "Foolscap", "1", "E1"])
def test_unknown_and_doubtful_names_are_no_size(written: str) -> None:
    assert sheet_size(written) is None


def test_every_size_is_found_by_its_own_name_with_its_sides_in_order_and_a_source() -> None:
    for name, sheet in sheet_sizes().items():
        assert sheet_size(name) is sheet
        assert 0 < sheet.short_mm < sheet.long_mm
        assert sheet.source
        assert sheet.longest_mm is None or sheet.longest_mm > sheet.long_mm


def test_each_a_size_is_half_the_one_before() -> None:
    series = [sheet for sheet in sheet_sizes().values() if sheet.series == "ISO A"]
    assert [sheet.name for sheet in series] == [*ISO_A]
    for larger, smaller in pairwise(series):
        assert smaller.long_mm == larger.short_mm
        assert 0 <= larger.long_mm - 2 * smaller.short_mm <= 1


IN_ORDER = {
    "legal owner": "Northbank Works",
    "identification number": "LC40-101",
    "date of issue": "1927-03-07",
    "segment/sheet number": "1",
    "title": "End carriage",
    "approval person": "J. Hall",
    "creator": "W. Reed",
    "document type": "detail drawing",
}


def test_a_title_block_in_order_has_no_faults() -> None:
    assert title_block_faults(IN_ORDER) == ()
    assert title_block_faults({**IN_ORDER, "traced": "anybody, at any length, for it is the house's own"}) == ()
    assert title_block_faults({name.upper(): f" {text} " for name, text in IN_ORDER.items()}) == ()


def test_title_block_faults_are_told_in_the_order_of_its_fields() -> None:
    values = {**IN_ORDER, "title": "E" * 25, "legal owner": " ", "revision index": "P01", "creator": "ü" * 21}
    assert title_block_faults(values) == (
        "legal owner: missing, and ISO 7200 wants it",
        "revision index: 3 characters, and ISO 7200 recommends no more than 2",
        "creator: 21 characters, and ISO 7200 recommends no more than 20",
    )
    mandatory = [field.name for field in TITLE_BLOCK if field.mandatory]
    assert [fault.split(":")[0] for fault in title_block_faults({})] == mandatory == [*IN_ORDER]
