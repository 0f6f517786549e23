"""One sign for signs that mean the same on paper, place for place, so that what is found can be shown as written."""

from __future__ import annotations

_ALIKE = {
    **dict.fromkeys("″“”„‟˝〃", '"'),
    **dict.fromkeys("′‘’‚‛´`ʹʼ", "'"),
    **dict.fromkeys("‐‑‒–—―−﹣", "-"),
    **dict.fromkeys("⁄∕", "/"),
    **dict.fromkeys("×✕", "x"),
    **dict.fromkeys("º˚", "°"),
    # The raised point of older British print.
    **dict.fromkeys("·∙⋅", "."),
    "μ": "µ",
    # Full-width signs.
    **{chr(code): chr(code - 0xFEE0) for code in range(0xFF01, 0xFF5F)},
}


class _Plain(dict[int, str]):
    """Each sign and what it is read as, worked out when first met."""

    def __missing__(self, code: int) -> str:
        sign = chr(code)
        plain = self[code] = " " if sign.isspace() else _ALIKE.get(sign, sign)
        return plain


_PLAIN = _Plain()


def plain(text: str) -> str:
    """The text with dashes, inch and foot marks, strokes, crosses, points and spaces of one kind, as long as before."""
    return text.translate(_PLAIN)
