"""The words of an extract that every form of it shares, so that paper, Markdown and later forms say the same."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from specreg.core.counts import grouped, so_many
from specreg.core.extracts import Extract, ExtractLine, Reconciliation, TitleBlock
from specreg.output.weight_wording import together_pairs, weight_details

NOTHING = "–"
WITHDRAWN_HEADING = "Withdrawn: no longer your lines"
NONE_WITHDRAWN = "none withdrawn"
MOST_NEWS = 20
"""Rows of what is new that the first sheet has room for."""

_WITH_EXTRA = re.compile(r"[0-9]+\+[0-9]+")

Pair = tuple[str, str]
"""A caption and its text."""


def department(extract: Extract) -> str:
    """Code and name: `FDY Foundry`."""
    return f"{extract.department} {extract.department_name}".strip()


def heading(extract: Extract) -> str:
    """What stands over the first sheet: `Foundry: extract 2 of revision B`; a part says which."""
    name = extract.department_name or extract.department
    part = f", section {extract.part} only" if extract.part else ""
    return f"{name}: extract {extract.number} of revision {extract.title_block.revision or NOTHING}{part}"


def nil_sentence(extract: Extract) -> str:
    """What an extract without lines says, so that silence is never ambiguous."""
    name = extract.department_name or extract.department
    if name[1:2].islower():
        name = name[0].lower() + name[1:]
    where = f" in section {extract.part}" if extract.part else ""
    return f"No items for the {name}{where} at revision {extract.title_block.revision}"


def compared(extract: Extract) -> str:
    """What the signs compare with, and how many lines bear which."""
    if not extract.since and extract.number > 1:
        return "nothing: no extract of an earlier revision was made for this department"
    if not extract.since:
        return "nothing: this is the first extract for this department"
    if not extract.changed:
        return f"unchanged for you since {extract.since}"
    signs = [line.sign for line in extract.lines]
    added, altered = signs.count("+"), signs.count("»")
    return (
        f"{extract.since}: {grouped(added)} added, {grouped(altered)} altered, "
        f"{grouped(len(extract.withdrawn))} withdrawn, {grouped(len(signs) - added - altered)} as before"
    )


def reconciled(proof: Reconciliation) -> tuple[str, ...]:
    """The proof of the split in sentences; the last says in words whether it holds."""
    items = proof.allocated + proof.no_action + proof.unallocated
    return (
        f"{so_many(proof.steps, 'step')} {_equal(proof.difference)} {grouped(proof.in_shares)} in shares, "
        f"difference {grouped(proof.difference)}",
        f"{so_many(proof.items, 'item')} {_equal(proof.items - items)} {grouped(proof.allocated)} allocated "
        f"+ {grouped(proof.no_action)} no action + {grouped(proof.unallocated)} unallocated",
        f"{so_many(proof.order_off, 'piece')} in the order {_equal(proof.off_difference)} {grouped(proof.final_off)} "
        f"from final steps, difference {grouped(proof.off_difference)}",
        "nothing lost" if proof.holds and proof.items == items else "THE SHARES DO NOT MAKE UP THE WHOLE",
    )


def _equal(difference: int) -> str:
    return "against" if difference else "="


def summary(extract: Extract) -> tuple[Pair, ...]:
    """The first sheet above the lines, as (caption, text); captions without text are left out."""
    block = extract.title_block
    uncounted = f"{so_many(extract.not_counted, 'line')} (as required, sets)" if extract.not_counted else ""
    pairs = [
        ("Order", f"{extract.order} {extract.order_title}"),
        ("Customer", extract.customer),
        ("Machines", extract.machines),
        ("Extract", f"{extract.number} for {department(extract)}, issued {block.date_of_issue or NOTHING}"),
        ("Part", f"section {extract.part} only: a part of the share, not the whole" if extract.part else ""),
        ("Revision", f"{block.revision or NOTHING}, seal {extract.revision_seal or NOTHING}"),
        ("Replaces", "" if extract.part else extract.replaces),
        ("Compared with", compared(extract)),
        ("Lines", grouped(len(extract.lines))),
        ("Pieces", pieces(extract)),
        ("Not counted", uncounted),
        *weights(extract),
        ("Signs", "\n".join(legend(extract))),
        *(("Caution", caution) for caution in extract.cautions),
        ("Reconciliation", "\n".join(reconciled(extract.reconciliation))),
    ]
    return tuple((caption, text) for caption, text in pairs if text)


def weights(extract: Extract) -> tuple[Pair, ...]:
    """What the share weighs, as (caption, text)."""
    has_assemblies = any(line.weighs is not None and line.weighs.is_by_parts for line in extract.lines)
    counted = "an assembly counts by those of its parts that have no line here" if has_assemblies else ""
    return together_pairs(extract.weight, counted)


def pieces(extract: Extract) -> str:
    """The pieces of the share, and how many of them are on hold: `3 324, of which 6 pieces on hold`."""
    held = sum(line.pieces or 0 for line in extract.lines if _clearance(line) == "hold")
    if not held:
        return grouped(extract.pieces)
    return f"{grouped(extract.pieces)}, of which {so_many(held, 'piece')} on hold"


def legend(extract: Extract) -> tuple[str, ...]:
    """What the signs that occur in the margin mean, and a number off with an extra, a few to a line."""
    lines = (*extract.lines, *extract.withdrawn)
    changed = {line.sign for line in extract.lines}
    safety = sum(bool(line.safety) for line in extract.lines)
    marked = f"§ safety ({so_many(safety, 'line')})" if safety else "§ safety"
    clearances = {_clearance(line) for line in lines}
    short = (
        "+ added" if "+" in changed else "",
        "» altered" if "»" in changed else "",
        "- withdrawn" if extract.withdrawn else "",
        marked if any(line.safety for line in lines) else "",
    )
    told = (
        ", ".join(one for one in short if one),
        "H hold: do not make" if "hold" in clearances else "",
        "M material only: get the material and do not make" if "material only" in clearances else "",
        "+ after a number off: extra against wasters" if any(map(_has_extra, lines)) else "",
    )
    return tuple(one for one in told if one)


@dataclass(frozen=True, slots=True)
class News:
    """One row of what is new: the sign, the number, the title with what changed in it."""

    sign: str
    number: str
    text: str


def news_heading(extract: Extract) -> str:
    """What stands over the rows of what is new."""
    return f"New for you since {extract.since}"


def news(extract: Extract) -> tuple[News, ...]:
    """What is new for the department: added, then altered, then withdrawn; none on a first extract.

    An item that comes twice with the same change has one row.
    """
    if not extract.since:
        return ()
    rows = [
        *(News("+", line.number, _in_one_line(line.title)) for line in extract.lines if line.sign == "+"),
        *(News("»", line.number, _titled(line.title, line.was)) for line in extract.lines if line.sign == "»"),
        *(News("-", line.number, _titled(line.title, line.was.replace(": ", ", ", 1))) for line in extract.withdrawn),
    ]
    return tuple(dict.fromkeys(rows))


def first_news(rows: Sequence[News]) -> tuple[tuple[News, ...], str]:
    """The rows that the first sheet has room for, and `and 14 more, signed in the list` for the others.

    Altered rows give way first, withdrawn ones last: what is made in vain is the dearest to overlook.
    """
    kept = sorted(rows, key=lambda row: "-+»".index(row.sign))[:MOST_NEWS]
    shown = tuple(row for row in rows if row in kept)
    over = len(rows) - len(shown)
    return shown, f"and {grouped(over)} more, signed in the list" if over else ""


def _titled(title: str, change: str) -> str:
    return _in_one_line(f"{title}: {change}" if change else title)


def _in_one_line(text: str) -> str:
    return " ".join(text.split())


def _has_extra(line: ExtractLine) -> bool:
    return _WITH_EXTRA.fullmatch(line.off.strip()) is not None


def _clearance(line: ExtractLine) -> str:
    return line.clearance.strip().lower()


def section_heading(line: ExtractLine) -> str:
    """Number and title of the section a line stands in; empty when it has neither."""
    return f"{line.section} {line.section_title}".strip()


def signs(line: ExtractLine) -> str:
    """The margin of a line: its change sign, `§` for safety, then `H` hold or `M` material only."""
    return margin(line.sign, line.safety, line.clearance)


def margin(sign: str, safety: str, clearance: str) -> str:
    """Signs for the margin, from what a line says."""
    allowed = {"hold": "H", "material only": "M"}.get(clearance.strip().lower(), "")
    return " ".join(one for one in (sign, "§" if safety else "", allowed) if one)


def number_off(line: ExtractLine) -> str:
    """The number off as written, and its total where that says more: `17+1` and `= 18`."""
    if line.pieces is None or line.off.strip() in (str(line.pieces), grouped(line.pieces)):
        return line.off or NOTHING
    return f"{line.off}\n= {grouped(line.pieces)}" if line.off else grouped(line.pieces)


def details(line: ExtractLine, weights: Sequence[Pair] | None = None) -> tuple[Pair, ...]:
    """What stands below a line's columns as (caption, text), what changed first; only what says something.

    A text or remark that was altered stands in what changed and is not said again. `weights` is what is said of its
    weight, where that is not all that is known.
    """
    clearance = "" if _clearance(line) == "make" else line.clearance
    pairs = (
        ("Why" if line.sign == "-" else "Altered", line.was),
        ("Text", _unless_told(line, "Text was", line.text)),
        ("Pattern", line.pattern),
        *(weight_details(line.weighs, line.pieces, line.weight) if weights is None else weights),
        # For who makes it first: those after him have it as he leaves it.
        ("Rough size", line.weighs.rough_size if line.weighs is not None and not line.came_from else ""),
        ("Machines", line.machines),
        ("Hand", line.hand),
        ("Supply", line.supply),
        ("Wanted", line.wanted),
        ("Clearance", clearance),
        ("Safety", line.safety),
        ("Remarks", _unless_told(line, "Remarks were", line.remarks)),
    )
    return tuple((caption, text) for caption, text in pairs if text)


def _unless_told(line: ExtractLine, opening: str, text: str) -> str:
    """The text, unless it is read in what changed."""
    return "" if f"{opening} " in line.was and f", now {text}" in line.was else text


def title_rows(extract: Extract, sheet: str) -> tuple[tuple[Pair, ...], ...]:
    """The title block row by row as (caption, text): mandatory fields of ISO 7200, then department, extract and seal.

    `sheet` is the sheet count of this sheet (`2 of 5`); empty where it is written in later.
    """
    last = (
        ("Department", department(extract)),
        ("Extract", str(extract.number)),
        ("Responsible", extract.title_block.responsible_department),
        ("Seal", extract.seal),
    )
    return block_rows(extract.title_block, extract.part, last, sheet)


def block_rows(block: TitleBlock, part: str, last: tuple[Pair, ...], sheet: str) -> tuple[tuple[Pair, ...], ...]:
    """The rows of any title block: mandatory fields of ISO 7200 and the section printed alone, if one is; then the last
    row, with the sheet count behind it."""
    said_alone = f"section {part} only" if part else ""
    title = "\n".join(one for one in (block.title, block.supplementary_title, said_alone) if one)
    rows: tuple[tuple[Pair, ...], ...] = (
        (("Legal owner", block.legal_owner), ("Title", title), ("Document type", block.document_type)),
        (
            ("Identification number", block.identification_number),
            ("Revision", block.revision),
            ("Date of issue", block.date_of_issue),
            ("Creator", block.creator),
            ("Approval person", block.approval_person),
        ),
        last,
    )
    said = [tuple((caption, text or NOTHING) for caption, text in row) for row in rows]
    return (*said[:-1], (*said[-1], ("Sheet", sheet)))


def closing(extract: Extract) -> str:
    """The last words of the list, so that a lost last sheet is missed."""
    withdrawn = grouped(len(extract.withdrawn))
    part = f", section {extract.part} only" if extract.part else ""
    return f"End of extract {extract.number}{part}: {so_many(len(extract.lines), 'line')}, {withdrawn} withdrawn"


def receipt(extract: Extract) -> tuple[Pair, ...]:
    """The receipt as (caption, text); a text left empty is written in by hand."""
    part = f", section {extract.part} only" if extract.part else ""
    return (
        ("Extract", f"{extract.number}, {extract.title_block.identification_number}".rstrip(", ") + part),
        ("Department", department(extract)),
        ("Seal", extract.seal or NOTHING),
        ("Received by", ""),
        ("Date", ""),
    )
