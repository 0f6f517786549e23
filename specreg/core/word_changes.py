"""What differs between two texts, word by word: a quantity with its unit is one word, and spaces are weighed apart.

A difference of spaces means one kind or number of spaces for another, never a space where there was none.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from enum import StrEnum

_BUILT = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_FRACTION = r"(?<![0-9/])[0-9]{1,2}[/⁄][0-9]{1,3}(?![0-9/])"
_VALUE = rf"(?:[0-9]+[\s.\-]?(?:{_FRACTION}|[{_BUILT}])|{_FRACTION}|[{_BUILT}]|[0-9]+(?:[.,][0-9]+)*)"
_THREES = r"(?<![0-9.,/])[0-9]{1,3}(?:\s[0-9]{3})+(?![0-9.,/])"
_END = r"(?![^\W_])"
_FOOT = rf"(?:['′’](?!['′’])|ft{_END}|feet{_END}|foot{_END})"
_INCH = rf"(?:[\"″”]|''|′′|’’|in(?:s|ch|ches)?{_END})"
_HEAVY = rf"(?:tons?|cwts?|qrs?|lbs?|ozs?|[cq]){_END}"
_UNIT = (
    rf"(?:(?:lbf?/in[2²]?|lb/ft[2²3³]?|kg/m[2²3³]?|N/mm[2²]?|k?N/m[2²]?|rev/min|m/s|m/min){_END}|{_INCH}|{_FOOT}|%|°[CF]?{_END}|(?:mm|cm|km|m|thou|yds?|kg|g|t|tons?|tonnes?|cwts?|qrs?|lbs?|ozs?|psi|bar|"
    rf"[kM]?Pa|[kM]?N|k?Nm|k?W|h\.?p|rpm|k?V|A|Hz|gals?|litres?|swg|SWG|BG|"
    rf"mm[2²3³]|m[2²3³]){_END})"
)
_TOKEN = re.compile(
    # a length in feet and inches, a weight of several parts, a quantity with its unit
    rf"{_VALUE}\s?{_FOOT}\.?(?:[\s\-]{{0,3}}{_VALUE}\s?{_INCH}|-{_VALUE}{_END})"
    rf"|{_VALUE}\s?{_HEAVY}(?:,?\s?{_VALUE}\s?{_HEAVY})+"
    rf"|(?:{_THREES}|{_VALUE})\s?{_UNIT}"
    # a whole number with its fraction, a number or mark whole, a word, spaces, any other sign
    rf"|[0-9]+[\s.\-](?:{_FRACTION}|[{_BUILT}])|[0-9]+[{_BUILT}]|{_FRACTION}{_END}"
    r"|(?=[^\W_]*(?:[\-./,][^\W_]+)*[0-9])[^\W_]+(?:[\-./][^\W_]+|(?<=[0-9]),[0-9]+)*"
    r"|[^\W\d_]+(?:['’][^\W\d_]+)*|\s+|.",
    re.DOTALL,
)


def tokens(text: str) -> list[str]:
    """The text in pieces that are compared whole; joined they give it back exactly.

    A quantity with its unit is one (`1 1/4"`, `19'-6½"`, `3 cwt 1 qr 17 lb`, `12,5 kg`, `1 250 mm`), so is a number or
    a mark with its dashes and strokes (`SL-1002/1`, `4.1.3A`, `1.25`); else a word, a run of spaces, or one sign.
    """
    return _TOKEN.findall(text)


def one_spaced(text: str) -> str:
    """The text with every run of spaces as one plain space, none at the ends."""
    return " ".join(text.split())


_PLURAL = frozenset({"Machines", "Remarks", "Spares"})


def was_and_now(label: str, old: str, new: str) -> str:
    """A change of a field in words that can be read out: `Off was 24, now 30`."""
    return f"{label} {'were' if label in _PLURAL else 'was'} {old or 'blank'}, now {new or 'blank'}"


def spacing_only(old: str, new: str) -> bool:
    """Whether two texts are different and yet the same but for the kind and number of spaces."""
    return old != new and one_spaced(old) == one_spaced(new)


class RunKind(StrEnum):
    """What happened to a run of text."""

    SAME = "same"
    SPACING = "spacing"
    TAKEN_OUT = "taken out"
    PUT_IN = "put in"
    CHANGED = "changed"


@dataclass(frozen=True, slots=True)
class Run:
    """A run of text: what stood in the old text and what stands in the new; one of them is empty where it was taken
    out or put in."""

    kind: RunKind
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class _Unit:
    """A token with the spaces after it. Spaces by themselves are too common to find anything by."""

    word: str
    space: str

    @property
    def text(self) -> str:
        return self.word + self.space


def _units(text: str) -> list[_Unit]:
    units: list[_Unit] = []
    for token in tokens(text):
        if token.isspace() and units and not units[-1].space:
            units[-1] = _Unit(units[-1].word, token)
        elif token.isspace():
            units.append(_Unit("", token))
        else:
            units.append(_Unit(token, ""))
    return units


def word_changes(old: str, new: str) -> tuple[Run, ...]:
    """How the new text comes out of the old, run by run, as few words altered as can be."""
    if old == new:
        return (Run(RunKind.SAME, old, new),) if old else ()
    before, after = _units(old), _units(new)
    matched = _common([one_spaced(one.word) for one in before], [one_spaced(one.word) for one in after])
    runs: list[tuple[str, str]] = []
    at_old = at_new = 0
    for place_old, place_new in [*matched, (len(before), len(after))]:
        gone = "".join(unit.text for unit in before[at_old:place_old])
        come = "".join(unit.text for unit in after[at_new:place_new])
        runs.append((gone, come))
        if place_old < len(before):
            runs.append((before[place_old].word, after[place_new].word))
            runs.append((before[place_old].space, after[place_new].space))
        at_old, at_new = place_old + 1, place_new + 1
    return _joined(piece for gone, come in runs for piece in _parted(gone, come))


def _parted(gone: str, come: str) -> Iterator[Run]:
    """One difference, with the spaces that both sides end in set apart as the same."""
    if gone == come:
        if gone:
            yield Run(RunKind.SAME, gone, come)
        return
    if one_spaced(gone) == one_spaced(come) and gone and come:
        yield Run(RunKind.SPACING, gone, come)
        return
    old_word, new_word = gone.rstrip(), come.rstrip()
    old_end, new_end = gone[len(old_word) :], come[len(new_word) :]
    if not (old_word and new_word and old_end and new_end):
        kind = RunKind.CHANGED if gone and come else RunKind.TAKEN_OUT if gone else RunKind.PUT_IN
        yield Run(kind, gone, come)
        return
    yield Run(RunKind.CHANGED, old_word, new_word)
    yield Run(RunKind.SAME if old_end == new_end else RunKind.SPACING, old_end, new_end)


def _joined(runs: Iterable[Run]) -> tuple[Run, ...]:
    """Runs of one kind that touch, as one."""
    joined: list[Run] = []
    for run in runs:
        if joined and joined[-1].kind is run.kind and run.kind in (RunKind.SAME, RunKind.SPACING):
            joined[-1] = Run(run.kind, joined[-1].old + run.old, joined[-1].new + run.new)
        else:
            joined.append(run)
    return tuple(joined)


def applied(old: str, runs: Sequence[Run]) -> str:
    """The new text, from the old one and the runs between them; ValueError when the runs are of another text."""
    if "".join(run.old for run in runs) != old:
        raise ValueError("these changes were taken from another text")
    return "".join(run.new for run in runs)


_MOST_DIFFERENCES = 250


def _common(old: Sequence[str], new: Sequence[str]) -> list[tuple[int, int]]:
    """Places of the words that stay, as pairs in order: a longest common subsequence where the texts are alike.

    Common head and tail are set aside first. The middle goes by the greedy method of E. W. Myers, "An O(ND) Difference
    Algorithm and Its Variations" (1986), whose cost follows the differences; beyond 250 of them a block matcher, which
    is not held to the longest, takes over.
    """
    shorter = min(len(old), len(new))
    head = 0
    while head < shorter and old[head] == new[head]:
        head += 1
    tail = 0
    while tail < shorter - head and old[-1 - tail] == new[-1 - tail]:
        tail += 1
    middle_old, middle_new = old[head : len(old) - tail], new[head : len(new) - tail]
    middle = _by_differences(middle_old, middle_new)
    if middle is None:
        blocks = SequenceMatcher(None, middle_old, middle_new).get_matching_blocks()
        middle = [(block.a + step, block.b + step) for block in blocks for step in range(block.size)]
    return [
        *((place, place) for place in range(head)),
        *((head + one, head + other) for one, other in middle),
        *((len(old) - step, len(new) - step) for step in range(tail, 0, -1)),
    ]


def _by_differences(old: Sequence[str], new: Sequence[str]) -> list[tuple[int, int]] | None:
    """A longest common subsequence as pairs of places; None when the two differ in too many words."""
    if not old or not new:
        return []
    furthest = {1: 0}
    trail: list[dict[int, int]] = []
    for differences in range(min(len(old) + len(new), _MOST_DIFFERENCES) + 1):
        trail.append(dict(furthest))
        for diagonal in range(-differences, differences + 1, 2):
            down = diagonal == -differences or (
                diagonal != differences and furthest[diagonal - 1] < furthest[diagonal + 1]
            )
            place = furthest[diagonal + 1] if down else furthest[diagonal - 1] + 1
            other = place - diagonal
            while place < len(old) and other < len(new) and old[place] == new[other]:
                place += 1
                other += 1
            furthest[diagonal] = place
            if place >= len(old) and other >= len(new):
                return _walked_back(trail, len(old), len(new))
    return None


def _walked_back(trail: Sequence[Mapping[int, int]], place: int, other: int) -> list[tuple[int, int]]:
    pairs: list[tuple[int, int]] = []
    for differences in range(len(trail) - 1, -1, -1):
        furthest = trail[differences]
        diagonal = place - other
        down = diagonal == -differences or (diagonal != differences and furthest[diagonal - 1] < furthest[diagonal + 1])
        from_diagonal = diagonal + 1 if down else diagonal - 1
        from_place = furthest[from_diagonal] if differences else 0
        from_other = from_place - from_diagonal if differences else 0
        while place > from_place and other > from_other:
            place -= 1
            other -= 1
            pairs.append((place, other))
        place, other = from_place, from_other
    pairs.reverse()
    return pairs
