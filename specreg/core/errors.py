"""Every refusal of the program, in one tree.

    SpecregError
    ├── WrongUse            asked in a way that cannot be understood            exit code 2
    │   └── NotFound        the thing named does not exist
    └── Refused             understood, but not allowed as things stand         exit code 3
        ├── NotPermitted    this person may not do it
        ├── AlteredMeanwhile  somebody else altered the thing since it was read
        ├── BookUnusable    the works book cannot be opened or written
        └── FaultsStop      faults of the data bar the act                      exit code 1

A refusal stops an act. Faulty data is never an exception: it is a list of `specreg.core.faults.Fault`.
Each sentence is built of three facts: what was asked, why not, what to do.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from specreg.core.counts import so_many

if TYPE_CHECKING:
    from specreg.core.faults import Fault


class SpecregError(Exception):
    """The root: `asked` says what was asked, `why` why not, `do` what to do about it; any may be empty."""

    def __init__(self, asked: str, why: str = "", do: str = "") -> None:
        self.asked = asked
        self.why = why
        self.do = do
        super().__init__(self.sentence)

    @property
    def sentence(self) -> str:
        """The three facts as one line of prose."""
        said = self.asked
        if self.why:
            said = f"{said}: {self.why}"
        if self.do:
            said = f"{said}. {self.do}"
        return said if said.endswith((".", "?", "!")) else f"{said}."


class WrongUse(SpecregError):
    """Asked in a way that cannot be understood: a wrong word, a missing name, a malformed field."""


class NotFound(WrongUse):
    """The item, drawing, note, revision or department named does not exist here."""


class Refused(SpecregError):
    """Understood, but not allowed as things stand."""


class NotPermitted(Refused):
    """This person may not do it; the sentence says who may."""


class AlteredMeanwhile(Refused):
    """Somebody else altered the thing since it was read; nothing was written."""


class BookUnusable(Refused):
    """The works book cannot be opened or written: missing, foreign, locked, newer, or on a file share."""


class FaultsStop(Refused):
    """Faults of the data bar the act; `faults` lists every cause."""

    def __init__(self, asked: str, faults: Sequence[Fault], do: str = "") -> None:
        self.faults = tuple(faults)
        count = len(self.faults)
        stand = "stands" if count == 1 else "stand"
        super().__init__(asked, f"{so_many(count, 'fault')} {stand} in the way", do)
