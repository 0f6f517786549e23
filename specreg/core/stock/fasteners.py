"""Bolts, studs, nuts and what else a thread names: bought by number, and weighed at best as a plain round."""

from __future__ import annotations

from specreg.core.measures.records import Asks, NotRead
from specreg.core.stock import geometry
from specreg.core.stock.pieces import Dim, Pieces
from specreg.core.stock.records import Dimension, Form, Stock

_AS_A_ROUND = "as a plain round of the diameter and length; head, nut and thread left out of account"
_PIPE = "B.S.P."
_DO = 'Write the diameter, the length and the thread: 3/4" dia x 3" B.S.W., or M24 x 110 mm'


def fastener(written: str, pieces: Pieces) -> Stock | NotRead:
    """What a thread names, or the word bolt, stud, nut or screw; without a length it has no volume.

    A pipe thread gives none either: its size is that of the pipe.
    """
    if len(pieces.threads) > 1:
        return NotRead(written, f"{len(pieces.threads)} threads stand here", "Write one")
    if pieces.forms - {Form.FASTENER} or pieces.masses or pieces.rates or pieces.others:
        return NotRead(written, "a thread stands beside what is no bolt, stud or nut", "Write the thread in Remarks")
    thread = pieces.threads[0] if pieces.threads else None
    dims = list(pieces.dims)
    if any(one.roles - {"dia", "long", "hexagon"} for one in dims) or len(dims) > 2:
        return NotRead(written, "it is not clear which size of this fastener is which", _DO)
    if thread is None:
        if len(dims) != 2:
            asks = Asks.THREAD if dims else Asks.NOTHING
            return NotRead(written, "a fastener without its diameter, length or thread", _DO, asks)
        diameter, length = dims
        return _of(written, Dimension("diameter", diameter.value, diameter.measure.written), length, pieces)
    if len(dims) == 2:
        if dims[0].value != thread.value:
            why = f"the thread {thread.name} is not that of {dims[0].measure.written}"
            return NotRead(written, why, _DO, Asks.THREAD)
        dims = dims[1:]
    diameter_of_thread = Dimension("diameter", thread.value, thread.name)
    length_of = dims[0] if dims else None
    if length_of is not None and "dia" in length_of.roles:
        return NotRead(written, "a fastener without its length", _DO)
    return _of(written, diameter_of_thread, length_of, pieces)


def _of(written: str, diameter: Dimension, length: Dim | None, pieces: Pieces) -> Stock:
    measures = [*(one.measure for one in pieces.dims), *pieces.threads]
    has_volume = length is not None and not diameter.written.endswith(_PIPE)
    dims = (diameter,) if length is None else (diameter, Dimension("length", length.value, length.measure.written))
    volume = geometry.circle(diameter.value) * length.value if has_volume and length is not None else None
    threads = tuple(one.basis for one in pieces.threads if one.basis)
    return Stock(
        Form.FASTENER,
        written,
        dims,
        volume=volume,
        basis=(_AS_A_ROUND, *threads) if has_volume else threads,
        doubts=tuple(doubt for one in measures for doubt in one.doubts),
        approximate=True,
        thread=pieces.threads[0].name if pieces.threads else "",
    )
