"""The PDF form, read back: every sheet's title block, every line whole, and texts that are never read as code."""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pypdfium2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from specreg.core.extracts import Extract, ExtractLine, TitleBlock
from specreg.output.extract_booklet import COLUMNS
from specreg.output.extract_wording import (
    NONE_WITHDRAWN,
    WITHDRAWN_HEADING,
    closing,
    details,
    heading,
    news_heading,
    nil_sentence,
    receipt,
    summary,
    title_rows,
)
from specreg.output.files import FORMATS, file_name, written
from specreg.output.pdf import pdf
from tests.output.extracts_to_write import GOT_IN, HELD, LARGE, LINE, NASTY, NIL, SMALL, WITHDRAWN, many_lines

MILLIMETRE = 72 / 25.4


def sheets(data: bytes) -> list[str]:
    """The text of each sheet, without blanks: where a line ends is the typesetter's affair."""
    return [joined(page.extract_text()) for page in PdfReader(io.BytesIO(data)).pages]


def joined(text: str) -> str:
    return re.sub(r"\s+", "", text)


def placed(data: bytes) -> list[list[tuple[float, float, str]]]:
    """Each sheet's runs of text with their place, in points from the left and from the foot."""
    found: list[list[tuple[float, float, str]]] = []
    for page in PdfReader(io.BytesIO(data)).pages:
        runs: list[tuple[float, float, str]] = []

        def note(text: str, user: Sequence[float], matrix: Sequence[float], *rest: object) -> None:
            x, y = matrix[4], matrix[5]
            runs.append((user[0] * x + user[2] * y + user[4], user[1] * x + user[3] * y + user[5], text))  # noqa: B023

        page.extract_text(visitor_text=note)
        found.append([run for run in runs if run[2].strip()])
    return found


def assert_whole(line: ExtractLine, text: str) -> None:
    said = (line.number, line.title, line.operation, line.came_from, line.goes_to, line.material, line.size)
    for part in (*said, line.drawing, *(f"{caption}:{one}" for caption, one in details(line))):
        assert joined(part) in text, part


def test_the_title_block_stands_on_every_sheet_with_its_number_of_how_many() -> None:
    read = sheets(pdf(LARGE))
    assert len(read) > 5
    for count, sheet in enumerate(read, start=1):
        for caption, text in (pair for row in title_rows(LARGE, f"{count} of {len(read)}") for pair in row):
            assert joined(caption) in sheet
            assert joined(text) in sheet


def test_every_line_is_there_once_and_in_order() -> None:
    whole = "".join(sheets(pdf(LARGE)))
    numbers = [line.number for line in (*LARGE.lines, *LARGE.withdrawn)]
    bold = [text.strip() for sheet in placed(pdf(LARGE)) for x, _, text in sheet if 34 < x / MILLIMETRE < 45]
    assert [text for text in bold if re.fullmatch(r"[0-9]+\.[0-9.]+", text)] == numbers
    assert whole.count("wordword") == 0
    assert whole.count("word049") == sum(line.text.count("word049") for line in LARGE.lines)


def test_the_nasty_line_is_whole() -> None:
    _, sheet, _ = sheets(pdf(SMALL))
    assert_whole(NASTY, sheet)
    assert_whole(LINE, sheet)
    assert "»§H" in sheet


def test_the_first_sheet_says_what_the_other_forms_say() -> None:
    sheet = sheets(pdf(LARGE))[0]
    assert joined(heading(LARGE)) in sheet
    assert joined(news_heading(LARGE)) in sheet
    for caption, text in summary(LARGE):
        assert joined(caption) in sheet
        assert joined(text) in sheet


def test_withdrawn_lines_stand_under_their_own_heading_and_the_receipt_on_the_last_sheet() -> None:
    read = sheets(pdf(LARGE))
    whole = "".join(read)
    after = whole[whole.rindex(joined(WITHDRAWN_HEADING)) :]
    for line in LARGE.withdrawn:
        assert_whole(replace(line, sign="-"), after)
    assert joined(closing(LARGE)) in read[-1]
    for caption, text in receipt(LARGE):
        assert f"{joined(caption)}" in read[-1]
        assert joined(text) in read[-1]
    assert [count for count, sheet in enumerate(read, start=1) if "Receivedby" in sheet] == [len(read)]
    without = sheets(pdf(replace(SMALL, withdrawn=())))[-1]
    assert joined(NONE_WITHDRAWN) in without


