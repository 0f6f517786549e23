"""What a reader hands over: core records with the file and line they were read from, and what could not be taken.

A faulty row is set aside with its text, file and line, never dropped; a row merely doubtful is kept and flagged.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from specreg.core.faults import Fault, Place, Severity
from specreg.core.model import Item, Order, Sheet


@dataclass(frozen=True, slots=True)
class TakenItem:
    """An item as read. `source` holds the lines it was read from, as they stand in the file."""

    item: Item
    place: Place
    source: str = ""


@dataclass(frozen=True, slots=True)
class TakenSheet:
    """A revision of a sheet as read.

    A drawing list with one column an issue gives one `TakenSheet` for each revision, in the order of issue: `current`
    marks the last, `issued` holds the dates (yyyy-mm-dd) of every issue in which this revision stood, and
    `sheet.date` the first of them as written. Other lists give one a row, current unless the stage says otherwise.
    """

    sheet: Sheet
    place: Place
    current: bool = True
    issued: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SetAside:
    """Text that could not be taken, with the reason in a few words."""

    place: Place
    text: str
    reason: str

    def fault(self, name: str, subject: str = "") -> Fault:
        """The stop that reports it."""
        return Fault(name, Severity.STOP, subject, f"Set aside: {self.reason}.", self.place)


@dataclass(frozen=True, slots=True)
class TakenOrder:
    """A whole order folder as read, in the order of its files.

    `flags` are the faults noticed, those of the set-aside rows included (severity stop). `standards_folder` is where
    order.toml says the works standards are, not looked into here. `written_from` gives, for (kind, number), the
    digest of the record an earlier export was written from; empty when the folder was not written by an export.
    `files` are the files read, relative to the folder.
    """

    order: Order
    items: tuple[TakenItem, ...] = ()
    sheets: tuple[TakenSheet, ...] = ()
    flags: tuple[Fault, ...] = ()
    set_aside: tuple[SetAside, ...] = ()
    standards_folder: Path | None = None
    written_from: Mapping[tuple[str, str], str] = field(default_factory=dict)
    files: tuple[str, ...] = ()
