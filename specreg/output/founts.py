"""How wide the typesetter's founts set a text: measured by the typesetter itself, sign by sign.

The founts are set without kerning and ligatures, so that a text is as wide as its signs together; lines can then be
broken and sheets laid out before anything is typeset.
"""

from __future__ import annotations

import json
import threading
from enum import IntEnum
from functools import cache
from importlib.resources import files


class Cut(IntEnum):
    """The cut of a fount."""

    PLAIN = 0
    BOLD = 1
    ITALIC = 2


BLOCK = 256
"""Signs measured together."""

MILLIMETRES_A_POINT = 25.4 / 72
"""A typographic point of 1/72 inch."""


class Founts:
    """Widths of signs, measured a block of Unicode at a time when one of it is first met. For several threads."""

    def __init__(self) -> None:
        self._ems: tuple[dict[str, float], ...] = tuple({} for _ in Cut)
        self._texts: tuple[dict[str, float], ...] = tuple({} for _ in Cut)
        self._lock = threading.Lock()

    def ems(self, text: str, cut: Cut = Cut.PLAIN) -> float:
        """The width of a text in ems, that is for each unit of its size; the text holds no control signs."""
        known = self._texts[cut].get(text)
        if known is None:
            widths = self._ems[cut]
            try:
                known = sum(map(widths.__getitem__, text))
            except KeyError:
                self._learn({sign for sign in text if sign not in widths})
                known = sum(map(widths.__getitem__, text))
            self._texts[cut][text] = known
        return known

    def _learn(self, met: set[str]) -> None:
        with self._lock:
            blocks = {ord(sign) // BLOCK for sign in met}
            signs = [chr(code) for block in blocks for code in range(block * BLOCK, (block + 1) * BLOCK)]
            new = [sign for sign in signs if sign in met or sign.isprintable()]
            for known, widths in zip(self._ems, measured(new), strict=True):
                known.update(zip(new, widths, strict=True))

    def millimetres(self, text: str, points: float, cut: Cut = Cut.PLAIN) -> float:
        """The width of a text set so large."""
        return self.ems(text, cut) * points * MILLIMETRES_A_POINT


@cache
def founts() -> Founts:
    """The founts of this process."""
    return Founts()


def measured(signs: list[str]) -> list[list[float]]:
    """Widths in ems for each cut. Each sign is measured between two others, where a blank has its width too."""
    import typst

    told = {"signs": json.dumps(["", *signs], ensure_ascii=False)}
    template = files("specreg.output").joinpath("widths.typ").read_bytes()
    answer = typst.query(template, "<widths>", field="value", one=True, sys_inputs=told, ignore_system_fonts=True)
    return [[(width - alone) / 1000 for width in widths] for alone, *widths in json.loads(answer)]
