"""What is placed with suppliers: an item, or the material for it, with what was quoted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from specreg.core.folding import plain_words


@dataclass(frozen=True, slots=True)
class Purchase:
    """One item on one purchase.

    `number` is the item's, `purchase` that of the purchase as the buyer writes it. `placed_on` and `due` are days,
    `due` empty where none is known. `revision` is the letter quoted, empty before the first issue; `title`, `part`,
    `material`, `size` and `drawing` (each drawing with its revision) are what the specification said then. `pieces`
    below nought are taken back. It is None for what has no count, and nought where that is taken back.
    """

    number: str
    purchase: str
    supplier: str
    placed_on: str
    due: str
    revision: str
    pieces: int | None
    title: str
    part: str
    material: str
    size: str
    drawing: str
    remarks: str = ""


@dataclass(frozen=True, slots=True)
class Quoted:
    """What the specification says of an item that a supplier works by; `drawing` with the revision of each."""

    title: str
    part: str
    material: str
    size: str
    drawing: str

    @classmethod
    def of(cls, purchase: Purchase) -> Quoted:
        """What was quoted."""
        return cls(purchase.title, purchase.part, purchase.material, purchase.size, purchase.drawing)

    def differences(self, now: Quoted) -> tuple[str, ...]:
        """What it says otherwise now, but for spaces and capitals: `size was 4 1/2", now 5"`."""
        said = (
            ("description", self.title, now.title),
            ("part", self.part, now.part),
            ("material", self.material, now.material),
            ("size", self.size, now.size),
            ("drawing", self.drawing, now.drawing),
        )
        return tuple(
            f"{name} was {was or '(none)'}, now {is_ or '(none)'}"
            for name, was, is_ in said
            if plain_words(was) != plain_words(is_)
        )


def pieces_placed(purchases: Iterable[Purchase]) -> int:
    """The pieces placed and not taken back; what has no count counts none."""
    return sum(one.pieces or 0 for one in purchases)


def in_words(one: Purchase) -> str:
    """What is placed: `12 on P 17 with the steel founders, 2026-11-20, due 2027-01-29, revision A`."""
    pieces = f"{one.pieces} " if one.pieces else ""
    due = f", due {one.due}" if one.due else ""
    quoted = f"revision {one.revision}" if one.revision else "what stood before the first issue"
    return f"{pieces}on {one.purchase} with {one.supplier}, {one.placed_on}{due}, {quoted}"


def standing_purchases(placed: Iterable[Purchase]) -> tuple[Purchase, ...]:
    """Of each purchase of one item the last that placed something, with all the pieces that still stand on it; none
    where all is taken back."""
    by_purchase: dict[str, list[Purchase]] = {}
    for one in placed:
        by_purchase.setdefault(one.purchase, []).append(one)
    standing = []
    for some in by_purchase.values():
        uncounted = [one for one in some if not one.pieces]
        if (pieces := pieces_placed(some)) > 0:
            last = next(one for one in reversed(some) if (one.pieces or 0) > 0)
            standing.append(replace(last, pieces=pieces))
        elif uncounted and uncounted[-1].pieces is None:
            standing.append(uncounted[-1])
    return tuple(standing)
