"""An area is released to be covered, or taken back."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.views.decorators.http import require_POST

from inspections.selectors import (
    area_read,
    cover_release_read,
)
from inspections.services.cover_releases import (
    cover_release_issue,
    cover_release_withdraw,
    withdrawal_answer,
)
from jobs.requests import SignedIn
from pages.responses import attempt, found_or_404, to_job


@login_required
@require_POST
def release_area(request: SignedIn, area_id: UUID) -> HttpResponse:
    """Release an area on the authority's answer."""
    area = found_or_404(area_read, request.user, area_id)
    attempt(request, cover_release_issue, area=area)
    return to_job(area.job_id, f"area-{area.id}")


@login_required
@require_POST
def withdraw_release(request: SignedIn, area_id: UUID) -> HttpResponse:
    """Take a cover release back, with the reason."""
    area = found_or_404(area_read, request.user, area_id)
    because = request.POST.get("because", "")[:500]
    attempt(request, cover_release_withdraw, area=area, because=because)
    return to_job(area.job_id, f"area-{area.id}")


@login_required
@require_POST
def answer_withdrawal(request: SignedIn, cover_release_id: UUID) -> HttpResponse:
    """Record what was done about the reason of a withdrawal."""
    cover_release = found_or_404(cover_release_read, request.user, cover_release_id)
    changed = {"yes": True, "no": False}.get(request.POST.get("inspect_again", ""))
    says = request.POST.get("says", "")[:500]
    attempt(
        request, withdrawal_answer, cover_release=cover_release, says=says, inspect_again=changed
    )
    return to_job(cover_release.area.job_id, f"area-{cover_release.area_id}")
