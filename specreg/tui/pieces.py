"""Painted text: pieces of text with a role, put together to lines of an exact width in terminal cells.

A role says what a piece is (`added`, `safety`, `quiet`), never how it looks; the theme turns roles into looks. Widths
are counted in cells, so that full-width and combining characters keep the columns straight.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from rich.cells import cell_len, set_cell_size

CUT = "…"
"""Stands at the end of a text that did not fit, so that nobody takes the rest for the whole."""

_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2028\u2029\u2066-\u2069\ufeff]")


class Piece(NamedTuple):
    """A run of text in one role; an empty role takes the role of the row it stands in."""

    text: str
    role: str = ""


Line = tuple[Piece, ...]
"""One painted line."""


def clean(text: str) -> str:
    """The text without control characters, which could move the terminal's cursor or turn the writing round."""
    return _CONTROL.sub(" ", text)


def line(*parts: str | Piece) -> Line:
    """A line of plain texts and pieces."""
    return tuple(part if isinstance(part, Piece) else Piece(part) for part in parts)


def width_of(pieces: Iterable[Piece]) -> int:
    """How many cells the pieces take."""
    return sum(cell_len(piece.text) for piece in pieces)


def cut(text: str, width: int) -> str:
    """The text, shortened to at most `width` cells with a sign that something is missing."""
    if cell_len(text) <= width:
        return text
    if width <= 1:
        return CUT[:width]
    return set_cell_size(text, width - 1).rstrip() + CUT


def cut_line(pieces: Line, width: int) -> Line:
    """The pieces, shortened to at most `width` cells."""
    if width_of(pieces) <= width:
        return pieces
    kept: list[Piece] = []
    left = width
    for piece in pieces:
        size = cell_len(piece.text)
        if size >= left:
            kept.append(Piece(cut(piece.text + " ", left) if size == left else cut(piece.text, left), piece.role))
            break
        kept.append(piece)
        left -= size
    return tuple(kept)


def fitted(pieces: Line, width: int, to_the_right: bool = False) -> Line:
    """The pieces, cut or filled with spaces to exactly `width` cells."""
    kept = cut_line(pieces, width)
    gap = Piece(" " * (width - width_of(kept)))
    if not gap.text:
        return kept
    return (gap, *kept) if to_the_right else (*kept, gap)


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` cells, broken between words, its own line breaks kept."""
    lines: list[str] = []
    for paragraph in text.splitlines():
        lines.extend(_wrapped_paragraph(clean(paragraph), max(1, width)))
    return lines


def _wrapped_paragraph(text: str, width: int) -> Iterator[str]:
    built = ""
    for word in text.split():
        rest = word
        if built and cell_len(built) + 1 + cell_len(rest) <= width:
            built = f"{built} {rest}"
            continue
        if built:
            yield built
        while cell_len(rest) > width:
            head = set_cell_size(rest, width).rstrip() or rest[0]
            yield head
            rest = rest[len(head) :]
        built = rest
    yield built


def wrapped_line(pieces: Line, width: int) -> tuple[Line, ...]:
    """The pieces in lines of at most `width` cells, broken between words; at least one line.

    A piece goes on in the line of the one before it where its own first line finds room there.
    """
    lines: list[Line] = [()]
    behind = ""
    for piece in pieces:
        gap = behind + " " * (len(piece.text) - len(piece.text.lstrip(" ")))
        behind = " " * (len(piece.text) - len(piece.text.rstrip(" ")))
        for place, text in enumerate(wrapped(piece.text, width)):
            goes_on = place == 0 and lines[-1] and width_of(lines[-1]) + len(gap) + cell_len(text) <= width
            if goes_on:
                lines[-1] = (*lines[-1], Piece(gap + text, piece.role))
            else:
                lines.append((Piece(text, piece.role),))
    return tuple(one for one in lines if one) or ((),)


def marked(text: str, words: Iterable[str], role: str, other: str = "") -> Line:
    """The text with every occurrence of one of the words, any case, in a role of its own."""
    wanted = sorted({word for word in words if word.strip()}, key=len, reverse=True)
    if not wanted:
        return (Piece(text, other),)
    parts = re.split("(" + "|".join(re.escape(word) for word in wanted) + ")", text, flags=re.IGNORECASE)
    return tuple(Piece(part, role if at % 2 else other) for at, part in enumerate(parts) if part)
