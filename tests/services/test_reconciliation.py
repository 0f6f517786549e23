"""Random orders and random rules through a real book: nothing is lost in the splitting, before and after edits."""

from __future__ import annotations

import tempfile
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from specreg.core.model import Item, Kind, Layout, State
from specreg.services.allocating import allocate
from specreg.services.altering import alter, delete, insert
from specreg.services.comparing import compare
from specreg.services.extracting import make_extracts
from specreg.services.issuing import issue
from specreg.services.office import Office
from specreg.services.upkeep import verify
from tests.services.office_for_tests import DEPARTMENTS, new_office, note_opened, sign_all, take_in_tiny
from tests.strategies import WORDS

CODES = ("BUY", "FDY", "MCH", "ERE")
assert all(f'"{code}"' in DEPARTMENTS for code in CODES)

PLACES = st.lists(st.sampled_from([*CODES, "FDY & MCH", "MCH finish"]), min_size=0, max_size=3)
ROUTES = PLACES.map(lambda places: "; ".join([*places, "ERE"]))


@st.composite
def routings(draw: st.DrawFn) -> str:
    """Rules that give every item a route: some for some materials and words, a last one for the rest."""
    rules = [
        f'[[rule]]\nname = "rule {place}"\nmaterial = ["{draw(st.sampled_from(["iron", "steel"]))}"]\n'
        f'any_words = ["{draw(st.sampled_from(WORDS))}"]\nroute = "{draw(ROUTES)}"\n'
        for place in range(draw(st.integers(0, 3)))
    ]
    if draw(st.booleans()):
        rules.append(
            f'[[rule]]\nname = "proved"\nsafety = true\nadd = "{draw(st.sampled_from(CODES))} prove"\nbefore = "ERE"\n'
        )
    rules.append(f'[[rule]]\nname = "the rest"\nroute = "{draw(ROUTES)}"\n')
    return "\n".join(rules)


@st.composite
def rows(draw: st.DrawFn) -> list[dict[str, str]]:
    """Table rows of section 4; each is counted per machine, per order, or per a row before it."""
    found: list[dict[str, str]] = []
    for place in range(1, draw(st.integers(2, 6)) + 1):
        pers = ["machine", "order", *(row["Item"] for row in found)]
        found.append(
            {
                "Item": f"4.{place}",
                "Description": draw(st.sampled_from(WORDS)),
                "Off": str(draw(st.integers(1, 9))),
                "Per": draw(st.sampled_from(pers)),
                "Material": draw(st.sampled_from(["cast iron", "mild steel"])),
                "Machines": draw(st.sampled_from(["", "", "1471", "1472"])) if place == 1 else "",
                "Spares": draw(st.sampled_from(["", "1 per machine", "2 per order"])),
                "Safety": draw(st.sampled_from(["", "", "lifting"])),
                "Drawing": "none needed",
            }
        )
    return found


def as_sections(table: list[dict[str, str]]) -> dict[str, str]:
    """The rows as a section file."""
    heads = list(table[0])
    lines = [f"| {' | '.join(row[head] for head in heads)} |" for row in table]
    head = f"| {' | '.join(heads)} |\n|{'---|' * len(heads)}"
    return {"04-gear.md": "# 4 Gear\n\n" + "\n".join([head, *lines]) + "\n"}


EDITS = st.lists(
    st.one_of(
        st.tuples(st.just("off"), st.integers(1, 6), st.integers(1, 20).map(str)),
        st.tuples(st.just("material"), st.integers(1, 6), st.sampled_from(["cast iron", "mild steel"])),
        st.tuples(st.just("route"), st.integers(1, 6), ROUTES),
        st.tuples(st.just("delete"), st.integers(1, 6), st.just("")),
        st.tuples(st.just("insert"), st.integers(1, 6), st.sampled_from(WORDS)),
    ),
    min_size=1,
    max_size=5,
)


def edit(office: Office, act: str, number: str, word: str) -> None:
    """One edit where it is possible; the last machine-counted root is never deleted from under its parts."""
    picture = {one.number: one for one in live_items(office)}
    if act == "insert":
        insert(office, "", {"Description": word, "Off": "2", "Per": "machine", "Material": "mild steel",
                            "Drawing": "none needed"}, "1", number)  # fmt: skip
    elif number not in picture:
        return
    elif act == "delete":
        if not any(one.per == number for one in picture.values()):
            delete(office, number, "not wanted", "1")
    elif picture[number].get(act) != word:
        alter(office, number, {act.capitalize(): word}, "1")


def live_items(office: Office) -> list[Item]:
    """Items that stand live now."""
    from specreg.services.standing import as_it_stands

    found = as_it_stands(office).items
    return [one for one in found if one.kind is Kind.ITEM and one.state is State.LIVE and one.layout is Layout.ROW]


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(rows(), routings(), EDITS)
def test_nothing_is_lost_before_or_after_any_edits(
    table: list[dict[str, str]], routing: str, edits: list[tuple[str, int, str]]
) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        office = new_office(folder)
        take_in_tiny(office, folder, sections=as_sections(table), routing=routing, drawings="")
        assert allocate(office).unallocated == 0
        sign_all(office)
        issue(office)
        before = {one.department: one for one, _ in make_extracts(office, ())}
        note_opened(office)
        for act, place, word in edits:
            edit(office, act, f"4.{1 + (place - 1) % len(table)}", word)
        allocate(office, "1")
        if office_has_edits(office):
            sign_all(office, "1")
            issue(office, ["1"])
        after = {one.department: one for one, _ in make_extracts(office, ())}
        for extracts in (before, after):
            reckoned = extracts["ERE"].reconciliation
            assert reckoned.difference == 0
            assert reckoned.steps == sum(len(one.lines) for one in extracts.values())
            assert reckoned.final_off == reckoned.order_off
        last = office.revision().letter
        for code in CODES:
            found = compare(office, "A", last, code)
            assert found.lines is not None
            lines = found.lines
            assert lines.before + lines.added - len(lines.withdrawn) == lines.now
            assert (lines.before, lines.now) == (len(before[code].lines), len(after[code].lines))
            if last != "A":
                signs = [line.sign for line in after[code].lines]
                assert (signs.count("+"), signs.count("»")) == (lines.added, lines.altered)
                assert len(after[code].withdrawn) == len(lines.withdrawn)
                assert after[code].changed == bool(signs.count("+") + signs.count("»") + len(after[code].withdrawn))
        assert verify(office).differences == ()
        office.book.close()


def office_has_edits(office: Office) -> bool:
    """Whether anything stands open that says something new."""
    from specreg.store import items, routes

    note = office.note("1").note_id
    altered = any(
        items.one_at(office.book, one.item_id, 2**62) != one.item for one in items.under_note(office.book, note)
    )
    return altered or any(
        routes.one_at(office.book, item, 2**62) != route for item, route in routes.under_note(office.book, note).items()
    )
