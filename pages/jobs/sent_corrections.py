"""The answer to a correction of a house that a page or the queue of a phone sends."""

from collections.abc import Callable
from typing import Any, TypeVar
from uuid import UUID

from django.core.exceptions import ValidationError as Refusal
from django.http import HttpRequest, JsonResponse
from pydantic import BaseModel, ValidationError

from config.languages import say
from inspections.models import FactCorrection
from inspections.selectors import job_read
from inspections.services.consequences import WouldWithdraw
from inspections.services.fact_corrections import FactMoved, NotCorrected
from jobs.models import Job, Person
from pages.jobs.walk import fault_says, signed_out
from pages.responses import found_or_404, site_only

Sent = TypeVar("Sent", bound=BaseModel)
Record = Callable[[Person, Job, Sent], FactCorrection]
"""What records what was sent; its refusals are said."""


def sent_answer(
    actor: Person, body: bytes, job_id: UUID, model: type[Sent], record: Record[Sent]
) -> tuple[int, dict[str, Any]]:
    """The status and the answer: kept, refused with why, or what is to be confirmed first."""
    job = found_or_404(job_read, actor, job_id)
    site_only(actor, job.shop)
    try:
        sent = model.model_validate_json(body)
    except ValidationError as fault:
        return 400, _says("refused", fault_says(fault.errors()[0]))
    try:
        made = record(actor, job, sent)
    except WouldWithdraw as consequence:
        return 409, _says("confirm", say(consequence.text))
    except (FactMoved, NotCorrected) as refused:
        return 409, _says("refused", say(refused.text))
    except Refusal as refusal:
        return 422, _says("refused", " ".join(refusal.messages))
    return 200, _says("kept", "") | {"id": made.id, "revision": made.revision}


def from_phone(
    request: HttpRequest, job_id: UUID, model: type[Sent], record: Record[Sent]
) -> JsonResponse:
    """The same for the queue of a phone, which keeps what is refused with its reason.

    What would withdraw a release that the phone did not know of is refused in these words.
    """
    if not request.user.is_authenticated:
        return signed_out()
    status, answer = sent_answer(request.user, request.body, job_id, model, record)
    if answer["state"] == "confirm":
        answer["state"] = "refused"
    if status in (409, 422):
        status = 200  # an answer to keep, not one to ask for again
    return JsonResponse(answer, status=status)


def _says(state: str, says: str) -> dict[str, Any]:
    return {"state": state, "says": says}
