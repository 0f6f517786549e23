"""Every command of the screens, once: its key, its name, its word and what it does, and on which pages it works.

Key bindings, the line of keys at the foot and the help page are all made from this list. Letters work only on pages
where no text is typed, so the find page has none.
"""

from __future__ import annotations

from dataclasses import dataclass

from textual.binding import Binding, BindingType

READING = frozenset({"desk", "index", "list", "item", "help"})
"""Pages on which letters are commands."""

LISTS = frozenset({"index", "list"})
EVERYWHERE = READING | {"find"}


@dataclass(frozen=True, slots=True)
class Command:
    """One command.

    `keys` are Textual's names of its keys, `shown` what is printed for them, `name` its action, `word` what stands in
    the key line, `says` a sentence of help, `pages` where it works, `rank` how early it stands in the key line (0: it
    is not printed there).
    """

    name: str
    keys: str
    shown: str
    word: str
    says: str
    pages: frozenset[str]
    rank: int = 0


COMMANDS: tuple[Command, ...] = (
    Command("open", "enter", "Enter", "open", "Opens what the cursor stands on.", LISTS | {"find"}, 1),
    Command("next", "n", "n", "next", "Goes to the next item of the same list.", frozenset({"item"}), 1),
    Command("previous", "p", "p", "previous", "Goes to the item before it.", frozenset({"item"}), 1),
    Command("find", "slash", "/", "find", "Finds a number, half a number or words, from anywhere.", READING, 2),
    Command("specification", "s", "s", "specification", "Goes to the index of sections.", READING, 6),
    Command("desk", "d", "d", "desk", "Goes to the desk: what waits, what is out of order.", READING, 7),
    Command("go", "g", "g", "go to", "Asks for an item's number and opens its sheet.", READING, 8),
    Command("back", "escape", "Esc", "back", "Goes back to where you were; nothing typed is lost.",
            EVERYWHERE - {"desk"}, 3),
    Command("help", "question_mark,f1", "?", "help", "Explains the page you are on.", READING - {"help"}, 4),
    Command("help", "f1", "F1", "help", "Explains the page you are on.", frozenset({"find"}), 4),
    Command("theme", "t", "t", "theme", "Changes the look: linen, night, plain.", READING, 9),
    Command("leave", "q", "q", "leave", "Leaves the program.", READING, 5),
    Command("up", "up", "↑", "", "One line up.", EVERYWHERE),
    Command("down", "down", "↓", "", "One line down.", EVERYWHERE),
    Command("page_up", "pageup", "PgUp", "", "One page up.", EVERYWHERE),
    Command("page_down", "pagedown", "PgDn", "", "One page down.", EVERYWHERE),
    Command("top", "home", "Home", "", "To the first line.", READING),
    Command("bottom", "end", "End", "", "To the last line.", READING),
)  # fmt: skip


def commands_on(page: str) -> tuple[Command, ...]:
    """The commands that work on a page, in the order of the list."""
    return tuple(command for command in COMMANDS if page in command.pages)


def key_line_of(page: str) -> tuple[Command, ...]:
    """The commands printed in the key line of a page, most wanted first."""
    return tuple(sorted((one for one in commands_on(page) if one.rank), key=lambda one: one.rank))


def bindings_on(page: str) -> list[BindingType]:
    """The key bindings of a page.

    They take the key before any widget does, and in the order typed: a key that follows `/` at once is already text.
    """
    return [
        Binding(one.keys, one.name, one.word or one.says, key_display=one.shown, priority=True, show=False)
        for one in commands_on(page)
    ]
