"""What a notice tells now: one that says that an area is released is as old as its job's copies."""

from datetime import datetime
from typing import Any

from django.utils import timezone

from config.messages.stored import to_json
from inspections.conclusions.signs import job_age
from notifications.messages.cover import AS_OLD_AS
from notifications.models import Notice

SAYS_CLEAR = ("area released", "finish ready")
"""Reasons whose text tells somebody that an area may be covered, or was."""


def text_now(notice: Notice, now: datetime | None = None) -> Any:
    """Its text as stored, unless it tells of a cover release that nobody has checked since."""
    job = notice.job
    if job is None or notice.reason not in SAYS_CLEAR:
        return notice.text
    words = job_age(job, now or timezone.now()).words(job.time_zone)
    if not words:
        return notice.text
    return to_json(AS_OLD_AS(job=str(job), age=words))
