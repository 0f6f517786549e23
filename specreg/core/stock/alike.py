"""Which stock is like which: of one material, form and section, so that it is ordered together and cut from one bar."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from specreg.core.standards import Standards
from specreg.core.stock.materials import material_named
from specreg.core.stock.records import Dimension, Form, Stock
from specreg.core.wording import fold

_ALONG = frozenset({"length", "breadth"})
_SHEETS = frozenset({Form.PLATE, Form.SHEET, Form.CHEQUERED_PLATE})
_BY_THE_PIECE = frozenset({Form.RING, Form.DISC, Form.BLOCK, Form.FASTENER})
"""What is ordered in pieces of its own size, whatever stands beside it."""


@dataclass(frozen=True, slots=True)
class Alike:
    """What makes stock alike. `key` tells it from other stock, however each was written; the rest is for a reader.

    `material` is the works' name of the material, else as written, `section` the section as first written: `3"`,
    `2" outside x 10 S.W.G. wall`, `203x133x25 of universal beams`; empty for what is bought by weight.
    """

    key: tuple[object, ...]
    material: str
    form: Form
    section: str

    @property
    def name(self) -> str:
        """As a man calls it: `mild steel, round 3"`."""
        return f"{self.material or '(no material)'}, {self.form} {self.section}".rstrip()


def alike(stock: Stock, material: str, standards: Standards) -> Alike:
    """What stock of a material is like. The length of a bar and the length and breadth of a plate do not count."""
    known = material_named(material, standards)
    named = known.name if known else " ".join(material.split())
    across = tuple(one for one in stock.dimensions if _counts(one, stock.form))
    key = (named.casefold(), stock.form, stock.section, _measured(across, stock))
    return Alike(key, named, stock.form, stock.section or " x ".join(_said(one, stock.form) for one in across))


def rough_size(stock: Stock) -> tuple[Dimension, ...]:
    """The dimensions that tell one piece from another of like stock: its length, or length and breadth."""
    return tuple(one for one in stock.dimensions if not _counts(one, stock.form))


def _counts(dimension: Dimension, form: Form) -> bool:
    if form in _BY_THE_PIECE:
        return True
    return dimension.name not in (_ALONG if form in _SHEETS else {"length"})


def _measured(across: tuple[Dimension, ...], stock: Stock) -> tuple[object, ...]:
    """The sizes in mm, so that a tube by its wall and one by its bore are told alike, and an angle either way round."""
    if stock.form is Form.FASTENER:
        thread = next((one.written for one in across if one.name == "diameter"), "")
        return (" ".join(thread.split()).casefold(), *(one.value for one in across))
    if stock.form in (Form.TUBE, Form.RING):
        return (*_over_and_inside(stock), stock.dimension("thickness") if stock.form is Form.RING else None)
    if stock.form is Form.ANGLE:
        legs = sorted(one.value for one in across if one.name != "thickness")
        return (*legs, stock.dimension("thickness"))
    return tuple(one.value for one in across)


def _over_and_inside(stock: Stock) -> tuple[Fraction | None, Fraction | None]:
    outside, bore, wall = (stock.dimension(name) for name in ("outside", "bore", "wall"))
    if wall is None:
        return outside, bore
    if outside is not None:
        return outside, outside - 2 * wall
    return (bore + 2 * wall if bore is not None else None), bore


def _said(dimension: Dimension, form: Form) -> str:
    named = form in (Form.TUBE, Form.RING, Form.CHANNEL, Form.I_SECTION)
    return f"{dimension.written} {dimension.name}" if named else dimension.written


def is_named(name: str, words: str) -> bool:
    """Whether all the words stand in the name of stock, in any case and order; of a word of letters its beginning does.

    A measure is met whole: `round 3` is `round 3"` and not `round 3 1/2"`.
    """
    there, wanted = _words(name), _words(words)
    return bool(wanted) and all(
        any(one.startswith(word) if word.isalpha() else one == word for one in there) for word in wanted
    )


_WORD = re.compile(r"[0-9]+ [0-9]+/[0-9]+|[0-9]+(?:[./][0-9]+)?|[^\W\d_]+")
_JOINT = re.compile(r"(?<=[0-9])[.-](?=[0-9]+/)")
"""What clerks put between a whole number and its fraction: `1.1/4`."""
_STOP = re.compile(r"(?<=[a-z])\.")
_INCHES = frozenset({"in", "ins", "inch", "inches"})


def _words(text: str) -> list[str]:
    plain = _STOP.sub("", _JOINT.sub(" ", fold(text)))
    return [word for word in _WORD.findall(plain) if word not in _INCHES]
