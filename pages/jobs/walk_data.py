"""What a phone is given of a job: its places with their cards, and every line of them."""

import json
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from django.urls import reverse
from django.utils import timezone
from django.utils.text import capfirst

from config.languages import say
from inspections.conclusions.not_applicable import why_never_na
from inspections.conclusions.signs import area_sign
from inspections.conclusions.undo import undoable
from inspections.models import HouseRevision, Item, Observation
from inspections.overview.as_drawn import photographed, waits_as_drawn
from inspections.overview.correctable import correctable_by
from inspections.overview.cover import withdrawn_moments
from inspections.overview.walk import Sampled, WalkedPlace, WalkLine, checked_parts, walk_of
from inspections.selectors import ChecklistLine, latest_revision, room_names
from inspections.standing.age import Sign
from inspections.standing.cover_layers import withdrawal_says, withdrawn_says
from inspections.standing.holds import Standing
from inspections.standing.walk_cards import PlaceKind
from jobs.access import corrects_houses
from jobs.models import Area, Job, Person
from pages.jobs.page_messages import AT_FINISH, PLACES
from pages.jobs.walk_built import built_data
from pages.jobs.walk_circuits import circuits_data
from pages.templatetags.shown import measured_words


def walk_data(person: Person, job: Job) -> dict[str, Any]:
    """The places of a job in walking order with their lines, as they stand now."""
    as_of = timezone.now()
    walked = walk_of(job)
    revision = latest_revision(job)
    given = _Given(person, job, revision, walked)
    names = room_names(revision)
    rooms = []
    for place in walked:
        rooms.append(given.room(place, names))
    # Where the office looks first, a phone is given nothing to change the house by.
    shown = revision if corrects_houses(person, job.shop) else None
    return {
        "as_of": as_of.isoformat(),
        "person": str(person.id),
        "job": {"id": str(job.id), "name": job.name, "address": job.address},
        "revision": revision.number if revision else None,
        "rooms": rooms,
        **circuits_data(job, shown),
        **built_data(shown),
    }


class _Given:
    """What all lines of a job share, read once."""

    def __init__(
        self,
        person: Person,
        job: Job,
        revision: HouseRevision | None,
        walked: Sequence[WalkedPlace],
    ) -> None:
        self.areas = {area.id: area for area in job.areas.all()}
        self.photo_rules = job.shop.photo_rules
        self.boxes = _places(revision)
        self.fixes = {each["item"]: each["fixes"] for each in correctable_by(person, job)["lines"]}
        self.withdrawn = withdrawn_moments(job)
        pairs = []
        for place in walked:
            for each in place.lines:
                pairs.append((each.line.item, each.line.latest))
        self.slips = undoable(person, pairs)
        self.follows: dict[UUID, str] = {}
        for area in self.areas.values():
            self.follows[area.id] = ""
            if area_sign(area) is not Sign.HOLD:
                self.follows[area.id] = say(withdrawal_says([area.name]))

    def room(self, place: WalkedPlace, names: Mapping[str, str]) -> dict[str, Any]:
        """A place with its lines and its sample."""
        areas = {}
        items = []
        for each in place.lines:
            area = self.areas[each.line.item.area_id]
            areas[area.id] = area.name
            items.append(self.item(each, area))
        if place.place is PlaceKind.ROOM:
            name = names.get(place.room, place.room)
        else:
            name = say(PLACES[place.place]())
        if place.stage == Item.Stage.FINISH:
            name = say(AT_FINISH(place=name))
        sample = []
        for each in place.sample:
            sample.append(_sampled(each))
        return {
            "id": place.room if place.place is PlaceKind.ROOM else "",
            "name": name,
            "area": ", ".join(areas.values()),
            "kind": place.place.value,
            "items": items,
            "sample": sample,
        }

    def item(self, each: WalkLine, area: Area) -> dict[str, Any]:
        """A line with its card, and how it is answered there."""
        line = each.line
        parts = []
        for part in checked_parts(line.item):
            parts.append(say(part))
        return _item(line, self.boxes) | {
            "as_drawn": waits_as_drawn(line, self.photo_rules),
            "withdraws": self.follows[area.id],
            "release": _release(line, area, self.withdrawn.get(area.id)),
            "undo": _undo(line, self.slips),
            "card": each.card.value,
            "check": each.check.value,
            "first": each.first,
            "number": each.number,
            "photograph_first": each.photograph_first,
            "photographed": photographed(line.item),
            "parts": parts,
            "fixes": self.fixes.get(str(line.item.id), []),
            "na": why_never_na(line.item, self.photo_rules) is None,
        }


def _sampled(sampled: Sampled) -> dict[str, Any]:
    items = []
    for item in sampled.items:
        items.append(str(item.id))
    measured = None
    if sampled.measured is not None:
        measured = str(sampled.measured.id)
    return {"box": sampled.box, "items": items, "measured": measured}


def _release(line: ChecklistLine, area: Area, withdrawn_at: datetime | None) -> str:
    """What the look of a line did to the release of its area, and what that waits for."""
    latest = line.latest
    if withdrawn_at is None or latest is None or latest.recorded_at < withdrawn_at:
        return ""
    return say(withdrawn_says(area.name, passed=line.standing is Standing.OK))


def _undo(line: ChecklistLine, slips: set[UUID]) -> str:
    """Where the reader can undo the last look of a line; empty where they cannot."""
    if line.latest is None or line.latest.id not in slips:
        return ""
    return reverse("undo", args=[line.latest.id])


def _places(revision: HouseRevision | None) -> dict[str, dict[str, Any]]:
    """Where the house says each box on a wall stands."""
    boxes = []
    if revision:
        boxes = json.loads(revision.house).get("boxes", [])
    places: dict[str, dict[str, Any]] = {}
    for box in boxes:
        if box["place"]["surface"] == "wall":
            places[box["id"]] = {"id": box["id"], **box["place"]}
    return places


def _item(line: ChecklistLine, places: dict[str, dict[str, Any]]) -> dict[str, Any]:
    item, finding = line.item, line.item.finding
    names = ("title", "where", "says", "figure", "limit", "remedy")
    contest = []
    for each in line.contest:
        contest.append(_seen(each))
    by_name = {}
    for name in names:
        by_name[name] = say(finding[name])
    working = []
    for step in finding["working"]:
        working.append(say(step))
    return {
        "id": str(item.id),
        "verdict": item.verdict,
        "fingerprint": item.fingerprint,
        "standing": line.standing.value,
        "latest": _seen(line.latest) if line.latest and not line.changed_since else None,
        "contest": contest,
        "known_at": line.known_at.isoformat(),
        "measure": _measure(item),
        "photographs": len(item.photographs.all()),
        **by_name,
        "working": working,
        "section": finding["section"],
        "edition": finding["edition"],
        "known": finding["known"],
        "box": places.get(item.subject),
    }


def _measure(item: Item) -> dict[str, Any] | None:
    """What the phone holds a tape against before it keeps a tick."""
    measure = item.measure
    if measure is None:
        return None
    words = {"what": capfirst(say(measure.name)), "limit": say(measure.limit)}
    return words | {"min_mm": measure.min_mm, "max_mm": measure.max_mm}


def _seen(observation: Observation) -> dict[str, Any]:
    return {
        "outcome": observation.outcome,
        "by": str(observation.seen_by),
        "at": observation.seen_at.isoformat(),
        "note": observation.note,
        "measured_mm": observation.measured_mm,
        "measured": say(measured_words(observation)),
    }
