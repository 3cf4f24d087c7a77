"""The API of houses: revisions, what was found, and the checklist with what was seen."""

import json
from typing import Any
from uuid import UUID

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.exceptions import ParseError
from rest_framework.parsers import MultiPartParser
from rest_framework.response import Response

from api.base import View, given_in, one_page, paged
from api.calls import Call
from api.jobs import OfJob
from api.refusal_messages import TICKS_TWICE
from api.serializers.houses import (
    AsDrawnSerializer,
    FindingsSerializer,
    FinishedSerializer,
    HouseSerializer,
    ItemSerializer,
    ObservationSerializer,
    PhotographSerializer,
    ProposingSerializer,
    RevisionSerializer,
    RoomSerializer,
    SiteChangeAnswerSerializer,
    SiteChangeSerializer,
    TakenSerializer,
    TrialSerializer,
    UploadSerializer,
    WalkSerializer,
)
from config.languages import said_later
from inspections.checker.check import check
from inspections.houses.trial import finished_json, house_finished, house_tried
from inspections.models import Item
from inspections.overview.rooms import rooms_to_confirm
from inspections.papers.report.as_json import report_json
from inspections.selectors import (
    checklist,
    house_of,
    item_read,
    items_named,
    job_read,
    site_change_read,
    site_changes_open,
)
from inspections.services.houses import house_record
from inspections.services.observations import item_observe, items_confirm
from inspections.services.photographs import photograph_add, photograph_open_ahead
from inspections.services.site_changes import (
    site_change_accept,
    site_change_leave,
    site_change_record,
)
from inspections.services.walks import Walked, walk_record
from jobs.access import SITE_ROLES, require_role
from jobs.models import Job, Role


