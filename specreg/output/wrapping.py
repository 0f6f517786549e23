"""Sentences broken for a screen or sheet of 80 columns, further lines set in."""

from __future__ import annotations

from textwrap import wrap

WIDTH = 80


def wrapped(text: str, indent: int = 0, width: int = WIDTH) -> str:
    """A line that begins where it does, broken between words; what follows is set in by `indent` columns more."""
    begins = len(text) - len(text.lstrip())
    lines = wrap(
        text.strip(),
        width,
        initial_indent=" " * begins,
        subsequent_indent=" " * (begins + indent),
        break_long_words=False,
        break_on_hyphens=False,
    )
    return "\n".join(lines)
