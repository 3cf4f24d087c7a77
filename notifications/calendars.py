"""Inspections as calendar entries (RFC 5545), and the messages that move them (RFC 5546)."""

from collections.abc import Iterable
from datetime import timedelta
from email.utils import parseaddr
from zoneinfo import ZoneInfo

from django.conf import settings
from icalendar import Alarm, Calendar, Event, vCalAddress, vText

from config.languages import say
from config.messages.message import Listed, Value
from inspections.models import Happening, Inspection, InspectionEvent
from inspections.standing.inspection_messages import inspection_kind
from notifications.messages.mail import ENTRY, ENTRY_TEXT, WHOLE_JOB
from notifications.models import Address, Channel

WINDOWS = (Happening.BOOKED, Happening.MOVED)
CHANGES = (*WINDOWS, Happening.CANCELLED)
"""What a reader's calendar must follow: each raises the sequence."""

REMIND = timedelta(hours=12)


def inspection_calendar(inspections: Iterable[Inspection], name: str) -> bytes:
    """A feed of inspections that were ever booked, cancelled ones as such."""
    calendar = _calendar()
    calendar.add("x-wr-calname", name)
    calendar.add("name", name)  # RFC 7986
    calendar.add("refresh-interval", timedelta(hours=1), parameters={"value": "DURATION"})
    for inspection in inspections:
        if (event := inspection_event(inspection)) is not None:
            calendar.add_component(event)
    calendar.add_missing_timezones()
    feed: bytes = calendar.to_ical()
    return feed


def invitation(inspection: Inspection, attendee: Address) -> tuple[str, bytes] | None:
    """The method and the calendar that tell a person's own of an inspection; None if unbooked."""
    event = inspection_event(inspection)
    if event is None:
        return None
    method = "REQUEST"
    if event["status"] == "CANCELLED":
        method = "CANCEL"
    calendar = _calendar()
    calendar.add("method", method)
    organizer = vCalAddress(f"mailto:{parseaddr(settings.DEFAULT_FROM_EMAIL)[1]}")
    organizer.params["cn"] = vText(inspection.job.shop.name)
    event["organizer"] = organizer
    if attendee.channel == Channel.EMAIL:
        guest = vCalAddress(f"mailto:{attendee.target}")
        guest.params["cn"] = vText(attendee.person.get_full_name())
        guest.params["role"] = vText("REQ-PARTICIPANT")
        guest.params["rsvp"] = vText("FALSE")
        event.add("attendee", guest)
    calendar.add_component(event)
    calendar.add_missing_timezones()
    return method, calendar.to_ical()


def inspection_event(inspection: Inspection) -> Event | None:
    """One inspection as an entry; None when it was never booked.

    The UID is the inspection's own for good. SEQUENCE counts bookings, moves and cancels; DTSTAMP
    and LAST-MODIFIED are the last of them, so the same facts give the same bytes.
    """
    changes = []
    for each in inspection.events.all():
        if each.happening in CHANGES:
            changes.append(each)
    window = _window(changes)
    if window is None:
        return None
    assert window.starts_at is not None
    assert window.ends_at is not None
    zone = ZoneInfo(inspection.job.time_zone)
    event = Event()
    event.add("uid", f"{inspection.id}@studbay")
    event.add("sequence", len(changes) - 1)
    event.add("dtstamp", changes[-1].recorded_at)
    event.add("last-modified", changes[-1].recorded_at)
    event.add("dtstart", window.starts_at.astimezone(zone))
    event.add("dtend", window.ends_at.astimezone(zone))
    names = []
    for area in inspection.areas.all():
        names.append(area.name)
    where: Value = WHOLE_JOB()
    if names:
        where = Listed(tuple(sorted(names)))
    event.add("summary", _entry(inspection))
    event.add("location", inspection.job.address)
    event.add("description", say(ENTRY_TEXT(where=where)))
    cancelled = changes[-1].happening == Happening.CANCELLED
    event.add("status", "CANCELLED" if cancelled else "CONFIRMED")
    if not cancelled:
        event.add_component(_alarm(inspection))
    return event


def _entry(inspection: Inspection) -> str:
    """An inspection in a calendar: what it is for and of which job."""
    entry = ENTRY(inspection=inspection_kind(inspection.kind), job=inspection.job.name)
    return say(entry)


def _window(changes: list[InspectionEvent]) -> InspectionEvent | None:
    for each in reversed(changes):
        if each.happening in WINDOWS:
            return each
    return None


def _alarm(inspection: Inspection) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", _entry(inspection))
    alarm.add("trigger", -REMIND)
    return alarm


def _calendar() -> Calendar:
    calendar = Calendar()
    calendar.add("prodid", "-//Studbay//Inspections//EN")
    calendar.add("version", "2.0")
    return calendar
