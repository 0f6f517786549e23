"""Revision letters of our own specifications, and marks of drawings put in order as they are met.

Our own letters run A to Y without I O Q S X Z, then AA to YY: 20 + 400 = 420 of them. (The twenty letters and AA after
Y: ASME Y14.35 as told in secondary sources; the limit of two letters from memory.) Marks on drawings come from many
offices, so theirs are only put in order where one scheme covers them all or their dates are known; else the person is
asked. A blank mark is "no revision known", which is not the same as `-`, a first issue.
"""

from __future__ import annotations

import re
import string
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from specreg.core.errors import Refused, WrongUse

OMITTED = "IOQSXZ"
"""Letters that are read as figures or as other letters."""

# A word run into its letter is only taken off where the case tells them apart: RevB is B, ISSUED is no mark D.
_TITLE = re.compile(
    r"^(?:(?i:revision|revn|rev|issue|iss|modification|mod|alteration|alt|amendment|amdt|version|ver)(?![A-Za-z])"
    r"|(?:[Rr]ev|[Ii]ss(?:ue)?)(?=[A-Z]{1,2}[0-9]*$)|rev(?=[a-z]$))"
    r"(?:[\s.:_=]|-(?=\s*\w))*(?:(?i:no|nr|number)(?![A-Za-z])[\s.:]*(?=\w))?"
    r"|^(?i:no|nr)(?:\.\s*|\s+)(?=\w{1,3}$)"
)
_BRACKETED = re.compile(r"[(\[]*([^()\[\]]*)[)\]]*")
_PARTED = re.compile(r"([A-Z]{1,2})\s+([0-9]+)")
_UNKNOWN = re.compile(r"N/A|N\.A|\?+|NONE|NIL|UNKNOWN|NOT KNOWN|N/K|T\.?B\.?[ACD]|NO REV(?:ISION)?", re.IGNORECASE)
_ROMAN = re.compile(r"X{0,3}(?:IX|IV|V?I{0,3})")
_DASHES = re.compile(r"[‐‑‒–—−]")
_SAME_DASHES = re.compile(r"-(?:\s*-)+")
_FIGURES = re.compile(r"[0-9]+")
_LETTERS = re.compile(r"[A-Z]{1,2}")
_PREFIXED = re.compile(r"([A-Z]+)([0-9]+)(?:\.([0-9]+))?")
_MOST_NAMED = 6


def _alphabet(omitted: str) -> str:
    return "".join(letter for letter in string.ascii_uppercase if letter not in omitted.upper())


def letter(ordinal: int, omitted: str = OMITTED) -> str:
    """The letter of the revision that stands at place `ordinal`, counted from 1: 20 is Y, 21 AA, 420 YY.

    `Refused` when the letters of two places are used up, `WrongUse` below 1.
    """
    alphabet = _alphabet(omitted)
    size = len(alphabet)
    if ordinal < 1:
        raise WrongUse(f"Revision {ordinal}", "revisions are counted from 1")
    if ordinal > size + size * size:
        raise Refused(
            f"Revision {ordinal}",
            f"one and two letters give {size + size * size} revisions and no more",
            "Open a new specification",
        )
    if ordinal <= size:
        return alphabet[ordinal - 1]
    first, second = divmod(ordinal - size - 1, size)
    return alphabet[first] + alphabet[second]


def ordinal(letter: str, omitted: str = OMITTED) -> int:
    """The place of a revision letter, counted from 1; `WrongUse` for anything that is no letter of ours."""
    alphabet = _alphabet(omitted)
    mark = letter.strip().upper()
    if len(mark) not in (1, 2) or any(sign not in alphabet for sign in mark):
        raise WrongUse(
            f"“{letter}” as a revision letter",
            f"our letters are {alphabet[0]} to {alphabet[-1]}, one or two, without {', '.join(omitted) or 'exception'}",
        )
    if len(mark) == 1:
        return alphabet.index(mark) + 1
    return len(alphabet) * (alphabet.index(mark[0]) + 1) + alphabet.index(mark[1]) + 1


def next_letter(previous: str, omitted: str = OMITTED) -> str:
    """The letter after `previous`; the first one when nothing was issued yet (empty or `-`)."""
    if previous.strip() in ("", "-"):
        return letter(1, omitted)
    return letter(ordinal(previous, omitted) + 1, omitted)


