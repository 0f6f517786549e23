"""The printed extract: sheets of the right size, nothing lost, nothing parted that belongs together."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.core.errors import WrongUse
from specreg.core.extracts import Extract, ExtractLine
from specreg.output.extract_wording import WITHDRAWN_HEADING, legend, news, pieces
from specreg.output.plain_text import plain_text
from tests.output.cells import SIGNS, cells_across
from tests.output.extracts_to_write import (
    GOT_IN,
    HELD,
    LARGE,
    LINE,
    LONG,
    NASTY,
    NIL,
    RECONCILIATION,
    SMALL,
    TITLE_BLOCK,
)

RULE = re.compile(r"[─-]{40,}")
CUT = re.compile(r"^(- ){9,}tear off here( -){9,}$", re.MULTILINE)
SHEET = re.compile(r"(\d+) of (\d+)")


def sheets(text: str) -> list[list[str]]:
    """The lines of each sheet, without the empty one a closing line break leaves."""
    return [sheet.removesuffix("\n").split("\n") for sheet in text.split("\f")]


def body(sheet: list[str]) -> list[str]:
    """What stands above the title block, without the blank lines between."""
    frames = [place for place, line in enumerate(sheet[:-1]) if line[:1] in ("┌", "+")]
    foot = max(place for place in frames if "Legal owner" in sheet[place + 1])
    lines = sheet[:foot]
    while lines and not lines[-1]:
        lines.pop()
    return lines


def rows_of(text: str, number: str) -> list[list[str]]:
    """The cells of every printed line of one row, from the line that bears its number to the rule under it."""
    rows: list[list[str]] = []
    for line in (line for sheet in sheets(text) for line in sheet):
        cells = line.split("│")
        if rows and RULE.match(line):
            break
        if rows or (len(cells) > 5 and cells[1].strip() == number):
            rows.append(cells)
    return rows


def without_spaces(text: str) -> str:
    return "".join(text.split())


def assert_sheets_are_whole(extract: Extract, width: int, page_lines: int, plain: bool) -> str:
    text = plain_text(extract, width, page_lines, plain)
    pages = sheets(text)
    for place, sheet in enumerate(pages, start=1):
        # One line is left empty for a printer that throws a blank sheet when a form feed follows the last line.
        assert len(sheet) == page_lines - 1
        assert max(map(cells_across, sheet)) <= width
        foot = "\n".join(sheet[len(body(sheet)) :])
        assert "Identification" in foot
        counts = [(int(n), int(m)) for n, m in SHEET.findall(foot)]
        assert counts == [(place, len(pages))]
    assert [bool(CUT.search("\n".join(sheet))) for sheet in pages] == [False] * (len(pages) - 1) + [True]
    assert text.endswith("\n") and not text.endswith("\f")
    return text


@pytest.mark.parametrize("plain", [False, True])
@pytest.mark.parametrize(("width", "page_lines"), [(72, 66), (80, 66), (80, 36), (132, 48), (200, 200)])
@pytest.mark.parametrize("extract", [SMALL, LARGE, NIL])
def test_every_sheet_has_its_size_its_title_block_and_its_count(
    extract: Extract, width: int, page_lines: int, plain: bool
) -> None:
    text = assert_sheets_are_whole(extract, width, page_lines, plain)
    if plain:
        assert text.isascii()


def test_the_title_block_on_every_sheet_has_the_mandatory_fields_of_iso_7200() -> None:
    # ISO 7200:2004, mandatory data fields, as listed in a secondary transcription of EN ISO 7200.
    for sheet in sheets(plain_text(LARGE)):
        foot = "\n".join(sheet[len(body(sheet)) :])
        for caption in ("Legal owner", "Identification number", "Date of issue", "Sheet", "Title"):
            assert caption in foot
        for caption in ("Approval person", "Creator", "Document type", "Revision", "Department", "Seal"):
            assert caption in foot
        for text in ("Alder & Holm", "W611-B-FDY-2", "12 Oct 2026", "R. Alder", "J. Marsh", "FDY Foundry", "K7MP4TQ2"):
            assert text in foot


def test_every_line_of_the_share_is_printed_once_and_in_its_order() -> None:
    starts = [
        cells[1].strip()
        for sheet in sheets(plain_text(LARGE))
        for line in body(sheet)
        if len(cells := line.split("│")) > 5 and cells[1].strip() not in ("", "Item")
    ]
    assert starts == [line.number for line in (*LARGE.lines, *LARGE.withdrawn)]


def test_a_rule_stands_under_every_line() -> None:
    for sheet in sheets(plain_text(LARGE)):
        lines = body(sheet)
        rows = [place for place, line in enumerate(lines) if re.match(r".....│\d", line) and line.count("│") > 4]
        for row, below in zip(rows, [*rows[1:], len(lines)][: len(rows)], strict=True):
            assert any(RULE.fullmatch(line) for line in lines[row + 1 : below])


def test_every_sheet_with_lines_has_the_head_of_columns_once_above_them() -> None:
    for width in (80, 132):
        first, *later = sheets(plain_text(LARGE, width))
        assert not [line for line in first if re.match(r".....│\d", line)]
        for sheet in later:
            heads = [place for place, line in enumerate(sheet) if line.startswith("     │Item ")]
            rows = [place for place, line in enumerate(sheet) if re.match(r".....│\d", line)]
            assert len(heads) == 1
            assert heads[0] < min(rows)


@pytest.mark.parametrize("page_lines", range(34, 67))
def test_a_heading_is_never_the_last_thing_on_a_sheet(page_lines: int) -> None:
    found = 0
    for sheet in sheets(plain_text(LARGE, page_lines=page_lines)):
        lines = body(sheet)
        for place, line in enumerate(lines):
            if re.match(r"\d+ (Section title|Slewing)", line) or line.startswith("Withdrawn"):
                found += 1
                assert RULE.fullmatch(lines[place + 1])
                assert re.match(r".....│\d", lines[place + 2])
    assert found >= 19


def test_a_sheet_that_starts_within_a_section_says_which() -> None:
    later = [body(sheet)[4] for sheet in sheets(plain_text(LARGE))[1:]]
    assert "3 Section title 3, continued" in later
    assert all(re.match(r"\d+ \w+|Withdrawn", line) for line in later)


def test_the_first_sheet_says_what_it_is_and_proves_the_split() -> None:
    first = "\n".join(sheets(plain_text(SMALL))[0])
    assert "W 611 Three 25-ton dockside cranes" in first
    assert "1471-1473" in first
    assert "extract 1 of revision A: 0 added, 1 altered, 1 withdrawn, 1 as" in first
    assert "7 912 steps = 7 912 in shares, difference 0" in first
    assert "2 512 items = 2 498 allocated + 14 no action + 0 unallocated" in first
    assert re.search(r"^Lines +2$", first, re.MULTILINE)
    assert re.search(r"^Pieces +39$", first, re.MULTILINE)
    assert re.search(r"^Not counted +1 line \(as required, sets\)$", first, re.MULTILINE)
    assert "nothing lost" in first
    assert "inspecting authority decide" not in plain_text(NIL)
    assert "§ safety (1 line)" in first
    assert "Competent persons and the inspecting authority" in first


def test_a_split_that_does_not_add_up_says_so() -> None:
    lost = replace(SMALL, reconciliation=replace(RECONCILIATION, in_shares=7910))
    text = plain_text(lost)
    assert "7 912 steps against 7 910 in shares, difference 2" in text
    assert "THE SHARES DO NOT MAKE UP THE WHOLE" in text
    assert "nothing lost" not in text


def test_items_that_are_neither_allocated_nor_without_action_are_a_loss_too() -> None:
    text = plain_text(replace(SMALL, reconciliation=replace(RECONCILIATION, allocated=2497)))
    assert "2 512 items against 2 497 allocated" in text
    assert "THE SHARES DO NOT MAKE UP THE WHOLE" in text


def test_signs_are_counted_alike_with_plain_signs() -> None:
    assert "30 added, 31 altered, 2 withdrawn" in plain_text(LARGE, 132)
    assert "30 added, 31 altered, 2 withdrawn" in plain_text(LARGE, 132, plain=True)


def test_an_altered_line_says_what_stood_before() -> None:
    assert 'Altered: Size was 1 1/4" x 4 1/2", now 1 1/4" x 19\'-6½"' in plain_text(SMALL)


def news_of(text: str) -> list[str]:
    """The rows of what is new, from the rule under their heading to the rule below them."""
    lines = sheets(text)[0]
    start = lines.index("New for you since extract 1 of revision A") + 2
    return lines[start : next(place for place in range(start, len(lines)) if RULE.fullmatch(lines[place]))]


def test_the_first_sheet_lists_what_is_new_by_sign() -> None:
    added = replace(LINE, sign="+", number="4.1.1A", title="Rack segment,\nend")
    text = plain_text(replace(SMALL, lines=(NASTY, added, replace(added, step=4))))
    assert news_of(text) == [
        "+ 4.1.1A  Rack segment, end",
        '» 4.1.2   =SUM(A1), "Ø 1½" | λ-bolt second line: Size was 1 1/4" x 4 1/2" ...',
        "- 9.3.2   Drum end, old: deleted, cracked in the mould",
    ]
    assert news_of(plain_text(replace(SMALL, lines=(NASTY,)), 132))[0].endswith('now 1 1/4" x 19\'-6½"')


def test_the_first_sheet_lists_at_most_twenty_and_of_these_no_withdrawn_line_gives_way() -> None:
    rows = news_of(plain_text(LARGE))
    assert [row[0] for row in rows[:-1]] == ["+"] * 18 + ["-"] * 2
    assert rows[-1] == "  and 43 more, signed in the list"
    altered = [replace(LINE, sign="»", number=f"4.{place}", was="Off was 1, now 2") for place in range(20)]
    full = news_of(plain_text(replace(SMALL, lines=tuple(altered), withdrawn=())))
    assert len(full) == 20
    over = news_of(plain_text(replace(SMALL, lines=tuple(altered))))
    assert [row[0] for row in over[:-1]] == ["»"] * 19 + ["-"]
    assert over[-1] == "  and 1 more, signed in the list"


def test_nothing_is_called_new_on_a_first_extract_or_where_nothing_changed() -> None:
    assert news(replace(SMALL, since="")) == ()
    assert "New for you" not in plain_text(replace(SMALL, since="", replaces=""))
    assert "New for you" not in plain_text(replace(SMALL, lines=(LINE,), withdrawn=(), changed=False))


def test_a_withdrawn_line_says_why() -> None:
    assert "     │Why: deleted: cracked in the mould\n" in plain_text(SMALL)
    assert "Altered:" not in plain_text(replace(SMALL, lines=(LINE,)))


def test_the_legend_explains_the_signs_that_occur_and_no_others() -> None:
    everything = replace(SMALL, lines=(LINE, NASTY, HELD, GOT_IN, replace(LINE, sign="+")))
    assert legend(everything) == (
        "+ added, » altered, - withdrawn, § safety (1 line)",
        "H hold: do not make",
        "M material only: get the material and do not make",
        "+ after a number off: extra against wasters",
    )
    assert legend(replace(SMALL, lines=(replace(LINE, off="36"),), withdrawn=())) == ()
    assert legend(replace(NIL, lines=(HELD,))) == ("H hold: do not make",)
    first = sheets(plain_text(everything, plain=True))[0]
    assert "Signs            + added, > altered, - withdrawn, S safety (1 line)" in first
    assert "Signs" not in plain_text(NIL)


def test_pieces_on_hold_are_told_beside_the_pieces() -> None:
    assert pieces(replace(SMALL, lines=(LINE, HELD, NASTY), pieces=45)) == "45, of which 6 pieces on hold"
    assert pieces(replace(SMALL, lines=(replace(HELD, pieces=1),), pieces=1)) == "1, of which 1 piece on hold"
    assert pieces(replace(SMALL, lines=(LINE, GOT_IN), pieces=43)) == "43"


def test_what_changed_is_not_said_twice() -> None:
    was = "Text was short, now longer; Remarks were blank, now as agreed"
    twice = replace(LINE, sign="»", text="longer", remarks="as agreed", was=was)
    text = plain_text(replace(SMALL, lines=(twice,)))
    assert f"Altered: {was}" in text
    assert "Remarks: " not in text and "Text: " not in text
    other = plain_text(replace(SMALL, lines=(replace(twice, was="Off was 1, now as agreed"),)))
    assert "Remarks: as agreed" in other and "Text: longer" in other


def test_on_a_narrow_sheet_from_and_to_stand_below_the_columns_on_the_full_width() -> None:
    line = replace(LINE, came_from="Pattern and joiners' shop", goes_to="Machine shop", weight="1 qr 22 lb")
    rows = rows_of(plain_text(replace(SMALL, lines=(line,))), LINE.number)
    assert len(rows) == 4
    assert [row[1] for row in rows[2:]] == [
        "from Pattern and joiners' shop, to Machine shop; Pattern: 3382;",
        "Weight: 1 qr 22 lb; Supply: make",
    ]
    last = plain_text(replace(SMALL, lines=(replace(line, goes_to=""),)))
    assert "│from Pattern and joiners' shop; Pattern" in last
    assert "shop, to" not in plain_text(replace(SMALL, lines=(line,)), 132)


def test_a_revision_is_never_parted_from_its_mark() -> None:
    for width in range(72, 133):
        line = replace(NASTY, was="Drawing was EL-1105 rev -, now EL-1105 rev A", drawing="EL-1105 rev - (planned)")
        for printed in plain_text(replace(SMALL, lines=(line,)), width).splitlines():
            assert not re.search(r"\brev *(│|$)", printed), printed


def test_withdrawn_lines_stand_at_the_end_under_their_own_heading() -> None:
    text = plain_text(SMALL)
    assert text.index(WITHDRAWN_HEADING) > text.index("│4.1.2 ")
    assert text.index(WITHDRAWN_HEADING) < text.index("│9.3.2 ")
    assert re.search(r"^-    │9\.3\.2 ", text, re.MULTILINE)
    none = plain_text(replace(SMALL, withdrawn=()))
    assert WITHDRAWN_HEADING not in none
    assert re.search(r"^none withdrawn$", none.replace("\f", ""), re.MULTILINE)


def test_a_nil_extract_is_printed() -> None:
    text = plain_text(NIL)
    assert "No items for the smithy at revision C" in text
    assert "none withdrawn" in text
    assert "first extract" in text
    assert "1 of 1" in text
    assert "Receipt: extract 1, W611-C-SMI-1; department SMI Smithy; seal K7MP4TQ2" in text


def test_a_share_that_did_not_change_says_so() -> None:
    text = plain_text(replace(SMALL, changed=False))
    assert "unchanged for you since extract 1 of revision A" in text
    assert "0 added" not in text


def test_a_part_says_it_is_a_part() -> None:
    text = plain_text(replace(SMALL, part="4 Slewing gear"))
    assert "Foundry: extract 2 of revision B, section 4 Slewing gear only" in text
    assert "section 4 Slewing gear only: a part of the share, not the whole" in text.replace("\n" + " " * 17, " ")
    assert "Receipt: extract 2, W611-B-FDY-2, section 4 Slewing gear only; department" in text
    assert "section section" not in text
    assert "Replaces" not in text
    assert "Replaces" in plain_text(SMALL)


def test_the_receipt_has_all_that_is_asked_for_on_it() -> None:
    last = sheets(plain_text(SMALL))[-1]
    slip = "\n".join(last[next(place for place, line in enumerate(last) if "tear off" in line) :])
    for text in ("extract 2, W611-B-FDY-2", "department FDY Foundry", "seal K7MP4TQ2", "Received by ___", "Date ___"):
        assert text in slip


def test_a_line_longer_than_a_sheet_goes_on_overleaf_under_its_number() -> None:
    words = [f"w{count:05d}" for count in range(1500)]
    text = assert_sheets_are_whole(
        replace(SMALL, lines=(replace(LINE, text=" ".join(words)), NASTY)), 80, 40, plain=False
    )
    assert "4.1.1, continued" in text
    assert re.findall(r"w\d{5}", text) == words


def test_the_nasty_row_is_printed_whole() -> None:
    printed = rows_of(plain_text(SMALL), NASTY.number)
    columns = [cells for cells in printed if len(cells) > 3]
    below = without_spaces("".join(cells[1] for cells in printed if len(cells) == 2))
    description, material, drawing = (without_spaces("".join(row[place] for row in columns)) for place in (3, 4, 5))
    assert description == without_spaces(NASTY.title) + "step2cast"
    assert "fromPAT,toMCH;" in below
    assert material == without_spaces(NASTY.material + NASTY.size)
    assert drawing == without_spaces(NASTY.drawing)
    assert printed[0][0] == "» § H"
    for text in (NASTY.text, NASTY.remarks, NASTY.was, NASTY.machines, NASTY.hand, NASTY.clearance, NASTY.safety, LONG):
        assert without_spaces(text) in below


def test_the_nasty_row_in_ascii_keeps_its_figures() -> None:
    text = plain_text(SMALL, 132, plain=True)
    assert '"dia 1 1/2"' in text
    assert "|lambda-bolt " in text
    assert "19'-6 1/2\"" in text
    assert re.search(r"^> S H\|4\.1\.2 ", text, re.MULTILINE)


def test_a_sheet_count_that_deepens_the_title_block_still_fits(monkeypatch: pytest.MonkeyPatch) -> None:
    # A cell of five, so that a count of three figures takes a line more than one of two.
    monkeypatch.setattr(
        "specreg.output.plain_text._TITLE_WEIGHTS", ((30, 32, 14), (22, 9, 13, 15, 15), (22, 9, 14, 23, 6))
    )
    # One line so long that it fills its sheets to the last row.
    text = plain_text(replace(SMALL, lines=(replace(LINE, text="a\n" * 2500),)), 72, 38)
    assert text.count("\f") > 99
    assert re.search(r"│100  │\n.*│of   │\n.*│\d{3}  │\n", text)
    assert {sheet.count("\n") for sheet in text.split("\f")} == {37}


def test_sheets_too_small_are_refused_with_the_reason() -> None:
    with pytest.raises(WrongUse, match="need 72"):
        plain_text(SMALL, width=71)
    with pytest.raises(WrongUse, match=r"and a few lines need \d+") as refused:
        plain_text(SMALL, page_lines=20)
    least = int(re.findall(r"need (\d+)", refused.value.why)[0])
    assert plain_text(SMALL, page_lines=least)
    with pytest.raises(WrongUse):
        plain_text(SMALL, page_lines=least - 1)


TEXTS = st.text(SIGNS, max_size=60)


@st.composite
def extract_lines(draw: st.DrawFn) -> ExtractLine:
    texts = {
        name: draw(TEXTS)
        for name in ("title", "text", "operation", "off", "material", "size", "drawing", "remarks", "was", "safety")
    }
    number = f"{draw(st.integers(1, 9))}.{draw(st.integers(1, 99))}"
    section = draw(st.sampled_from(("", "1", "2")))
    sign = draw(st.sampled_from(("", "+", "»")))
    return replace(LINE, **texts, number=number, section=section, section_title=draw(TEXTS), sign=sign)


@settings(max_examples=60, deadline=None)
@given(
    lines=st.lists(extract_lines(), max_size=12).map(tuple),
    withdrawn=st.lists(extract_lines(), max_size=3).map(tuple),
    title=TEXTS,
    width=st.integers(72, 140),
    page_lines=st.integers(66, 90),
    plain=st.booleans(),
)
def test_any_lines_make_whole_sheets(
    lines: tuple[ExtractLine, ...],
    withdrawn: tuple[ExtractLine, ...],
    title: str,
    width: int,
    page_lines: int,
    plain: bool,
) -> None:
    block = replace(TITLE_BLOCK, supplementary_title=SHEET.sub("", title))
    extract = replace(SMALL, lines=lines, withdrawn=withdrawn, title_block=block)
    text = assert_sheets_are_whole(extract, width, page_lines, plain)
    assert text.isascii() or not plain
    stroke = "|" if plain else "│"
    for line in (*lines, *withdrawn):
        assert re.search(rf"^[^{re.escape(stroke)}\n]*{re.escape(stroke)}{re.escape(line.number)} ", text, re.MULTILINE)
