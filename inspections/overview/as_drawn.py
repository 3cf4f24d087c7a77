"""What is OK on plan and waits for somebody on site: confirmed room by room, and by exception.

A drawing is not a wall. A house has hundreds of such checks, so a room is confirmed at once, and
only what is not as drawn is taken out and answered by itself.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from inspections.checker.finding import Verdict
from inspections.models import Item, Outcome
from inspections.selectors import ChecklistLine
from inspections.standing.holds import Standing
from jobs.models import Job


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
    by_hand = line.item.workmanship and line.item.verdict == Verdict.OK
    if not by_hand or line.standing is not Standing.OPEN:
        return False
    if line.latest is not None and not line.changed_since:
        return False
    return line.item.rule not in photo_rules or _photographed(line.item)


def seen_ok(line: ChecklistLine) -> bool:
    """Whether somebody on site confirmed a line, and nothing has been said against it since."""
    if line.standing is not Standing.OK or line.latest is None or line.changed_since:
        return False
    return line.latest.outcome == Outcome.OK


def _photographed(item: Item) -> bool:
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


def items_named(job: Job, item_ids: Iterable[UUID]) -> list[Item]:
    """Those of the items that are of the job, as a person walks."""
    return list(job.items.filter(id__in=list(item_ids)))
