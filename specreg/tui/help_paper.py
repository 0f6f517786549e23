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
    "departments": "Departments",
    "share": "Share of a department",
    "drawings": "Drawing list",
    "drawing": "Drawing",
    "compare": "Compare",
    "take-off": "Take-off",
    "sum": "Items of a sum",
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
    "number off for the whole order and how it was reckoned; what it weighs, is cut to and is allowed, and what that "
    "rests on; its drawings with revision and stage; its route through the departments, each step with its number off "
    "and the rule it follows from; and its history. Under a weight, ~ stands before what is doubted and ^ before what "
    "is wanting; an assembly weighs what its parts come to. The cursor goes from drawing to drawing, and Enter opens "
    "the one it stands on.",
    "find": "Type a number, half a number, or words in any order; half words do, and misspelt ones find what is near. "
    "Dashes and spaces in numbers do not matter. What is found is painted while you type: exact numbers first, then "
    "numbers that begin so, titles, texts; what was found in a field or text stands behind the title when there is "
    "room. Down goes into the list, typing goes on with the text. With nothing typed, the places lately opened are "
    "offered.",
    "departments": "Over the list stands the proof that nothing was lost in the splitting: every step of every item "
    "stands in one department's share, the last steps deliver the pieces that the order wants, and every item has a "
    "route or a reason for none; ! stands before what does not hold. Each department has its lines and pieces, what "
    "was added, altered and withdrawn since its extract of an earlier revision, and its extract of this one with the "
    "seal printed on it; ^ stands where it is still to be made. 2 shows what an issue would say now.",
    "share": "The share has a line for each step that the department does: its number off with the extra against "
    "wasters, and the departments before and after. The signs compare with the extract named over the list. Under an "
    "altered line stands what it said before; a withdrawn line is listed where it stood, with the reason, and counts "
    "no more. On a narrow screen departments stand by their code, and size, material and drawing give way; the item's "
    "sheet and the extract have everything. ~ stands before a drawing that may not be made from yet.",
    "drawings": "The drawing list has a line for each sheet that the order needs: its revision, how far it has come, "
    "the day of the revision and the day planned, and how many items call it up; on a wide screen also who drew, "
    "checked and approved it. ~ stands where the planned day has gone by and the sheet is not approved, ! where a "
    "cancelled sheet is still called up. Only approved and issued sheets may be made from. A drawing counts as "
    "approved or issued when all its sheets are.",
    "drawing": "The sheet says everything of one drawing: what it is; each of its sheets with revision, stage and "
    "who drew, checked and approved it; the items that call it up, with how they write it and their departments; "
    "everything the register said of it, the last first, with what changed; and the other orders that list it. The "
    "cursor goes from item to item, and Enter opens the one it stands on.",
    "compare": "Two states of the order beside each other: two revisions, or a revision and open, which is the order "
    "as it stands with the edits not yet issued. The signs say what happened from the old state to the new. Under "
    "each change stands every field that differs, the old state over the new, or beside it on a wide screen. What was "
    "taken out stands in [ ] in the old, what was put in stands in { } in the new; long texts are shortened to the "
    "words around a change, … where words are left out. 2 shows what changed on the paper of one department; pressed "
    "again it asks for another.",
    "take-off": "The take-off says what the order weighs: by section, by material, by department, and as a whole. "
    "Finished is the weight as it leaves the works; to order is the rough weight, as stated or with what the works "
    "leave for machining, else that of the size. No weight counts the items that should have one and have none: the "
    "sums are that much short. A weight counts once: an assembly counts by its parts, and by its own weight only where "
    "none of them has one. Departments have the pieces of their own steps, so that they come to more than the order. "
    "On a narrow screen 23-4-2-11 is 23 tons 4 cwt 2 qr 11 lb. 4 lists every item without weight or count, with the "
    "reason and what to do; 5 those whose weight is doubted. Enter opens the items of a sum, and from there the sheet "
    "of an item, as it stands now.",
    "sum": "The items of one sum in the order of the specification: the number off, what one piece weighs, and what "
    "all of them come to. An item that adds nothing says why in its place: by its parts (an assembly, counted by "
    "them), with its assembly (which counts by its own weight), no weight or no count. In a department an item stands "
    "once for each of its steps there, and its weight counts once. ^ stands where a weight or a count is wanting, ~ "
    "where a weight is doubted; the item's sheet says why. On a narrow screen 23-4-2-11 is 23 tons 4 cwt 2 qr 11 lb.",
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
        *(row for one in SIGNS for row in _explained(Piece(f"{one.sign:<8}", one.role), one.words, room)),
        (),
        *(line(Piece(text, "quiet")) for text in wrapped(CAUTION, room)),
    )


CAUTION = (
    "Weights, lengths and numbers off are for planning. For pressure parts, lifting gear, brakes and running gear, "
    "competent persons, the inspecting authority and local codes decide."
)


def _keys(page: str, width: int) -> list[Line]:
    return [
        row
        for command in commands_on(page)
        for row in _explained(Piece(f"{command.shown:<8}", "key"), command.says, width)
    ]


def _explained(head: Piece, words: str, width: int) -> list[Line]:
    """A key or sign and beside it what is said of it, wrapped."""
    first, *more = wrapped(words, max(20, width - 10))
    return [line("  ", head, first), *(line(" " * 10, text) for text in more)]
