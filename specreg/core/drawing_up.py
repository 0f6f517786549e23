"""Drawing up a department's extract from a picture of the order: its lines as printed, its signs, its totals."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from specreg.core.errors import NotFound
from specreg.core.extracts import Extract, ExtractLine, LineWeight, Reconciliation, ShareWeight, TitleBlock
from specreg.core.model import Item, Sheet, State, Step
from specreg.core.numbering import number_key
from specreg.core.picture import Picture
from specreg.core.seals import content_digest, row_digest
from specreg.core.shares import Line, LineKey, share_changes
from specreg.core.standards import Department
from specreg.core.weighing import Scales, together
from specreg.core.word_changes import was_and_now

_NOT_COUNTED = "as required"

NO_STAGE = "no stage known"
"""What stands beside a drawing whose stage nobody has written down."""


@dataclass(frozen=True, slots=True)
class Issue:
    """The head of the revision an extract is drawn up from; `seal` is its short code."""

    letter: str
    date: str
    drawn: str
    approved: str
    seal: str


@dataclass(frozen=True, slots=True)
class Since:
    """The department's last extract before this one: its number and seal, and the share it gave."""

    number: int
    seal: str
    letter: str
    picture: Picture
    lines: tuple[Line, ...]

    @property
    def named(self) -> str:
        """How paper and screen name it."""
        return f"extract {self.number} of revision {self.letter}"


@dataclass(frozen=True, slots=True)
class Tally:
    """A share in figures, as its extract totals it: its lines, the pieces of those counted, how many are not counted,
    and how many lines are new, altered and withdrawn since the last extract."""

    lines: int
    pieces: int
    not_counted: int
    added: int
    altered: int
    withdrawn: int


def tally(picture: Picture, lines: Sequence[Line], since: Since | None) -> Tally:
    """The figures of a department's extract, without printing its lines."""
    signs, withdrawn = _changes(picture, lines, since)
    found = Counter(signs[line.identity][0] for line in lines if line.identity in signs)
    return Tally(len(lines), _pieces(lines), _not_counted(lines), found["+"], found["»"], len(withdrawn))


def draw_up(
    picture: Picture,
    department: Department,
    number: int,
    issue: Issue,
    lines: Sequence[Line],
    reconciliation: Reconciliation,
    since: Since | None,
    scales: Scales | None = None,
) -> Extract:
    """A department's extract, without the seal, which is given when it is numbered; `number` is 0 before that. It
    bears weights where there are `scales` to weigh it."""
    signs, withdrawn = _changes(picture, lines, since)
    weights: Sequence[LineWeight | None] = scales.weigh(lines) if scales else [None] * len(lines)
    printed = tuple(
        _line(line, picture, *signs.get(line.identity, ("", "")), weight)
        for line, weight in zip(lines, weights, strict=True)
    )
    house = picture.standards.house
    return Extract(
        order=picture.order.number,
        order_title=picture.order.title,
        machines=picture.order.machines,
        customer=picture.order.customer,
        department=department.code,
        department_name=department.name,
        number=number,
        title_block=TitleBlock(
            legal_owner=house.works,
            document_type=house.document_type,
            identification_number=_identification(picture.order.number, department.code, number),
            title=picture.order.title,
            supplementary_title=department.name,
            revision=issue.letter,
            date_of_issue=issue.date,
            creator=issue.drawn,
            approval_person=issue.approved,
            responsible_department="Drawing office",
        ),
        revision_seal=issue.seal,
        since=since.named if since else "",
        changed=since is None or bool(signs) or bool(withdrawn),
        replaces=f"extract {since.number}, seal {since.seal}" if since else "",
        lines=printed,
        withdrawn=withdrawn,
        pieces=_pieces(lines),
        not_counted=_not_counted(lines),
        reconciliation=reconciliation,
        cautions=house.cautions if any(line.safety or line.tells_weight for line in (*printed, *withdrawn)) else (),
        seal="",
        weight=_together(printed, picture) if scales else None,
    )


def numbered(extract: Extract, number: int) -> Extract:
    """The same extract under the number it is given."""
    identification = _identification(extract.order, extract.department, number)
    return replace(
        extract, number=number, title_block=replace(extract.title_block, identification_number=identification)
    )


def _identification(order: str, code: str, number: int) -> str:
    return f"{order} {code} {number}" if number else f"{order} {code}"


