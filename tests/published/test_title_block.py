"""The title block of a real extract held against EN ISO 7200.

Source: a secondary transcription of EN ISO 7200 (June 2008), "Technical product documentation - Data fields in title
blocks and document headers"; which fields are mandatory and how many characters are recommended is tabulated, field by
field with what each was read from, in `specreg.core.paper`.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from specreg.core.extracts import Extract
from specreg.core.paper import TITLE_BLOCK, title_block_faults
from specreg.output.files import written
from specreg.services.extracting import make_extracts
from tests.services.office_for_tests import with_revision_a

MANDATORY = {
    "legal owner", "identification number", "date of issue", "segment/sheet number", "title", "approval person",
    "creator", "document type",
}  # fmt: skip
"""The eight mandatory fields, as the transcription gives them."""

EXCEPTIONS = {"responsible department"}
"""The house's own: `Drawing office` is 14 characters where 10 are recommended; cut short nobody would know it."""


@pytest.fixture(scope="module")
def extracts(tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Extract]]:
    """The extracts of the practice order at revision A."""
    office = with_revision_a(tmp_path_factory.mktemp("title"))
    yield [extract for extract, _ in make_extracts(office, ())]
    office.book.close()


def values_of(extract: Extract) -> dict[str, str]:
    """What its title block says, by the standard's names; every sheet is numbered by whoever prints it."""
    block = extract.title_block
    return {
        "legal owner": block.legal_owner,
        "identification number": block.identification_number,
        "revision index": block.revision,
        "date of issue": block.date_of_issue,
        "segment/sheet number": "1",
        "title": block.title,
        "supplementary title": block.supplementary_title,
        "responsible department": block.responsible_department,
        "approval person": block.approval_person,
        "creator": block.creator,
        "document type": block.document_type,
    }


def test_the_mandatory_fields_are_those_of_the_standard() -> None:
    assert {field.name for field in TITLE_BLOCK if field.mandatory} == MANDATORY


def test_every_mandatory_field_says_something_and_is_no_longer_than_recommended(extracts: list[Extract]) -> None:
    for extract in extracts:
        values = values_of(extract)
        assert all(values[name] for name in MANDATORY)
        faults = [fault for fault in title_block_faults(values) if fault.partition(":")[0] not in EXCEPTIONS]
        assert faults == [], extract.department


def test_an_exception_is_still_one(extracts: list[Extract]) -> None:
    told = {fault.partition(":")[0] for fault in title_block_faults(values_of(extracts[0]))}
    assert told == EXCEPTIONS


def test_people_and_dates_are_those_who_signed_and_when(extracts: list[Extract]) -> None:
    block = extracts[0].title_block
    assert (block.creator, block.approval_person) == ("H. Pellow", "J. Dunmore")
    assert block.date_of_issue == "2026-11-25"
    assert block.revision == "A"


@pytest.mark.parametrize("missing", sorted(MANDATORY))
def test_a_missing_field_would_be_told(extracts: list[Extract], missing: str) -> None:
    values = {**values_of(extracts[0]), missing: " "}
    assert f"{missing}: missing, and ISO 7200 wants it" in title_block_faults(values)


@pytest.mark.parametrize("form", ["txt", "md"])
def test_the_paper_prints_the_block(extracts: list[Extract], form: str) -> None:
    for extract in extracts:
        text = " ".join(written(extract, form).decode("utf-8").split())
        values = values_of(extract)
        for name in MANDATORY - {"segment/sheet number"}:
            assert values[name] in text, f"{form} of {extract.department} does not print its {name}"
