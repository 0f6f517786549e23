"""The table of comma-separated values: what goes in comes out, sign for sign."""

from __future__ import annotations

import csv
import io
from dataclasses import fields, replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from specreg.core.extracts import Extract, ExtractLine, LineWeight
from specreg.core.weighing import Standing
from specreg.output.csv_table import columns, csv_table
from tests.output.extracts_to_write import LARGE, LINE, NASTY, NIL, SMALL, WITHDRAWN


def read(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def as_texts(extract: Extract, line: ExtractLine) -> list[str]:
    origin = [extract.order, extract.title_block.revision, str(extract.number), extract.department, extract.seal]
    values = (getattr(line, field.name) for field in fields(line) if field.name != "weighs")
    weights = [""] * 5 if line.weighs is None else ["291.206", "340.000", "5824.120", "6800.000", "weighed"]
    return [*origin, *("" if value is None else str(value) for value in values), *weights]


def test_the_head_row_is_plain_names() -> None:
    assert read(csv_table(SMALL))[0] == [
        *("order", "revision", "extract", "department", "seal"),
        *("sign", "number", "step", "title", "text", "operation", "off", "pieces", "material", "size", "weight"),
        *("drawing", "pattern", "from", "to", "machines", "hand", "supply", "wanted", "clearance", "safety", "remarks"),
        *("was", "section", "section title"),
        *("mass_kg", "rough_kg", "total_kg", "to_order_kg", "standing"),
    ]


def test_a_weighed_line_ends_in_kilograms() -> None:
    one, rough = Fraction("291.206"), Fraction(340)
    weighed = replace(LINE, pieces=20, weighs=LineWeight(Standing.WEIGHED, "imperial", one, rough, one, rough))
    assert read(csv_table(replace(SMALL, lines=(weighed,))))[1] == as_texts(SMALL, weighed)


def test_every_line_is_a_row_that_tells_where_it_comes_from() -> None:
    rows = read(csv_table(LARGE))[1:]
    assert [row[6] for row in rows] == [line.number for line in (*LARGE.lines, *LARGE.withdrawn)]
    assert {tuple(row[:5]) for row in rows} == {("W 611", "B", "2", "FDY", "K7MP4TQ2")}


def test_withdrawn_lines_bear_their_sign() -> None:
    assert read(csv_table(SMALL))[-1] == as_texts(SMALL, replace(WITHDRAWN, sign="-"))


def test_the_nasty_row_comes_back_sign_for_sign() -> None:
    assert read(csv_table(SMALL))[2] == as_texts(SMALL, NASTY)
    assert ',"=SUM(A1), ""Ø 1½"" | λ-bolt\nsecond line",' in csv_table(SMALL)


def test_a_leading_sign_of_a_formula_is_left_as_it_is() -> None:
    text = csv_table(replace(SMALL, lines=(replace(LINE, title="=1+1", remarks="@x", was="+2"),)))
    assert ",=1+1," in text
    assert ",@x,+2," in text


def test_rows_end_in_carriage_return_and_line_feed() -> None:
    # RFC 4180, section 2, rule 1.
    text = csv_table(NIL)
    assert text == ",".join(columns()) + "\r\n"
    plain = csv_table(replace(SMALL, lines=(LINE,)))
    assert plain.count("\r\n") == plain.count("\n") == plain.count("\r") == 3


@given(st.lists(st.text(st.characters(codec="utf-8")), min_size=22, max_size=22), st.one_of(st.none(), st.integers()))
def test_any_texts_come_back(texts: list[str], pieces: int | None) -> None:
    given_texts = iter(texts)
    others = ("step", "pieces", "weighs")
    marked = {field.name: next(given_texts, "") for field in fields(ExtractLine) if field.name not in others}
    line = replace(LINE, **marked, pieces=pieces)  # type: ignore[arg-type]
    back = csv_table(replace(SMALL, lines=(line,), withdrawn=())).encode().decode()
    assert read(back)[1] == as_texts(SMALL, line)
