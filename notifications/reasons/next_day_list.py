"""What each crew does on its next day, as sent at the shop's hour; and what changed since."""

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

from config.messages.kept import message_of
from config.messages.message import Listed, Value, WeekDay
from notifications.messages.shops import (
    ARRIVAL,
    BRING,
    CORRECT,
    LINE,
    LIST,
    LIST_CHANGED,
    NO_WORK,
    WORK,
    WORK_IN,
)
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, shop_reason
from notifications.shopfacts import ShopFacts


@shop_reason("next day's list", NoticeKind.LIST)
def next_day_list(facts: ShopFacts) -> Iterator[Due]:
    """The list as last sent, to everybody in the crew that day, until the day is over.

    An amendment takes the place of the list before it, and begins with what is different.
    """
    for kept, people in facts.lists:
        houses = kept.content["houses"]
        names: Value = NO_WORK()
        if houses:
            names = Listed(tuple(house["job"] for house in houses))
        list_sent = LIST_CHANGED
        if kept.number == 1:
            list_sent = LIST
        text = list_sent(crew=str(kept.crew), day=WeekDay(kept.day), houses=names)
        until = facts.at(kept.day + timedelta(days=1), facts.rules.morning)
        body = []
        for change in kept.changes:
            body.append(message_of(change))
        for house in houses:
            body.extend(house_lines(house))
        yield from due_for(people, kept.id, text, kept.sent_at, until=until, body=body)


def house_lines(house: dict[str, Any]) -> Iterator[Value]:
    """One stop of the day, a line each."""
    yield ARRIVAL(arrival=house["arrival"], job=house["job"], address=house["address"])
    for work in house["work"]:
        hours = {"begins": work["from_hour"], "ends": work["to_hour"]}
        what = message_of(work["what"])
        if work["area"]:
            yield WORK_IN(what=what, area=work["area"], **hours)
        else:
            yield WORK(what=what, **hours)
    for inspection in house["inspections"]:
        yield LINE(what=message_of(inspection))
    for each in house["corrections"]:
        yield CORRECT(where=message_of(each["where"]), what=message_of(each["says"]))
    if house["bring"]:
        yield BRING(things=Listed(tuple(message_of(thing) for thing in house["bring"])))
    for each in house["leave_alone"]:
        yield LINE(what=message_of(each))
