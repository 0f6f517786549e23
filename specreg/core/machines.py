"""The machines of an order, and which of them an item is for.

An order names its machines by works numbers (`1471-1473, 1475`) or, until numbers are given, by their places
(`1st machine, 2nd machine`, `3 machines`). An item's Machines field then means *positions* in that list, counted from
0: a range runs over the machines the order lists, and both its ends are meant. Text that cannot be read is faulty
data: every reader returns what it read and one sentence, empty when nothing is wrong.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from specreg.core.numbering import number_key

MOST_MACHINES = 1000
"""More machines than this in one order are taken for a slip of the pen (`1471-14730`); common practice, no source."""

ALL_WORDS = frozenset({"", "all", "all machines"})

_DASHES = re.compile("[‐‑‒–—−]")
_LIST = re.compile(r"[,;&]|\band\b", re.IGNORECASE)
_COUNT = re.compile(r"([1-9][0-9]{0,8}) machines?", re.IGNORECASE)
_ORDINAL = re.compile(r"(?:the )?([1-9][0-9]{0,8})(?:st|nd|rd|th)(?: machine)?", re.IGNORECASE)
_NAME = re.compile(r"(?P<prefix>(?:[0-9]+[/.]|[^\W\d_][./ -]*)*)(?P<figures>[0-9]{1,18})(?P<suffix>[A-Za-z]{0,2})")
_FROM = re.compile(r"from (?:the )?(?P<rest>.+?)(?: on| onwards?| up| upwards?)?", re.IGNORECASE)
_ONWARDS = re.compile(r"(?P<rest>.+?)(?: on| onwards?| up| upwards?|-)", re.IGNORECASE)
_UP_TO = re.compile(r"(?:(?:up )?to |until |-)(?:the )?(?P<rest>.+)", re.IGNORECASE)
_BETWEEN = re.compile(r" to | ?- ?", re.IGNORECASE)
_WORDS_NOT_NAMES = re.compile(r"\b(?:from|to|up|until|on|onwards?|all|but|except|machines?)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Name:
    """A works number taken apart for counting on: the figures that count, and what stands before and after them."""

    prefix: str
    figures: str
    suffix: str

    @property
    def whole(self) -> str:
        return f"{self.prefix}{self.figures}{self.suffix}"


def order_machines(text: str) -> tuple[tuple[str, ...], str]:
    """The machines an order's text names, in its order, and a sentence, empty when the text can be read.

    Works numbers come back as written, places as `1st machine`. With a sentence no machine comes back at all.
    """
    said = _plain(text)
    if not said:
        return (), "the order names no machines: write works numbers (`1471-1473`) or how many (`3 machines`)"
    if counted := _COUNT.fullmatch(said):
        count = int(counted[1])
        if count > MOST_MACHINES:
            return (), _too_many(said)
        return tuple(ordinal(place) for place in range(1, count + 1)), ""
    names: list[str] = []
    for piece in _LIST.split(said):
        found, sentence = _names_of(piece.strip())
        if sentence:
            return (), sentence
        names.extend(found)
        if len(names) > MOST_MACHINES:
            return (), _too_many(said)
    return _listed(names)


def machines_of(text: str, of: tuple[str, ...]) -> tuple[tuple[int, ...], str]:
    """The positions in `of` that an item's Machines field means, ascending, and a sentence when it cannot be read.

    Blank and `all` mean every machine. `1473`, `1471, 1473`, `1471-1472`, `1473-` and `from 1473` (open at the top),
    `-1472` and `up to 1472` (open at the bottom), `3rd machine`; ranges run over the machines listed in `of`.
    """
    said = _plain(text)
    if said.lower() in ALL_WORDS:
        return tuple(range(len(of))), ""
    if not of:
        return (), f"`{text.strip()}` cannot be read while the order names no machines"
    places = {_name_key(name): position for position, name in enumerate(of)}
    found: set[int] = set()
    for piece in _LIST.split(said):
        span = _span(piece.strip(), places)
        if isinstance(span, str):
            return (), f"{span}; the order's are {spoken(range(len(of)), of)}"
        found.update(range(span[0], span[1] + 1))
    return tuple(sorted(found)), ""


def spoken(positions: Iterable[int], of: tuple[str, ...]) -> str:
    """The shortest text for some positions of `of`: `1471-1473, 1475`, `2nd machine`; `none` for no position.

    A range is written only over works numbers that follow one another, so that nobody reads a number into it that
    the order does not list.
    """
    runs: list[tuple[int, int]] = []
    for position in sorted(set(positions)):
        if runs and position == runs[-1][1] + 1 and _follows(of[position - 1], of[position]):
            runs[-1] = (runs[-1][0], position)
        else:
            runs.append((position, position))
    return ", ".join(_run(of[first], of[last]) for first, last in runs) or "none"


def ordinal(place: int) -> str:
    """The name of a machine that has no works number yet: 1 -> `1st machine`, 12 -> `12th machine`."""
    return f"{_ordinal_figure(place)} machine"


def _ordinal_figure(place: int) -> str:
    ending = "th" if place % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(place % 10, "th")
    return f"{place}{ending}"


def _plain(text: str) -> str:
    return _DASHES.sub("-", " ".join(text.split()))


def _name_key(name: str) -> str:
    return number_key(name.replace(" ", ""))


def _too_many(said: str) -> str:
    return f"`{said}` names more than {MOST_MACHINES:,} machines: correct the range"


def _name(text: str) -> _Name | None:
    """A works number taken apart; None when the text is none (it must end in figures and hold no word of a range)."""
    match = _NAME.fullmatch(text)
    if match is None or _WORDS_NOT_NAMES.search(match["prefix"]):
        return None
    return _Name(match["prefix"], match["figures"], match["suffix"])


def _cuts(piece: str) -> Iterator[tuple[str, str]]:
    """Every way to cut a piece in two ends of a range: a dash may also belong to a number (`C-12`)."""
    for cut in _BETWEEN.finditer(piece):
        first, last = piece[: cut.start()].strip(), piece[cut.end() :].strip()
        if first and last:
            yield first, last


def _names_of(piece: str) -> tuple[list[str], str]:
    """The machines one piece of an order's list names."""
    if place := _ORDINAL.fullmatch(piece):
        return [ordinal(int(place[1]))], ""
    if single := _name(piece):
        return [single.whole], ""
    for first, last in _cuts(piece):
        low, high = _ORDINAL.fullmatch(first), _ORDINAL.fullmatch(last)
        if low and high:
            counted = _counted(piece, int(low[1]), int(high[1]))
            return [ordinal(place) for place in counted[0]], counted[1]
        start, end = _name(first), _name(last)
        if start and end:
            return _names_between(piece, start, end)
    shown = f"`{piece}`" if piece else "an empty place in the list"
    return [], f"{shown} is no works number and no range: write `1471-1473`, `1471, 1475` or `3 machines`"