def test_nothing_stands_outside_the_margins_nor_under_the_title_block() -> None:
    for sheet in placed(pdf(LARGE)):
        block = next(y for _, y, text in sheet if text.strip() == "Legal owner")
        for x, y, text in sheet:
            assert 20 * MILLIMETRE <= x + 0.01 <= 200 * MILLIMETRE, text
            assert 5 * MILLIMETRE <= y <= 292 * MILLIMETRE, text
        said = [
            y for _, y, text in sheet if re.fullmatch(r"(from|to) [A-Z]{3}|Reconciliation|[0-9]+ lines?", text.strip())
        ]
        assert min(said) > block


def test_drawn_the_margins_are_blank() -> None:
    # Another reader of PDF draws the sheets: what it draws is what is printed.
    for sheet in pypdfium2.PdfDocument(pdf(LARGE)):
        ink = sheet.render(scale=2).to_pil().convert("L").point(lambda shade: 255 if shade < 128 else 0)
        millimetre = ink.height / 297
        left, upper, right, lower = ink.getbbox() or (0, 0, 0, 0)
        assert left >= 19.5 * millimetre
        assert right <= 200.5 * millimetre
        assert upper >= 8 * millimetre
        assert 280 * millimetre <= lower <= 292 * millimetre


@pytest.mark.parametrize("count", [9, 13, 14, 15, 16, 17, 18, 19, 20])
def test_no_heading_is_the_last_of_a_sheet_and_no_sheet_bears_the_closing_words_alone(count: int) -> None:
    plain = replace(
        LARGE, lines=tuple(replace(line, text="") for line in many_lines(count * 3)), withdrawn=(WITHDRAWN,)
    )
    data = pdf(plain)
    front = sum("front-" in sheet for sheet in sheets(data))
    assert front < len(sheets(data))
    for sheet in placed(data)[front:]:
        lines = [y for _, y, text in sheet if re.fullmatch(r"from [A-Z]{3}", text.strip())]
        headings = [y for _, y, text in sheet if re.match(r"[0-9]+ Section title [0-9]+|Withdrawn: no", text.strip())]
        assert lines
        assert headings
        assert min(headings) > max(lines)


def test_a_line_longer_than_a_sheet_goes_on_overleaf_under_its_number() -> None:
    long = replace(LINE, number="4.1.9", text=" ".join(f"part{count:04d}" for count in range(1500)))
    read = sheets(pdf(replace(SMALL, lines=(LINE, long, HELD))))
    assert len(read) > 2
    assert "4Slewinggear·4.1.9,continued" in read[2]
    whole = "".join(read)
    assert re.findall(r"part[0-9]{4}", whole) == [f"part{count:04d}" for count in range(1500)]


def test_long_texts_in_the_title_block_are_whole_on_every_sheet() -> None:
    long = " ".join(f"w{count:03d}" for count in range(80))
    fields = {name: f"{name} {long}" for name in TitleBlock.__dataclass_fields__}
    read = sheets(pdf(replace(SMALL, title_block=TitleBlock(**fields))))
    for sheet in read:
        for text in fields.values():
            assert joined(text) in sheet
    assert_whole(NASTY, "".join(read))


def test_words_too_wide_for_their_column_are_broken_and_whole() -> None:
    wide = {name: "W" * 60 + f" {name}" for name in ("number", "title", "operation", "off", "material", "drawing")}
    line = replace(LINE, **wide, came_from="W" * 50, goes_to="W" * 50)  # type: ignore[arg-type]
    data = pdf(replace(SMALL, lines=(line, NASTY)))
    assert_whole(line, "".join(sheets(data)))
    assert all(x <= 200 * MILLIMETRE for sheet in placed(data) for x, _, _ in sheet)


def test_a_nil_extract_says_so_on_one_sheet() -> None:
    (sheet,) = sheets(pdf(NIL))
    assert joined(nil_sentence(NIL)) in sheet
    assert "1of1" in sheet
    assert joined(COLUMNS[3].head) not in sheet


