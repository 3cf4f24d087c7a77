"""The walk of a crew with a phone: a page that works without signal, and what it sends later."""

import json
from collections.abc import Collection
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError as Refusal
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.text import capfirst
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_POST
from pydantic import (
    AfterValidator,
    AwareDatetime,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
)

from config.languages import imperial_units, said_later, say
from config.languages.script import words_of_scripts
from config.messages.message import Length, Rounding
from config.middleware import NO_TEXT
from inspections.conclusions.not_applicable import why_never_na
from inspections.conclusions.signs import area_sign
from inspections.conclusions.undo import undoable
from inspections.models import Given, HouseRevision, Item, Observation, Outcome
from inspections.overview.cover import withdrawn_moments
from inspections.papers.report.as_text import CAUTION
from inspections.selectors import (
    ChecklistLine,
    checklist,
    item_read,
    job_read,
    jobs_with_areas,
    latest_revision,
    room_names,
)
from inspections.services.photographs import photograph_add
from inspections.services.site_changes import site_change_record
from inspections.services.walks import Walked, walk_record
from inspections.standing.age import Sign
from inspections.standing.cover_layers import withdrawal_says, withdrawn_says
from inspections.standing.holds import Standing
from jobs.access import SITE_ROLES
from jobs.models import Area, Job, Person
from jobs.moments import PHONE_CLOCK
from jobs.requests import SignedIn
from pages.jobs.layout import by_room
from pages.jobs.page_messages import (
    BAD_IDS,
    NO_TEXT_AT_ALL,
    OFFICE_DECIDES,
    OTHER_ITEM,
    PLACE_RANGE,
    SIGNED_OUT,
)
from pages.responses import found_or_404, render_at, site_only
from pages.templatetags.shown import measured_words


def _by_a_phone(moment: datetime) -> datetime:
    if fault := PHONE_CLOCK.fault(moment, timezone.now()):
        raise ValueError(said_later(fault))
    return moment


PhoneMoment = Annotated[AwareDatetime, AfterValidator(_by_a_phone)]
"""A moment by the clock of a phone, in what it sends."""
WORKER = Path(__file__).resolve().parents[2] / "static" / "js" / "walk" / "worker.js"


FARTHEST_MM = 1_000_000


def _text(given: str) -> str:
    if NO_TEXT in given:
        raise ValueError(said_later(NO_TEXT_AT_ALL()))
    return given


Text = Annotated[str, AfterValidator(_text)]
"""What somebody typed on a phone."""


OF_BEFORE = {"pass": Outcome.OK, "fail": Outcome.FIX, "absent": Outcome.CANT_SEE}
"""Names of outcomes in what a phone loaded before these had the names of today."""


def _by_todays_name(given: object) -> object:
    if isinstance(given, str):
        return OF_BEFORE.get(given, given)
    return given


PhoneOutcome = Annotated[Outcome, BeforeValidator(_by_todays_name)]
"""What somebody saw, by a name of today or of before."""


class Tick(BaseModel):
    """One tick as it comes."""

    model_config = ConfigDict(extra="forbid")
    id: UUID
    item: UUID
    outcome: PhoneOutcome
    fingerprint: str = Field(pattern="^[0-9a-f]{16}$")
    made_at: PhoneMoment
    known_at: PhoneMoment
    note: Text = Field("", max_length=500)
    measured_mm: float | None = None
    """Judged tick by tick: one that cannot be keeps none of the others from coming in."""
    measured_typed: Text = Field("", max_length=500)
    """The same as it was typed, which a page that was loaded before does not send."""
    given: Given = Given.EACH
    """`room` where one tap gave it to all that is as drawn in a room."""


class SyncBody(BaseModel):
    """What a phone sends in one go."""

    model_config = ConfigDict(extra="forbid")
    phone_now: PhoneMoment
    ticks: list[Tick] = Field(max_length=500)


class Elsewhere(BaseModel):
    """Where a box was found to stand."""

    model_config = ConfigDict(extra="forbid")
    id: UUID
    box: Text = Field(max_length=40)
    at_mm: float = Field(ge=0, le=FARTHEST_MM, allow_inf_nan=False)
    height_mm: float | None = Field(None, ge=0, le=FARTHEST_MM, allow_inf_nan=False)
    note: Text = Field("", max_length=500)
    made_at: PhoneMoment