def plain_mark(text: str) -> str:
    """The bare mark in capitals: `Rev. B`, `rev B`, `Issue b` -> `B`; any dash -> `-`; empty when none is known."""
    # A built fraction would fall apart: 1½ is not eleven halves.
    plain = "".join(
        sign if unicodedata.category(sign) == "No" else unicodedata.normalize("NFKC", sign) for sign in text
    )
    mark = " ".join(_DASHES.sub("-", plain).split())
    mark = _TITLE.sub("", mark).strip(" .:")
    bracketed = _BRACKETED.fullmatch(mark)
    mark = (bracketed[1].strip(" .:") if bracketed else mark).upper()
    parted = _PARTED.fullmatch(mark)
    return "-" if _SAME_DASHES.fullmatch(mark) else f"{parted[1]}{parted[2]}" if parted else mark


@dataclass(frozen=True, slots=True)
class MarkOrder:
    """Marks of one drawing in order, the current one last.

    `ordered` are bare marks, each once; as met when the order is not `sure`, and then the person is asked. `flags` are
    short sentences to show him, `schemes` the kinds of mark met.
    """

    ordered: tuple[str, ...]
    flags: tuple[str, ...]
    schemes: tuple[str, ...]
    sure: bool

    @property
    def current(self) -> str:
        """The current mark; empty when no revision is known or the order is not sure."""
        return self.ordered[-1] if self.ordered and self.sure else ""


@dataclass(frozen=True, slots=True)
class _Mark:
    """One mark taken apart: its scheme, where it stands in the scheme, and how its number is written."""

    text: str
    scheme: str
    key: tuple[int, ...]
    prefix: str = ""
    width: int = 0


_FIRST, _LETTER, _FIGURE, _STAGED, _OTHER = "dash", "letters", "figures", "P then C", "other"
_NO_WORKING_VERSION = 1 << 30


def _letter_place(mark: str) -> int:
    """Place of a mark among A..Z, AA..ZZ, nothing omitted."""
    place = 0
    for sign in mark:
        place = place * 26 + ord(sign) - 0x40
    return place


def _letter_at(place: int) -> str:
    first, second = divmod(place - 1, 26)
    return (chr(0x40 + first) if first else "") + chr(0x41 + second)


def _taken_apart(mark: str) -> _Mark:
    if mark == "-":
        return _Mark(mark, _FIRST, (-1,))
    if _FIGURES.fullmatch(mark):
        return _Mark(mark, _FIGURE, (int(mark),), "", len(mark))
    if _LETTERS.fullmatch(mark):
        return _Mark(mark, _LETTER, (_letter_place(mark),))
    found = _PREFIXED.fullmatch(mark)
    if found is None:
        return _Mark(mark, _OTHER, ())
    prefix, figures, working = found.groups()
    # P01.01 is worked on before P01 is shared, so the bare number comes after its working versions.
    version = int(working) if working else _NO_WORKING_VERSION
    stage = "PC".find(prefix) if len(prefix) == 1 else -1
    scheme = _STAGED if stage >= 0 else f"{prefix} and figures"
    return _Mark(mark, scheme, (stage, int(figures), version), prefix, len(figures))


def order_marks(marks: Sequence[str], dates: Sequence[date | None] = (), omitted: str = OMITTED) -> MarkOrder:
    """Put the marks met for one drawing in order.

    `marks` are as written, repeats and blanks included. `dates` are their dates of issue, one for each mark, None where
    unknown: when every mark has a date, the date decides (the first one of a mark issued again unchanged).
    """
    if dates and len(dates) != len(marks):
        raise ValueError("one date is wanted for each mark, None where it is unknown")
    met: dict[tuple[str, tuple[int, ...] | str], _Mark] = {}
    first_dates: dict[str, date] = {}
    flags: list[str] = []
    blanks = 0
    for place, written in enumerate(marks):
        plain = plain_mark(written)
        if not plain:
            blanks += 1
            continue
        if _UNKNOWN.fullmatch(plain):
            flags.append(f"{plain}: no revision known")
            continue
        taken = _taken_apart(plain)
        held = met.setdefault((taken.scheme, taken.key or plain), taken)
        said = f"{held.text} and {plain} taken as one"
        if held.text != plain and said not in flags:
            flags.append(said)
        issued = dates[place] if dates else None
        if issued is not None:
            first_dates[held.text] = min(issued, first_dates.get(held.text, issued))
    if not met:
        return MarkOrder((), (*flags, "no revision known") if blanks else tuple(flags), (), False)
    if blanks:
        flags.append(f"{blanks} blank: no revision known, not the same as -")
    return _ordered(list(met.values()), first_dates, flags, omitted)


