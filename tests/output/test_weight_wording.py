"""Weights in the words of paper: of one and of all, finished and rough, how they count, what is short."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from specreg.core.extracts import LineWeight, ShareWeight
from specreg.core.measures.units import HUNDREDWEIGHT, POUND, TON
from specreg.core.weighing import Standing
from specreg.output.extract_booklet import (
    COLUMNS,
    COLUMNS_WITH_ROUGH_WEIGHTS,
    COLUMNS_WITH_WEIGHTS,
    extract_booklet,
)
from specreg.output.founts import founts
from specreg.output.plain_text import plain_text
from specreg.output.sheets import laid_out
from specreg.output.weight_wording import kilograms, together_pairs, weight_details
from tests.output.extracts_to_write import LINE, SMALL

CWT = LineWeight(Standing.WEIGHED, "imperial", HUNDREDWEIGHT, None, HUNDREDWEIGHT, HUNDREDWEIGHT)
ROUGH = replace(CWT, rough=HUNDREDWEIGHT + 14 * POUND)
BY_PARTS = replace(CWT, standing=Standing.BY_PARTS, is_by_parts=True)
NONE = LineWeight(Standing.NO_WEIGHT, "imperial", is_short=True)


def said(weighs: LineWeight | None, pieces: int | None, written: str = "") -> dict[str, str]:
    return {caption: text for caption, text in weight_details(weighs, pieces, written) if text}


@pytest.mark.parametrize(
    ("weighs", "pieces", "words"),
    [
        (CWT, 1, {"Weight": "1 cwt"}),
        (CWT, 25, {"Weight": "each 1 cwt, all 1 ton 5 cwt"}),
        (CWT, None, {"Weight": "each 1 cwt"}),
        (ROUGH, 2, {"Weight": "each 1 cwt, all 2 cwt", "Rough weight": "each 1 cwt 0 qr 14 lb, all 2 cwt 1 qr"}),
        (replace(CWT, is_about=True), 2, {"Weight": "each about 1 cwt, all about 2 cwt"}),
        (replace(CWT, rough=HUNDREDWEIGHT, is_rough=True), 1, {"Weight": "1 cwt, rough, nothing else is known"}),
        (BY_PARTS, 2, {"Weight": "each 1 cwt, all 2 cwt, by its parts"}),
        (replace(BY_PARTS, is_least=True), 1, {"Weight": "1 cwt, by its parts, some not known"}),
        (replace(BY_PARTS, one=None, is_least=True), 2, {"Weight": "not known"}),
        (replace(CWT, standing=Standing.OTHER_STEP), 1, {"Weight": "1 cwt, counts at another step"}),
        (replace(NONE, standing=Standing.WITH_ASSEMBLY), 2, {"Weight": "counts with its assembly"}),
        (replace(NONE, standing=Standing.NO_COUNT), None, {}),
        (NONE, 4, {"Weight": "not known"}),
        (LineWeight(Standing.PATTERN, "imperial"), 1, {}),
        (None, 4, {}),
    ],
)
def test_the_weight_of_a_line_in_words(weighs: LineWeight | None, pieces: int | None, words: dict[str, str]) -> None:
    assert said(weighs, pieces) == words


def test_what_a_person_wrote_is_said_where_it_is_written_otherwise() -> None:
    assert said(CWT, 1, "1  cwt") == {"Weight": "1 cwt"}
    assert said(CWT, 1, "112 lb") == {"Weight": "1 cwt", "Weight as written": "112 lb"}
    assert said(NONE, 1, "2 of them") == {"Weight": "not known", "Weight as written": "2 of them"}
    for nobody in (None, LineWeight(Standing.PATTERN, "imperial")):
        assert said(nobody, 1, "19 lb") == {"Weight": "19 lb"}


@pytest.mark.parametrize(
    ("mass", "units", "words"),
    [
        (19 * POUND, "imperial", "19 lb"),
        (POUND * Fraction("0.784"), "imperial", "0.78 lb"),
        (POUND / 1000, "imperial", "under 0.01 lb"),
        (30 * POUND + POUND / 3, "imperial", "1 qr 2 lb"),
        (Fraction(8), "metric", "8 kg"),
        (Fraction("7.126"), "metric", "7.13 kg"),
        (Fraction("0.001"), "metric", "under 0.01 kg"),
        (Fraction("291.4"), "metric", "291.4 kg"),
    ],
)
def test_whole_pounds_are_said_as_such_and_nothing_light_is_nought(mass: Fraction, units: str, words: str) -> None:
    assert said(replace(CWT, one=mass, units=units), 1) == {"Weight": words}


def test_all_is_rounded_once_from_the_exact_weight_of_one() -> None:
    third = replace(CWT, one=40 * POUND + POUND / 3)
    assert said(third, 300) == {"Weight": "each 1 qr 12 lb, all 5 tons 8 cwt 0 qr 4 lb"}


def test_what_lines_weigh_together_says_what_it_is_short_of() -> None:
    found = ShareWeight(2 * TON, 3 * TON, 0, "imperial")
    assert dict(together_pairs(found, "by parts")) == {
        "Weight": "2 tons finished\nby parts",
        "To order": "3 tons, by the rough weight, stated or allowed for",
        "No weight": "",
    }
    short = dict(together_pairs(replace(found, without=3), ""))
    assert short["No weight"] == "3 items, or parts of them: the weights are that much short"
    nothing = ShareWeight(Fraction(0), Fraction(0), 2, "imperial")
    assert [text for _, text in together_pairs(nothing, "")][:2] == ["not known", ""]
    assert not any(text for _, text in together_pairs(replace(nothing, without=0), ""))
    assert together_pairs(None, "") == ()


def test_figures_for_a_spreadsheet_are_kilograms_to_a_thousandth() -> None:
    assert (kilograms(642 * POUND), kilograms(642 * POUND, 20)) == ("291.206", "5824.126")
    assert (kilograms(None), kilograms(POUND, None), kilograms(Fraction(0), 4)) == ("", "", "0.000")


# On paper


def weighed(*lines: LineWeight | None) -> list[list[tuple[float, float, str]]]:
    """The sheets of an extract with such lines: where each run ends and stands, and what it says."""
    extract = replace(SMALL, lines=tuple(replace(LINE, weighs=one) for one in lines), withdrawn=())
    laid = laid_out(extract_booklet(extract), founts())
    return [
        [(run.x + founts().millimetres(run.text, *laid.styles[run.style]), run.y, run.text) for run in sheet.runs]
        for sheet in laid.sheets
    ]


def test_there_are_as_many_columns_of_weights_as_say_something() -> None:
    def columns(*lines: LineWeight | None) -> object:
        return extract_booklet(replace(SMALL, lines=tuple(replace(LINE, weighs=one) for one in lines))).columns

    assert columns(None, NONE) == COLUMNS
    assert columns(CWT, None) == COLUMNS_WITH_WEIGHTS
    assert columns(CWT, ROUGH) == COLUMNS_WITH_ROUGH_WEIGHTS


def test_weights_end_at_the_right_of_their_columns_whatever_their_length() -> None:
    lines = (ROUGH, replace(ROUGH, one=POUND, rough=2 * POUND), replace(CWT, one=3 * TON, is_about=True))
    _, sheet = weighed(*lines)
    rights: dict[float, list[str]] = {}
    for end, _, text in sheet:
        if text.endswith((" lb", " cwt", "tons")):
            rights.setdefault(round(end, 1), []).append(text)
    finished, rough = sorted(rights)
    assert rights[finished][:2] == ["1 cwt", "1 ton 19 cwt"]
    assert [rough, rights[rough][0]] == [199.0, "1 cwt 0 qr 14 lb"]
    assert "about 3 tons" in rights[finished]


def test_the_contents_of_the_first_sheet_say_what_each_section_adds() -> None:
    front, _ = weighed(CWT, CWT)
    (y,) = {y for _, y, text in front if text == "2 lines"}
    assert {text for _, at, text in front if at == y} == {"4 Slewing gear", "2 lines", "3 tons 18 cwt", "page 4-1"}


def test_where_weights_have_columns_from_and_to_stand_below_and_are_said_once() -> None:
    _, sheet = weighed(CWT)
    texts = [text for _, _, text in sheet]
    assert sum(text.startswith("from PAT, to MCH; ") for text in texts) == 1
    assert "from PAT" not in texts


def test_the_plain_form_says_the_same_in_80_columns() -> None:
    weight = ShareWeight(2 * TON, 3 * TON, 1, "imperial")
    extract = replace(SMALL, lines=(replace(LINE, weighs=ROUGH), replace(LINE, weighs=NONE)), weight=weight)
    printed = plain_text(extract, plain=True)
    assert printed.isascii()
    assert max(map(len, printed.splitlines())) <= 80
    told = " ".join(printed.replace("|", " ").split())
    for words in ("Weight 2 tons finished", "To order 3 tons", "No weight 1 item,",
                  "Weight: each 1 cwt, all 1 ton 19 cwt", "Weight: not known"):  # fmt: skip
        assert words in told
