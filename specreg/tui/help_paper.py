"""The help, in the words of the trade: what each page is for, its keys, and the signs."""

from __future__ import annotations

from specreg.tui.commands import commands_on
from specreg.tui.pieces import Line, Piece, line, wrapped
from specreg.tui.signs import SIGNS

NAMES = {
    "desk": "Desk",
    "index": "Index of sections",
    "list": "List of items",
    "item": "Item sheet",
    "find": "Find",
}
"""What the pages are called."""

PURPOSE = {
    "desk": "The desk says what waits for you and what is out of order: signatures, stops and errors, "
    "departments without their extract, drawings late. "
    "Below stand the drawings approved or issued of all on the list, the notes open, and the proof that nothing was "
    "lost: every step of every item stands in exactly one department's share.",
    "index": "The index lists the sections of the specification. Beside each stand its live items; how many rows were "
    "added, altered and deleted in the last revision against the one before; how many are open, that is edited under a "
    "note and not yet issued; and how many items are safety items. On a narrow screen some of these columns give way. "
    "The first row opens the whole order as one list.",
    "list": "The list stands in the order of the specification. An assembly is bold and what belongs to it is set in "
    "under it; a clause has no number off; a deleted number stays listed and says why. Where an item has no size its "
    "weight is shown. On a narrow screen the last columns give way; the item's sheet has everything.",
    "item": "The sheet says everything of one item: its fields, with what an altered field said at the last issue; the "
    "number off for the whole order and how it was reckoned; its drawings with revision and stage; its route through "
    "the departments, each step with its number off and the rule it follows from; and its history.",
    "find": "Type a number, half a number, or words in any order; half words do, and misspelt ones find what is near. "
    "Dashes and spaces in numbers do not matter. What is found is painted while you type: exact numbers first, then "
    "numbers that begin so, titles, texts; what was found in a field or text stands behind the title when there is "
    "room. Down goes into the list, typing goes on with the text. With nothing typed, the places lately opened are "
    "offered.",
}
"""What each page is for."""


def help_lines(page: str, width: int) -> tuple[Line, ...]:
    """The help on one page, each line at most `width` cells."""
    room = min(width, 92)
    return (
        (),
        *(line(text) for text in wrapped(PURPOSE.get(page, ""), room)),
        (),
        line(Piece("Keys on that page", "strong")),
        *_keys(page, room),
        (),
        line(Piece("Signs", "strong")),
        *(line("  ", Piece(f"{one.sign:<8}", one.role), one.words) for one in SIGNS),
        (),
        *(line(Piece(text, "quiet")) for text in wrapped(CAUTION, room)),
    )


CAUTION = (
    "Weights, lengths and numbers off are for planning. For pressure parts, lifting gear, brakes and running gear, "
    "competent persons, the inspecting authority and local codes decide."
)


def _keys(page: str, width: int) -> list[Line]:
    lines: list[Line] = []
    for command in commands_on(page):
        said = wrapped(command.says, max(20, width - 10))
        lines.append(line("  ", Piece(f"{command.shown:<8}", "key"), said[0]))
        lines += [line(" " * 10, text) for text in said[1:]]
    return lines
