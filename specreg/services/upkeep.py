"""Keeping the book: proving it."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.core.seals import short_code
from specreg.services.office import Office
from specreg.store import orders, proof, revisions


@dataclass(frozen=True, slots=True)
class Verified:
    """What was proved: `seals` as (order, revision, short code); `differences` name what does not agree."""

    seals: tuple[tuple[str, str, str], ...]
    differences: tuple[str, ...]


def verify(office: Office) -> Verified:
    """Recompute every digest and seal of the book."""
    book = office.book
    with book.reading():
        found = tuple(proof.differences(book))
        seals = tuple(
            (number, one.letter, short_code(one.seal))
            for number in orders.numbers(book)
            for standing in [orders.by_number(book, number)]
            if standing is not None
            for one in revisions.of_order(book, standing.order_id)
        )
    return Verified(seals, found)
