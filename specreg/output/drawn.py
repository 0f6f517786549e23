"""What is drawn on sheets of A4: runs of text and straight rules in their places, in millimetres from left and top."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from specreg.output.founts import MILLIMETRES_A_POINT, Cut, Founts
from specreg.output.line_breaking import Said, SetLine, broken, printable

HEIGHT = 297.0
LEFT, RIGHT = 20.0, 200.0
"""The filing margin ends, the right margin begins."""

BREADTH = RIGHT - LEFT
PAD = 1.0
"""Between a rule and a text beside it."""

TEXT = 9.0
"""Points of the text."""

PITCH = 3.75
"""From line to line of the text."""

CAPTION = 6.5
"""Points of a caption."""

HEADING = 15.0
"""The base line of a sheet's heading and of the name of its page."""

PAGE_NAME_BREADTH = 36.0
HEADING_BREADTH = BREADTH - PAGE_NAME_BREADTH - 2
"""What the name of a page may take, and the heading beside it."""


class Run(NamedTuple):
    """A run of text: where its base line begins, its style by number, and what it says."""

    x: float
    y: float
    style: int
    text: str


class Rule(NamedTuple):
    """A straight rule from a place, so far to the right and down: `weight` 0 thin, 1 thick, 2 dashed."""

    x: float
    y: float
    across: float
    down: float
    weight: int


@dataclass(slots=True)
class Sheet:
    """One sheet being drawn: the name of its page, and what stands on it above its title block.

    `lifted` is by how much the title block stands higher, because the receipt stands below it; `warned` says whether it
    bears lines that are warned of.
    """

    page: str = ""
    runs: list[Run] = field(default_factory=list)
    rules: list[Rule] = field(default_factory=list)
    lifted: float = 0.0
    warned: bool = False

    def put(self, other: Sheet, down: float) -> None:
        """Draw what another one bears, so much lower."""
        self.runs += [run._replace(y=run.y + down) for run in other.runs]
        self.rules += [rule._replace(y=rule.y + down) for rule in other.rules]


class Pen:
    """Sets texts in the founts; keeps the styles (points and cut) met, each with its number in the order met."""

    def __init__(self, founts: Founts) -> None:
        self._founts = founts
        self._styles: dict[tuple[float, Cut], int] = {(TEXT, Cut.PLAIN): 0}

    @property
    def founts(self) -> Founts:
        """The founts."""
        return self._founts

    @property
    def styles(self) -> tuple[tuple[float, Cut], ...]:
        """The styles met."""
        return tuple(self._styles)

    def style(self, points: float, cut: Cut) -> int:
        """The number of a style."""
        return self._styles.setdefault((points, cut), len(self._styles))

    def set(self, said: Sequence[Said], width: float, points: float = TEXT) -> tuple[SetLine, ...]:
        """Texts in lines of at most so many millimetres."""
        return broken(tuple(said), width, points, self._founts)

    def width(self, line: SetLine, points: float) -> float:
        """How many millimetres a line takes."""
        return max((run.x + self._founts.millimetres(run.text, points, run.cut) for run in line), default=0.0)

    def runs(self, lines: Sequence[SetLine], x: float, y: float, points: float, pitch: float = 0.0) -> Iterator[Run]:
        """The lines one under the other, the first with its base line at `y`."""
        step = pitch or line_step(points)
        for place, line in enumerate(lines):
            for begin, text, cut in line:
                yield Run(round(x + begin, 2), round(y + place * step, 2), self.style(points, cut), text)

    def one_line(self, text: str, width: float, points: float, cut: Cut = Cut.PLAIN) -> str:
        """The text on one line, shortened with dots where it must be."""
        whole = " ".join(printable(text).split())
        if self._founts.millimetres(whole, points, cut) <= width:
            return whole
        while whole and self._founts.millimetres(whole + "…", points, cut) > width:
            whole = whole[:-1]
        return whole.rstrip() + "…"


def line_step(points: float) -> float:
    """From line to line of a text so large."""
    return points * MILLIMETRES_A_POINT * 1.18


def frame(upper: float, lower: float) -> list[Rule]:
    """A frame over the breadth."""
    return [
        Rule(LEFT, upper, BREADTH, 0, 1), Rule(LEFT, lower, BREADTH, 0, 1), Rule(LEFT, upper, 0, lower - upper, 1),
        Rule(RIGHT, upper, 0, lower - upper, 1),
    ]  # fmt: skip
