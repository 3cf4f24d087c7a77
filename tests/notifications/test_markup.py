"""Markup and line ends in what people type come out of mails and calendars as plain words."""

from datetime import UTC, datetime

import pytest
from icalendar import Calendar

from inspections.models import Happening, InspectionKind
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.settling import job_settle
from notifications.models import Channel, Delivery
from notifications.rendering import message_text
from notifications.selectors import feed_calendar
from notifications.services.feeds import feed_open
from notifications.services.wishes import address_add
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db
MARKUP = "<script>alert(1)</script>{{ 7*7 }} \\n;,\"'\r\nBEGIN:VALARM\r\nBcc: x@example.org"


@pytest.fixture
def job(monkeypatch, shop):
    Clock(datetime(2026, 3, 2, 17, 0, tzinfo=UTC)).put(monkeypatch)
    job = shop.roughed_in(HOUSES["clean"])
    job.name, job.address = f"Lot {MARKUP}"[:120], f"Lane {MARKUP}"[:200]
    job.save()
    for area in job.areas.all():
        shop.look_at(area)
    return job


def test_a_mail_is_escaped_and_its_subject_is_one_line(shop, job) -> None:
    given = {"shop": shop.shop, "channel": Channel.EMAIL}
    address_add(shop.office, person=shop.builder, target="builder@example.org", **given)
    shop.release(job.areas.first())
    job_settle(job.id)
    found = Delivery.objects.filter(person=shop.builder)
    assert found
    for delivery in found:
        words = message_text(delivery, list(delivery.notices.all()))
        assert "<script>" not in words.html
        assert "&lt;script&gt;alert(1)&lt;/script&gt;" in words.html
        assert "{{ 7*7 }}" in words.text
        assert "\n" not in words.subject
        assert "\r" not in words.subject


def test_a_calendar_keeps_its_shape(shop, job) -> None:
    inspection = inspection_ask(
        shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=list(job.areas.all())
    )
    inspection_happen(
        shop.office,
        inspection=inspection,
        happening=Happening.BOOKED,
        starts_at=datetime(2026, 3, 6, 16, tzinfo=UTC),
        ends_at=datetime(2026, 3, 6, 18, tzinfo=UTC),
    )
    feed = feed_open(shop.lead, shop=shop.shop)
    calendar = Calendar.from_ical(sure(feed_calendar(feed.token)))
    (event,) = calendar.walk("VEVENT")
    assert "<script>alert(1)</script>" in str(event["SUMMARY"])
    assert len(event.walk("VALARM")) == 1
    assert "BCC" not in event
