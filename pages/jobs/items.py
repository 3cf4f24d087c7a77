"""The page of an item: its working, its answers, its photographs."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from config.languages import say
from inspections.conclusions.undo import undoable
from inspections.models import Item, Outcome
from inspections.papers.report.as_text import CAUTION
from inspections.selectors import (
    item_read,
    items_named,
    job_read,
    latest_revision,
    line_of,
    observation_read,
    photograph_read,
)
from inspections.services.consequences import WouldWithdraw
from inspections.services.observations import item_observe, items_confirm, observation_undo
from inspections.services.photographs import photograph_add
from jobs.models import Person
from jobs.moments import moment_of_form
from jobs.requests import SignedIn
from pages.confirmation import confirm
from pages.jobs.page_messages import CHOOSE_SEEN, CONFIRM_AND_WITHDRAW, TICK_A_LINE
from pages.jobs.room_rows import in_released_area, item_address, room_address
from pages.page_messages import NO_PHOTOGRAPH
from pages.refusals import refusal_of, refuse
from pages.responses import attempt, found_or_404, measure_of, render_at, site_only

NOT_SHOWN = "none"
"""The fingerprint of an item whose facts nobody was shown: that of no facts."""


@login_required
@require_GET
def item(request: SignedIn, item_id: UUID) -> HttpResponse:
    """One item with its working and its forms: a page of its own, or a card on another page."""
    found = found_or_404(item_read, request.user, item_id)
    site_only(request.user, found.job.shop)
    part = "HX-Request" in request.headers
    template = "jobs/item.html"
    if part:
        template = "jobs/parts/card.html"
    return render_at(request, found.job, template, _of_item(found, request.user, part))


def _of_item(found: Item, person: Person, part: bool = False) -> dict[str, object]:
    """What the page of one item shows."""
    line = line_of(found)
    return {
        "job": found.job,
        "line": line,
        "revision": latest_revision(found.job),
        "caution": CAUTION,
        "open": not part,
        "released": in_released_area(found),
        "undoable": undoable(person, [(line.item, line.latest)]),
    }


@login_required
@require_POST
def observe(request: SignedIn, item_id: UUID) -> HttpResponse:
    """Record a tick or a fail; one that withdraws a release, once that is confirmed."""
    item = found_or_404(item_read, request.user, item_id)
    site_only(request.user, item.job.shop)
    outcome = request.POST.get("outcome", "")
    if outcome not in Outcome.values:
        refuse(request, say(CHOOSE_SEEN()))
        return _after(request, item)
    typed = {}
    for name in ("note", "measured_typed", "known"):
        typed[name] = request.POST.get(name, "")
    given = {
        "outcome": Outcome(outcome),
        "note": typed["note"][:500],
        "fingerprint": request.POST.get("shown", ""),
        "measured_typed": typed["measured_typed"],
        # A page that was opened before asks for mm.
        "measured_mm": measure_of(request.POST.get("measured_mm", "")),
        "known_at": moment_of_form(typed["known"]),
    }
    confirmed = "withdraws" in request.POST
    try:
        attempt(request, item_observe, item=item, withdraws=confirmed, **given)
    except WouldWithdraw as consequence:
        asked = given | typed | {"says": consequence.text}
        context = _of_item(item, request.user) | {"asked": asked}
        response = render_at(request, item.job, "jobs/item.html", context)
        response.status_code = 409
        return response
    return _after(request, item)


@login_required
@require_POST
def confirm_as_drawn(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Record OK for what is ticked of a room as drawn; facts that changed since are refused."""
    job = found_or_404(job_read, request.user, job_id)
    site_only(request.user, job.shop)
    shown = _ticked(request.POST.getlist("item"))
    try:
        items = items_named(job, list(shown))
    except Item.DoesNotExist:
        items = []
    if not items:
        refuse(request, say(TICK_A_LINE()), at="item")
        return redirect(room_address(job.id, request.POST.get("room", "")))
    given = {
        "job": job,
        "items": items,
        "note": request.POST.get("note", "")[:500],
        "shown": shown,
        "known_at": moment_of_form(request.POST.get("known", "")),
    }
    confirmed = "confirmed" in request.POST
    try:
        attempt(request, items_confirm, withdraws=confirmed, **given)
    except WouldWithdraw as consequence:
        return confirm(request, job, [str(consequence)], say(CONFIRM_AND_WITHDRAW()))
    return redirect(item_address(items[0]))


def _ticked(values: list[str]) -> dict[UUID, str]:
    """The fingerprint that was shown of each ticked item; what is none is no item of any job."""
    shown = {}
    for value in values:
        identity, _, fingerprint = value.partition(" ")
        try:
            shown[UUID(identity)] = fingerprint or NOT_SHOWN
        except ValueError:
            shown[UUID(int=0)] = NOT_SHOWN
    return shown


def _after(request: HttpRequest, item: Item) -> HttpResponse:
    """The item in its job; by itself where something was refused, since a job folds what passed."""
    if refusal_of(request):
        return redirect("item", item.id)
    return redirect(item_address(item))


@login_required
@require_POST
def undo(request: SignedIn, observation_id: UUID) -> HttpResponse:
    """Say that a fault was recorded by mistake."""
    seen = found_or_404(observation_read, request.user, observation_id)
    attempt(request, observation_undo, observation=seen)
    return redirect(item_address(seen.item))


@login_required
@require_POST
def keep_item_photograph(request: SignedIn, item_id: UUID) -> HttpResponse:
    """Keep a photograph of an item."""
    item = found_or_404(item_read, request.user, item_id)
    site_only(request.user, item.job.shop)
    if upload := request.FILES.get("photograph"):
        attempt(request, photograph_add, item=item, upload=upload)
    else:
        refuse(request, NO_PHOTOGRAPH(), at="photograph")
    return _after(request, item)


@login_required
@require_GET
def item_photograph_file(request: SignedIn, photograph_id: UUID) -> FileResponse:
    """A photograph, to the shop's own people."""
    found = found_or_404(photograph_read, request.user, photograph_id)
    site_only(request.user, found.item.job.shop)
    return FileResponse(found.file.open("rb"))
