"""The invented order of the core's tests taken off, for the fake reader: what it weighs is reckoned, not invented."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from specreg.core.item_reckoning import ItemReckoned, item_reckoned
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.take_off import take_off
from specreg.services.comparing import OPEN
from specreg.services.take_off_pages import sum_page, take_off_page
from specreg.services.take_off_readings import SumKind, SumPage, TakeOffPage
from specreg.services.taking_off import Taken
from tests.core.weighed_order import ISSUED, STANDS

if TYPE_CHECKING:
    from tests.tui.fake_reader import FakeBook


@dataclass
class FakeTakeOff:
    """What the fake readers of one program take off; `issued` is None while nothing is issued."""

    issued: Picture | None = ISSUED
    standing: Picture = STANDS

    def taken(self, open_edits: bool) -> Taken:
        """The take-off in one of the two states."""
        picture = self.standing if open_edits or self.issued is None else self.issued
        return Taken("B" if picture is self.issued else OPEN, picture, take_off(picture))

    def reckoned(self, number: str) -> ItemReckoned | None:
        """What an item weighs as it stands; None for one that is not of this order."""
        picture = self.standing
        item = next((one for one in picture.lines if one.number == number), None)
        return item_reckoned(picture, item, picture.totals[number_key(number)]) if item else None


class FakeTakesOff:
    """The part of the fake reader that knows the take-off."""

    _book: FakeBook

    def _enter(self) -> None:
        raise NotImplementedError

    def take_off(self, open_edits: bool) -> TakeOffPage:
        self._enter()
        return take_off_page(self._book.weights.taken(open_edits))

    def sum_page(self, kind: SumKind, name: str, open_edits: bool) -> SumPage:
        self._enter()
        return sum_page(self._book.weights.taken(open_edits), kind, name)
