"""The list of jobs that a reader may see."""

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import Q
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from inspections.selectors import (
    jobs_with_areas,
)
from jobs.models import Role
from jobs.requests import SignedIn
from notifications.selectors import unseen_notices

JOBS = 60
"""How many a page of the list has."""


@login_required
@require_GET
def jobs(request: SignedIn) -> HttpResponse:
    """The jobs that the reader may see, open ones first, each area hold or clear."""
    roles = set(request.user.memberships.values_list("role", flat=True))
    found, words = jobs_with_areas(request.user), request.GET.get("find", "").strip()[:80]
    if words:
        named = Q(name__icontains=words) | Q(address__icontains=words)
        found = found.filter(named | Q(permit__number__icontains=words))
    page = Paginator(found, JOBS).get_page(request.GET.get("page"))
    context = {
        "jobs": page,
        "find": words,
        "notices": unseen_notices(request.user),
        "office": Role.OFFICE in roles,
    }
    context["beginning"] = page.paginator.num_pages == 1 and not any(j.areas.all() for j in page)
    return render(request, "jobs/jobs.html", context)
