"""The fixed form of every recorded row, from which its digest is taken. Form 1 of the seal.

Names here are apart from column names and from attribute names: they are never changed, only added to. Each function
returns the kind, the natural key and the digest.
"""

from __future__ import annotations

from collections.abc import Sequence

from specreg.core.model import FIELDS, Item, Kind, Note, NumberOff, Order, Route, Sheet, State
from specreg.core.numbering import number_key
from specreg.core.purchases import Purchase
from specreg.core.seals import row_digest

Form = tuple[str, tuple[str, ...], bytes]

_ITEM_NAMES = {field.name: field.label for field in FIELDS}
_SHEET_NAMES = (
    "of", "title", "size", "scale", "hand", "date", "stage", "drawn", "checked", "approved", "planned", "replaces",
    "machines", "remarks", "group",
)  # fmt: skip


def item_content(item: Item) -> list[tuple[str, object]]:
    """What an item says, as named values."""
    named: list[tuple[str, object]] = [
        ("number", item.number),
        ("kind", item.kind.value),
        ("layout", item.layout.value),
        ("section", item.section if item.kind is not Kind.SECTION else ""),
        ("Description", item.title),
        ("Text", item.text),
    ]
    named += [(_ITEM_NAMES[field.name], getattr(item, field.name)) for field in FIELDS]
    named.append(("other", [list(pair) for pair in item.other]))
    named.append(("state", "" if item.state is State.LIVE else item.state.value))
    named.append(("state reason", item.reason))
    return named


def item_form(order: str, item: Item) -> Form:
    """An item, the same whether open or issued."""
    key = (order, number_key(item.number))
    return "item", key, row_digest("item", key, item_content(item))


def route_form(order: str, number: str, route: Route) -> Form:
    """A route with its steps in order."""
    key = (order, number_key(number))
    steps = [
        [str(step.place), step.department, step.operation, step.basis, str(step.extra), step.because]
        for step in route.steps
    ]
    named = [("no action", route.no_action), ("because", route.because), ("steps", steps)]
    return "route", key, row_digest("route", key, named)


def total_form(order: str, number: str, total: NumberOff) -> Form:
    """A number off as reckoned at an issue."""
    key = (order, number_key(number))
    named = [
        ("off", _text(total.off)),
        ("for machines", _text(total.for_machines)),
        ("spares", _text(total.spares)),
        ("written", total.written),
        ("working", total.working),
    ]
    return "total", key, row_digest("total", key, named)


def sheet_form(sheet: Sheet) -> Form:
    """One revision of one sheet, as entered in the register."""
    key = (sheet.number, sheet.sheet, sheet.revision)
    return "sheet", key, row_digest("sheet", key, [(name, getattr(sheet, name)) for name in _SHEET_NAMES])


def listed_form(order: str, drawing: str, listed: bool) -> Form:
    """A drawing put on, or taken off, an order's drawing list."""
    key = (order, drawing)
    return "listed", key, row_digest("listed", key, [("listed", "yes" if listed else "no")])


def call_form(order: str, number: str, written: str, drawing: str, sheet: str) -> Form:
    """A drawing called up by an item, as matched against the register."""
    key = (order, number_key(number), written)
    return "call", key, row_digest("call", key, [("drawing", drawing), ("sheet", sheet)])


def order_form(order: Order, standards: bytes) -> Form:
    """What an order's head says, with the digest of the works standards it stands on."""
    key = (order.number,)
    named = [
        ("title", order.title),
        ("customer", order.customer),
        ("machines", order.machines),
        ("spares", order.spares),
        ("inspecting authority", order.authority),
        ("units", order.units),
        ("numbering", order.numbering),
        ("standards", standards.hex()),
    ]
    return "order", key, row_digest("order", key, named)


def note_form(order: str, note: Note) -> Form:
    """A note as it stands."""
    key = (order, note.number)
    named = [
        ("reason", note.reason),
        ("urgency", note.urgency),
        ("authority", note.authority),
        ("machines", note.machines),
        ("words", note.words),
        ("state", note.state),
    ]
    return "note", key, row_digest("note", key, named)


def signature_form(order: str, note: str, signed_as: str, person: str, name: str, at: str, signed: bytes) -> Form:
    """One person's signature and what was signed."""
    key = (order, note, signed_as, person)
    named = [("name", name), ("at", at), ("signed", signed.hex())]
    return "signature", key, row_digest("signature", key, named)


def revision_form(order: str, letter: str, named: Sequence[tuple[str, str]], seal: bytes) -> Form:
    """An issued revision: its head and its seal."""
    key = (order, letter)
    return "revision", key, row_digest("revision", key, [*named, ("seal", seal.hex())])


def extract_form(order: str, department: str, number: int, letter: str, content: bytes, seal: str) -> Form:
    """An extract as issued."""
    key = (order, department, str(number))
    named = [("revision", letter), ("content", content.hex()), ("seal", seal)]
    return "extract", key, row_digest("extract", key, named)


def passed_form(order: str, fault: str, subject: str, text: str, person: str, reason: str) -> Form:
    """A fault let pass."""
    key = (order, fault, subject)
    named = [("text", text), ("person", person), ("reason", reason)]
    return "passed", key, row_digest("passed", key, named)


def purchase_form(order: str, purchase: Purchase) -> Form:
    """An item placed with a supplier."""
    key = (order, number_key(purchase.number), purchase.purchase)
    named = [
        ("number", purchase.number),
        ("supplier", purchase.supplier),
        ("placed on", purchase.placed_on),
        ("due", purchase.due),
        ("revision", purchase.revision),
        ("pieces", _text(purchase.pieces)),
        ("title", purchase.title),
        ("part", purchase.part),
        ("material", purchase.material),
        ("size", purchase.size),
        ("drawing", purchase.drawing),
        ("remarks", purchase.remarks),
    ]
    return "purchase", key, row_digest("purchase", key, named)


def _text(number: int | None) -> str:
    return "" if number is None else str(number)
