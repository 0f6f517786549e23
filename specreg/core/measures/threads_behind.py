"""Threads named behind a length: in `1 1/4" dia x 5" B.S.W.` the thread is that of the diameter."""

from __future__ import annotations

import re
from collections.abc import Sequence

from specreg.core.measures.lengths import length_at
from specreg.core.measures.records import Found, Kind, Measure, NotRead, Unread
from specreg.core.measures.threads import NAME, SERIES, thread_of
from specreg.core.measures.units import INCH

_NAME_AT_END = re.compile(rf"(?P<name>{NAME})$")
_CROSS = re.compile(r" ?(?P<dia>(?i:diameter|diam|dia)\.? ?)?(?:(?i:long|shank)\.? ?)?x ?")


def threads_of_their_diameter(signs: str, found: Sequence[Found | Unread]) -> list[Found | Unread]:
    """The places found, each thread behind a cross parted into the length before it and the thread of the diameter."""
    made: list[Found | Unread] = []
    for one in found:
        made += _parted(signs, made, one)
    return made


def _parted(signs: str, before: Sequence[Found | Unread], one: Found | Unread) -> list[Found | Unread]:
    if isinstance(one, Found) and one.measure.kind is not Kind.THREAD:
        return [one]
    name = _NAME_AT_END.search(signs, one.begin, one.end)
    if name is None or name.start() == one.begin:
        return [one]
    chain = _chain(signs, before, one.begin)
    if not chain:
        return [one]
    diameter, named_so = chain
    length = length_at(signs, one.begin)
    if length is None or not isinstance(length.read, Measure):
        return [one]
    series = SERIES[name["name"].casefold().replace(".", "")]
    thread = thread_of(name["name"], diameter.value / INCH, series)
    apart: list[Found | Unread] = [Found(one.begin, length.end, length.read)]
    if isinstance(thread, NotRead):
        return [*apart, Unread(*name.span(), thread)]
    doubt = () if named_so else (f"the thread is taken to be that of {diameter.written}, which is not called dia",)
    measure = Measure(
        Kind.THREAD, thread.written, thread.value, f"on {diameter.written}: {thread.basis}", doubt,
        name=thread.name, pitch=thread.pitch,
    )  # fmt: skip
    return [*apart, Found(*name.span(), measure)]


def _chain(signs: str, before: Sequence[Found | Unread], begin: int) -> tuple[Measure, bool] | None:
    """The diameter among the lengths joined by crosses up to a place, and whether it is called so; else the first."""
    first: Measure | None = None
    for one in reversed(before):
        cross = _CROSS.fullmatch(signs, one.end, begin)
        if cross is None or not isinstance(one, Found) or one.measure.kind is not Kind.LENGTH:
            break
        first, begin = one.measure, one.begin
        if cross["dia"]:
            return first, True
    return None if first is None else (first, False)
