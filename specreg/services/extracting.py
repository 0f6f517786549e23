"""Extracts: a department's share as issued, numbered, signed off against the whole, with what changed for it.

Worked out from the record each time, so that a print made years later is the same; what is stored is its number, its
totals and its seal.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from specreg.core.drawing_up import Issue, Since, content_of, draw_up, part_of
from specreg.core.errors import AlteredMeanwhile, NotFound, Refused
from specreg.core.extracts import Extract
from specreg.core.picture import Picture
from specreg.core.seals import row_digest, short_code
from specreg.core.shares import Line, reconcile, shares
from specreg.core.standards import Department
from specreg.services.office import Office
from specreg.services.standing import as_issued
from specreg.store import revisions
from specreg.store.revisions import IssuedExtract, Revision


@dataclass(frozen=True, slots=True)
class Written:
    """An extract with the files it was written to."""

    extract: Extract
    files: tuple[Path, ...]
    new: bool


def make_extracts(
    office: Office, codes: Sequence[str], letter: str = "", section: str = ""
) -> list[tuple[Extract, bool]]:
    """The extracts of some departments, or of all, at a revision: each with whether it is new.

    A department's extract at a revision is numbered once; asked for again, the same one is printed.
    """
    with office.book.reading():
        revision = office.revision(letter)
        shown = _Shown(office, revision)
        departments = _departments(office, shown, codes)
    _require_own(office, departments)
    made: list[tuple[Extract, bool]] = []
    for department in departments:
        made.append(_one(office, shown, department, section))
    return made


def write_extracts(made: Iterable[tuple[Extract, bool]], formats: Sequence[str], folder: Path) -> list[Written]:
    """Write extracts to files, each whole or not at all."""
    from specreg.output.files import file_name, write_file, written

    done: list[Written] = []
    folder.mkdir(parents=True, exist_ok=True)
    for extract, new in made:
        files = []
        for form in formats:
            path = folder / file_name(extract, form)
            write_file(path, written(extract, form))
            files.append(path)
        done.append(Written(extract, tuple(files), new))
    return done


def _departments(office: Office, shown: _Shown, codes: Sequence[str]) -> list[Department]:
    """Those named, or all; a department given up since it last had lines must be told that they are withdrawn."""
    own, gone = shown.picture.standards.departments, _given_up(office, shown)
    if not codes:
        return [*own, *(department for department, held in gone.values() if held)]
    found = []
    for code in codes:
        department = shown.picture.standards.department(code)
        if department is None and code.strip().upper() in gone:
            department = gone[code.strip().upper()][0]
        if department is None:
            there = ", ".join(one.code for one in own)
            raise NotFound(f"Department {code}", f"the works has {there}", "Give one of these codes")
        found.append(department)
    return found


def _given_up(office: Office, shown: _Shown) -> dict[str, tuple[Department, bool]]:
    """Departments with an extract of an earlier revision that the works had no longer at this one, by code; each with
    whether it had lines then, which it must be told are withdrawn."""
    earlier: dict[str, list[IssuedExtract]] = {}
    for made in sorted(revisions.extracts_of(office.book, office.order_id), key=lambda one: one.seq):
        if made.seq < shown.revision.seq and shown.picture.standards.department(made.department) is None:
            earlier.setdefault(made.department, []).append(made)
    found: dict[str, tuple[Department, bool]] = {}
    for code, every in earlier.items():
        for made in reversed(every):
            department = shown.since(made).picture.standards.department(code)
            if department is not None:
                found[code] = department, every[-1].lines > 0
                break
    return found


def _require_own(office: Office, departments: Sequence[Department]) -> None:
    office.require("make extracts")
    roles = set(office.person.roles)
    if roles <= {"head"} and any(one.code != office.person.department for one in departments):
        raise Refused(
            "Make this extract",
            f"{office.person.name} is head of {office.person.department}",
            "Ask for your own department's",
        )


class _Shown:
    """A revision, its picture and shares, and those it is compared with; each drawn once."""

    def __init__(self, office: Office, revision: Revision) -> None:
        self.revision = revision
        self.picture = as_issued(office, revision)
        self.shares = shares(self.picture.routed)
        self.reconciliation = reconcile(self.picture.routed, self.picture.totals, self.shares)
        self.issue = Issue(
            revision.letter, revision.issued_on, revision.drawn, revision.approved, short_code(revision.seal)
        )
        self._office = office
        self._earlier: dict[int, tuple[Revision, Picture, dict[str, tuple[Line, ...]]]] = {}

    def since(self, made: IssuedExtract) -> Since:
        """The share that an earlier extract gave."""
        if made.seq not in self._earlier:
            revision = next(one for one in self._office.revisions() if one.seq == made.seq)
            picture = as_issued(self._office, revision)
            self._earlier[made.seq] = revision, picture, shares(picture.routed)
        revision, picture, split = self._earlier[made.seq]
        return Since(made.number, made.seal, revision.letter, picture, split.get(made.department, ()))


def _one(office: Office, shown: _Shown, department: Department, section: str) -> tuple[Extract, bool]:
    known = revisions.extracts_of(office.book, office.order_id, department.code)
    existing = next((one for one in known if one.seq == shown.revision.seq), None)
    if existing is not None:
        since = next((one for one in known if one.seq == existing.since_seq), None)
    else:
        # By revision, not by number: an old revision's extract may be asked for after a later one's.
        earlier = (one for one in known if one.seq < shown.revision.seq)
        since = max(earlier, key=lambda one: one.seq, default=None)
    number = existing.number if existing else 1 + max((one.number for one in known), default=0)
    extract = draw_up(
        shown.picture,
        department,
        number,
        shown.issue,
        shown.shares.get(department.code, ()),
        shown.reconciliation,
        shown.since(since) if since else None,
    )
    content = content_of(extract)
    if existing is None:
        extract = _number(office, shown.revision, extract, content, since, known)
    elif existing.content == content:
        extract = replace(extract, seal=existing.seal)
    else:
        raise Refused(
            f"Print extract {number} of {department.name} again",
            "the record no longer gives what was issued",
            "Run `specreg verify`",
        )
    return (part_of(extract, shown.picture, section) if section else extract), existing is None


def _number(
    office: Office, revision: Revision, extract: Extract, content: bytes, since: IssuedExtract | None,
    known: Sequence[IssuedExtract],
) -> Extract:  # fmt: skip
    book = office.book
    with book.act(office.person.code, "extract", office.now, office.order_id) as act:
        if revisions.extracts_of(book, office.order_id, extract.department) != known:
            raise AlteredMeanwhile(
                f"Make extract {extract.number} of {extract.department_name}",
                "another program has made one for this department in the same moment",
                "Ask for it again",
            )
        seal, tries = short_code(content), 0
        while revisions.seal_is_taken(book, seal):
            # Two extracts with the same first 40 bits: the second takes the digest of its digest.
            tries += 1
            seal = short_code(row_digest("seal", [extract.department, str(tries)], [("content", content.hex())]))
        made = IssuedExtract(
            extract.department, extract.number, revision.seq, since.seq if since else None, len(extract.lines),
            len(extract.withdrawn), extract.pieces, content, seal,
        )  # fmt: skip
        revisions.add_extract(book, act, office.order_no, office.order_id, revision.letter, made)
        act.words = f"{extract.department} extract {extract.number} of revision {revision.letter}, seal {seal}"
    return replace(extract, seal=seal)
