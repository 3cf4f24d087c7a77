"""What other trades report done, and what fills the outside walls."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from inspections.selectors import job_read
from inspections.services.insulation import insulation_choose
from inspections.services.trades import trade_report
from jobs.requests import SignedIn
from pages.responses import attempt, found_or_404, to_job


@login_required
@require_POST
def trade(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Record that another trade's rough-in, or a layer of the cover, is done."""
    job = found_or_404(job_read, request.user, job_id)
    area = None
    for a in job.areas.all():
        if str(a.id) == request.POST.get("area"):
            area = a
            break
    attempt(request, trade_report, job=job, trade=request.POST.get("trade", ""), area=area)
    return redirect("job", job_id=job.id)


@login_required
@require_POST
def insulation(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Record what fills the outside walls."""
    job = found_or_404(job_read, request.user, job_id)
    kind, barrier = request.POST.get("kind", ""), "vapour_barrier" in request.POST
    attempt(request, insulation_choose, job=job, kind=kind, vapour_barrier=barrier)
    return to_job(job.id, "insulation")
