"""Which route an item gets: the rules, the numbers of the steps, and why an item has its route."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from specreg.core.model import Item, Kind, Route, State, Step
from specreg.core.roll_up import Total, roll_up
from specreg.core.route_notation import OFF_FIELD, ROUTE_FIELD, numbered, route_problems
from specreg.core.routing import Allocator, allocate, explain, rule_problems
from specreg.core.standards import House, Rule, Standards
from tests.strategies import DEPARTMENTS, Specified, item, orders
from tests.strategies import standards as drawn_standards

CASTINGS = Rule(
    "iron castings",
    route="PAT 1; FDY all+1; MCH; ERE machines & STO put by spares",
    material=("cast iron", "cast steel"),
)
BOUGHT = Rule("bought out", route="BUY; STO", supply=("buy", "stock"))
FREE = Rule("free issue", no_action="the customer supplies it", supply=("free issue",))
LIFTING = Rule("lifting gear", add="INS prove", safety=True, before="ERE")
WORKS = Standards(House("Practice works"), DEPARTMENTS, (CASTINGS, BOUGHT, FREE, LIFTING))


def works(*rules: Rule) -> Standards:
    return Standards(House("Practice works"), DEPARTMENTS, rules)


def total(one: Item) -> Total:
    found = roll_up([one], ("1471", "1472", "1473")).of(one.number)
    assert found is not None
    return found


def routed(one: Item, rules: Standards = WORKS) -> Route:
    return allocate(one, total(one), rules)


def said(route: Route) -> list[str]:
    """A route in short: place, department, operation and number."""
    return [f"{s.place} {s.department} {s.operation} {s.off}" + (f"+{s.extra}" if s.extra else "") for s in route.steps]


# --- which rule


def test_departments_see_different_numbers_of_the_same_item() -> None:
    casting = item("4.1", "4 per machine", material="cast iron", spares="1 per machine, 2 per order")
    assert said(routed(casting)) == [
        "1 PAT make pattern 1",
        "2 FDY cast 17+1",
        "3 MCH machine 17",
        "4 ERE erect 12",
        "4 STO put by 5",
    ]


def test_a_step_for_nought_is_left_out_and_the_places_close_up() -> None:
    assert said(routed(item("4.1", "4 per machine", material="cast iron")))[-1] == "4 ERE erect 12"
    first = works(Rule("odd", route="STO spares; MCH; ERE"))
    assert said(routed(item("4.1"), first)) == ["1 MCH machine 3", "2 ERE erect 3"]


def test_what_is_not_counted_has_steps_without_number() -> None:
    packing = item("4.1", "as required", material="cast iron")
    assert said(routed(packing)) == [
        "1 PAT make pattern None",
        "2 FDY cast None+1",
        "3 MCH machine None",
        "4 ERE erect None",
    ]
    assert routed(item("4.1", "1 pair per machine", material="cast iron", spares="1 pair per order")).steps[-1] == Step(
        4, "STO", "put by", "spares", 0, "iron castings", None
    )


def test_the_route_field_wins_over_the_rules() -> None:
    own = item("4.1", material="cast iron", safety="lifting", route="MCH 3; ERE 3")
    assert said(routed(own)) == ["1 MCH machine 3", "2 ERE erect 3"]
    assert {step.because for step in routed(own).steps} == {ROUTE_FIELD}


def test_the_route_field_may_say_that_nobody_acts_and_must_say_why() -> None:
    none = routed(item("4.1", route="none: supplied with the motor"))
    assert (none.steps, none.no_action, none.because) == ((), "supplied with the motor", ROUTE_FIELD)
    bare = item("4.1", route="none")
    assert not routed(bare).allocated
    assert "no reason given" in route_problems(bare, WORKS)[0]


def test_a_route_field_that_cannot_be_read_gives_no_route_at_all() -> None:
    faulty = item("4.1", material="cast iron", route="FDY 3; XXX 3")
    assert routed(faulty) == Route(because=ROUTE_FIELD)
    assert "XXX" in route_problems(faulty, WORKS)[0]
    assert route_problems(item("4.1", route="FDY"), WORKS) == ()


def test_the_first_rule_that_matches_decides() -> None:
    both = item("4.1", material="cast iron", supply="buy")
    assert {step.because for step in routed(both).steps} == {"iron castings"}
    assert routed(item("4.1", supply="free issue", safety="lifting")).no_action == "the customer supplies it"
    assert not routed(item("4.1", material="bronze")).allocated


def test_every_matching_rule_adds_its_steps_in_their_place() -> None:
    hoist = item("4.1", material="cast iron", safety="lifting")
    assert said(routed(hoist))[3:] == ["4 INS prove 3", "5 ERE erect 3"]
    assert routed(hoist).steps[3].because == "lifting gear"
    after = works(CASTINGS, Rule("scour", add="INS look over; MCH scour", after="FDY", safety=True), LIFTING)
    assert [line.split(" ", 1)[1] for line in said(routed(hoist, after))] == [
        "PAT make pattern 1",
        "FDY cast 3+1",
        "INS look over 3",
        "MCH scour 3",
        "MCH machine 3",
        "INS prove 3",
        "ERE erect 3",
    ]


def test_an_added_step_stands_before_the_last_when_its_neighbour_is_not_on_the_route() -> None:
    bolt = item("4.1", supply="buy", safety="lifting")
    assert said(routed(bolt)) == ["1 BUY order 3", "2 INS prove 3", "3 STO put by 3"]


def test_nothing_is_added_that_stands_there_already() -> None:
    rules = works(Rule("main", route="INS Prove; ERE"), LIFTING, Rule("again", add="INS prove", safety=True))
    assert said(routed(item("4.1", safety="lifting"), rules)) == ["1 INS Prove 3", "2 ERE erect 3"]
    rules = works(Rule("main", route="INS measure; ERE"), LIFTING)
    assert said(routed(item("4.1", safety="lifting"), rules))[1] == "2 INS prove 3"


def test_steps_are_not_added_to_nothing() -> None:
    assert not routed(item("4.1", safety="lifting")).allocated


@pytest.mark.parametrize(
    "faulty", [Rule("bad", route="XXX"), Rule("bad", add="XXX", safety=True), Rule("bad", no_action=" - ")]
)
def test_a_faulty_rule_that_matches_leaves_the_item_without_a_route(faulty: Rule) -> None:
    rules = works(faulty, CASTINGS)
    assert not routed(item("4.1", material="cast iron", safety="lifting"), rules).allocated


def test_on_an_item_for_reference_only_nobody_acts() -> None:
    reference = item("4.1", "reference only", material="cast iron")
    assert routed(reference) == Route(no_action="reference only", because=OFF_FIELD)
    assert Allocator(WORKS).unnumbered(item("4.1", "reference only")) == Route(
        no_action="reference only", because=OFF_FIELD
    )
    assert routed(item("4.1", "reference only", route="ERE all")).no_action == "reference only"
    assert said(routed(item("4.1", "reference only", route="ERE 2"))) == ["1 ERE erect 2"]


@pytest.mark.parametrize("fields", [{"kind": Kind.SECTION}, {"kind": Kind.CLAUSE}, {"state": State.DELETED}])
def test_only_live_items_have_a_route(fields: dict[str, object]) -> None:
    heading = item("4.1", material="cast iron", route="FDY", **fields)
    assert Allocator(WORKS).allocate(heading, total(item("4.1"))) == Route()


def test_the_route_is_kept_without_numbers_and_numbered_afresh() -> None:
    casting = item("4.1", material="cast iron")
    kept = Allocator(WORKS).unnumbered(casting)
    assert [step.off for step in kept.steps] == [None] * 5
    assert numbered(kept, total(casting)) == routed(casting)
    with_spares = item("4.1", material="cast iron", spares="2 per order")
    assert numbered(kept, total(with_spares)) == routed(with_spares)
    assert len(routed(with_spares).steps) == len(routed(casting).steps) + 1


# --- why


def test_why_an_item_has_its_route() -> None:
    hoist = item("4.1", material="bronze", supply="buy", safety="lifting")
    assert [(line.rule, line.matched, line.text, line.place) for line in explain(hoist, total(hoist), WORKS)] == [
        ("iron castings", False, "does not match: material: it is not `cast iron`, `cast steel`", 0),
        ("bought out", True, "gives `BUY; STO`", 0),
        ("free issue", False, "does not match: supply: it is not `free issue`", 0),
        ("lifting gear", True, "adds `INS prove`", 0),
        ("bought out", True, "BUY order 3 (all)", 1),
        ("lifting gear", True, "INS prove 3 (all)", 2),
        ("bought out", True, "STO put by 3 (all)", 3),
    ]


def test_why_tells_the_first_condition_that_failed_and_which_rule_came_first() -> None:
    rules = works(
        Rule("one", route="STO"), Rule("two", route="ERE", words=("rack",), safety=True), Rule("three", route="ERE")
    )
    one = item("4.1", title="bolt")
    texts = [line.text for line in explain(one, total(one), rules)]
    assert texts[1] == "does not match: words: not all of `rack` stand in the description"
    assert texts[2] == "matches, but `one` came first"


def test_why_tells_of_the_route_field_and_of_reference_only() -> None:
    own = item("4.1", route="ERE; XXX")
    assert explain(own, total(own), WORKS)[0].rule == ROUTE_FIELD
    assert "XXX" in explain(own, total(own), WORKS)[0].text
    reference = item("4.1", "reference only", material="cast iron")
    assert [line.text for line in explain(reference, total(reference), WORKS)] == ["no action: reference only"]


def test_why_can_be_told_before_the_number_off_is_known() -> None:
    casting = item("4.1", material="cast iron")
    assert [line.text for line in Allocator(WORKS).explain(casting) if line.place] == [
        "PAT make pattern (1)",
        "FDY cast (all)",
        "MCH machine (all)",
        "ERE erect (machines)",
        "STO put by (spares)",
    ]


# --- faults of rules


@pytest.mark.parametrize(
    ("rule", "fault"),
    [
        (Rule("r", route="XXX 1"), "rule `r`: step 1 of the route: there is no department `XXX`"),
        (Rule("r", add="FDY 1.5"), "no number that can be read"),
        (Rule("r"), "does nothing"),
        (Rule("r", route="FDY", no_action="because"), "has route and no_action"),
        (Rule("r", route="FDY", add="INS"), "has route and add"),
        (Rule("r", no_action=" - "), "without a reason"),
        (Rule("r", route=" "), "is blank"),
        (Rule("r", add="INS", before="XXX"), "placed by `XXX`"),
        (Rule("r", add="INS", before="ERE", after="FDY"), "placed both before"),
        (Rule("r", route="INS", before="ERE"), "adds no step"),
        (Rule(" ", route="INS"), "no name"),
    ],
)
def test_faults_of_a_rule_are_told(rule: Rule, fault: str) -> None:
    faults = rule_problems(works(rule))
    assert [fault in one.text for one in faults] == [True]
    assert faults[0].subject == rule.name


def test_two_rules_of_one_name_are_a_fault_and_sound_rules_are_none() -> None:
    assert "two rules" in rule_problems(works(CASTINGS, Rule("Iron  Castings", route="STO")))[0].text
    assert rule_problems(WORKS) == ()


# --- whatever is drawn


@settings(max_examples=50, deadline=None)
@given(orders(), drawn_standards())
def test_places_close_up_and_the_explanation_tells_the_steps(drawn: Specified, rules: Standards) -> None:
    assert rule_problems(rules) == ()
    up = roll_up(drawn.items, drawn.machines)
    allocator = Allocator(rules)
    for one in drawn.items:
        found = up.of(one.number)
        if found is None or not one.is_line:
            continue
        route = allocator.allocate(one, found)
        places = [step.place for step in route.steps]
        assert sorted(set(places)) == list(range(1, len(set(places)) + 1))
        assert places == sorted(places)
        assert all(step.off is None or step.off > 0 for step in route.steps)
        assert route == allocate(one, found, rules)
        told = [(line.place, line.department, line.rule) for line in explain(one, found, rules) if line.place]
        assert told == [(step.place, step.department, step.because) for step in route.steps]


# --- what each rule does


def test_each_rule_counts_the_items_it_fits_and_serves_and_names_what_beats_it() -> None:
    late = Rule("any iron", route="FDY; STO", material=("iron",))
    unused = Rule("timber", route="PAT; STO", material=("teak",))
    allocator = Allocator(works(CASTINGS, late, unused, LIFTING))
    items = (
        item("4.1", material="cast iron"),
        item("4.2", material="cast iron", safety="lifting"),
        item("4.3", material="wrought iron"),
        item("4.4", material="cast iron", route="STO all"),  # asks no rule
        item("4.5", material="brass", safety="lifting"),  # nothing to add to
    )
    used = {one.rule.name: (one.fits, one.serves, one.beaten_by) for one in allocator.use_of_rules(items)}
    assert used == {
        "iron castings": (2, 2, ()),
        "any iron": (3, 1, ("iron castings",)),
        "timber": (0, 0, ()),
        "lifting gear": (2, 1, ()),
    }
    assert [one.rule.name for one in allocator.use_of_rules(items) if one.is_idle] == ["timber"]


@given(orders(), drawn_standards())
@settings(max_examples=50)
def test_without_its_idle_rules_an_order_is_allocated_alike(order: Specified, drawn: Standards) -> None:
    used = Allocator(drawn).use_of_rules(order.items)
    fewer = Standards(drawn.house, drawn.departments, tuple(one.rule for one in used if not one.is_idle))
    full, reduced = Allocator(drawn), Allocator(fewer)
    for one in order.items:
        assert full.unnumbered(one) == reduced.unnumbered(one)
