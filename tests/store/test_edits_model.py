"""Two persons editing under two notes at random, held against a plain model that copies the whole at every issue."""

from __future__ import annotations

import shutil
import tempfile
from dataclasses import dataclass, field, fields, replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule, run_state_machine_as_test

from specreg.bootstrap import open_office
from specreg.core.errors import AlteredMeanwhile, Refused, SpecregError
from specreg.core.model import Item, Kind, Layout, State
from specreg.services import altering
from specreg.settings import Settings
from specreg.store import drawings, edits, items, notes, proof, revisions, routes
from specreg.store.rebuilding import rebuild_now
from specreg.store.word_index import item_texts
from tests.services.office_for_tests import Clock, issue_all, note_opened, take_in_tiny, with_revision_a
from tests.store.book_contents import DERIVED, contents, words_in

SECTION = """# 4 Slewing gear

| Item | Description | Off | Per | Material | Drawing | Remarks |
|---|---|---|---|---|---|---|
| 4.1 | Slewing rack | 1 | machine | cast steel | SL-1001 | |
| 4.2 | Slewing pinion | 2 | machine | mild steel | SL-1004, SL-1003 | keyed |
| 4.3 | Rack cover | 1 | machine | cast iron | | |
"""
THERE = ("4.1", "4.2")
FREE = ("4.1A", "4.4")
NUMBERS = (*THERE, *FREE)
SAID = {
    "Description": ("Rack", "Pinion of 13 teeth", "½ cover"),
    "Remarks": ("", "black", "bright, 1 1/4\" dia"),
    "Material": ("mild steel", "cast iron"),
    "Drawing": ("", "SL-1001", "SL-1002/1, HG-2001"),
}  # fmt: skip
PERSONS = ("JD", "HP")


@dataclass
class Edit:
    """One edit of the model: what was open of a thing before and after it."""

    note: str
    thing: int
    before: Item | None
    after: Item | None
    undone: bool = False


@dataclass
class Model:
    """An order as anybody would keep it in his head: everything copied at every issue."""

    issued: dict[int, Item]
    open: dict[int, tuple[str, Item]] = field(default_factory=dict)
    done: dict[str, list[Edit]] = field(default_factory=lambda: {person: [] for person in PERSONS})
    copies: list[dict[int, Item]] = field(default_factory=list)
    things: int = 1000

    def now(self) -> dict[int, Item]:
        return {**self.issued, **{thing: item for thing, (_, item) in self.open.items()}}

    def thing(self, number: str) -> int | None:
        return next((thing for thing, item in self.now().items() if item.number == number), None)

    def put(self, thing: int, note: str, item: Item | None) -> None:
        self.open.pop(thing, None)
        if item is not None:
            self.open[thing] = (note, item)

    def edit(self, person: str, note: str, thing: int, item: Item) -> None:
        before = self.open[thing][1] if thing in self.open else None
        self.done[person] = [edit for edit in self.done[person] if not edit.undone]
        self.done[person].append(Edit(note, thing, before, item))
        self.put(thing, note, item)

    def to_swap(self, person: str, undone: bool) -> Edit | None:
        left = [edit for edit in self.done[person] if edit.undone is undone]
        return (left[0] if undone else left[-1]) if left else None

    def issue(self, note: str) -> None:
        gone = {thing for thing, (under, _) in self.open.items() if under == note}
        for thing in gone:
            self.issued[thing] = self.open.pop(thing)[1]
        self.copies.append(dict(self.issued))
        for person, done in self.done.items():
            self.done[person] = [one for one in done if one.note != note and not (one.undone and one.thing in gone)]


