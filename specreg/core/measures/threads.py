"""Screw threads by their named series: nominal diameter and pitch. A size without its series is refused."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from specreg.core.measures.figures import decimal, mixed
from specreg.core.measures.numbers import NUMBER, number_of
from specreg.core.measures.records import Asks, Kind, Measure, NotRead, Taken
from specreg.core.measures.units import INCH, NO_LETTER

# Threads to the inch by size in inches, as tabulated in secondary sources.
# British Standard Whitworth: trfastenings.com (thread geometries) and the threading tables at
# studylib.net/doc/18133655.
_BSW = """
1/8 40  3/16 24  7/32 24  1/4 20  5/16 18  3/8 16  7/16 14  1/2 12  9/16 12  5/8 11  3/4 10  7/8 9  1 8  1_1/8 7
1_1/4 7  1_3/8 6  1_1/2 6  1_5/8 5  1_3/4 5  1_7/8 9/2  2 9/2  2_1/4 4  2_1/2 4  2_3/4 7/2  3 7/2  3_1/4 13/4
3_1/2 13/4  3_3/4 3  4 3  4_1/2 23/8  5 11/4  5_1/2 21/8  6 5/2
"""
# British Standard Fine: tradeclassicbikes.co.uk (page17) for 3/16 to 7/8; 11/16 and 1 in and over from
# en.wikipedia.org/wiki/British_Standard_Fine. The sizes apart from memory.
_BSF = """
3/16 32  7/32 28  1/4 26  5/16 22  3/8 20  7/16 18  1/2 16  9/16 16  5/8 14  11/16 14  3/4 12  7/8 11  1 10  1_1/8 9
1_1/4 9  1_1/2 8
"""
_BSF_FROM_MEMORY = """
1_3/8 8  1_5/8 8  1_3/4 7  2 7  2_1/4 6  2_1/2 6  2_3/4 6  3 5  3_1/4 5  3_1/2 9/2  3_3/4 9/2  4 9/2
"""
# British Standard Pipe, by the size of the pipe: dcldesign.co.uk (Pipework - BSP threads) and engineeringhardware.com
# (ISO 228) up to 1 1/4, threadchart.net for 1 1/2 to 4; 1 3/4, 5 and 6 from memory.
_BSP = """
1/16 28  1/8 28  1/4 19  3/8 19  1/2 14  5/8 14  3/4 14  7/8 14  1 11  1_1/8 11  1_1/4 11  1_1/2 11  2 11
2_1/2 11  3 11  4 11
"""
_BSP_FROM_MEMORY = "1_3/4 11  5 11  6 11"
# Unified coarse: trfastenings.com (Unified Coarse) up to 3 in; over 3 in from memory.
_UNC = """
1/4 20  5/16 18  3/8 16  7/16 14  1/2 13  9/16 12  5/8 11  3/4 10  7/8 9  1 8  1_1/8 7  1_1/4 7  1_3/8 6  1_1/2 6
1_3/4 5  2 9/2  2_1/4 9/2  2_1/2 4  2_3/4 4  3 4
"""
_UNC_FROM_MEMORY = "3_1/4 4  3_1/2 4  3_3/4 4  4 4"
# Unified fine: tradeclassicbikes.co.uk (page17) up to 7/8, machiningdoctor.com for 1, echosupply.com for 1 1/8; over
# that from memory.
_UNF = "1/4 28  5/16 24  3/8 24  7/16 20  1/2 20  9/16 18  5/8 18  3/4 16  7/8 14  1 12  1_1/8 12"
_UNF_FROM_MEMORY = "1_1/4 12  1_3/8 12  1_1/2 12"
# ISO metric coarse, diameter and pitch in mm, as tabulated in secondary sources: engineeringtoolbox.com (ISO 724) and
# mlc.org.uk (ISO 261).
_METRIC_COARSE = """
1.6 0.35  2 0.4  2.5 0.45  3 0.5  4 0.7  5 0.8  6 1  8 1.25  10 1.5  12 1.75  14 2  16 2  18 2.5  20 2.5  22 2.5  24 3
27 3  30 3.5  33 3.5  36 4  39 4  42 4.5  45 4.5  48 5  52 5  56 5.5  60 5.5  64 6
"""
# Pitches that ISO 261 knows, from memory.
_METRIC_PITCHES = "0.2 0.25 0.3 0.35 0.4 0.45 0.5 0.6 0.7 0.75 0.8 1 1.25 1.5 1.75 2 2.5 3 3.5 4 4.5 5 5.5 6"


def _sizes(figures: str) -> dict[Fraction, Fraction]:
    pieces = [sum(map(Fraction, piece.split("_")), Fraction(0)) for piece in figures.split()]
    return dict(zip(pieces[::2], pieces[1::2], strict=True))


@dataclass(frozen=True, slots=True)
class Series:
    """A series of threads in inches: its name as written here, its full name, threads to the inch by size in inches."""

    name: str
    words: str
    seen: dict[Fraction, Fraction]
    from_memory: dict[Fraction, Fraction]


BSW = Series("B.S.W.", "British Standard Whitworth", _sizes(_BSW), {})
BSF = Series("B.S.F.", "British Standard Fine", _sizes(_BSF), _sizes(_BSF_FROM_MEMORY))
BSP = Series("B.S.P.", "British Standard Pipe", _sizes(_BSP), _sizes(_BSP_FROM_MEMORY))
UNC = Series("UNC", "Unified coarse", _sizes(_UNC), _sizes(_UNC_FROM_MEMORY))
UNF = Series("UNF", "Unified fine", _sizes(_UNF), _sizes(_UNF_FROM_MEMORY))
SERIES = {"bsw": BSW, "bsf": BSF, "bsp": BSP, "unc": UNC, "unf": UNF}
METRIC_COARSE = _sizes(_METRIC_COARSE)
_PITCHES = frozenset(map(Fraction, _METRIC_PITCHES.split()))

NAME = rf"(?i:b\.?s\.?[wfp]|u\.?n\.?[cf]){NO_LETTER}\.?"
"""A pattern for the name of a series in inches."""

_DIA = r"(?i:diameter|diam|dia)\.? ?"
_BEFORE_NAME = re.compile(
    rf"(?P<size>{NUMBER}) ?(?P<mark>\"|''|(?i:inch|ins|in){NO_LETTER}\.?)? ?(?:{_DIA})?"
    rf"(?:[-x] ?(?P<threads>[0-9]{{1,2}}(?:\.[0-9]+| [0-9]/[0-9])?) ?(?i:t\.?p\.?i\.? )?)?(?P<name>{NAME})"
)
_BEHIND_NAME = re.compile(rf"(?P<name>{NAME}) (?P<size>{NUMBER}) ?(?P<mark>\"|''|(?i:inch|ins|in){NO_LETTER}\.?)")
_METRIC = re.compile(
    r"M(?P<space> ?)(?P<size>[0-9]{1,3}(?:\.[0-9])?)(?![0-9])"
    r"(?: ?x ?(?P<pitch>[0-9](?:[.,][0-9]{1,2})?)(?![0-9.,]|[^\Wx]| ?(?:mm|cm|m)\b))?"
    r"(?:-[4-9][gGhHe](?:[4-9][gGhHe])?)?(?!(?!x ?[0-9])\w|[\-/.,]\w)"
)


def thread_at(text: str, at: int, *, whole_field: bool = False) -> Taken | None:
    """The thread that stands at a place of a text of plain signs: `1 1/4" B.S.W.`, `1/2-13 UNC`, `M12 x 1.25`.

    `M12 x 50` is a thread M12 with a length behind it; a number behind the cross is the pitch only when ISO 261 knows
    it and it is no coarser than the coarse thread of that size. `M 12` and sizes without a table may be a mark of
    another sort, and are looked at in a whole field only.
    """
    if text.startswith("M", at):
        return _metric_at(text, at, whole_field)
    matched = _BEFORE_NAME.match(text, at) or _BEHIND_NAME.match(text, at)
    if matched is None:
        return None
    series = SERIES[matched["name"].casefold().replace(".", "")]
    given = matched.groupdict().get("threads")
    thread = _of_series(matched.group(), matched["size"], series, given)
    if isinstance(thread, Measure) and matched["size"].isdecimal() and not matched["mark"]:
        doubt = f"{matched['size']} is taken as inches, and may be how many"
        thread = replace(thread, doubts=(*thread.doubts, doubt))
    return Taken(matched.end(), thread)


def _of_series(written: str, size: str, series: Series, given: str | None) -> Measure | NotRead:
    number = number_of(size, metric=False)
    if isinstance(number, NotRead):
        return NotRead(written, f"{number.written}: {number.why}", number.do, number.asks)
    thread = thread_of(written, number.value, series)
    if isinstance(thread, NotRead):
        return thread
    thread = replace(thread, doubts=number.doubts)
    if given is None:
        return thread
    threads = sum(map(Fraction, given.split()), Fraction(0))
    if thread.pitch != INCH / threads:
        why = f"{given} threads to the inch are written, and {thread.basis}"
        return NotRead(written, why, "Write the size and threads of a special thread in words", Asks.THREAD)
    return thread


def thread_of(written: str, inches: Fraction, series: Series) -> Measure | NotRead:
    """The thread of a series and a size in inches."""
    threads = series.seen.get(inches) or series.from_memory.get(inches)
    if threads is None:
        why = f"{mixed(inches)} in is no size of the table of {series.words} held here"
        return NotRead(written, why, "Write the threads to the inch beside it in words")
    name = f'{mixed(inches)}" {series.name}'
    whence = "as tabulated in secondary sources" if inches in series.seen else "from memory"
    pipe = "; the size is that of the pipe, the thread is larger" if series is BSP else ""
    basis = f"{name} has {mixed(threads)} threads to the inch, {series.words}, {whence}{pipe}"
    return Measure(Kind.THREAD, written, inches * INCH, basis, name=name, pitch=INCH / threads)


def _metric_at(text: str, at: int, whole_field: bool) -> Taken | None:
    matched = _METRIC.match(text, at)
    if matched is None or (matched["space"] and not whole_field):
        return None
    size = Fraction(matched["size"])
    coarse = METRIC_COARSE.get(size)
    end = matched.end()
    if matched["pitch"] is not None:
        pitch = Fraction(matched["pitch"].replace(",", "."))
        if pitch in _PITCHES and pitch < (coarse or size):
            return Taken(end, _metric(matched.group(), matched["size"], pitch, "pitch as written"))
        if pitch != coarse:
            end = matched.end("size")
    if coarse is None:
        if not whole_field:
            return None
        why = f"M{matched['size']} is no size of the table of ISO metric coarse threads held here"
        return Taken(end, NotRead(text[at:end], why, f"Write the pitch: M{matched['size']} x 1.5"))
    basis = "ISO metric coarse, as tabulated in secondary sources"
    return Taken(end, _metric(text[at:end], matched["size"], coarse, basis))


def _metric(written: str, size: str, pitch: Fraction, basis: str) -> Measure:
    name = f"M{size} x {decimal(pitch)}"
    return Measure(Kind.THREAD, written, Fraction(size), f"{name}, {basis}", name=name, pitch=pitch)
