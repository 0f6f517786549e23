"""Every command of the screens, once: its key, its name, its word and what it does, and on which pages it works.

Key bindings, the line of keys at the foot and the help page are all made from this list. Letters work only on pages
where no text is typed, so the find page has none.
"""

from __future__ import annotations

from dataclasses import dataclass

from textual.binding import Binding, BindingType

LISTS = frozenset({
    "index", "list", "departments", "share", "drawings", "drawing", "compare", "take-off", "sum",
})  # fmt: skip
"""Pages with a cursor, on which Enter opens what it stands on."""

READING = LISTS | {"desk", "item", "help"}
"""Pages on which letters are commands."""

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
    Command("open", "enter", "Enter", "open", "Opens what the cursor stands on.", LISTS | {"find", "item"}, 1),
    Command("next", "n", "n", "next", "Goes to the next item of the same list.", frozenset({"item"}), 1),
    Command("before", "b", "b", "before", "Goes to the item before it.", frozenset({"item"}), 1),
    Command("view(1)", "1", "1", "issued", "Shows the shares as last issued.", frozenset({"departments"}), 2),
    Command("view(2)", "2", "2", "stands", "Shows them as an issue of the open notes would leave them.",
            frozenset({"departments"}), 2),
    Command("extract", "x", "x", "extract", "Makes the extract of this department, or of all, as files to print.",
            frozenset({"departments", "share"}), 3),
    Command("view(1)", "1", "1", "all", "Shows every line of the share.", frozenset({"share"}), 2),
    Command("view(2)", "2", "2", "changed", "Shows only what changed for this department.", frozenset({"share"}), 2),
    Command("next", "n", "n", "next", "Goes to the next department.", frozenset({"share"}), 9),
    Command("before", "b", "b", "before", "Goes to the department before it.", frozenset({"share"}), 9),
    Command("view(1)", "1", "1", "all", "Shows every sheet on the drawing list.", frozenset({"drawings"}), 2),
    Command("view(2)", "2", "2", "not to make by", "Shows the sheets that may not be made from yet.",
            frozenset({"drawings"}), 2),
    Command("view(3)", "3", "3", "not called", "Shows the sheets that no item calls up.", frozenset({"drawings"}), 2),
    Command("next", "n", "n", "next", "Goes to the next drawing.", frozenset({"drawing"}), 2),
    Command("before", "b", "b", "before", "Goes to the drawing before it.", frozenset({"drawing"}), 2),
    Command("view(1)", "1", "1", "all", "Shows every change.", frozenset({"compare"}), 2),
    Command("view(2)", "2", "2", "mine", "Shows what changed on one department's paper.", frozenset({"compare"}), 2),
    Command("view(3)", "3", "3", "safety", "Shows the changes of safety items.", frozenset({"compare"}), 2),
    Command("view(4)", "4", "4", "real only", "Leaves out what is only renumbered or spaced otherwise.",
            frozenset({"compare"}), 2),
    Command("other", "o", "o", "others", "Asks which two states to compare.", frozenset({"compare"}), 3),
    Command("next", "n", "n", "next", "Goes to the next change.", frozenset({"compare"}), 10),
    Command("before", "b", "b", "before", "Goes to the change before it.", frozenset({"compare"}), 10),
    Command("view(1)", "1", "1", "sections", "Shows the sums by section.", frozenset({"take-off"}), 2),
    Command("view(2)", "2", "2", "materials", "Shows the sums by material, the heaviest first.",
            frozenset({"take-off"}), 2),
    Command("view(3)", "3", "3", "departments", "Shows what passes through each department, by its own steps.",
            frozenset({"take-off"}), 2),
    Command("view(4)", "4", "4", "no weight", "Shows every item without weight or count, and why.",
            frozenset({"take-off"}), 4),
    Command("view(5)", "5", "5", "doubts", "Shows every item whose weight is doubted, and why.",
            frozenset({"take-off"}), 4),
    Command("other", "o", "o", "other state",
            "Shows the order as it stands with its open edits; pressed again, as last issued.",
            frozenset({"take-off"}), 3),
    Command("next", "n", "n", "next", "Goes to the next sum.", frozenset({"sum"}), 2),
    Command("before", "b", "b", "before", "Goes to the sum before it.", frozenset({"sum"}), 2),
    Command("find", "slash", "/", "find", "Finds a number, half a number or words, from anywhere.", READING, 4),
    Command("specification", "s", "s", "sections", "Goes to the index of sections.", READING, 8),
    Command("drawings", "d", "d", "drawings", "Goes to the drawing list: stages, and who calls each drawing up.",
            READING, 8),
    Command("departments", "p", "p", "departments", "Goes to the departments: their shares, and what changed for each.",
            READING, 8),
    Command("compare", "c", "c", "compare", "Lays two revisions beside each other.", READING, 8),
    Command("take_off", "t", "t", "take-off", "Goes to the take-off: weights by section, material and department.",
            READING, 8),
    Command("desk", "k", "k", "desk", "Goes to the desk: what waits, what is out of order.", READING - {"desk"}, 11),
    Command("go", "g", "g", "go to", "Asks for an item's number and opens its sheet.", READING, 12),
    Command("back", "escape", "Esc", "back", "Goes back to where you were; nothing typed is lost.",
            EVERYWHERE - {"desk"}, 5),
    Command("help", "question_mark,f1", "?", "help", "Explains the page you are on.", READING - {"help"}, 6),
    Command("help", "f1", "F1", "help", "Explains the page you are on.", frozenset({"find"}), 6),
    Command("look", "l", "l", "look", "Changes the look: linen, night, plain.", READING, 13),
    Command("leave", "q", "q", "leave", "Leaves the program.", READING, 7),
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
