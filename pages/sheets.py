"""A job's sheets as pages and on paper: of its power for the office, of the work for its crew."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_GET

from inspections.load_sheets import LoadSheet, job_sheet, job_sheet_pdf
from inspections.models import HouseRevision
from inspections.selectors import job_read, latest_revision
from inspections.site_sheets import SiteSheet, inspector_pack_pdf, site_sheet, site_sheet_pdf
from jobs.access import SITE_ROLES, role_in
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
    return _pdf(f"{sheet.value}-{job.id}", job_sheet_pdf(job, revision, sheet))


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


@login_required
@require_GET
def work_sheet(request: HttpRequest, job_id: UUID, which: str) -> HttpResponse:
    """A sheet that the crew works by, as a page."""
    job, revision = _at_work(request, job_id)
    sheet = _site(which)
    context = {
        "job": job,
        "revision": revision,
        "document": site_sheet(job, revision, sheet),
        "which": sheet.value,
    }
    return render_at(request, job, "work_sheet.html", context)


@login_required
@require_GET
def work_sheet_pdf(request: HttpRequest, job_id: UUID, which: str) -> HttpResponse:
    """The same on paper."""
    job, revision = _at_work(request, job_id)
    sheet = _site(which)
    return _pdf(f"{sheet.value}-{job.id}", site_sheet_pdf(job, revision, sheet))


@login_required
@require_GET
def pack(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """Everything that is shown at a visit, in one file."""
    job, revision, _ = _asked(request, job_id, LoadSheet.LOAD.value)
    return _pdf(f"pack-{job.id}", inspector_pack_pdf(job, revision))


def _at_work(request: HttpRequest, job_id: UUID) -> tuple[Job, HouseRevision]:
    job = found_or_404(job_read, request.user, job_id)
    revision = latest_revision(job)
    if role_in(request.user, job.shop) not in SITE_ROLES or revision is None:
        raise Http404
    return job, revision


def _site(which: str) -> SiteSheet:
    try:
        return SiteSheet(which)
    except ValueError:
        raise Http404 from None


def _pdf(name: str, content: bytes) -> HttpResponse:
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return response
