"""The whole specification drawn up from a picture: every number, its signs against the revision before, its route."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specreg.core.errors import NotFound
from specreg.core.extracts import TitleBlock
from specreg.core.model import Item, Order, State
from specreg.core.picture import Picture
from specreg.core.whole_specification import (
    Before,
    SpecificationLine,
    WholeSpecification,
    section_of,
    whole_specification,
)
from tests.core.pictures import CASTING, GREASE, SECTION, SHEET, picture

BLOCK = TitleBlock(
    "Practice works", "specification", "W 1", "Cranes", "", "B", "2026-11-25", "HP", "JD", "Drawing office"
)
HUNG = replace(CASTING, number="4.1.1", title="Lug", off="2", per="4.1", drawing="", spares="", route="MCH; ERE")


def drawn(now: Picture, before: Picture | None = None) -> WholeSpecification:
    return whole_specification(now, BLOCK, "AAAA-AAAA", True, Before("revision A", before) if before else None)


def lines(now: Picture, before: Picture | None = None) -> dict[str, SpecificationLine]:
    return {line.number: line for line in drawn(now, before).lines}


def told(*items: Item, before: Picture | None = None) -> dict[str, tuple[str, str]]:
    return {number: (line.sign, line.was) for number, line in lines(picture(*items), before).items()}


def test_a_line_says_its_number_off_its_working_its_drawing_and_its_route() -> None:
    found = lines(picture(CASTING, HUNG))
    casting, hung = found["4.1"], found["4.1.1"]
    assert (casting.off, casting.as_written) == ("13", "4 per machine")
    assert casting.working.endswith("= 13")
    assert casting.drawing == "SL-1 rev A"
    assert casting.route == "FDY cast 13+1; MCH machine 13; ERE erect 12 & STO put by 1"
    assert dict(casting.fields)["Spares"] == "1 per order"
    assert (hung.off, hung.route) == ("24", "MCH machine 24; ERE erect 24")
    assert {line.sign for line in found.values()} == {""}


def test_an_item_nobody_acts_on_says_why() -> None:
    assert lines(picture(replace(CASTING, route="none: by the customer")))["4.1"].route == "none: by the customer"


def test_signs_compare_with_the_revision_before() -> None:
    before = picture(CASTING, GREASE)
    assert told(CASTING, GREASE, before=before) == {"4": ("", ""), "4.1": ("", ""), "4.2": ("", "")}
    assert told(CASTING, replace(GREASE, title="Tallow"), before=before)["4.2"] == (
        "»", "Description was Grease, now Tallow",
    )  # fmt: skip
    new = replace(GREASE, number="4.3")
    assert told(CASTING, GREASE, new, before=before)["4.3"] == ("+", "")
    assert told(replace(CASTING, text="To be  fettled."), before=picture(replace(CASTING, text="To be fettled.")))[
        "4.1"
    ] == ("", "")


def test_of_a_long_text_only_what_was_is_said_again() -> None:
    before = picture(replace(CASTING, text="Cast whole."))
    assert told(replace(CASTING, text="Cast in halves."), before=before)["4.1"] == ("»", "Text was Cast whole.")


def test_a_part_is_altered_by_its_assembly_and_by_the_revision_of_its_drawing() -> None:
    before = picture(CASTING, HUNG)
    assert told(replace(CASTING, off="5"), HUNG, before=before)["4.1.1"] == ("»", "Number off was 24, now 30")
    now = picture(CASTING, HUNG, sheet=replace(SHEET, revision="B"))
    assert lines(now, before)["4.1"].was == "Drawing was SL-1 rev A, now SL-1 rev B"
    assert lines(now, before)["4.1.1"].sign == ""


def test_a_deleted_number_stays_listed_and_is_signed_once() -> None:
    deleted = replace(GREASE, state=State.DELETED, reason="oil instead")
    line = lines(picture(CASTING, deleted), picture(CASTING, GREASE))["4.2"]
    assert (line.sign, line.gone, line.route) == ("-", "deleted: oil instead", "")
    again = lines(picture(CASTING, deleted), picture(CASTING, deleted))["4.2"]
    assert (again.sign, again.gone) == ("", "deleted: oil instead")
    back = lines(picture(CASTING, GREASE), picture(CASTING, deleted))["4.2"]
    assert (back.sign, back.gone) == ("+", "")


def outsiders(*items: Item) -> Picture:
    own = picture(*items)
    return replace(own, order=Order("W 1", "Three cranes", "The Board", "1-3", numbering="theirs"))


def test_an_outsiders_new_number_is_told_apart_and_what_is_listed_no_more_is_deleted() -> None:
    plain = replace(GREASE, text="To be kept in the lubricators at all times.")
    bracket = replace(plain, number="4.4", title="Pendant bracket", text="One to each cab, bolted to the roof frame.")
    found = lines(outsiders(CASTING, replace(bracket, number="4.5")), outsiders(CASTING, plain, bracket))
    assert (found["4.5"].sign, found["4.5"].was) == ("=", "Number was 4.4, now 4.5")
    assert (found["4.2"].sign, found["4.2"].gone) == ("-", "no longer in the specification")


def test_sections_count_what_is_wanted_and_one_may_be_taken_alone() -> None:
    other = replace(SECTION, number="5", section="5", title="Hoisting gear")
    barrel = replace(CASTING, number="5.1", section="5")
    whole = drawn(picture(CASTING, replace(GREASE, state=State.DELETED), other, barrel))
    assert [(one.number, one.title, one.items) for one in whole.sections] == [
        ("4", "Slewing gear", 1), ("5", "Hoisting gear", 1),
    ]  # fmt: skip
    part = section_of(whole, "5")
    assert part.part == "5 Hoisting gear"
    assert [line.number for line in part.lines] == ["5", "5.1"]
    with pytest.raises(NotFound, match="sections are 4, 5"):
        section_of(whole, "6")


def test_cautions_stand_where_a_safety_item_is_wanted() -> None:
    assert drawn(picture(CASTING)).cautions == ()
    safe = replace(CASTING, safety="lifting")
    assert drawn(picture(safe)).cautions == ("Local codes decide.",)
    assert drawn(picture(replace(safe, state=State.DELETED))).cautions == ()
