"""What tests of printed text share: an independent measure of cells, and signs that are awkward to print."""

from __future__ import annotations

import unicodedata

from hypothesis import strategies as st

SIGNS = st.one_of(
    st.characters(codec="utf-8"),
    st.sampled_from("ab1½Øλ鋼Ａ\u0301\t\n\r\f\v\x1b\x85\u2028│|─ "),
)


def cells_across(text: str) -> int:
    """An independent measure: East Asian wide and full-width signs two cells, signs that take no room none."""
    decomposed = [sign for sign in text if unicodedata.category(sign) not in {"Mn", "Me", "Cf"}]
    return len(decomposed) + len([sign for sign in decomposed if unicodedata.east_asian_width(sign) in {"W", "F"}])
