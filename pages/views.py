"""The pages. They ask selectors, call services and show what comes back."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db import connection
from django.db.models import Q
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from config.downloads import download
from inspections.conclusions.signs import area_sign
from inspections.conclusions.undo import undoable
from inspections.houses.amendments import checked_otherwise
from inspections.houses.circuits import circuits_of
from inspections.models import CONCEALING, INSULATIONS, Answer, Item, Kind, Outcome
from inspections.overview.hookup_authorization import permit_trouble
from inspections.overview.progress import job_breaches, job_moves
from inspections.overview.visits import earliest_visit_of
from inspections.papers.documents import job_checklist_pdf
from inspections.papers.report import CAUTION
from inspections.selectors import (
    area_read,
    areas_ever_cleared,
    checklist,
    clearance_read,
    corrections_open,
    deficiencies_of,
    item_read,
    job_read,
    jobs_with_areas,
    latest_revision,
    line_of,
    live_clearances,
    observation_read,
    photograph_read,
    visits_of,
    with_areas,
    withdrawals_answered,
    withdrawals_unanswered,
)
from inspections.services import (
    WouldWithdraw,
    clearance_issue,
    clearance_withdraw,
    item_observe,
    observation_undo,
    photograph_add,
    withdrawal_answer,
)
from inspections.standing.age import Sign
from inspections.standing.stages import Milestone, Stage
from jobs.access import SITE_ROLES, role_in
from jobs.models import Job, Person, Role
from jobs.moments import moment_of_form
from jobs.planning.working_days import NeverOpen
from notifications.selectors import unseen_notices
from notifications.services import notice_see
from pages.asking import (
    NO_PHOTOGRAPH,
    attempt,
    found_or_404,
    measure_of,
    render_at,
    site_only,
)
from pages.layout import by_area, by_room, cover_lines, visit_lines
from pages.links import links_of
from pages.refused import refusal_of, refuse

JOBS = 60
"""How many a page of the list has."""


@login_required
@require_GET
def jobs(request: HttpRequest) -> HttpResponse:
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
    return render(request, "jobs.html", context)


@login_required
@require_POST
def seen(request: HttpRequest, notice_id: UUID) -> HttpResponse:
    """The reader has seen a notice."""
    notice_see(request.user, notice_id=notice_id)
    return redirect("jobs")


@login_required
@require_GET
def job(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """One job. A contractor sees its areas; the shop's own people its checklist too."""
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
        "clearances": live_clearances(found),
        "insulation": found.insulation_choices.last(),
        "insulations": INSULATIONS,
    }
    if role not in SITE_ROLES:
        context["covers"] = cover_lines(found)
        part = "HX-Request" in request.headers
        return render_at(request, found, "parts/covers.html" if part else "cover.html", context)
    inside = _inside(with_areas(found), request.user)
    return render_at(request, found, "job.html", context | inside)


def _inside(job: Job, person: Person) -> dict[str, object]:
    """What the shop's own people see of a job besides."""
    try:
        earliest = earliest_visit_of(job)
    except NeverOpen:
        earliest = None
    lines = checklist(job, stage=Item.Stage.ROUGH_IN)
    finish = checklist(job, stage=Item.Stage.FINISH)
    waiting, ever = withdrawals_unanswered(job), areas_ever_cleared(job)
    return {
        "sections": by_area(
            job, lines, live_clearances(job), waiting, ever, withdrawals_answered(job)
        ),
        "finish": by_room(finish),
        "undoable": undoable(person, [(each.item, each.latest) for each in [*lines, *finish]]),
        "moves": job_moves(job),
        "breaches": job_breaches(job),
        "permit_says": permit_trouble(job),
        "visits": visit_lines(job, visits_of(job)),
        "earliest": earliest,
        "otherwise": checked_otherwise(job),
        "deficiencies": deficiencies_of(job),
        "kinds": Kind.choices,
        "milestones": list(Milestone),
        "answers": Answer.choices,
        "concealing": CONCEALING,
        "links": links_of(job),
        "corrections": corrections_open(job),
    }


