"""What is said over and under a department's share: how much it is, what changed, the cautions, the end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from specreg.core.counts import grouped, so_many
from specreg.core.extracts import Extract
from specreg.core.take_off_words import BRIEF_CAUTION as OF_WEIGHTS
from specreg.core.take_off_words import mass_words
from specreg.tui.pieces import Line, Piece, cut_line, line, width_of, wrapped, wrapped_line
from specreg.tui.signs import role_of

BRIEF_CAUTION = "competent persons, authority and local codes decide"
"""What stands over a share with safety items where the works' own cautions find no room; they stand at its end."""


def head_of(extract: Extract, changed_only: bool) -> str:
    """What the head calls the page: department, state, and the view where it is not the whole."""
    state = f"revision {revision}" if (revision := extract.title_block.revision) else "as it stands"
    view = " · changed only" if changed_only else ""
    return f"{extract.department} {extract.department_name} · {state}{view}"


def extract_words(extract: Extract) -> Line:
    """The extract made of this share, or that none was made yet; nothing as the order stands."""
    if not extract.title_block.revision:
        return ()
    if not extract.number or not extract.seal:
        return line(Piece("^ ", role_of("^")), "no extract yet")
    return line(f"extract {extract.number}  ", Piece(extract.seal, "text"))


def preface(extract: Extract, width: int, most: int) -> tuple[tuple[Line, ...], bool]:
    """The lines over the share, at most `most` (2 or more), and whether the works' cautions stand there in full."""
    if not extract.cautions:
        return _summary(extract, width, most), False
    full = [line(Piece(text, "safety")) for text in _cautions(extract, width)]
    if len(full) < most:
        return (*_summary(extract, width, most - len(full)), *full), True
    marked = _marked(extract)
    said = f"§ {so_many(marked, 'safety line')}: {BRIEF_CAUTION}" if marked else OF_WEIGHTS
    return (*_summary(extract, width, most - 1), cut_line(line(Piece(said, "safety")), width)), False


def _marked(extract: Extract) -> int:
    """How many lines have a safety mark."""
    return sum(bool(one.safety) for one in (*extract.lines, *extract.withdrawn))


def _cautions(extract: Extract, width: int) -> list[str]:
    sign = "§ " if _marked(extract) else ""
    lines: list[str] = []
    for caution in extract.cautions:
        first, *others = wrapped(caution, max(1, width - len(sign)))
        lines += [f"{sign}{first}", *(f"{' ' * len(sign)}{other}" for other in others)]
    return lines


def _summary(extract: Extract, width: int, most: int) -> tuple[Line, ...]:
    """How much it is and what changed, in the fullest words that find room."""
    for said in _wordings(extract):
        lines = (said,) if width_of(said) <= width else wrapped_line(said, width)
        if len(lines) <= most:
            return lines
    return (*lines[: most - 1], cut_line((*lines[most - 1], *(piece for one in lines[most:] for piece in one)), width))


def _wordings(extract: Extract) -> Iterator[Line]:
    """The same in ever fewer words."""
    lines, pieces = so_many(len(extract.lines), "line"), so_many(extract.pieces, "piece")
    held = sum(one.pieces or 0 for one in extract.lines if one.clearance.strip().lower() == "hold")
    on_hold = f", {grouped(held)} of them on hold" if held else ""
    uncounted = f", {so_many(extract.not_counted, 'line')} not counted" if extract.not_counted else ""
    full, short = f"{lines}, {pieces}{on_hold}{uncounted}", f"{lines}, {pieces}"
    if not extract.since:
        new = "first extract: everything is new" if extract.number < 2 else "no earlier revision to compare with"
        yield line(Piece(full, "text"), f"  {new}")
        yield line(Piece(short, "text"), f"  {new}")
        return
    if not extract.changed:
        yield line(Piece(full, "text"), f"  unchanged since {extract.since}")
        yield line(Piece(short, "text"), f"  unchanged since {_brief(extract.since)}")
        return
    changes = _changes(extract)
    stands = _standing(extract)
    stand = f"; the other {so_many(stands, 'line')} {'stands' if stands == 1 else 'stand'}" if stands else ""
    brief = _brief(extract.since)
    yield line(Piece(full, "text"), *changes, f"  since {extract.since}{stand}")
    yield line(Piece(short, "text"), *changes, f"  since {extract.since}{stand}")
    yield line(Piece(short, "text"), *changes, f"  since {brief}{f'; {grouped(stands)} stand' if stands else ''}")
    yield line(Piece(short, "text"), *changes, f"  since {brief}")
    yield line(Piece(short, "text"), *changes, f"  since {brief.partition(' of ')[2]}")
    yield line(Piece(short, "text"), *changes, f"  since {brief.rpartition(' ')[2]}")


def _brief(since: str) -> str:
    return since.replace("revision", "rev")


def _counts(extract: Extract) -> tuple[tuple[str, int, str], ...]:
    signs = [one.sign for one in extract.lines]
    return (("+", signs.count("+"), "added"), ("»", signs.count("»"), "altered"),
            ("-", len(extract.withdrawn), "withdrawn"))  # fmt: skip


def _standing(extract: Extract) -> int:
    return sum(not one.sign for one in extract.lines)


def _changes(extract: Extract) -> Line:
    return tuple(
        Piece(f"  {sign} {grouped(count)} {word}", role_of(sign)) for sign, count, word in _counts(extract) if count
    )


def closing(extract: Extract, changed_only: bool, is_empty: bool, with_cautions: bool) -> Sequence[tuple[Piece, str]]:
    """What stands under the last line, as (sign, words): that nothing is listed, the cautions, the end."""
    name = extract.department_name or extract.department
    nothing = Piece("")
    sign = Piece("§", role_of("§")) if _marked(extract) else nothing
    cautions = [(sign, caution) for caution in extract.cautions if with_cautions]
    if changed_only and not extract.since:
        said = [(nothing, f"First extract for the {name}: everything is new. 1 shows it.")]
    elif changed_only and is_empty:
        said = [(nothing, f"Nothing changed for the {name} since {extract.since}. 1 shows every line.")]
    elif is_empty:
        said = [(nothing, f"No items for the {name}.")]
    else:
        said = []
    return (*said, *cautions, *(((nothing, _end(extract, changed_only)),) if not said else ()))


def _end(extract: Extract, changed_only: bool) -> str:
    """The last words, so that nobody takes a part for the whole."""
    if changed_only:
        return f"End of what changed; {so_many(_standing(extract), 'other line')} as before."
    uncounted = f", {so_many(extract.not_counted, 'line')} not counted" if extract.not_counted else ""
    gone = f"; {grouped(len(extract.withdrawn))} withdrawn" if extract.withdrawn else ""
    lines, pieces = so_many(len(extract.lines), "line"), so_many(extract.pieces, "piece")
    return f"End of the share: {lines}, {pieces}{uncounted}{_weight(extract)}{gone}."


def _weight(extract: Extract) -> str:
    """What it weighs, and how many items have no weight."""
    found = extract.weight
    if found is None:
        return ""
    weighs = f", {mass_words(found.mass, found.units)} finished" if found.mass else ""
    return f"{weighs}, {so_many(found.without, 'item')} without weight" if found.without else weighs
