"""Facts of a house corrected where one stands: what can be, and one change of it, as JSON."""

from typing import Any
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST
from pydantic import BaseModel, ConfigDict, Field

from inspections.models import FactCorrection
from inspections.overview.correctable import correctable_by
from inspections.selectors import fact_correction_read, job_read
from inspections.services.fact_corrections import (
    CorrectedFact,
    fact_correct,
    fact_correction_undo,
)
from jobs.models import Job, Person
from jobs.requests import SignedIn
from pages.jobs.sent_corrections import from_phone, sent_answer
from pages.jobs.walk import PhoneMoment, Text
from pages.responses import found_or_404, site_only


class SentFact(BaseModel):
    """One fact, as it was shown and as it is."""

    model_config = ConfigDict(extra="forbid")
    path: list[str | int] = Field(min_length=1, max_length=8)
    was: Any
    now: Any
    typed: Text = Field("", max_length=40)


class Correction(BaseModel):
    """What a page or a phone sends: changes of one revision, or the correction that it undoes."""

    model_config = ConfigDict(extra="forbid")
    id: UUID
    base: int = Field(0, ge=0, le=2**31 - 1)
    changes: list[SentFact] = Field([], max_length=200)
    note: Text = Field("", max_length=500)
    made_at: PhoneMoment = Field(default_factory=timezone.now)
    undoes: UUID | None = None
    withdraws: bool = False
    """Whether a cover release may be withdrawn; without that it is asked first."""


@login_required
@require_GET
def fixes(request: SignedIn, job_id: UUID) -> JsonResponse:
    """The lines that can be closed by a fact, and what is missing."""
    job = found_or_404(job_read, request.user, job_id)
    site_only(request.user, job.shop)
    return JsonResponse(correctable_by(request.user, job))


@login_required
@require_POST
def correct(request: SignedIn, job_id: UUID) -> JsonResponse:
    """Record what is so on site as the next revision, or undo that; once by its id."""
    status, answer = sent_answer(request.user, request.body, job_id, Correction, _made)
    return JsonResponse(answer, status=status)


@require_POST
def walk_fix(request: HttpRequest, job_id: UUID) -> JsonResponse:
    """The same from the queue of a phone."""
    return from_phone(request, job_id, Correction, _made)


def _made(actor: Person, job: Job, sent: Correction) -> FactCorrection:
    if sent.undoes is not None:
        undone = found_or_404(fact_correction_read, actor, sent.undoes)
        if undone.job_id != job.id:
            raise Http404
        return fact_correction_undo(actor, correction=undone, correction_id=sent.id)
    changes = []
    for each in sent.changes:
        changes.append(CorrectedFact(tuple(each.path), each.was, each.now, each.typed))
    return fact_correct(
        actor,
        job=job,
        correction_id=sent.id,
        base=sent.base,
        changes=changes,
        note=sent.note,
        made_at=sent.made_at,
        withdraws=sent.withdraws,
    )
