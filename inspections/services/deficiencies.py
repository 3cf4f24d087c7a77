"""Writes to deficiencies between the inspection that called them and the one that accepts them."""

import hashlib

from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile
from django.utils import timezone

from config.languages import said_later
from inspections.models import Deficiency, DeficiencyPhotograph
from inspections.services import refusal_messages as words
from inspections.services.facts import changing_facts
from inspections.services.photographs import picture_kept, read_picture
from jobs.access import SITE_ROLES, require_role
from jobs.models import Person


def deficiency_correct(actor: Person, *, deficiency: Deficiency) -> Deficiency:
    """Record that a deficiency was corrected. Only the inspector's acceptance lifts its hold."""
    require_role(actor, deficiency.job.shop, *SITE_ROLES)
    now = timezone.now()
    areas = [deficiency.area_id]
    with changing_facts(
        actor, "deficiency corrected", deficiency.job_id, area_ids=areas, now=now
    ) as change:
        fresh = Deficiency.objects.get(id=deficiency.id)
        if fresh.corrected_at is not None:
            raise ValidationError(said_later(words.CORRECTED_ALREADY()))
        fresh.corrected_at, fresh.corrected_by = now, actor
        fresh.save(update_fields=["corrected_at", "corrected_by"])
        change.detail = {"deficiency": fresh.id, "what": fresh.what}
    return fresh


def deficiency_photograph(
    actor: Person, *, deficiency: Deficiency, upload: "UploadedFile[bytes]"
) -> DeficiencyPhotograph:
    """Keep a photograph of a deficiency: before it was corrected, or after.

    Raises ValidationError for a file that is too large, or not a picture that can be read.
    """
    require_role(actor, deficiency.job.shop, *SITE_ROLES)
    keep_location = deficiency.job.shop.keeps_locations
    content, suffix = read_picture(upload, keep_location=keep_location)
    now = timezone.now()
    areas = [deficiency.area_id]
    photograph = DeficiencyPhotograph(
        digest=hashlib.sha256(content).hexdigest(), taken_by=actor, recorded_at=now
    )
    with (
        picture_kept(photograph, content, suffix),
        changing_facts(
            actor, "deficiency photographed", deficiency.job_id, area_ids=areas, now=now
        ) as change,
    ):
        fresh = Deficiency.objects.get(id=deficiency.id)
        moment = DeficiencyPhotograph.Moment
        photograph.deficiency = fresh
        if fresh.corrected_at is None:
            photograph.moment = moment.BEFORE
        else:
            photograph.moment = moment.AFTER
        photograph.save()
        change.detail = {"deficiency": fresh.id, "moment": photograph.moment}
        change.detail["digest"] = photograph.digest
    return photograph
