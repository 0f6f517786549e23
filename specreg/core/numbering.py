"""Numbers of items, drawings and notes: how they sort, how they are compared, which forms a house allows.

A number is kept verbatim. Nothing is read into a trailing letter: it is part of the number. Two derived forms exist:
the *key*, which sorts level by level as whole numbers (ISO 2145: 1.9 < 1.10; an inserted 142A stands between 142 and
143 and after everything under 142), and the *squashed* form, letters and figures only, by which a clerk finds a number
whatever dashes and spaces he typed.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_RUN = re.compile(r"[0-9]+|[^\W\d_]+|.", re.DOTALL)
_OWN_LETTERS = re.compile(r"(?<=[0-9])[A-Z]+$")
_LEVELS = re.compile(r"[0-9]+[A-Z]*(?:\.[0-9]+[A-Z]*)*")
_PURE_ISO_2145 = re.compile(r"(?:0|[1-9][0-9]*)(?:\.(?:0|[1-9][0-9]*))*")

INSERTION_LETTERS = "ABCDEFGHJKLMNPRTUVWY"
"""Letters for numbers put in between: as for revisions, without I O Q S X Z, which are read as figures."""


def folded(number: str) -> str:
    """The number in capitals, full-width and compatibility characters made plain, spaces at the ends dropped."""
    return unicodedata.normalize("NFKC", number).strip().upper()


@lru_cache(maxsize=20_000)
def number_key(number: str) -> str:
    """A text that sorts as the trade sorts numbers; equal for numbers that differ only in case or leading zeros.

    Figures are compared as whole numbers, letters after figures by length first (142Z < 142AA), and a level before
    its sub-levels before its insertions: 2.1.2 < 2.1.2.1 < 2.1.2A < 2.1.3.
    """
    key: list[str] = []
    after_figures = False
    for run in _RUN.findall(folded(number)):
        if run[0].isdecimal() and run.isascii():
            whole = run.lstrip("0") or "0"
            key.append(f"{len(whole):02d}{whole}")
            after_figures = True
        elif run[0].isalpha():
            key.append(f"{chr(0x40 + min(len(run), 26))}{run}" if after_figures else run)
            after_figures = False
        else:
            # The full stop must come before every letter and figure, so that sub-levels precede insertions.
            key.append("!" if run == "." else run)
            after_figures = False
    return "".join(key)


def squashed(number: str) -> str:
    """Letters and figures only, small: `QD-05127-S/2` -> `qd05127s2`."""
    return "".join(sign for sign in folded(number).lower() if sign.isalnum())


def is_iso_2145(number: str) -> bool:
    """Whether a number is a division number of ISO 2145: Arabic figures, a full stop between levels, none at the end.

    A leading zero is refused too (house rule; the standard does not speak of it).
    """
    return _PURE_ISO_2145.fullmatch(number) is not None


def is_house_form(number: str) -> bool:
    """Whether an item number has the form of our own orders: levels of figures, each with insertion letters or none."""
    return _LEVELS.fullmatch(number) is not None


def levels(number: str) -> tuple[str, ...]:
    """The levels of a number: `4.1.2A` -> `("4", "1", "2A")`."""
    return tuple(folded(number).split("."))


def depth(number: str) -> int:
    """How many levels a number has; a section has one."""
    return len(levels(number))


def is_under(number: str, above: str) -> bool:
    """Whether `number` is a division of `above`, at any depth."""
    mine, its = levels(number), levels(above)
    return len(mine) > len(its) and mine[: len(its)] == its


def next_insertion(number: str, taken: set[str]) -> str:
    """The first free number to be put in after `number`: 142 -> 142A, or 142B when 142A is taken; 142A -> 142B.

    It stands before the next whole number. `taken` holds `number_key`s. ValueError when the letters are used up.
    """
    own = number_key(number)
    # After 142A comes 142B: 142AA would stand behind 142Y.
    stem = _OWN_LETTERS.sub("", folded(number))
    for first in ["", *INSERTION_LETTERS]:
        for second in INSERTION_LETTERS:
            offered = f"{stem}{first}{second}"
            key = number_key(offered)
            if key > own and key not in taken:
                return offered
    raise ValueError(f"no letter is left for an insertion after {number}")
