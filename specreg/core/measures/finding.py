"""Every measure in running text, with its place: for search, and for fields that hold several sizes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from specreg.core.measures.gauges import NAME as GAUGE
from specreg.core.measures.gauges import gauge_at
from specreg.core.measures.lengths import length_at
from specreg.core.measures.masses import mass_at
from specreg.core.measures.numbers import BUILT, NUMBER
from specreg.core.measures.others import angle_at, area_at, pressure_at
from specreg.core.measures.records import Found, Kind, Measure, NotRead, Taken, Ton, Unread
from specreg.core.measures.sharing import shared
from specreg.core.measures.signs import plain
from specreg.core.measures.threads import NAME as THREAD
from specreg.core.measures.threads import thread_at
from specreg.core.measures.threads_behind import threads_of_their_diameter

ABOUT = r"(?:(?i:about|abt|approximately|approx|circa|ca|say|c(?=\.))(?![^\W\d_])\.?|~)"
"""A pattern for the words that say a figure is not meant exactly."""

MARKED = re.compile(rf"{NUMBER} ?['\"]")
"""A number with the mark of feet or inches, as most are: a length or a thread begins with it, and nothing else."""

_ABOUT_BEFORE = re.compile(rf"(?<![\w.]){ABOUT} ?$")
_HEAD = re.compile(rf"[0-9{BUILT}]|\.[0-9]|(?<!\w)(?:M[0-9]|(?i:no)\.? ?[0-9]|(?=[bisuamBISUAM])(?:{GAUGE}|{THREAD}))")
_FIGURES = re.compile("[0-9]+")
_THING = (
    "square|sq|cubic|cu|foot|ft|inch|in|yard|yd|mile|minute|min|hour|hr|second|sec|day|week|metre|meter|m|mm|cm|km|"
    "fathom|litre|gallon|lb|ton|tonne|kg|cwt"
)
RATE = re.compile(rf" ?/ ?[^\W\d_]| (?i:per|an?) (?i:{_THING})(?![^\W\d_])")
"""What makes a rate of the measure before it: `a yard`, `/ft`, `per minute`."""

_NO_LENGTH = re.compile(r"[ \-](?i:lbf?|tons?|kgf?|hg)(?![^\W\d_])| (?i:of (?:water|mercury)|w\.?g)\b")
"""What makes a moment or a head of water of the length before it."""

_NO_MASS = re.compile(r"[ \-](?:(?i:ft)(?![^\W\d_])|m(?![\w.]))|-(?i:in)(?![^\W\d_])")
"""What makes a moment of the weight before it. `m.s.` is mild steel."""
_BARE_IN = re.compile(r"(?<![^\W\d_])in$", re.IGNORECASE)
_IN_THE_WORD = re.compile(
    r"\s+(?:[0-9]|(?:number|no|all|each|every|both|line|place|position|stock|stores?|hand|use|order|this|that|these|"
    r"those|the|an?|its|their|pairs?|sets?|halves|pieces?|parts?|parallel|series|total|turn|one|two|three|four|five|six|"
    r"eight|ten|twelve|which|and|case|front|between)(?![^\W\d_]))",
    re.IGNORECASE,
)
_RANGE = re.compile(r" ?(?:to|-) ?")
_SPACED_THOUSANDS = re.compile("[0-9]{1,3} [0-9]{3}(?![0-9])")

Place = Found | Unread


def find_places(text: str, *, ton: str = "") -> tuple[Found | Unread, ...]:
    """What `find_measures` and `find_unread` give, in one walk over the text and in its order."""
    return tuple(_places(text, Ton(ton)))


def find_measures(text: str, *, ton: str = "") -> tuple[Found, ...]:
    """Every measure in a text, in order, not overlapping; `text[begin:end]` is what its record says was written.

    Numbers that share a unit (`10, 16 and 20 S.W.G.`) are found each by itself, with a doubt. A thread named behind a
    length, as in `1 1/4" dia x 5" B.S.W.`, is that of the diameter: its place is that of the name. Rates (`100 lb a
    yard`), moments and signed tolerances are left alone. `ton` is the rule of the house (`long`, `short`, `metric`);
    another word raises ValueError.
    """
    return tuple(place for place in _places(text, Ton(ton)) if isinstance(place, Found))


def find_unread(text: str, *, ton: str = "") -> tuple[Unread, ...]:
    """What looks like a measure in a text and is refused, each with its question: a ton without a rule, `1 in. 1/4`."""
    return tuple(place for place in _places(text, Ton(ton)) if isinstance(place, Unread))


def best_at(text: str, at: int, ton: Ton, *, whole_field: bool = False) -> Taken | None:
    """The longest reading of any kind at a place of a text of plain signs; None when there is none."""
    if MARKED.match(text, at):
        marked = (thread_at(text, at, whole_field=whole_field), length_at(text, at, whole_field=whole_field))
        return max(filter(None, marked), key=_end, default=None)
    readings = (
        thread_at(text, at, whole_field=whole_field),
        gauge_at(text, at),
        angle_at(text, at),
        pressure_at(text, at, ton),
        area_at(text, at),
        mass_at(text, at, ton, whole_field=whole_field),
        length_at(text, at, whole_field=whole_field),
    )
    return max(filter(None, readings), key=_end, default=None)


def _end(taken: Taken) -> int:
    return taken.end


def _places(text: str, ton: Ton) -> Sequence[Place]:
    if not any(sign.isdigit() or sign in BUILT for sign in text):
        return ()
    signs = plain(text)
    found: list[Place] = []
    place, last = 0, -1
    while head := _HEAD.search(signs, place):
        at = head.start()
        begins = _begins(signs, at, last)
        here = _here(signs, at, last, ton) if begins else []
        if not here:
            # A measure that does not begin here is passed over whole, that no end of it is taken for one.
            passed = None if begins else best_at(signs, at, ton)
            figures = _FIGURES.match(signs, at)
            place = passed.end if passed else figures.end() if figures else at + 1
            continue
        here[0] = _with_about(signs, here[0], last)
        found += here
        place = last = here[-1].end
    return [_verbatim(text, one) for one in _with_ranges(signs, threads_of_their_diameter(signs, found))]


def _here(signs: str, at: int, last: int, ton: Ton) -> list[Place]:
    """The measure at a place, or the numbers that share the unit of one; empty when there is none."""
    reader = partial(_whole_at, signs, ton=ton)
    taken = reader(at)
    if taken is None:
        return shared(signs, at, reader, lambda made: best_at(made, 0, ton))
    written = signs[at : taken.end]
    if _is_signed(signs, at, last):
        refusal = NotRead(written, "a tolerance, or less than nothing?", "Write it without the sign")
        return [Unread(at, taken.end, refusal)]
    if isinstance(taken.read, NotRead):
        return [Unread(at, taken.end, taken.read)]
    measure = taken.read
    if thousands := _SPACED_THOUSANDS.match(written):
        doubt = f"{thousands.group()} is taken as one number"
        measure = replace(measure, doubts=(*measure.doubts, doubt))
    return [Found(at, taken.end, measure)]


def _whole_at(signs: str, at: int, *, ton: Ton) -> Taken | None:
    """The reading at a place when it is whole: nothing behind it makes another thing of it."""
    taken = best_at(signs, at, ton)
    if taken is None:
        return None
    end = taken.end
    before, behind = signs[end - 1], signs[end : end + 1]
    if before.isalnum() and (behind.isalnum() or behind == "_") and behind != "x":
        return None
    kind = taken.read.kind if isinstance(taken.read, Measure) else None
    if kind in (Kind.LENGTH, Kind.MASS, None) and RATE.match(signs, end):
        return None
    if kind is Kind.MASS and _NO_MASS.match(signs, end):
        return None
    if kind is not Kind.LENGTH:
        return taken
    if _NO_LENGTH.match(signs, end) or (before in "'\"" and _closes_a_quotation(signs, end - 1)):
        return None
    if _BARE_IN.search(signs, at, end) and "ft" not in signs[at:end] and _IN_THE_WORD.match(signs, end):
        return None
    return taken


def _begins(signs: str, at: int, last: int) -> bool:
    """Whether a figure at a place may begin a measure, by what stands before it."""
    before, earlier = signs[at - 1 : at], signs[max(at - 2, 0) : max(at - 1, 0)]
    if not before or at == last:
        return True
    if before.isalnum() or before in "_/\"'£$€#":
        return before in "Øø" or (before in "xX" and (not earlier.isalpha() or last == at - 1))
    if before in ".,":
        return not earlier.isdigit()
    if before in "+-±":
        return not (earlier.isalnum() or earlier in tuple("\"'.)]")) or last == at - 1
    return True


def _is_signed(signs: str, at: int, last: int) -> bool:
    return at > 0 and signs[at - 1] in "+-±" and last != at - 1


def _closes_a_quotation(signs: str, place: int) -> bool:
    """Whether a mark closes what an earlier mark of its kind, at the beginning of a word, opened: `"No. 3"`."""
    opened = signs.rfind(signs[place], 0, place)
    if opened < 0:
        return False
    before = signs[opened - 1 : opened]
    return (not before or before in " (:;,[") and signs[opened + 1] != " "


def _with_about(signs: str, one: Place, last: int) -> Place:
    about = _ABOUT_BEFORE.search(signs, max(last, 0), one.begin)
    if about is None or isinstance(one, Unread):
        return one
    return Found(about.start(), one.end, replace(one.measure, approximate=True))


def _with_ranges(signs: str, found: Sequence[Place]) -> list[Place]:
    """The measures, with a doubt where two are the ends of a range."""
    made = list(found)
    for place in range(len(made) - 1):
        one, other = made[place], made[place + 1]
        if not (isinstance(one, Found) and isinstance(other, Found)) or one.measure.kind is not other.measure.kind:
            continue
        if _RANGE.fullmatch(signs, one.end, other.begin):
            doubt = f"one end of the range {signs[one.begin : other.end]}"
            made[place] = replace(one, measure=replace(one.measure, doubts=(*one.measure.doubts, doubt)))
            made[place + 1] = replace(other, measure=replace(other.measure, doubts=(*other.measure.doubts, doubt)))
    return made


def _verbatim(text: str, one: Place) -> Place:
    written = text[one.begin : one.end]
    said = one.refusal if isinstance(one, Unread) else one.measure
    if said.written == written:
        return one
    if isinstance(one, Unread):
        return replace(one, refusal=replace(one.refusal, written=written))
    return replace(one, measure=replace(one.measure, written=written))
