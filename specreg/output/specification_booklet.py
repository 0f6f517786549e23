"""The whole specification as a booklet: a sheet or more for each section, contents and the proof on the front."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from specreg.core.counts import grouped, so_many
from specreg.core.model import Kind
from specreg.core.whole_specification import NOT_ISSUED, SpecificationLine, SpecificationSection, WholeSpecification
from specreg.output.booklet import Booklet, BookletLine, Column, Contents, Entry, Facts, Pair, Part
from specreg.output.extract_booklet import BOLD, LARGE, TITLE_WEIGHTS, below, caution_box, warning
from specreg.output.extract_wording import NOTHING, block_rows, margin, reconciled
from specreg.output.files import safe_name
from specreg.output.founts import Cut
from specreg.output.line_breaking import Said
from specreg.output.weight_wording import together_pairs, total_words, weight_details

COLUMNS = (
    Column("Item", 22), Column("Off", 18), Column("Description", 52), Column("Material\nsize", 40),
    Column("Drawing\nrevision", 34),
)  # fmt: skip
"""The columns of the specification."""

_WEIGHTS = ("Weight", "Rough weight")
"""The fields of a line that say what one piece weighs."""


def specification_booklet(whole: WholeSpecification) -> Booklet:
    """All that a specification prints."""
    pairs = summary(whole)
    return Booklet(
        name=f"{whole.title_block.identification_number} {heading(whole)}".strip(),
        heading=heading(whole),
        front=(Facts(pairs), *caution_box(tuple(("Caution", text) for text in whole.cautions)), Contents()),
        columns=COLUMNS,
        parts=tuple(map(_part, whole.sections)),
        warning=warning(whole.cautions, any(line.safety and not line.gone for line in whole.lines)),
        nil="" if whole.sections else "The specification has no sections yet",
        closing=(closing(whole),),
        receipt=None,
        title=title_rows(whole),
        weights=(TITLE_WEIGHTS[0], TITLE_WEIGHTS[1], (37, 22, 14)),
        bold=BOLD,
    )


def file_name(whole: WholeSpecification) -> str:
    """`W611-B-specification.pdf`; `-section-4` before the end for a part, `open` for what is not issued."""
    letter = whole.title_block.revision if whole.is_issued else "open"
    part = f"section-{whole.sections[0].number}" if whole.part else ""
    return safe_name((whole.order, letter, "specification", part)) + ".pdf"


def heading(whole: WholeSpecification) -> str:
    """What stands over the first sheet: `Specification, revision B`."""
    part = f", section {whole.part} only" if whole.part else ""
    if not whole.is_issued:
        return f"Specification as it stands{part}: {NOT_ISSUED}"
    return f"Specification, revision {whole.title_block.revision}{part}"


def summary(whole: WholeSpecification) -> tuple[Pair, ...]:
    """The first sheet above the contents, as (caption, text); captions without text are left out."""
    block = whole.title_block
    issued = f"{block.revision}, issued {block.date_of_issue or NOTHING}, seal {whole.seal or NOTHING}"
    pairs = (
        ("Order", f"{whole.order} {whole.order_title}"),
        ("Customer", whole.customer),
        ("Machines", whole.machines),
        ("Spares", whole.spares),
        ("Inspecting authority", whole.authority),
        ("Revision", issued if whole.is_issued else f"{NOT_ISSUED}, as it stood {block.date_of_issue}"),
        ("Notes open in it", "\n".join(whole.open_notes)),
        ("Part", f"section {whole.part} only: a part of the specification, not the whole" if whole.part else ""),
        ("Compared with", compared(whole)),
        ("Items", _items(whole)),
        *together_pairs(whole.weight, "an assembly counts by its parts" if _has_assemblies(whole) else ""),
        ("Signs", "\n".join(_legend(whole))),
        ("Reconciliation", "\n".join(reconciled(whole.reconciliation))),
    )
    return tuple((caption, text) for caption, text in pairs if text.strip())


def compared(whole: WholeSpecification) -> str:
    """What the signs compare with, and how many numbers bear which."""
    if not whole.since:
        return "nothing: no earlier revision was issued"
    signs = Counter(line.sign for line in whole.lines)
    renumbered = f", {grouped(signs['='])} only renumbered" if signs["="] else ""
    beside = sum(line.sign == "»" and not line.is_edited for line in whole.lines)
    of_them = (
        f" ({grouped(beside)} of them by a drawing's revision or an assembly's number off alone)" if beside else ""
    )
    return (
        f"{whole.since}: {grouped(signs['+'])} added, {grouped(signs['»'])} altered{of_them}, "
        f"{grouped(signs['-'])} deleted{renumbered}"
    )


def closing(whole: WholeSpecification) -> str:
    """The last words of the list, so that a lost last sheet is missed."""
    what = f"section {whole.part}" if whole.part else "the specification"
    return f"End of {what}: {_items(whole)}"


def title_rows(whole: WholeSpecification) -> tuple[tuple[Pair, ...], ...]:
    """The title block row by row as (caption, text): mandatory fields of ISO 7200, then the seal; the sheet's number is
    left empty."""
    last = (("Responsible", whole.title_block.responsible_department), ("Seal", whole.seal))
    return block_rows(whole.title_block, whole.part, last, "")


def _items(whole: WholeSpecification) -> str:
    live = sum(section.items for section in whole.sections)
    gone = sum(bool(line.gone) for line in whole.lines)
    listed = f", and {so_many(gone, 'number')} deleted or reserved" if gone else ""
    return f"{so_many(live, 'item')} in {so_many(len(whole.sections), 'section')}{listed}"


def _legend(whole: WholeSpecification) -> Iterator[str]:
    signs = {line.sign for line in whole.lines}
    safety = sum(bool(line.safety) and not line.gone for line in whole.lines)
    words = (("+", "added"), ("»", "altered"), ("=", "only renumbered"), ("-", "deleted"))
    told = [f"{sign} {word}" for sign, word in words if sign in signs]
    if safety:
        told.append(f"§ safety ({so_many(safety, 'item')})")
    if told:
        yield ", ".join(told)
    clearances = {line.clearance.strip().lower() for line in whole.lines}
    if "hold" in clearances:
        yield "H hold: do not make"
    if "material only" in clearances:
        yield "M material only: get the material and do not make"


def _part(section: SpecificationSection) -> Part:
    name = f"{section.number} {section.title}".strip()
    lines = tuple(_line(line) for line in section.lines if line.kind is not Kind.SECTION or _says_more(line))
    is_bare = all(line.kind is Kind.SECTION and not line.text for line in section.lines)
    count = so_many(section.items, "item") if section.items else "nothing yet" if is_bare else "text only"
    return Part(section.number or NOTHING, name, count, lines, total_words(section.weight) if section.weight else "")


def _has_assemblies(whole: WholeSpecification) -> bool:
    return any(line.weighs is not None and line.weighs.is_by_parts for line in whole.lines)


def _says_more(line: SpecificationLine) -> bool:
    """Whether a section's own line says more than its heading."""
    return bool(line.text or line.was or line.sign or line.fields or line.drawing or line.gone)


