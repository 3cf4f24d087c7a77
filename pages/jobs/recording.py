"""How a form about a job is recorded, in the time of its own place."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from inspections.conclusions.areas import today_at
from jobs.models import Job
from pages.refusals import valid
from pages.responses import attempt, to_job


def recorded(
    request: HttpRequest,
    job: Job,
    form: forms.Form,
    record: Callable[[dict[str, Any]], None],
    place: str,
) -> HttpResponse:
    """Do what the form asks for if it is right; the answer says what is not, at its place."""
    given = valid(request, form)
    if given is not None:
        attempt(request, lambda _person: record(given))
    return to_job(job.id, place)


@contextmanager
def faults_beside(fields: dict[str, str]) -> Iterator[None]:
    """Faults of a service beside the fields of the form that it was asked from."""
    try:
        yield
    except ValidationError as fault:
        if not hasattr(fault, "error_dict"):
            raise
        named = {}
        for name, said in fault.message_dict.items():
            named[fields.get(name, name)] = said
        raise ValidationError(named) from fault


def today_of(job: Job) -> date:
    return today_at(job, timezone.now())


def moment_given(job: Job, day: date | None, hour: Any) -> datetime | None:
    if day is None or hour is None:
        return None
    return datetime.combine(day, hour, ZoneInfo(job.time_zone))
