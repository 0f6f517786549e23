"""What one has lately opened and typed, kept while the program runs, so that nothing typed or found is lost."""

from __future__ import annotations

from dataclasses import dataclass, field

KEPT = 30


@dataclass(frozen=True, slots=True)
class Place:
    """Something that was opened: an item, a section, or a text that was looked for (`kind` is `find`)."""

    kind: str
    number: str
    title: str


@dataclass(slots=True)
class Memory:
    """Places lately opened, the last first, the find line as it was left, the department whose changes were asked for
    last; the department whose share was looked at last; in which forms and to which folder extracts were written."""

    places: tuple[Place, ...] = ()
    typed: str = field(default="")
    department: str = field(default="")
    share: str = field(default="")
    forms: tuple[str, ...] = ("pdf",)
    folder: str = field(default="extracts")

    def opened(self, place: Place) -> None:
        """Remember a place; one that is known moves to the front."""
        others = tuple(one for one in self.places if (one.kind, one.number) != (place.kind, place.number))
        self.places = (place, *others)[:KEPT]
