"""What the checker and the readers report: a fault has a name, a severity, a place and a sentence."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a fault weighs.

    A stop bars the issue and cannot be passed; an error bars it until somebody passes it with name and reason; a
    warning and a note bar nothing.
    """

    STOP = "stop"
    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


SIGN_OF_SEVERITY = {Severity.STOP: "!", Severity.ERROR: "x", Severity.WARNING: "~", Severity.NOTE: "·"}
"""The sign printed beside the word, so that nothing is said by colour alone."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a source file a thing was read: `line` counts from 1, 0 when the file as a whole is meant."""

    file: str
    line: int = 0

    def __str__(self) -> str:
        return f"{self.file}, line {self.line}" if self.line else self.file


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault.

    `name` is the stable short name of the check (`drawing not registered`), `subject` the number of the item, drawing
    or department it concerns (empty for the order as a whole), `text` one sentence that says what is wrong and what
    to do, `place` the file and line when it was read from one.
    """

    name: str
    severity: Severity
    subject: str
    text: str
    place: Place | None = None

    @property
    def where(self) -> str:
        """The place in a file when there is one, else the subject."""
        return str(self.place) if self.place else self.subject

    @property
    def sign(self) -> str:
        """The sign of its severity."""
        return SIGN_OF_SEVERITY[self.severity]
