"""The plan of a job's house, a storey at a time."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_GET

from config.languages import say
from inspections.checker.check import check
from inspections.drawing.geometry import storeys_drawn
from inspections.drawing.plan import plan_svg
from inspections.selectors import house_of, job_read, latest_revision
from jobs.requests import SignedIn
from pages.responses import found_or_404, render_at, site_only


@login_required
@require_GET
def drawing(request: SignedIn, job_id: UUID) -> HttpResponse:
    """A storey with its symbols, what is short in place, and the runs of a circuit if asked."""
    job = found_or_404(job_read, request.user, job_id)
    revision = latest_revision(job)
    site_only(request.user, job.shop)
    if revision is None:
        raise Http404
    house, rulebook = house_of(revision)
    storeys = storeys_drawn(house)
    chosen = None
    for s in storeys:
        if s.id == request.GET.get("storey"):
            chosen = s
            break
    chosen = chosen or next(iter(storeys), None)
    circuit = None
    for c in house.circuits:
        if c.id == request.GET.get("circuit"):
            circuit = c
            break
    context = {
        "job": job,
        "revision": revision,
        "storeys": storeys,
        "chosen": chosen,
        "circuits": house.circuits,
        "circuit": circuit,
    }
    if chosen is not None:
        findings = check(house, rulebook)
        drawn = plan_svg(house, chosen.id, findings, circuit.id if circuit else None, say)
        context["drawing"] = mark_safe(drawn)  # noqa: S308, ElementTree escaped it
    return render_at(request, job, "jobs/drawing.html", context)