@login_required
@require_GET
def record(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """Everything that was recorded of a job, the latest first."""
    found = found_or_404(job_read, request.user, job_id)
    site_only(request.user, found.shop)
    entries = found.record.select_related("by").order_by("-number")
    context = {"job": found, "entries": entries, "revision": latest_revision(found)}
    return render_at(request, found, "record.html", context)


@login_required
@require_GET
def checklist_sheet(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """The job's checklist as a PDF, for the shop's own people."""
    found = found_or_404(job_read, request.user, job_id)
    revision = latest_revision(found)
    site_only(request.user, found.shop)
    if revision is None:
        raise Http404
    return download(job_checklist_pdf(found, revision), f"checklist-{found.id}.pdf")


@login_required
@require_GET
def item(request: HttpRequest, item_id: UUID) -> HttpResponse:
    """One item with its working and its forms: a page of its own, or the line of another page."""
    found = found_or_404(item_read, request.user, item_id)
    site_only(request.user, found.job.shop)
    part = "HX-Request" in request.headers
    template = "item.html"
    if part:
        template = "parts/line.html"
    return render_at(request, found.job, template, _of_item(found, request.user))


def _of_item(found: Item, person: Person) -> dict[str, object]:
    """What the page of one item shows."""
    line = line_of(found)
    holding = found.stage == Item.Stage.ROUGH_IN
    return {
        "job": found.job,
        "line": line,
        "revision": latest_revision(found.job),
        "caution": CAUTION,
        "open": True,
        "released": holding and area_sign(found.area) is not Sign.HOLD,
        "undoable": undoable(person, [(line.item, line.latest)]),
    }


@login_required
@require_POST
def observe(request: HttpRequest, item_id: UUID) -> HttpResponse:
    """Record a tick or a fail; one that withdraws a release, once that is confirmed."""
    item = found_or_404(item_read, request.user, item_id)
    site_only(request.user, item.job.shop)
    outcome = request.POST.get("outcome", "")
    if outcome not in Outcome.values:
        refuse(request, "Say pass or fail.")
        return _after(request, item)
    typed = {}
    for name in ("note", "measured_mm", "known"):
        typed[name] = request.POST.get(name, "")
    given = {
        "outcome": Outcome(outcome),
        "note": typed["note"][:500],
        "fingerprint": request.POST.get("shown", ""),
        "measured_mm": measure_of(typed["measured_mm"]),
        "known_at": moment_of_form(typed["known"]),
    }
    confirmed = "withdraws" in request.POST
    try:
        attempt(request, item_observe, item=item, withdraws=confirmed, **given)
    except WouldWithdraw as consequence:
        asked = given | typed | {"says": str(consequence)}
        context = _of_item(item, request.user) | {"asked": asked}
        response = render_at(request, item.job, "item.html", context)
        response.status_code = 409
        return response
    return _after(request, item)


def _after(request: HttpRequest, item: Item) -> HttpResponse:
    """The item in its job; by itself where something was refused, since a job folds what passed."""
    if refusal_of(request):
        return redirect("item", item.id)
    return redirect(f"/jobs/{item.job_id}/#item-{item.id}")


@login_required
@require_POST
def undo(request: HttpRequest, observation_id: UUID) -> HttpResponse:
    """Say that a fault was recorded by mistake."""
    seen = found_or_404(observation_read, request.user, observation_id)
    attempt(request, observation_undo, observation=seen)
    return redirect(f"/jobs/{seen.item.job_id}/#item-{seen.item_id}")


@login_required
@require_POST
def photograph(request: HttpRequest, item_id: UUID) -> HttpResponse:
    """Keep a photograph of an item."""
    item = found_or_404(item_read, request.user, item_id)
    site_only(request.user, item.job.shop)
    if upload := request.FILES.get("photograph"):
        attempt(request, photograph_add, item=item, upload=upload)
    else:
        refuse(request, NO_PHOTOGRAPH, at="photograph")
    return _after(request, item)


@login_required
@require_GET
def photograph_file(request: HttpRequest, photograph_id: UUID) -> FileResponse:
    """A photograph, to the shop's own people."""
    found = found_or_404(photograph_read, request.user, photograph_id)
    site_only(request.user, found.item.job.shop)
    return FileResponse(found.file.open("rb"))


@login_required
@require_POST
def clear(request: HttpRequest, area_id: UUID) -> HttpResponse:
    """Clear an area on the authority's answer."""
    area = found_or_404(area_read, request.user, area_id)
    attempt(request, clearance_issue, area=area)
    return redirect("job", job_id=area.job_id)


@login_required
@require_POST
def withdraw(request: HttpRequest, area_id: UUID) -> HttpResponse:
    """Take a clearance back, with the reason."""
    area = found_or_404(area_read, request.user, area_id)
    because = request.POST.get("because", "")[:500]
    attempt(request, clearance_withdraw, area=area, because=because)
    return redirect("job", job_id=area.job_id)


@login_required
@require_POST
def answer_withdrawal(request: HttpRequest, clearance_id: UUID) -> HttpResponse:
    """Record what was done about the reason of a withdrawal."""
    clearance = found_or_404(clearance_read, request.user, clearance_id)
    changed = {"yes": True, "no": False}.get(request.POST.get("inspect_again", ""))
    says = request.POST.get("says", "")[:500]
    attempt(request, withdrawal_answer, clearance=clearance, says=says, inspect_again=changed)
    return redirect("job", job_id=clearance.area.job_id)


@require_GET
def healthy(_request: HttpRequest) -> HttpResponse:
    """Whether the site answers and reaches its database."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return HttpResponse("ok", content_type="text/plain; charset=utf-8")