@login_required
@require_GET
@never_cache
def walks(request: SignedIn) -> HttpResponse:
    """The jobs that the reader can walk."""
    on_site = request.user.memberships.filter(role__in=SITE_ROLES).values("shop")
    jobs = jobs_with_areas(request.user).filter(shop__in=on_site)
    jobs = jobs.exclude(permit__closed_on__isnull=False)
    return render(request, "jobs/walks.html", {"jobs": jobs})


@login_required
@require_GET
@never_cache
def walk_page(request: SignedIn, job_id: UUID) -> HttpResponse:
    """The page that a phone keeps; what it shows comes from `data`, or from the phone."""
    job = _job(request.user, job_id)
    context = {"job": job, "caution": CAUTION, "words": words_of_scripts("walk")}
    context["imperial"] = imperial_units()
    return render_at(request, job, "jobs/walk.html", context)


@require_GET
@never_cache
def data(request: HttpRequest, job_id: UUID) -> JsonResponse:
    """The rooms of a job in walking order with their items, as they stand now."""
    if not request.user.is_authenticated:
        return _signed_out()
    job, as_of = _job(request.user, job_id), timezone.now()
    lines = checklist(job, stage=Item.Stage.ROUGH_IN)
    areas = {area.id: area for area in job.areas.all()}
    revision = latest_revision(job)
    places = _places(revision)
    withdrawn = withdrawn_moments(job)
    pairs = []
    for line in lines:
        pairs.append((line.item, line.latest))
    slips = undoable(request.user, pairs)
    rooms = []
    for room in by_room(lines, room_names(revision), job.shop.photo_rules):
        every = [*room.to_do, *room.as_drawn, *room.passed]
        area = areas[every[0].item.area_id]
        withdraws = ""
        if area_sign(area) is not Sign.HOLD:
            withdraws = say(withdrawal_says([area.name]))
        items = []
        for line in every:
            follows = {
                "as_drawn": line in room.as_drawn,
                "withdraws": withdraws,
                "release": _release(line, area, withdrawn.get(area.id)),
                "undo": _undo(line, slips),
            }
            items.append(_item(line, places, job.shop.photo_rules) | follows)
        rooms.append({"name": room.name, "area": area.name, "items": items})
    found = {
        "as_of": as_of.isoformat(),
        "csrf": get_token(request),
        "person": str(request.user.id),
        "job": {"id": str(job.id), "name": job.name, "address": job.address},
        "revision": revision.number if revision else None,
        "rooms": rooms,
    }
    return JsonResponse(found)


def _release(line: ChecklistLine, area: Area, withdrawn_at: datetime | None) -> str:
    """What the look of a line did to the release of its area, and what that waits for."""
    latest = line.latest
    if withdrawn_at is None or latest is None or latest.recorded_at < withdrawn_at:
        return ""
    return say(withdrawn_says(area.name, passed=line.standing is Standing.OK))


def _undo(line: ChecklistLine, slips: set[UUID]) -> str:
    """Where the reader can undo the last look of a line; empty where they cannot."""
    if line.latest is None or line.latest.id not in slips:
        return ""
    return reverse("undo", args=[line.latest.id])


def _places(revision: HouseRevision | None) -> dict[str, dict[str, Any]]:
    """Where the house says each box on a wall stands."""
    boxes = []
    if revision:
        boxes = json.loads(revision.house).get("boxes", [])
    places: dict[str, dict[str, Any]] = {}
    for box in boxes:
        if box["place"]["surface"] == "wall":
            places[box["id"]] = {"id": box["id"], **box["place"]}
    return places


def _item(
    line: ChecklistLine, places: dict[str, dict[str, Any]], photo_rules: Collection[str]
) -> dict[str, Any]:
    item, finding = line.item, line.item.finding
    names = ("title", "where", "says", "figure", "limit", "remedy")
    contest = []
    for each in line.contest:
        contest.append(_seen(each))
    by_name = {}
    for name in names:
        by_name[name] = say(finding[name])
    working = []
    for step in finding["working"]:
        working.append(say(step))
    return {
        "id": str(item.id),
        "verdict": item.verdict,
        "fingerprint": item.fingerprint,
        "standing": line.standing.value,
        "latest": _seen(line.latest) if line.latest and not line.changed_since else None,
        "contest": contest,
        "known_at": line.known_at.isoformat(),
        "measure": _measure(item),
        "photographs": len(item.photographs.all()),
        **by_name,
        "working": working,
        "section": finding["section"],
        "edition": finding["edition"],
        "known": finding["known"],
        "box": places.get(item.subject),
        "na": why_never_na(item, photo_rules) is None,
    }