def _line(line: SpecificationLine) -> BookletLine:
    number = (Entry(Said(line.number, Cut.BOLD), LARGE),)
    title = (Entry(Said(line.title, Cut.BOLD)),)
    if line.gone or (line.kind is not Kind.ITEM and not (line.off or line.material or line.size or line.drawing)):
        cells: tuple[tuple[Entry, ...], ...] = (number, (), title)
    else:
        as_written = (Entry(Said(line.as_written)),) if line.as_written not in ("", line.off) else ()
        cells = (
            number,
            (Entry(Said(line.off or NOTHING, Cut.BOLD), LARGE), *as_written),
            title,
            (Entry(Said(line.material or NOTHING)), Entry(Said(line.size))),
            (Entry(Said(line.drawing or NOTHING)),),
        )
    return BookletLine(
        name=line.number,
        margin=margin(line.sign, line.safety, line.clearance),
        cells=cells,
        below=below(_details(line)),
        warned=not line.gone and (bool(line.safety) or _tells_weight(line)),
    )


def _tells_weight(line: SpecificationLine) -> bool:
    return bool(dict(line.fields).get("Weight")) or (line.weighs is not None and line.weighs.one is not None)


def _details(line: SpecificationLine) -> tuple[Pair, ...]:
    """What stands below the columns, what changed first; of a number that is gone only why."""
    if line.gone:
        return (("Why", f"{line.gone[:1].upper()}{line.gone[1:]}"),)
    fields = dict(line.fields)
    remarks = fields.get("Remarks", "")
    weights = [fields.get(label, "") for label in _WEIGHTS]
    clearance = "" if line.clearance.strip().lower() == "make" else line.clearance
    pairs = (
        ("Altered", line.was),
        ("Text", line.text),
        ("Remarks", remarks),
        *((label, text) for label, text in line.fields if label not in ("Remarks", *_WEIGHTS)),
        *weight_details(line.weighs, line.pieces, *weights),
        ("Clearance", clearance),
        ("Safety", line.safety),
        ("Number off", line.working if line.working != line.off else ""),
        ("Route", line.route),
    )
    return tuple((caption, text) for caption, text in pairs if text)
