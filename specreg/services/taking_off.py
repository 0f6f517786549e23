"""The take-off of the order on the desk: at a revision, or as it stands."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.core.errors import NotFound
from specreg.core.picture import Picture
from specreg.core.take_off import TakeOff, take_off
from specreg.services.comparing import name_of, revision_named
from specreg.services.office import Office
from specreg.services.pictures import Pictures
from specreg.store.revisions import Revision


@dataclass(frozen=True, slots=True)
class Taken:
    """A take-off with the state it is of (`B`, or `open`) and the order as that says it."""

    state: str
    picture: Picture
    take_off: TakeOff


def take_off_at(office: Office, at: str = "") -> Taken:
    """The take-off at a revision, by letter, or the last issued; `open` means the order as it stands. It is reckoned by
    the works standards of that revision. Raises NotFound."""
    with office.book.reading():
        if not at and not office.revisions():
            raise NotFound(
                f"The take-off of order {office.order_no}",
                "no revision of it is issued yet",
                "Take it off as it stands, with `--at open`",
            )
        return taken(Pictures(office), revision_named(office, at))


def taken(pictures: Pictures, revision: Revision | None) -> Taken:
    """The take-off at a revision; of the order as it stands where there is None."""
    picture = pictures.of(revision)
    return Taken(name_of(revision), picture, take_off(picture))
