"""An extract as a workbook of two sheets: what stands on the first printed sheet, and the lines, one row each.

Texts are texts: nothing a person wrote is ever a formula, whatever it begins with, and a spreadsheet that is asked to
edit such a cell keeps it a text. Only the step, the pieces, a number off that is a plain count and the weights in kg
are numbers. The same extract gives the same bytes under one release of the library: every date in the file is the same
fixed day.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from specreg.core.errors import WrongUse
from specreg.core.extracts import Extract, ExtractLine, LineWeight
from specreg.output.extract_wording import (
    closing,
    department,
    first_news,
    heading,
    news,
    news_heading,
    nil_sentence,
    section_heading,
    summary,
    title_rows,
)
from specreg.output.weight_wording import kilograms

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

FIRST_SHEET = "Extract"
MOST_SIGNS = 32767
"""What one cell of a workbook holds, by the limits of the file form."""

_FIXED_DAY = datetime(1980, 1, 1)
"""The earliest day that a zip file can name; it stands for no date."""

_FIXED_STAMP = (1980, 1, 1, 0, 0, 0)
_PLAIN_COUNT = re.compile(r"0|[1-9][0-9]{0,14}")
"""A count that a spreadsheet, which reckons with 15 figures, keeps exactly."""

_KILOGRAMS = "0.000"
_UNPRINTABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")
_READS_AS_CODE = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_BARRED_IN_NAMES = re.compile(r"[\[\]:*?/\\\x00-\x1f\ufffe\uffff\ud800-\udfff]")
_OPENS_A_FORMULA = ("=", "+", "-", "@")


Value = str | int | Decimal | None
"""What a cell holds: a text, a count, a weight in kg, nothing."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, its width in signs, what it says of a line."""

    head: str
    width: int
    says: Callable[[ExtractLine], Value]


def _off(line: ExtractLine) -> str | int:
    return int(line.off) if _PLAIN_COUNT.fullmatch(line.off) else line.off


def _weight(
    figure: Callable[[LineWeight], Fraction | None], is_of_all: bool
) -> Callable[[ExtractLine], Decimal | None]:
    """What a column of weights says of a line."""

    def says(line: ExtractLine) -> Decimal | None:
        figures = kilograms(figure(line.weighs), line.pieces if is_of_all else 1) if line.weighs else ""
        return Decimal(figures) if figures else None

    return says


COLUMNS = (
    Column("Sign", 5, lambda line: line.sign),
    Column("Item", 11, lambda line: line.number),
    Column("Step", 5, lambda line: line.step),
    Column("Off", 9, _off),
    Column("Pieces", 8, lambda line: line.pieces),
    Column("Description", 28, lambda line: line.title),
    Column("Operation", 13, lambda line: line.operation),
    Column("From", 9, lambda line: line.came_from),
    Column("To", 9, lambda line: line.goes_to),
    Column("Material", 16, lambda line: line.material),
    Column("Size", 18, lambda line: line.size),
    Column("Drawing, revision", 18, lambda line: line.drawing),
    Column("Altered or why withdrawn", 26, lambda line: line.was),
    Column("Text", 30, lambda line: line.text),
    Column("Remarks", 24, lambda line: line.remarks),
    Column("Safety", 10, lambda line: line.safety),
    Column("Clearance", 10, lambda line: line.clearance),
    Column("Weight", 13, lambda line: line.weight),
    Column("One, kg", 10, _weight(lambda weighs: weighs.one, is_of_all=False)),
    Column("One rough, kg", 10, _weight(lambda weighs: weighs.rough, is_of_all=False)),
    Column("Total, kg", 11, _weight(lambda weighs: weighs.counts, is_of_all=True)),
    Column("To order, kg", 11, _weight(lambda weighs: weighs.to_order, is_of_all=True)),
    Column("Counts", 12, lambda line: line.weighs.standing.value if line.weighs else ""),
    Column("Pattern", 9, lambda line: line.pattern),
    Column("Machines", 11, lambda line: line.machines),
    Column("Hand", 6, lambda line: line.hand),
    Column("Supply", 8, lambda line: line.supply),
    Column("Wanted", 11, lambda line: line.wanted),
    Column("Section", 20, section_heading),
)
"""The columns of the lines, in order; every field of a line stands in one. `Total` and `To order` hold what counts in
the share, so that their sums are its totals."""


def xlsx(extract: Extract) -> bytes:
    """The extract as an Office Open XML workbook.

    Withdrawn lines stand after the others with the sign `-`. Signs that the file form bars print as a replacement
    sign. Raises WrongUse for a text longer than a cell holds, rather than cut it.
    """
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.worksheets[0])
    book.properties.creator = _plain(extract.title_block.creator)
    book.properties.title = _plain(" ".join(heading(extract).split()))
    book.properties.created = book.properties.modified = _FIXED_DAY
    _write_first_sheet(book.create_sheet(FIRST_SHEET), extract)
    _write_lines(book.create_sheet(_sheet_name(extract)), extract)
    written = io.BytesIO()
    book.save(written)
    return _undated(written.getvalue())


def _sheet_name(extract: Extract) -> str:
    """The department's code as a sheet's name: 31 signs at most, none of the barred ones, no other sheet's name."""
    name = _BARRED_IN_NAMES.sub(" ", extract.department)[:31].strip(" '")
    return name if name and name.lower() not in (FIRST_SHEET.lower(), "history") else f"Lines {name}".strip()


