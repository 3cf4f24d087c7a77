"""What follows from a shop as a whole: the crews' lists and the weekly summary."""

from datetime import UTC, date, datetime
from uuid import uuid4

import pytest

from notifications import shopfacts
from notifications.models import Notice, NoticeRules
from notifications.services import shop_follow, shops_due
from notifications.shopfacts import CrewList, provide_plan
from notifications.tasks import follow_shops
from tests.clock import Clock
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db

SUNDAY = datetime(2026, 3, 1, 18, 0, tzinfo=UTC)  # eleven in the morning in Edmonton


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(SUNDAY).put(monkeypatch)


@pytest.fixture
def plan(monkeypatch, shop):
    """What the crew does on Monday 2 March, as the test changes it."""
    monkeypatch.setattr(shopfacts, "_plan", [None])
    lines: list[str] = ["Lot 15: rough-in of the east wing", "Lot 16: boxes"]
    crew = uuid4()

    def lists(_shop, day):
        if day != date(2026, 3, 2):
            return []
        return [CrewList(crew, "Crew one", [shop.lead, shop.member], list(lines))]

    provide_plan(lists)
    return lines


def lists(person) -> list[str]:
    found = Notice.objects.filter(person=person, kind="list", moot_at__isnull=True)
    return [f"{notice.text}|{notice.body}" for notice in found]


def test_the_list_is_told_at_the_shops_hour(clock, shop, plan) -> None:
    shop_follow(shop.shop.id)
    assert lists(shop.lead) == []
    four = datetime(2026, 3, 1, 23, 0, tzinfo=UTC)
    assert NoticeRules.objects.get(shop=shop.shop).next_at == four
    clock.now = four
    assert shops_due() == [shop.shop.id]
    follow_shops()
    told = ["Crew one, list for Mon 02 Mar: 2 tasks.|" + "\n".join(plan)]
    assert lists(shop.lead) == lists(shop.member) == told
    assert lists(shop.office) == []


def test_a_list_that_changes_after_it_was_told_is_told_again_as_amended(clock, shop, plan) -> None:
    clock.now = datetime(2026, 3, 1, 23, 0, tzinfo=UTC)
    shop_follow(shop.shop.id)
    first = plan.pop()
    shop_follow(shop.shop.id)
    assert lists(shop.lead) == [f"Crew one, amended list for Mon 02 Mar: 1 tasks.|{plan[0]}"]
    plan.append(first)  # and back: told again all the same
    shop_follow(shop.shop.id)
    shop_follow(shop.shop.id)
    assert Notice.objects.filter(person=shop.lead, kind="list").count() == 3
    assert lists(shop.lead)[0].startswith("Crew one, amended list for Mon 02 Mar: 2 tasks.")


def test_without_a_plan_there_is_no_list(clock, shop) -> None:
    clock.now = datetime(2026, 3, 1, 23, 0, tzinfo=UTC)
    shop_follow(shop.shop.id)
    assert lists(shop.lead) == []


def test_the_summary_is_told_on_monday_morning_to_the_owner_alone(clock, shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    job.drywall_on = date(2026, 3, 5)
    job.save()
    NoticeRules.objects.filter(shop=shop.shop).update(owner=shop.lead)
    shop_follow(shop.shop.id)
    summary = Notice.objects.filter(kind="summary")
    assert summary.count() == 0
    clock.now = datetime(2026, 3, 2, 14, 0, tzinfo=UTC)
    assert shops_due() == [shop.shop.id]
    shop_follow(shop.shop.id)
    shop_follow(shop.shop.id)
    told = summary.get()
    assert told.person == shop.lead
    assert told.body.splitlines() == [
        "1 in permit",
        "deficiencies open: 0, of them overdue: 0",
        "Lot 15: drywall on 2026-03-05, areas held: 2",
    ]


def test_another_shops_jobs_are_not_in_the_summary(clock, shop, stranger_shop) -> None:
    stranger_shop.roughed_in(HOUSES["clean"])
    clock.now = datetime(2026, 3, 2, 14, 0, tzinfo=UTC)
    shop_follow(shop.shop.id)
    assert Notice.objects.get(kind="summary").body == "deficiencies open: 0, of them overdue: 0"
