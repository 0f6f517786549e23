"""Hypothesis strategies: orders, items and sheets with the texts that break careless readers and writers."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from specreg.core.model import FIELDS, RESERVED_LABELS, SHEET_COLUMNS, Item, Kind, Layout, Order, Sheet, Stage, State
from specreg.core.numbering import number_key
from specreg.intake.markdown_order import kind_under_heading
from specreg.intake.plain_text import plain_field, plain_item, plain_label, plain_line, plain_sheet

NASTY = (
    '1.1/4" x 19\'-6½"', '=SUM(A1:A9)', 'a | b', 'a \\| b', '\\', '\\\\|', '|', '||', 'x\\', '<br>', '\\<br>',
    'a<br/>b', '\\\\<BR >c', '# 4 Rack', '## 4.1 Rack ##', '#', '4.1 Rack', '4.1.2A STIFFENERS', '0.7 MPa water test',
    '2.5 mm plate', '**4.1** Rack', '**4.1 Rack**', '__4.1__ Rack', '- Off: 12', '* Size: 3/4"', '+ Deleted: gone',
    '- **Off:** 3', '- Rough  weight: 4', '- Off\\: : 2', '- note: free', '-', '---', '===', '- - -', '***', '```',
    '~~~ text', '> said', '    indented', '\ttab', '| Item | Description |', '|---|---|',
    '| Item | Off |\n|---|---|\n| 4.1.9 | 3 |', '| Size | Mass |\n|---|---|\n| 1 | 2 |', 'Rack\n====', 'Rack\n---',
    '<!-- hidden', '<pre>', '<div>', '[1]: /x', '[2.1 FRAMES 4](#_Toc11)', '**CONTENTS**', 'Contents',
    '4.1 Rack ....... 7', 'Not used', '**Not used**', 'deleted', '\\Not used', 'Deleted at issue C', 'reserved',
    'Ø60 ± 0,5', 'αβγ δ', '45°', '“quoted”', "l'arbre", 'do.', '"', '〃', 'See 3.3', "x" * 400, "word " * 80, 'a\n\nb',
    'a\n\n\nb', '1. one\n2. two', '* a\n* b', '- a\n- b', '+ a', '1 of 2', '1/2', 'TOTAL SHEETS', 'TOTAL', 'Total 4',
    'BRIDGE', '- ```\n  # x', '\\# x', '\\4.1 x', '\\\\# x', '&amp;', 'a\u2028b', 'a\xa0', '`x`', 'Page 2 of 3',
    'number', '  # y', '   4.2 Y', '* - Off: 3', '*\n  Off: 3', '- x\n\n  Off: 3', '\\-', ': x', '– dash',
)  # fmt: skip

_SIGNS = st.characters(exclude_categories=("Cs", "Cc"), include_characters="\n\t|\\<>#*_-+=:`~\"'.,;()[]")
texts = st.one_of(
    st.sampled_from(NASTY),
    st.text(_SIGNS, max_size=40),
    st.text(alphabet="\\|<br>#-*_: \n4.1Ofetm`~=", max_size=25),
    st.lists(st.sampled_from(NASTY), min_size=2, max_size=5).map("\n".join),
    st.lists(st.sampled_from(NASTY), min_size=2, max_size=4).map("\n\n".join),
)
lines = texts.map(plain_line)
labels = (
    st.one_of(st.sampled_from(("Finish", "Note: two", "Melt \\", "a|b", "<br>", "Prüfung", "[x]", "# y", "\\:")), lines)
    .map(plain_label)
    .filter(lambda label: label and label.lower() not in RESERVED_LABELS | {"title"})
)

_letters = st.sampled_from(("", "", "", "A", "B", "AA"))
_levels = st.tuples(st.integers(1, 40), _letters).map(lambda one: f"{one[0]}{one[1]}")


@st.composite
def items_of_section(draw: st.DrawFn, section: str) -> list[Item]:
    """A section with its items, each number once, kinds as a reader gives them."""
    items = [_item(draw, section, Kind.SECTION, Layout.HEADING, section)]
    tails = draw(st.lists(st.lists(_levels, min_size=1, max_size=6).map(".".join), max_size=5))
    odd = draw(st.lists(st.sampled_from(("E {}/2A", "SR-0{}", "1{}42", "9{}3A", "QD-05{}-S/2", "{} b/17")), max_size=2))
    for number in [*(f"{section}.{tail}" for tail in tails), *(one.format(section) for one in odd)]:
        layout = draw(st.sampled_from(Layout))
        items.append(_item(draw, number, Kind.ITEM, layout, section))
    return items


def _item(draw: st.DrawFn, number: str, kind: Kind, layout: Layout, section: str) -> Item:
    named = draw(st.dictionaries(st.sampled_from([field.name for field in FIELDS]), texts, max_size=4))
    state = draw(st.sampled_from((State.LIVE, State.LIVE, State.DELETED, State.RESERVED)))
    item = Item(
        number=number,
        kind=kind,
        layout=layout,
        section=section,
        title=draw(lines),
        text=draw(st.one_of(st.just(""), texts)),
        other=tuple(draw(st.dictionaries(labels, texts, max_size=2)).items()),
        state=state,
        reason="" if state is State.LIVE else draw(texts),
        **named,
    )
    item = plain_item(item)
    legacy = not number[0].isdecimal() or " " in number
    if layout is Layout.HEADING and kind is Kind.ITEM:
        if legacy and (not item.title or " b" in number):
            return replace(item, layout=Layout.ROW)
        return replace(item, kind=kind_under_heading(item))
    return item


@st.composite
def whole_orders(draw: st.DrawFn) -> list[Item]:
    """All items of an order, in order, no number twice."""
    sections = draw(st.lists(st.integers(1, 120), min_size=1, max_size=3, unique=True))
    found: dict[str, Item] = {}
    for section in sorted(sections):
        for item in draw(items_of_section(str(section))):
            found.setdefault(number_key(item.number), item)
    return sorted(found.values(), key=lambda item: item.place_key)


orders = st.builds(
    Order,
    number=lines.filter(bool),
    title=lines.filter(bool),
    customer=lines,
    machines=st.sampled_from(("1471-1473", "")),
    spares=lines,
    authority=lines,
    units=st.sampled_from(("imperial", "metric")),
    numbering=st.sampled_from(("ours", "theirs")),
)

_sheet_texts = {
    name: st.one_of(st.just(""), texts)
    for name in (*SHEET_COLUMNS, "group")
    if name not in ("number", "stage", "revision")
}
sheets = st.builds(
    Sheet,
    number=st.one_of(lines, st.from_regex(r"[A-Z]{1,3}-?[0-9]{1,5}(/[0-9])?", fullmatch=True)),
    stage=st.sampled_from(("", *(stage.value for stage in Stage), "awaiting survey")),
    revision=st.sampled_from(("", "-", "0", "A", "B", "AA", "P1", "=1")),
    **_sheet_texts,
).map(plain_sheet)
sheet_lists = st.lists(
    sheets.filter(lambda sheet: bool(plain_field(sheet.number))),
    max_size=5,
    unique_by=lambda sheet: (sheet.number.upper(), sheet.sheet.upper()),
)
