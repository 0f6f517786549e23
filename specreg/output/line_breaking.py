"""Texts broken into lines that fit a width exactly, for sheets set in a proportional fount.

Runs of blanks print as one. A whole number and its fraction, feet and their inches, `rev` and its mark are held
together. A word wider than the room is broken after a dash or a stroke, else between two signs, without a sign put in,
so that it reads back whole. Signs that print nothing or turn the reading order print as a replacement sign.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from specreg.output.founts import MILLIMETRES_A_POINT, Cut, Founts

_UNPRINTABLE = re.compile(
    r"[\x00-\x08\x0e-\x1f\x7f-\x9f\xad\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufffe\uffff\ud800-\udfff]"
)
_BLANKS = re.compile(r"[ \t]+")
_ONE_MEASURE = re.compile(r"(?<=[0-9]) (?=[0-9]+/[0-9]|[¼-¾⅐-⅞])|(?<=[0-9]') (?=[0-9])|(?<=\brev) (?=\S)")
_JOINTS = re.compile(r"[^/-]*[/-]+|[^/-]+")
_HELD = "\N{NO-BREAK SPACE}"


MOST_KEPT = 1 << 15
"""Texts of which the lines are kept: an item's words are printed again in the share of every department it goes to."""


class Said(NamedTuple):
    """A text in one cut."""

    text: str
    cut: Cut = Cut.PLAIN


class Set(NamedTuple):
    """A run of text in its place: millimetres from the left of its room."""

    x: float
    text: str
    cut: Cut


SetLine = tuple[Set, ...]
"""One line, its runs from left to right."""


def printable(text: str) -> str:
    """The text with a replacement sign for every sign that prints nothing or turns the reading order."""
    return _UNPRINTABLE.sub("\N{REPLACEMENT CHARACTER}", text)


def paragraphs(text: str) -> list[str]:
    """The text's own lines, made fit to be set: blanks joined, measures held together."""
    return [
        _ONE_MEASURE.sub(_HELD, _BLANKS.sub(" ", one).strip()) if " " in one or "\t" in one else one
        for one in printable(text).splitlines()
    ]


@lru_cache(MOST_KEPT)
def broken(said: tuple[Said, ...], millimetres: float, points: float, founts: Founts) -> tuple[SetLine, ...]:
    """The texts, one after the other with a blank between, in lines of at most so many millimetres.

    Each text's own line breaks are kept. No line for texts that say nothing.
    """
    scale = points * MILLIMETRES_A_POINT
    breaking = _Breaking(millimetres / scale, founts)
    for text, cut in said:
        for place, paragraph in enumerate(paragraphs(text)):
            breaking.put(paragraph, cut, place > 0)
    return tuple(tuple(Set(x * scale, text, cut) for x, text, cut in line) for line in breaking.lines)


class _Breaking:
    """Lines being filled; `room` and places are in ems."""

    def __init__(self, room: float, founts: Founts) -> None:
        self.lines: list[list[Set]] = []
        self._room = room
        self._founts = founts
        self._at = 0.0

    def put(self, paragraph: str, cut: Cut, on_a_new_line: bool) -> None:
        """Set a paragraph after what stands, or on a new line."""
        if on_a_new_line or not self.lines:
            self._turn()
        gap = self._founts.ems(" ", cut) if self.lines[-1] else 0.0
        width = self._founts.ems(paragraph, cut)
        if self._at + gap + width <= self._room:
            self._set(self._at + gap, paragraph, cut, width)
            return
        built, begins = "", self._at + gap
        end = begins
        for word in paragraph.split(" "):
            width = self._founts.ems(word, cut)
            space = self._founts.ems(" ", cut) if built else 0.0
            if end + space + width <= self._room:
                built = f"{built} {word}" if built else word
                end += space + width
                continue
            if built:
                self._set(begins, built, cut, end - begins)
            *whole, built = _pieces(word, cut, self._room, self._founts)
            for piece in whole:
                self._turn()
                self._set(0.0, piece, cut, self._room)
            self._turn()
            begins, end = 0.0, self._founts.ems(built, cut)
        self._set(begins, built, cut, end - begins)

    def _set(self, x: float, text: str, cut: Cut, width: float) -> None:
        if text:
            self.lines[-1].append(Set(x, text, cut))
        self._at = x + width

    def _turn(self) -> None:
        """A new line, unless the last is empty."""
        if not self.lines or self.lines[-1]:
            self.lines.append([])
        self._at = 0.0


def _pieces(word: str, cut: Cut, room: float, founts: Founts) -> list[str]:
    """The word in pieces none of which is wider than the room; one, when it fits."""
    if founts.ems(word, cut) <= room:
        return [word]
    pieces = [""]
    for part in _parts(word, cut, room, founts):
        if pieces[-1] and founts.ems(pieces[-1] + part, cut) > room:
            pieces.append(part)
        else:
            pieces[-1] += part
    return pieces


def _parts(word: str, cut: Cut, room: float, founts: Founts) -> Iterator[str]:
    """What a word may be broken between: its joints, and its signs where a joint is still too wide."""
    for part in _JOINTS.findall(word):
        if founts.ems(part, cut) <= room:
            yield part
        else:
            yield from _signs(part)


def _signs(text: str) -> Iterator[str]:
    """The signs of a text, each with those written on it, which must not be parted from it."""
    built = ""
    for sign in text:
        if built and unicodedata.category(sign) not in ("Mn", "Me", "Mc", "Cf"):
            yield built
            built = ""
        built += sign
    if built:
        yield built


@lru_cache(MOST_KEPT)
def size_that_fits(text: str, millimetres: float, sizes: tuple[float, ...], cut: Cut, founts: Founts) -> float:
    """The largest of some sizes in points, given from large to small, that takes the text on one line; else the
    smallest."""
    lines = paragraphs(text)
    if len(lines) > 1:
        return sizes[-1]
    width = founts.ems(lines[0], cut) * MILLIMETRES_A_POINT if lines else 0.0
    return next((size for size in sizes if width * size <= millimetres), sizes[-1])
