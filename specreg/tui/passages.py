"""A sheet of parts under each other: plain lines, and passages that open something and are laid out when first seen.

What a sheet costs follows what is on the screen, not how long it is: nothing here asks a passage for its lines before
it is near the screen.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from specreg.tui.pieces import Line

LAID_KEPT = 512
"""Passages whose lines are kept; many more than stand on any screen."""


@dataclass(frozen=True, slots=True)
class Passage:
    """Lines that open something: `key` names what; `lay` gives the lines, at least one, when they are wanted."""

    key: str
    lay: Callable[[], Sequence[Line]]


Part = Line | Passage
"""A plain line, or a passage."""

Place = tuple[int, int]
"""A line of a sheet: in which part it stands, and which line of that part it is, both from 0."""


def passage(key: str, lines: Sequence[Line]) -> Passage:
    """A passage whose lines are there already."""
    return Passage(key, lambda: lines)


def lines_of_part(part: Part) -> Sequence[Line]:
    """The lines of a part."""
    return (part.lay() or ((),)) if isinstance(part, Passage) else (part,)


class Laid:
    """Parts laid under each other, each taking the lines it needs."""

    def __init__(self, parts: Sequence[Part] = ()) -> None:
        self.parts = parts
        self._kept: dict[int, Sequence[Line]] = {}

    def lines(self, at: int) -> Sequence[Line]:
        """The lines of one part."""
        lines = self._kept.get(at)
        if lines is None:
            if len(self._kept) >= LAID_KEPT:
                self._kept.clear()
            lines = self._kept[at] = lines_of_part(self.parts[at])
        return lines

    def line(self, place: Place) -> Line:
        """The line in a place."""
        return self.lines(place[0])[place[1]]

    def key(self, at: int) -> str:
        """What a part opens; empty for a plain line, and where there is no part."""
        part = self.parts[at] if 0 <= at < len(self.parts) else ()
        return part.key if isinstance(part, Passage) else ""

    def place_of(self, key: str) -> int:
        """In which part a key stands; -1 when it is not there."""
        return next((at for at in range(len(self.parts)) if key and self.key(at) == key), -1)

    def passage_from(self, at: int, step: int) -> int:
        """The first passage after a part (`step` 1) or before it (-1); -1 when there is none."""
        way = range(at + 1, len(self.parts)) if step > 0 else range(at - 1, -1, -1)
        return next((one for one in way if self.key(one)), -1)

    def moved(self, place: Place, lines: int) -> Place:
        """The place so many lines further, back when negative; the first or the last line when there are no more."""
        if not self.parts:
            return 0, 0
        last = len(self.parts) - 1
        at, inner = min(place[0], last), place[1] + lines
        while inner < 0 < at:
            at -= 1
            inner += len(self.lines(at))
        while at < last and inner >= len(self.lines(at)):
            inner -= len(self.lines(at))
            at += 1
        return at, max(0, min(inner, len(self.lines(at)) - 1))

    def lowest(self, height: int) -> Place:
        """The place in the first row of a screen when the last line stands in its last row."""
        if not self.parts:
            return 0, 0
        last = len(self.parts) - 1
        return self.moved((last, len(self.lines(last)) - 1), 1 - max(1, height))

    def rows(self, top: Place, height: int) -> tuple[Place, ...]:
        """The places in the rows of a screen, from the first; fewer where the sheet ends."""
        rows: list[Place] = []
        at, inner = top
        while at < len(self.parts) and len(rows) < height:
            rows += [(at, one) for one in range(inner, len(self.lines(at)))]
            at, inner = at + 1, 0
        return tuple(rows[:height])

    def thumb(self, top: Place, height: int) -> range:
        """Which rows of a screen stand for what is on it, of all there is; none when all is on it."""
        lowest = self.lowest(height)
        if lowest == (0, 0) or height <= 0:
            return range(0)
        end = self._depth(lowest)
        size = max(1, min(height - 1, int(height * (len(self.parts) - end) / len(self.parts))))
        first = round((height - size) * self._depth(top) / end)
        # The first and the last row are touched at the very ends only.
        first = max(first, 1) if top > (0, 0) and height - size > 1 else first
        first = min(first, height - size - 1) if top < lowest and height - size > 1 else first
        return range(first, first + size)

    def _depth(self, place: Place) -> float:
        at, inner = place
        return at + inner / len(self.lines(at))
