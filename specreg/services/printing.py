"""Printing the whole specification: as a revision said it, or as it stands, for checking."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from specreg.core.errors import NotFound
from specreg.core.extracts import TitleBlock
from specreg.core.seals import short_code
from specreg.core.whole_specification import (
    DOCUMENT_TYPE,
    NOT_ISSUED,
    Before,
    WholeSpecification,
    section_of,
    whole_specification,
)
from specreg.services.comparing import revision_named
from specreg.services.extracting import folder_for
from specreg.services.office import Office
from specreg.services.pictures import Pictures
from specreg.store.notes import NoteStanding


@dataclass(frozen=True, slots=True)
class Printed:
    """The specification and the file it was written to."""

    whole: WholeSpecification
    file: Path


def specification(office: Office, at: str = "", section: str = "") -> WholeSpecification:
    """The specification at a revision, by letter, or the last issued; `open` means the order as it stands.

    Its signs compare with the revision before. Raises NotFound for a revision or section there is not.
    """
    pictures = Pictures(office)
    with office.book.reading():
        if not at and not office.revisions():
            raise NotFound(
                f"The specification of order {office.order_no}",
                "no revision of it is issued yet",
                "Print it as it stands, for checking, with `--at open`",
            )
        revision = revision_named(office, at)
        picture = pictures.of(revision)
        earlier = [one for one in office.revisions() if revision is None or one.seq < revision.seq]
        last = max(earlier, key=lambda one: one.seq, default=None)
        before = Before(f"revision {last.letter}", pictures.issued(last)) if last is not None else None
        house, order = picture.standards.house, picture.order
        block = TitleBlock(
            legal_owner=house.works,
            document_type=DOCUMENT_TYPE,
            identification_number=order.number,
            title=order.title,
            supplementary_title="" if revision is not None else NOT_ISSUED,
            revision=revision.letter if revision is not None else "not issued",
            date_of_issue=revision.issued_on if revision is not None else office.now[:16].replace("T", " "),
            creator=revision.drawn if revision is not None else "",
            approval_person=revision.approved if revision is not None else "",
            responsible_department="Drawing office",
        )
        seal = short_code(revision.seal) if revision is not None else ""
        whole = whole_specification(picture, block, seal, revision is not None, before)
        if revision is None:
            whole = replace(whole, open_notes=tuple(map(_named, office.open_notes())))
    return section_of(whole, section) if section else whole


def _named(standing: NoteStanding) -> str:
    note = standing.note
    return "the first compilation" if note.is_compilation else f"{note.number} {note.words or note.reason}"


def write_specification(office: Office, folder: Path, at: str = "", section: str = "") -> Printed:
    """Print the specification to a file in a folder, which is made if it is not there; whole or not at all."""
    from specreg.output.files import write_file
    from specreg.output.pdf import booklet_pdf
    from specreg.output.specification_booklet import file_name, specification_booklet

    whole = specification(office, at, section)
    file = folder_for(folder) / file_name(whole)
    write_file(file, booklet_pdf(specification_booklet(whole)))
    return Printed(whole, file)
