"""Revision letters against what is published of ASME Y14.35.

I O Q S X Z are left out: http://tpub.com/engbas/3-15.htm (US Navy Engineering Aid manual). AA after Y, the omitted
letters omitted in the second place too: as told in five secondary texts, the standard itself was not seen. At most two
letters: from memory. The letters at the places below are worked out from these rules.
"""

from __future__ import annotations

import pytest

from specreg.core.errors import Refused
from specreg.core.revisions import letter, next_letter, order_marks, ordinal

ONE_LETTER = tuple("ABCDEFGHJKLMNPRTUVWY")
AFTER_Y = (
    "AA", "AB", "AC", "AD", "AE", "AF", "AG", "AH", "AJ", "AK", "AL", "AM", "AN", "AP", "AR", "AT",
    "AU", "AV", "AW", "AY", "BA", "BB", "BC", "BD", "BE",
)  # fmt: skip
FURTHER_ON = {60: "BY", 61: "CA", 100: "DY", 101: "EA", 400: "WY", 401: "YA", 419: "YW", 420: "YY"}


@pytest.mark.parametrize(("place", "mark"), [*enumerate([*ONE_LETTER, *AFTER_Y], 1), *FURTHER_ON.items()])
def test_letter_at_its_place(place: int, mark: str) -> None:
    assert letter(place) == mark
    assert ordinal(mark) == place


def test_there_are_420_letters_one_after_the_other() -> None:
    marks = [next_letter("-")]
    while marks[-1] != "YY":
        marks.append(next_letter(marks[-1]))
    assert len(marks) == len({*marks}) == 420
    with pytest.raises(Refused):
        next_letter("YY")


def test_an_office_that_keeps_x_has_21_letters() -> None:
    """A firm that omits I O Q S Z only: https://mr-miata.net/2015/05/page/3."""
    assert next_letter("W", "IOQSZ") == "X"
    assert letter(22, "IOQSZ") == "AA"


def test_a_first_issue_carries_a_dash_and_the_first_change_is_a() -> None:
    """The dash: https://www.engineersedge.com/drafting/drawing_revision_block.htm; A: the manual named above."""
    assert next_letter("-") == "A"
    assert order_marks(["A", "-"]).ordered == ("-", "A")
