"""What is said over the take-off: what the sums are short of, what one sum comes to, and the cautions."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len

from specreg.core.counts import grouped, so_many
from specreg.core.take_off_words import BRIEF_CAUTION, mass_in_column, mass_words
from specreg.services.take_off_readings import SumPage, TakeOffPage
from specreg.tui.pieces import Line, Piece, cut, cut_line, line, width_of, wrapped
from specreg.tui.signs import role_of

BETWEEN = Piece("  ·  ", "frame")


def state_words(revision: str, is_issued: bool) -> str:
    """Which state is shown: `revision B`, `as it stands`, or `not issued`."""
    if revision:
        return f"revision {revision}"
    return "as it stands" if is_issued else "not issued"


def over_the_sums(page: TakeOffPage, width: int, most: int) -> tuple[Line, ...]:
    """What the sums are short of, and the cautions, in at most `most` lines (2 or more)."""
    return _with_cautions(_short_of(page, width), page.cautions, width, most)


def over_the_items(page: SumPage, width: int, most: int) -> tuple[Line, ...]:
    """What the sum comes to, and the cautions, in at most `most` lines (2 or more)."""
    return _with_cautions(_comes_to(page, width), page.cautions, width, most)


def _with_cautions(first: Line, cautions: Sequence[str], width: int, most: int) -> tuple[Line, ...]:
    """The works' own cautions where there is room for all of each, else the brief one."""
    full = [text for caution in cautions for text in wrapped(f"Caution: {caution}", width)]
    said = full if full and len(full) < most else wrapped(BRIEF_CAUTION, width)
    if len(said) >= most:
        said = [cut(BRIEF_CAUTION, width)]
    return (cut_line(first, width), *(line(Piece(text, "warning")) for text in said))


def place_in_head(title: str, units: str, place: Line, width: int) -> Line:
    """What stands at the right of the head: the place, and before it what the figures of a weight are, where the title
    leaves room for both."""
    both = (Piece(units), BETWEEN, *place)
    return both if units and cell_len(title) + width_of(both) + 8 <= width else place


def _short_of(page: TakeOffPage, width: int) -> Line:
    whole = page.whole
    if not whole.items:
        return ()
    wanting = line("Every item that should have a weight or a count has one")
    if page.wanting:
        have = "has" if whole.without == 1 else "have"
        missing = f"{grouped(whole.without)} of {so_many(whole.items, 'item')} {have} no weight"
        missing += f", {grouped(page.uncounted)} no count" if page.uncounted else ""
        wanting = (Piece("^ ", role_of("^")), Piece(missing))
    doubted: Line = (BETWEEN, Piece("~ ", role_of("~")), Piece(f"{grouped(len(page.doubtful))} doubted"))
    for why, which, doubts in ((": the sums are that much short, 4 says why", ": 5 says why", doubted),
                               (": see 4", ": see 5", doubted), (": see 4", "", ()), ("", "", ())):  # fmt: skip
        said = (*wanting, *(line(why) if page.wanting else ()), *((*doubts, Piece(which)) if page.doubtful else ()))
        if width_of(said) <= width:
            return said
    return wanting


def _comes_to(page: SumPage, width: int) -> Line:
    one = page.total
    counts = f"{so_many(one.items, 'item')}, {so_many(one.pieces, 'piece')}"
    without: Line = (BETWEEN, Piece("^ ", role_of("^")), Piece(f"{grouped(one.without)} no weight"))
    for words, leads in ((mass_words, counts), (mass_in_column, counts), (mass_in_column, "")):
        finished, to_order = (words(mass, page.units) for mass in (one.mass, one.to_order))
        weights = (Piece(f"finished {finished}, to order {to_order}", "text"),)
        said = (*((Piece(leads), BETWEEN) if leads else ()), *weights, *(without if one.without else ()))
        if width_of(said) <= width:
            return said
    return weights
