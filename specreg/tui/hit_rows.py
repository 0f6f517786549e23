"""What was found, as rows: number, title with the words marked, why it was found, what it is."""

from __future__ import annotations

from collections.abc import Sequence

from specreg.services.readings import Found, Hit
from specreg.tui.columns import Column, Row
from specreg.tui.pieces import Piece, line, marked
from specreg.tui.places import Place
from specreg.tui.signs import role_of

COLUMNS = (
    Column(" ", 2, 2),
    Column("No", 14, 9, whole=True, fills=1),
    Column("Title", 40, 20, grows=1),
    Column("Found by", 10, 9),
    Column("Rev", 6, 6, gives=1),
    Column("What", 8, 7),
)
"""The columns of what was found; `Rev` holds a letter, or `issued` and `open` of a note."""

_TITLE = 2

PLACE_COLUMNS = (Column(" ", 1, 1), Column("No", 14, 9, whole=True), Column("Lately opened", 40, 20, grows=1),
                 Column("What", 8, 7))  # fmt: skip


def hit_key(hit: Hit) -> str:
    """The key of a hit: what it is and its number, since a drawing may have an item's number."""
    return f"{hit.kind} {hit.number}"


def hit_rows(found: Found) -> tuple[Row, ...]:
    """A row for each hit. A near one carries `≈` and the word, a deleted item `-` and the word, others their sign.

    Behind the title stands, where there is room, the field and text in which it was found.
    """
    words = tuple(found.query.split())
    return tuple(_row(hit, words) for hit in found.hits)


def _row(hit: Hit, words: Sequence[str]) -> Row:
    near = hit.near or hit.why == "near"
    sign = tuple(Piece(one, role_of(one)) for one in (hit.sign, "≈" if near else "") if one)
    deleted = hit.sign == "-"
    what = (Piece("deleted", "deleted"),) if deleted else line(hit.kind)
    why = "near" if near else hit.why
    return Row(
        hit_key(hit),
        (sign, marked(hit.number, words, "found", "text"), marked(hit.title, words, "found"),
         (Piece(why, "near" if near else "quiet"),), line(hit.revision), what),
        role="deleted" if deleted else "ink",
        aside=marked(hit.where, words, "found", "quiet") if hit.where else (),
        beside=_TITLE,
    )  # fmt: skip


def place_rows(places: Sequence[Place]) -> tuple[Row, ...]:
    """A row for each place lately opened, the last one first."""
    return tuple(
        Row(f"{place.kind} {place.number}", ((), (Piece(place.number, "text"),), line(place.title), line(place.kind)))
        for place in places
    )


def said_of(hit: Hit) -> str:
    """What a hit is, in full, when it has no sheet of its own to open: of a note how it stands and all its words."""
    if hit.kind == "note":
        standing = f", {hit.revision}" if hit.revision else ""
        return f"{hit.number}{standing}: {hit.title}" if hit.title else f"{hit.number}{standing}"
    revision = f" revision {hit.revision}" if hit.revision else ""
    named = f"{hit.kind.capitalize()} {hit.number}{revision}"
    return f"{named}: {hit.title}" if hit.title else named
