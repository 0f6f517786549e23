"""What stands over the figures of a list: of which order, at which revision, on which day."""

from __future__ import annotations

from specreg.core.model import Order


def heading(what: str, order: Order, state: str, today: str) -> str:
    """`Order list of order C 1187 25-ton cranes, revision B, 2026-11-25`; `state` is a letter, or `open`."""
    said = "as it stands, not issued" if state == "open" else f"revision {state}"
    return f"{what} of order {order.number} {order.title}".rstrip() + f", {said}, {today}"
