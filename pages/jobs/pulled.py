"""Circuits as they were pulled, from the queue of a phone."""

from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError as Refusal
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_POST
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from config.languages import say
from inspections.selectors import job_read
from inspections.services.consequences import WouldWithdraw
from inspections.services.fact_corrections import FactMoved, NotCorrected
from inspections.services.pulled_circuits import circuit_pulled
from pages.jobs.walk import PhoneMoment, Text, fault_says, signed_out
from pages.responses import found_or_404, site_only

LONGEST_RUN = 200


class Pulled(BaseModel):
    """The runs of a circuit: as the phone was shown them, and as they are."""

    model_config = ConfigDict(extra="forbid")
    id: UUID
    circuit: Text = Field(max_length=120)
    shown: list[tuple[Text, Text]] = Field(max_length=LONGEST_RUN)
    hops: list[tuple[Text, Text]] = Field(max_length=LONGEST_RUN)
    made_at: PhoneMoment = Field(default_factory=timezone.now)
    withdraws: bool = False


@require_POST
def walk_pulled(request: HttpRequest, job_id: UUID) -> JsonResponse:
    """Feed the boxes of a circuit as somebody pulled it; a refusal says why."""
    if not request.user.is_authenticated:
        return signed_out()
    job = found_or_404(job_read, request.user, job_id)
    site_only(request.user, job.shop)
    try:
        sent = Pulled.model_validate_json(request.body)
    except ValidationError as fault:
        return JsonResponse(_refused(fault_says(fault.errors()[0])), status=400)
    given = sent.model_dump(exclude={"id"})
    try:
        made = circuit_pulled(request.user, job=job, correction_id=sent.id, **given)
    except (WouldWithdraw, FactMoved, NotCorrected) as refused:
        return JsonResponse(_refused(say(refused.text)))
    except Refusal as refusal:
        return JsonResponse(_refused(" ".join(refusal.messages)))
    return JsonResponse({"state": "kept", "says": "", "id": made.id, "revision": made.revision})


def _refused(says: str) -> dict[str, Any]:
    return {"state": "refused", "says": says}
