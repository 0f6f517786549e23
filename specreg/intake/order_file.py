"""order.toml: what a works order is, in one table `[order]`."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from specreg.core.faults import Fault, Place, Severity
from specreg.core.model import Order
from specreg.intake.plain_text import plain_line
from specreg.intake.source_text import read_bytes
from specreg.intake.toml_source import Wanted, key_faults, read_toml, stopped

ORDER_KEYS = ("number", "title", "customer", "machines", "spares", "authority", "units", "numbering", "standards")
"""Keys of the table `[order]`, in the order they are written."""

_CHOICES = {"units": ("imperial", "metric"), "numbering": ("ours", "theirs")}


@dataclass(frozen=True, slots=True)
class TakenOrderFile:
    """The order as read; `flags` name keys that mean nothing here."""

    order: Order
    flags: tuple[Fault, ...] = ()


def read_order_file(path: Path, file: str = "order.toml") -> TakenOrderFile:
    """The order that order.toml describes, `file` being its name in faults.

    A key that is not known is flagged and left. Raises WrongUse when the file cannot be read, FaultsStop when it is
    not TOML, a key has the wrong type, number or title is missing, or units or numbering is none of the known words.
    """
    source = read_toml(read_bytes(path), file)
    wanted = dict.fromkeys(ORDER_KEYS, Wanted.TEXT)
    faults: list[Fault] = []
    for key in source.content:
        if key != "order":
            faults.append(_unknown(f"`{key}` is not known here; everything stands under [order].", source.place(key)))
    if "order" not in source.content:
        missing = Fault("missing key", Severity.STOP, "", "The head [order] is missing.", source.place())
        raise stopped(file, [missing, *faults])
    table = source.content["order"]
    for fault in key_faults(source, table, ("order",), wanted, required=("number", "title")):
        faults.append(_unknown(fault.text, fault.place) if fault.name == "unknown key" else fault)
    if isinstance(table, dict):
        for key, words in _CHOICES.items():
            if isinstance(table.get(key), str) and table[key] not in words:
                text = f'`{key}` is "{table[key]}"; it must be {" or ".join(words)}.'
                faults.append(Fault("wrong word", Severity.STOP, "", text, source.place("order", key)))
    if any(fault.severity is Severity.STOP for fault in faults):
        raise stopped(file, faults)
    return TakenOrderFile(Order(**{key: plain_line(table[key]) for key in ORDER_KEYS if key in table}), tuple(faults))


def _unknown(text: str, place: Place | None) -> Fault:
    return Fault("unknown key", Severity.WARNING, "", text, place)
