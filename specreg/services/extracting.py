"""Extracts: a department's share as issued, numbered, signed off against the whole, with what changed for it.

Worked out from the record each time, so that a print made years later is the same; what is stored is its number, its
totals and its seal. A share is drawn up by reading alone (`Split`); only numbering it writes (`ToMake`).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from tempfile import TemporaryFile

from specreg.core.counts import grouped, so_many
from specreg.core.drawing_up import Issue, Since, Tally, content_of, draw_up, numbered, part_of, section_named, tally
from specreg.core.errors import AlteredMeanwhile, NotFound, Refused, WrongUse
from specreg.core.extracts import Extract
from specreg.core.picture import Picture
from specreg.core.seals import row_digest, short_code
from specreg.core.shares import Line, reconcile, shares
from specreg.core.standards import Department
from specreg.core.weighing import Scales
from specreg.services.office import MAY, Office
from specreg.services.pictures import Pictures
from specreg.store import revisions
from specreg.store.revisions import IssuedExtract, Revision

_MAKE = "make extracts"
_AT_ONCE = 2
"""Extracts in hand at once: while the typesetter draws one, the next is laid out."""


@dataclass(frozen=True, slots=True)
class Written:
    """An extract with the files it was written to."""

    extract: Extract
    files: tuple[Path, ...]
    new: bool


# Drawing up: reads, and never writes --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Had:
    """What extracts a department has had: `made` at the state shown, None when there is none; `since` the earlier one
    it is compared with; `known` all of them, in the order they were made."""

    made: IssuedExtract | None
    since: IssuedExtract | None
    known: tuple[IssuedExtract, ...]


@dataclass(frozen=True, slots=True)
class DrawnUp:
    """A department's extract as drawn up: without a seal, and its number 0 when none was made of it."""

    extract: Extract
    had: Had

    def as_made(self) -> Extract:
        """With the seal it bears when it was made, without one else. Raises Refused when it would not say what the
        one that was made said."""
        made = self.had.made
        if made is None:
            return self.extract
        if made.content != content_of(self.extract):
            raise Refused(
                f"Print extract {made.number} of {self.extract.department_name} again",
                "the record no longer gives what was issued",
                "Run `specreg verify`",
            )
        return replace(self.extract, seal=made.seal)


@dataclass(frozen=True, slots=True)
class Totalled:
    """A department's share in figures; `since` names the extract it is compared with, empty when there is none."""

    tally: Tally
    since: str
    made: IssuedExtract | None


