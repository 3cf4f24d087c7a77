"""The pages. They ask selectors, call services and show what comes back."""

from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import ObjectDoesNotExist, ValidationError
from django.db import connection
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from inspections.documents import job_checklist_pdf
from inspections.models import Basis, Outcome
from inspections.report import CAUTION
from inspections.selectors import (
    area_read,
    checklist,
    item_read,
    job_read,
    jobs_with_areas,
    latest_revision,
    live_clearances,
)
from inspections.services import (
    Held,
    NotCleared,
    NothingToPass,
    clearance_issue,
    clearance_withdraw,
    item_observe,
)
from inspections.stages import Stage
from jobs.access import SITE_ROLES, NotAllowed, role_in
from jobs.models import Role
from notifications.selectors import unseen_notices
from notifications.services import notice_see
from pages.layout import by_area

REFUSED = (Held, NotCleared, NothingToPass, NotAllowed, ValidationError)


@login_required
@require_GET
def jobs(request: HttpRequest) -> HttpResponse:
    """Every job that the reader may see, its areas hold or clear."""
    context = {
        "jobs": jobs_with_areas(request.user),
        "notices": unseen_notices(request.user),
    }
    return render(request, "jobs.html", context)


@login_required
@require_POST
def seen(request: HttpRequest, notice_id: UUID) -> HttpResponse:
    """The reader has seen a notice."""
    notice_see(request.user, notice_id=notice_id)
    return redirect("jobs")


@login_required
@require_GET
def job(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """One job. A contractor sees its areas; the shop's own people its checklist too."""
    found = _or_404(job_read, request.user, job_id)
    role = role_in(request.user, found.shop)
    context = {
        "job": found,
        "role": role,
        "stages": list(Stage),
        "bases": Basis.choices,
        "revision": latest_revision(found),
        "caution": CAUTION,
        "may_clear": role == Role.OFFICE,
    }
    if role in SITE_ROLES:
        context["sections"] = by_area(found, checklist(found), live_clearances(found))
        return render(request, "job.html", context)
    context["clearances"] = live_clearances(found)
    return render(request, "cover.html", context)


@login_required
@require_GET
def checklist_sheet(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """The job's checklist as a PDF, for the shop's own people."""
    found = _or_404(job_read, request.user, job_id)
    revision = latest_revision(found)
    if role_in(request.user, found.shop) not in SITE_ROLES or revision is None:
        raise Http404
    response = HttpResponse(job_checklist_pdf(found, revision), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="checklist-{found.id}.pdf"'
    return response


@login_required
@require_POST
def observe(request: HttpRequest, item_id: UUID) -> HttpResponse:
    """Record a tick or a fail."""
    item = _or_404(item_read, request.user, item_id)
    outcome = request.POST.get("outcome", "")
    if outcome not in Outcome.values:
        messages.error(request, "Say pass or fail.")
    else:
        note = request.POST.get("note", "")[:500]
        _try(request, item_observe, item=item, outcome=Outcome(outcome), note=note)
    return redirect(f"/jobs/{item.job_id}/#item-{item.id}")


@login_required
@require_POST
def clear(request: HttpRequest, area_id: UUID) -> HttpResponse:
    """Clear an area on the authority's word."""
    area = _or_404(area_read, request.user, area_id)
    given = {"basis": request.POST.get("basis", ""), "reference": request.POST.get("reference", "")}
    _try(request, clearance_issue, area=area, **given)
    return redirect("job", job_id=area.job_id)


@login_required
@require_POST
def withdraw(request: HttpRequest, area_id: UUID) -> HttpResponse:
    """Take a clearance back, with the reason."""
    area = _or_404(area_read, request.user, area_id)
    _try(request, clearance_withdraw, area=area, because=request.POST.get("because", ""))
    return redirect("job", job_id=area.job_id)


@require_GET
def healthy(_request: HttpRequest) -> HttpResponse:
    """Whether the site answers and reaches its database."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return HttpResponse("ok", content_type="text/plain")


def _or_404(read, person, identity: UUID):
    try:
        return read(person, identity)
    except ObjectDoesNotExist:
        raise Http404 from None


def _try(request: HttpRequest, service, **given) -> None:
    """Call a service; say on the next page why it refused."""
    try:
        service(request.user, **given)
    except ValidationError as refusal:
        messages.error(request, " ".join(refusal.messages))
    except REFUSED as refusal:
        messages.error(request, str(refusal))
