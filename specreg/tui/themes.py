"""The three looks: linen (light), night (dark), plain (no colour at all), each as roles turned into styles.

Every colour is dark or light enough on its ground to be read (contrast 4.5 to 1 or better, held by a test), and no
role is known by colour alone: signs and words stand beside it, and plain does with bold, underline and reverse.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter
from textual.theme import Theme

THEMES = ("linen", "night", "plain")
"""The names, in the order in which the key goes through them."""


@dataclass(frozen=True, slots=True)
class Look:
    """One theme: the colour of the paper and of the cursor's row, dark or not, and a style for each role."""

    paper: str
    cursor: str
    dark: bool
    roles: Mapping[str, str]


LOOKS: Mapping[str, Look] = {
    "linen": Look(
        paper="#f5f0e3",
        cursor="#dccfae",
        dark=False,
        roles={
            "ink": "#26241f", "strong": "bold #26241f", "frame": "#6d6553", "quiet": "#5f5848",
            "heads": "underline #5f5848", "caption": "#5f5848", "key": "bold #7a3100", "added": "bold #17572a",
            "altered": "bold #7a3c00", "deleted": "#8a2020", "safety": "bold #8a1010", "hold": "bold #6a2a6a",
            "stop": "bold #8a1010", "error": "bold #8a2020", "warning": "bold #6e4300", "waits": "bold #1d4a75",
            "near": "italic #5a4a7a", "found": "bold underline #1d4a75", "done": "#17572a", "text": "bold #26241f",
            "caret": "reverse #26241f", "kept": "reverse #5f5848", "taken": "underline #8a2020",
            "put": "bold underline #17572a",
        },
    ),
    "night": Look(
        paper="#15191d",
        cursor="#2c3b4a",
        dark=True,
        roles={
            "ink": "#dcd8cc", "strong": "bold #f2efe6", "frame": "#7d8994", "quiet": "#a3adb5",
            "heads": "underline #a3adb5", "caption": "#a3adb5", "key": "bold #e6b566", "added": "bold #8fd19b",
            "altered": "bold #e9bd72", "deleted": "#e79a94", "safety": "bold #ff9c8f", "hold": "bold #d7a8e0",
            "stop": "bold #ff9c8f", "error": "bold #e79a94", "warning": "bold #e6c17a", "waits": "bold #94c3ee",
            "near": "italic #c3b4e6", "found": "bold underline #94c3ee", "done": "#8fd19b", "text": "bold #f2efe6",
            "caret": "reverse #dcd8cc", "kept": "reverse #a3adb5", "taken": "underline #e79a94",
            "put": "bold underline #8fd19b",
        },
    ),
    "plain": Look(
        paper="",
        cursor="",
        dark=True,
        roles={
            "ink": "", "strong": "bold", "frame": "", "quiet": "", "heads": "underline", "caption": "", "key": "bold",
            "added": "bold", "altered": "bold", "deleted": "", "safety": "bold", "hold": "bold", "stop": "bold",
            "error": "bold", "warning": "bold", "waits": "bold", "near": "italic", "found": "bold underline",
            "done": "", "text": "bold", "caret": "reverse", "kept": "reverse", "taken": "underline",
            "put": "bold underline",
        },
    ),
}  # fmt: skip


class Inks:
    """The styles of one theme by role; `on_cursor` gives the same role in the cursor's row."""

    def __init__(self, look: Look) -> None:
        ground = Style(bgcolor=look.paper) if look.paper else Style.null()
        under = Style(bgcolor=look.cursor, bold=True) if look.cursor else Style(reverse=True, bold=True)
        self._roles = {role: ground + Style.parse(words) for role, words in look.roles.items()}
        self._cursor = {role: style + under for role, style in self._roles.items()}

    def __call__(self, role: str, on_cursor: bool = False) -> Style:
        """The style of a role; an unknown or empty role is plain ink."""
        styles = self._cursor if on_cursor else self._roles
        return styles.get(role) or styles["ink"]


class Colourless(LineFilter):
    """Takes every colour out of what is painted, and leaves bold, underline and reverse."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments without colours."""
        del background
        return [Segment(text, style and style.without_color, control) for text, style, control in segments]


_ANSI = {"ansi-background": "ansi_default", "ansi-foreground": "ansi_default"}
"""Textual 8.2.8 expects these of a theme that leaves the terminal's own colours alone."""


def textual_theme(name: str) -> Theme:
    """The theme as Textual wants it, for the ground behind the painted lines."""
    look = LOOKS[name]
    if not look.paper:
        return Theme(name=name, primary="ansi_default", background="ansi_default", surface="ansi_default",
                     panel="ansi_default", foreground="ansi_default", dark=look.dark, ansi=True,
                     variables=_ANSI)  # fmt: skip
    ink = look.roles["ink"]
    return Theme(name=name, primary=ink, foreground=ink, background=look.paper, surface=look.paper, panel=look.cursor,
                 dark=look.dark)  # fmt: skip


def following(name: str, names: Sequence[str] = THEMES) -> str:
    """The theme after this one."""
    return names[(names.index(name) + 1) % len(names)] if name in names else names[0]
