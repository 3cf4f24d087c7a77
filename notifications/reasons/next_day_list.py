"""What each crew does tomorrow, at the shop's hour; and again when it changes after that."""

from collections.abc import Iterator
from datetime import date, timedelta

from inspections.checker.finding import digest
from notifications.models import Kind
from notifications.reason import Due, shop_reason, told
from notifications.shopfacts import CrewList, ShopFacts

NAME = "next day's list"


@shop_reason(NAME, Kind.LIST)
def next_day_list(facts: ShopFacts) -> Iterator[Due]:
    """Each crew's list of today and tomorrow, until the day is over.

    The occasion counts the versions that were told, so that a list which changes and changes
    back is told again. Without a plan, or with an empty first list, nobody is told.
    """
    for day, lists in facts.lists.items():
        for crew in lists:
            version, kept = _told_before(facts, crew, day)
            now = digest(list(crew.lines))
            if kept != now:
                version += 1
            if version == 1 and not crew.lines:
                continue
            word = "list" if version == 1 else "amended list"
            text = f"{crew.name}, {word} for {day:%a %d %b}: {len(crew.lines)} tasks."
            yield from told(
                crew.people,
                f"{crew.crew} {day} {version} {now}",
                text,
                facts.at(day - timedelta(days=1), facts.rules.list_at),
                until=facts.at(day + timedelta(days=1), facts.rules.morning),
                body="\n".join(crew.lines),
            )


def _told_before(facts: ShopFacts, crew: CrewList, day: date) -> tuple[int, str]:
    """The version last told of that crew's day, and the digest of its lines."""
    found = (0, "")
    for notice in facts.given:
        if notice.reason == NAME and notice.occasion.startswith(f"{crew.crew} {day} "):
            version, kept = notice.occasion.split()[2:]
            found = max(found, (int(version), kept))
    return found
