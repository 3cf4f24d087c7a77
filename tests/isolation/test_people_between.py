"""Somebody who works with two shops, and somebody who left one: each shop's things stay its own."""

from datetime import UTC, date, datetime, time

import pytest
from django.core import mail
from django.urls import reverse

from inspections.services.cover_releases import cover_release_withdraw
from inspections.services.jobs import job_change
from inspections.services.settling import job_settle
from jobs.models import Membership, Role
from jobs.services.people import membership_end
from notifications.models import Channel, Delivery, Lane, Notice, NoticeRules
from notifications.selectors import feed_calendar, office_troubles
from notifications.services.feeds import feed_open
from notifications.services.notices import shop_follow
from notifications.services.outbox import dead
from notifications.services.sending import deliver
from notifications.services.wishes import address_add, gateway_add, habits_set, wish_set
from notifications.tasks import tick
from tests.clock import Clock
from tests.days.crewed import crewed, told
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 3, 3, 19, 0, tzinfo=UTC)


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(NOON).put(monkeypatch)


@pytest.fixture
def other(clock, shop, stranger_shop):
    """Another shop, for which the tested shop's builder builds as well."""
    Membership.objects.create(
        shop=stranger_shop.shop,
        person=shop.builder,
        role=Role.BUILDER,
        builder=stranger_shop.firm,
    )
    return stranger_shop


def reach(shop, person, **given) -> None:
    given = {"channel": Channel.EMAIL, "target": "b@example.org"} | given
    address_add(person, person=person, shop=shop.shop, **given)


def withdrawn(shop) -> None:
    """The builder is told that an area of the shop's job may not be covered after all."""
    area = shop.roughed_in(HOUSES["clean"]).areas.get(code="east")
    shop.release(area)
    cover_release_withdraw(shop.office, area=area, because=f"a cable of {shop.shop.name} was moved")
    job_settle(area.job_id)


def test_the_one_message_of_a_day_holds_one_shops_notices(shop, other) -> None:
    reach(shop, shop.builder)
    habits_set(shop.builder, time_zone="America/Edmonton", digest_at=time(17))
    for each in (shop, other):
        withdrawn(each)
        each.release(each.shop.jobs.get().areas.get(code="west"), reference="R2")
        job_settle(each.shop.jobs.get().id)
    digests = Delivery.objects.filter(person=shop.builder, digest=True)
    assert {each.shop_id for each in digests} == {shop.shop.id, other.shop.id}
    for digest in digests:
        assert {notice.shop_id for notice in digest.notices.all()} == {digest.shop_id}
        dead(digest, "the mail server answered 554")
    given_up = office_troubles(other.shop).dead
    assert {n.shop_id for each in given_up for n in each.notices.all()} == {other.shop.id}


def test_a_gateway_sends_nothing_of_another_shop(shop, other) -> None:
    gateway = gateway_add(
        other.office, shop=other.shop, name="texts", kind="chat", url="https://other/{to}"
    )
    reach(other, shop.builder, channel=Channel.MESSAGE, target="555", gateway=gateway)
    for each in (shop, other):
        withdrawn(each)
    went = Delivery.objects.filter(address__gateway=gateway)
    assert {each.shop_id for each in went} == {other.shop.id}
    assert Notice.objects.filter(person=shop.builder, shop=shop.shop).exists()  # on the site


def test_whoever_left_is_sent_nothing_more_of_the_shop(clock, shop, settings) -> None:
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    reach(shop, shop.builder)
    habits_set(shop.builder, time_zone="America/Edmonton", quiet_from=time(9), quiet_to=time(17))
    wish_set(shop.builder, kind="cover", way="first")
    shop.release(shop.roughed_in(HOUSES["clean"]).areas.get(code="east"))
    job_settle(shop.shop.jobs.get().id)
    assert shop.own(Delivery).filter(person=shop.builder).exists()
    membership_end(shop.office, membership=Membership.objects.get(person=shop.builder))
    clock.now = datetime(2026, 3, 4, 0, 30, tzinfo=UTC)
    for lane in Lane:
        deliver(lane, Channel.EMAIL)
    assert mail.outbox == []


def test_whoever_left_reads_no_notice_by_the_api(client, clock, shop) -> None:
    withdrawn(shop)
    notice = shop.own(Notice).filter(person=shop.builder).first()
    client.force_login(shop.builder)
    address = f"/api/notices/{notice.id}/seen"
    assert client.post(address).status_code == 200
    membership_end(shop.office, membership=Membership.objects.get(person=shop.builder))
    assert client.post(address).status_code == 401, "their sessions ended"
    client.force_login(shop.builder)
    assert client.post(address).status_code == 404


def test_a_calendar_of_whoever_left_does_not_tell_what_its_job_is_called(
    client, clock, shop
) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    feed = feed_open(shop.builder, shop=shop.shop, job=job)
    assert b"Lot 15" in sure(feed_calendar(feed.token))
    membership_end(shop.office, membership=Membership.objects.get(person=shop.builder))
    job_change(shop.office, job=job, name="Lot of secrets")
    assert b"Lot" not in sure(feed_calendar(feed.token))
    client.force_login(shop.builder)
    page = client.get(reverse("wishes"))
    assert "Lot" not in page.text


def test_whoever_left_a_crew_with_the_shop_is_sent_no_list(shop, house_bytes, monkeypatch) -> None:
    clock = Clock(datetime(2026, 3, 15, 18, 0, tzinfo=UTC)).put(monkeypatch)
    first, _ = crewed(shop)
    shop.roughed_in(house_bytes)
    told(shop, date(2026, 3, 16))
    gone = first.places.exclude(person=shop.lead).get().person
    membership_end(shop.office, membership=Membership.objects.get(person=gone))
    membership_end(shop.office, membership=Membership.objects.get(person=shop.lead))
    NoticeRules.objects.filter(shop=shop.shop).update(next_at=clock.now)
    clock.now = datetime(2026, 3, 15, 23, 0, tzinfo=UTC)
    shop_follow(shop.shop.id)
    tick()
    lists = shop.own(Notice).filter(kind="list")
    assert lists.exists()
    assert not lists.filter(person__in=[gone, shop.lead]).exists()
