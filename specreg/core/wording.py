"""How words and numbers are made alike for finding: folding, the words an index holds, what a clerk typed.

Everything here is pure. The same functions make the words of the index and the words looked up in it, so the two
always agree. Fractions and decimals are made one word each, with a letter in place of the stroke and the point that a
plain full-text tokenizer keeps: `3/4` is the word `3ƒ4`, `1.25` and `1,25` the word `1ƌ25`, and `4.1.2` is `4ƌ1ƌ2`,
of which `4.1` is the beginning.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from specreg.core import numbering

STROKE = "ƒ"
"""Stands for the stroke of a proper fraction within an index word."""
POINT = "ƌ"
"""Stands for a decimal point, a decimal comma or the full stop between levels within an index word."""

_BUILT_FRACTIONS = frozenset("¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞↉")
_RAISED = frozenset("⁰¹²³⁴⁵⁶⁷⁸⁹")
_NEEDS_CARE = re.compile(f"[{''.join(sorted(_BUILT_FRACTIONS | _RAISED))}]")

_ALIKE = {
    **dict.fromkeys("″“”„‟˝〃", '"'),
    **dict.fromkeys("′‘’‚‛´`ʹʼ", "'"),
    **dict.fromkeys("‐‑‒–—―−﹣", "-"),
    **dict.fromkeys("⁄∕", "/"),
    **dict.fromkeys("×✕", "x"),
    **dict.fromkeys("º˚", "°"),
    **dict.fromkeys("øØ⌀∅", "o"),
    "æ": "ae", "Æ": "ae", "œ": "oe", "Œ": "oe", "ł": "l", "Ł": "l", "đ": "d", "Đ": "d", "ð": "d", "Ð": "d",
    "þ": "th", "Þ": "th", "ı": "i",
}  # fmt: skip
"""Signs that mean the same on paper, and letters that Unicode does not take apart into a letter and an accent."""

_LOOK_ALIKE = str.maketrans(
    # Folded first: figures with letters, then Cyrillic and Greek letters whose capitals look Latin.
    "01i582" + "авекмнорстухіјѕ" + "αβεζηικμνορτυχ" + "|",
    "oll" + "sbz" + "abekmhopctyxljs" + "abezhlkmnoptyx" + "l",
)


class _Plain(dict[int, str]):
    """Each sign and what it folds to, worked out when first met."""

    def __missing__(self, code: int) -> str:
        folded = self[code] = _plain(chr(code))
        return folded


def _plain(sign: str) -> str:
    if sign in _ALIKE:
        return _ALIKE[sign]
    if sign.isspace():
        return " "
    apart = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", sign).casefold())
    return "".join(
        _ALIKE.get(part, " " if part.isspace() else part)
        for part in apart
        if unicodedata.category(part) not in ("Mn", "Cf")
    )


_PLAIN = _Plain()


def fold(text: str) -> str:
    """The text in small plain letters: accents dropped, full-width signs plain, dashes and inch marks of one kind.

    Fractions come first, so that 1½ is `1 1/2` and not eleven halves; raised figures are set off from the figure
    before them. Look-alike letters of other scripts stay what they are.
    """
    if _NEEDS_CARE.search(text):
        return _folded_in_place(text)[0]
    return text.translate(_PLAIN).replace("''", '"')


def _folded_in_place(text: str) -> tuple[str, list[int], list[int]]:
    """The folded text, and for each of its signs where in `text` it begins and ends."""
    signs: list[str] = []
    begins: list[int] = []
    ends: list[int] = []
    last = ""
    for place, sign in enumerate(text):
        folded = _PLAIN[ord(sign)]
        if not folded:
            # A mark that combines belongs to the letter before it.
            if ends:
                ends[-1] = place + 1
            continue
        parted = sign in _BUILT_FRACTIONS or last in _BUILT_FRACTIONS or ((sign in _RAISED) != (last in _RAISED))
        if parted and signs and _is_figure(signs[-1]) and _is_figure(folded[0]):
            signs.append(" ")
            begins.append(place)
            ends.append(place)
        for part in folded:
            if part == "'" and signs and signs[-1] == "'":
                signs[-1] = '"'
                ends[-1] = place + 1
                continue
            signs.append(part)
            begins.append(place)
            ends.append(place + 1)
        last = sign
    return "".join(signs), begins, ends


def _is_figure(sign: str) -> bool:
    return "0" <= sign <= "9"


def look_alike(text: str) -> str:
    """A form in which signs mistaken for each other coincide: 0/O, 1/I/l, 5/S, 8/B, 2/Z, and Cyrillic or Greek letters
    with a Latin look. For near misses only: it never decides that two things are one."""
    return fold(text).translate(_LOOK_ALIKE)


_FRACTION = (
    r"(?:1/2|[1-3]/4|[1-7]/8|(?:1[0-5]|[1-9])/16|(?:[12][0-9]|3[01]|[1-9])/32|(?:[1-5][0-9]|6[0-3]|[1-9])/64)(?![0-9/])"
)
_WORD = re.compile(
    rf"(?<![^\W_])(?<!/){_FRACTION}|[^\W_]+(?:(?<=[0-9])[.,](?!{_FRACTION})(?=[0-9])[^\W_]+)*",
)
_JOINTS = str.maketrans({"/": STROKE, ".": POINT, ",": POINT})


def index_words(text: str) -> list[str]:
    """The words an index holds for a text, in order, letters and figures only, so that any tokenizer keeps them whole.

    A run of letters and figures is one word (`2k`, `m12`, `lc40`); a proper fraction of 2, 4, 8, 16, 32 or 64 parts is
    one, and so are figures joined by a point or a comma.
    """
    return [word.translate(_JOINTS) for word in _WORD.findall(fold(text))]


_ABBREVIATION = re.compile(r"(?<![^\W_])(?:[a-z]\.){2,}[a-z]?(?![^\W_])")


def abbreviations(text: str) -> list[str]:
    """Abbreviations written with stops, without them: `bsw` for `B.S.W.`."""
    return [found.replace(".", "") for found in _ABBREVIATION.findall(fold(text))]


def number_words(number: str) -> list[str]:
    """The index words of a number, and the number without its punctuation: `qd 05127 s 2` and `qd05127s2`."""
    words = index_words(number)
    squashed = numbering.squashed(fold(number))
    return [*words, squashed] if squashed and squashed not in words else words


@dataclass(frozen=True, slots=True)
class Part:
    """One piece of what was typed, between spaces: its index words, without punctuation, and folded as it stands.

    A piece of punctuation alone has no words: only the text itself can be asked for it.
    """

    words: tuple[str, ...]
    squashed: str
    folded: str

    @property
    def has_punctuation(self) -> bool:
        """Whether anything but letters and figures was typed."""
        return self.squashed != self.folded

    @property
    def is_like_a_number(self) -> bool:
        """Whether it holds a figure, and so may be a number or part of one."""
        return any(_is_figure(sign) for sign in self.folded)


def typed_parts(query: str) -> tuple[Part, ...]:
    """What was typed, piece by piece. Folding comes first, so 1½ is two pieces, 1 and 1/2; `3/4in` is `3/4"`."""
    pieces = (_INCHES_TYPED.sub('"', piece) for piece in fold(query).split())
    return tuple(Part(tuple(index_words(piece)), numbering.squashed(piece), piece) for piece in pieces)


_INCHES_TYPED = re.compile(r"(?<=[0-9])(?:ins?|inch|inches)\.?$")
_FIGURE_AND_UNIT = re.compile(
    r"([0-9]+)(mm|cm|kg|ft|feet|kn|nm|mpa|kpa|bar|psi|lbs?|cwts?|qrs?|tons?|tonnes?|hp|kw|kva|hz|rpm|swg|deg)"
)


def figure_and_unit(part: Part) -> tuple[str, ...]:
    """The two words of a quantity typed without a space (`60mm`), which may be written with one; else none."""
    found = _FIGURE_AND_UNIT.fullmatch(part.folded)
    return found.groups() if found else ()


_FRACTION_IN_PIECE = re.compile(rf"(?<![^\W_])(?<!/){_FRACTION}")
_GAP = r"[ \-/._]{0,3}"
_STROKE_GAP = " ?/ ?"
_POINT_GAP = r"[ \-/._,]{1,3}"
_FOOT = r" ?(?:'|ft(?![a-z])|feet(?![a-z])|foot(?![a-z]))"
_INCH = r' ?(?:"|in(?:s|ch|ches)?(?![a-z]))'
_SHORTEST_SPREAD = 4


@lru_cache(maxsize=512)
def _pattern(folded: str) -> re.Pattern[str]:
    """What a folded piece may look like in a folded text: as typed, or as a number with other dashes and spaces."""
    first = next((place for place, sign in enumerate(folded) if sign.isalnum()), None)
    if first is None:
        return re.compile(re.escape(folded))
    last = max(place for place, sign in enumerate(folded) if sign.isalnum())
    core, after = folded[first : last + 1], folded[last + 1 :]
    loose = _loose(core, after)
    if _FRACTION_IN_PIECE.search(folded):
        # A fraction is found whole: 5/16 does not stand in 15/16, nor 1/2 in 1/24.
        before = "(?<![0-9])(?<![0-9][/])" if _is_figure(core[0]) else ""
        return re.compile(f"{before}{loose}" + ("(?![0-9])" if _is_figure(core[-1]) else ""))
    as_typed = re.escape(folded if any(_is_figure(sign) for sign in core) else core)
    return re.compile(f"{as_typed}|{loose}" if loose else as_typed)


def _loose(core: str, after: str) -> str:
    """The piece as a pattern with other dashes and spaces; empty when it is a plain word or a short figure."""
    figures = any(_is_figure(sign) for sign in core)
    lettered = any(sign.isalpha() for sign in core)
    # Short figures are not spread: 12 is not looked for in 1/2.
    spread = figures and (lettered or not core.isalnum() or len(core) >= _SHORTEST_SPREAD)
    if core.isalnum() and not spread and after[:1] not in ("'", '"'):
        return ""
    strokes = {found.start() + found.group().index("/") for found in _FRACTION_IN_PIECE.finditer(core)}
    made = [] if _is_figure(core[0]) else [r"(?<![^\W\d_])"]
    gap = before = ""
    for place, sign in enumerate(core):
        if not sign.isalnum():
            gap += _STROKE_GAP if place in strokes else sign
            continue
        if before:
            made.append(_between(before, gap, sign, spread))
        made.append(re.escape(sign))
        before, gap = sign, ""
    return "".join(made) + _mark_after(core, after)


def _between(before: str, gap: str, sign: str, spread: bool) -> str:
    """What may stand between two signs of a number where `gap` was typed."""
    if gap == _STROKE_GAP:
        return gap
    if "'" in gap and _is_figure(before):
        return _FOOT + r"\.?[ \-]{0,3}"
    if ("." in gap or "," in gap) and _is_figure(before) and _is_figure(sign):
        return _POINT_GAP
    return _GAP if gap or (spread and (_is_figure(before) or _is_figure(sign))) else ""


def _mark_after(core: str, after: str) -> str:
    """An inch or foot mark after a figure makes a quantity of it, whether written as a mark or as a word."""
    if not _is_figure(core[-1]):
        return ""
    return {"'": _FOOT, '"': _INCH}.get(after[:1], "")


def stands_in(part: Part, text: str) -> bool:
    """Whether what was typed stands in a text in one place: as typed, or with other dashes, spaces or inch marks.

    The check after the words of an index were found, since those may stand anywhere: `S/2` in `QD-05127-S/2`.
    """
    return _pattern(part.folded).search(fold(text)) is not None


def begins_word_in(part: Part, text: str) -> bool:
    """Whether what was typed stands in a text at the beginning of a word: `rack` in `Rack bolt`, not in `Bracket`."""
    folded = fold(text)
    return any(
        found.start() == 0 or not folded[found.start() - 1].isalnum()
        for found in _pattern(part.folded).finditer(folded)
    )


def marks(text: str, parts: Iterable[Part]) -> tuple[tuple[int, int], ...]:
    """Where in the text, as written, the parts stand: (begin, end) of each place to show, in order, not overlapping."""
    folded, begins, ends = _folded_in_place(text)
    found = sorted(
        (begins[match.start()], ends[match.end() - 1])
        for part in parts
        for match in _pattern(part.folded).finditer(folded)
    )
    joined: list[tuple[int, int]] = []
    for begin, end in found:
        if joined and begin <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((begin, end))
    return tuple(joined)


def synonyms(words: Sequence[str], groups: Iterable[Sequence[str]]) -> tuple[tuple[tuple[str, ...], ...], ...]:
    """For each place in the words typed, what may stand there: itself first, then whatever its groups say of it.

    Groups work both ways, and a member may be several words (`gudgeon`, `wrist pin`): each alternative is a tuple of
    index words that are all wanted. The longest run of words that is a member is taken.
    """
    members: dict[tuple[str, ...], dict[tuple[str, ...], None]] = {}
    for group in groups:
        phrases = [tuple(index_words(member)) for member in group]
        for phrase in filter(None, phrases):
            members.setdefault(phrase, {}).update(dict.fromkeys(filter(None, phrases)))
    longest = max(map(len, members), default=1)
    return tuple(_alternatives(tuple(words), members, longest))


def _alternatives(
    words: tuple[str, ...], members: dict[tuple[str, ...], dict[tuple[str, ...], None]], longest: int
) -> Iterator[tuple[tuple[str, ...], ...]]:
    place = 0
    while place < len(words):
        length = next((n for n in range(longest, 1, -1) if words[place : place + n] in members), 1)
        phrase = words[place : place + length]
        yield tuple(dict.fromkeys([phrase, *members.get(phrase, ())]))
        place += length
