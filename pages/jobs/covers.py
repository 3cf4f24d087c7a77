"""An area is released to be covered, or taken back."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from inspections.selectors import (
    area_read,
    clearance_read,
)
from inspections.services.clearances import clearance_issue, clearance_withdraw, withdrawal_answer
from jobs.requests import SignedIn
from pages.responses import attempt, found_or_404


@login_required
@require_POST
def release_area(request: SignedIn, area_id: UUID) -> HttpResponse:
    """Clear an area on the authority's answer."""
    area = found_or_404(area_read, request.user, area_id)
    attempt(request, clearance_issue, area=area)
    return redirect("job", job_id=area.job_id)


@login_required
@require_POST
def withdraw_release(request: SignedIn, area_id: UUID) -> HttpResponse:
    """Take a clearance back, with the reason."""
    area = found_or_404(area_read, request.user, area_id)
    because = request.POST.get("because", "")[:500]
    attempt(request, clearance_withdraw, area=area, because=because)
    return redirect("job", job_id=area.job_id)


@login_required
@require_POST
def answer_withdrawal(request: SignedIn, clearance_id: UUID) -> HttpResponse:
    """Record what was done about the reason of a withdrawal."""
    clearance = found_or_404(clearance_read, request.user, clearance_id)
    changed = {"yes": True, "no": False}.get(request.POST.get("inspect_again", ""))
    says = request.POST.get("says", "")[:500]
    attempt(request, withdrawal_answer, clearance=clearance, says=says, inspect_again=changed)
    return redirect("job", job_id=clearance.area.job_id)