def _ordered(met: list[_Mark], first_dates: dict[str, date], flags: list[str], omitted: str) -> MarkOrder:
    schemes = tuple(dict.fromkeys(mark.scheme for mark in met))
    one_scheme = len(met) == 1 or _are_one_scheme(met)
    two_ways = _in_two_ways(met)
    one_scheme = one_scheme and not two_ways
    in_scheme = sorted(met, key=lambda mark: mark.key) if one_scheme else met
    gaps = (
        []
        if two_ways
        else [said for scheme in schemes for said in _gaps([m for m in met if m.scheme == scheme], omitted)]
    )
    dated = len(first_dates) == len(met)
    if dated:
        ordered = sorted(in_scheme, key=lambda mark: first_dates[mark.text])
        alike = [
            f"{one.text} and {other.text} bear the same date"
            for one, other in pairwise(ordered)
            if first_dates[one.text] == first_dates[other.text]
        ]
        sure = one_scheme or not alike
        if not sure:
            flags += [*alike, two_ways or _to_ask(schemes)]
        elif one_scheme and ordered != in_scheme:
            flags.append(f"by date {', '.join(m.text for m in ordered)}, against the marks")
    else:
        ordered, sure = in_scheme, one_scheme
        if first_dates:
            flags.append(f"dates known for {len(first_dates)} of {len(met)} marks only, not used")
        if not sure:
            flags.append(two_ways or _to_ask(schemes))
    return MarkOrder(tuple(mark.text for mark in ordered), (*gaps, *flags), schemes, sure)


def _are_one_scheme(met: Iterable[_Mark]) -> bool:
    """Whether the marks are of one kind: a dash opens a row of letters or of figures, but 0 is a first issue itself."""
    schemes = {mark.scheme for mark in met}
    if _OTHER in schemes:
        return False
    if _FIRST not in schemes:
        return len(schemes) == 1
    return schemes == {_FIRST, _LETTER} or (
        schemes == {_FIRST, _FIGURE} and all(mark.key != (0,) for mark in met if mark.scheme == _FIGURE)
    )


def _in_two_ways(met: Iterable[_Mark]) -> str:
    """What is to be asked where the marks make two rows: I, II, IV are roman figures or letters, P stands before C or
    after it; empty where they make one."""
    marks = {mark.text for mark in met} - {"-"}
    if marks == {"P", "C"}:
        return "P and C are letters, or preliminary and for construction, order unsure: ask"
    if len(marks) > 1 and any(len(mark) > 1 for mark in marks) and all(map(_ROMAN.fullmatch, marks)):
        return "roman figures or letters, order unsure: ask"
    return ""


def _to_ask(schemes: Sequence[str]) -> str:
    if len(schemes) == 1:
        return "marks of no known scheme, order unsure: ask"
    counted = {2: "two", 3: "three"}.get(len(schemes), str(len(schemes)))
    return f"{counted} schemes, order unsure: ask"


def _gaps(marks: Sequence[_Mark], omitted: str) -> Iterator[str]:
    """What is not seen between the lowest and the highest mark of one scheme; a dash has no place to miss."""
    scheme = marks[0].scheme
    if scheme == _LETTER:
        yield from _letter_gaps(sorted(mark.key[0] for mark in marks), omitted)
    elif scheme not in (_FIRST, _OTHER):
        for prefix in dict.fromkeys(mark.prefix for mark in sorted(marks, key=lambda mark: mark.key)):
            yield from _figure_gaps([mark for mark in marks if mark.prefix == prefix])


def _letter_gaps(places: Sequence[int], omitted: str) -> Iterator[str]:
    used = {sign for place in places for sign in _letter_at(place)}
    unexpected = {sign for sign in omitted.upper() if sign not in used}
    strange: list[str] = []
    for lower, higher in pairwise(places):
        between = [_letter_at(place) for place in range(lower + 1, higher)]
        missing = [mark for mark in between if not unexpected & {*mark}]
        strange += [mark for mark in between if unexpected & {*mark}]
        if missing:
            yield _not_seen(missing[0], missing[-1])
    if strange:
        more = f" and {len(strange) - _MOST_NAMED} more" if len(strange) > _MOST_NAMED else ""
        yield f"{', '.join(strange[:_MOST_NAMED])}{more} not expected"


def _figure_gaps(marks: Sequence[_Mark]) -> Iterator[str]:
    numbers = sorted({mark.key[0] if mark.scheme == _FIGURE else mark.key[1] for mark in marks})
    width = max(mark.width for mark in marks) if any(mark.text.startswith(f"{mark.prefix}0") for mark in marks) else 1
    for lower, higher in pairwise(numbers):
        if higher - lower > 1:
            prefix = marks[0].prefix
            yield _not_seen(f"{prefix}{lower + 1:0{width}d}", f"{prefix}{higher - 1:0{width}d}")


def _not_seen(first: str, last: str) -> str:
    return f"{first} not seen" if first == last else f"{first} to {last} not seen"
