"""A crew's list for a day: as it is now, as it was sent, on paper, in a calendar."""

from datetime import date, timedelta
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from config.downloads import download
from config.languages import say
from inspections.days.calendar import day_calendar
from inspections.days.problem import shop_now
from inspections.days.selectors import DayOf, crew_read, crews_seen_by, day_of
from inspections.days.services import day_lists_send
from inspections.papers.sheets.day import day_pdf
from jobs.access import role_in
from jobs.models import Crew, Role
from jobs.moments import ANY_DAY, DayRefused, day_given
from jobs.requests import SignedIn
from pages.office.labels import NOT_SENT, SENT_AS
from pages.responses import attempt, found_or_404


def _day(request: HttpRequest, crew: Crew) -> date:
    """The day asked for; tomorrow at the shop unless one is."""
    now, given = timezone.now(), request.GET.get("day") or request.POST.get("day") or ""
    try:
        return day_given(given, ANY_DAY, now)
    except DayRefused:
        return shop_now(crew.shop, now).date() + timedelta(days=1)


def _found(request: SignedIn, crew_id: UUID) -> tuple[Crew, date, DayOf]:
    crew = found_or_404(crew_read, request.user, crew_id)
    day = _day(request, crew)
    return crew, day, day_of(crew, day)


@login_required
@require_GET
def tomorrow(request: SignedIn) -> HttpResponse:
    """The reader's own crew's list; the office chooses among all."""
    crews = list(crews_seen_by(request.user))
    if len(crews) == 1:
        return redirect("crew-day", crew_id=crews[0].id)
    return render(request, "office/days.html", {"crews": crews})


@login_required
@require_GET
def crew_day(request: SignedIn, crew_id: UUID) -> HttpResponse:
    """A crew's list for one day."""
    crew, day, found = _found(request, crew_id)
    context: dict[str, Any] = {
        "crew": crew,
        "day": day,
        "before": day - timedelta(days=1),
        "after": day + timedelta(days=1),
        "list": found.content,
        "sent": found.sent,
        "unsent": found.unsent,
        "may_send": role_in(request.user, crew.shop) in (Role.OFFICE, Role.CREW_LEAD),
    }
    with timezone.override(crew.shop.time_zone):
        return render(request, "office/crew_day.html", context)


@login_required
@require_GET
def crew_day_sheet(request: SignedIn, crew_id: UUID) -> HttpResponse:
    """The list on paper: as it was last sent, or as it is when it was not sent yet."""
    crew, day, found = _found(request, crew_id)
    if found.content is None:
        raise Http404
    content, changes, sent = found.content, [], say(NOT_SENT())
    if found.sent:
        at = shop_now(crew.shop, found.sent.sent_at)
        content, changes = found.sent.content, found.sent.changes
        sent = say(SENT_AS(n=found.sent.number, moment=at))
    pdf = day_pdf(content, shop=crew.shop.name, sent=sent, changes=changes)
    return download(pdf, f"{crew.id}-{day}.pdf")


@login_required
@require_GET
def crew_day_calendar(request: SignedIn, crew_id: UUID) -> HttpResponse:
    """The list as calendar entries."""
    crew, day, found = _found(request, crew_id)
    content = found.content
    if found.sent:
        content = found.sent.content
    if content is None:
        raise Http404
    text = day_calendar(
        content,
        ZoneInfo(crew.shop.time_zone),
        crew_id=str(crew.id),
        number=found.sent.number if found.sent else 1,
        stamp=found.sent.sent_at if found.sent else timezone.now(),
    )
    return download(text, f"{day}.ics", kind="text/calendar; charset=utf-8", attachment=True)


@login_required
@require_POST
def send(request: SignedIn, crew_id: UUID) -> HttpResponse:
    """Freeze the list as it is sent; what changed since is a further number."""
    crew = found_or_404(crew_read, request.user, crew_id)
    day = _day(request, crew)
    attempt(request, day_lists_send, shop=crew.shop, day=day, crews=[crew])
    return redirect(f"/crews/{crew.id}/day/?day={day}")
