"""Where a table's rows come from: the contract, and rows that are held ready."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from specreg.tui.columns import Row


class RowSource(Protocol):
    """Rows in a fixed order, read a page at a time; asked from any thread."""

    def count(self) -> int:
        """How many rows there are."""

    def rows(self, first: int, count: int) -> Sequence[Row]:
        """Rows `first` to `first + count`, fewer at the end."""

    def row_of(self, key: str) -> int:
        """In which row a key stands; -1 when it is not there."""


class HeldRows:
    """Rows that are all there already: an index of sections, the first hits of a search."""

    def __init__(self, rows: Sequence[Row] = ()) -> None:
        self._rows = tuple(rows)

    def count(self) -> int:
        """How many rows there are."""
        return len(self._rows)

    def rows(self, first: int, count: int) -> Sequence[Row]:
        """Some of them."""
        return self._rows[first : first + count]

    def row_of(self, key: str) -> int:
        """The first row with this key; -1 when there is none."""
        return next((at for at, row in enumerate(self._rows) if row.key == key), -1)
