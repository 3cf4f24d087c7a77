"""No more than so many messages a minute over a channel."""

from datetime import UTC, datetime, timedelta

import pytest
from django.conf import settings as django_settings

from notifications.models import Channel, Delivery, Lane, Notice, NoticeKind, NoticeRules, State
from notifications.services.outbox import take
from notifications.services.planning import deliveries_plan
from notifications.services.sending import deliver
from notifications.services.wishes import address_add
from tests.clock import Clock

pytestmark = pytest.mark.django_db


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(datetime(2026, 3, 2, 19, 0, tzinfo=UTC)).put(monkeypatch)


@pytest.fixture
def waiting(clock, shop, settings) -> None:
    """Ten messages, and leave for three a minute."""
    rated = django_settings.ENVIRONMENT.model_copy(update={"studbay_rate_email": 3})
    settings.ENVIRONMENT = rated
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    target = "lead@example.org"
    address_add(shop.lead, person=shop.lead, shop=shop.shop, channel=Channel.EMAIL, target=target)
    rules = shop.own(NoticeRules).select_related("shop").get(shop=shop.shop)
    notices = Notice.objects.bulk_create(
        Notice(
            person=shop.lead,
            shop=shop.shop,
            reason="deficiency due",
            kind=NoticeKind.DEFICIENCY,
            occasion=str(number),
            text=f"Lot {number}",
            due_at=clock.now,
            given_at=clock.now,
        )
        for number in range(10)
    )
    deliveries_plan(notices, rules, clock.now)


@pytest.mark.usefixtures("waiting")
def test_no_more_go_out_in_a_minute_than_the_channel_takes(clock, shop) -> None:
    sent = shop.own(Delivery).filter(state=State.SENT)
    for minute in range(1, 5):
        deliver(Lane.ORDINARY, Channel.EMAIL)
        deliver(Lane.ORDINARY, Channel.EMAIL)
        assert sent.count() == min(3 * minute, 10)
        clock.now += timedelta(minutes=1)


@pytest.mark.usefixtures("waiting")
def test_what_another_worker_has_taken_counts(clock) -> None:
    assert len(take(Lane.ORDINARY, Channel.EMAIL, most=2)) == 2
    assert len(take(Lane.ORDINARY, Channel.EMAIL)) == 1
    assert take(Lane.ORDINARY, Channel.EMAIL) == []
