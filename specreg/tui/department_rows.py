"""The departments as rows, and the proof that nothing was lost, in words that can be read aloud."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from specreg.core.counts import grouped, so_many
from specreg.core.extracts import Reconciliation
from specreg.services.department_readings import DepartmentLine, DepartmentsPage
from specreg.tui.columns import Column, Row
from specreg.tui.pieces import Line, Piece, cut_line, line, width_of
from specreg.tui.signs import role_of

WIDE = 96
"""Cells from which on an extract is named in full."""

NOTHING = "No department stands in the works standards yet."

BETWEEN = Piece("  ·  ", "frame")


def department_columns(page: DepartmentsPage, room: int) -> tuple[Column, ...]:
    """The columns: what changed and the extract stay longest, pieces give way first.

    As the order stands there is no extract yet, and the last column says what the signs compare with.
    """
    wide = room >= WIDE
    extract = Column("Extract", 23 if wide else 14, 23 if wide else 14, gives=1)
    since = Column("Since extract", 15 if wide else 13, 15 if wide else 11, gives=1, brief="Since")
    dated = Column("Dated", 10, 10, late=True)
    last = (extract, dated, replace(since, late=True)) if page.revision else (since, dated)
    return (
        Column("Code", 4, 4, whole=True),
        Column("Department", 26, 12, grows=1),
        Column("Lines", 7, 6, gives=2, right=True),
        Column("Pieces", 9, 7, gives=3, right=True),
        Column("Added", 8, 5, right=True),
        Column("Altered", 8, 7, right=True),
        Column("Withdrawn", 9, 7, right=True, brief="Withdr."),
        *last,
        Column("Not counted", 11, 11, late=True, right=True),
    )


def department_rows(page: DepartmentsPage, room: int) -> tuple[Row, ...]:
    """A row for each department, known by its code."""
    return tuple(_row(one, page.revision, room >= WIDE) for one in page.departments)


def _row(one: DepartmentLine, revision: str, wide: bool) -> Row:
    since = (Piece(_since(one.since, wide) or "none before", "quiet"),)
    dated = (Piece(one.dated or "–", "quiet"),)
    return Row(
        one.code,
        (line(Piece(one.code, "text")), line(one.name), line(grouped(one.lines)), line(grouped(one.pieces)),
         _added(one), _figure("»", one.altered), _figure("-", one.withdrawn),
         *((_extract(one, revision, wide), dated, since) if revision else (since, dated)),
         line(grouped(one.not_counted) if one.not_counted else "–")),
    )  # fmt: skip


def _added(one: DepartmentLine) -> Line:
    if not one.since and one.lines:
        return (Piece("+ all", role_of("+")),)
    return _figure("+", one.added)


def _figure(sign: str, count: int) -> Line:
    return (Piece(f"{sign} {grouped(count)}", role_of(sign)),) if count else (Piece("–", "quiet"),)


def _extract(one: DepartmentLine, revision: str, wide: bool) -> Line:
    """The extract it had last: the one of this revision with its seal, or an older one, and whether that still does."""
    if one.extract:
        return (Piece(f"{one.extract} of rev {revision}  " if wide else f"{one.extract}  "), Piece(one.seal, "text"))
    older = _since(one.since, wide=False)
    if older and not one.changed:
        return (Piece(f"{older}, unchanged" if wide else older, "quiet"),)
    said = f"{older}, older" if older and wide else older or "none yet"
    return (Piece("^ ", role_of("^")), Piece(said)) if one.lines or older else (Piece(said, "quiet"),)


def _since(since: str, wide: bool) -> str:
    """An extract by number and revision: `1 of revision A`, `1 of rev A`; empty when there is none."""
    said = since.removeprefix("extract ")
    return said if wide else said.replace("revision", "rev")


# The proof


def proof_lines(proof: Reconciliation, width: int, most: int) -> tuple[Line, ...]:
    """The proof in at most `most` lines of `width` cells: what does not hold comes first, with its sign.

    Figures give way before words, and what holds before what does not.
    """
    for parts in (_said(proof), _said_briefly(proof)):
        lines = _flowing(parts, width)
        if len(lines) <= most:
            return lines
    kept = lines[:most]
    return (*kept[:-1], cut_line((*kept[-1], Piece("  …")), width))


def _said(proof: Reconciliation) -> list[Line]:
    items = f"{so_many(proof.items, 'item')} = {grouped(proof.allocated)} with a route"
    told = [
        _steps_lost(proof, f": {so_many(proof.steps, 'step')}, {grouped(proof.in_shares)} in shares")
        or line(f"{so_many(proof.steps, 'step')} = {grouped(proof.in_shares)} in shares"),
        _pieces_lost(proof, f": {grouped(proof.order_off)} wanted, {grouped(proof.final_off)} delivered")
        or line(f"{so_many(proof.order_off, 'piece')} wanted = {grouped(proof.final_off)} delivered"),
        _items_lost(proof, f": {items} + {grouped(proof.no_action)} no action + {grouped(proof.unallocated)} without")
        or line(f"{items} + {grouped(proof.no_action)} no action"),
    ]
    return _worst_first(told, proof.holds)


def _said_briefly(proof: Reconciliation) -> list[Line]:
    told = [
        _steps_lost(proof) or line(f"{grouped(proof.steps)} steps = {grouped(proof.in_shares)}"),
        _pieces_lost(proof) or line(f"{grouped(proof.order_off)} pieces = {grouped(proof.final_off)}"),
        _items_lost(proof)
        or line(f"{grouped(proof.items)} items = {grouped(proof.allocated)} + {grouped(proof.no_action)}"),
    ]
    return _worst_first(told, proof.holds)


def _worst_first(told: Sequence[Line], holds: bool) -> list[Line]:
    verdict = [line(Piece("nothing lost", "done"))] if holds else []
    return [*sorted(told, key=lambda one: one[0].role != "stop"), *verdict]


def _steps_lost(proof: Reconciliation, figures: str = "") -> Line:
    lost = proof.difference
    if not lost:
        return ()
    word = "missing from" if lost > 0 else "too many in"
    return (Piece(f"! {so_many(abs(lost), 'step')} {word} the shares{figures}", "stop"),)


def _pieces_lost(proof: Reconciliation, figures: str = "") -> Line:
    lost = proof.off_difference
    if not lost:
        return ()
    word = "not delivered" if lost > 0 else "too many delivered"
    return (Piece(f"! {so_many(abs(lost), 'piece')} {word}{figures}", "stop"),)


def _items_lost(proof: Reconciliation, figures: str = "") -> Line:
    if not proof.unallocated:
        return ()
    have = "has" if proof.unallocated == 1 else "have"
    return (Piece(f"! {so_many(proof.unallocated, 'item')} {have} no route{figures}", "stop"),)


def _flowing(parts: Sequence[Line], width: int) -> tuple[Line, ...]:
    """The parts one after another, a new line where the next finds no room."""
    lines: list[Line] = []
    for part in parts:
        if lines and width_of(lines[-1]) + width_of((BETWEEN,)) + width_of(part) <= width:
            lines[-1] = (*lines[-1], BETWEEN, *part)
        else:
            lines.append(part)
    return tuple(cut_line(one, width) for one in lines)
