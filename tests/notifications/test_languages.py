"""Each person is told in the language that the person reads, over every channel."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

from config.languages import say
from inspections.models import Happening, InspectionKind
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.settling import job_settle
from jobs.services.people import language_set
from notifications.channels.message import short_message
from notifications.models import Channel, Delivery, Notice
from notifications.rendering import message_text
from notifications.selectors import feed_calendar
from notifications.services.feeds import feed_open
from notifications.services.wishes import address_add
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.sure import sure, the_first

pytestmark = pytest.mark.django_db
EDMONTON = ZoneInfo("America/Edmonton")


@pytest.fixture
def booked(monkeypatch, shop):
    """An inspection that was booked, and whoever is told of it."""
    Clock(datetime(2026, 3, 2, 17, 0, tzinfo=UTC)).put(monkeypatch)
    for person in (shop.office, shop.lead):
        given = {"person": person, "shop": shop.shop, "channel": Channel.EMAIL}
        address_add(person, target=f"{person.username}@studbay.example", **given)
    job = shop.roughed_in(HOUSES["clean"])
    for area in job.areas.all():
        shop.look_at(area)
    areas = list(job.areas.all())
    inspection = inspection_ask(shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=areas)
    inspection_happen(
        shop.office,
        inspection=inspection,
        happening=Happening.BOOKED,
        starts_at=datetime(2026, 3, 6, 9, tzinfo=EDMONTON),
        ends_at=datetime(2026, 3, 6, 11, tzinfo=EDMONTON),
    )
    job_settle(job.id)
    return inspection


def told(person) -> tuple[Delivery, list[Notice]]:
    notice = Notice.objects.get(person=person, reason="inspection booked")
    delivery = the_first(Delivery.objects.filter(person=person, notices=notice))
    return delivery, [notice]


def test_a_message_is_written_in_the_language_of_whoever_gets_it(shop, booked) -> None:
    language_set(shop.lead, language="fr")
    delivery, notices = told(shop.lead)
    words = message_text(delivery, notices)
    assert "inspection" in words.subject
    assert "booked" not in words.text
    assert '<html lang="fr">' in words.html
    assert "ven. 6 mars, de 09 h 00 à 11 h 00" in words.text
    assert "Ne plus recevoir" in words.text, words.text
    english = message_text(*told(shop.office))
    assert "booked for Fri, Mar 6, 9:00 AM to 11:00 AM." in english.text
    assert "Stop messages of this kind (inspections)" in english.text


def test_the_record_of_what_was_told_stays_as_it_was_made(shop, booked) -> None:
    language_set(shop.lead, language="es")
    delivery, notices = told(shop.lead)
    before = notices[0].text
    message_text(delivery, notices)
    notices[0].refresh_from_db()
    assert notices[0].text == before
    assert "Fri, Mar 6" in say(before)
    assert "06" not in before["id"]


def test_a_text_message_is_short_in_every_language(shop, booked) -> None:
    language_set(shop.lead, language="es")
    delivery, notices = told(shop.lead)
    text = short_message(delivery, notices)
    assert "inspección" in text
    assert len(text) <= 480


def test_a_calendar_is_in_the_language_of_whoever_opened_it(shop, booked) -> None:
    language_set(shop.lead, language="fr")
    feed = feed_open(shop.lead, shop=shop.shop)
    (event,) = Calendar.from_ical(sure(feed_calendar(feed.token))).walk("VEVENT")
    assert str(event["SUMMARY"]).startswith("inspection du brut")
    assert "panneau" in str(event["DESCRIPTION"])
