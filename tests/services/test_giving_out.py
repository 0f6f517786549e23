"""An order written out and taken in again says the same."""

from __future__ import annotations

from pathlib import Path

from specreg.core.model import State
from specreg.services.altering import delete, insert
from specreg.services.giving_out import export
from specreg.services.taking_in import take_in
from specreg.store import items
from tests.services.office_for_tests import SECTIONS, issue_all, note_opened, tiny_order_folder, with_order


def test_a_number_an_outsider_has_given_anew_is_written_once_for_the_item_that_is_wanted(tmp_path: Path) -> None:
    office = with_order(tmp_path, numbering="theirs")
    issue_all(office)
    note_opened(office)
    delete(office, "5.5", "bored solid")
    bush = "Barrel bush | 2 | 5.1 | cast gunmetal | none needed | make | 2 per order |"
    lubricator = "Lubricator, sight feed | 4 | machine | brass | none needed | buy | |"
    anew = {**SECTIONS, "05-hoisting-gear.md": SECTIONS["05-hoisting-gear.md"].replace(bush, lubricator)}
    taken = take_in(office, tiny_order_folder(tmp_path, anew, into="anew", numbering="theirs"))
    assert taken.numbers("add") == ("5.5",)
    states = [one.item.state for one in items.all_now(office.book, office.order_id) if one.item.number == "5.5"]
    assert sorted(states) == [State.DELETED, State.LIVE]
    export(office, tmp_path / "out")
    again = take_in(office, tmp_path / "out", preview=True)
    assert (again.plans, again.set_aside, again.kept) == ((), (), ())
    office.book.close()


def test_an_outsiders_order_as_exported_takes_out_nothing_that_came_in_since(tmp_path: Path) -> None:
    """Only a specification that its maker has issued anew says by silence that a clause is gone."""
    office = with_order(tmp_path, numbering="theirs")
    issue_all(office)
    export(office, tmp_path / "out")
    note_opened(office)
    insert(office, "5.6", {"Description": "Guard", "Off": "1", "Per": "machine", "Supply": "buy"})
    again = take_in(office, tmp_path / "out", preview=True)
    assert again.numbers("delete") == ()
    assert [fault.subject for fault in again.flags if fault.name == "not in the folder"] == ["5.6"]
    (tmp_path / "out" / ".written-from.csv").unlink()
    assert take_in(office, tmp_path / "out", preview=True).numbers("delete") == ("5.6",)
    office.book.close()
