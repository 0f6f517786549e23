"""What a budget is measured on: an order of the size asked for, in a book of its own, at revision A."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path

from specreg.bootstrap import make_book
from specreg.core.picture import Picture
from specreg.services.allocating import allocate
from specreg.services.demonstrating import CHIEF, OFFICE
from specreg.services.issuing import issue
from specreg.services.office import Office
from specreg.services.people import say_person
from specreg.services.signing import sign
from specreg.services.standing import as_it_stands
from specreg.services.taking_in import take_in
from specreg.settings import shipped_folder
from tests.budgets.invented_orders import write_invented

Say = Callable[[str], None]

FULL_SIZE = 2500
"""Items of an order of full size, as a works has it."""


@dataclass
class Trial:
    """An order of some `items` in `folder`; 0 items is the sample itself. What takes long to make is made when first
    asked for; `took` keeps the seconds each step of the making took."""

    folder: Path
    items: int
    say: Say
    took: dict[str, float] = field(default_factory=dict)

    @cached_property
    def source(self) -> Path:
        """The order folder."""
        sample = shipped_folder("sample_spec")
        if not self.items:
            return sample
        self.say(f"inventing an order of {self.items} items")
        write_invented(sample, self.folder / "order", self.items)
        return self.folder / "order"

    @property
    def book(self) -> Path:
        """Where its book is."""
        return self.folder / "works.specreg"

    @cached_property
    def office(self) -> Office:
        """The office over its book, the order at revision A."""
        source = self.source
        office = make_book(self.book, CHIEF)
        for person in OFFICE:
            say_person(office, person)
        self._step("take in", lambda: take_in(office, source))
        self._step("allocate", lambda: allocate(office))
        for person, part in zip(
            (*OFFICE[:3], office.person), ("drawn", "checked", "second check", "approved"), strict=True
        ):
            sign(replace(office, person=person), "0", part)
        self._step("issue", lambda: issue(office))
        return office

    @cached_property
    def picture(self) -> Picture:
        """The order as it stands."""
        self.say("drawing the picture")
        return as_it_stands(self.office)

    @cached_property
    def count(self) -> int:
        """How many items it has."""
        row = self.office.book.db.execute("SELECT count(*) FROM item_now WHERE kind = 'item'").fetchone()
        return int(row[0])

    def _step(self, name: str, task: Callable[[], object]) -> None:
        self.say(name)
        start = time.perf_counter()
        task()
        self.took[name] = time.perf_counter() - start


def taken_in_once(folder: Path, source: Path) -> float:
    """Seconds of taking an order into a new book, which is then thrown away."""
    book = folder / "again.specreg"
    office = make_book(book, CHIEF)
    try:
        start = time.perf_counter()
        take_in(office, source)
        return time.perf_counter() - start
    finally:
        office.book.close()
        for suffix in ("", "-wal", "-shm"):
            Path(f"{book}{suffix}").unlink(missing_ok=True)