class TwoPersons(RuleBasedStateMachine):
    """The program and the model side by side."""

    template: Path

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        path = Path(shutil.copy(self.template, Path(self.folder.name) / "works.specreg"))
        self.clock = Clock()
        self.desks = {
            person: open_office(Settings(str(path)), clock=self.clock, login=person.lower()) for person in PERSONS
        }
        self.chief = self.desks["JD"]
        self.book = self.chief.book
        for office in self.desks.values():
            # Only so that the test is quick; nothing here is killed.
            office.book.db.execute("PRAGMA synchronous = OFF")
        self.order_id = self.chief.order_id
        at_first = {one.item_id: one.item for one in items.all_now(self.book, self.order_id)}
        self.model = Model(dict(at_first), copies=[dict(at_first)])
        self.notes = ["1", "2"]
        self.as_of = [self.read_as_of(0)]

    def teardown(self) -> None:
        try:
            self.everything_agrees()
        finally:
            for office in self.desks.values():
                office.book.close()
            self.folder.cleanup()

    # Acts -------------------------------------------------------------------------------------------------------------

    def edit(self, person: str, act, expected: type[SpecregError] | None) -> None:
        if expected is None:
            act(self.desks[person])
        else:
            with pytest.raises(expected):
                act(self.desks[person])

    def refusal(self, thing: int | None, note: str, wanted: State, item: Item | None) -> type[SpecregError] | None:
        """Why an edit of a thing must be refused."""
        if thing is None:
            return SpecregError
        standing = self.model.now()[thing]
        elsewhere = thing in self.model.open and self.model.open[thing][0] != note
        return Refused if standing.state is not wanted or standing == item or elsewhere else None

    @rule(
        person=st.sampled_from(PERSONS),
        place=st.integers(0, 1),
        number=st.sampled_from(NUMBERS),
        said=st.sampled_from([(label, text) for label, texts in SAID.items() for text in texts]),
    )
    def alter(self, person, place, number, said):
        note, thing = self.notes[place], self.model.thing(number)
        item = self.model.now()[thing].with_field(*said) if thing is not None else None
        refused = self.refusal(thing, note, State.LIVE, item)
        self.edit(person, lambda office: altering.alter(office, number, dict([said]), note), refused)
        if refused is None:
            self.model.edit(person, note, thing, item)

    @rule(person=st.sampled_from(PERSONS), place=st.integers(0, 1), number=st.sampled_from(FREE))
    def insert(self, person, place, number):
        note = self.notes[place]
        said = {"Description": f"New {number}", "Material": "mild steel", "Off": "1 per machine"}
        refused = Refused if self.model.thing(number) is not None else None
        self.edit(person, lambda office: altering.insert(office, number, said, note), refused)
        if refused is None:
            item = Item(number, Kind.ITEM, Layout.ROW, "4", f"New {number}", off="1 per machine", material="mild steel")
            self.model.things = items.by_number(self.book, self.order_id, number).item_id
            self.model.edit(person, note, self.model.things, item)

    @rule(person=st.sampled_from(PERSONS), place=st.integers(0, 1), number=st.sampled_from(NUMBERS))
    def delete(self, person, place, number):
        note, thing = self.notes[place], self.model.thing(number)
        refused = self.refusal(thing, note, State.LIVE, None)
        self.edit(person, lambda office: altering.delete(office, number, "not wanted", note), refused)
        if refused is None:
            gone = replace(self.model.now()[thing], state=State.DELETED, reason="not wanted")
            self.model.edit(person, note, thing, gone)

    @rule(person=st.sampled_from(PERSONS), place=st.integers(0, 1), number=st.sampled_from(NUMBERS))
    def restore(self, person, place, number):
        note, thing = self.notes[place], self.model.thing(number)
        refused = self.refusal(thing, note, State.DELETED, None)
        self.edit(person, lambda office: altering.restore(office, number, note), refused)
        if refused is None:
            self.model.edit(person, note, thing, replace(self.model.now()[thing], state=State.LIVE, reason=""))

    @precondition(lambda self: any(self.model.to_swap(person, False) for person in PERSONS))
    @rule(person=st.sampled_from(PERSONS))
    def undo(self, person):
        self.swap(person, altering.undo, undone=False)

    @precondition(lambda self: any(self.model.to_swap(person, True) for person in PERSONS))
    @rule(person=st.sampled_from(PERSONS))
    def redo(self, person):
        self.swap(person, altering.redo, undone=True)

    def swap(self, person, act, undone):
        edit = self.model.to_swap(person, undone)
        refused: type[SpecregError] | None = None
        if edit is None:
            refused = Refused
        else:
            expected, put = (edit.before, edit.after) if undone else (edit.after, edit.before)
            standing = self.model.open[edit.thing][1] if edit.thing in self.model.open else None
            if standing != expected:
                refused = AlteredMeanwhile
            elif put is not None and self.model.thing(put.number) not in (None, edit.thing):
                refused = Refused  # the number was given to another item meanwhile
        self.edit(person, act, refused)
        if refused is None:
            edit.undone = not undone
            self.model.put(edit.thing, edit.note, put)

    @precondition(lambda self: self.model.open)
    @rule(place=st.integers(0, 1))
    def issue(self, place):
        note = self.notes[place]
        under = [item for thing, (at, item) in self.model.open.items() if at == note]
        if all(item in self.model.issued.values() for item in under):
            return  # nothing would be new
        self.clock.on(days=1)
        issue_all(self.chief, note)
        self.model.issue(note)
        self.notes[place] = str(1 + max(int(one) for one in self.notes))
        note_opened(self.chief, self.notes[place])
        self.as_of.append(self.read_as_of(len(self.as_of)))

    # What must hold ---------------------------------------------------------------------------------------------------

    def read_as_of(self, place: int) -> str:
        """Everything that is read of a revision, as one text."""
        entry = revisions.of_order(self.book, self.order_id)[place].entry
        said = list(items.issued_at(self.book, self.order_id, entry))
        return "\n".join(
            map(
                repr,
                [
                    *said,
                    *sorted(routes.issued_at(self.book, self.order_id, entry).items()),
                    *sorted(revisions.totals_at(self.book, self.order_id, entry).items()),
                    *(drawings.calls_at(self.book, item_id, entry) for item_id, _ in said),
                    *(items.one_at(self.book, item_id, entry) for item_id, _ in said),
                ],
            )
        )

    @invariant()
    def items_stand_as_the_model_says(self) -> None:
        standing = {one.item_id: one for one in items.all_now(self.book, self.order_id)}
        assert {item_id: one.item for item_id, one in standing.items()} == self.model.now()
        note_ids = {number: notes.by_number(self.book, self.order_id, number).note_id for number in self.notes}
        under = {item_id: one.note_id for item_id, one in standing.items() if one.note_id is not None}
        assert under == {thing: note_ids[note] for thing, (note, _) in self.model.open.items()}
        for person, desk in self.desks.items():
            for undone in (False, True):
                there, mine = edits.last(desk.book, self.order_id, person, undone), self.model.to_swap(person, undone)
                assert (there is None) == (mine is None)

    def everything_agrees(self) -> None:
        every = revisions.of_order(self.book, self.order_id)
        assert len(every) == len(self.model.copies)
        for place, (revision, copy) in enumerate(zip(every, self.model.copies, strict=True)):
            assert dict(items.issued_at(self.book, self.order_id, revision.entry)) == copy
            assert self.read_as_of(place) == self.as_of[place]
        assert list(proof.differences(self.book)) == []
        self.derived_rows_are_what_is_made_anew()

    def derived_rows_are_what_is_made_anew(self) -> None:
        db = self.book.db
        before = contents(self.book)
        fresh = [(one.item_id, *item_texts(one.item)) for one in items.all_now(self.book, self.order_id)]
        db.execute("BEGIN")
        rebuild_now(self.book)
        after = contents(self.book)
        db.execute("ROLLBACK")
        assert set(DERIVED) < set(before)
        assert after == before
        db.execute("CREATE VIRTUAL TABLE temp.fresh_words USING fts5 (number, title, words, detail = column)")
        db.executemany("INSERT INTO temp.fresh_words (rowid, number, title, words) VALUES (?, ?, ?, ?)", fresh)
        assert words_in(db, "fresh_words", "temp") == before["item_words"]
        db.execute("DROP TABLE temp.fresh_words")


