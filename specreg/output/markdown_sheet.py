"""An extract as Markdown with tables as GitHub and CommonMark readers with tables take them.

It says what the printed sheet says, in the same words; a screen has no sheets, so the whole is sheet 1 of 1.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from specreg.core.extracts import Extract, ExtractLine
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

COLUMNS = ("", "Item", "Off", "Description", "Step", "From", "To", "Material", "Size", "Drawing", "Also")
"""The head of every table of lines; the first is the margin for signs."""

_MADE_PLAIN = {
    **{ord(mark): f"\\{mark}" for mark in "*_`[]~$#|"},
    **{ord(mark): code for mark, code in (("&", "&amp;"), ("<", "&lt;"), ("\\", "&#92;"))},
}


def cell(text: str) -> str:
    """A text as it stands in a table: its line breaks as `<br>`, every sign with a meaning in Markdown made plain.

    A backslash becomes `&#92;`, since readers differ over one that stands before a stroke. Spaces at the ends of a
    line are dropped.
    """
    return "<br>".join(line.strip().translate(_MADE_PLAIN) for line in text.splitlines())


def markdown_sheet(extract: Extract) -> str:
    """The extract: summary, a table of lines for each section, withdrawn lines, receipt, title block."""
    return "\n".join(_sheet(extract)) + "\n"


def _sheet(extract: Extract) -> Iterator[str]:
    yield f"# {_in_one_line(heading(extract))}"
    yield from _table(("", ""), summary(extract))
    shown, over = first_news(news(extract))
    if shown:
        yield from ("", f"## {_in_one_line(news_heading(extract))}")
        yield from _table(("", "Item", "What"), [(row.sign, row.number, row.text) for row in shown])
    if over:
        yield from ("", cell(over))
    if not extract.lines:
        yield from ("", cell(nil_sentence(extract)))
    for section, lines in _by_section(extract.lines):
        yield from ("", f"## {_in_one_line(section)}" if section else "## Lines")
        yield from _table(COLUMNS, [_row(line) for line in lines])
    yield from ("", f"## {WITHDRAWN_HEADING}")
    if extract.withdrawn:
        yield from _table(COLUMNS, [_row(replace(line, sign="-")) for line in extract.withdrawn])
    else:
        yield from ("", NONE_WITHDRAWN)
    yield from ("", cell(closing(extract)), "", "## Receipt")
    yield from _table(("", ""), receipt(extract))
    yield from ("", "## Title block")
    yield from _table(("", ""), [pair for row in title_rows(extract, "1 of 1") for pair in row])


def _in_one_line(text: str) -> str:
    return cell(" ".join(text.split()))


def _by_section(lines: Sequence[ExtractLine]) -> Iterator[tuple[str, list[ExtractLine]]]:
    """Lines that follow each other under one heading; the department's own order stays as it is."""
    together: list[ExtractLine] = []
    for line in lines:
        if together and section_heading(line) != section_heading(together[0]):
            yield section_heading(together[0]), together
            together = []
        together.append(line)
    if together:
        yield section_heading(together[0]), together


def _row(line: ExtractLine) -> tuple[str, ...]:
    return (
        signs(line),
        line.number,
        number_off(line),
        line.title,
        f"{line.step} {line.operation}",
        line.came_from or NOTHING,
        line.goes_to or NOTHING,
        line.material or NOTHING,
        line.size or NOTHING,
        line.drawing or NOTHING,
        "\n".join(f"{caption}: {text}" for caption, text in details(line)),
    )


def _table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """A table after an empty line."""
    yield ""
    for row in (head, ["---"] * len(head), *([cell(text) for text in row] for row in rows)):
        yield f"| {' | '.join(row)} |"
