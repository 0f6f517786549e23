"""Order folders whose items are cut from bars, with the cutting rule of a practice works; everything is invented."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from tests.services.office_for_tests import tiny_order_folder

TRADE = {"stock": '"240 in"', "kerf": "1/8 in", "end_trim": "0 in", "chuck_grip": "0 in", "least_offcut": "12 in"}
"""The trade's check: 40 pieces of 40 in. from bars of 240 in. take 8 bars with a kerf of 1/8 in., and 7 without."""

_MATERIALS = '[[material]]\nname = "mild steel"\ndensity = "7850"\nbasis = "490 lb/ft3"\nalso = ["steel"]\n'
_CAUTIOUS = '[house]\nworks = "Practice works"\nclearance = "make"\ncautions = ["Local codes decide."]\n'


def order_to_cut(
    folder: Path, *rows: Sequence[str], into: str = "order", rule: dict[str, str] = TRADE, **head: str
) -> Path:
    """The order folder `folder/into` of two machines, one section 4 of these items: (number, off, size, supply).

    Each is of mild steel and counted per order; an empty supply is `make`. `rule` is how rounds and squares are cut.
    """
    shared = folder / "shared"
    shared.mkdir(exist_ok=True)
    said = "\n".join(f"{key} = [{text}]" if key == "stock" else f'{key} = "{text}"' for key, text in rule.items())
    cutting = f'[[cutting]]\nkinds = ["round", "square"]\n{said}\nbasis = "works figures"\n'
    (shared / "reckoning.toml").write_text(cutting, encoding="utf-8")
    (shared / "materials.toml").write_text(_MATERIALS, encoding="utf-8")
    table = "".join(
        f"| {number} | Spindle {number} | {off} | order | mild steel | {size} | {supply or 'make'} | none needed |\n"
        for number, off, size, supply in rows
    )
    heads = (
        "| Item | Description | Off | Per | Material | Size | Supply | Drawing |\n|---|---|---|---|---|---|---|---|\n"
    )
    sections = {"04-slewing-gear.md": f"# 4 Slewing gear\n\n{heads}{table}"}
    return tiny_order_folder(folder, sections, "", house=_CAUTIOUS, into=into, **head)
