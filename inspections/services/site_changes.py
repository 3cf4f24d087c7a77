"""Writes of site changes: a box that stands elsewhere, found on site, accepted by the office."""

import json
from datetime import datetime
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later
from config.messages.message import Length, Rounding
from inspections.checker.load import HouseFaults
from inspections.models import SiteChange, SiteChangeAnswer
from inspections.selectors import latest_revision
from inspections.services import site_refusal_messages as words
from inspections.services.facts import changing_facts, lock_job
from inspections.services.given_ids import kept_as, save_as_given
from inspections.services.houses import house_record
from inspections.services.observations import refuse_no_measure
from jobs.access import SITE_ROLES, require_role
from jobs.bounds_refused import refuse_outside
from jobs.models import Job, Person, Role, moment_of_id
from jobs.moments import PHONE_CLOCK, first_look


def site_change_record(
    actor: Person,
    *,
    job: Job,
    site_change_id: UUID,
    box: str,
    at_mm: float,
    height_mm: float | None = None,
    wall: str = "",
    note: str = "",
    made_at: datetime | None = None,
) -> SiteChange:
    """Keep where a box really stands, once however often it comes; the house stays as it is.

    `wall` is the one the house says when not given. Raises ValidationError when the latest
    revision has no such box on a wall, or the place is beyond its wall or above its ceiling.
    """
    require_role(actor, job.shop, *SITE_ROLES)
    with transaction.atomic():
        lock_job(job.id)
        ids = (site_change_id, kept_as(job.id, site_change_id))
        if (had := job.site_changes.filter(id__in=ids).first()) is not None:
            if (had.box, had.seen_by_id) != (box, actor.id):
                raise ValidationError(said_later(words.CORRECTION_ID_TAKEN()))
            return had
        number, place, room = _box_of(job, box)
        wall = wall or place["wall"]
        _refuse_beyond(box, room, wall, at_mm, height_mm)
        here = (place["wall"], place["at_mm"], place.get("height_mm"))
        if (wall, at_mm, here[2] if height_mm is None else height_mm) == here:
            raise ValidationError(said_later(words.NOTHING_TO_CORRECT(box=box)))
        now = timezone.now()
        with changing_facts(actor, "box found elsewhere", job.id, area_ids=[]) as change:
            made = SiteChange(
                id=site_change_id,
                job=job,
                box=box,
                wall=wall,
                at_mm=at_mm,
                height_mm=height_mm,
                note=note,
                revision=number,
                seen_by=actor,
                seen_at=found_at(made_at, job, now),
                recorded_at=now,
            )
            made.full_clean(validate_unique=False)
            save_as_given(made, job.id, job.site_changes.all())
            change.detail = {"box": box, "wall": wall, "at_mm": at_mm, "height_mm": height_mm}
    return made


def found_at(made_at: datetime | None, job: Job, now: datetime) -> datetime:
    """When the phone says it was found; its clock may be ahead, and be wrong by years."""
    refuse_outside(now, job.time_zone, made_at=(PHONE_CLOCK, made_at))
    return min(max(made_at or now, first_look(now, moment_of_id(job.id))), now)


