"""The page of a job, its record and its checklist on paper."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.views.decorators.http import require_GET

from config.downloads import download
from inspections.conclusions.undo import undoable
from inspections.houses.amendments import checked_otherwise
from inspections.houses.circuits import circuits_of
from inspections.models import (
    CONCEALING,
    INSULATIONS,
    Answer,
    HouseRevision,
    InspectionKind,
    Item,
)
from inspections.overview.hookup_authorization import permit_trouble
from inspections.overview.inspections import earliest_inspection_of
from inspections.overview.progress import job_breaches, job_moves
from inspections.papers.documents import job_checklist_pdf
from inspections.papers.report.as_text import CAUTION
from inspections.selectors import (
    areas_ever_released,
    checklist,
    deficiencies_of,
    inspections_of,
    job_read,
    latest_revision,
    live_cover_releases,
    room_names,
    site_changes_open,
    with_areas,
    withdrawals_answered,
    withdrawals_unanswered,
)
from inspections.standing.authority_messages import CANADA
from inspections.standing.stages import Milestone, Stage
from jobs.access import SITE_ROLES, role_in
from jobs.models import Job, Person, Role
from jobs.planning.working_days import NeverOpen
from jobs.requests import SignedIn
from pages.jobs.layout import by_area, by_room, cover_lines, inspection_lines
from pages.open.cover_links import links_of
from pages.responses import found_or_404, render_at, site_only


@login_required
@require_GET
def job(request: SignedIn, job_id: UUID) -> HttpResponse:
    """One job. A builder sees its areas; the shop's own people its checklist too."""
    found = found_or_404(job_read, request.user, job_id)
    role = role_in(request.user, found.shop)
    revision = latest_revision(found)
    context = {
        "job": found,
        "stages": list(Stage),
        "revision": revision,
        "circuits": circuits_of(revision) if role == Role.OFFICE else (),
        "caution": CAUTION,
        "office": role == Role.OFFICE,
        "records_houses": role in (Role.OFFICE, Role.CREW_LEAD),
        "cover_releases": live_cover_releases(found),
        "insulation": found.insulation_choices.last(),
        "insulations": INSULATIONS,
    }
    if role not in SITE_ROLES:
        context["covers"] = cover_lines(found)
        part = "HX-Request" in request.headers
        return render_at(
            request,
            found,
            "jobs/parts/covers.html" if part else "jobs/job_for_builder.html",
            context,
        )
    inside = _inside(with_areas(found), revision, request.user)
    return render_at(request, found, "jobs/job.html", context | inside)


def _inside(job: Job, revision: HouseRevision | None, person: Person) -> dict[str, object]:
    """What the shop's own people see of a job besides."""
    try:
        earliest = earliest_inspection_of(job)
    except NeverOpen:
        earliest = None
    lines = checklist(job, stage=Item.Stage.ROUGH_IN)
    finish = checklist(job, stage=Item.Stage.FINISH)
    waiting, ever = withdrawals_unanswered(job), areas_ever_released(job)
    rooms = room_names(revision)
    pairs = []
    for each in [*lines, *finish]:
        pairs.append((each.item, each.latest))
    return {
        "sections": by_area(
            job, lines, rooms, live_cover_releases(job), waiting, ever, withdrawals_answered(job)
        ),
        "finish": by_room(finish, rooms, job.shop.photo_rules),
        "undoable": undoable(person, pairs),
        "moves": job_moves(job),
        "breaches": job_breaches(job),
        "permit_says": permit_trouble(job),
        "inspections": inspection_lines(job, inspections_of(job)),
        "earliest": earliest,
        "otherwise": checked_otherwise(job),
        "deficiencies": deficiencies_of(job),
        "kinds": InspectionKind.choices,
        "milestones": list(Milestone),
        "answers": Answer.choices,
        "concealing": CONCEALING,
        "links": links_of(job),
        "site_changes": site_changes_open(job),
        "country": _country(job, revision),
    }


def _country(job: Job, revision: HouseRevision | None) -> str:
    """Whose words a job is told in: its authority's, else those of the code it is checked by."""
    if job.authority.country:
        return job.authority.country
    if revision and revision.rulebook.startswith("cec"):
        return CANADA
    return ""


@login_required
@require_GET
def record(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Everything that was recorded of a job, the latest first."""
    found = found_or_404(job_read, request.user, job_id)
    site_only(request.user, found.shop)
    entries = found.record.select_related("by").order_by("-number")
    context = {"job": found, "entries": entries, "revision": latest_revision(found)}
    return render_at(request, found, "jobs/record.html", context)


@login_required
@require_GET
def checklist_sheet(request: SignedIn, job_id: UUID) -> HttpResponse:
    """The job's checklist as a PDF, for the shop's own people."""
    found = found_or_404(job_read, request.user, job_id)
    revision = latest_revision(found)
    site_only(request.user, found.shop)
    if revision is None:
        raise Http404
    return download(job_checklist_pdf(found, revision), f"checklist-{found.id}.pdf")
