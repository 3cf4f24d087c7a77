"""A job's house as a file, down and up: workbook or CSV in a zip. For those who record houses."""

from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods

from inspections import checker
from inspections.house_files import FORMS, house_file_of
from inspections.selectors import job_read, latest_revision
from inspections.services import house_record
from jobs.access import role_in
from jobs.models import Job, Role
from pages.asking import found_or_404, render_at


@login_required
@require_GET
def house_file(request: HttpRequest, job_id: UUID, form: str) -> HttpResponse:
    """The latest revision as a file; a blank one to fill in before there is any."""
    job = _asked(request, job_id)
    if form not in FORMS:
        raise Http404
    name, made = house_file_of(job, form)
    response = HttpResponse(made, content_type=FORMS[form])
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@login_required
@require_http_methods(["GET", "POST"])
def house_upload(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """The page that gives and takes such files; a bad one is answered with all its faults."""
    job = _asked(request, job_id)
    faults: list[str] = []
    sent = request.FILES.get("house")
    if request.method == "POST" and sent is None:
        faults = ["No file was sent; choose one first."]
    elif sent is not None:
        try:
            revision = house_record(
                request.user,
                job=job,
                house=sent.read(),
                rulebook=request.POST.get("rulebook", ""),
                why=request.POST.get("why", "")[:200],
            )
        except checker.HouseFaults as refused:
            faults = [str(fault) for fault in refused.faults]
        except (checker.RulebookFault, UnicodeDecodeError) as refused:
            faults = [str(refused)]
        else:
            messages.success(request, f"Recorded as revision {revision.number}.")
            return redirect("job", job.id)
    context = {
        "job": job,
        "revision": latest_revision(job),
        "faults": faults,
        "rulebooks": checker.rulebook_ids(),
    }
    response = render_at(request, job, "house_upload.html", context)
    response.status_code = 422 if faults else 200
    return response


def _asked(request: HttpRequest, job_id: UUID) -> Job:
    """The job, for its office and crew leads; 404 for anyone else."""
    job = found_or_404(job_read, request.user, job_id)
    if role_in(request.user, job.shop) not in (Role.OFFICE, Role.CREW_LEAD):
        raise Http404
    return job
