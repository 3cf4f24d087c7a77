"""The walk of a crew with a phone: a page that works without signal, and what it sends later."""

from datetime import datetime
from pathlib import Path
from typing import Annotated, Any
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError as Refusal
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import render
from django.utils import timezone
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
from inspections.models import Given, Outcome
from inspections.papers.report.as_text import CAUTION
from inspections.selectors import (
    item_read,
    job_read,
    jobs_with_areas,
)
from inspections.services.photographs import photograph_add
from inspections.services.site_changes import site_change_record
from inspections.services.walks import Walked, walk_record
from jobs.access import SITE_ROLES
from jobs.models import Job, Person
from jobs.moments import PHONE_CLOCK
from jobs.requests import SignedIn
from pages.jobs.page_messages import (
    BAD_IDS,
    NO_TEXT_AT_ALL,
    OFFICE_DECIDES,
    OTHER_ITEM,
    PLACE_RANGE,
    SIGNED_OUT,
)
from pages.jobs.walk_data import walk_data
from pages.responses import found_or_404, render_at, site_only


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
    words = words_of_scripts("walk") | words_of_scripts("fix")
    context = {"job": job, "caution": CAUTION, "words": words, "imperial": imperial_units()}
    return render_at(request, job, "jobs/walk.html", context)


@require_GET
@never_cache
def data(request: HttpRequest, job_id: UUID) -> JsonResponse:
    """The rooms of a job in walking order with their items, as they stand now."""
    if not request.user.is_authenticated:
        return signed_out()
    job = _job(request.user, job_id)
    return JsonResponse(walk_data(request.user, job) | {"csrf": get_token(request)})


@require_POST
def sync(request: HttpRequest, job_id: UUID) -> JsonResponse:
    """Keep the ticks that a phone sends; what became of each."""
    if not request.user.is_authenticated:
        return signed_out()
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
        return signed_out()
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
        return signed_out()
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


def signed_out() -> JsonResponse:
    """What a phone is answered whose session has ended."""
    return JsonResponse({"says": say(SIGNED_OUT())}, status=401)


@require_GET
def worker(_request: HttpRequest) -> HttpResponse:
    """The service worker, served from where its scope begins."""
    text = WORKER.read_text("utf-8")
    kind = "text/javascript; charset=utf-8"
    return HttpResponse(text, content_type=kind, headers={"Cache-Control": "no-cache"})
