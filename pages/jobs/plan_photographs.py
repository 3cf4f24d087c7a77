"""The photographs of a job on the plan of a storey, each where it was taken."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import JsonResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.views.decorators.http import require_GET

from config.languages import say
from inspections.drawing.geometry import Point
from inspections.drawing.marks import Mark, MarkKind
from inspections.drawing.storey_drawn import StoreyDrawn
from inspections.drawing.taken import taken_at
from inspections.models import HouseRevision, Item, Photograph
from inspections.selectors import house_with, job_read, latest_revision
from jobs.models import Job
from jobs.requests import SignedIn
from pages.jobs.plans_kept import marked
from pages.responses import found_or_404, site_only


@login_required
@require_GET
def job_photographs(request: SignedIn, job_id: UUID) -> JsonResponse:
    """The photographs of a storey by their place, the latest of a place first."""
    job = found_or_404(job_read, request.user, job_id)
    site_only(request.user, job.shop)
    revision = latest_revision(job)
    places: list[dict[str, object]] = []
    if revision is not None:
        storey = request.GET.get("storey", "")
        with timezone.override(job.time_zone):
            for (x, y), photographs in _by_place(job, revision, storey).items():
                shown = [_shown(each) for each in photographs]
                places.append({"x": round(x), "y": round(y), "photographs": shown})
    return JsonResponse(places, safe=False)


def _by_place(job: Job, revision: HouseRevision, storey: str) -> dict[Point, list[Photograph]]:
    insulation = job.insulation_choices.last()
    known = marked(revision, insulation)
    found: dict[Point, list[Photograph]] = {}
    if storey not in {each.id for each in known.storeys}:
        return found
    house, _ = house_with(revision, insulation)
    drawn = StoreyDrawn(house, storey)
    taken = Photograph.objects.filter(item__job=job).select_related("item", "taken_by")
    for each in taken.order_by("-recorded_at", "-id"):
        at = taken_at(drawn, _mark(each.item, known.marks.get(_key(each.item))))
        if at is not None:
            found.setdefault(at, []).append(each)
    return found


def _key(item: Item) -> str:
    return f"{item.rule}:{item.subject}"


def _mark(item: Item, known: Mark | None) -> Mark:
    """Where the house of today has it; what that does not say any more is in its room."""
    return known or Mark(_key(item), str(item.finding["room"]), MarkKind.ROOM)


def _shown(photograph: Photograph) -> dict[str, str]:
    """Its file, and what it is of, by whom and when."""
    item = photograph.item
    when = date_format(timezone.localtime(photograph.recorded_at), "Y-m-d H:i")
    words = [say(item.finding["title"]), say(item.finding["where"])]
    return {
        "address": reverse("photograph-file", args=[photograph.id]),
        "words": ", ".join([*filter(None, words), str(photograph.taken_by), when]),
    }
