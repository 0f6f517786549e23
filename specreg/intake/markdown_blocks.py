"""Where the blocks of a Markdown file stand: headings, paragraphs, lists, tables, by their lines.

CommonMark decides what a block is; only the blocks at the top level matter, and of them only the lines: the text itself
is taken from the source. Tables are found by a rule of our own, which takes no time over their cells and does not lose
an item table whose second row has too few dashes.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from specreg.intake.markdown_cells import split_cells, without_bold

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.rules_block import StateBlock

_DELIMITER = re.compile(r"\|?[ \t]*:?-+:?[ \t]*(?:\|[ \t]*:?-+:?[ \t]*)*\|?[ \t]*")


@dataclass(frozen=True, slots=True)
class Block:
    """One block: `start` its first line, `end` the line after its last, both counted from 0.

    `kind` is heading, paragraph, bullet_list, table, fence, code_block, html_block or another block of CommonMark.
    `level` is a heading's level, `starts` the first lines of a list's entries.
    """

    kind: str
    start: int
    end: int
    level: int = 0
    starts: tuple[int, ...] = ()


def blocks_of(text: str) -> list[Block]:
    """The blocks of a text at the top level, in its order."""
    blocks: list[Block] = []
    starts: list[int] = []
    for token in _parser().parse(text):
        if token.type == "list_item_open" and token.level == 1 and token.map:
            starts.append(token.map[0])
        if token.level or token.nesting < 0 or not token.map:
            continue
        if blocks and blocks[-1].kind == "bullet_list" and not blocks[-1].starts:
            blocks[-1] = _with_starts(blocks[-1], starts)
        starts = []
        kind = token.type.removesuffix("_open")
        level = int(token.tag[1:]) if kind == "heading" else 0
        blocks.append(Block(kind, token.map[0], token.map[1], level))
    if blocks and blocks[-1].kind == "bullet_list":
        blocks[-1] = _with_starts(blocks[-1], starts)
    return blocks


def is_item_table(head: str) -> bool:
    """Whether the head line of a table has `Item` as its first column."""
    cells = split_cells(head)
    return bool(cells) and without_bold(cells[0]).casefold() == "item"


def _with_starts(block: Block, starts: list[int]) -> Block:
    return Block(block.kind, block.start, block.end, block.level, tuple(starts))


def _parser() -> MarkdownIt:
    from markdown_it import MarkdownIt

    parser = MarkdownIt("commonmark", {"html": True})
    parser.core.ruler.enableOnly(["normalize", "block"])
    parser.block.ruler.disable("reference")
    ends_a_table = parser.block.ruler.getRules("blockquote")
    parser.block.ruler.at("table", _table_rule(ends_a_table), {"alt": ["paragraph", "reference"]})
    parser.enable("table")
    return parser


def _table_rule(ends: list[Callable[[StateBlock, int, int, bool], bool]]) -> Callable[..., bool]:
    def table(state: StateBlock, start: int, end: int, silent: bool) -> bool:
        if start + 2 > end:
            return False
        delimiter = _line(state, start + 1)
        if not delimiter or delimiter[0] not in "|-:" or not _DELIMITER.fullmatch(delimiter):
            return False
        head = _line(state, start)
        if "|" not in head or state.is_code_block(start) or state.is_code_block(start + 1):
            return False
        if not is_item_table(head):
            if len(split_cells(head)) != len(split_cells(delimiter)) or state.sCount[start + 1] < state.blkIndent:
                return False
        elif state.sCount[start + 1] < state.blkIndent and not silent:
            return False
        # An item table ends the list of fields above it, though no blank line parts them.
        if silent:
            return True
        line = start + 2
        while line < end and not _ends_table(state, line, end, ends):
            line += 1
        token = state.push("table", "table", 0)
        token.map = [start, line]
        state.line = line
        return True

    return table


def _line(state: StateBlock, line: int) -> str:
    return state.src[state.bMarks[line] + state.tShift[line] : state.eMarks[line]]


def _ends_table(
    state: StateBlock, line: int, end: int, ends: list[Callable[[StateBlock, int, int, bool], bool]]
) -> bool:
    if state.sCount[line] < state.blkIndent or state.isEmpty(line) or state.is_code_block(line):
        return True
    # A row that begins with a pipe is no start of another block, and looking is dear in a table of thousands of rows.
    if state.src[state.bMarks[line] + state.tShift[line]] == "|":
        return False
    return any(rule(state, line, end, True) for rule in ends)
