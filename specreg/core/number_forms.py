"""The forms in which a works writes its numbers, as patterns that find or fit them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from specreg.core.standards import NumberForm

FIGURE, LETTER = "9", "A"


@lru_cache(maxsize=64)
def pattern_of(forms: tuple[str, ...]) -> re.Pattern[str]:
    """A pattern that finds a number of any of these forms, standing by itself: no letter or figure touches it."""
    written = "|".join(sorted(map(_as_pattern, forms), key=len, reverse=True))
    return re.compile(rf"(?<!\w)(?:{written})(?!\w)")


def forms_of(kind: str, forms: Iterable[NumberForm]) -> tuple[str, ...]:
    """The forms of one kind of number."""
    return tuple(one.form for one in forms if one.of == kind)


def _as_pattern(form: str) -> str:
    signs = {FIGURE: "[0-9]", LETTER: "[A-Z]", " ": r"[ \u00a0]"}
    return "".join(signs.get(sign, re.escape(sign)) for sign in form)
