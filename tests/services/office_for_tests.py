"""Small offices for tests: a new book in a temporary folder, persons for every role, a clock that stands still.

Everything is invented. The persons, each with his login in small letters (`jd`): JD the chief (his login is the one
given to `new_office`), HP a draughtsman, WG and RC checkers, MB a clerk, FO the head of the foundry.

    office = with_order(tmp_path)                    # a book holding order W 611, allocated, not issued
    issue_all(office)                                # signed by HP, WG, RC, JD and issued as revision A
    clerk = as_person(office, "MB")                  # the same book and order, another man at the desk
    other = second_program(office, "MB")             # the same book by a connection of its own
    office.book.close()

The order of `tiny_order_folder` is W 611, two machines (1471-1472): sections 1, 4 and 5, one clause (1.1), twelve items
(4.1 4.1.1 4.1.2 4.2 4.2.1 4.3 and 5.1 5.1.1 5.2 5.3 5.4 5.5), six drawings in seven sheets, four departments (BUY FDY
MCH ERE, the last one final) and five routing rules. It can be issued without a fault that bars it; 5.2 and 5.3 carry a
safety mark and so ask for a second check.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta, timezone
from pathlib import Path

from specreg.bootstrap import make_book, open_office
from specreg.core.model import Note
from specreg.services.allocating import allocate
from specreg.services.issuing import Issued, issue
from specreg.services.noting import open_note
from specreg.services.office import Office
from specreg.services.people import say_person
from specreg.services.signing import sign, signatures
from specreg.services.taking_in import TakenIn, take_in
from specreg.settings import Settings
from specreg.store import people
from specreg.store.people import Person

ORDER_NO = "W 611"
START = datetime(2026, 11, 25, 9, 0, 0, tzinfo=timezone(timedelta(hours=1)))

OTHERS = (
    Person("HP", "H. Pellow", "hp", ("draughtsman",)),
    Person("WG", "W. Garnet", "wg", ("checker",)),
    Person("RC", "R. Corrie", "rc", ("checker",)),
    Person("MB", "M. Brandreth", "mb", ("clerk",)),
    Person("FO", "F. Oakshott", "fo", ("head",), "FDY"),
)

HOUSE = '[house]\nworks = "Practice works"\nclearance = "make"\nsafety_second_check = true\n'
DEPARTMENTS = "".join(
    f'[[department]]\ncode = "{code}"\nname = "{name}"\noperation = "{operation}"\nfinal = {final}\n'
    for code, name, operation, final in (
        ("BUY", "Buying office", "order", "false"),
        ("FDY", "Foundry", "cast", "false"),
        ("MCH", "Machine shop", "machine", "false"),
        ("ERE", "Erecting shop", "erect", "true"),
    )
)
ROUTING = """
[[rule]]
name = "provided by the customer"
words = ["provided", "customer"]
no_action = "provided and fixed by the customer"

[[rule]]
name = "bought"
supply = ["buy"]
route = "BUY order all; ERE fit all"

[[rule]]
name = "castings"
material = ["cast"]
route = "FDY cast all; MCH machine all; ERE erect all"

[[rule]]
name = "steel"
material = ["steel"]
route = "MCH machine all; ERE erect all"

[[rule]]
name = "safety is proved"
safety = true
add = "MCH proof test all"
before = "ERE"
"""

SECTIONS: Mapping[str, str] = {
    "01-general.md": """# 1 General

Two cranes alike.

## 1.1 Finish

All castings to be fettled, and primed before they leave the works.
""",
    "04-slewing-gear.md": """# 4 Slewing gear

## 4.1 Slewing rack

To be machined on the upper face only.

- Off: 1 per machine
- Drawing: SL-1001
- Route: ERE line up

| Item | Description | Off | Per | Material | Size | Drawing | Remarks |
|---|---|---|---|---|---|---|---|
| 4.1.1 | Rack segment | 12 | 4.1 | cast steel | weight 3 cwt 1 qr 17 lb | SL-1002/1 | |
| 4.1.2 | Rack bolt | 24 | 4.1 | mild steel | bar 1 1/4" dia x 5" | SL-1003 | black |
| 4.2 | Slewing pinion | 1 | machine | cast steel | | SL-1004 | |
| 4.2.1 | Pinion key | 2 | 4.2 | mild steel | 1" x 3/4" x 6" | none needed | |
| 4.3 | Rack cover | 1 | machine | cast iron | 19'-6½" | SL-1002/2 | in halves |
""",
    "05-hoisting-gear.md": """# 5 Hoisting gear

