"""What each crew does on its next day, as sent at the shop's hour; and what changed since."""

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

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
        names = ", ".join(house["job"] for house in houses) or "nothing"
        word = "amended list"
        if kept.number == 1:
            word = "list"
        text = f"{kept.crew}, {word} for {kept.day:%a %d %b}: {names}."
        until = facts.at(kept.day + timedelta(days=1), facts.rules.morning)
        lines = []
        for house in houses:
            for line in house_lines(house):
                lines.append(line)
        body = [*kept.changes, *lines]
        yield from due_for(people, kept.id, text, kept.sent_at, until=until, body="\n".join(body))


def house_lines(house: dict[str, Any]) -> Iterator[str]:
    """One stop of the day, a line each."""
    yield f"{house['arrival']} {house['job']}, {house['address']}"
    for work in house["work"]:
        area = ""
        if work["area"]:
            area = f" ({work['area']})"
        yield f"- {work['from_hour']} to {work['to_hour']} {work['what']}{area}"
    for inspection in house["inspections"]:
        yield f"- {inspection}"
    for each in house["corrections"]:
        yield f"- mend, {each['where']}: {each['says']}"
    if house["bring"]:
        yield f"- bring {', '.join(house['bring'])}"
    for each in house["leave_alone"]:
        yield f"- {each}"
