"""Words made plain for comparing: small letters, single spaces."""

from __future__ import annotations


def plain_words(text: str) -> str:
    """The text in small letters with single spaces, none at its ends."""
    return " ".join(text.casefold().split()) if text else ""
