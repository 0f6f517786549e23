"""Checking an order, and letting an error pass by name, for a reason."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from specreg.core.checks import faults_of, gravity
from specreg.core.errors import NotFound, Refused, WrongUse
from specreg.core.faults import Fault, Severity
from specreg.core.picture import Picture
from specreg.services.noting import note_faults
from specreg.services.office import Office
from specreg.services.signing import signature_faults
from specreg.services.standing import as_it_stands
from specreg.store import items, revisions, routes
from specreg.store.revisions import Passed


@dataclass(frozen=True, slots=True)
class Checked:
    """What the checker says: `faults` that stand, the gravest first, and those let `passed` with name and reason."""

    faults: tuple[Fault, ...]
    passed: tuple[tuple[Fault, Passed], ...]

    @property
    def barring(self) -> tuple[Fault, ...]:
        """Faults that bar the issue: stops, and errors that nobody has let pass."""
        return tuple(fault for fault in self.faults if fault.severity in (Severity.STOP, Severity.ERROR))

    def count(self, severity: Severity) -> int:
        """How many faults of one severity stand."""
        return sum(fault.severity is severity for fault in self.faults)

    def named(self, fault: Fault) -> str:
        """How a fault is called when it is let pass: `no drawing at 4.1.2`."""
        return f"{fault.name} at {fault.subject}" if fault.subject else fault.name


def check(office: Office, with_notes: Collection[int] | None = None) -> Checked:
    """Check the order as it stands, or as it would be with some notes issued, and the open notes themselves."""
    return check_picture(office, as_it_stands(office, with_notes), with_notes)


def check_picture(office: Office, picture: Picture, with_notes: Collection[int] | None = None) -> Checked:
    """The same for a picture already drawn."""
    found = faults_of(picture)
    for standing in office.open_notes():
        under = items.count_under(office.book, standing.note_id) or routes.under_note(office.book, standing.note_id)
        if under and (with_notes is None or standing.note_id in with_notes):
            found += note_faults(office, standing)
            found += signature_faults(office, standing, Severity.NOTE)
    return sift(office, sorted(found, key=gravity))


def check_items(office: Office, picture: Picture) -> Checked:
    """Check the items and drawings of a picture alone, not the open notes."""
    return sift(office, faults_of(picture))


def sift(office: Office, faults: Sequence[Fault]) -> Checked:
    """Set the faults apart that were let pass; only the very same sentence counts, so that a new cause shows again."""
    said = {(one.fault, one.subject, one.text): one for one in revisions.passed(office.book, office.order_id)}
    standing: list[Fault] = []
    passed: list[tuple[Fault, Passed]] = []
    for fault in faults:
        one = said.get((fault.name, fault.subject, fault.text))
        if one is not None and fault.severity is not Severity.STOP:
            passed.append((fault, one))
        else:
            standing.append(fault)
    return Checked(tuple(standing), tuple(passed))


def let_pass(office: Office, name: str, subject: str, reason: str) -> Fault:
    """Let one fault pass: an error no longer bars the issue. A stop cannot be passed."""
    office.require("let a fault pass")
    if not reason.strip():
        raise WrongUse("Let a fault pass", "no reason is given", "Say why with --reason")
    with office.book.act(office.person.code, "pass", office.now, office.order_id) as act:
        found = [fault for fault in check(office).faults if fault.name == name and fault.subject == subject]
        if not found:
            raise NotFound(f"Fault '{name}' at {subject or 'the order'}", "it does not stand", "See `specreg check`")
        fault = found[0]
        if fault.severity is Severity.STOP:
            raise Refused(f"Let '{name}' pass", "it is a stop, and a stop cannot be passed", fault.text)
        said = Passed(fault.name, fault.subject, fault.text, office.person.code, reason.strip(), office.now)
        revisions.pass_fault(office.book, act, office.order_no, office.order_id, said)
        act.words = f"{name} at {subject or 'the order'}: {reason.strip()}"
    return fault


def faults_naming(office: Office, number: str) -> list[Fault]:
    """What the checker says of one item, or of others because of it; for telling at once whoever has just altered it.

    That it waits to be allocated again is left out: after an edit it always does.
    """
    with office.book.reading():
        found = check(office).faults
    at_once = ("not allocated", "route out of date")
    named = re.compile(rf"(?<![\w.]){re.escape(number)}(?![\w.]*\w)")
    return [fault for fault in found if fault.name not in at_once and named.search(f"{fault.subject}\n{fault.text}")]
