"""An extract as a booklet: the shared words, put into the columns of a sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from specreg.core.counts import so_many
from specreg.core.extracts import Extract, ExtractLine
from specreg.core.weighing import together
from specreg.output.booklet import Block, Booklet, BookletLine, Box, Column, Contents, Entry, Facts, Pair, Part, Receipt
from specreg.output.extract_wording import (
    NONE_WITHDRAWN,
    NOTHING,
    WITHDRAWN_HEADING,
    closing,
    details,
    first_news,
    heading,
    news,
    news_heading,
    nil_sentence,
    number_off,
    receipt,
    section_heading,
    signs,
    summary,
    title_rows,
)
from specreg.output.founts import Cut
from specreg.output.line_breaking import MOST_KEPT, Said
from specreg.output.weight_wording import total_words, weight_words, written_otherwise

COLUMNS = (
    Column("Item", 21), Column("Off", 17), Column("Description\noperation", 40), Column("From\nto", 31),
    Column("Material\nsize", 32), Column("Drawing\nrevision", 25),
)  # fmt: skip
"""The columns of an extract without weights."""

COLUMNS_WITH_WEIGHTS = (
    Column("Item", 21), Column("Off", 17), Column("Description\noperation", 40), Column("Material\nsize", 32),
    Column("Drawing\nrevision", 25), Column("Weight\none, all", 31, right=True),
)  # fmt: skip
"""The columns of an extract with weights: where pieces come from and go to stands below them."""

COLUMNS_WITH_ROUGH_WEIGHTS = (
    Column("Item", 16), Column("Off", 14), Column("Description\noperation", 33), Column("Material\nsize", 26),
    Column("Drawing\nrevision", 21), Column("Weight\none, all", 28, right=True),
    Column("Rough weight\none, all", 28, right=True),
)  # fmt: skip
"""The columns of an extract where a rough weight is stated."""

CLOSE = (9.0, 8.5, 8.0, 7.5)
"""Sizes of what stands in a narrow column."""

TITLE_WEIGHTS = ((30, 32, 14), (22, 9, 13, 15, 15), (22, 9, 14, 15, 14))
"""How the cells of each row of the title block share its breadth."""

BOLD = ("Revision", "Seal", "Identification number")
"""Captions of the title block whose text stands out."""

LARGE = (13.0, 10.5, 9.0)
"""Sizes of what must be read from afar: the number and the number off."""

WITHDRAWN_PAGES = "withdrawn"

_STAND_OUT = ("Altered", "Why", "Safety", "Clearance")
_PARAGRAPHS = ("Altered", "Why", "Text", "Remarks")


def extract_booklet(extract: Extract) -> Booklet:
    """All that an extract prints."""
    weighed = weight_columns(extract)
    return Booklet(
        name=f"{extract.title_block.identification_number} {heading(extract)}".strip(),
        heading=heading(extract),
        front=_front(extract),
        columns=(COLUMNS, COLUMNS_WITH_WEIGHTS, COLUMNS_WITH_ROUGH_WEIGHTS)[weighed],
        parts=tuple(_parts(extract, weighed)),
        warning=warning(extract.cautions, any(line.safety for line in (*extract.lines, *extract.withdrawn))),
        nil="" if extract.lines else nil_sentence(extract),
        closing=(*(() if extract.withdrawn else (NONE_WITHDRAWN,)), closing(extract)),
        receipt=receipt_slip(receipt(extract)),
        title=title_rows(extract, ""),
        weights=TITLE_WEIGHTS,
        bold=BOLD,
    )


def receipt_slip(pairs: Sequence[Pair]) -> Receipt:
    """The receipt: what is known, and what is left to be written in."""
    return Receipt(tuple(pair for pair in pairs if pair[1]), tuple(caption for caption, text in pairs if not text))


def _front(extract: Extract) -> tuple[Block, ...]:
    """The first sheet: facts, what is new right after what it is compared with, cautions, the proof, the contents."""
    pairs = summary(extract)
    place = next((place for place, (caption, _) in enumerate(pairs, start=1) if caption == "Compared with"), 0)
    shown, over = first_news(news(extract))
    rows = tuple((row.sign, row.number, row.text) for row in shown)
    blocks: tuple[Block, ...] = (
        Facts(_without_cautions(pairs[:place])),
        *((Box(news_heading(extract), rows, last=over),) if rows else ()),
        Facts(_without_cautions(pairs[place:])),
        *caution_box(pairs),
        Contents(),
    )
    return blocks


def caution_box(pairs: Sequence[Pair]) -> tuple[Box, ...]:
    """The cautions of a summary in a frame; none where there are none."""
    texts = tuple(text for caption, text in pairs if caption == "Caution")
    return (Box("Caution", texts=texts),) if texts else ()


def _without_cautions(pairs: Sequence[Pair]) -> tuple[Pair, ...]:
    return tuple(pair for pair in pairs if pair[0] != "Caution")


def weight_columns(extract: Extract) -> int:
    """How many columns of weights the lines have: 0 where nothing is known, 2 where a rough weight is stated."""
    known = [line.weighs for line in extract.lines if line.weighs is not None and line.weighs.one is not None]
    return (2 if any(one.rough is not None for one in known) else 1) if known else 0


def _parts(extract: Extract, weighed: int) -> Iterator[Part]:
    """Lines that follow each other in one section, then the withdrawn ones."""
    together: list[ExtractLine] = []
    for line in extract.lines:
        if together and line.section != together[0].section:
            yield _part(together[0].section or NOTHING, section_heading(together[0]), together, weighed)
            together = []
        together.append(line)
    if together:
        yield _part(together[0].section or NOTHING, section_heading(together[0]), together, weighed)
    if extract.withdrawn:
        gone = [replace(line, sign="-") for line in extract.withdrawn]
        yield _part(WITHDRAWN_PAGES, WITHDRAWN_HEADING, gone, weighed)


def _part(pages: str, name: str, lines: Sequence[ExtractLine], weighed: int) -> Part:
    said = tuple(_line_with_weights(line, weighed) if weighed else _line(line) for line in lines)
    return Part(pages, name, so_many(len(lines), "line"), said, _weight(lines))


def _weight(lines: Sequence[ExtractLine]) -> str:
    """What lines add to their share."""
    weights = [(line.weighs, line.pieces) for line in lines if line.weighs is not None]
    return total_words(together(weights, weights[0][0].units)) if weights else ""


def _line(line: ExtractLine) -> BookletLine:
    ways = (_entry(f"from {line.came_from or NOTHING}"), _entry(f"to {line.goes_to or NOTHING}"))
    return _laid(line, (ways, _material(line), _drawing(line)), details(line))


def _line_with_weights(line: ExtractLine, columns: int) -> BookletLine:
    words = weight_words(line.weighs, line.pieces)
    texts = ((words.each, words.of_all, *words.marks), (words.rough_each, words.rough_of_all)) if words else ((), ())
    weights = [tuple(_entry(text, sizes=CLOSE) for text in column if text) for column in texts[:columns]]
    # What stands in the columns is not said again.
    said = details(line, [("Weight as written", written_otherwise(line.weight, words.each))] if words else None)
    return _laid(line, (_material(line), _drawing(line), *weights), (*_ways(line), *said))


def _ways(line: ExtractLine) -> Iterator[Pair]:
    """Where pieces come from and go to, in words that need no caption."""
    ways = (("from", line.came_from), ("to", line.goes_to))
    if said := ", ".join(f"{word} {place}" for word, place in ways if place):
        yield "", said


def _material(line: ExtractLine) -> tuple[Entry, ...]:
    return _entry(line.material or NOTHING), _entry(line.size)


def _drawing(line: ExtractLine) -> tuple[Entry, ...]:
    return (_entry(line.drawing or NOTHING, sizes=CLOSE),)


def _laid(line: ExtractLine, after: Sequence[tuple[Entry, ...]], below_it: Sequence[Pair]) -> BookletLine:
    off, _, total = number_off(line).partition("\n= ")
    return BookletLine(
        name=line.number,
        margin=signs(line),
        cells=(
            (_entry(line.number, Cut.BOLD, LARGE),),
            (_entry(off, Cut.BOLD, LARGE), *((_entry(f"= {total}"),) if total else ())),
            (_entry(line.title, Cut.BOLD), _entry(f"step {line.step} {line.operation}")),
            *after,
        ),
        below=below(below_it),
        warned=line.tells_weight or bool(line.safety),
    )


@lru_cache(MOST_KEPT)
def _entry(text: str, cut: Cut = Cut.PLAIN, sizes: tuple[float, ...] = (9,)) -> Entry:
    """A text in a column; the same ones come again in the share of every department."""
    return Entry(Said(text, cut), sizes)


def warning(cautions: Sequence[str], for_safety: bool) -> tuple[Said, ...]:
    """What stands at the foot of every sheet with weights or safety items."""
    return (Said("§ Caution:" if for_safety else "Caution:", Cut.BOLD), *map(Said, cautions)) if cautions else ()


def below(pairs: Sequence[Pair]) -> tuple[tuple[Said, ...], ...]:
    """What stands below a line's columns: long texts each by itself, short ones after each other."""
    long = [_run_on([(caption, text)]) for caption, text in pairs if caption in _PARAGRAPHS]
    short = [(caption, text) for caption, text in pairs if caption not in _PARAGRAPHS]
    return (*long, *((_run_on(short),) if short else ()))


def _run_on(pairs: Sequence[Pair]) -> tuple[Said, ...]:
    """Texts after each other. What need not stand out is one text with its captions: it is drawn twice as fast."""
    said: list[Said] = []
    plain = ""
    for place, (caption, text) in enumerate(pairs):
        ended = text if place == len(pairs) - 1 else f"{text};"
        if caption in _STAND_OUT:
            said += [Said(plain)] if plain else []
            said.append(Said(f"{caption}:", Cut.BOLD))
            plain = ended
        else:
            captioned = f"{caption}: {ended}" if caption else ended
            plain = f"{plain} {captioned}" if plain else captioned
    return (*said, Said(plain)) if plain else tuple(said)
