"""An order folder: order.toml, spec/*.md, drawings.csv, and what an export left in it, joined to one order."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from pathlib import Path

from specreg.core.errors import WrongUse
from specreg.core.faults import Fault, Place, Severity
from specreg.intake.drawing_list import TakenDrawings, read_drawing_list
from specreg.intake.markdown_order import TakenMarkdown, read_markdown
from specreg.intake.order_checks import order_faults, without_duplicates
from specreg.intake.order_file import read_order_file
from specreg.intake.source_text import read_bytes, utf_8_text
from specreg.intake.taken import TakenOrder

ORDER_FILE = "order.toml"
SECTIONS_FOLDER = "spec"
DRAWINGS_FILE = "drawings.csv"
WRITTEN_FROM_FILE = ".written-from.csv"
_WRITTEN_FROM_COLUMNS = ["kind", "number", "digest"]


def read_order(folder: Path) -> TakenOrder:
    """All that an order folder says; its section files are read in the order of their names.

    Faulty rows are set aside, doubtful ones flagged. Raises WrongUse, naming the path and what to do, when the folder,
    order.toml or the section files are missing or cannot be read; FaultsStop when order.toml cannot be taken in.
    """
    sections = _section_files(folder)
    order_file = read_order_file(folder / ORDER_FILE, ORDER_FILE)
    order = order_file.order
    ours = order.numbering == "ours"
    files = [ORDER_FILE]
    read: list[TakenMarkdown] = []
    for path in sections:
        file = f"{SECTIONS_FOLDER}/{path.name}"
        files.append(file)
        read.append(read_markdown(utf_8_text(read_bytes(path), file), file, ours))
    items, twice, twice_faults = without_duplicates([taken for one in read for taken in one.items])
    drawings = TakenDrawings()
    if (folder / DRAWINGS_FILE).is_file():
        files.append(DRAWINGS_FILE)
        drawings = read_drawing_list(folder / DRAWINGS_FILE, DRAWINGS_FILE)
    standards, standards_faults = _standards_folder(folder, order.standards)
    flags = [
        *order_file.flags,
        *standards_faults,
        *(flag for one in read for flag in one.flags),
        *twice_faults,
        *order_faults(items, ours),
        *drawings.flags,
    ]
    places = {file: number for number, file in enumerate(files)}
    aside = [*(aside for one in read for aside in one.set_aside), *twice, *drawings.set_aside]
    return TakenOrder(
        order=order,
        items=tuple(items),
        sheets=drawings.sheets,
        flags=tuple(sorted(flags, key=lambda flag: _in_file_order(flag.place, places))),
        set_aside=tuple(sorted(aside, key=lambda one: _in_file_order(one.place, places))),
        standards_folder=standards,
        written_from=_written_from(folder / WRITTEN_FROM_FILE),
        files=tuple(files),
    )


def _in_file_order(place: Place | None, places: Mapping[str, int]) -> tuple[int, int]:
    return (places.get(place.file, 0), place.line) if place else (0, 0)


def _section_files(folder: Path) -> list[Path]:
    """The section files in the order of their names, after making sure that this is an order folder."""
    shape = f"An order folder holds {ORDER_FILE} and {SECTIONS_FOLDER}/*.md"
    if not folder.exists():
        raise WrongUse(f"There is no folder {folder}", do=shape)
    if not folder.is_dir():
        raise WrongUse(f"{folder} is no folder", do=shape)
    try:
        if not any(folder.iterdir()):
            raise WrongUse(f"The folder {folder} is empty", do=shape)
        if not (folder / ORDER_FILE).is_file():
            raise WrongUse(f"{folder / ORDER_FILE} is missing", do=f"{shape}; write {ORDER_FILE} with number and title")
        sections = sorted((folder / SECTIONS_FOLDER).glob("*.md"), key=lambda path: path.name)
    except OSError as cause:
        raise WrongUse(f"{folder} cannot be read", cause.strerror or str(cause), "Ask for leave to read it") from cause
    if not sections:
        raise WrongUse(f"{folder / SECTIONS_FOLDER} holds no section file", do=f"{shape}, one file a section")
    return sections


def _standards_folder(folder: Path, named: str) -> tuple[Path | None, list[Fault]]:
    if not named:
        return None, []
    path = (folder / named).resolve()
    if path.is_dir():
        return path, []
    text = f"There is no folder {path} of works standards; an order that the book holds keeps those it stands on."
    return path, [Fault("no standards folder", Severity.WARNING, "", text, Place(ORDER_FILE))]


def _written_from(path: Path) -> dict[tuple[str, str], str]:
    """What an earlier export was written from: (kind, number) to digest."""
    if not path.is_file():
        return {}
    text = utf_8_text(read_bytes(path), WRITTEN_FROM_FILE)
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except csv.Error as cause:
        rows = []
        why = str(cause)
    else:
        why = f"its columns must be {', '.join(_WRITTEN_FROM_COLUMNS)}"
    if not rows or rows[0] != _WRITTEN_FROM_COLUMNS or any(len(row) != 3 for row in rows):
        do = "Delete it to take the folder in as if written by hand"
        raise WrongUse(f"{path} cannot be read", why, do)
    return {(kind, number): digest for kind, number, digest in rows[1:]}