def _measure(item: Item) -> dict[str, Any] | None:
    """What the phone holds a tape against before it keeps a tick."""
    measure = item.measure
    if measure is None:
        return None
    words = {"what": capfirst(say(measure.name)), "limit": say(measure.limit)}
    return words | {"min_mm": measure.min_mm, "max_mm": measure.max_mm}


def _seen(observation: Observation) -> dict[str, Any]:
    return {
        "outcome": observation.outcome,
        "by": str(observation.seen_by),
        "at": observation.seen_at.isoformat(),
        "note": observation.note,
        "measured_mm": observation.measured_mm,
        "measured": say(measured_words(observation)),
    }


@require_POST
def sync(request: HttpRequest, job_id: UUID) -> JsonResponse:
    """Keep the ticks that a phone sends; what became of each."""
    if not request.user.is_authenticated:
        return _signed_out()
    job = _job(request.user, job_id)
    try:
        sent = SyncBody.model_validate_json(request.body)
    except ValidationError as fault:
        faults = []
        for each in fault.errors():
            faults.append({"at": "/".join(map(str, each["loc"])), "says": fault_says(each)})
        return JsonResponse({"faults": faults}, status=400)
    ticks = []
    for tick in sent.ticks:
        ticks.append(Walked(**tick.model_dump()))
    try:
        taken = walk_record(
            request.user, job=job, ticks=ticks, phone_now=sent.phone_now, of_the_walk=True
        )
    except Refusal as refusal:
        faults = []
        for name, said in refusal.message_dict.items():
            faults.append({"at": name, "says": " ".join(said)})
        return JsonResponse({"faults": faults}, status=400)
    answers = []
    for each in taken:
        answers.append({"id": str(each.id), "state": each.state, "says": say(each.says)})
    return JsonResponse({"taken": answers})


@require_POST
def walk_site_change(request: HttpRequest, job_id: UUID) -> JsonResponse:
    """Keep where a box was found to stand; it becomes a revision when the office accepts it."""
    if not request.user.is_authenticated:
        return _signed_out()
    job = _job(request.user, job_id)
    try:
        sent = Elsewhere.model_validate_json(request.body)
    except ValidationError as fault:
        return JsonResponse({"state": "refused", "says": fault_says(fault.errors()[0])}, status=400)
    given = sent.model_dump(exclude={"id"})
    try:
        site_change_record(request.user, job=job, site_change_id=sent.id, **given)
    except Refusal as refusal:
        return JsonResponse({"state": "refused", "says": say(" ".join(refusal.messages))})
    return JsonResponse({"state": "kept", "says": say(OFFICE_DECIDES())})


@require_POST
def keep_walk_photograph(request: HttpRequest, job_id: UUID) -> JsonResponse:
    """Keep one photograph that a phone sends."""
    if not request.user.is_authenticated:
        return _signed_out()
    _job(request.user, job_id)
    given = request.POST
    try:
        identity, item_id = UUID(given.get("id", "")), UUID(given.get("item", ""))
    except ValueError:
        return JsonResponse({"state": "refused", "says": say(BAD_IDS())}, status=400)
    item = found_or_404(item_read, request.user, item_id)
    upload = request.FILES.get("file")
    if item.job_id != job_id or upload is None:
        return JsonResponse({"state": "refused", "says": say(OTHER_ITEM())}, status=400)
    fingerprint = given.get("fingerprint", "")[:16]
    try:
        photograph_add(
            request.user, item=item, upload=upload, photograph_id=identity, fingerprint=fingerprint
        )
    except Refusal as refusal:
        return JsonResponse({"state": "refused", "says": say(" ".join(refusal.messages))})
    return JsonResponse({"state": "kept", "says": ""})


def fault_says(fault: Any) -> str:
    """What is wrong with a value of a phone; what no person typed, as the library says it."""
    if fault["loc"] and fault["loc"][0] in ("at_mm", "height_mm"):
        return say(PLACE_RANGE(most=Length(FARTHEST_MM, Rounding.DOWN)))
    return str(fault.get("ctx", {}).get("error", fault["msg"]))


def _job(person: Person, job_id: UUID) -> Job:
    job = found_or_404(job_read, person, job_id)
    site_only(person, job.shop)
    return job


def _signed_out() -> JsonResponse:
    return JsonResponse({"says": say(SIGNED_OUT())}, status=401)


@require_GET
def worker(_request: HttpRequest) -> HttpResponse:
    """The service worker, served from where its scope begins."""
    text = WORKER.read_text("utf-8")
    kind = "text/javascript; charset=utf-8"
    return HttpResponse(text, content_type=kind, headers={"Cache-Control": "no-cache"})