class Split:
    """The order on the desk split into its departments' shares: at a revision, or as it stands with all open edits
    where `revision` is None. Pictures of earlier revisions are drawn when first compared with."""

    def __init__(self, office: Office, revision: Revision | None, pictures: Pictures | None = None) -> None:
        self._office = office
        self._pictures = pictures or Pictures(office)
        self._earlier: dict[int, tuple[Revision, Picture, dict[str, tuple[Line, ...]]]] = {}
        self.revision = revision
        self.picture = self._pictures.of(revision)
        self.shares = shares(self.picture.routed)
        self.reconciliation = reconcile(self.picture.routed, self.picture.totals, self.shares)

    def departments(self) -> tuple[Department, ...]:
        """Those of the works, then those given up since they last had lines: they must be told that these are
        withdrawn."""
        gone = (department for department, held in self._given_up().values() if held)
        return (*self.picture.standards.departments, *gone)

    def department(self, code: str) -> Department:
        """A department by its code, one given up too. Raises NotFound."""
        found = self.picture.standards.department(code)
        if found is None:
            gone = self._given_up().get(code.strip().upper())
            found = gone[0] if gone else None
        if found is None:
            there = ", ".join(one.code for one in self.picture.standards.departments)
            raise NotFound(f"Department {code}", f"the works has {there}", "Give one of these codes")
        return found

    @cached_property
    def scales(self) -> Scales:
        """What weighs the shares. Taking an order off is dear, so all departments are weighed on the same."""
        from specreg.core.take_off import lines_taken_off

        return Scales(lines_taken_off(self.picture), self.picture.order.units)

    def drawn_up(self, department: Department) -> DrawnUp:
        """A department's extract, by reading alone."""
        with self._office.book.reading():
            had = self._had(department)
            extract = draw_up(
                self.picture,
                department,
                had.made.number if had.made else 0,
                self._issue(),
                self.shares.get(department.code, ()),
                self.reconciliation,
                self._since(had.since),
                self.scales,
            )
        return DrawnUp(extract, had)

    def totalled(self, department: Department) -> Totalled:
        """The same in figures, for much less than drawing it up costs."""
        with self._office.book.reading():
            had = self._had(department)
            since = self._since(had.since)
            counted = tally(self.picture, self.shares.get(department.code, ()), since)
        return Totalled(counted, since.named if since else "", had.made)

    def _had(self, department: Department) -> Had:
        """It is compared with what its extract at this revision was compared with when that was made; else with the
        last extract of an earlier revision."""
        known = tuple(revisions.extracts_of(self._office.book, self._office.order_id, department.code))
        made = next((one for one in known if self.revision is not None and one.seq == self.revision.seq), None)
        if made is not None:
            return Had(made, next((one for one in known if one.seq == made.since_seq), None), known)
        # By revision, not by number: an old revision's extract may be asked for after a later one's.
        earlier = (one for one in known if self._is_earlier(one))
        return Had(None, max(earlier, key=lambda one: one.seq, default=None), known)

    def _is_earlier(self, made: IssuedExtract) -> bool:
        return self.revision is None or made.seq < self.revision.seq

    def _issue(self) -> Issue:
        one = self.revision
        if one is None:
            return Issue("", "", "", "", "")
        return Issue(one.letter, one.issued_on, one.drawn, one.approved, short_code(one.seal))

    def _since(self, made: IssuedExtract | None) -> Since | None:
        """The share that an earlier extract gave."""
        if made is None:
            return None
        if made.seq not in self._earlier:
            revision = next(one for one in self._office.revisions() if one.seq == made.seq)
            picture = self._pictures.issued(revision)
            self._earlier[made.seq] = revision, picture, shares(picture.routed)
        revision, picture, split = self._earlier[made.seq]
        return Since(made.number, made.seal, revision.letter, picture, split.get(made.department, ()))

    def _given_up(self) -> dict[str, tuple[Department, bool]]:
        """Departments with an extract of an earlier revision that the works has no longer in this state, by code; each
        with whether it had lines then, which it must be told are withdrawn."""
        earlier: dict[str, list[IssuedExtract]] = {}
        every = revisions.extracts_of(self._office.book, self._office.order_id)
        for made in sorted(every, key=lambda one: one.seq):
            if self._is_earlier(made) and self.picture.standards.department(made.department) is None:
                earlier.setdefault(made.department, []).append(made)
        issued = self._office.revisions() if earlier else []
        found: dict[str, tuple[Department, bool]] = {}
        for code, mades in earlier.items():
            for made in reversed(mades):
                revision = next(one for one in issued if one.seq == made.seq)
                department = self._office.standards(revision.entry).department(code)
                if department is not None:
                    found[code] = department, mades[-1].lines > 0
                    break
        return found


# Making: numbers and writes -----------------------------------------------------------------------------------------


def may_make(office: Office, code: str) -> bool:
    """Whether this person may have the extract of a department made; a head only his own."""
    makes = MAY[_MAKE] & set(office.person.roles)
    return bool(makes) and (makes != {"head"} or code == office.person.department)


