"""A house drawn in the browser: the page, what is found as one draws, and what would finish it."""

import json
from collections.abc import Sequence
from typing import Any
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from config.languages import say
from config.languages.script import words_of_scripts
from config.messages.message import Length, Rounding
from inspections.building.reading import ModelRead, ModelUnreadable, read_model, refuse_too_large
from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.house.rooms import RoomKind
from inspections.checker.load import HouseFaults
from inspections.checker.rulebook import RulebookFault, rulebook_ids
from inspections.houses.trial import board_line, finished_json, house_finished, house_tried
from inspections.selectors import latest_revision, usual_rulebook
from jobs.models import Job
from jobs.requests import SignedIn
from pages.jobs.house_files import own_job_or_404
from pages.jobs.page_messages import (
    FIRST_STOREY,
    LEFT_OUT,
    NO_FILE,
    NOT_READ,
    STUDS_MISSING,
    STUDS_RANGE,
)
from pages.refusals import refuse
from pages.responses import render_at

SHOWN = 60
STUDS_MM = (200.0, 1300.0)


@login_required
@require_GET
def draw(request: SignedIn, job_id: UUID) -> HttpResponse:
    """The drawing board, with the latest revision on it or an empty sheet."""
    job = own_job_or_404(request, job_id)
    revision = latest_revision(job)
    return _board(request, job, json.loads(revision.house) if revision else _blank(job))


@login_required
@require_POST
def model(request: SignedIn, job_id: UUID) -> HttpResponse:
    """A building model laid on the board: its rooms to go on from, and what could not be read."""
    job = own_job_or_404(request, job_id)
    sent = request.FILES.get("model")
    if sent is None:
        refuse(request, say(NO_FILE()), at="model")
        return redirect("house-upload", job.id)
    try:
        refuse_too_large(sent.name or "", sent.size or 0)
        read = read_model(sent.name or "", sent.read())
    except ModelUnreadable as refused:
        refuse(request, refused.text, at="model")
        return redirect("house-upload", job.id)
    house = read.house | {"name": job.name, "rulebook": _blank(job)["rulebook"]}
    return _board(request, job, house, read)


def _board(
    request: HttpRequest, job: Job, house: dict[str, Any], read: ModelRead | None = None
) -> HttpResponse:
    revision = latest_revision(job)
    board = {
        "person": request.user.pk,
        "job": str(job.id),
        "base": revision.number if revision else 0,
        "house": house,
        "schema": House.model_json_schema()["$defs"],
        "lines": read.lines if read else [],
        "fresh": read is not None,
        "urls": {
            "look": reverse("draw-look", args=[job.id]),
            "finish": reverse("draw-finish", args=[job.id]),
        },
    }
    room_kinds = []
    for kind in RoomKind:
        room_kinds.append(kind.value)
    context = {
        "job": job,
        "revision": revision,
        "rulebooks": rulebook_ids(),
        "chosen": house.get("rulebook") or (revision.rulebook if revision else ""),
        "read": read,
        "room_kinds": room_kinds,
        "board": board,
        "words": words_of_scripts("draw"),
    }
    return render_at(request, job, "jobs/board.html", context)


@login_required
@require_POST
def look(request: SignedIn, job_id: UUID) -> HttpResponse:
    """What is found of a house as drawn: its plan with what is wanting in place, or its faults."""
    job = own_job_or_404(request, job_id)
    given = _given(request)
    if given is None:
        return _faults([NOT_READ()])
    try:
        tried = house_tried(job, _bytes(given), str(given.get("rulebook") or ""))
    except HouseFaults as refused:
        parts = []
        for fault in refused.faults:
            parts.append(fault.text)
        return _faults(parts)
    except RulebookFault as refused:
        return _faults([refused.text])
    wanting = sorted(tried.wanting, key=lambda f: f.verdict is not Verdict.NOT_TO_CODE)
    counts = {}
    for verdict in Verdict:
        counts[verdict.value] = tried.count(verdict)
    found = []
    for finding in wanting[:SHOWN]:
        found.append(board_line(finding))
    return JsonResponse(
        {
            "svg": tried.plan(str(given.get("storey", ""))),
            "counts": counts,
            "wanting": found,
            "more": max(0, len(wanting) - SHOWN),
        }
    )


@login_required
@require_POST
def board_finish(request: SignedIn, job_id: UUID) -> HttpResponse:
    """What would finish a house as drawn, each with its proof, and the house with what was kept."""
    job = own_job_or_404(request, job_id)
    given = _given(request)
    if given is None:
        return _faults([NOT_READ()])
    studs = given.get("studs_mm")
    if not isinstance(studs, int | float):
        return _faults([STUDS_MISSING()])
    least, most = STUDS_MM
    if not least <= studs <= most:
        limits = {"least": Length(least, Rounding.UP), "most": Length(most, Rounding.DOWN)}
        return _faults([STUDS_RANGE(**limits)])
    unwanted = given.get("left_out", [])
    if not isinstance(unwanted, list):
        return _faults([LEFT_OUT()])
    left_out = []
    for key in unwanted:
        left_out.append(str(key))
    try:
        rulebook = str(given.get("rulebook") or "")
        done = house_finished(job, _bytes(given), rulebook, left_out, float(studs))
    except HouseFaults as refused:
        parts = []
        for fault in refused.faults:
            parts.append(fault.text)
        return _faults(parts)
    except RulebookFault as refused:
        return _faults([refused.text])
    return JsonResponse(finished_json(done))


def _blank(job: Job) -> dict[str, Any]:
    """A house of one storey and one area, with nothing in it."""
    first = say(FIRST_STOREY())
    return {
        "format": "studbay-house-1",
        "name": job.name,
        "rulebook": usual_rulebook(job.shop),
        "storeys": [{"id": "main", "name": first}],
        "areas": [{"id": "main", "name": first}],
        "rooms": [],
    }


def _given(request: HttpRequest) -> dict[str, Any] | None:
    try:
        given = json.loads(request.body)
    except (ValueError, RecursionError):  # no JSON, or nested beyond reading: both are told
        return None
    if isinstance(given, dict):
        return given
    return None


def _bytes(given: dict[str, Any]) -> bytes:
    return json.dumps(given.get("house")).encode()


def _faults(faults: Sequence[object]) -> JsonResponse:
    found = []
    for fault in faults[:SHOWN]:
        found.append(say(fault))
    return JsonResponse({"faults": found}, status=422)
