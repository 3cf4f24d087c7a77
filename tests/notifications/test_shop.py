"""What follows from a shop as a whole: the crews' lists and the weekly summary."""

from datetime import UTC, date, datetime

import pytest

from config.languages import say
from inspections.models import Outcome
from inspections.services.observations import item_observe
from inspections.services.settling import job_settle
from inspections.tasks import settle_due
from jobs.models import Job, Plan, PlannedWork
from jobs.services.crews import crew_open
from notifications.models import Channel, Delivery, Notice, NoticeRules
from notifications.services.notices import shop_due, shop_follow, shops_due
from notifications.services.outbox import address_pause, dead
from notifications.services.wishes import address_add, address_resume
from notifications.tasks import tick
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.sure import the_first

pytestmark = pytest.mark.django_db

SUNDAY = datetime(2026, 3, 1, 18, 0, tzinfo=UTC)  # eleven in the morning in Edmonton


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(SUNDAY).put(monkeypatch)


@pytest.fixture
def plan(clock, shop):
    """A plan that was told: crew one wires the east of Lot 15 on Monday and Tuesday."""
    people = {shop.lead: date(2026, 1, 1), shop.member: date(2026, 1, 1)}
    crew = crew_open(shop.office, shop=shop.shop, name="Crew one", lead=shop.lead, people=people)
    job = shop.roughed_in(HOUSES["clean"])
    job_settle(job.id)
    made = Plan.objects.create(
        shop=shop.shop,
        asked_by=shop.office,
        asked_at=clock.now,
        first_day=date(2026, 3, 2),
        state=Plan.State.MADE,
        told_at=clock.now,
        told_by=shop.office,
    )
    work(made, job, crew, "rough-in of the east", date(2026, 3, 2))
    return made


def work(plan, job, crew, name: str, day: date) -> PlannedWork:
    return PlannedWork.objects.create(
        plan=plan,
        job=job,
        crew=crew,
        task=name,
        kind="rough-in",
        name=name,
        minutes=240,
        starts_on=day,
        start_part=0,
        ends_on=day,
        end_part=0,
    )


FOUR = datetime(2026, 3, 1, 23, 0, tzinfo=UTC)


def lists(person) -> list[str]:
    found = Notice.objects.filter(person=person, kind="list", moot_at__isnull=True)
    return [f"{say(notice.text)}|{lines(notice)}" for notice in found]


def lines(notice) -> str:
    """What stands below it."""
    return "\n".join(say(line) for line in notice.body)


def test_the_list_is_told_to_the_crew_at_the_shops_hour(clock, shop, plan) -> None:
    tick()
    assert lists(shop.lead) == []
    assert NoticeRules.objects.get(shop=shop.shop).next_at == FOUR
    clock.now = FOUR
    assert shops_due() == [shop.shop.id]
    tick()
    (told,) = lists(shop.lead)
    assert told.startswith("Crew one: list for Mon, Mar 2: Lot 15.|")
    assert "rough-in of the east" in told
    assert lists(shop.member) == [told]
    assert lists(shop.office) == []
    assert shop.own(Delivery).count() == 0  # they have no address: it stands on the site


def test_what_changes_after_it_was_told_is_an_amendment(clock, shop, plan) -> None:
    clock.now = FOUR
    tick()
    first = plan.work.get()
    job = shop.own(Job).get()
    more = work(plan, job, first.crew, "boxes of the west", date(2026, 3, 2))
    item_observe(shop.lead, item=job.items.first(), outcome=Outcome.FIX)  # a fact rings the bell
    settle_due()
    assert shops_due() == [shop.shop.id]
    tick()
    (told,) = lists(shop.lead)
    assert told.startswith("Crew one: changed list for Mon, Mar 2: Lot 15.|")
    assert "New: Lot 15: boxes of the west" in told
    assert "boxes of the west" in told.partition("Quillet")[2]
    more.delete()
    shop_due(shop.shop.id)
    tick()
    (told,) = lists(shop.lead)
    assert "Removed: Lot 15: boxes of the west" in told
    shop_due(shop.shop.id)
    tick()
    assert Notice.objects.filter(person=shop.lead, kind="list").count() == 3


def test_what_the_crew_does_on_the_day_itself_is_no_amendment(clock, shop, plan) -> None:
    clock.now = FOUR
    tick()
    clock.now = datetime(2026, 3, 2, 15, 0, tzinfo=UTC)
    job = shop.own(Job).get()
    item_observe(shop.lead, item=job.items.first(), outcome=Outcome.FIX)
    settle_due()
    tick()
    assert Notice.objects.filter(person=shop.lead, kind="list").count() == 1


def test_without_a_plan_there_is_no_list(clock, shop) -> None:
    clock.now = FOUR
    tick()
    assert not shop.own(Notice).filter(kind="list").exists()


def test_the_office_is_told_of_an_address_that_is_paused_until_it_is_not(clock, shop) -> None:
    address = address_add(
        shop.office,
        person=shop.builder,
        shop=shop.shop,
        channel=Channel.EMAIL,
        target="gone@example.org",
    )
    shop_follow(shop.shop.id)
    address_pause(address.id, "the mail server answered 550")
    assert shops_due() == [shop.shop.id]
    tick()
    notice = Notice.objects.get(reason="address paused")
    assert notice.person == shop.office
    assert "gone@example.org is paused. the mail server answered 550" in say(notice.text)
    address_resume(shop.office, address=address)
    shop_follow(shop.shop.id)
    notice.refresh_from_db()
    assert notice.moot_at is not None


def test_the_office_is_told_of_what_was_given_up_and_of_that_no_further(clock, shop) -> None:
    for person, target in ((shop.builder, "b@example.org"), (shop.office, "o@example.org")):
        address_add(
            shop.office, person=person, shop=shop.shop, channel=Channel.EMAIL, target=target
        )
    area = shop.roughed_in(HOUSES["clean"]).areas.get(code="east")
    shop.release(area)
    job_settle(area.job_id)
    dead(the_first(Delivery.objects.filter(person=shop.builder)), "the mail server answered 554")
    tick()
    trouble = Notice.objects.get(reason="not delivered")
    assert "a message to b@example.org did not arrive" in say(trouble.text)
    dead(trouble.deliveries.get(), "the mail server answered 554")
    tick()
    assert Notice.objects.filter(reason="not delivered").count() == 1


def test_the_summary_is_told_on_monday_morning_to_the_owner_alone(clock, shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    job.drywall_on = date(2026, 3, 5)
    job.save()
    NoticeRules.objects.filter(shop=shop.shop).update(owner=shop.lead)
    shop_follow(shop.shop.id)
    summary = shop.own(Notice).filter(kind="summary")
    assert summary.count() == 0
    clock.now = datetime(2026, 3, 2, 14, 0, tzinfo=UTC)
    assert shops_due() == [shop.shop.id]
    shop_follow(shop.shop.id)
    shop_follow(shop.shop.id)
    told = summary.get()
    assert told.person == shop.lead
    assert lines(told).splitlines() == [
        "Permit: 1 job",
        "Deficiencies: 0 open, 0 overdue",
        "Lot 15: drywall starts Thu, Mar 5, 2 areas not released",
    ]


def test_another_shops_jobs_are_not_in_the_summary(clock, shop, stranger_shop) -> None:
    stranger_shop.roughed_in(HOUSES["clean"])
    clock.now = datetime(2026, 3, 2, 14, 0, tzinfo=UTC)
    shop_follow(shop.shop.id)
    assert lines(shop.own(Notice).get(kind="summary")) == "Deficiencies: 0 open, 0 overdue"
