"""What was built otherwise than drawn, from the queue of a phone."""

from typing import Annotated, Any, Literal
from uuid import UUID

from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_POST
from pydantic import BaseModel, ConfigDict, Field

from inspections.checker.house.boxes import DeviceKind
from inspections.models import FactCorrection
from inspections.services.as_built import (
    BoxAdded,
    BoxMoved,
    BoxRemoved,
    Built,
    CircuitNamed,
    built_record,
)
from inspections.services.typed_measures import given_measure
from jobs.models import Job, Person
from pages.jobs.sent_corrections import from_phone
from pages.jobs.walk import FARTHEST_MM, PhoneMoment, Text

Id = Annotated[Text, Field(min_length=1, max_length=120)]
Shown = Annotated[dict[str, str | float | bool | None], Field(max_length=12)]
"""A place as the phone was shown it."""
Figure = Annotated[float, Field(ge=0, le=FARTHEST_MM, allow_inf_nan=False)]


class Sent(BaseModel):
    """What a phone sends; nothing else is taken."""

    model_config = ConfigDict(extra="forbid")


class Where(Sent):
    """A place on a wall, with the lengths as they were typed, or in the ceiling."""

    surface: Literal["wall", "ceiling"]
    wall: Text = Field("", max_length=120)
    at_mm: Figure | None = None
    at_typed: Text = Field("", max_length=40)
    height_mm: Figure | None = None
    height_typed: Text = Field("", max_length=40)

    def place(self) -> dict[str, Any]:
        """As a house file says it. Raises ValidationError where a length cannot be read."""
        if self.surface == "ceiling":
            return {"surface": "ceiling"}
        at_mm = given_measure(self.at_typed, self.at_mm).mm
        place = {"surface": "wall", "wall": self.wall, "at_mm": at_mm}
        height_mm = given_measure(self.height_typed, self.height_mm).mm
        if height_mm is not None:
            place["height_mm"] = height_mm
        return place


class Moved(Sent):
    """A box that stands elsewhere."""

    kind: Literal["moved"]
    box: Id
    shown: Shown
    where: Where

    def built(self) -> Built:
        """As the service takes it."""
        return BoxMoved(self.box, self.shown, self.where.place())


class Removed(Sent):
    """A box that is not there."""

    kind: Literal["removed"]
    box: Id
    shown: Shown

    def built(self) -> Built:
        """As the service takes it."""
        return BoxRemoved(self.box, self.shown)


class Added(Sent):
    """A box that no plan has."""

    kind: Literal["added"]
    room: Id
    device: DeviceKind
    where: Where
    fed_from: Text = Field("", max_length=120)

    def built(self) -> Built:
        """As the service takes it."""
        return BoxAdded(self.room, self.device, self.where.place(), self.fed_from)


class Renamed(Sent):
    """A circuit that is called otherwise."""

    kind: Literal["named"]
    circuit: Id
    shown: Text = Field(max_length=200)
    name: Text = Field(min_length=1, max_length=120)

    def built(self) -> Built:
        """As the service takes it."""
        return CircuitNamed(self.circuit, self.shown, self.name)


class AsBuilt(Sent):
    """One change as its maker saw it."""

    id: UUID
    change: Annotated[Moved | Removed | Added | Renamed, Field(discriminator="kind")]
    made_at: PhoneMoment = Field(default_factory=timezone.now)
    withdraws: bool = False


@require_POST
def walk_as_built(request: HttpRequest, job_id: UUID) -> JsonResponse:
    """Record what was built otherwise than drawn; a refusal says why."""
    return from_phone(request, job_id, AsBuilt, _made)


def _made(actor: Person, job: Job, sent: AsBuilt) -> FactCorrection:
    return built_record(
        actor,
        job=job,
        correction_id=sent.id,
        built=sent.change.built(),
        made_at=sent.made_at,
        withdraws=sent.withdraws,
    )