@pytest.fixture(scope="module")
def template(tmp_path_factory) -> Path:
    """An order at revision A with two open notes."""
    folder = tmp_path_factory.mktemp("template")
    from tests.services.office_for_tests import new_office

    office = new_office(folder)
    take_in_tiny(office, folder, sections={"04-slewing-gear.md": SECTION})
    issue_all(office)
    note_opened(office, "1")
    note_opened(office, "2")
    office.book.close()
    return office.book.path


def test_two_persons_under_two_notes(template):
    class AtThisBook(TwoPersons):
        pass

    AtThisBook.template = template
    run_state_machine_as_test(
        AtThisBook,
        settings=settings(
            max_examples=150, stateful_step_count=30, deadline=None, suppress_health_check=list(HealthCheck)
        ),
    )


# The cases that matter most, each by itself ---------------------------------------------------------------------------


@pytest.fixture
def two(tmp_path):
    """The chief's and the draughtsman's desks at an order at revision A, with notes 1 and 2 open."""
    from tests.services.office_for_tests import second_program

    office = with_revision_a(tmp_path)
    note_opened(office, "1")
    note_opened(office, "2")
    other = second_program(office, "HP")
    yield office, other
    other.book.close()
    office.book.close()


def size_of(office, number="4.1.2") -> str:
    return items.by_number(office.book, office.order_id, number).item.size


