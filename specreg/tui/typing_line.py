"""A line of text that is being typed: what each key does to it, as a pure function."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

from specreg.tui.pieces import Line, Piece, clean


@dataclass(frozen=True, slots=True)
class Typing:
    """The text, and before which character the caret stands.

    `kept` text was typed at an earlier visit: the first character typed begins a new text, any other key edits it.
    """

    text: str = ""
    at: int = 0
    kept: bool = False

    def put(self, text: str) -> Typing:
        """The line with text put in at the caret."""
        said = clean(text)
        if self.kept:
            return Typing(said, len(said))
        return Typing(self.text[: self.at] + said + self.text[self.at :], self.at + len(said))

    def key(self, key: str) -> Typing | None:
        """The line after an editing key; None when the key edits nothing."""
        text, at = self.text, self.at
        before_word, space, _ = text[:at].rstrip().rpartition(" ")
        start = len(before_word + space)
        changed = {
            "backspace": (text[: max(0, at - 1)] + text[at:], max(0, at - 1)),
            "delete": (text[:at] + text[at + 1 :], at),
            "ctrl+u": (text[at:], 0),
            "ctrl+k": (text[:at], at),
            "ctrl+w": (text[:start] + text[at:], start),
            "left": (text, max(0, at - 1)),
            "right": (text, min(len(text), at + 1)),
            "home": (text, 0),
            "ctrl+a": (text, 0),
            "end": (text, len(text)),
            "ctrl+e": (text, len(text)),
        }.get(key)
        if changed is None:
            return None
        return Typing(*changed)

    def left_alone(self) -> Typing:
        """The line as it is found at the next visit: whole, marked, the caret at its end."""
        return Typing(self.text, len(self.text), kept=bool(self.text))


def typing_pieces(typing: Typing, width: int) -> Line:
    """The line as painted in `width` cells: the caret is always on the screen, text before it gives way."""
    if typing.kept:
        return (Piece(typing.text, "kept"), Piece(" ", "caret"))
    text, at = typing.text, typing.at
    before, under, after = text[:at], text[at : at + 1], text[at + 1 :]
    while before and cell_len(before) + 2 > width:
        before = before[1:]
    return (Piece(before, "text"), Piece(under or " ", "caret"), Piece(after, "text"))
