"""Pictures of the order on the desk, each drawn once: of an issued revision for good, of the order as it stands until
somebody writes."""

from __future__ import annotations

from specreg.core.picture import Picture
from specreg.services.office import Office
from specreg.services.standing import as_issued, as_it_stands
from specreg.store.revisions import Revision

MOST_KEPT = 3
"""How many issued revisions are held in memory at once: two to compare, and the last."""


class Pictures:
    """Draws pictures and keeps them, for one order and one thread."""

    def __init__(self, office: Office) -> None:
        self._office = office
        self._now: tuple[int, Picture] | None = None
        self._issued: dict[int, Picture] = {}

    def of(self, revision: Revision | None) -> Picture:
        """The order as a revision said it; as it stands, with all open edits, where there is None."""
        return self.now() if revision is None else self.issued(revision)

    def now(self) -> Picture:
        """The order as it stands."""
        book = self._office.book
        version = book.version()
        if self._now is None or self._now[0] != version:
            with book.reading():
                # The head may have been altered since this program put the order on the desk.
                self._office.refresh()
                self._now = (version, as_it_stands(self._office))
        return self._now[1]

    def issued(self, revision: Revision) -> Picture:
        """The order as a revision said it. Nothing that is written later can alter that."""
        picture = self._issued.pop(revision.seq, None)
        if picture is None:
            with self._office.book.reading():
                picture = as_issued(self._office, revision)
        # Put in last, so that the one longest unasked for stands first and goes first.
        self._issued[revision.seq] = picture
        if len(self._issued) > MOST_KEPT:
            del self._issued[next(iter(self._issued))]
        return picture