def _together(lines: Iterable[ExtractLine], picture: Picture) -> ShareWeight:
    return together(((line.weighs, line.pieces) for line in lines if line.weighs is not None), picture.order.units)


def _pieces(lines: Sequence[Line]) -> int:
    return sum(line.step.total or 0 for line in lines)


def _not_counted(lines: Sequence[Line]) -> int:
    return sum(line.step.total is None for line in lines)


def _changes(
    picture: Picture, lines: Sequence[Line], since: Since | None
) -> tuple[dict[LineKey, tuple[str, str]], tuple[ExtractLine, ...]]:
    """The sign of each line that is new or altered with what stood before, and the lines withdrawn with the reason;
    none where there is nothing to compare with."""
    if since is None:
        return {}, ()
    changes = share_changes(since.lines, lines)
    before = {line.identity: line for line in since.lines}
    signs = {line.identity: ("+", "") for line in changes.added}
    now = [(line.identity, line) for line in lines]
    # Most lines stand as they were, and need not be printed twice to see it; but a number used twice must.
    told_apart = len(before) == len(since.lines) and len(dict(now)) == len(now)
    alike = told_apart and since.picture.standards == picture.standards
    standing = {line.identity for line in changes.standing} if alike else frozenset()
    for identity, line in now:
        if identity not in before or (identity in standing and _same_paper(line, since.picture, picture)):
            continue
        # A line may stand as it was while the sheet it calls up has come to a new revision: paper is what counts.
        differences = paper_differences(before[identity], line, since.picture, picture)
        if differences:
            signs[identity] = ("»", "; ".join(was_and_now(*one) for one in differences))
    gone = {line.key for line in changes.withdrawn}
    there = [item for item in picture.items if gone and number_key(item.number) in gone]
    # A number deleted and given anew, as an outsider's specification may do, stands for the item that is wanted.
    there.sort(key=lambda item: item.state is State.LIVE)
    says = {number_key(item.number): item for item in there}
    withdrawn = (_line(line, since.picture, "-", why_withdrawn(says.get(line.key))) for line in changes.withdrawn)
    return signs, tuple(withdrawn)


def why_withdrawn(now: Item | None) -> str:
    """Why a line is a department's no longer, from what its item says now; None when there is no such item."""
    if now is None:
        return "no longer in the specification"
    if now.state is State.LIVE:
        return "no longer on your route"
    return f"{now.state.value}: {now.reason}" if now.reason else now.state.value


def part_of(extract: Extract, picture: Picture, section: str) -> Extract:
    """The lines of one section, as an extract that says it is a part and replaces nothing.

    Raises NotFound for an unknown section.
    """
    titles = picture.section_titles
    name = section_named(picture, section)
    lines = tuple(line for line in extract.lines if line.section == name)
    return replace(
        extract,
        part=f"{name} {titles[name]}".strip(),
        replaces="",
        lines=lines,
        withdrawn=tuple(line for line in extract.withdrawn if line.section == name),
        pieces=sum(line.pieces or 0 for line in lines),
        not_counted=sum(line.pieces is None for line in lines),
        weight=_together(lines, picture) if extract.weight is not None else None,
    )


def section_named(picture: Picture, section: str) -> str:
    """The number of a section as the order writes it. Raises NotFound."""
    titles = picture.section_titles
    name = next((number for number in titles if number_key(number) == number_key(section)), None)
    if name is None:
        raise NotFound(f"Section {section}", f"sections are {', '.join(titles)}", "Give one of these")
    return name


def content_of(extract: Extract) -> bytes:
    """The digest of what a department gets: order, department, number, revision, and every line, sign and total."""
    head = row_digest(
        "extract",
        [extract.order, extract.department, str(extract.number)],
        [("revision", extract.title_block.revision), ("pieces", str(extract.pieces)), ("since", extract.since)],
    )
    rows: list[tuple[str, tuple[str, ...], bytes]] = [("head", (extract.order,), head)]
    for line in (*extract.lines, *extract.withdrawn):
        key = (number_key(line.number), str(line.step))
        named = [(name, str(getattr(line, name))) for name in _SEALED if getattr(line, name)]
        rows.append(("line", key, row_digest("line", key, named)))
    return content_digest(rows)[1]