def site_change_accept(actor: Person, *, site_change: SiteChange) -> SiteChangeAnswer:
    """Make the latest house say what was found, as a revision of its own.

    Raises ValidationError when it was answered before, or the house has no such box any more, or
    its room was changed so that the place is none.
    """
    require_role(actor, site_change.job.shop, Role.OFFICE)
    job = site_change.job
    with transaction.atomic():
        lock_job(job.id)
        _refuse_answered(site_change)
        _refuse_overtaken(site_change)
        _, _, room = _box_of(job, site_change.box)
        at, up = site_change.at_mm, site_change.height_mm
        _refuse_beyond(site_change.box, room, site_change.wall, at, up)
        revision = latest_revision(job)
        assert revision is not None  # the box is of one
        house = json.loads(revision.house)
        box = next(each for each in house["boxes"] if each["id"] == site_change.box)
        box["place"] |= {"wall": site_change.wall, "at_mm": site_change.at_mm}
        if site_change.height_mm is not None:
            box["place"]["height_mm"] = site_change.height_mm
        why = f"box {site_change.box} stands elsewhere, found by {site_change.seen_by}"[:200]
        text, rulebook = json.dumps(house).encode(), revision.rulebook
        try:
            made = house_record(actor, job=job, house=text, rulebook=rulebook, why=why)
        except HouseFaults as faults:  # since then something else came to stand there
            raise ValidationError([said_later(fault.text) for fault in faults.faults]) from faults
        return _answered(actor, site_change, revision=made.number)


def site_change_leave(actor: Person, *, site_change: SiteChange, why: str = "") -> SiteChangeAnswer:
    """Leave the house as it is. Raises ValidationError when it was answered before."""
    require_role(actor, site_change.job.shop, Role.OFFICE)
    with transaction.atomic():
        lock_job(site_change.job_id)
        _refuse_answered(site_change)
        action = "site change left"
        with changing_facts(actor, action, site_change.job_id, area_ids=[]) as change:
            change.detail = {"box": site_change.box, "why": why}
            return _answered(actor, site_change, why=why)


def _refuse_answered(site_change: SiteChange) -> None:
    if SiteChangeAnswer.objects.filter(site_change=site_change).exists():
        raise ValidationError(said_later(words.CORRECTION_ANSWERED()))


def _refuse_overtaken(site_change: SiteChange) -> None:
    """Two findings of one box cannot both be where it is: the later one stands."""
    same = SiteChangeAnswer.objects.filter(accepted=True, site_change__job=site_change.job_id)
    later = same.filter(
        site_change__box=site_change.box, site_change__seen_at__gt=site_change.seen_at
    ).first()
    if later is not None:
        found = words.FOUND_LATER(box=site_change.box, revision=str(later.revision))
        raise ValidationError(said_later(found))


def _answered(actor: Person, site_change: SiteChange, **given: Any) -> SiteChangeAnswer:
    return SiteChangeAnswer.objects.create(
        site_change=site_change,
        accepted="revision" in given,
        answered_by=actor,
        answered_at=timezone.now(),
        **given,
    )


def _box_of(job: Job, name: str) -> tuple[int, dict[str, Any], dict[str, Any]]:
    """The latest revision's number, the box's place, and its room."""
    revision = latest_revision(job)
    house = {}
    if revision:
        house = json.loads(revision.house)
    box = None
    for each in house.get("boxes", ()):
        if each["id"] == name:
            box = each
            break
    if revision is None or box is None or box["place"]["surface"] != "wall":
        raise ValidationError(said_later(words.NO_BOX(box=name)))
    room = next(each for each in house["rooms"] if each["id"] == box["room"])
    return revision.number, box["place"], room


def _refuse_beyond(
    box: str, room: dict[str, Any], wall: str, at_mm: float, height_mm: float | None
) -> None:
    """Raise ValidationError for a place that is not on a wall of the room."""
    walls = {}
    for each in room.get("walls", ()):
        walls[each["id"]] = each["length_mm"]
    if wall not in walls:
        raise ValidationError(said_later(words.NO_WALL(box=box, wall=wall)))
    if not 0 <= at_mm <= walls[wall]:
        length = Length(walls[wall], Rounding.DOWN)
        raise ValidationError(said_later(words.BEYOND_WALL(wall=wall, length=length)))
    if height_mm is None:
        return
    refuse_no_measure(height_mm)
    ceiling = room.get("ceiling_mm")
    if ceiling is not None and height_mm > ceiling:
        height = Length(ceiling, Rounding.DOWN)
        raise ValidationError(said_later(words.ABOVE_CEILING(box=box, height=height)))
