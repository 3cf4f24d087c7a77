"""What is OK on plan and waits for somebody on site: confirmed room by room, and by exception.

A drawing is not a wall. A house has hundreds of such checks, so a room is confirmed at once, and
only what is not as drawn is taken out and answered by itself.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from inspections.conclusions.as_drawn import unlike_drawn
from inspections.models import Item, Outcome
from inspections.selectors import ChecklistLine
from inspections.standing.holds import Standing


@dataclass(frozen=True, slots=True)
class Checks:
    """The lines of one rule in a room, which stand under one title."""

    title: Any
    lines: Sequence[ChecklistLine]


def waits_as_drawn(line: ChecklistLine, photo_rules: Collection[str]) -> bool:
    """Whether a line can be confirmed together with its room.

    One that somebody looked at is answered by itself, and so is one that lacks a photograph which
    its shop requires.
    """
    if unlike_drawn(line.item) is not None or line.standing is not Standing.OPEN:
        return False
    if line.latest is not None and not line.changed_since:
        return False
    return line.item.rule not in photo_rules or photographed(line.item)


def seen_ok(line: ChecklistLine) -> bool:
    """Whether somebody on site confirmed a line, and nothing has been said against it since."""
    if line.standing is not Standing.OK or line.latest is None or line.changed_since:
        return False
    return line.latest.outcome == Outcome.OK


def photographed(item: Item) -> bool:
    """Whether there is a photograph of the item as its facts stand now."""
    return any(each.fingerprint == item.fingerprint for each in item.photographs.all())


def checks_of(lines: Iterable[ChecklistLine]) -> list[Checks]:
    """The lines by their rule, in the order in which the rules first come."""
    found: dict[str, list[ChecklistLine]] = {}
    for line in lines:
        found.setdefault(line.item.rule, []).append(line)
    checks: list[Checks] = []
    for same in found.values():
        checks.append(Checks(same[0].item.finding["title"], same))
    return checks
