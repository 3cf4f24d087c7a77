"""What a page says of an area, and since when nothing of a job was checked."""

from typing import Any

from django import template

from config.messages.message import Text
from inspections.conclusions.signs import area_sign, job_age
from jobs.models import Area, Job
from notifications.models import Notice
from notifications.telling import text_now

register = template.Library()


@register.filter
def sign(area: Area) -> str:
    """`clear`, `hold` or `unchecked`."""
    return area_sign(area).value


@register.filter
def unchecked(job: Job) -> Text | None:
    """Since when nothing of it was checked; None when all of it is as it is shown."""
    return job_age(job).words(job.time_zone)


@register.filter
def told(notice: Notice) -> Any:
    """What a notice tells now, to be said."""
    return text_now(notice)