# ---- the sheets ----


def _write_first_sheet(sheet: Worksheet, extract: Extract) -> None:
    _print_set_up(sheet, extract, "portrait")
    for letter, width in (("A", 22), ("B", 14), ("C", 80)):
        sheet.column_dimensions[letter].width = width
    rows = _Rows(sheet)
    shown, over = first_news(news(extract))
    rows.add(" ".join(heading(extract).split()), bold=True)
    for caption, text in summary(extract):
        rows.add(caption, None, text)
        if caption == "Compared with" and shown:
            rows.add(news_heading(extract), bold=True)
            for row in shown:
                rows.add(row.sign, row.number, row.text)
            if over:
                rows.add(None, None, over)
    if not extract.lines:
        rows.add(nil_sentence(extract), bold=True)
    rows.add(closing(extract), bold=True)
    rows.add()
    for pairs in title_rows(extract, "as printed at the foot"):
        for caption, text in pairs:
            rows.add(caption, None, text)


def _write_lines(sheet: Worksheet, extract: Extract) -> None:
    from openpyxl.utils import get_column_letter

    _print_set_up(sheet, extract, "landscape")
    sheet.freeze_panes = "C2"
    sheet.print_title_rows = "1:1"
    lines = list(_all_lines(extract))
    for place, column in enumerate(COLUMNS, start=1):
        # A column in which nothing is said is no wider than its head, so that the print is the larger.
        said = any(column.says(line) not in ("", None) for line in lines)
        width = column.width if said else min(column.width, len(column.head) + 2)
        sheet.column_dimensions[get_column_letter(place)].width = width
    rows = _Rows(sheet)
    rows.add(*(column.head for column in COLUMNS), bold=True)
    for line in lines:
        rows.add(*(column.says(line) for column in COLUMNS))
    sheet.auto_filter.ref = sheet.dimensions


def _all_lines(extract: Extract) -> Iterator[ExtractLine]:
    yield from extract.lines
    for line in extract.withdrawn:
        yield replace(line, sign="-")


def _print_set_up(sheet: Worksheet, extract: Extract, way: Literal["portrait", "landscape"]) -> None:
    """A4, as wide as the paper, where it comes from and `sheet n of m` at the foot."""
    from openpyxl.worksheet.header_footer import HeaderFooter, HeaderFooterItem, _HeaderFooterPart
    from openpyxl.worksheet.properties import PageSetupProperties

    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.page_setup.orientation = way
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    # In a footer `&` begins a code, so a person's own is doubled; the whole may have 255 signs.
    block = extract.title_block
    foot = f"{block.identification_number}, {department(extract)}, seal {extract.seal}"
    from_where = _plain(" ".join(foot.split()))[:90].replace("&", "&&")
    parts = HeaderFooterItem(left=_HeaderFooterPart(from_where), right=_HeaderFooterPart("sheet &P of &N"))
    sheet.HeaderFooter = HeaderFooter(oddFooter=parts)


class _Rows:
    """Adds rows to one sheet from its top."""

    def __init__(self, sheet: Worksheet) -> None:
        from openpyxl.styles import Alignment, Font

        self._sheet = sheet
        self._row = 0
        self._alignment = Alignment(wrap_text=True, vertical="top")
        self._heading = Alignment(vertical="top")
        self._bold = Font(bold=True)

    def add(self, *values: Value, bold: bool = False) -> None:
        """A row: a number as a number, a text as a text whatever it looks like, no cell for nothing.

        A bold text that stands alone in its row runs on over the columns beside it.
        """
        self._row += 1
        for place, value in enumerate(values, start=1):
            if value is None or value == "":
                continue
            cell = self._sheet.cell(self._row, place)
            if isinstance(value, int):
                cell.value = value
            elif isinstance(value, Decimal):
                cell.value = value
                cell.number_format = _KILOGRAMS
            else:
                cell.value = _plain(value)
                # The library takes `=...` for a formula and `#N/A` for an error; here neither is.
                cell.data_type = "s"
                if value.startswith(_OPENS_A_FORMULA):
                    cell.quotePrefix = True
            cell.alignment = self._heading if bold and len(values) == 1 else self._alignment
            if bold:
                cell.font = self._bold


# ---- texts and bytes ----


def _plain(text: str) -> str:
    """A text as a cell may hold it: line breaks as the form wants them, `_x0041_` so that it is not read as a code."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    plain = _READS_AS_CODE.sub("_x005F_", _UNPRINTABLE.sub("\N{REPLACEMENT CHARACTER}", lines))
    if len(plain) > MOST_SIGNS:
        raise WrongUse(
            f"a text of {len(plain)} signs in a workbook", f"one cell holds {MOST_SIGNS}", "Take the form csv instead"
        )
    return plain


def _undated(book: bytes) -> bytes:
    """The same workbook with the fixed day for the hour at which it was packed."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(book)) as old, zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = old.read(name)
            if name == "docProps/core.xml":
                content = _MODIFIED.sub(_FIXED_DAY.strftime("%Y-%m-%dT%H:%M:%SZ").encode(), content)
            entry = zipfile.ZipInfo(name, _FIXED_STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(entry, content)
    return packed.getvalue()


_MODIFIED = re.compile(rb"(?<=<dcterms:modified xsi:type=\"dcterms:W3CDTF\">)[^<]*")
