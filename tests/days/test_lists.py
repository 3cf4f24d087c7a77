"""The lists of the next day: drawn from the plan that was told, frozen when sent."""

from datetime import UTC, datetime

import pytest

from inspections.days.selectors import next_day_lists
from tests.clock import Clock
from tests.days.crewed import MONDAY, crewed, told

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def clock(monkeypatch) -> Clock:
    """The Friday before, in the afternoon."""
    return Clock(datetime(2026, 3, 13, 20, tzinfo=UTC)).put(monkeypatch)


@pytest.fixture
def job(shop, planted_bytes):
    crewed(shop)
    return shop.roughed_in(planted_bytes)


def test_a_list_has_house_work_items_and_what_to_bring(shop, job) -> None:
    told(shop)
    lists = next_day_lists(shop.shop, MONDAY)
    assert {each.crew.name for each in lists} == {"Crew A", "Crew B"}
    work = [w for each in lists for house in each.houses for w in house.work]
    assert {w.kind for w in work} >= {"rough-in"}
    houses = [house for each in lists for house in each.houses]
    assert {house.job for house in houses} == {job.name}
    assert any("box" in thing for house in houses for thing in house.bring)
    assert any(" m NM" in thing for house in houses for thing in house.bring)
    mend = [each for house in houses for each in house.mend]
    assert mend
    assert all(each.source for each in mend)
    assert any("may be covered" in each for house in houses for each in house.leave_alone)


def test_there_is_no_list_before_a_plan_is_told(shop, job) -> None:
    assert next_day_lists(shop.shop, MONDAY) == []
