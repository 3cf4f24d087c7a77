"""Notices of a job: what was given to whom, and who has seen it."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from inspections.selectors import (
    job_read,
    latest_revision,
)
from jobs.requests import SignedIn
from notifications.selectors import (
    given_for_job,
)
from notifications.services.notices import notice_see
from pages.responses import found_or_404, render_at, site_only


@login_required
@require_POST
def notice_seen(request: SignedIn, notice_id: UUID) -> HttpResponse:
    """The reader has seen a notice."""
    notice_see(request.user, notice_id=notice_id)
    return redirect("jobs")


@login_required
@require_GET
def of_job(request: SignedIn, job_id: UUID) -> HttpResponse:
    """What was given about a job: to whom, how it went, who has seen it."""
    job = found_or_404(job_read, request.user, job_id)
    site_only(request.user, job.shop)
    context = {"job": job, "given": given_for_job(job), "revision": latest_revision(job)}
    return render_at(request, job, "jobs/notices.html", context)
