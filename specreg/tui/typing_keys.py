"""What makes a page or a dialog able to be typed in: its editing keys, its characters, what is pasted."""

from __future__ import annotations

from abc import abstractmethod

from textual import events

from specreg.tui.typing_line import Typing


class TypingKeys:
    """Takes the keys that edit a line of text; `typing` is the line as it stands.

    A plain class on purpose: of several bases that are nodes Textual would look for styles in the first alone.
    """

    typing: Typing

    @abstractmethod
    def take(self, typing: Typing) -> None:
        """Take over the line as it stands after a key, and paint it."""

    def on_key(self, event: events.Key) -> None:
        """Take an editing key, or a character."""
        changed = self.typing.key(event.key)
        if changed is None and event.is_printable and event.character:
            changed = self.typing.put(event.character)
        if changed is None:
            return
        event.stop()
        event.prevent_default()
        self.take(changed)

    def on_paste(self, event: events.Paste) -> None:
        """Take pasted text as if it were typed."""
        event.stop()
        self.take(self.typing.put(event.text))
