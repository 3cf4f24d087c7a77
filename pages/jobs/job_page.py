"""The page of a job, its record and its checklist on paper."""

from collections.abc import Sequence
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET

from config.downloads import download
from config.languages import imperial_units
from config.languages.script import words_of_scripts
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
    Observation,
)
from inspections.overview.hookup_authorization import permit_trouble
from inspections.overview.inspections import earliest_inspection_of
from inspections.overview.progress import job_breaches, job_moves
from inspections.papers.documents import job_checklist_pdf
from inspections.papers.report.as_text import CAUTION
from inspections.selectors import (
    ChecklistLine,
    checklist,
    deficiencies_of,
    inspections_of,
    job_read,
    latest_revision,
    live_cover_releases,
    room_names,
    site_changes_open,
    with_areas,
)
from inspections.standing.authority_messages import CANADA
from inspections.standing.stages import Milestone, Stage
from jobs.access import SITE_ROLES, role_in
from jobs.models import Job, Role
from jobs.planning.working_days import NeverOpen
from jobs.requests import SignedIn
from pages.jobs.areas import by_area
from pages.jobs.filters import state_links, topic_links
from pages.jobs.layout import cover_lines, inspection_lines
from pages.jobs.next_step import next_act
from pages.jobs.plan import plan_of
from pages.jobs.room_rows import LinesWanted, lines_wanted, rooms_of
from pages.open.cover_links import links_of
from pages.responses import found_or_404, render_at, site_only

AFTER_COVER = (Stage.HOOKUP, Stage.FINISH, Stage.FINAL)


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
    inside = _inside(with_areas(found), revision, request, role)
    template = "jobs/job.html"
    if request.headers.get("HX-Target") == "lines":
        template = "jobs/parts/lines.html"
    return render_at(request, found, template, context | inside)


@login_required
@require_GET
def job_room(request: SignedIn, job_id: UUID) -> HttpResponse:
    """The lines of one room that the address asks for: by themselves, or to be put on a page."""
    found = found_or_404(job_read, request.user, job_id)
    site_only(request.user, found.shop)
    wanted = lines_wanted(request.GET)
    if not wanted.room:
        return redirect("job", found.id)
    lines = checklist(found, stage=Item.Stage(wanted.stage or Item.Stage.ROUGH_IN))
    rooms = rooms_of(found, room_names(latest_revision(found)), lines, wanted)
    here = []
    for line in lines:
        if str(line.item.finding["room"]) == wanted.room:
            here.append(line)
    rows = rooms.rows(here)
    if not rows:
        raise Http404
    context = {
        "job": found,
        "revision": latest_revision(found),
        "rows": rows,
        "wanted": wanted,
        "caution": CAUTION,
        "back": f"{reverse('job', args=[found.id])}?{wanted.address()}",
    }
    template = "jobs/room.html"
    if "HX-Request" in request.headers:
        template = "jobs/parts/rooms_lines.html"
    return render_at(request, found, template, context)


def _inside(
    job: Job, revision: HouseRevision | None, request: SignedIn, role: Role | None
) -> dict[str, object]:
    """What the shop's own people see of a job besides."""
    try:
        earliest = earliest_inspection_of(job)
    except NeverOpen:
        earliest = None
    return _checklist(job, revision, request, role) | {
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
        "imperial": imperial_units(),
        "words": words_of_scripts("job") | words_of_scripts("fix"),
    }


def _checklist(
    job: Job, revision: HouseRevision | None, request: SignedIn, role: Role | None
) -> dict[str, object]:
    """The next step, the counts, and the rooms of the stage that the job is in and of the other."""
    rough_in = checklist(job, stage=Item.Stage.ROUGH_IN)
    finish = checklist(job, stage=Item.Stage.FINISH)
    after_cover = job.standing.stage in AFTER_COVER
    lines = rough_in
    if after_cover:
        lines = finish
    names, wanted = room_names(revision), lines_wanted(request.GET)
    of_rough_in = rooms_of(job, names, rough_in, wanted.at(Item.Stage.ROUGH_IN, not after_cover))
    of_finish = rooms_of(job, names, finish, wanted.at(Item.Stage.FINISH, after_cover))
    numbered = of_rough_in.numbered(rough_in)
    if after_cover:
        numbered = of_finish.numbered(finish)
    steps = job_moves(job)
    shown: dict[str, object] = {
        "wanted": wanted,
        "next": next_act(job, role, steps, numbered, names),
        "moves": steps,
        "counts": state_links(lines, wanted),
        "topics": topic_links(lines, wanted),
        "sections": by_area(job, rough_in, of_rough_in, live_cover_releases(job)),
        "finish": of_finish.rows(finish),
        "after_cover": after_cover,
        "undoable": undoable(request.user, _opened([*rough_in, *finish], wanted)),
    }
    return shown | plan_of(revision, request, lines, numbered)


def _opened(
    lines: Sequence[ChecklistLine], wanted: LinesWanted
) -> list[tuple[Item, Observation | None]]:
    """The line that the address opens, with the last look at it."""
    found: list[tuple[Item, Observation | None]] = []
    for each in lines:
        if str(each.item.id) == wanted.item:
            found.append((each.item, each.latest))
    return found


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
