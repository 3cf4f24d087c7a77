"""Writes of corrections: a box that stands elsewhere, found on site, accepted by the office."""

import json
from datetime import datetime
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from inspections.models import Correction, CorrectionAnswer
from inspections.selectors import latest_revision
from inspections.services.facts import changing_facts, lock_job
from inspections.services.houses import house_record
from jobs.access import SITE_ROLES, require_role
from jobs.models import Job, Person, Role, moment_of
from jobs.moments import PHONE_CLOCK, first_look, refuse_outside


def correction_record(
    actor: Person,
    *,
    job: Job,
    correction_id: UUID,
    box: str,
    at_mm: float,
    height_mm: float | None = None,
    wall: str = "",
    note: str = "",
    made_at: datetime | None = None,
) -> Correction:
    """Keep where a box really stands, once however often it comes; the house stays as it is.

    `wall` is the one the house says when not given. Raises ValidationError when the latest
    revision has no such box on a wall, or the place is beyond its wall.
    """
    require_role(actor, job.shop, *SITE_ROLES)
    with transaction.atomic():
        lock_job(job.id)
        if (had := Correction.objects.filter(id=correction_id).first()) is not None:
            if (had.job_id, had.box, had.seen_by_id) != (job.id, box, actor.id):
                raise ValidationError("Another correction has come in under this one's id.")
            return had
        number, place, walls = _box_of(job, box)
        wall = wall or place["wall"]
        if wall not in walls:
            raise ValidationError(f"The room of box {box} has no wall {wall}.")
        if not 0 <= at_mm <= walls[wall]:
            raise ValidationError(f"Wall {wall} is {walls[wall]:g} mm long; measure along it.")
        now = timezone.now()
        with changing_facts(actor, "box found elsewhere", job.id, area_ids=[]) as change:
            made = Correction(
                id=correction_id,
                job=job,
                box=box,
                wall=wall,
                at_mm=at_mm,
                height_mm=height_mm,
                note=note,
                revision=number,
                seen_by=actor,
                seen_at=_seen_at(made_at, job, now),
                recorded_at=now,
            )
            made.full_clean()
            made.save(force_insert=True)
            change.detail = {"box": box, "wall": wall, "at_mm": at_mm, "height_mm": height_mm}
    return made


def _seen_at(made_at: datetime | None, job: Job, now: datetime) -> datetime:
    """When the phone says it was found; its clock may be ahead, and be wrong by years."""
    refuse_outside(now, job.time_zone, made_at=(PHONE_CLOCK, made_at))
    return min(max(made_at or now, first_look(now, moment_of(job.id))), now)


def correction_accept(actor: Person, *, correction: Correction) -> CorrectionAnswer:
    """Make the latest house say what was found, as a revision of its own.

    Raises ValidationError when it was answered before, or the house has no such box any more.
    """
    require_role(actor, correction.job.shop, Role.OFFICE)
    job = correction.job
    with transaction.atomic():
        lock_job(job.id)
        _refuse_answered(correction)
        _box_of(job, correction.box)
        revision = latest_revision(job)
        house = json.loads(revision.house)
        box = next(each for each in house["boxes"] if each["id"] == correction.box)
        box["place"] |= {"wall": correction.wall, "at_mm": correction.at_mm}
        if correction.height_mm is not None:
            box["place"]["height_mm"] = correction.height_mm
        made = house_record(
            actor,
            job=job,
            house=json.dumps(house).encode(),
            rulebook=revision.rulebook,
            why=f"box {correction.box} stands elsewhere, found by {correction.seen_by}"[:200],
        )
        return _answered(actor, correction, revision=made.number)


def correction_leave(actor: Person, *, correction: Correction, why: str = "") -> CorrectionAnswer:
    """Leave the house as it is. Raises ValidationError when it was answered before."""
    require_role(actor, correction.job.shop, Role.OFFICE)
    with transaction.atomic():
        lock_job(correction.job_id)
        _refuse_answered(correction)
        action = "correction left"
        with changing_facts(actor, action, correction.job_id, area_ids=[]) as change:
            change.detail = {"box": correction.box, "why": why}
            return _answered(actor, correction, why=why)


def _refuse_answered(correction: Correction) -> None:
    if CorrectionAnswer.objects.filter(correction=correction).exists():
        raise ValidationError("This correction was answered already.")


def _answered(actor: Person, correction: Correction, **given: Any) -> CorrectionAnswer:
    return CorrectionAnswer.objects.create(
        correction=correction,
        accepted="revision" in given,
        answered_by=actor,
        answered_at=timezone.now(),
        **given,
    )


def _box_of(job: Job, name: str) -> tuple[int, dict[str, Any], dict[str, float]]:
    """The latest revision's number, the box's place, and the lengths of its room's walls."""
    revision = latest_revision(job)
    house = json.loads(revision.house) if revision else {}
    box = next((each for each in house.get("boxes", ()) if each["id"] == name), None)
    if revision is None or box is None or box["place"]["surface"] != "wall":
        raise ValidationError(f"The house has no box {name} on a wall; it may have changed.")
    room = next(each for each in house["rooms"] if each["id"] == box["room"])
    return revision.number, box["place"], {w["id"]: w["length_mm"] for w in room["walls"]}
