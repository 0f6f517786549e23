"""The index page as rows: all sections first, then each with its figures."""

from __future__ import annotations

from collections.abc import Sequence

from specreg.services.readings import SectionLine
from specreg.tui.columns import Column, Row
from specreg.tui.pieces import Piece, grouped, line

COLUMNS = (
    Column("Section", 8, 7, whole=True),
    Column("Title", 40, 20, grows=1),
    Column("Items", 9, 7, right=True),
    Column("Altered", 10, 9, gives=1, right=True),
    Column("Deleted", 10, 9, gives=3, right=True),
    Column("Safety", 9, 8, gives=2, right=True),
)

ALL = ""
"""The key of the first row, which opens the list of the whole order."""


def section_rows(sections: Sequence[SectionLine]) -> tuple[Row, ...]:
    """A row for the whole order, then one for each section."""
    whole = _row(
        ALL,
        "",
        "All sections",
        sum(one.items for one in sections),
        sum(one.changed for one in sections),
        sum(one.deleted for one in sections),
        sum(one.safety for one in sections),
        "strong",
    )
    return (whole, *(
        _row(one.number, one.number, one.title, one.items, one.changed, one.deleted, one.safety, "ink")
        for one in sections
    ))  # fmt: skip


def _row(key: str, number: str, title: str, items: int, changed: int, deleted: int, safety: int, role: str) -> Row:
    return Row(
        key,
        (line(number), line(title), line(grouped(items)), _figure("»", changed, "altered"),
         _figure("-", deleted, "deleted"), _figure("§", safety, "safety")),
        role,
    )  # fmt: skip


def _figure(sign: str, count: int, role: str) -> tuple[Piece, ...]:
    return (Piece(f"{sign} {grouped(count)}", role),) if count else (Piece("–", "quiet"),)
