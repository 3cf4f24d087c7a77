"""Links: how long they are good, what a placard is tied to, and what taking one back changes."""

from datetime import UTC, datetime, timedelta

import pytest
from django.core.exceptions import ValidationError

from inspections.models import Link
from inspections.services.links import (
    cover_link_make,
    link_acknowledge,
    link_withdraw,
    placard_make,
)
from jobs.access import NotAllowed
from tests.clock import Clock
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 3, 2, 19, tzinfo=UTC)


@pytest.fixture
def job(shop, stranger_shop):
    stranger_shop.job()
    return shop.job()


@pytest.mark.parametrize("days", [1, 2, 120, 400])
def test_a_link_is_good_for_a_day_up_to_the_longest(shop, job, days) -> None:
    link, _ = cover_link_make(shop.office, job=job, for_whom=" Drywall crew ", days=days)
    kept = shop.own(Link).get(id=link.id)
    assert kept.expires_at - kept.made_at == timedelta(days=days)
    assert (kept.for_whom, kept.kind, kept.made_by) == ("Drywall crew", "cover", shop.office)


def test_a_link_is_good_for_four_months_when_nobody_says_how_long(shop, job) -> None:
    link, _ = cover_link_make(shop.office, job=job, for_whom="Drywall crew")
    assert link.expires_at == link.made_at + timedelta(days=120)


@pytest.mark.parametrize("days", [-1, 0, 401])
def test_a_link_is_not_good_for_less_or_more(shop, job, days) -> None:
    with pytest.raises(ValidationError, match="1 to 400"):
        cover_link_make(shop.office, job=job, for_whom="Drywall crew", days=days)
    with pytest.raises(ValidationError):
        cover_link_make(shop.office, job=job, for_whom="  ", days=5)
    assert not shop.own(Link).exists()


def test_a_link_that_was_taken_back_keeps_its_first_moment(shop, job, monkeypatch) -> None:
    link, _ = cover_link_make(shop.office, job=job, for_whom="Drywall crew")
    assert link.withdrawn_at is None
    clock = Clock(NOON).put(monkeypatch)
    first = link_withdraw(shop.office, link=link).withdrawn_at
    assert first is not None
    assert first - NOON < timedelta(seconds=1)
    clock.now += timedelta(hours=1)
    assert link_withdraw(shop.office, link=link).withdrawn_at == first
    assert shop.own(Link).get(id=link.id).withdrawn_at == first


def test_whoever_holds_a_link_has_seen_the_state_of_the_last_time(shop, job, monkeypatch) -> None:
    link, _ = cover_link_make(shop.office, job=job, for_whom="Drywall crew")
    clock = Clock(NOON).put(monkeypatch)
    link_acknowledge(link)
    clock.now += timedelta(hours=1)
    link_acknowledge(link)
    seen = shop.own(Link).get(id=link.id).acknowledged_at
    assert seen - NOON >= timedelta(hours=1)


def test_a_placard_is_tied_to_the_release_that_is_live(shop, stranger_shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    area = job.areas.select_related("job__shop", "job__authority").get(code="east")
    assert placard_make(shop.member, area=area)[0].cover_release is None
    release = shop.release(area)
    placard, _ = placard_make(shop.lead, area=area)
    assert (placard.cover_release, placard.area, placard.kind) == (release, area, "placard")
    shop.withdraw(area)
    assert placard_make(shop.office, area=area)[0].cover_release is None
    for person in (shop.builder, stranger_shop.office):
        with pytest.raises(NotAllowed):
            placard_make(person, area=area)
