"""An extract as comma-separated values by RFC 4180: one row a line, exact texts.

What goes in comes out: reading the rows with any reader that follows RFC 4180 gives back each text sign for sign.
A cell that begins with `=`, `+`, `-` or `@` is therefore left as it is. It is data; a guard put before it would be
taken for part of the text by every program that reads the file. A spreadsheet that takes such a cell for a formula
must be told to read the column as text.
"""

from __future__ import annotations

import csv
import io
from dataclasses import fields

from specreg.core.extracts import Extract, ExtractLine
from specreg.output.weight_wording import kilograms

ORIGIN = ("order", "revision", "extract", "department", "seal")
"""The first columns, the same in every row, so that a row by itself tells where it comes from."""

WEIGHTS = ("mass_kg", "rough_kg", "total_kg", "to_order_kg", "standing")
"""The last columns: one piece, one by its stated rough weight, what all pieces add to the share, finished and to order,
in kg; and how the line counts. The totals of the share are the sums of their columns."""

_PLAIN_NAMES = {"came_from": "from", "goes_to": "to", "section_title": "section title"}
_FIELDS = tuple(field.name for field in fields(ExtractLine) if field.name != "weighs")


def columns() -> tuple[str, ...]:
    """The head row: where a row comes from, then each field of a line by its plain name, then the weights."""
    return (*ORIGIN, *(_PLAIN_NAMES.get(name, name) for name in _FIELDS), *WEIGHTS)


def csv_table(extract: Extract) -> str:
    """The lines and, with the sign `-`, the withdrawn lines; lines end in CR LF, quotes are doubled.

    `pieces` is empty where a line has no count; `was` says of a withdrawn line why it is. An extract without lines is
    its head row alone.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns())
    origin = (
        extract.order,
        extract.title_block.revision,
        str(extract.number),
        extract.department,
        extract.seal,
    )
    writer.writerows((*origin, *_cells(line, line.sign)) for line in extract.lines)
    writer.writerows((*origin, *_cells(line, "-")) for line in extract.withdrawn)
    return out.getvalue()


def _cells(line: ExtractLine, sign: str) -> list[str]:
    values = {name: getattr(line, name) for name in _FIELDS}
    said = ["" if value is None else str(value) for value in {**values, "sign": sign}.values()]
    weighs = line.weighs
    if weighs is None:
        return [*said, *[""] * len(WEIGHTS)]
    totals = (kilograms(mass, line.pieces) for mass in (weighs.counts, weighs.to_order))
    return [*said, kilograms(weighs.one), kilograms(weighs.rough), *totals, weighs.standing.value]
