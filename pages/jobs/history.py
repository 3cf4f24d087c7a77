"""Pages that look back: an area's timeline, photographs of deficiencies."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import FileResponse, HttpResponse
from django.views.decorators.http import require_GET, require_POST

from inspections.overview.timeline import area_timeline
from inspections.selectors import (
    area_read,
    deficiency_photograph_read,
    deficiency_read,
    latest_revision,
)
from inspections.services.deficiencies import deficiency_photograph
from jobs.requests import SignedIn
from pages.page_messages import NO_PHOTOGRAPH
from pages.refusals import refuse
from pages.responses import attempt, found_or_404, render_at, site_only, to_job


@login_required
@require_GET
def timeline(request: SignedIn, area_id: UUID) -> HttpResponse:
    """The history of an area, the earliest first, for the shop's own people."""
    area = found_or_404(area_read, request.user, area_id)
    site_only(request.user, area.job.shop)
    context = {
        "job": area.job,
        "area": area,
        "happened": area_timeline(area),
        "revision": latest_revision(area.job),
    }
    return render_at(request, area.job, "jobs/timeline.html", context)


@login_required
@require_POST
def keep_deficiency_photograph(request: SignedIn, deficiency_id: UUID) -> HttpResponse:
    """Keep a photograph of a deficiency."""
    deficiency = found_or_404(deficiency_read, request.user, deficiency_id)
    if upload := request.FILES.get("photograph"):
        attempt(request, deficiency_photograph, deficiency=deficiency, upload=upload)
    else:
        refuse(request, NO_PHOTOGRAPH(), at="photograph")
    return to_job(deficiency.job_id, "inspections")


@login_required
@require_GET
def deficiency_photograph_file(request: SignedIn, photograph_id: UUID) -> FileResponse:
    """A photograph of a deficiency, to the shop's own people."""
    found = found_or_404(deficiency_photograph_read, request.user, photograph_id)
    site_only(request.user, found.deficiency.job.shop)
    return FileResponse(found.file.open("rb"))
