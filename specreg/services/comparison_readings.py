"""What the compare page is shown: two states of an order beside each other, change by change."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from specreg.core.comparing import Counts
from specreg.core.word_changes import Run


@dataclass(frozen=True, slots=True)
class StateLine:
    """A state that can be compared: a revision's letter with its date of issue, or `open`, the order as it stands.
    `rows` counts everything that has a number in it: sections, clauses, items, and the deleted, which stay listed."""

    name: str
    issued_on: str
    rows: int


@dataclass(frozen=True, slots=True)
class FieldLaid:
    """One field of a changed item, old beside new; `runs` say which words are the same, taken out or put in."""

    label: str
    old: str
    new: str
    runs: Sequence[Run]


@dataclass(frozen=True, slots=True)
class ChangeLaid:
    """One change. `kind` is `item` or `drawing` (a sheet that came to another revision).

    `sign` is `+` added, `-` deleted or withdrawn, `»` altered, `=` only renumbered or only spaces differ. `former` is
    the number it had before, when that is another. `why` says why it was deleted or withdrawn. `note` names the note
    it was altered under, empty for the first compilation.
    """

    kind: str
    sign: str
    number: str
    former: str
    title: str
    safety: bool
    fields: tuple[FieldLaid, ...]
    why: str
    note: str

    @property
    def real(self) -> bool:
        """Whether more changed than numbers and spaces."""
        return self.sign != "="


@dataclass(frozen=True, slots=True)
class ComparisonPage:
    """Two states beside each other, in the order of the specification; changed sheets of drawings after the items.

    `department` is the code when only what changed on that department's paper is shown, and `lines` then its sum in
    words (`108 lines at A + 3 added - 1 withdrawn = 110 at B; 5 altered`).
    """

    old: str
    new: str
    changes: tuple[ChangeLaid, ...]
    counts: Counts
    department: str = ""
    lines: str = ""
