"""The take-off at a revision: by the works standards of that revision, whatever the works says today."""

from __future__ import annotations

from pathlib import Path

import pytest

from specreg.core.errors import NotFound
from specreg.core.measures.units import POUND
from specreg.services.altering import alter
from specreg.services.extracting import make_extracts
from specreg.services.ordering import order_list_at
from specreg.services.taking_in import take_in
from specreg.services.taking_off import take_off_at
from specreg.services.upkeep import verify
from tests.services.office_for_tests import (
    SECTIONS,
    issue_all,
    new_office,
    note_opened,
    tiny_order_folder,
    with_order,
)

STEEL = '[[material]]\nname = "mild steel"\ndensity = "{0}"\nbasis = "works figure"\n'
RULES = '[reckoning]\nton = "{0}"\nspare_assemblies_bring_parts = false\n'


def taught(folder: Path, density: str, ton: str) -> Path:
    """The practice order with works standards that reckon by these."""
    old, new = "| cast iron | 19'-6½\" |", "| mild steel | about 2 tons |"
    head = SECTIONS["04-slewing-gear.md"].replace(old, new)
    head = head.replace('bar 1 1/4" dia x 5"', '1 1/4" dia x 5"')
    order = tiny_order_folder(folder, {**SECTIONS, "04-slewing-gear.md": head})
    (folder / "shared" / "materials.toml").write_text(STEEL.format(density), encoding="utf-8")
    (folder / "shared" / "reckoning.toml").write_text(RULES.format(ton), encoding="utf-8")
    return order


def test_an_old_take_off_reckons_the_same_for_ever(tmp_path):
    office = new_office(tmp_path)
    take_in(office, taught(tmp_path, "7850", "long"))
    issue_all(office)
    ((before, _),) = make_extracts(office, ("ERE",))
    first = take_off_at(office)
    ordered = order_list_at(office).found
    note_opened(office, "1")
    take_in(office, taught(tmp_path, "8000", "short"), note="1")
    alter(office, "5.5", {"Remarks": "two halves"}, "1")
    issue_all(office, "1")
    assert take_off_at(office, "A").take_off == first.take_off
    assert order_list_at(office, "A").found == ordered
    bolt, cover = (next(one for one in first.take_off.lines if one.item.number == n) for n in ("4.1.2", "4.3"))
    later = {one.item.number: one for one in take_off_at(office, "B").take_off.lines}
    assert later["4.1.2"].mass == bolt.mass * 8000 / 7850
    assert cover.mass is not None and cover.mass == 2 * 2 * 2240 * POUND
    assert later["4.3"].mass == 2 * 2 * 2000 * POUND
    assert verify(office).differences == ()
    ((again, _),) = make_extracts(office, ("ERE",), "A")
    assert before.weight is not None and again == before
    office.book.close()


def test_before_the_first_issue_a_revision_is_asked_for(tmp_path):
    office = with_order(tmp_path)
    with pytest.raises(NotFound, match="no revision of it is issued yet"):
        take_off_at(office)
    assert take_off_at(office, "open").state == "open"
    office.book.close()
