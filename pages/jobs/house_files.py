"""A job's house as a file, down and up, for those who record houses; what changes is told first."""

from collections.abc import Sequence
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods

from config.bounds import TURN
from config.downloads import download
from config.languages import say
from config.messages.message import Text
from inspections.checker.load import HouseFaults
from inspections.checker.rulebook import RulebookFault, rulebook_ids
from inspections.houses.files import FORMS, house_file_of
from inspections.houses.preview import house_preview
from inspections.selectors import job_read, latest_revision
from inspections.services.houses import AnotherRevision, house_record
from jobs.access import role_in
from jobs.models import Job, Role
from jobs.requests import SignedIn
from pages.jobs.page_messages import LISTED, NO_FILE, RECORDED
from pages.refusals import refuse
from pages.responses import found_or_404, render_at

LARGEST_HOUSE = 5_000_000


@login_required
@require_GET
def house_file(request: SignedIn, job_id: UUID, form: str) -> HttpResponse:
    """The latest revision as a file; a blank one to fill in before there is any."""
    job = own_job_or_404(request, job_id)
    if form not in FORMS:
        raise Http404
    name, made = house_file_of(job, form)
    return download(made, name, kind=FORMS[form], attachment=True)


@login_required
@require_http_methods(["GET", "POST"])
def house_upload(request: SignedIn, job_id: UUID) -> HttpResponse:
    """The page that gives and takes such files: what would change first, then it is recorded.

    A bad file is answered with all its faults.
    """
    job = own_job_or_404(request, job_id)
    sent, text = request.FILES.get("house"), request.POST.get("text")
    if request.method == "GET":
        return _page(request, job)
    if sent is None and text is None:
        refuse(request, say(NO_FILE()), at="house")
        return _page(request, job)
    # One byte more than may be is enough to be refused for its size.
    if sent is not None:
        house = sent.read(LARGEST_HOUSE + 1)
    else:
        house = (text or "").encode()
    given = {"rulebook": request.POST.get("rulebook", ""), "why": request.POST.get("why", "")[:200]}
    with TURN:
        return _looked_at(request, job, house, given)


def _looked_at(request: SignedIn, job: Job, house: bytes, given: dict[str, str]) -> HttpResponse:
    """What would change, or what is wrong; recorded when that was seen before."""
    as_text = "text" in request.POST and "house" not in request.FILES
    try:
        if as_text and "look" not in request.POST:
            base = int(request.POST.get("base", "0"))
            revision = house_record(request.user, job=job, house=house, base=base, **given)
            messages.success(request, say(RECORDED(number=str(revision.number))))
            return redirect("job", job.id)
        preview = house_preview(job, house, given["rulebook"])
    except HouseFaults as refused:
        parts = []
        for fault in refused.faults:
            parts.append(fault.text)
        return _page(request, job, parts)
    except AnotherRevision as refused:
        refuse(request, refused.text)
        preview = house_preview(job, house, given["rulebook"])
    except RulebookFault as refused:
        return _page(request, job, [fault.text for fault in refused.faults])
    except ValueError as refused:
        return _page(request, job, [str(refused)])
    context = {"job": job, "revision": latest_revision(job), "preview": preview, "given": given}
    return render_at(request, job, "jobs/house_preview.html", context)


def _page(request: HttpRequest, job: Job, faults: Sequence[str | Text] = ()) -> HttpResponse:
    """The page; where a house has faults, they stand on it as a list of their own."""
    if faults:
        refuse(request, say(LISTED()), at="house", unshown=("text", "base", "look"))
    context = {
        "job": job,
        "revision": latest_revision(job),
        "revisions": job.revisions.select_related("recorded_by").order_by("-number"),
        "faults": faults,
        "rulebooks": rulebook_ids(),
    }
    return render_at(request, job, "jobs/house_upload.html", context)


def own_job_or_404(request: SignedIn, job_id: UUID) -> Job:
    """The job, for its office and crew leads; 404 for anyone else."""
    job = found_or_404(job_read, request.user, job_id)
    role = role_in(request.user, job.shop)
    if role is None or role not in (Role.OFFICE, Role.CREW_LEAD):
        raise Http404
    return job
