"""Texts in ASCII alone, with every figure as it was."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.output.plain_ascii import plain_ascii


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("1½", "1 1/2"),
        ("½", "1/2"),
        ("19'-6½\"", "19'-6 1/2\""),
        ("¾in", "3/4 in"),
        ("½3", "1/2 3"),
        ("Ø30", "dia 30"),
        ('1½" Ø', '1 1/2" dia'),
        ("25Ø", "25 dia"),
        ("⌀25", "dia 25"),
        ("Øresund", "Oresund"),
        ("3–4 — 5", "3-4 - 5"),
        ("»«§×", "><Sx"),
        ("λ = 4μ", "lambda = 4 mu"),
        ("ά", "alpha"),
        ("Ω", "Omega"),
        ("10² ft³ H₂", "10^2 ft^3 H_2"),
        ("4①", "4(1)"),
        ("45°", "45 deg"),
        ("Straße é Ł", "Strasse e L"),
        ("5′ 2″ “x”", '5\' 2" "x"'),
        ("鋼12", "?12"),
        ("12", "12"),
        ("a\u00a0b\u00adc", "a bc"),
    ],
)
def test_signs_a_plain_printer_has(text: str, plain: str) -> None:
    assert plain_ascii(text) == plain


@given(st.text())
def test_plain_text_is_ascii_and_keeps_what_was_ascii(text: str) -> None:
    assert plain_ascii(text).isascii()
    kept = iter(plain_ascii(text))
    assert all(sign in kept for sign in unicodedata.normalize("NFC", text) if sign.isascii())
