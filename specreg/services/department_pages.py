"""The pages of departments, from the order split into shares: a line a department, and one department's share."""

from __future__ import annotations

from collections.abc import Mapping

from specreg.core.extracts import Extract, Reconciliation
from specreg.core.standards import Department
from specreg.services.department_readings import DepartmentLine, DepartmentsPage
from specreg.services.extracting import Split, may_make
from specreg.services.office import Office
from specreg.store import revisions


def no_departments() -> DepartmentsPage:
    """The page where no order is on the desk."""
    return DepartmentsPage("", (), Reconciliation(0, 0, 0, 0, 0, 0, 0, 0), frozenset())


def departments_page(office: Office, split: Split) -> DepartmentsPage:
    """Every department with its share in the state that was split, and the proof over all of them."""
    with office.book.reading():
        departments = split.departments()
        dates = {one.letter: one.issued_on for one in office.revisions()}
        return DepartmentsPage(
            revision=split.revision.letter if split.revision else "",
            departments=tuple(_line(split, one, dates) for one in departments),
            reconciliation=split.reconciliation,
            may_extract=frozenset(one.code for one in departments if may_make(office, one.code))
            & _can_be_made(office, split),
        )


def _line(split: Split, department: Department, dates: Mapping[str, str]) -> DepartmentLine:
    total = split.totalled(department)
    # An extract bears the date of its revision, the last word of its name.
    letter = split.revision.letter if split.revision and total.made else total.since.rpartition(" ")[2]
    return DepartmentLine(
        code=department.code,
        name=department.name,
        lines=total.tally.lines,
        pieces=total.tally.pieces,
        not_counted=total.tally.not_counted,
        added=total.tally.added,
        altered=total.tally.altered,
        withdrawn=total.tally.withdrawn,
        since=total.since,
        extract=total.made.number if total.made else 0,
        seal=total.made.seal if total.made else "",
        dated=dates.get(letter, ""),
    )


def _can_be_made(office: Office, split: Split) -> frozenset[str]:
    """The departments that an extract can be made for at the revision last issued, whatever state is shown."""
    last = revisions.last(office.book, office.order_id)
    if last is None:
        return frozenset()
    shown = split.revision is not None and split.revision.seq == last.seq
    standards = split.picture.standards if shown else office.standards(last.entry)
    had = {one.department for one in revisions.extracts_of(office.book, office.order_id)}
    return frozenset({*(one.code for one in standards.departments), *had})


def share_of(split: Split, code: str) -> Extract:
    """The share of one department as its extract prints it. Raises NotFound, and Refused when an extract was made of
    it and the record no longer gives what that said."""
    return split.drawn_up(split.department(code)).as_made()
