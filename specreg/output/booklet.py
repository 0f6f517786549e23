"""What is printed on sheets, before it is laid out: a front, parts of lines in columns, closing words, a title block.

Every text is as a person wrote it. Sizes are in points, widths in millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass

from specreg.output.line_breaking import Said

Pair = tuple[str, str]
"""A caption and its text."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the lines: its head, which may have two lines, its width, and whether what stands in it ends at its
    right."""

    head: str
    width: float
    right: bool = False


@dataclass(frozen=True, slots=True)
class Entry:
    """A text in a column: what it says, and the sizes it may be set in, from large to small; the first that takes it on
    one line is used, else the last, broken."""

    said: Said
    sizes: tuple[float, ...] = (9,)


@dataclass(frozen=True, slots=True)
class BookletLine:
    """One line: the signs in its margin, what stands in each column, and what stands below over the whole breadth.

    `name` is what it is called where it goes on overleaf. With fewer cells than columns the last takes the rest. A
    line that is `warned` of has the booklet's warning at the foot of its sheet.
    """

    name: str
    margin: str
    cells: tuple[tuple[Entry, ...], ...]
    below: tuple[tuple[Said, ...], ...] = ()
    warned: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """Lines that begin a sheet of their own. `pages` begins the names of its pages (`4` for `4-1`); `count` and
    `weight` are what the contents say of it (`36 lines`)."""

    pages: str
    heading: str
    count: str
    lines: tuple[BookletLine, ...]
    weight: str = ""


@dataclass(frozen=True, slots=True)
class Facts:
    """Captions with their texts."""

    pairs: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class Box:
    """A heading in a frame, and under it rows of (sign, number, text) or texts alone, and a last word."""

    heading: str
    rows: tuple[tuple[str, str, str], ...] = ()
    texts: tuple[str, ...] = ()
    last: str = ""


@dataclass(frozen=True, slots=True)
class Contents:
    """Where the parts stand: heading, count, weight and pages of each."""

    heading: str = "Contents"


Block = Facts | Box | Contents
"""What the front is made of."""


@dataclass(frozen=True, slots=True)
class Receipt:
    """The slip at the foot of the last sheet: what is known, and the captions of what is written in by hand."""

    known: tuple[Pair, ...]
    by_hand: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Booklet:
    """All that is printed.

    `name` is the file's title. `columns` leave out the margin for signs; the last one's width is what is left of the
    breadth. `warning` stands at the foot of the sheets with lines that are warned of. `nil` is what a booklet without
    lines says in their place. `title` is the title block row by row, with the weights by which the cells of a row share
    its breadth; its last cell is left empty for the sheet's number. `bold` are captions of the title block whose text
    stands out.
    """

    name: str
    heading: str
    front: tuple[Block, ...]
    columns: tuple[Column, ...]
    parts: tuple[Part, ...]
    warning: tuple[Said, ...]
    nil: str
    closing: tuple[str, ...]
    receipt: Receipt | None
    title: tuple[tuple[Pair, ...], ...]
    weights: tuple[tuple[int, ...], ...]
    bold: tuple[str, ...]
