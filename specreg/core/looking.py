"""What a clerk may have meant by what he typed, and how well a row answers it.

What was typed is taken piece by piece. Each piece has readings: as typed, in the singular, and whatever the works'
words say is the same (`boom` for `jib`). A row answers when every piece stands in it by one of its readings; how well
is its tier, the best first. Nothing here knows an index: it ranks rows that one has offered.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum

from specreg.core.numbering import number_key, squashed
from specreg.core.wording import (
    STROKE,
    Part,
    abbreviations,
    begins_word_in,
    fold,
    marks,
    stands_in,
    synonyms,
    typed_parts,
)

APART = "\n\0\n"
"""Stands between two fields, so that nothing is found that begins in one and ends in the next."""

Reading = tuple[Part, ...]
"""Parts that are all wanted."""

_ABOUT_NUMBERS = frozenset({"item", "no", "nos", "number", "drg", "dwg", "drawing", "sheet", "sht"})
_ABOUT_MARKS = frozenset({"rev", "revision", "issue"})


class Tier(IntEnum):
    """How well a row answers, the best first."""

    NUMBER_AS_TYPED = 0
    NUMBER = 1
    NUMBER_BEGINS = 2
    NUMBER_HOLDS = 3
    TITLE_WORDS = 4
    TITLE = 5
    TEXT = 6
    NEAR = 7

    @property
    def why(self) -> str:
        """The word that says by what a hit was found."""
        if self <= Tier.NUMBER_HOLDS:
            return "number"
        return {Tier.TITLE_WORDS: "title", Tier.TITLE: "title", Tier.TEXT: "text"}.get(self, "near")


@dataclass(frozen=True, slots=True)
class Sought:
    """What was typed: `pieces` in order, each with its readings, as typed first; `bare` its letters and figures."""

    parts: tuple[Part, ...]
    pieces: tuple[tuple[Reading, ...], ...]
    bare: str

    @property
    def may_be_a_number(self) -> bool:
        """Whether it may be an item's or a drawing's number: a size with its inch mark or its fraction is none."""
        return bool(self.bare) and not any(
            mark in part.folded or any(STROKE in word for word in part.words) for part in self.parts for mark in "\"'"
        )


def sought(text: str, groups: Sequence[Sequence[str]] = ()) -> Sought:
    """What was typed, with its readings; `groups` are the works' words that mean the same."""
    return _sought(typed_parts(text), groups)


def without_labels(wanted: Sought, groups: Sequence[Sequence[str]] = ()) -> Sought | None:
    """The same without words that only name what follows (`item`, `drg`, `No.`) and without a revision (`rev A`); None
    when there are none, or nothing would be left."""
    kept: list[Part] = []
    drop_next = False
    for part in wanted.parts:
        word = part.squashed
        if drop_next:
            drop_next = False
        elif word in _ABOUT_MARKS:
            drop_next = True
        elif word not in _ABOUT_NUMBERS:
            kept.append(part)
    return _sought(tuple(kept), groups) if kept and len(kept) < len(wanted.parts) else None


def _sought(parts: tuple[Part, ...], groups: Sequence[Sequence[str]]) -> Sought:
    return Sought(parts, tuple(_pieces(parts, groups)), "".join(part.squashed for part in parts))


def _pieces(parts: Sequence[Part], groups: Sequence[Sequence[str]]) -> Iterator[tuple[Reading, ...]]:
    """The pieces with their readings: plain words that follow each other are looked up together, so that `wrist pin`
    is known as one thing."""
    place = 0
    while place < len(parts):
        run = place
        while run < len(parts) and _is_plain(parts[run]):
            run += 1
        if run == place:
            yield ((parts[place],),)
            place += 1
            continue
        by_word = {part.folded: part for part in parts[place:run]}
        for alternatives in synonyms([part.folded for part in parts[place:run]], groups):
            yield tuple(dict.fromkeys(_readings(alternatives, by_word)))
        place = run


def _readings(alternatives: Sequence[Sequence[str]], by_word: dict[str, Part]) -> Iterator[Reading]:
    for words in alternatives:
        yield tuple(by_word.get(word) or _part(word) for word in words)
    for word in alternatives[0] if len(alternatives[0]) == 1 else ():
        for one in singulars(word):
            yield (_part(one),)


def _part(word: str) -> Part:
    return Part((word,), word, word)


def _is_plain(part: Part) -> bool:
    return part.folded.isalpha()


def singulars(word: str) -> tuple[str, ...]:
    """What a plural may be the plural of; none for a word that is no plural: `bushes` -> `bush`, `keys` -> `key`."""
    if len(word) < 4 or not word.endswith("s") or word.endswith("ss"):
        return ()
    if word.endswith("ies"):
        return (f"{word[:-3]}y",)
    if word.endswith(("ches", "shes", "sses", "xes", "zes")):
        return (word[:-2],)
    return (word[:-1],)


def tier_of(wanted: Sought, number: str, title: str, said: Callable[[], str], offered: bool = False) -> Tier | None:
    """How well a row answers; None when it does not. `said` gives the rest of its words, asked only when needed.

    `offered`: an index of whole words offered the row for what was typed, so that plain words need no second look: only
    what must stand together, such as `S/2`, is looked for in its text.
    """
    if wanted.may_be_a_number:
        bare = squashed(fold(number))
        if len(wanted.parts) == 1 and number_key(number) == number_key(wanted.parts[0].folded):
            return Tier.NUMBER_AS_TYPED
        if bare == wanted.bare:
            return Tier.NUMBER
        if bare.startswith(wanted.bare):
            return Tier.NUMBER_BEGINS
        if all(stands_in(part, number) for part in wanted.parts) or _is_within(wanted.bare, bare):
            return Tier.NUMBER_HOLDS
    if _answers(wanted, title, stands_in):
        return Tier.TITLE_WORDS if _answers(wanted, title, begins_word_in) else Tier.TITLE
    if offered and all(map(_is_plain, wanted.parts)):
        return Tier.TEXT
    return Tier.TEXT if _answers(wanted, f"{number}{APART}{title}{APART}{said()}", _stands_or_is_short_for) else None


def _is_within(typed: str, bare: str) -> bool:
    return len(typed) > 2 and any(map(str.isdecimal, typed)) and typed in bare


def _answers(wanted: Sought, text: str, stands: Callable[[Part, str], bool]) -> bool:
    return all(any(all(stands(part, text) for part in reading) for reading in piece) for piece in wanted.pieces)


def _stands_or_is_short_for(part: Part, text: str) -> bool:
    return stands_in(part, text) or (part.folded.isalpha() and part.folded in abbreviations(text))


_BEFORE = 30
"""So many signs of a long text are shown before the place where something was found."""


def holding_field(wanted: Sought, fields: Sequence[tuple[str, str]]) -> str:
    """The first field in which a piece stands, as `Size 1 1/8" dia`, a long text from shortly before that place on;
    empty when none does."""
    parts = [part for piece in wanted.pieces for reading in piece for part in reading]
    for label, text in fields:
        if any(_stands_or_is_short_for(part, text) for part in parts):
            shown = re.sub(r"\s+", " ", text)
            places = marks(shown, parts)
            start = shown.find(" ", places[0][0] - _BEFORE) if places and places[0][0] > 2 * _BEFORE else 0
            return f"{label} {'…' if start > 0 else ''}{shown[max(start, 0) :]}"
    return ""
