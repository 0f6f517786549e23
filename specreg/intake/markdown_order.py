"""A section file of a specification, Markdown in, numbered items out.

A numbered heading is a section or an item, text under it is its text, a list of `Field: value` at the head or the foot
of that text gives its fields, a table whose first column is `Item` gives one item a row. All else is text and stays
verbatim: it is cut out of the source lines, the parser only says where blocks begin and end.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from specreg.core.faults import Fault, Place, Severity
from specreg.core.model import FIELD_BY_LABEL, RESERVED_LABELS, STATE_LABELS, Item, Kind, Layout, State
from specreg.core.numbering import levels
from specreg.intake.markdown_blocks import Block, blocks_of, is_item_table
from specreg.intake.markdown_cells import split_cells, split_field, text_line, value_of, without_bold
from specreg.intake.markdown_numbers import (
    Numbered,
    ends_in_page_number,
    heading_number,
    is_contents_head,
    is_contents_line,
    is_like_a_heading,
    is_of_another_form,
    is_quantity,
    numbered,
    paragraph_number,
)
from specreg.intake.plain_text import plain_item, plain_label, plain_line, plain_text
from specreg.intake.taken import SetAside, TakenItem

_ATX = re.compile(r" {0,3}#{1,6}(?:[ \t]+(?P<content>.*?))??(?:[ \t]+#+)?[ \t]*")
_ENTRY = re.compile(r" {0,3}[-+*](?:[ \t]+(?P<content>.*))?")
_NUMBER_WITH_STOP = re.compile(r"([0-9]+[A-Z]*(?:\.[0-9]+[A-Z]*)*)\.")
_NUMBERED = re.compile(r"[#*_\s]*([0-9]+[A-Z]*(?:\.[0-9]+[A-Z]*)*)[.:)*_]*\s+\S")
_FENCE = re.compile(r"\s{0,3}(?:`{3,}|~{3,})\s*")
_LONGEST_TITLE = 100

_STATE_BY_LABEL = {label.lower(): state for state, label in STATE_LABELS.items()}
_MAKING = (
    "off", "per", "drawing", "material", "size", "pattern", "supply", "part", "weight", "rough_weight", "route",
    "spares",
)  # fmt: skip
_VERBATIM_BLOCKS = frozenset({"fence", "code_block", "html_block"})


@dataclass(frozen=True, slots=True)
class TakenMarkdown:
    """One section file as read, items in its order."""

    items: tuple[TakenItem, ...] = ()
    flags: tuple[Fault, ...] = ()
    set_aside: tuple[SetAside, ...] = ()


def read_markdown(text: str, file: str, ours: bool = True) -> TakenMarkdown:
    """The items of one section file; `text` has LF line ends, `file` is its name in faults.

    `ours` says that the numbering is the works' own, in which every heading has a number.
    """
    reading = _Reading(text.split("\n"), file, ours)
    blocks = blocks_of(text)
    reading.last_lines = {found[1]: line for line, said in enumerate(reading.lines) if (found := _NUMBERED.match(said))}
    headings = (block for block in blocks if block.kind == "heading")
    reading.top_level = min((one.level for one in headings if heading_number(reading.content(one))), default=1)
    for block in blocks:
        reading.take(block)
    reading.close()
    return TakenMarkdown(
        tuple(taken for taken in reading.items if taken is not None),
        tuple(sorted(reading.flags, key=lambda fault: fault.place.line if fault.place else 0)),
        tuple(sorted(reading.set_aside, key=lambda aside: aside.place.line)),
    )


def kind_under_heading(item: Item) -> Kind:
    """What a numbered heading that is no section is: an item when a field says it is made, bought or put by."""
    return Kind.ITEM if any(getattr(item, name) for name in _MAKING) else Kind.CLAUSE


def reason_of(written: str, state: State) -> str:
    """The reason in a Deleted or Reserved field; the bare word of the label gives none, `\\` before it keeps it."""
    label = STATE_LABELS[state].lower()
    if written.casefold() == label:
        return ""
    return written[1:] if written.startswith("\\") and written.lstrip("\\").casefold() == label else written


@dataclass(slots=True)
class _Open:
    """The heading in hand: `slot` is its place among the items, `lead` text that stood on its own line."""

    numbered: Numbered
    line: int
    slot: int
    kind: Kind
    lead: str = ""
    lead_runs_on: bool = False
    blocks: list[Block] = field(default_factory=list)
    end: int = 0


@dataclass(slots=True)
class _Said:
    """What has been said of the item in hand; `seen` the labels met, `fields` the known ones by attribute."""

    title: str
    text: str = ""
    state: State = State.LIVE
    reason: str = ""
    fields: dict[str, str] = field(default_factory=dict)
    other: list[tuple[str, str]] = field(default_factory=list)
    seen: set[str] = field(default_factory=set)

    def put(self, label: str, value: str) -> None:
        name = label.lower()
        if name in FIELD_BY_LABEL:
            self.fields[FIELD_BY_LABEL[name].name] = value
        elif name in ("description", "title"):
            self.title = value
        elif name == "text":
            self.text = value
        elif value:
            self.other.append((label, value))

    def item(self, number: str, kind: Kind, layout: Layout, section: str) -> Item:
        fields: dict[str, str] = self.fields
        return Item(
            number, kind, layout, section, self.title, self.text, other=tuple(self.other), state=self.state,
            reason=self.reason, **fields,
        )  # fmt: skip


@dataclass(slots=True)
class _Reading:
    """The state of reading one file from top to bottom."""

    lines: list[str]
    file: str
    ours: bool
    top_level: int = 1
    items: list[TakenItem | None] = field(default_factory=list)
    flags: list[Fault] = field(default_factory=list)
    set_aside: list[SetAside] = field(default_factory=list)
    open: _Open | None = None
    section: str = ""
    last_lines: dict[str, int] = field(default_factory=dict)
    highest: dict[str, int] = field(default_factory=dict)
    in_contents: bool = False
    contents_noted: bool = False

    def place(self, line: int) -> Place:
        return Place(self.file, line + 1)

    def content(self, block: Block) -> str:
        """What a heading says, from its source lines."""
        atx = _ATX.fullmatch(self.lines[block.start])
        if atx and block.end == block.start + 1:
            return (atx["content"] or "").strip()
        return " ".join(line.strip() for line in self.lines[block.start : block.end - 1])

    # -- from block to block -----------------------------------------------------------------------------------------

    def take(self, block: Block) -> None:
        if block.kind == "heading":
            self.take_heading(block)
        elif block.kind == "table" and is_item_table(self.lines[block.start]):
            if self.open:
                self.open.blocks.append(block)
                self.open.end = block.end
            self.take_table(block)
        elif block.kind == "paragraph":
            self.take_paragraph(block)
        else:
            self.take_text(block)

    def take_heading(self, block: Block) -> None:
        found = heading_number(self.content(block))
        if found and self.is_in_contents(found, block.start):
            self.take_text(block)
            return
        if found:
            self.in_contents = False
            one_level = len(levels(found.number)) == 1
            if found.state is State.LIVE and is_quantity(found.title):
                text = f"The heading is read as number {found.number}, {found.title}; is it a quantity?"
                self.flag("number or quantity", block.start, text, subject=found.number)
            is_section = one_level and (block.level == self.top_level or not self.section)
            self.open_item(found, block.start, block.end, is_section)
            return
        if is_contents_head(self.lines[block.start]):
            self.in_contents = True
        elif is_of_another_form(self.content(block)) and not self.in_contents:
            text = f"The number of the heading is of another form; kept as text: {self.content(block)}."
            self.flag("number of another form", block.start, text)
        elif self.ours:
            self.flag("heading without number", block.start, f"The heading has no number: {self.content(block)}.")
        self.take_text(block)

    def is_in_contents(self, found: Numbered, line: int) -> bool:
        """Whether a numbered line is of the list of contents in hand: it ends in a page, or its number comes again."""
        if not self.in_contents or self.open:
            return False
        again = self.last_lines.get(found.number, line) > line
        return again or (ends_in_page_number(self.lines[line]) and not self.lines[line].startswith("#"))

    def take_paragraph(self, block: Block) -> None:
        if is_contents_head(self.lines[block.start]) and block.end == block.start + 1:
            self.in_contents = True
        line = block.start
        while line < block.end:
            found = paragraph_number(self.lines[line], self.section, self.highest)
            if not found or self.is_in_contents(found, line):
                break
            self.in_contents = False
            self.open_item(found, line, line + 1, False)
            line += 1
            if self.open and found.title and self.runs_on(found.title, line, block.end):
                self.open.lead, self.open.lead_runs_on = found.title, line < block.end
                self.open.numbered = replace(found, title="")
                break
        if line < block.end:
            self.take_text(Block("paragraph", line, block.end))

    def runs_on(self, title: str, line: int, end: int) -> bool:
        """Whether the words after a paragraph's number are the start of its text, not a title."""
        return len(title) > _LONGEST_TITLE or (line < end and self.lines[line].lstrip()[:1].islower())

    def take_text(self, block: Block) -> None:
        if self.open:
            self.open.blocks.append(block)
            self.open.end = block.end
            self.flag_text(block)
            return
        lines = self.lines[block.start : block.end]
        said = [line.strip().lstrip("-+*").strip() for line in lines if line.strip()]
        if self.in_contents or all(is_contents_line(line) or is_contents_head(line) for line in said):
            if not self.contents_noted:
                self.contents_noted = True
                self.flag("list of contents", block.start, "A list of contents is not taken in.", Severity.NOTE)
        elif block.kind != "hr" and not (block.kind == "html_block" and said[0].startswith("<!--")):
            aside = SetAside(self.place(block.start), "\n".join(lines).strip(), "it stands before the first number")
            self.set_aside.append(aside)
            text = "Set aside: text before the first number belongs to no item."
            self.flags.append(Fault("text before the first number", Severity.WARNING, "", text, aside.place))

    def flag_text(self, block: Block) -> None:
        """What is kept as text and may be meant for something else."""
        lines = self.lines[block.start : block.end]
        if block.kind == "paragraph":
            for place, line in enumerate(lines, block.start):
                if is_like_a_heading(line):
                    text = f"Kept as text: {line.strip()[:60]}. Is it a heading?"
                    self.flag("line like a heading", place, text)
        open_fence = block.kind == "fence" and (len(lines) < 2 or not _FENCE.fullmatch(lines[-1]))
        open_comment = (
            block.kind == "html_block" and lines[0].lstrip().startswith("<!--") and "-->" not in "".join(lines)
        )
        if open_fence or open_comment:
            what = "fence of code" if open_fence else "comment"
            text = f"The {what} is not closed: all up to line {block.end} is taken for its text."
            self.flag("not closed", block.start, text)

    # -- headings ----------------------------------------------------------------------------------------------------

    def open_item(self, found: Numbered, line: int, end: int, is_section: bool) -> None:
        self.close()
        if is_section:
            self.section = found.number
        above, _, last = found.number.rpartition(".")
        if last.isdecimal():
            self.highest[above] = max(self.highest.get(above, 0), int(last))
        kind = Kind.SECTION if is_section else Kind.CLAUSE
        self.open = _Open(found, line, len(self.items), kind, end=end)
        self.items.append(None)

    def close(self) -> None:
        """Make the item of the heading in hand, now that all that stands under it is known."""
        if not self.open:
            return
        opened, self.open = self.open, None
        found = opened.numbered
        said = _Said(found.title, state=found.state, reason=found.reason)
        lists = self.field_lists(opened)
        for block in lists:
            self.take_fields(said, block, found.number)
        claimed = [*lists, *(block for block in opened.blocks if self.is_items(block))]
        text = self.text_under(opened, claimed)
        if opened.lead:
            text = f"{opened.lead}{chr(10) if opened.lead_runs_on else chr(10) * 2}{text}"
        said.text = "\n\n".join(part for part in (text, said.text) if part)
        section = self.section or levels(found.number)[0]
        item = plain_item(said.item(found.number, opened.kind, Layout.HEADING, section))
        if opened.kind is not Kind.SECTION:
            item = replace(item, kind=kind_under_heading(item))
        source = "\n".join(self.lines[opened.line : opened.end]).rstrip()
        self.items[opened.slot] = TakenItem(item, self.place(opened.line), source)

    def is_items(self, block: Block) -> bool:
        return block.kind == "table" and is_item_table(self.lines[block.start])

    def field_lists(self, opened: _Open) -> list[Block]:
        """The lists of fields: the first or the last block under the heading, tables of items apart."""
        blocks = [block for block in opened.blocks if not self.is_items(block)]
        ends = blocks[:1] + blocks[1:][-1:]
        return [block for block in ends if block.kind == "bullet_list" and self.is_field_list(block)]

    def is_field_list(self, block: Block) -> bool:
        labels = (split_field(content) for _, content, _ in self.entries(block))
        return any(known and known[0].lower() in (*FIELD_BY_LABEL, *_STATE_BY_LABEL) for known in labels)

    def entries(self, block: Block) -> Iterator[tuple[int, str, str]]:
        """Line, first line's content and all the text of each entry of a list."""
        for start, end in zip(block.starts, (*block.starts[1:], block.end), strict=True):
            entry = _ENTRY.fullmatch(self.lines[start])
            first = (entry["content"] or "").strip() if entry else ""
            more = [line.strip() for line in self.lines[start + 1 : end] if line.strip()]
            yield start, first, " ".join([first, *more])

    def text_under(self, opened: _Open, claimed: Sequence[Block]) -> str:
        """The lines under a heading that nothing else claims."""
        if not opened.blocks:
            return ""
        taken = {line for block in claimed for line in range(block.start, block.end)}
        verbatim = {
            line for block in opened.blocks if block.kind in _VERBATIM_BLOCKS for line in range(block.start, block.end)
        }
        kept: list[str] = []
        gap = False
        for number in range(opened.blocks[0].start, opened.end):
            if number in taken:
                gap = True
                continue
            line = self.lines[number].rstrip(" \t")
            if gap and not line:
                continue
            if gap:
                while kept and not kept[-1]:
                    kept.pop()
                kept.append("")
                gap = False
            kept.append(line if number in verbatim else text_line(line))
        return plain_text("\n".join(kept))

    # -- fields ------------------------------------------------------------------------------------------------------

    def take_fields(self, said: _Said, block: Block, number: str) -> None:
        """Take the entries of a list of fields; what is no field, or is given twice, is set aside."""
        for line, first, whole in self.entries(block):
            pair = split_field(whole) if split_field(first) else None
            if pair is None:
                self.put_aside("no field", line, whole, "a list of fields has an entry without a label", number)
                continue
            label, value = pair
            name = label.lower() if label.lower() in RESERVED_LABELS else label
            if name in said.seen or name == "item" or (name == "description" and said.title):
                self.put_aside("field given twice", line, whole, f"{label} is given twice for {number}", number)
                continue
            if self.lines[line + 1 : line + 2] and whole != first and not self.lines[line + 1].startswith((" ", "\t")):
                text = f"{label} of {number} runs on in the next line; leave a blank line between fields and text."
                self.flag("field runs on", line, text, subject=number)
            said.seen.add(name)
            self.take_field(said, label, value, line, number)

    def take_field(self, said: _Said, label: str, value: str, line: int, number: str) -> None:
        state = _STATE_BY_LABEL.get(label.lower())
        if state is None:
            said.put(label, value)
            return
        reason = reason_of(value, state)
        if said.state is not State.LIVE and said.state is not state:
            text = f"{number} is said to be both deleted and reserved."
            self.flag("two states", line, text, subject=number)
            said.state, said.reason = State.DELETED, f"{said.reason}; {reason}".strip("; ")
        else:
            said.state, said.reason = state, reason or said.reason

    # -- tables ------------------------------------------------------------------------------------------------------

    def take_table(self, block: Block) -> None:
        columns = self.columns(block)
        for line in range(block.start + 2, block.end):
            self.take_row(line, columns)

    def columns(self, block: Block) -> list[str]:
        """The labels of a table's columns, each unlike the others."""
        head = [plain_label(value_of(cell)) for cell in split_cells(self.lines[block.start])]
        dashes = split_cells(self.lines[block.start + 1])
        if len(head) != len(dashes):
            text = f"The head has {len(head)} columns, the line of dashes under it {len(dashes)}."
            self.flag("cell count", block.start + 1, text)
        columns: list[str] = []
        seen: set[str] = set()
        for place, label in enumerate(head, 1):
            name = label.lower() if label.lower() in RESERVED_LABELS else label
            if not label:
                columns.append(f"Column {place}")
            elif name in seen:
                columns.append(f"{label} (column {place})")
                self.flag("column given twice", block.start, f"The column {label} stands twice in the head.")
            else:
                columns.append(label)
            seen.add(name)
        return columns

    def take_row(self, line: int, columns: Sequence[str]) -> None:
        source = self.lines[line]
        cells = split_cells(source)
        if not any(cells):
            return
        number = without_bold(plain_line(value_of(cells[0])))
        if len(cells) != len(columns):
            reason = f"the row has {len(cells)} cells, the head {len(columns)}"
            self.put_aside("cell count", line, source, reason, number)
            return
        if not number:
            self.put_aside("no number", line, source, "the row has no number")
            return
        stop = _NUMBER_WITH_STOP.fullmatch(number)
        number = stop[1] if stop else number
        said = _Said("")
        for label, cell in zip(columns[1:], cells[1:], strict=True):
            value = value_of(cell)
            if not value:
                continue
            if label.lower() in ("description", "title") and not said.title:
                found = numbered(number, plain_line(value))
                said.title = found.title
                if found.state is not State.LIVE:
                    said.state, said.reason = found.state, found.reason
            else:
                self.take_field(said, label, value, line, number)
        item = said.item(number, Kind.ITEM, Layout.ROW, self.section or levels(number)[0])
        self.items.append(TakenItem(plain_item(item), self.place(line), source))

    # -- faults ------------------------------------------------------------------------------------------------------

    def flag(self, name: str, line: int, text: str, severity: Severity = Severity.WARNING, subject: str = "") -> None:
        self.flags.append(Fault(name, severity, subject, text, self.place(line)))

    def put_aside(self, name: str, line: int, text: str, reason: str, subject: str = "") -> None:
        aside = SetAside(self.place(line), text, reason)
        self.set_aside.append(aside)
        self.flags.append(aside.fault(name, subject))
