"""The signs of the house, what each means, and the role it is painted in; a sign always goes with its colour."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign, the role that colours it, and what it says in words."""

    sign: str
    role: str
    words: str


SIGNS: tuple[Sign, ...] = (
    Sign("+", "added", "added in the last revision, or since under an open note"),
    Sign("»", "altered", "altered in the last revision, or since under an open note"),
    Sign("-", "deleted", "deleted: the number stays taken; in a share withdrawn: no longer your line"),
    Sign("=", "quiet", "only renumbered, or only spaces differ"),
    Sign("§", "safety", "safety item"),
    Sign("H", "hold", "hold: do not make"),
    Sign("M", "hold", "material only: get the material and do not make"),
    Sign("!", "stop", "stop: bars the issue, or must be put right at once"),
    Sign("x", "error", "error: bars the issue until passed by name"),
    Sign("~", "warning", "warning: bars nothing by itself"),
    Sign("^", "waits", "waits for somebody"),
    Sign("≈", "near", "near what was typed, not exactly it"),
    Sign("[ ]", "taken", "in a comparison: words that the new state has no more"),
    Sign("{ }", "put", "in a comparison: words that the old state had not"),
)

_ROLES = {one.sign: one.role for one in SIGNS}
_WORDS = {one.sign: one.words for one in SIGNS}


def role_of(sign: str) -> str:
    """The role a sign is painted in; quiet for one without."""
    return _ROLES.get(sign, "quiet")


def words_of(sign: str) -> str:
    """What a sign says in words; empty for one unknown."""
    return _WORDS.get(sign, "")
