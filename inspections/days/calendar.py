"""A crew's day as calendar entries (iCalendar, RFC 5545): one a house."""

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from config.languages import say
from jobs.moments import day_on_record


def day_calendar(
    content: Mapping[str, Any], zone: ZoneInfo, *, crew_id: str, number: int, stamp: datetime
) -> str:
    """The list (`NextDay.content()`) as a calendar file in the time of the shop.

    A later number takes the place of the one before it: the same entries, a higher sequence.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Studbay//Crew days//EN"]
    for house in content["houses"]:
        lines += _event(content, house, zone, crew_id, number, stamp)
    lines.append("END:VCALENDAR")
    folded_lines = []
    for line in lines:
        for folded in _folded(line):
            folded_lines.append(f"{folded}\r\n")
    return "".join(folded_lines)


def _event(
    content: Mapping[str, Any],
    house: Mapping[str, Any],
    zone: ZoneInfo,
    crew_id: str,
    number: int,
    stamp: datetime,
) -> list[str]:
    ends = max(work["to_hour"] for work in house["work"])
    work = []
    for each in house["work"]:
        work.append(f"{each['from_hour']} {say(each['what'])}")
    told = [*work, *map(say, house["inspections"]), *map(say, house["leave_alone"])]
    tasks = "; ".join(say(each["what"]) for each in house["work"])
    return [
        "BEGIN:VEVENT",
        f"UID:{crew_id}-{content['day']}-{house['job_id']}@studbay",
        f"SEQUENCE:{number - 1}",
        f"DTSTAMP:{_moment(stamp)}",
        f"DTSTART:{_at(content['day'], house['arrival'], zone)}",
        f"DTEND:{_at(content['day'], ends, zone)}",
        f"SUMMARY:{_text(house['job'])}: {_text(tasks)}",
        f"LOCATION:{_text(house['address'])}",
        f"DESCRIPTION:{_text(chr(10).join(told))}",
        "END:VEVENT",
    ]


def _at(day: str, hour: str, zone: ZoneInfo) -> str:
    moment = datetime.combine(day_on_record(day), time.fromisoformat(hour), zone)
    return _moment(moment)


def _moment(moment: datetime) -> str:
    return f"{moment.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _text(text: str) -> str:
    """Text with what the format gives a meaning escaped (RFC 5545, 3.3.11)."""
    for mark in "\\;,":
        text = text.replace(mark, f"\\{mark}")
    return text.replace("\r", "").replace("\n", "\\n")


def _folded(line: str) -> Iterator[str]:
    """Lines of at most 75 octets; a continued one begins with a space (RFC 5545, 3.1)."""
    room, current, size = 75, "", 0
    for letter in line:
        octets = len(letter.encode())
        if size + octets > room:
            yield current
            current, size = " ", 1
        current, size = current + letter, size + octets
    yield current
