"""What the pages of departments are shown: a line a department, and the proof over all of them."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.core.extracts import Reconciliation


@dataclass(frozen=True, slots=True)
class DepartmentLine:
    """One department's share at the state shown.

    `lines`, `pieces` (counted ones) and `not_counted` (lines without a count) total the share. `added`, `altered` and
    `withdrawn` count lines against `since`, the last extract the department had before this revision (`extract 1 of
    revision A`, empty: it had none, and then they are 0). `extract` is the number of its extract at this revision and
    `seal` that extract's seal; 0 and empty when none has been made. `dated` is the date on the extract it had last,
    this one or the earlier (`2026-10-12`), empty when it had none.
    """

    code: str
    name: str
    lines: int
    pieces: int
    not_counted: int
    added: int
    altered: int
    withdrawn: int
    since: str
    extract: int
    seal: str
    dated: str = ""

    @property
    def changed(self) -> bool:
        """Whether anything is new, altered or withdrawn for it."""
        return bool(self.added or self.altered or self.withdrawn)


@dataclass(frozen=True, slots=True)
class DepartmentsPage:
    """The departments in the order of the works standards.

    `revision` is the letter shown, empty when the order is shown as it stands, open edits and all. `may_extract` holds
    the codes of the departments whose extract the person at the desk may have made; none while nothing is issued.
    """

    revision: str
    departments: tuple[DepartmentLine, ...]
    reconciliation: Reconciliation
    may_extract: frozenset[str]