_SEALED = (
    "sign", "number", "step", "title", "text", "operation", "off", "pieces", "material", "size", "weight", "drawing",
    "pattern", "came_from", "goes_to", "machines", "hand", "supply", "wanted", "clearance", "safety", "remarks",
    "section",
)  # fmt: skip
"""What of a line is sealed: fixed names, so that a column added later changes no old seal. What stood before is not:
it follows from the extract before, and may be worded better one day. Nor is what was reckoned of its weight."""


def _line(line: Line, picture: Picture, sign: str, was: str, weighs: LineWeight | None = None) -> ExtractLine:
    item, step = line.item, line.step
    return ExtractLine(
        sign=sign,
        number=item.number,
        step=step.place,
        title=item.title,
        text=item.text,
        operation=step.operation,
        off=_off(item, step, picture),
        pieces=step.total,
        material=item.material,
        size=item.size,
        weight=item.weight,
        drawing=drawing_words(item, picture),
        pattern=item.pattern,
        came_from=_names(picture, line.came_from),
        goes_to=_names(picture, line.goes_to),
        machines=item.machines,
        hand=item.hand,
        supply=item.supply,
        wanted=item.wanted,
        clearance=item.clearance or picture.standards.house.clearance,
        safety=item.safety,
        remarks=item.remarks,
        was=was,
        section=item.section,
        section_title=picture.section_titles.get(item.section, ""),
        weighs=weighs,
    )


def _off(item: Item, step: Step, picture: Picture) -> str:
    if step.off is None:
        total = picture.totals.get(number_key(item.number))
        return (total.written if total else "") or _NOT_COUNTED
    return f"{step.off}+{step.extra}" if step.extra else str(step.off)


def drawing_words(item: Item, picture: Picture) -> str:
    """The drawings an item calls up as paper names them, each with its revision, and its stage where it may not be made
    from."""
    told = []
    for call in picture.calls.get(number_key(item.number), ()):
        marks = list(dict.fromkeys(sheet.revision or "(none)" for sheet in call.sheets))
        told.append(f"{call.written} rev {'/'.join(marks)}{_stages(call.sheets)}" if marks else call.written)
    return ", ".join(told)


def _stages(sheets: Sequence[Sheet]) -> str:
    """The stage of what may not be made from, in brackets; which sheets, where the others may be."""
    waiting = [sheet for sheet in sheets if not sheet.may_be_made_from]
    if not waiting:
        return ""
    stages = list(dict.fromkeys(sheet.stage or NO_STAGE for sheet in waiting))
    if len(waiting) == len(sheets) and len(stages) == 1:
        return f" ({stages[0]})"
    named = (f"sheet {sheet.sheet}" if sheet.sheet else f"rev {sheet.revision or '(none)'}" for sheet in waiting)
    told = (f"{name} {sheet.stage or NO_STAGE}" for name, sheet in zip(named, waiting, strict=True))
    return f" ({', '.join(told)})"


def _names(picture: Picture, codes: Sequence[str]) -> str:
    names = [department.name if (department := picture.standards.department(code)) else code for code in codes]
    return " and ".join(dict.fromkeys(names))


_SHOWN_CHANGES = (
    ("operation", "Operation"), ("off", "Off"), ("title", "Description"), ("text", "Text"), ("material", "Material"),
    ("size", "Size"), ("weight", "Weight"), ("drawing", "Drawing"), ("pattern", "Pattern"), ("came_from", "From"),
    ("goes_to", "To"), ("machines", "Machines"), ("hand", "Hand"), ("supply", "Supply"), ("wanted", "Wanted"),
    ("clearance", "Clearance"), ("safety", "Safety"), ("remarks", "Remarks"),
)  # fmt: skip


def paper_differences(old: Line, new: Line, old_picture: Picture, picture: Picture) -> tuple[tuple[str, str, str], ...]:
    """What the paper says otherwise of a line than before, as (label, before, now) in the paper's order."""
    before, after = _line(old, old_picture, "", ""), _line(new, picture, "", "")
    told = ((label, getattr(before, name), getattr(after, name)) for name, label in _SHOWN_CHANGES)
    return tuple((label, was, now) for label, was, now in told if was != now)


def _same_paper(line: Line, old_picture: Picture, picture: Picture) -> bool:
    """Whether the paper surely says the same of a line whose own words are the same under the same works standards:
    what else is printed is the number off where the step has no count, and the drawings with revision and stage."""
    return line.step.off is not None and old_picture.calls.get(line.key) == picture.calls.get(line.key)
