"""What may be done from the screens: acts that write, each with a book of its own, with progress and a way to stop."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a long act has come: so many of so many, and what is being done now (`Foundry`)."""

    done: int
    of: int
    words: str


@dataclass(frozen=True, slots=True)
class ExtractsMade:
    """Extracts made and written: a sentence for each in order, the folder, and whether it was stopped before the end.

    An extract that was made before it was stopped stays made: its number is taken.
    """

    sentences: tuple[str, ...]
    folder: str
    stopped: bool


class Doer(Protocol):
    """What a screen may have done. Each call opens the book for itself and closes it; call it in a thread."""

    def extract(
        self,
        codes: Sequence[str],
        forms: Sequence[str],
        folder: str,
        told: Callable[[Progress], None],
        stopped: Callable[[], bool],
    ) -> ExtractsMade:
        """Make the extracts of some departments (all when `codes` is empty) at the revision last issued, and write
        them to a folder in some forms (`pdf`, `txt`, `csv`, `xlsx`, `md`). `stopped` is asked before each department.

        Raises what making an extract raises: NotPermitted, Refused, NotFound, or WrongUse for a folder that cannot be.
        """
