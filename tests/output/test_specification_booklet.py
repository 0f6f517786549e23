"""The whole specification on sheets, read back: title block, contents, every number, what is not issued."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pypdfium2
from pypdf import PdfReader

from specreg.core.model import Item, State
from specreg.core.whole_specification import NOT_ISSUED, Before, WholeSpecification, section_of, whole_specification
from specreg.output.pdf import booklet_pdf
from specreg.output.specification_booklet import closing, file_name, heading, specification_booklet, summary, title_rows
from tests.core.pictures import CASTING, GREASE, SECTION, picture
from tests.core.test_whole_specification import BLOCK

NASTY = replace(
    GREASE, number="4.3", title='=SUM(A1), "Ø 1½" | λ-bolt\nsecond line', size="1 1/4\" x 19'-6½\"", drawing="none",
    text=" ".join(f"word{place:03d}" for place in range(50)), remarks="-1, @home, +2; *bold* #panic() <b> \\",
    safety="lifting", clearance="hold",
)  # fmt: skip
FIFTH = replace(SECTION, number="5", section="5", title="Hoisting gear", text="All ropes of one make.")


def many(count: int) -> tuple[Item, ...]:
    return tuple(replace(CASTING, number=f"5.{place}", section="5") for place in range(1, count + 1))


def whole(*items: Item, is_issued: bool = True) -> WholeSpecification:
    before = Before("revision A", picture(CASTING, replace(GREASE, title="Tallow")))
    return whole_specification(picture(*items), BLOCK, "MWMZ-A4QK", is_issued, before)


ALL = whole(CASTING, GREASE, NASTY, FIFTH, *many(60))


def sheets(printed: WholeSpecification) -> list[str]:
    pages = PdfReader(io.BytesIO(booklet_pdf(specification_booklet(printed)))).pages
    return [joined(page.extract_text()) for page in pages]


def joined(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_every_sheet_bears_the_title_block_and_its_number_and_page() -> None:
    read = sheets(ALL)
    assert len(read) > 4
    for place, sheet in enumerate(read, start=1):
        for caption, text in (pair for row in title_rows(ALL) for pair in row):
            assert joined(caption) in sheet
            assert joined(text) in sheet
        assert f"{place}of{len(read)}" in sheet
    ends = [sheet.removesuffix(f"{place}of{len(read)}") for place, sheet in enumerate(read, start=1)]
    pages = [re.findall(r"(?:front|[0-9])-[0-9]+$", end)[0] for end in ends]
    assert pages == ["front-1", "4-1", *(f"5-{place}" for place in range(1, len(read) - 1))]
    assert f"pages5-1to5-{len(read) - 2}" in read[0]


def test_every_number_is_there_once_with_all_it_says() -> None:
    read = "".join(sheets(ALL)[1:])
    for place in range(1, 61):
        assert len(re.findall(rf"(?<![0-9.])5\.{place}134permachine", read)) == 1
    for text in (NASTY.title, NASTY.size, NASTY.text, NASTY.remarks, FIFTH.text, "§ H 4.3", "» 4.2"):
        assert joined(text) in read
    assert joined("Altered: Description was Tallow, now Grease") in read
    assert joined("Route: FDY cast 13+1; MCH machine 13; ERE erect 12 & STO put by 1") in read
    assert joined(closing(ALL)) in sheets(ALL)[-1]


def test_the_first_sheet_has_the_counts_the_proof_and_the_cautions() -> None:
    first = sheets(ALL)[0]
    assert joined(heading(ALL)) in first
    for caption, text in summary(ALL):
        assert joined(caption + text) in first
    assert "62added,1altered,0deleted" in first
    assert "nothinglost" in first
    assert joined("Local codes decide.") in first


def test_the_caution_stands_again_on_the_sheets_with_safety_items_alone() -> None:
    with_it = ["§Caution:Localcodesdecide." in sheet for sheet in sheets(ALL)]
    assert with_it == [False, True, *(False for _ in with_it[2:])]


def test_a_number_that_is_gone_says_why_and_nothing_else() -> None:
    gone = whole(CASTING, replace(GREASE, state=State.DELETED, reason="oil instead"))
    sheet = sheets(gone)[1]
    assert joined("- 4.2 Grease Why: Deleted: oil instead") in sheet
    assert "0deleted" not in sheets(gone)[0]


def test_a_heading_says_its_drawing_and_an_empty_section_that_nothing_stands_in_it_yet() -> None:
    printed = whole(CASTING, replace(FIFTH, drawing="SL-1"), replace(SECTION, number="6", section="6", title="Cab"))
    front, _, heading_sheet, _ = sheets(printed)
    assert "SL-1" in heading_sheet
    assert "6Cabnothingyet" in front
    assert "5Hoistinggeartextonly" in front


def test_a_change_that_nobody_made_in_the_item_itself_is_counted_apart() -> None:
    hung = replace(CASTING, number="4.1.1", title="Lug", off="2", per="4.1", drawing="", spares="")
    before = Before("revision A", picture(CASTING, hung))
    printed = whole_specification(picture(replace(CASTING, off="5"), hung), BLOCK, "AAAA", True, before)
    assert "0 added, 2 altered (1 of them by a drawing's revision or an assembly's number off alone)" in dict(
        summary(printed)
    )["Compared with"]  # fmt: skip


def test_a_long_title_of_a_section_runs_over_nothing() -> None:
    long = replace(FIFTH, title="Hoisting gear with barrel " * 8)
    data = booklet_pdf(specification_booklet(section_of(whole(CASTING, long, *many(3)), "5")))
    for sheet in pypdfium2.PdfDocument(data):
        ink = sheet.render(scale=2).to_pil().convert("L").point(lambda shade: 255 if shade < 128 else 0)
        assert (ink.getbbox() or (0, 0, 0, 0))[2] <= 200.5 * ink.height / 297


def test_what_is_not_issued_says_so_on_every_sheet() -> None:
    block = replace(BLOCK, revision="not issued", date_of_issue="", supplementary_title=NOT_ISSUED)
    printed = replace(ALL, is_issued=False, title_block=block, seal="")
    assert all(joined(NOT_ISSUED) in sheet for sheet in sheets(printed))
    assert file_name(printed) == "W1-open-specification.pdf"


def test_a_part_says_that_it_is_one() -> None:
    part = section_of(ALL, "5")
    read = sheets(part)
    assert "section5Hoistinggearonly:apartofthespecification,notthewhole" in read[0]
    assert not any("4.1Racksegment" in sheet for sheet in read)
    assert file_name(part) == "W1-B-specification-section-5.pdf"


def test_a_specification_without_sections_says_so() -> None:
    (sheet,) = sheets(replace(ALL, sections=()))
    assert joined("The specification has no sections yet") in sheet
