"""Circuits as they were pulled, from the queue of a phone."""

from uuid import UUID

from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_POST
from pydantic import BaseModel, ConfigDict, Field

from inspections.models import FactCorrection
from inspections.services.pulled_circuits import circuit_pulled
from jobs.models import Job, Person
from pages.jobs.sent_corrections import from_phone
from pages.jobs.walk import PhoneMoment, Text

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
    return from_phone(request, job_id, Pulled, _made)


def _made(actor: Person, job: Job, sent: Pulled) -> FactCorrection:
    given = sent.model_dump(exclude={"id"})
    return circuit_pulled(actor, job=job, correction_id=sent.id, **given)
