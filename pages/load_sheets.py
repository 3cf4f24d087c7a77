"""Pages of a job's power: load calculation, panel schedule, hookup sheet. For the office."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_GET

from inspections.load_sheets import LoadSheet, job_sheet, job_sheet_pdf
from inspections.models import HouseRevision
from inspections.selectors import job_read, latest_revision
from jobs.access import role_in
from jobs.models import Job, Role
from pages.asking import found_or_404, render_at


@login_required
@require_GET
def load_sheet(request: HttpRequest, job_id: UUID, which: str) -> HttpResponse:
    """One sheet as a page."""
    job, revision, sheet = _asked(request, job_id, which)
    context = {
        "job": job,
        "revision": revision,
        "document": job_sheet(job, revision, sheet).document,
        "which": sheet.value,
        "sheets": [each.value for each in LoadSheet],
    }
    return render_at(request, job, "load_sheet.html", context)


@login_required
@require_GET
def load_sheet_pdf(request: HttpRequest, job_id: UUID, which: str) -> HttpResponse:
    """The same on paper."""
    job, revision, sheet = _asked(request, job_id, which)
    made = job_sheet_pdf(job, revision, sheet)
    response = HttpResponse(made, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{sheet.value}-{job.id}.pdf"'
    return response


@login_required
@require_GET
def load_sheet_json(request: HttpRequest, job_id: UUID, which: str) -> JsonResponse:
    """The same for a program."""
    job, revision, sheet = _asked(request, job_id, which)
    return JsonResponse(job_sheet(job, revision, sheet).values)


def _asked(request: HttpRequest, job_id: UUID, which: str) -> tuple[Job, HouseRevision, LoadSheet]:
    """The job, its revision and the sheet; 404 for anyone but its office."""
    job = found_or_404(job_read, request.user, job_id)
    revision = latest_revision(job)
    known = which in LoadSheet._value2member_map_
    if role_in(request.user, job.shop) != Role.OFFICE or revision is None or not known:
        raise Http404
    return job, revision, LoadSheet(which)
