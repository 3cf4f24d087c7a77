"""Pages that are drawn once and kept for as long as all that they show is the same.

What they show is read from the database at every request and compared, so a page never tells what
was. Drawing one may ask the database nothing more: that would not be compared.
"""

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from django.conf import settings
from django.contrib.messages import get_messages
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.middleware.csrf import get_token
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.translation import get_language

from inspections.conclusions.areas import today_at
from inspections.conclusions.signs import job_age
from jobs.models import Job
from pages.navigation import places_of

MOST = 256
"""Pages that a process keeps; the one that was longest not asked for goes first."""

TOKEN = "TokenOfTheFormsOfThisRequest"  # noqa: S105 - stands where the token goes
Table = dict[str, Any]


@dataclass(unsafe_hash=True)
class _Page:
    """What a page shows, and how it is drawn when it is not kept."""

    shows: Hashable
    draw: Callable[[], str] | None = field(compare=False)


class AskedMore(Exception):
    """A page to be kept asked the database while it was drawn: read that before, and compare it."""


@lru_cache(MOST)
def _drawn(page: _Page) -> str:
    assert page.draw is not None
    return page.draw()


def _refuse(_execute: object, sql: str, *_: object) -> None:
    raise AskedMore(sql)


def render_kept(
    request: HttpRequest,
    job: Job,
    template: str,
    rows: Hashable,
    context: Callable[[], Table],
    *,
    strip: bool = True,
) -> HttpResponse:
    """A page about a job as `render_at` gives it; `context` must follow from `rows` alone.

    `strip`: the page has the reader's strip and may tell messages; a part of a page has neither.
    """
    reader: Table = {}
    if strip:
        reader = _reader(request)

    def draw() -> str:
        found = context() | reader | {"csrf_token": TOKEN}
        with timezone.override(job.time_zone), connection.execute_wrapper(_refuse):
            return render_to_string(template, found, request)

    if settings.DEBUG or (strip and len(get_messages(request))):
        return HttpResponse(_with_token(request, draw()))
    words = (str(reader.get("user", "")), tuple(reader.get("places", ())))
    now = timezone.now()
    when = (today_at(job, now), job_age(job, now))
    page = _Page((template, request.get_full_path(), get_language(), when, words, rows), draw)
    html = _drawn(page)
    page.draw = None  # what is kept holds no request
    return HttpResponse(_with_token(request, html))


def _reader(request: HttpRequest) -> Table:
    """Who reads the page, as the strip tells it."""
    if not request.user.is_authenticated:
        return {"user": request.user, "places": ()}
    return {"user": request.user, "places": places_of(request.user)}


def _with_token(request: HttpRequest, html: str) -> str:
    if TOKEN in html:
        return html.replace(TOKEN, get_token(request))
    return html