class ToMake:
    """Extracts to be made: the departments found and the person allowed, nothing made yet."""

    def __init__(self, office: Office, codes: Sequence[str], letter: str = "", section: str = "") -> None:
        """`codes` empty means all; with a section each extract is of that alone. Raises NotFound for a revision,
        department or section, NotPermitted, and Refused for a head who asks for another department's."""
        self._office = office
        self._section = section
        with office.book.reading():
            self._revision = office.revision(letter)
            self._split = Split(office, self._revision)
            if section:
                section_named(self._split.picture, section)
            named = dict.fromkeys(map(self._split.department, codes))
            self.departments = tuple(named) if codes else self._split.departments()
        self.reconciliation = self._split.reconciliation
        office.require(_MAKE)
        if not all(may_make(office, one.code) for one in self.departments):
            raise Refused(
                "Make this extract",
                f"{office.person.name} is head of {office.person.department}",
                "Ask for your own department's",
            )

    def make(self, department: Department) -> tuple[Extract, bool]:
        """A department's extract with whether it is new: it is numbered once a revision, and asked for again the same
        one is given."""
        drawn = self._split.drawn_up(department)
        new = drawn.had.made is None
        extract = self._number(drawn) if new else drawn.as_made()
        return (part_of(extract, self._split.picture, self._section) if self._section else extract), new

    def write_each(
        self, forms: Sequence[str], folder: Path, stopped: Callable[[], bool] = lambda: False
    ) -> Iterator[Written]:
        """Make the extracts and write them to a folder that is there, each file whole or not at all.

        They are given in order, each when it is written; meanwhile the next are drawn up and set. Once `stopped` says
        so no other is begun, and those that were are still given.
        """
        with ThreadPoolExecutor(_AT_ONCE) as writers:
            begun: deque[Future[Written]] = deque()
            try:
                for department in self.departments:
                    if stopped():
                        break
                    begun.append(writers.submit(_write, *self.make(department), forms, folder))
                    if len(begun) == _AT_ONCE:
                        yield begun.popleft().result()
                while begun:
                    yield begun.popleft().result()
            finally:
                for one in begun:
                    one.cancel()

    def _number(self, drawn: DrawnUp) -> Extract:
        office, book = self._office, self._office.book
        known, since = drawn.had.known, drawn.had.since
        extract = numbered(drawn.extract, 1 + max((one.number for one in known), default=0))
        content = content_of(extract)
        with book.act(office.person.code, "extract", office.now, office.order_id) as act:
            if tuple(revisions.extracts_of(book, office.order_id, extract.department)) != known:
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
                extract.department, extract.number, self._revision.seq, since.seq if since else None,
                len(extract.lines), len(extract.withdrawn), extract.pieces, content, seal,
            )  # fmt: skip
            letter = self._revision.letter
            revisions.add_extract(book, act, office.order_no, office.order_id, letter, made)
            act.words = f"{extract.department} extract {extract.number} of revision {letter}, seal {seal}"
        return replace(extract, seal=seal)


def _write(extract: Extract, new: bool, forms: Sequence[str], folder: Path) -> Written:
    from specreg.output.files import file_name, write_file, written

    files = []
    for form in forms:
        path = folder / file_name(extract, form)
        write_file(path, written(extract, form))
        files.append(path)
    return Written(extract, tuple(files), new)


def make_extracts(
    office: Office, codes: Sequence[str], letter: str = "", section: str = ""
) -> list[tuple[Extract, bool]]:
    """The extracts of some departments, or of all, at a revision: each with whether it is new."""
    asked = ToMake(office, codes, letter, section)
    return [asked.make(department) for department in asked.departments]


def folder_for(path: Path) -> Path:
    """The folder that extracts are to be written to, made if it is not there. Raises WrongUse where a file stands in
    its place, Refused where it cannot be made or written in."""
    try:
        if path.exists() and not path.is_dir():
            raise WrongUse(f"Write to {path}", "it is a file", "Give the name of a folder")
        path.mkdir(parents=True, exist_ok=True)
        # Found out now, not after extracts have been numbered.
        with TemporaryFile(dir=path):
            pass
    except (OSError, ValueError) as error:
        cause = error.strerror if isinstance(error, OSError) else None
        raise Refused(
            f"Write to the folder {path}", cause or str(error), "Give another, in which you may write"
        ) from error
    return path


def in_words(extract: Extract, new: bool) -> str:
    """An extract made, in a line that can be read out."""
    counts = f"{so_many(len(extract.lines), 'line')}, {so_many(extract.pieces, 'piece')}"
    return (
        f"{extract.department} extract {extract.number} of revision {extract.title_block.revision}: {counts}, "
        f"{grouped(len(extract.withdrawn))} withdrawn, seal {extract.seal} ({'new' if new else 'printed again'})"
    )
