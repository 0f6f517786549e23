"""The desk in words and figures: what waits, what is out of order, drawings, notes, and that nothing is lost."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

from rich.cells import cell_len

from specreg.core.counts import grouped, so_many
from specreg.services.readings import Count, Desk, NoteLine
from specreg.tui.pieces import Line, Piece, cut_line, fitted, line, width_of
from specreg.tui.signs import role_of

TWO_COLUMNS = 70
"""From this width on what waits and what is out of order stand beside each other."""

WIDEST = 116
"""Beyond this width the columns of the desk drift too far apart for the eye."""

BAR = 24
LEAST_WORDS = 20
"""Cells of a note's words that are left when its signatures and what it waits for need more room."""


def desk_lines(desk: Desk, width: int) -> tuple[Line, ...]:
    """The whole desk, each line at most `width` cells."""
    room = min(width, WIDEST)
    waits = _counted("Waits for you", desk.waits, "Nothing waits for you.")
    wrong = _counted("Out of order", desk.out_of_order, "Nothing is out of order.")
    if width >= TWO_COLUMNS:
        half = room // 2
        top = [(*fitted(left, half - 2), Piece("  "), *cut_line(right, room - half))
               for left, right in zip_longest(waits, wrong, fillvalue=())]  # fmt: skip
    else:
        top = [*waits, (), *wrong]
    return (
        (),
        *top,
        (),
        _drawings(desk),
        _reconciled(desk),
        (),
        *_notes(desk.notes, room),
        (),
        *((_last_edit(desk.last_edit, room),) if desk.last_edit else ()),
    )


def _counted(head: str, counts: Sequence[Count], none: str) -> list[Line]:
    if not counts:
        return [line(Piece(head, "strong")), line(Piece(f"  {none}", "quiet"))]
    figures = max(len(grouped(one.count)) for one in counts)
    return [
        line(Piece(head, "strong")),
        *(
            line(Piece(f"{one.sign or ' '} ", role_of(one.sign)), f"{grouped(one.count):>{figures}}  {one.text}")
            for one in counts
        ),
    ]


def _drawings(desk: Desk) -> Line:
    head = Piece("Drawings   ", "strong")
    if not desk.drawings_total:
        return line(head, Piece("none on the list yet", "quiet"))
    done = BAR * desk.drawings_issued // desk.drawings_total
    share = 100 * desk.drawings_issued // desk.drawings_total
    said = f"{grouped(desk.drawings_issued)} of {grouped(desk.drawings_total)} approved or issued  "
    return line(head, said, Piece("█" * done, "done"), Piece("░" * (BAR - done), "quiet"), f"  {share} %")


def _reconciled(desk: Desk) -> Line:
    items = f"{so_many(desk.items, 'item')}   "
    head = Piece("Items      ", "strong")
    steps, shares = grouped(desk.steps), grouped(desk.in_shares)
    if desk.steps == desk.in_shares:
        return line(head, items, Piece(f"Nothing lost: {steps} steps = {shares} in shares", "done"))
    lost = grouped(abs(desk.steps - desk.in_shares))
    word = "missing from" if desk.steps > desk.in_shares else "too many in"
    return line(head, Piece(f"! LOST: {steps} steps, {shares} in shares: {lost} {word} the shares", "stop"))


def _notes(notes: Sequence[NoteLine], width: int) -> list[Line]:
    head = line(Piece("Notes open", "strong"))
    if not notes:
        return [head, line(Piece("  No note is open.", "quiet"))]
    tails = [_tail(note) for note in notes]
    numbers = max(len(note.number) for note in notes)
    tail = min(max(width_of(pieces) for pieces in tails), max(20, width - numbers - 6 - LEAST_WORDS))
    words = max(cell_len(note.words) for note in notes)
    room = max(8, min(words, width - tail - numbers - 6))
    return [
        head,
        *(
            (Piece(f"  {note.number:<{numbers}}  ", "text"), *fitted(line(note.words), room), Piece("  "),
             *cut_line(pieces, tail))
            for note, pieces in zip(notes, tails, strict=True)
        ),
    ]  # fmt: skip


def _tail(note: NoteLine) -> Line:
    edits = so_many(note.edits, "edit")
    signed = f"  signed {', '.join(note.signed)}" if note.signed else ""
    waits = (Piece("  ^ ", "waits"), Piece(note.waits)) if note.waits else ()
    return (Piece(f"{edits:>9}"), Piece(signed, "quiet"), *waits)


def _last_edit(said: str, width: int) -> Line:
    return cut_line(line(Piece("Last edit  ", "strong"), said), width)
