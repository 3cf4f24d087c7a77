"""Whether a fault that somebody recorded by mistake can still be undone."""

from collections.abc import Iterable, Sequence
from uuid import UUID

from config.messages.message import Text
from inspections.conclusions import undo_messages as words
from inspections.conclusions.items import counted_look
from inspections.models import PASSING, Item, Observation, Outcome
from inspections.standing.answers import come_to
from inspections.standing.holds import Seen, Standing, item_standing
from jobs.models import Person


def why_not_undone(
    item: Item, looks: Sequence[Observation], observation_id: UUID, person_id: UUID
) -> Text | None:
    """Why an observation cannot be undone by that person; None when it can.

    `looks` are all of the item's, in the order in which they were recorded. Undoing says that the
    item is as good as it was, so it must have been good before.
    """
    last = None
    if looks:
        last = looks[-1]
    if last is None or last.id != observation_id:
        return words.SAID_SINCE()
    if last.seen_by_id != person_id:
        return words.NOT_YOURS()
    if last.outcome == Outcome.NA:
        return words.NA_STANDS()
    if last.outcome == Outcome.OK:
        return words.NOTHING_WRONG()
    if last.stale or not item.current or last.fingerprint != item.fingerprint:
        return words.CHANGED()
    seen = _seen_before(item, looks[:-1])
    if seen is Seen.NA:
        return words.NA_BEFORE()
    if item_standing(item.verdict, seen, item.workmanship) is not Standing.OK:
        return words.NOT_OK_BEFORE()
    return None


def _seen_before(item: Item, looks: Iterable[Observation]) -> Seen | None:
    """What the looks before come to: undoing must not answer a fault that was found before, nor
    say of what did not apply that it was seen."""
    of_these_facts = []
    for each in looks:
        if not each.stale and each.fingerprint == item.fingerprint:
            of_these_facts.append(counted_look(item, each))
    return come_to(of_these_facts)


def undoable(person: Person, lines: Iterable[tuple[Item, Observation | None]]) -> set[UUID]:
    """Of the latest looks at items, those that the person can undo."""
    mine = {}
    for item, latest in lines:
        if latest and latest.seen_by_id == person.id and latest.outcome not in PASSING:
            mine[item.id] = item
    looks: dict[UUID, list[Observation]] = {}
    for each in Observation.objects.filter(item__in=mine).order_by("recorded_at", "id"):
        looks.setdefault(each.item_id, []).append(each)
    ids: set[UUID] = set()
    for item_id, found in looks.items():
        if not why_not_undone(mine[item_id], found, found[-1].id, person.id):
            ids.add(found[-1].id)
    return ids
