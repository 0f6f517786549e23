"""Invented shares of departments, for the fake reader."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from specreg.core.errors import NotFound
from specreg.core.extracts import Extract, ExtractLine, Reconciliation, TitleBlock
from specreg.services.department_readings import DepartmentLine, DepartmentsPage

if TYPE_CHECKING:
    from tests.tui.fake_reader import FakeBook

HOLDS = Reconciliation(60, 59, 1, 0, 109, 109, 240, 240)
CAUTIONS = (
    "Weights, lengths and order quantities are estimates for planning and are not to be used for slinging or payment.",
    "The inspecting authority and the local codes decide; nothing printed here takes their place.",
)
BLOCK = TitleBlock("Practice works", "specification extract", "W 611 FDY 2", "Dockside cranes", "Foundry", "B",
                   "2026-10-12", "H. Pellow", "J. Dunmore", "Drawing office")  # fmt: skip
PLAIN = ExtractLine("", "4.1.1", 2, "Rack segment", "", "cast", "36+2", 38, "cast steel", "", "3 cwt 1 qr 17 lb",
                    "SL-1002/1 rev -", "", "Pattern shop", "Machine shop", "", "", "make", "", "make", "", "", "", "4",
                    "Slewing gear")  # fmt: skip
EMPTY = Extract("W 611", "Dockside cranes", "1471-1473", "Practice Harbour", "", "", 0, BLOCK, "3F9A-22C1", "", False,
                "", (), (), 0, 0, HOLDS, (), "")  # fmt: skip


def a_line(sign: str, number: str, title: str, **more: object) -> ExtractLine:
    """One line of a share with what is usual filled in."""
    return replace(PLAIN, sign=sign, number=number, title=title, **more)  # type: ignore[arg-type]


def a_share(code: str, name: str, lines: tuple[ExtractLine, ...], **more: object) -> Extract:
    """A share of revision B with its figures added up."""
    made = replace(EMPTY, department=code, department_name=name, lines=lines, **more)  # type: ignore[arg-type]
    return replace(
        made,
        changed=bool(made.withdrawn or any(one.sign for one in lines)),
        pieces=sum(one.pieces or 0 for one in lines),
        not_counted=sum(one.pieces is None for one in lines),
        cautions=CAUTIONS if any(one.safety for one in (*lines, *made.withdrawn)) else (),
    )


FOUNDRY = a_share(
    "FDY", "Foundry",
    (
        a_line("»", "4.1.1", "Rack segment", off="42+2", pieces=44, safety="slewing", drawing="SL-1002/1 rev A",
               was="Off was 36, now 42; Weight was 3 cwt 1 qr 17 lb, now 3 cwt 2 qr 4 lb; Drawing was SL-1002/1 rev -, "
               "now SL-1002/1 rev A"),
        a_line("", "4.2", "Slewing pinion", off="3", pieces=3, machines="1471-1472", drawing="SL-1004 rev -"),
        a_line("", "4.10", "Rail chair", off="as required per machine", pieces=None, drawing="", operation=""),
        a_line("+", "9.3.7A", "Drum end, recast", off="6+1", pieces=7, material="cast iron", clearance="hold",
               drawing="SL-3411 rev - (planned)"),
        a_line("", "9.3.8", "Brake wheel", off="3", pieces=3, safety="brake", clearance="material only",
               goes_to="Machine shop and Stores", drawing="HG-2001 rev -"),
    ),
    withdrawn=(
        a_line("-", "4.3", "Rack cover", off="3", pieces=3, was="deleted: scrapped, two stand in the yard and are to "
               "be broken up before the next melt"),
        a_line("-", "9.3.2", "Drum end, old", off="6", pieces=6, was=""),
    ),
    since="extract 1 of revision A", number=2, seal="F949-HP1Z",
)  # fmt: skip
SMITHY = a_share("SMI", "Smithy", tuple(a_line("", f"5.{at}", "Pin", came_from="") for at in range(1, 4)),
                 since="extract 1 of revision A")  # fmt: skip
MACHINE_SHOP = a_share("MCH", "Machine shop", (a_line("", "4.2", "Slewing pinion"),))
ERECTING = a_share(
    "ERE", "Erecting shop",
    tuple(a_line("»" if at == 7 else "", f"7.{at}", f"Bracket {at}", goes_to="", was="Off was 1" if at == 7 else "")
          for at in range(1, 101)),
    since="extract 1 of revision A",
)  # fmt: skip
STORES = a_share("STO", "Stores", ())
ISSUED = (FOUNDRY, SMITHY, MACHINE_SHOP, ERECTING, STORES)


def stands(share: Extract) -> Extract:
    """The same share with nothing issued since, as the order stands: its extract is what the signs compare with."""
    plain = tuple(replace(one, sign="", was="") for one in share.lines)
    since = f"extract {share.number} of revision B" if share.number else share.since
    return replace(
        share, lines=plain, withdrawn=(), changed=False, since=since, number=0, seal="", revision_seal="",
        title_block=replace(BLOCK, revision="", date_of_issue=""),
    )  # fmt: skip


@dataclass
class FakeSplit:
    """What the fake readers of one program know of departments; a test may put in other things."""

    issued: tuple[Extract, ...] = ISSUED
    standing: tuple[Extract, ...] = tuple(map(stands, ISSUED))
    proof: Reconciliation = HOLDS
    may_extract: frozenset[str] = frozenset(one.department for one in ISSUED)

    def of(self, open_edits: bool) -> tuple[Extract, ...]:
        """The shares in one of the two states; as they stand while nothing is issued."""
        return self.standing if open_edits or not self.issued else self.issued


class FakeShares:
    """The part of the fake reader that knows the departments."""

    _book: FakeBook

    def _enter(self) -> None:
        raise NotImplementedError

    def departments(self, open_edits: bool) -> DepartmentsPage:
        self._enter()
        split = self._book.split
        shares = split.of(open_edits)
        revision = shares[0].title_block.revision if shares else ""
        return DepartmentsPage(revision, tuple(map(_line, shares)), split.proof, split.may_extract)

    def share(self, code: str, open_edits: bool) -> Extract:
        self._enter()
        for one in self._book.split.of(open_edits):
            if one.department == code:
                return one
        raise NotFound(f"Department {code}", "the works has none of that code", "Give another code")


def _line(share: Extract) -> DepartmentLine:
    signs = [one.sign for one in share.lines]
    dated = share.title_block.date_of_issue if share.number else "2026-03-04" if share.since else ""
    return DepartmentLine(
        share.department, share.department_name, len(signs), share.pieces, share.not_counted, signs.count("+"),
        signs.count("»"), len(share.withdrawn), share.since, share.number, share.seal, dated,
    )  # fmt: skip
