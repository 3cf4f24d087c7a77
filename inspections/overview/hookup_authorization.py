"""What is on record of a hookup's authorization, held against the house and the permit of today."""

import json
from collections.abc import Iterable, Iterator

from django.utils import timezone

from config.messages.kept import in_english
from config.messages.message import Text
from inspections.conclusions.areas import permit_of, today_at
from inspections.conclusions.items import items_with_seen, standing_of
from inspections.conclusions.job_facts import JobRows
from inspections.houses.circuits import HouseCircuit, circuits_of
from inspections.loads.authorised import Authorised
from inspections.models import HouseRevision, Item, MilestoneReached
from inspections.standing.hold_messages import PERMIT_NOT_YET, PERMIT_WAS
from inspections.standing.holds import Standing
from jobs.models import Job


def authorised_in(
    hookup: MilestoneReached, revision: HouseRevision | None
) -> tuple[Authorised, ...]:
    """The circuits that a recorded hookup names, with what a revision says of each today."""
    if hookup.as_typed:
        return tuple(Authorised("", words) for words in hookup.live_words)
    today = {each.id: each for each in circuits_of(revision)}
    named = hookup.live or []
    failing = {}
    if named and revision:
        failing = _failing(revision, [each["id"] for each in named])
    authorised = []
    for kept, label in zip(named, hookup.live_words, strict=True):
        against = tuple(failing.get(kept["id"], ()))
        changed = _changed_label(today.get(kept["id"]), kept)
        authorised.append(Authorised(kept["id"], label, changed, against))
    return tuple(authorised)


def _changed_label(now: HouseCircuit | None, kept: dict[str, str]) -> str:
    """How the circuit is labelled today where that is otherwise; empty where it is not."""
    if now is None or _place(now.kept()) == _place(kept):
        return ""
    return now.label


def _place(kept: dict[str, str]) -> tuple[str, str, str]:
    """Panel, spaces and name; the number leads with the panel only where there are several."""
    return kept["panel"], kept["number"].removeprefix(f"{kept['panel']} "), kept["name"]


def _failing(revision: HouseRevision, circuits: Iterable[str]) -> dict[str, list[str]]:
    """By circuit, the titles of items that fail and are about it or one of its cables."""
    of_subject = dict(_subjects(revision, frozenset(circuits)))
    items = Item.objects.filter(job=revision.job_id, current=True, subject__in=of_subject)
    found: dict[str, list[str]] = {}
    for item in items_with_seen(items).order_by("position", "id"):
        if standing_of(item.verdict, item.seen, item.workmanship) is Standing.FIX:
            titles = found.setdefault(of_subject[item.subject], [])
            title = in_english(item.finding["title"])
            if title not in titles:
                titles.append(title)
    return found


def _subjects(revision: HouseRevision, circuits: frozenset[str]) -> Iterator[tuple[str, str]]:
    """What items may be about, with the circuit that it belongs to."""
    for cable in json.loads(revision.house).get("cables", ()):
        if cable.get("circuit") in circuits:
            yield cable["id"], cable["circuit"]
    for circuit in circuits:
        yield circuit, circuit


def permit_trouble(job: Job) -> Text | None:
    """Why a permit that was issued is none today, as a few words; None where it is valid."""
    permit = permit_of(JobRows.of([job.id]), job)
    today = today_at(job, timezone.now())
    if permit is None or permit.issued_on is None:
        return None
    if permit.issued_on > today:
        return PERMIT_NOT_YET(day=permit.issued_on)
    if permit.last_day and permit.expired_by(today):
        return PERMIT_WAS(day=permit.last_day)
    return None