def test_sheets_with_safety_items_or_weights_bear_the_cautions_and_the_others_do_not() -> None:
    safe = replace(LINE, safety="", weight="")
    other = replace(safe, safety="lifting", section="5", number="5.1")
    extract = replace(SMALL, lines=(safe, other), cautions=("Competent persons decide.", "So do local codes."))
    _, first, second, _ = sheets(pdf(extract))
    assert "Competent" not in first
    assert "§Caution:Competentpersonsdecide.Solocalcodes" not in second
    assert "§Caution:Competentpersonsdecide.Sodolocalcodes." in second
    _, first, _, _ = sheets(pdf(replace(extract, lines=(replace(safe, weight="3 cwt"), other))))
    assert "§Caution:Competentpersonsdecide.Sodolocalcodes." in first


def test_a_part_says_that_it_is_one() -> None:
    sheet, *_ = sheets(pdf(replace(SMALL, part="4 Slewing gear")))
    assert "section4Slewinggearonly:apartoftheshare,notthewhole" in sheet


def test_the_margin_tells_hold_and_material_only() -> None:
    _, sheet = placed(pdf(replace(SMALL, lines=(HELD, GOT_IN), withdrawn=())))
    margin = [text.strip() for x, _, text in sheet if x < 30 * MILLIMETRE]
    assert "H" in margin
    assert "M" in margin


def test_the_signs_of_the_trade_and_greek_come_out() -> None:
    signs = "½ ⅜ ⅛ ⅝ ⅞ ¼ ¾ Ø × » § ″ ′ ° ± – αβγδλμπφω ΔΣΩ é ü ß Ж"
    _, sheet, _ = sheets(pdf(replace(SMALL, lines=(replace(LINE, remarks=signs),))))
    assert joined(signs) in sheet


def test_the_same_extract_gives_the_same_bytes_and_another_gives_others() -> None:
    assert pdf(LARGE) == pdf(LARGE)
    assert pdf(SMALL) != pdf(replace(SMALL, seal="K7MP4TQ3"))


def test_two_threads_may_set_at_the_same_time() -> None:
    with ThreadPoolExecutor(2) as threads:
        made = list(threads.map(pdf, [SMALL, NIL, SMALL, NIL]))
    assert made == [pdf(SMALL), pdf(NIL)] * 2


def test_the_file_bears_no_hour() -> None:
    data = PdfReader(io.BytesIO(pdf(SMALL))).metadata
    assert data is not None
    assert data.title == "W611-B-FDY-2 Foundry: extract 2 of revision B"
    assert not {str(value)[2:6] for name, value in data.items() if name.endswith("Date")} - {"1970"}


MARKUP = "#$*_`\\[]<>@~-=+/\"'{}()&%^|:;,.!?"
WORDS = st.text(
    st.one_of(
        st.sampled_from(MARKUP),
        st.characters(min_codepoint=0x20, max_codepoint=0x7E),
        st.sampled_from("½⅜Ø×»§″αλΩéüßЖ \n"),
    ),
    max_size=120,
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(WORDS, WORDS, WORDS)
def test_whatever_a_person_wrote_is_set_as_it_stands(title: str, remarks: str, owner: str) -> None:
    line = replace(LINE, title=title, remarks=remarks, material=owner)
    extract = replace(SMALL, lines=(line,), title_block=replace(SMALL.title_block, legal_owner=owner))
    whole = "".join(sheets(pdf(extract)))
    for text in (title, remarks, owner):
        assert joined(text) in whole


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(max_size=60), st.text(max_size=60))
def test_no_text_of_any_script_breaks_the_setting(title: str, number: str) -> None:
    line = replace(LINE, title=title, number=number, was=title, sign="»")
    extract = replace(SMALL, lines=(line,), customer=title, cautions=(number,), withdrawn=(line,))
    assert "1of" in sheets(pdf(extract))[0]


@pytest.mark.parametrize(
    "text", ["#panic()", "$x$", "*b*", "_e_", "`r`", "\\u{41}", "@label", "<label>", "// c", "/* c"]
)
def test_code_of_the_typesetter_is_only_text(text: str) -> None:
    extract: Extract = replace(SMALL, lines=(replace(LINE, title=text, number=text),), order_title=text)
    assert "".join(sheets(pdf(extract))).count(joined(text)) >= 3


def test_it_is_a_form_of_its_own_that_a_terminal_cannot_show() -> None:
    assert written(SMALL, "pdf") == pdf(SMALL)
    assert file_name(SMALL, "pdf") == "W611-B-FDY-2.pdf"
    assert [name for name, form in FORMATS.items() if not form.text] == ["pdf", "xlsx"]
