"""Booklets as PDF: sheets of A4, black and white, drawn by the typesetter from the package's own template `sheets.typ`.

The same booklet gives the same bytes under one release of the typesetter: the hour of making is put as the first of
1970, and only the founts that come with the typesetter are used. They hold Latin, Greek, Cyrillic and the signs of the
trade; a letter of another script prints as an empty box. Nothing is fetched.

The typesetter keeps threads of its own once it has been used: a process must not fork after that.
"""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import Any

from specreg.core.extracts import Extract
from specreg.output.booklet import Booklet
from specreg.output.extract_booklet import extract_booklet
from specreg.output.founts import founts
from specreg.output.line_breaking import printable
from specreg.output.sheets import Sheets, laid_out

_TURNS_TO_FORGET = 3
"""Blank settings after each: the typesetter keeps things for ten settings, and so holds some three extracts at once."""


def pdf(extract: Extract) -> bytes:
    """The extract as a PDF file.

    Its sheets bear a title block at the foot, numbered `n of m`; the last has a receipt to tear off below it. May be
    called from several threads.
    """
    return booklet_pdf(extract_booklet(extract))


def booklet_pdf(booklet: Booklet) -> bytes:
    """Any booklet as a PDF file."""
    from typst import Compiler

    told = json.dumps(_told(printable(booklet.name), laid_out(booklet, founts())), ensure_ascii=False)
    typesetter = Compiler(ignore_system_fonts=True)
    made = typesetter.compile(_template(), format="pdf", sys_inputs={"sheets": told}, timestamp=0, pdf_tags=False)
    if not isinstance(made, bytes):
        raise TypeError(f"the typesetter gave {type(made).__name__}, not one file")
    # What it keeps to be quick when the same text is set again is some 80 MB an extract of 600 lines, and would pile up
    # over all departments; blank sheets make it forget, at 5 to 20 ms each after a long one.
    for _ in range(_TURNS_TO_FORGET):
        typesetter.compile(b"", format="svg", sys_inputs=None)
    return made


@cache
def _template() -> bytes:
    return files("specreg.output").joinpath("sheets.typ").read_bytes()


def _told(name: str, sheets: Sheets) -> dict[str, Any]:
    """What the template is told, by the names it uses: plain data, nothing of which is read as code."""
    return {
        "name": name,
        "styles": [(points, int(cut)) for points, cut in sheets.styles],
        "foot": (sheets.foot.runs, sheets.foot.rules),
        "sheets": [(sheet.lifted, (sheet.runs, sheet.rules)) for sheet in sheets.sheets],
    }
