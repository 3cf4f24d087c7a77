"""A job's sheets as pages and on paper: of its power for the office, of the work for its crew."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from config.downloads import download
from inspections.models import HouseRevision, Pack
from inspections.papers.load_sheets import LoadSheet, job_sheet, job_sheet_pdf
from inspections.papers.packs import appendix_pdf
from inspections.papers.site_list import job_site_list_pdf
from inspections.papers.site_sheets import SiteSheet, site_sheet, site_sheet_pdf
from inspections.selectors import job_read, latest_revision, pack_read
from inspections.services.background import BROKE
from inspections.services.packs import pack_ask
from jobs.access import role_in
from jobs.models import Job, Role
from jobs.requests import SignedIn
from pages.responses import attempt, found_or_404, render_at, site_only


@login_required
@require_GET
def load_sheet(request: SignedIn, job_id: UUID, which: str) -> HttpResponse:
    """One sheet as a page."""
    job, revision, sheet = _asked(request, job_id, which)
    sheets = []
    for each in LoadSheet:
        sheets.append(each.value)
    context = {
        "job": job,
        "revision": revision,
        "document": job_sheet(job, revision, sheet).document,
        "which": sheet.value,
        "sheets": sheets,
    }
    return render_at(request, job, "jobs/load_sheet.html", context)


@login_required
@require_GET
def load_sheet_pdf(request: SignedIn, job_id: UUID, which: str) -> HttpResponse:
    """The same on paper."""
    job, revision, sheet = _asked(request, job_id, which)
    return _pdf(f"{sheet.value}-{job.id}", job_sheet_pdf(job, revision, sheet))


@login_required
@require_GET
def load_sheet_json(request: SignedIn, job_id: UUID, which: str) -> JsonResponse:
    """The same for a program."""
    job, revision, sheet = _asked(request, job_id, which)
    return JsonResponse(job_sheet(job, revision, sheet).values)


def _asked(request: SignedIn, job_id: UUID, which: str) -> tuple[Job, HouseRevision, LoadSheet]:
    """The job, its revision and the sheet; 404 for anyone but its office."""
    job = found_or_404(job_read, request.user, job_id)
    revision = latest_revision(job)
    known = which in LoadSheet._value2member_map_
    if role_in(request.user, job.shop) != Role.OFFICE or revision is None or not known:
        raise Http404
    return job, revision, LoadSheet(which)


@login_required
@require_GET
def work_sheet(request: SignedIn, job_id: UUID, which: str) -> HttpResponse:
    """A sheet that the crew works by, as a page."""
    job, revision = _at_work(request, job_id)
    sheet = _site(which)
    context = {
        "job": job,
        "revision": revision,
        "document": site_sheet(job, revision, sheet),
        "which": sheet.value,
    }
    return render_at(request, job, "jobs/work_sheet.html", context)


@login_required
@require_GET
def work_sheet_pdf(request: SignedIn, job_id: UUID, which: str) -> HttpResponse:
    """The same on paper."""
    job, revision = _at_work(request, job_id)
    sheet = _site(which)
    return _pdf(f"{sheet.value}-{job.id}", site_sheet_pdf(job, revision, sheet))


@login_required
@require_GET
def site_list_sheet(request: SignedIn, job_id: UUID) -> HttpResponse:
    """The site list, for whoever walks the house with a pencil."""
    job, revision = _at_work(request, job_id)
    return _pdf(f"site-list-{job.id}", job_site_list_pdf(job, revision))


@login_required
@require_GET
def appendix_sheet(request: SignedIn, job_id: UUID) -> HttpResponse:
    """What an inspector may ask for beside the pack, for the office to print."""
    job, revision, _ = _asked(request, job_id, LoadSheet.LOAD.value)
    return _pdf(f"appendix-{job.id}", appendix_pdf(job, revision))


@login_required
@require_POST
def pack_new(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Ask for a pack; the next page tells how far it is."""
    job, _, _ = _asked(request, job_id, LoadSheet.LOAD.value)
    made = attempt(request, pack_ask, job=job, kind=request.POST.get("kind", ""))
    if made:
        return redirect("pack", made.id)
    return redirect("job", job.id)


@login_required
@require_GET
def pack(request: SignedIn, pack_id: UUID) -> HttpResponse:
    """How far a pack is; the page asks again until it is made."""
    found = _pack(request, pack_id)
    revision = latest_revision(found.job)
    context = {"pack": found, "job": found.job, "revision": revision, "broke": BROKE()}
    return render_at(request, found.job, "jobs/pack.html", context)


@login_required
@require_GET
def pack_pdf(request: SignedIn, pack_id: UUID) -> HttpResponse:
    """The file of a pack that is made."""
    found = _pack(request, pack_id)
    if found.state != Pack.State.MADE:
        raise Http404
    assert found.content is not None  # it is made
    return _pdf(f"{found.kind}-{found.job_id}", bytes(found.content))


def _pack(request: SignedIn, pack_id: UUID) -> Pack:
    """The pack, for the office of its shop; 404 for anyone else."""
    found = found_or_404(pack_read, request.user, pack_id)
    if role_in(request.user, found.job.shop) != Role.OFFICE:
        raise Http404
    return found


def _at_work(request: SignedIn, job_id: UUID) -> tuple[Job, HouseRevision]:
    job = found_or_404(job_read, request.user, job_id)
    revision = latest_revision(job)
    site_only(request.user, job.shop)
    if revision is None:
        raise Http404
    return job, revision


def _site(which: str) -> SiteSheet:
    try:
        return SiteSheet(which)
    except ValueError:
        raise Http404 from None


def _pdf(name: str, content: bytes) -> HttpResponse:
    return download(content, f"{name}.pdf")
