"""The latest day to order: the wanted day less the lead time and what is kept in hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from specreg.core.lead_times import OrderBy, order_by, read_time
from specreg.core.measures.records import NotRead
from specreg.core.reckoning_standards import LeadTime, Reckoning
from specreg.core.standards import House, Material, Standards
from specreg.core.stock.records import Form
from tests.core.pictures import CASTING

TABLE = (
    LeadTime("14 weeks", "the founders", supply=("buy",), materials=("cast steel",)),
    LeadTime("30 days", "the mill", supply=("make",), kinds=("plate",)),
    LeadTime("6 weeks", "works figure", supply=("buy",)),
)
MATERIALS = (Material("cast steel", also=("steel casting",)), Material("brass"))
WORKS = Standards(House("Practice works"), materials=MATERIALS, reckoning=Reckoning(lead_times=TABLE))
IN_HAND = replace(WORKS, reckoning=replace(WORKS.reckoning, slack="1 week"))
WANTED = replace(CASTING, wanted="2027-02-12", supply="buy", material="cast steel")


@pytest.mark.parametrize(
    ("text", "days"), [("12 weeks", 84), ("1 week", 7), ("10 days", 10), ("1 day", 1), (" 2 wks. ", 14), ("6Weeks", 42)]
)
def test_a_time_is_read_in_weeks_or_days(text, days):
    assert read_time(text) == timedelta(days=days)


@pytest.mark.parametrize("text", ["3 months", "12", "about 6 weeks", "", "1.5 weeks", "week 12"])
def test_what_is_no_fixed_time_is_asked_about(text):
    assert isinstance(read_time(text), NotRead)


def test_the_first_rule_that_fits_counts():
    found = order_by(WANTED, None, WORKS)
    assert found == OrderBy(date(2026, 11, 6), "wanted 2027-02-12, less 14 weeks (the founders)")
    assert order_by(replace(WANTED, material="Steel casting"), None, WORKS) == found
    brass = order_by(replace(WANTED, material="brass"), None, WORKS)
    assert isinstance(brass, OrderBy) and brass.day == date(2027, 1, 1)
    plate = order_by(replace(WANTED, supply="", material="brass"), Form.PLATE, WORKS)
    assert isinstance(plate, OrderBy) and plate.day == date(2027, 1, 13)


def test_the_time_in_hand_is_kept():
    found = order_by(WANTED, None, IN_HAND)
    assert found == OrderBy(date(2026, 10, 30), "wanted 2027-02-12, less 14 weeks (the founders) and 1 week in hand")


def test_the_items_own_time_comes_first():
    own = WANTED.with_field("Lead time", "2 weeks")
    found = order_by(own, None, WORKS)
    assert found == OrderBy(date(2027, 1, 29), "wanted 2027-02-12, less 2 weeks (Lead time of the item)")


def test_without_a_wanted_day_or_a_time_there_is_no_latest_day():
    assert order_by(replace(WANTED, wanted=""), None, WORKS) is None
    assert order_by(replace(WANTED, supply="stock"), None, WORKS) is None
    assert order_by(replace(WANTED, supply="make"), Form.ROUND, WORKS) is None


@pytest.mark.parametrize("wanted", ["Easter", "2027-02-30", "as soon as possible"])
def test_a_wanted_day_that_is_none_is_asked_about(wanted):
    assert isinstance(order_by(replace(WANTED, wanted=wanted), None, WORKS), NotRead)
    assert isinstance(order_by(WANTED.with_field("Lead time", "soon"), None, WORKS), NotRead)
