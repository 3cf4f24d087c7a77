"""What is different between two lists of a crew for one day."""

from collections.abc import Iterator, Mapping
from datetime import time
from typing import Any

from config.messages.kept import message_of
from config.messages.message import Message, Value
from inspections.days import day_messages as words

EMPTY: dict[str, Any] = {"people": [], "houses": []}
"""The list of a crew without work."""
AS_MESSAGES = "as_messages"
"""Set in a list that keeps messages; one of before keeps English sentences."""
COUNTED = ("inspections", "corrections", "bring", "leave_alone")


def is_same_list(before: Mapping[str, Any], after: Mapping[str, Any]) -> bool:
    """Whether a crew that has the one need not be sent the other.

    A list of before keeps sentences, which are worded otherwise now: its figures decide.
    """
    if before.get(AS_MESSAGES):
        return _without_cautions(before) == _without_cautions(after)
    return _figures(before) == _figures(after)


def _without_cautions(content: Mapping[str, Any]) -> dict[str, Any]:
    return {name: each for name, each in content.items() if name != "cautions"}


def _figures(content: Mapping[str, Any]) -> list[Any]:
    """What a list says apart from its sentences."""
    figures: list[Any] = [content["people"]]
    for house in content["houses"]:
        figures += [house[name] for name in ("job_id", "arrival", "drive_minutes")]
        figures += [len(house[name]) for name in COUNTED]
        for work in house["work"]:
            figures += [work[name] for name in ("task", "area", "rooms", "from_hour", "to_hour")]
    return figures


def list_differences(before: Mapping[str, Any], after: Mapping[str, Any]) -> list[Value]:
    """What is different between two lists, a line each."""
    was, now = list(_lines(before)), list(_lines(after))
    return [*_only_in(was, now, words.GONE), *_only_in(now, was, words.NEW)]


def _only_in(these: list[Value], those: list[Value], told: Message) -> Iterator[Value]:
    for line in these:
        if line not in those:
            yield told(line=line)


def _lines(content: Mapping[str, Any]) -> Iterator[Value]:
    for name in content["people"]:
        yield words.IN_CREW(person=name)
    for house in content["houses"]:
        job = house["job"]
        yield words.ARRIVE(job=job, hour=time.fromisoformat(house["arrival"]))
        for work in house["work"]:
            yield words.WORK(
                job=job,
                what=message_of(work["what"]),
                starts=time.fromisoformat(work["from_hour"]),
                ends=time.fromisoformat(work["to_hour"]),
            )
        for inspection in house["inspections"]:
            yield words.AT_JOB(job=job, what=message_of(inspection))
        for each in house["corrections"]:
            where, says = message_of(each["where"]), message_of(each["says"])
            yield words.CORRECT(job=job, where=where, says=says)
        for thing in house["bring"]:
            yield words.BRING(job=job, thing=message_of(thing))
        for each in house["leave_alone"]:
            yield words.AT_JOB(job=job, what=message_of(each))
