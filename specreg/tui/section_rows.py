"""The index page as rows: all sections first, then each with its figures."""

from __future__ import annotations

from collections.abc import Sequence

from specreg.core.counts import grouped
from specreg.services.readings import SectionLine
from specreg.tui.columns import Column, Row
from specreg.tui.pieces import Piece, line

COLUMNS = (
    Column("Section", 8, 7, whole=True),
    Column("Title", 30, 20, grows=1),
    Column("Items", 7, 6, right=True),
    Column("Added", 8, 6, gives=3, right=True),
    Column("Altered", 8, 7, gives=2, right=True),
    Column("Deleted", 8, 7, gives=4, right=True),
    Column("Open", 7, 5, gives=1, right=True),
    Column("Safety", 8, 7, gives=5, right=True),
)
"""The columns of the index; the last ranks give way first, and what is open stays longest."""

ALL = ""
"""The key of the first row, which opens the list of the whole order."""


def section_rows(sections: Sequence[SectionLine]) -> tuple[Row, ...]:
    """A row for the whole order, then one for each section."""
    whole = SectionLine(
        ALL,
        "All sections",
        sum(one.items for one in sections),
        sum(one.added for one in sections),
        sum(one.altered for one in sections),
        sum(one.deleted for one in sections),
        sum(one.open for one in sections),
        sum(one.safety for one in sections),
    )
    return (_row(whole, "strong"), *(_row(one, "ink") for one in sections))


def _row(section: SectionLine, role: str) -> Row:
    return Row(
        section.number,
        (line(section.number), line(section.title), line(grouped(section.items)), _figure("+", section.added, "added"),
         _figure("»", section.altered, "altered"), _figure("-", section.deleted, "deleted"),
         _figure("^", section.open, "waits"), _figure("§", section.safety, "safety")),
        role,
    )  # fmt: skip


def _figure(sign: str, count: int, role: str) -> tuple[Piece, ...]:
    return (Piece(f"{sign} {grouped(count)}", role),) if count else (Piece("–", "quiet"),)
