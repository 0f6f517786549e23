"""Which items a routing rule matches."""

from __future__ import annotations

import pytest

from specreg.core.rule_conditions import matches
from specreg.core.standards import Rule
from tests.strategies import item


@pytest.mark.parametrize(
    ("condition", "matching", "other"),
    [
        ({"sections": ("4",)}, {"number": "4.1.2"}, {"number": "40.1"}),
        ({"sections": ("4-6",)}, {"number": "6.9"}, {"number": "7.1"}),
        ({"sections": ("4.1",)}, {"number": "4.1.7"}, {"number": "4.10"}),
        ({"sections": ("4.1",)}, {"number": "4.1"}, {"number": "4.1A"}),
        ({"sections": ("4.2-4.10",)}, {"number": "4.10.1"}, {"number": "4.11"}),
        ({"sections": ("B-1",)}, {"number": "B-1.2"}, {"number": "B-2.1"}),
        ({"words": ("rack", "seg")}, {"title": "Slewing Rack  segment"}, {"title": "Rack bolt"}),
        ({"any_words": ("bolt", "stud")}, {"title": "Rack BOLTS"}, {"title": "Rack segment"}),
        ({"no_words": ("loose", "sliding")}, {"title": "Spur pinion"}, {"title": "Spur pinion, SLIDING"}),
        ({"any_words": ("b.lt",)}, {"title": "b.lt"}, {"title": "bolt"}),
        ({"material": ("cast iron", "steel")}, {"material": "Mild Steel"}, {"material": "bronze"}),
        ({"supply": ("buy",)}, {"supply": "Buy"}, {"supply": "buy later"}),
        ({"drawings": ("SL-",)}, {"drawing": "HO-1, sl-1002/1"}, {"drawing": "XSL-1"}),
        ({"safety": True}, {"safety": "lifting"}, {}),
        ({"safety": False}, {}, {"safety": "lifting"}),
        ({"pattern": True}, {"pattern": "3382"}, {}),
        ({"drawing": False}, {}, {"drawing": "SL-1"}),
        ({"material": ("steel",), "safety": True}, {"material": "steel", "safety": "brake"}, {"material": "steel"}),
    ],
)
def test_a_rule_matches_when_every_condition_holds(
    condition: dict[str, object], matching: dict[str, str], other: dict[str, str]
) -> None:
    rule = Rule("one", route="STO", **condition)  # type: ignore[arg-type]
    assert matches(rule, item(**{"number": "1.1", **matching}))
    assert not matches(rule, item(**{"number": "1.1", **other}))


def test_a_rule_without_conditions_matches_everything() -> None:
    assert matches(Rule("rest", route="STO"), item("1.1"))
