"""Text in cells of a fixed pitch: how much room it takes, and how it is padded, broken and set side by side."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence

WIDTH = 80
"""Cells of a line on a terminal and on a sheet of list paper."""

_SPACES = re.compile(r"[ \t]+")
_FRACTION = re.compile(r"[0-9]+/[0-9]|[¼-¾⅐-⅞]")
_REVISION = re.compile(r"(?:.*\W)?rev", re.IGNORECASE)
_CONTROL = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x9f]")


def cell_length(text: str) -> int:
    """How many cells a text takes on a screen or printer of fixed pitch.

    Wide and full-width signs of Unicode's East Asian Width take two, combining and format signs none, all others one.
    """
    return len(text) if text.isascii() else sum(map(_cells, text))


def _cells(sign: str) -> int:
    if unicodedata.category(sign) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1


def padded(text: str, width: int) -> str:
    """The text filled with spaces to `width` cells."""
    return text + " " * (width - cell_length(text))


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` cells, broken between words, a longer word within itself.

    A whole number and its fraction, `rev` and its mark are not parted where they fit on one line. A line break in the
    text starts a new line; an empty text gives no line. `width` is 2 or more.
    """
    lines: list[str] = []
    for paragraph in text.splitlines():
        line, length = "", 0
        for word in _words(_CONTROL.sub("\N{REPLACEMENT CHARACTER}", paragraph), width):
            for piece in _pieces(word, width):
                wide = cell_length(piece)
                if line and length + 1 + wide <= width:
                    line, length = f"{line} {piece}", length + 1 + wide
                else:
                    if line:
                        lines.append(line)
                    line, length = piece, wide
        if line:
            lines.append(line)
    return lines


def hung(lead: str, text: str, further: int = 0, width: int = WIDTH) -> list[str]:
    """The text behind a lead, at least a line; it goes on under its own beginning, or so many cells further in."""
    indent = " " * (cell_length(lead) + further)
    lines = wrapped(text, width - len(indent)) or [""]
    return [f"{indent if place else lead}{line}" for place, line in enumerate(lines)]


def _words(paragraph: str, width: int) -> Iterator[str]:
    """The words of a paragraph; `1 1/4"` counts as one, since its halves on two lines would read as two sizes, and so
    does `rev -`, since a dash at the head of a line reads as a withdrawal."""
    held = ""
    for word in filter(None, _SPACES.split(paragraph)):
        if _belong_together(held, word) and cell_length(held) + cell_length(word) < width:
            held = f"{held} {word}"
            continue
        if held:
            yield held
        held = word
    if held:
        yield held


def _belong_together(held: str, word: str) -> bool:
    stem = held.rstrip("0123456789")
    if stem != held and not stem.endswith("/") and _FRACTION.match(word):
        return True
    return _REVISION.fullmatch(held) is not None


def shortened(text: str, width: int) -> str:
    """The text in one line of at most `width` cells, cut between words and `...` put after it where it is longer."""
    lines = wrapped(" ".join(text.split()), width)
    if len(lines) < 2:
        return "".join(lines)
    first = wrapped(" ".join(text.split()), max(2, width - 4))[0]
    return f"{first.rstrip(' ,;:')} ..."


def strung(texts: Sequence[str], width: int) -> list[str]:
    """Texts one after another with `; ` between, in lines of at most `width` cells.

    A line ends between two texts, and within one only where it is longer than a line; empty texts are passed over.
    """
    lines: list[str] = []
    whole = [text for text in texts if text]
    for place, text in enumerate(whole, start=1):
        pieces = wrapped(text if place == len(whole) else f"{text};", width)
        if lines and pieces and cell_length(lines[-1]) + 1 + cell_length(pieces[0]) <= width and len(pieces) == 1:
            lines[-1] = f"{lines[-1]} {pieces[0]}"
        else:
            lines += pieces
    return lines


def _pieces(word: str, width: int) -> Iterator[str]:
    if cell_length(word) <= width:
        yield word
        return
    piece, length = "", 0
    for sign in word:
        wide = _cells(sign)
        if length + wide > width:
            yield piece
            piece, length = "", 0
        piece, length = piece + sign, length + wide
    yield piece


def beside(cells: Sequence[Sequence[str]], widths: Sequence[int], stroke: str = "│") -> list[str]:
    """Cells set beside each other with a stroke between, as deep as the deepest."""
    depth = max(map(len, cells))
    return [
        stroke.join(
            padded(cell[row] if row < len(cell) else "", width) for cell, width in zip(cells, widths, strict=True)
        )
        for row in range(depth)
    ]


def shared_out(width: int, weights: Sequence[int]) -> list[int]:
    """`width` cells shared out over columns by weight, less a stroke between each; the heaviest takes what is over."""
    inner = width - (len(weights) - 1)
    widths = [inner * weight // sum(weights) for weight in weights]
    widths[weights.index(max(weights))] += inner - sum(widths)
    return widths