| Item | Description | Off | Per | Material | Drawing | Supply | Spares | Safety | Remarks |
|---|---|---|---|---|---|---|---|---|---|
| 5.1 | Hoisting barrel | 1 | machine | cast iron | HG-2001 | make | 1 per order | | |
| 5.1.1 | Barrel shaft | 1 | 5.1 | mild steel | HG-2002 | make | | | |
| 5.2 | Hoisting rope | 1 | machine | steel wire | | buy | 1 per machine | lifting | galvanised |
| 5.3 | Hook block | 1 | machine | | | buy | | lifting | |
| 5.4 | Foundation bolts, provided by the customer | 8 | machine | | | free issue | | | |
| 5.5 | Barrel bush | 2 | 5.1 | cast gunmetal | none needed | make | 2 per order | | |
""",
}

DRAWINGS = """number,sheet,of,title,size,revision,date,stage,drawn,checked,approved
SL-1001,,1,Slewing rack,A1,-,2026-03-09,issued,H.P.,W.G.,J.D.
SL-1002,1,2,"Rack details, segment",A2,-,2026-03-09,issued,H.P.,W.G.,J.D.
SL-1002,2,2,"Rack details, cover",A2,A,2026-04-01,issued,H.P.,W.G.,J.D.
SL-1003,,1,Rack bolt,A3,-,2026-03-09,issued,H.P.,W.G.,J.D.
SL-1004,,1,Slewing pinion,A2,-,2026-03-09,issued,H.P.,W.G.,J.D.
HG-2001,,1,Hoisting barrel,A1,-,2026-03-16,issued,H.P.,W.G.,J.D.
HG-2002,,1,Barrel shaft,A2,-,2026-03-16,issued,H.P.,W.G.,J.D.
"""


@dataclass(slots=True)
class Clock:
    """A clock that stands still until it is put on."""

    moment: datetime = field(default=START)

    def __call__(self) -> datetime:
        """The moment it shows."""
        return self.moment

    def on(self, **step: int) -> None:
        """Put it on by days, hours, minutes or seconds."""
        self.moment += timedelta(**step)


def new_office(
    folder: Path,
    login: str = "jd",
    clock: Callable[[], datetime] | None = None,
    others: Sequence[Person] = OTHERS,
    name: str = "works.specreg",
) -> Office:
    """A new book `folder/name`, its chief JD (J. Dunmore, under the login given) at the desk, the others entered."""
    office = make_book(folder / name, "J. Dunmore", clock or Clock(), login)
    for person in others:
        say_person(office, person)
    return office


def as_person(office: Office, code: str) -> Office:
    """The same book and order with another person at the desk, by his initials."""
    person = people.by_code(office.book, code)
    assert person is not None, code
    return replace(office, person=person)


def second_program(office: Office, code: str = "JD", read_only: bool = False) -> Office:
    """The same book opened a second time, as by another program, with that person at the desk; close its book."""
    person = people.by_code(office.book, code)
    assert person is not None, code
    order = office.standing.order.number if office.standing else ""
    return open_office(Settings(str(office.book.path), order), read_only, office.clock, person.login)


def tiny_standards_folder(folder: Path, routing: str = ROUTING, house: str = HOUSE) -> Path:
    """Works standards in `folder/shared`."""
    target = folder / "shared"
    target.mkdir(exist_ok=True)
    for name, text in (("house", house), ("departments", DEPARTMENTS), ("routing", routing)):
        (target / f"{name}.toml").write_text(text, encoding="utf-8")
    return target


def tiny_order_folder(
    folder: Path,
    sections: Mapping[str, str] = SECTIONS,
    drawings: str = DRAWINGS,
    routing: str = ROUTING,
    house: str = HOUSE,
    into: str = "order",
    **head: str,
) -> Path:
    """The order folder `folder/into` and its works standards in `folder/shared`; returns the order folder.

    `sections` are files of `spec` by name; `head` alters keys of order.toml (`number="W 612"`), an empty one leaves
    the key out.
    """
    tiny_standards_folder(folder, routing, house)
    target = folder / into
    (target / "spec").mkdir(parents=True, exist_ok=True)
    said = {
        "number": ORDER_NO, "title": "Two dockside cranes", "customer": "Practice Harbour", "machines": "1471-1472",
        "units": "imperial", "standards": "../shared", **head,
    }  # fmt: skip
    lines = [f'{key} = "{value}"' for key, value in said.items() if value]
    (target / "order.toml").write_text("[order]\n" + "\n".join(lines) + "\n", encoding="utf-8")
    for name, text in sections.items():
        (target / "spec" / name).write_text(text, encoding="utf-8")
    if drawings:
        (target / "drawings.csv").write_text(drawings, encoding="utf-8")
    return target


def take_in_tiny(office: Office, folder: Path, **how: object) -> TakenIn:
    """Write the tiny order into `folder` and take it in; keywords as for `tiny_order_folder`."""
    return take_in(office, tiny_order_folder(folder, **how))  # type: ignore[arg-type]


def with_order(
    folder: Path, clock: Callable[[], datetime] | None = None, name: str = "works.specreg", **how: object
) -> Office:
    """A new office with the tiny order taken in and allocated, nothing issued; keywords as for `tiny_order_folder`."""
    office = new_office(folder, clock=clock, name=name)
    take_in_tiny(office, folder, **how)
    allocate(office)
    return office


def with_revision_a(folder: Path, clock: Callable[[], datetime] | None = None, name: str = "works.specreg") -> Office:
    """The same, signed and issued as revision A."""
    office = with_order(folder, clock, name)
    issue_all(office)
    return office


def sign_all(office: Office, number: str = "0") -> None:
    """Every signature a note needs, each by another person: HP, WG, RC, and JD for the approval."""
    for code in ("HP", "WG", "RC", "JD"):
        wanting = signatures(office, office.note(number)).wanting
        if wanting and (code == "JD" or wanting[0] != "approved"):
            sign(as_person(office, code), number, wanting[0])


def issue_all(office: Office, *numbers: str) -> Issued:
    """Allocate, sign and issue the notes named, or the first compilation; the chief must be at the desk."""
    chosen = numbers or ("0",)
    allocate(office)
    for number in chosen:
        sign_all(office, number)
    return issue(office, chosen)


def note_opened(office: Office, number: str = "", **said: str) -> str:
    """Open a note that says everything an issue asks for; returns its number."""
    full = {"reason": "customer", "urgency": "next batch", "authority": "letter of 3 Nov", "machines": "1471-1472"}
    return open_note(office, Note(number, words="as agreed", **{**full, **said})).note.number
