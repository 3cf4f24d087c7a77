"""What a notice tells now: one that says that something is clear is as old as its job's copies."""

from datetime import datetime

from django.utils import timezone

from config.languages import say
from inspections.conclusions.signs import job_age
from notifications.models import Notice

SAYS_CLEAR = ("area released", "finish ready")
"""Reasons whose text tells somebody that an area may be covered, or was."""


def text_now(notice: Notice, now: datetime | None = None) -> str:
    """Its text, unless it tells of a cover release that nobody has checked since."""
    job = notice.job
    if job is None or notice.reason not in SAYS_CLEAR:
        return notice.text
    words = say(job_age(job, now or timezone.now()).words(job.time_zone), "en")
    if not words:
        return notice.text
    return f"{job}: {words} Do not cover before the site says that it is clear."