def _names_between(piece: str, start: _Name, end: _Name) -> tuple[list[str], str]:
    if start.suffix or end.suffix:
        return [], f"`{piece}` cannot be counted through, because a letter ends a number: write every number"
    if end.prefix and _name_key(end.prefix) != _name_key(start.prefix):
        return [], f"`{piece}` runs between two different series of numbers: write two ranges"
    counted, sentence = _counted(piece, int(start.figures), int(end.figures))
    width = len(start.figures)
    return [f"{start.prefix}{number:0{width}d}" for number in counted], sentence


def _counted(piece: str, low: int, high: int) -> tuple[range, str]:
    if high < low:
        return range(0), f"`{piece}` runs backwards: write the lower number first, and both in full"
    if high - low >= MOST_MACHINES:
        return range(0), _too_many(piece)
    return range(low, high + 1), ""


def _listed(names: list[str]) -> tuple[tuple[str, ...], str]:
    """The whole list, refused when a machine stands twice or a place is not its own."""
    seen: set[str] = set()
    for position, name in enumerate(names, start=1):
        if _name_key(name) in seen:
            return (), f"`{name}` is listed twice: write every machine once"
        seen.add(_name_key(name))
        if (place := _ORDINAL.fullmatch(name)) and int(place[1]) != position:
            return (), f"`{name}` stands in place {position} of the list: a machine without number keeps its own place"
    return tuple(names), ""


def _span(piece: str, places: dict[str, int]) -> tuple[int, int] | str:
    """First and last position one piece of a Machines field means, or the sentence that says why it means none."""
    bottom, top = 0, len(places) - 1
    if piece.lower() in ALL_WORDS - {""}:
        return bottom, top
    if (position := _position(piece, places)) is not None:
        return position, position
    if bounded := _bounded(piece, places):
        return bounded
    if (start := _FROM.fullmatch(piece)) and (bounded := _bounded(start["rest"], places)):
        return bounded
    start = start or _ONWARDS.fullmatch(piece)
    if start and (position := _position(start["rest"], places)) is not None:
        return position, top
    if (end := _UP_TO.fullmatch(piece)) and (position := _position(end["rest"], places)) is not None:
        return bottom, position
    shown = f"`{piece}`" if piece else "an empty place in the list"
    return f"{shown} cannot be read as machines of this order: write `1473`, `1471-1472`, `from 1472` or `3rd machine`"


def _bounded(piece: str, places: dict[str, int]) -> tuple[int, int] | str | None:
    """The span of a range with two ends; a sentence when it runs backwards; None when it is no such range."""
    for first, last in _cuts(piece):
        low, high = _position(first, places), _position(last, places)
        if low is not None and high is None and (start := _name(first)):
            high = _position(f"{start.prefix}{last}", places)
        if low is not None and high is not None:
            return (low, high) if low <= high else f"`{piece}` runs backwards: write the earlier machine first"
    return None


def _position(name: str, places: dict[str, int]) -> int | None:
    """The position of a machine called by works number or by its place in the order's list."""
    bare = name.lower().removeprefix("machines ").removeprefix("machine ")
    if (position := places.get(_name_key(bare))) is not None:
        return position
    place = _ORDINAL.fullmatch(bare)
    return int(place[1]) - 1 if place and int(place[1]) <= len(places) else None


def _follows(name: str, following: str) -> bool:
    """Whether a range may be written from one machine to the next listed."""
    place, after = _ORDINAL.fullmatch(name), _ORDINAL.fullmatch(following)
    if place or after:
        return bool(place and after)
    one, two = _name(name), _name(following)
    if one is None or two is None or one.suffix or two.suffix or one.prefix != two.prefix:
        return False
    return f"{int(one.figures) + 1:0{len(one.figures)}d}" == two.figures


def _run(first: str, last: str) -> str:
    if first == last:
        return first
    place, after = _ORDINAL.fullmatch(first), _ORDINAL.fullmatch(last)
    if place and after:
        return f"{_ordinal_figure(int(place[1]))}-{_ordinal_figure(int(after[1]))} machine"
    end = _name(last)
    return f"{first}-{end.figures if end else last}"
