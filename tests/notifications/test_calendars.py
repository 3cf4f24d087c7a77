"""Calendars read back by the libraries that calendar programs are made with."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
import recurring_ical_events
from icalendar import Calendar, Timezone

from inspections.models import Happening, Inspection, InspectionKind
from inspections.services.inspections import inspection_ask, inspection_happen
from jobs.access import NotAllowed
from notifications.calendars import invitation
from notifications.models import Address, Channel, Feed
from notifications.selectors import feed_calendar
from notifications.services.feeds import feed_open, feed_withdraw
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.inspections.windows import Window
from tests.sure import sure

pytestmark = pytest.mark.django_db

EDMONTON = ZoneInfo("America/Edmonton")


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(datetime(2026, 3, 2, 17, 0, tzinfo=UTC)).put(monkeypatch)


@pytest.fixture
def job(clock, shop):
    job = shop.roughed_in(HOUSES["clean"])
    for area in job.areas.all():
        shop.look_at(area)
    return job


def at(day: int, hour: int) -> datetime:
    return datetime(2026, 3, day, hour, tzinfo=EDMONTON)


def ask(shop, job, kind: InspectionKind = InspectionKind.ROUGH_IN) -> Inspection:
    return inspection_ask(shop.office, job=job, kind=kind, areas=list(job.areas.all()))


def happen(shop, inspection, happening: Happening, day: int = 0) -> None:
    window: Window = {"starts_at": at(day, 9), "ends_at": at(day, 11)} if day else {}
    inspection_happen(shop.office, inspection=inspection, happening=happening, **window)


def shown_by(feed: Feed) -> bytes:
    """What a calendar program that reads the feed is given."""
    return sure(feed_calendar(feed.token))


def days(calendar: bytes) -> list[tuple[datetime, str]]:
    """What a calendar program would show in March."""
    read = Calendar.from_ical(calendar)
    found = recurring_ical_events.of(read).between((2026, 3, 1), (2026, 4, 1))
    return sorted((event.start, str(event["status"])) for event in found)


def entry(calendar: bytes):
    (event,) = Calendar.from_ical(calendar).walk("VEVENT")
    return event


def test_a_booking_a_move_and_a_cancel_are_understood(clock, shop, job) -> None:
    feed = feed_open(shop.lead, shop=shop.shop)
    inspection = ask(shop, job)
    assert days(shown_by(feed)) == []

    happen(shop, inspection, Happening.BOOKED, 6)
    booked = entry(shown_by(feed))
    assert (booked["UID"], booked["SEQUENCE"]) == (f"{inspection.id}@studbay", 0)
    assert booked.walk("VALARM")[0]["TRIGGER"].dt == -timedelta(hours=12)
    assert days(shown_by(feed)) == [(at(6, 9), "CONFIRMED")]

    happen(shop, inspection, Happening.MOVED, 9)  # the clocks went forward on the eighth
    moved = entry(shown_by(feed))
    assert (moved["UID"], moved["SEQUENCE"]) == (booked["UID"], 1)
    assert moved["DTSTART"].params["TZID"] == "America/Edmonton"
    assert moved.start.astimezone(UTC) == datetime(2026, 3, 9, 15, 0, tzinfo=UTC)
    assert days(shown_by(feed)) == [(at(9, 9), "CONFIRMED")]

    happen(shop, inspection, Happening.CANCELLED)
    gone = entry(shown_by(feed))
    assert (gone["UID"], gone["SEQUENCE"], gone["STATUS"]) == (booked["UID"], 2, "CANCELLED")
    assert gone.walk("VALARM") == []


def test_the_zone_goes_along_with_both_its_changes(clock, shop, job) -> None:
    inspection = ask(shop, job)
    happen(shop, inspection, Happening.BOOKED, 6)
    feed = feed_open(shop.lead, shop=shop.shop)
    (zone,) = Calendar.from_ical(shown_by(feed)).walk("VTIMEZONE")
    assert isinstance(zone, Timezone)
    made = zone.to_tz()
    for moment in (at(6, 9), datetime(2026, 7, 1, 9, tzinfo=EDMONTON), at(8, 3)):
        naive = moment.replace(tzinfo=None)
        assert naive.replace(tzinfo=made).utcoffset() == moment.utcoffset()


def test_the_same_facts_give_the_same_bytes(clock, shop, job) -> None:
    inspection = ask(shop, job)
    happen(shop, inspection, Happening.BOOKED, 6)
    feed = feed_open(shop.lead, shop=shop.shop)
    first = shown_by(feed)
    clock.now += timedelta(days=3)
    assert shown_by(feed) == first


def test_an_invitation_names_who_asks_and_who_is_asked(clock, shop, job) -> None:
    inspection = ask(shop, job)
    guest = Address(person=shop.lead, channel=Channel.EMAIL, target="lead@example.org")
    assert invitation(inspection, guest) is None
    happen(shop, inspection, Happening.BOOKED, 6)
    method, calendar = sure(invitation(inspection, guest))
    assert (method, Calendar.from_ical(calendar)["METHOD"]) == ("REQUEST", "REQUEST")
    event = entry(calendar)
    assert str(event["ATTENDEE"]) == "mailto:lead@example.org"
    assert event["ORGANIZER"].params["CN"] == shop.shop.name
    happen(shop, inspection, Happening.CANCELLED)
    method, calendar = sure(invitation(inspection, guest))
    assert (method, entry(calendar)["SEQUENCE"]) == ("CANCEL", 1)


def test_a_calendar_of_a_job_a_builder_and_a_crew(clock, shop, job) -> None:
    other = shop.job("Lot 16")
    other.crew_lead, other.builder = shop.member, shop.other_firm
    other.save()
    happen(shop, ask(shop, job), Happening.BOOKED, 6)
    final = inspection_ask(shop.office, job=other, kind=InspectionKind.FINAL)
    happen(shop, final, Happening.BOOKED, 10)
    sixth, tenth = (at(6, 9), "CONFIRMED"), (at(10, 9), "CONFIRMED")

    def shown(actor, **of) -> list[tuple[datetime, str]]:
        return days(shown_by(feed_open(actor, shop=shop.shop, **of)))

    assert shown(shop.office) == [sixth, tenth]
    assert shown(shop.lead) == [sixth]
    assert shown(shop.builder) == [sixth]
    assert shown(shop.other_builder) == [tenth]
    assert shown(shop.office, job=other) == [tenth]
    assert shown(shop.office, builder=shop.firm) == [sixth]
    assert shown(shop.office, lead=shop.member) == [tenth]


def test_a_builder_opens_no_calendar_of_others(clock, shop, job, stranger_shop) -> None:
    with pytest.raises(NotAllowed):
        feed_open(shop.builder, shop=shop.shop, builder=shop.other_firm)
    with pytest.raises(NotAllowed):
        feed_open(shop.other_builder, shop=shop.shop, job=job)
    with pytest.raises(NotAllowed):
        feed_open(stranger_shop.office, shop=shop.shop)


def test_a_withdrawn_link_and_a_person_who_left_open_nothing(clock, shop, job) -> None:
    happen(shop, ask(shop, job), Happening.BOOKED, 6)
    feed = feed_open(shop.builder, shop=shop.shop)
    shop.builder.memberships.all().delete()
    assert days(shown_by(feed)) == []
    feed_withdraw(shop.builder, feed=feed)
    assert days(shown_by(feed)) == [], "so that a program forgets what it showed"
    own = feed_open(shop.office, shop=shop.shop)
    feed_withdraw(shop.office, feed=own)
    assert feed_calendar(own.token) is None
    assert feed_calendar("no-such") is None