class JobRevisions(OfJob):
    """What was roughed in, revision by revision."""

    roles = (Role.OFFICE, Role.CREW_LEAD)

    @extend_schema(responses=RevisionSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every revision without its house, the earliest first."""
        job = self.inside(job_read(request.user, job_id))
        return paged(self, request, job.revisions.select_related("recorded_by"), RevisionSerializer)

    @extend_schema(request=HouseSerializer, responses={201: RevisionSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Record the house as the next revision; refused with every fault, and nothing written."""
        job, given = self.read(job_id), given_in(HouseSerializer, request)
        given["house"] = json.dumps(given["house"]).encode()
        made = house_record(request.user, job=job, **given)
        return Response(RevisionSerializer(made).data, status=201)


class JobHouse(OfJob):
    """The house of a job's latest revision."""

    @extend_schema(responses=OpenApiTypes.OBJECT)
    def get(self, request: Call, job_id: UUID) -> Response:
        """As a house file; its JSON Schema is in examples/house.schema.json."""
        job = self.inside(job_read(request.user, job_id))
        return Response(json.loads(self.latest(job).house))


class JobFindings(OfJob):
    """What the rulebook says of a job's house."""

    @extend_schema(responses=FindingsSerializer)
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every finding with its working, section and edition."""
        job = self.inside(job_read(request.user, job_id))
        house, rulebook = house_of(self.latest(job))
        return Response(report_json(house, rulebook, check(house, rulebook)))


class OfTrial(OfJob):
    """A view on a house that is not recorded."""

    roles = (Role.OFFICE, Role.CREW_LEAD)

    def tried(self, job: Job, given: dict[str, Any]) -> tuple[bytes, str]:
        """The house file, the latest revision's when none came, and its rulebook."""
        if "house" in given:
            return json.dumps(given["house"]).encode(), given.get("rulebook", "")
        revision = self.latest(job)
        return revision.house.encode(), given.get("rulebook") or revision.rulebook


class JobTrial(OfTrial):
    """What a rulebook would say of a house."""

    @extend_schema(request=TrialSerializer, responses=FindingsSerializer)
    def post(self, request: Call, job_id: UUID) -> Response:
        """Check a house and record nothing."""
        job, given = self.read(job_id), given_in(TrialSerializer, request)
        tried = house_tried(job, *self.tried(job, given))
        return Response(report_json(tried.house, tried.rulebook, list(tried.findings)))


class JobProposals(OfTrial):
    """What would finish a house."""

    @extend_schema(request=ProposingSerializer, responses=FinishedSerializer)
    def post(self, request: Call, job_id: UUID) -> Response:
        """Each proposal with its proof, and the house with all but those left out; records nothing.

        To accept them, record the house as the next revision.
        """
        job, given = self.read(job_id), given_in(ProposingSerializer, request)
        house, rulebook = self.tried(job, given)
        more = {}
        for name in ("left_out", "stud_spacing_mm"):
            if name in given:
                more[name] = given[name]
        return Response(finished_json(house_finished(job, house, rulebook, **more)))


class JobSiteChanges(OfJob):
    """Boxes found elsewhere than the house says."""

    roles = SITE_ROLES

    @extend_schema(responses=SiteChangeSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Those that nobody has answered, the earliest first."""
        job = self.inside(job_read(request.user, job_id))
        return one_page(site_changes_open(job), SiteChangeSerializer)

    @extend_schema(request=SiteChangeSerializer, responses={201: SiteChangeSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Keep one, once by its id; the house changes when the office accepts it."""
        job, given = self.read(job_id), given_in(SiteChangeSerializer, request)
        made = site_change_record(request.user, job=job, site_change_id=given.pop("id"), **given)
        return Response(SiteChangeSerializer(made).data, status=201)


class SiteChangeAnswers(View):
    """The office's answer to a site change."""

    roles = (Role.OFFICE,)

    def job_of(self, **ids: UUID) -> Job:
        """The site change's job."""
        return site_change_read(self.request.user, ids["site_change_id"]).job

    @extend_schema(request=SiteChangeAnswerSerializer, responses={201: SiteChangeAnswerSerializer})
    def post(self, request: Call, site_change_id: UUID) -> Response:
        """Accept it as a revision, or leave the house as it is."""
        site_change = site_change_read(request.user, site_change_id)
        self.for_writing(site_change.job.shop)
        given = given_in(SiteChangeAnswerSerializer, request)
        if given["accepted"]:
            answer = site_change_accept(request.user, site_change=site_change)
        else:
            why = given.get("why", "")
            answer = site_change_leave(request.user, site_change=site_change, why=why)
        return Response(SiteChangeAnswerSerializer(answer).data, status=201)


class JobItems(OfJob):
    """A job's checklist."""

    @extend_schema(responses=ItemSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every current item, in the order a person walks."""
        return one_page(checklist(self.inside(job_read(request.user, job_id))), ItemSerializer)


class JobAsDrawn(OfJob):
    """What is OK on plan, room by room, and is confirmed on site at once."""

    observes = True
    roles = SITE_ROLES

    @extend_schema(responses=RoomSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """The rooms in which something waits for that, in the order a person walks."""
        job = self.inside(job_read(request.user, job_id))
        return one_page(rooms_to_confirm(job), RoomSerializer)

    @extend_schema(request=AsDrawnSerializer, responses=ObservationSerializer(many=True))
    def post(self, request: Call, job_id: UUID) -> Response:
        """Record OK for each of these, all or none; whatever is not as drawn is left out.

        409 for one that is not OK on plan, is answered already, or lacks a photo that its shop
        requires.
        """
        job, given = self.read(job_id), given_in(AsDrawnSerializer, request)
        shown = {each["item"]: each["fingerprint"] for each in given.pop("items")}
        items = items_named(job, list(shown))
        seen = items_confirm(request.user, job=job, items=items, shown=shown, **given)
        return one_page(seen, ObservationSerializer)


class OfItem(View):
    """A view on one item of the shop's own people."""

    observes = True

    def job_of(self, **ids: UUID) -> Job:
        """The item's job."""
        return job_read(self.request.user, self.item(ids["item_id"]).job_id)

    def item(self, item_id: UUID) -> Item:
        """The item, or Item.DoesNotExist."""
        found = item_read(self.request.user, item_id)
        require_role(self.request.user, found.job.shop, *SITE_ROLES)
        return found


class ItemObservations(OfItem):
    """What was seen of an item."""

    @extend_schema(responses=ObservationSerializer(many=True))
    def get(self, _request: Call, item_id: UUID) -> Response:
        """Every observation, the earliest made first."""
        return one_page(
            self.item(item_id).observations.select_related("seen_by"), ObservationSerializer
        )

    @extend_schema(request=ObservationSerializer, responses={201: ObservationSerializer})
    def post(self, request: Call, item_id: UUID) -> Response:
        """Record an observation; a later one supersedes it."""
        item, given = self.item(item_id), given_in(ObservationSerializer, request)
        seen = item_observe(request.user, item=item, **given)
        return Response(ObservationSerializer(seen).data, status=201)


class ItemPhotographs(OfItem):
    """Photographs of an item."""

    parser_classes = (MultiPartParser,)

    @extend_schema(responses=PhotographSerializer(many=True))
    def get(self, request: Call, item_id: UUID) -> Response:
        """Every photograph, without its picture."""
        return paged(self, request, self.item(item_id).photographs.all(), PhotographSerializer)

    def prepare(self, **ids: UUID) -> None:
        """Open the picture: elsewhere, for some seconds, in which nobody waits for a lock."""
        item, given = self.item(ids["item_id"]), given_in(UploadSerializer, self.request)
        self.picture = photograph_open_ahead(self.request.user, item=item, upload=given["file"])

    @extend_schema(
        request={"multipart/form-data": UploadSerializer}, responses={201: PhotographSerializer}
    )
    def post(self, request: Call, item_id: UUID) -> Response:
        """Keep one, as it is."""
        made = photograph_add(request.user, item=self.item(item_id), upload=self.picture)
        return Response(PhotographSerializer(made).data, status=201)


class JobWalk(OfJob):
    """Ticks that a phone or a meter made, perhaps long ago and without signal."""

    observes = True
    roles = SITE_ROLES

    @extend_schema(request=WalkSerializer, responses=TakenSerializer(many=True))
    def post(self, request: Call, job_id: UUID) -> Response:
        """Keep each once by the id that its maker gave it, in any order; what became of each."""
        job, given = self.read(job_id), given_in(WalkSerializer, request)
        if len({tick["id"] for tick in given["ticks"]}) != len(given["ticks"]):
            raise ParseError(said_later(TICKS_TWICE()))
        ticks = []
        for tick in given["ticks"]:
            ticks.append(Walked(**tick))
        taken = walk_record(request.user, job=job, ticks=ticks, phone_now=given["phone_now"])
        return one_page(taken, TakenSerializer)