def test_an_edit_that_somebody_built_upon_is_not_undone(two):
    chief, other = two
    altering.alter(chief, "4.1.2", {"Size": "mine"}, "1")
    altering.alter(other, "4.1.2", {"Remarks": "his"}, "1")
    with pytest.raises(AlteredMeanwhile, match=r"^Undo the edit of 4\.1\.2: it has been altered since\."):
        altering.undo(chief)
    assert size_of(chief) == "mine"
    altering.undo(other)
    altering.undo(chief)
    assert size_of(chief) == 'bar 1 1/4" dia x 5"'


def test_nothing_is_undone_across_an_issue(two):
    chief, other = two
    altering.alter(chief, "4.1.2", {"Size": "one"}, "1")
    altering.alter(other, "4.2", {"Size": "two"}, "2")
    issue_all(chief, "1")
    with pytest.raises(Refused, match="Nothing to undo"):
        altering.undo(chief)
    assert size_of(chief) == "one"
    altering.undo(other)
    assert size_of(chief, "4.2") == ""


def test_nothing_is_redone_across_an_issue_of_the_same_item_under_another_note(two):
    """What was undone was written upon revision A; revision B says something else, which must not vanish unseen."""
    chief, other = two
    altering.alter(chief, "4.1.2", {"Size": "upon revision A"}, "1")
    altering.alter(chief, "4.2", {"Size": "another item"}, "1")
    altering.undo(chief)
    altering.undo(chief)
    altering.alter(other, "4.1.2", {"Remarks": "issued"}, "2")
    issue_all(chief, "2")
    altering.redo(chief)
    assert size_of(chief, "4.2") == "another item"
    with pytest.raises(Refused, match="Nothing to redo"):
        altering.redo(chief)
    standing = items.by_number(chief.book, chief.order_id, "4.1.2")
    assert (standing.item.remarks, standing.note_id) == ("issued", None)


def test_edits_of_a_note_not_issued_stay_open(two):
    chief, other = two
    altering.alter(chief, "4.1.2", {"Size": "one"}, "1")
    altering.alter(other, "4.2", {"Size": "two"}, "2")
    issue_all(chief, "1")
    last = revisions.last(chief.book, chief.order_id)
    assert items.number_at(chief.book, chief.order_id, "4.1.2", last.entry)[1].size == "one"
    assert items.number_at(chief.book, chief.order_id, "4.2", last.entry)[1].size == ""
    assert [one.item.number for one in items.under_note(chief.book, other.note("2").note_id)] == ["4.2"]
    issue_all(chief, "2")
    assert items.number_at(chief.book, chief.order_id, "4.2", last.entry)[1].size == ""
    assert [one.letter for one in revisions.of_order(chief.book, chief.order_id)] == ["A", "B", "C"]


def test_an_edit_put_back_by_hand_records_nothing(two):
    chief, _ = two
    altering.alter(chief, "4.1.2", {"Size": "one"}, "1")
    altering.alter(chief, "4.1.2", {"Size": 'bar 1 1/4" dia x 5"'}, "1")
    altering.alter(chief, "4.2", {"Size": "two"}, "1")
    issue_all(chief, "1")
    assert len(items.versions(chief.book, items.by_number(chief.book, 1, "4.1.2").item_id)) == 1
    assert len(items.versions(chief.book, items.by_number(chief.book, 1, "4.2").item_id)) == 2


def test_a_row_of_a_table_is_read_in_the_order_of_the_record():
    assert tuple(one.name for one in fields(Item)) == items.CONTENT
    item = Item(
        "4.1", Kind.ITEM, Layout.ROW, "4", "Rack", other=(("Finish", "black"),), state=State.DELETED, reason="x"
    )
    assert items.item_of(items.columns_of(item).values()) == item
    assert items.item_from_json(items.item_as_json(item)) == item
