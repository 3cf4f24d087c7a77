"""Visits as calendar entries (RFC 5545), and the messages that move them (RFC 5546)."""

from collections.abc import Iterable
from datetime import timedelta
from email.utils import parseaddr
from zoneinfo import ZoneInfo

from django.conf import settings
from icalendar import Alarm, Calendar, Event, vCalAddress, vText

from config.languages import say
from inspections.models import Happening, Inspection, InspectionEvent, InspectionKind
from notifications.models import Address, Channel

WINDOWS = (Happening.BOOKED, Happening.MOVED)
CHANGES = (*WINDOWS, Happening.CANCELLED)
"""What a reader's calendar must follow: each raises the sequence."""

REMIND = timedelta(hours=12)


def visit_calendar(visits: Iterable[Inspection], name: str) -> bytes:
    """A feed of visits that were ever booked, cancelled ones as such."""
    calendar = _calendar()
    calendar.add("x-wr-calname", name)
    calendar.add("name", name)  # RFC 7986
    calendar.add("refresh-interval", timedelta(hours=1), parameters={"value": "DURATION"})
    for visit in visits:
        if (event := visit_event(visit)) is not None:
            calendar.add_component(event)
    calendar.add_missing_timezones()
    feed: bytes = calendar.to_ical()
    return feed


def invitation(visit: Inspection, attendee: Address) -> tuple[str, bytes] | None:
    """The method and the calendar that tell one person's calendar of a visit; None if unbooked."""
    event = visit_event(visit)
    if event is None:
        return None
    method = "REQUEST"
    if event["status"] == "CANCELLED":
        method = "CANCEL"
    calendar = _calendar()
    calendar.add("method", method)
    organizer = vCalAddress(f"mailto:{parseaddr(settings.DEFAULT_FROM_EMAIL)[1]}")
    organizer.params["cn"] = vText(visit.job.shop.name)
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


def visit_event(visit: Inspection) -> Event | None:
    """One visit as an entry; None when it was never booked.

    The UID is the visit's own for good. SEQUENCE counts bookings, moves and cancels; DTSTAMP and
    LAST-MODIFIED are the last of them, so the same facts give the same bytes.
    """
    changes = []
    for each in visit.events.all():
        if each.happening in CHANGES:
            changes.append(each)
    window = _window(changes)
    if window is None:
        return None
    assert window.starts_at is not None
    assert window.ends_at is not None
    zone = ZoneInfo(visit.job.time_zone)
    event = Event()
    event.add("uid", f"{visit.id}@studbay")
    event.add("sequence", len(changes) - 1)
    event.add("dtstamp", changes[-1].recorded_at)
    event.add("last-modified", changes[-1].recorded_at)
    event.add("dtstart", window.starts_at.astimezone(zone))
    event.add("dtend", window.ends_at.astimezone(zone))
    names = []
    for area in visit.areas.all():
        names.append(area.name)
    areas = ", ".join(sorted(names))
    event.add("summary", say(f"{visit.get_kind_display()} visit: {visit.job.name}"))
    event.add("location", visit.job.address)
    where = areas or say("the whole job")
    event.add("description", f"{where}. {say('Give access, leave the panel open.')}")
    cancelled = changes[-1].happening == Happening.CANCELLED
    event.add("status", "CANCELLED" if cancelled else "CONFIRMED")
    if not cancelled:
        event.add_component(_alarm(visit))
    return event


def _window(changes: list[InspectionEvent]) -> InspectionEvent | None:
    for each in reversed(changes):
        if each.happening in WINDOWS:
            return each
    return None


def _alarm(visit: Inspection) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", say(f"{InspectionKind(visit.kind).label} visit: {visit.job.name}"))
    alarm.add("trigger", -REMIND)
    return alarm


def _calendar() -> Calendar:
    calendar = Calendar()
    calendar.add("prodid", "-//Studbay//Visits//EN")
    calendar.add("version", "2.0")
    return calendar
